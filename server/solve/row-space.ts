/**
 * Figures that equations fix although their structure does not: what others leave free falls out of
 * some combination of the equations, by numbers.
 *
 *     x + y + z = 6, x + y - z = 0   →   z is 3, whatever x and y are
 *
 * The rows of the equations' derivatives are brought to a form in which each leads with a figure that
 * stands in no other: a row of one figure alone fixes it. That holds at two places, with all that has
 * a tolerance moved within it, so that nothing is read into numbers that only happen to agree.
 *
 * Must not know: names beyond ordering, how what is fixed is worked out.
 */
import { isSameEquation, isSameList } from "./beside";
import type { Execution, FixedIn } from "./execution";
import { residual, residualAndGradient } from "./form";
import { placeOf, shareOf } from "./freedom";
import { factor, SINGULAR, solveWith } from "./linear";
import { byName } from "./network";
import { type OpenComponent, openIn } from "./open-components";
import { LinearSpan } from "./span";
import { type Alone, standingAlone } from "./standing-alone";

/** What hangs together by what is open, and fixes some of it. */
export interface FixedPart {
  /** The fixed figures, and the equations that fix them; as many of these as `solved`. */
  readonly fixed: readonly number[];
  readonly equations: readonly number[];
  /** What follows from the equations where all other open figures are pinned, the fixed ones first. */
  readonly solved: readonly number[];
  /** Numbers for the open figures that are pinned: any would do. */
  readonly pins: ReadonlyMap<number, number>;
  /** The equations are straight lines in all that is open: what they fix is fixed everywhere. */
  readonly straight: boolean;
}

const REFINEMENTS = 40;

/** `attempt`: another place gives other pins. */
export function fixedParts(execution: Execution, attempt = 0): readonly FixedPart[] {
  return openIn(execution).flatMap((part) => fixedIn(execution, part, attempt) ?? []);
}

/** The same beside what was solved `before`, and to be known beside what is solved next. */
export function fixedPartsBeside(
  execution: Execution,
  before: Execution | undefined,
): readonly FixedPart[] {
  const looked = openIn(execution).map((part): FixedIn => {
    const known = before?.memory.fixed.find(
      ({ part: { equations, variables } }) =>
        isSameList(equations, part.equations) && isSameList(variables, part.variables),
    );
    const same =
      before !== undefined &&
      known !== undefined &&
      part.equations.every((each) => isSameEquation(before, execution, each));
    return { part, found: same ? known.found : fixedIn(execution, part, 0) };
  });
  execution.memory.fixed = looked;
  return looked.flatMap(({ found }) => found ?? []);
}

function fixedIn(
  execution: Execution,
  part: OpenComponent,
  attempt: number,
): FixedPart | undefined {
  const place = typicalPlace(execution, part, attempt);
  const candidates = fixedAt(execution, part, place).alone;
  if (candidates.size === 0) return undefined;
  const combined = [...candidates.values()].flatMap(({ weights }) => [...weights.keys()]);
  const equations = [...new Set(combined)].sort(byName(execution.network.system.equations));
  const members = new Set<number>();
  for (const equation of equations) {
    for (const variable of execution.network.system.equations[equation]!.variables) {
      if (part.members.has(variable)) members.add(variable);
    }
  }
  const variables = part.variables.filter((each) => members.has(each));
  const own: OpenComponent = { equations, variables, members };
  const straight = equations.every((equation) => isStraight(execution, equation, members));
  if (!straight && !bringTo(execution, own, place)) return undefined;
  const other = straight ? typicalPlace(execution, own, attempt + 1) : place;
  const again = fixedAt(execution, own, other).alone;
  const fixed = [...candidates.keys()].filter((each) => again.has(each));
  if (fixed.length === 0) return undefined;
  if (straight && areSettledSo(execution, own, fixed, place)) return undefined;
  const solved = squared(execution, own, fixed, place);
  if (solved === undefined) return undefined;
  const pinned = own.variables.filter((each) => !solved.includes(each));
  const pins = new Map(pinned.map((each) => [each, straight ? 0 : place[each]!]));
  return { fixed, equations, solved, pins, straight };
}

/**
 * Whether figures that straight lines fix are settled so already, by a default: read off from how far
 * the combinations that fix them are from nothing where all is as it is.
 */
function areSettledSo(
  execution: Execution,
  part: OpenComponent,
  fixed: readonly number[],
  typical: Float64Array,
): boolean {
  const { network, values } = execution;
  const { system, facts } = network;
  const place = values.slice();
  for (const variable of part.variables) place[variable] = typical[variable]!;
  const { alone, sizes } = fixedAt(execution, part, place);
  return fixed.every((variable) => {
    const { factor, weights } = alone.get(variable) ?? NEVER;
    let gap = 0;
    for (const [equation, weight] of weights) {
      const { variables } = system.equations[equation]!;
      gap += (weight * residual(facts[equation]!, place, variables)) / sizes.get(equation)!;
    }
    const { scale } = system.variables[variable]!;
    const value = place[variable]! - (gap / factor) * scale;
    const before = values[variable]!;
    return Math.abs(value - before) <= 1e-9 * (Math.abs(before) + scale);
  });
}

// ───────────────────────────── places ─────────────────────────────

/** Numbers for all that is open; what has a tolerance stands elsewhere within it. */
function typicalPlace(execution: Execution, part: OpenComponent, attempt: number): Float64Array {
  const { network, values } = execution;
  const place = values.slice();
  for (const equation of part.equations) {
    for (const variable of network.system.equations[equation]!.variables) {
      const { given } = network.system.variables[variable]!;
      if (given === undefined || network.known[variable] === 0) continue;
      place[variable] = given.low + shareOf(variable, attempt) * (given.high - given.low);
    }
  }
  part.variables.forEach((variable, at) => {
    place[variable] = placeOf(network.system.variables[variable]!, shareOf(at, attempt));
  });
  return place;
}

/** Moves what is open to where the equations hold, by the shortest steps (Gauss and Newton). */
function bringTo(execution: Execution, part: OpenComponent, place: Float64Array): boolean {
  const { network, values } = execution;
  const { system, facts } = network;
  const { equations, variables } = part;
  // Where they hold is asked with everything at its own number.
  for (const equation of equations) {
    for (const each of system.equations[equation]!.variables) {
      if (network.known[each] === 1) place[each] = values[each]!;
    }
  }
  const gaps = (): number[] =>
    equations.map((each) => residual(facts[each]!, place, system.equations[each]!.variables));
  const missed = (): number => gaps().reduce((sum, gap, at) => sum + (gap / sizes[at]!) ** 2, 0);
  let sizes: number[] = equations.map(() => 1);
  for (let round = 0; round < REFINEMENTS; round++) {
    const rows = equations.map((each) => slopes(execution, each, part, place));
    if (rows.some((row) => row === undefined)) return false;
    sizes = rows.map((row) => row!.size);
    const product = new Float64Array(rows.length ** 2);
    rows.forEach((one, i) => {
      rows.forEach((other, j) => {
        let sum = 0;
        for (const [variable, entry] of one!.entries) {
          sum += entry * (other!.entries.get(variable) ?? 0);
        }
        product[i * rows.length + j] = sum;
      });
    });
    const factors = factor(product, rows.length);
    if (factors.smallestPivot < SINGULAR) return false;
    const pulls = solveWith(
      factors,
      gaps().map((gap, at) => gap / sizes[at]!),
    );
    const before = missed();
    if (!Number.isFinite(before)) return false;
    const from = variables.map((each) => place[each]!);
    const step = variables.map((each) => {
      const { scale } = system.variables[each]!;
      return (
        rows.reduce((sum, row, at) => sum + (row!.entries.get(each) ?? 0) * pulls[at]!, 0) * scale
      );
    });
    const longest = Math.max(
      ...variables.map(
        (each, at) => Math.abs(step[at]!) / (system.variables[each]!.scale + Math.abs(from[at]!)),
      ),
    );
    let share = 1;
    for (let halving = 0; halving < 30; halving++, share /= 2) {
      variables.forEach((each, at) => {
        place[each] = from[at]! - share * step[at]!;
      });
      if (longest < 1e-10 || missed() < before * (1 - 1e-4 * share)) break;
    }
    if (longest < 1e-10) return true;
  }
  return false;
}

// ───────────────────────────── rows ─────────────────────────────

/** An equation's slopes in what is open, in units of their natural sizes, the largest brought to 1. */
interface Row {
  readonly entries: Map<number, number>;
  readonly size: number;
}

function slopes(
  { network }: Execution,
  equation: number,
  { members: open }: OpenComponent,
  place: Float64Array,
): Row | undefined {
  const { variables } = network.system.equations[equation]!;
  const gradient = new Float64Array(variables.length);
  residualAndGradient(network.facts[equation]!, place, variables, gradient, 0);
  const entries = new Map<number, number>();
  let size = 0;
  for (const [slot, variable] of variables.entries()) {
    if (!open.has(variable)) continue;
    const entry = gradient[slot]! * network.system.variables[variable]!.scale;
    if (!Number.isFinite(entry)) return undefined;
    if (entry !== 0) entries.set(variable, entry);
    size = Math.max(size, Math.abs(entry));
  }
  for (const [variable, entry] of entries) entries.set(variable, entry / size);
  return { entries, size: size === 0 ? 1 : size };
}

function isStraight({ network }: Execution, equation: number, open: ReadonlySet<number>): boolean {
  const { variables } = network.system.equations[equation]!;
  const moving = variables.filter((each) => open.has(each)).length;
  const { slots } = network.facts[equation]!;
  if (!variables.every((each, slot) => !open.has(each) || slots[slot]!.straight)) return false;
  // Straight in each alone, and yet a product of two is none.
  return moving < 2 || hasConstantSlopes(network, equation, open);
}

function hasConstantSlopes(
  network: Execution["network"],
  equation: number,
  open: ReadonlySet<number>,
): boolean {
  const { variables } = network.system.equations[equation]!;
  const [one, other] = [0.7, 2.1].map((from) => {
    const place = new Map<number, number>();
    variables.forEach((each, slot) => {
      const { scale } = network.system.variables[each]!;
      place.set(each, scale * (open.has(each) ? from + 0.618 * slot : 1.3 + 0.414 * slot));
    });
    const gradient = new Float64Array(variables.length);
    const values = Float64Array.from(variables, (each) => place.get(each)!);
    const own = variables.map((_, slot) => slot);
    residualAndGradient(network.facts[equation]!, values, own, gradient, 0);
    return gradient;
  });
  return variables.every(
    (each, slot) =>
      !open.has(each) ||
      Math.abs(one![slot]! - other![slot]!) <=
        1e-12 * Math.max(Math.abs(one![slot]!), Math.abs(other![slot]!)),
  );
}

const NEVER: Alone = { factor: Number.NaN, weights: new Map() };

/** The figures fixed at a place, each with the combination it stands in alone. */
function fixedAt(execution: Execution, part: OpenComponent, place: Float64Array) {
  const rows = new Map<number, ReadonlyMap<number, number>>();
  const sizes = new Map<number, number>();
  for (const equation of part.equations) {
    const row = slopes(execution, equation, part, place);
    if (row === undefined) continue;
    rows.set(equation, row.entries);
    sizes.set(equation, row.size);
  }
  return { alone: standingAlone(rows), sizes };
}

/**
 * As many figures as there are equations, the fixed ones among them, so that the others pin these:
 * columns that are independent of one another, by orthogonal factorisation.
 */
function squared(
  execution: Execution,
  part: OpenComponent,
  fixed: readonly number[],
  place: Float64Array,
): readonly number[] | undefined {
  const rows = part.equations.map((each) => slopes(execution, each, part, place));
  const span = new LinearSpan();
  const solved: number[] = [];
  for (const variable of [...fixed, ...part.variables.filter((each) => !fixed.includes(each))]) {
    if (solved.length === rows.length) break;
    if (span.add(rows.map((row) => row?.entries.get(variable) ?? 0))) solved.push(variable);
  }
  const whole = solved.length === rows.length && fixed.every((each) => solved.includes(each));
  return whole ? solved : undefined;
}
