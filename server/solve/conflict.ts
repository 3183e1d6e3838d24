/**
 * Relations left over once everything is solved: either they hold, as far as roundings and
 * tolerances can tell, or the givens contradict each other.
 *
 * Must not know: names beyond ordering, wording.
 */
import { type Sweep, sweepBack } from "./adjoint";
import { differentiate } from "./differentiate";
import { CLOSE, evaluate } from "./evaluate";
import type { Execution } from "./execution";
import { magnitude, residual } from "./form";
import { MOST_PARTIES, minimalSet } from "./minimal-set";
import { byName, networkOf } from "./network";
import { type Combination, combinationsOf } from "./open-part";
import { leftMinusRight, roomToNothing } from "./room";
import { NOTHING_KEPT, settle } from "./settle";
import {
  type Budget,
  type Conflict,
  type Equation,
  type Failure,
  type GivenNumber,
  mayChange,
  type Quantity,
  type Variable,
} from "./system";
import { tapeOf } from "./tape";
import { Trial } from "./trial";

export interface Leftovers {
  readonly conflicts: readonly Conflict[];
  readonly failures: readonly Failure[];
  readonly redundant: readonly number[];
}

/** Something that should be nothing: left minus right of an equation, or of several combined. */
type Leftover = Pick<Combination, "equation" | "equations" | "rest" | "value" | "size">;

/**
 * `equations`: those whose open figures are looked at too. `before`: what was solved before and has
 * much in common.
 */
export function checkLeftovers(
  execution: Execution,
  checks: readonly number[],
  equations: Iterable<number>,
  before?: Execution,
): Leftovers {
  const conflicts: Conflict[] = [];
  const failures: Failure[] = [];
  const redundant: number[] = [];
  const { system } = execution.network;
  for (const leftover of leftoversOf(execution, [...checks].sort(byName(system.equations)))) {
    const { equation, value } = leftover;
    if (!Number.isFinite(value)) {
      failures.push({ why: "not-defined", equations: [equation], variables: [] });
    } else if (!clash(execution, leftover, conflicts)) redundant.push(equation);
  }
  for (const combination of combinationsOf(execution, equations, before)) {
    if (Number.isFinite(combination.value)) clash(execution, combination, conflicts);
  }
  return { conflicts, failures, redundant };
}

/** Adds the contradiction, if there is one that was not told yet; false where there is none. */
function clash(execution: Execution, leftover: Leftover, conflicts: Conflict[]): boolean {
  const room = unexplained(execution, leftover);
  if (room === undefined) return false;
  const allowed = Math.abs(leftover.value) - room.nearest;
  const found = conflictOf(execution, leftover, allowed);
  const known = room.answer === "surely not" ? "proved" : "found";
  if (!conflicts.some((other) => sameParties(other, found))) conflicts.push({ ...found, known });
  return true;
}

/** How near to nothing it can come, where what the givens stand for does not explain it. */
function unexplained(
  execution: Execution,
  { rest, value, size }: Leftover,
  budget?: Budget,
): ReturnType<typeof roomToNothing> | undefined {
  if (!(Math.abs(value) > CLOSE * size)) return undefined;
  if (Math.abs(value) <= NEXT_TO_NOTHING * naturalSize(execution, rest)) return undefined;
  const room = roomToNothing(execution, rest, value, budget);
  return room.nearest <= CLOSE * size ? undefined : room;
}

/** Beside figures of their natural sizes, what is left of numbers that should be 0. */
const NEXT_TO_NOTHING = 1e-12;

/** What a quantity comes to where each figure moves by its natural size. */
function naturalSize({ network, values }: Execution, { expression, variables }: Quantity): number {
  const tape = tapeOf(expression);
  evaluate(tape, values, variables);
  differentiate(tape, [1]);
  let size = 0;
  tape.slotIndices.forEach((slot, at) => {
    const { scale } = network.system.variables[variables[slot]!]!;
    size += Math.abs(tape.adjoint[tape.slotPositions[at]!]!) * scale;
  });
  return Number.isFinite(size) ? size : 0;
}

function leftoversOf(execution: Execution, checks: readonly number[]): readonly Leftover[] {
  const { network, values } = execution;
  return checks.flatMap((equation): Leftover[] => {
    const { variables } = network.system.equations[equation]!;
    if (variables.some((variable) => Number.isNaN(values[variable]))) return [];
    const facts = network.facts[equation]!;
    const value = residual(facts, values, variables);
    const rest = leftMinusRight(execution, equation);
    return [{ equation, equations: [equation], rest, value, size: magnitude(facts) }];
  });
}

/** The same givens that cannot hold need to be told once. */
function sameParties(one: Pick<Conflict, "givens">, other: Pick<Conflict, "givens">): boolean {
  return (
    one.givens.length > 0 &&
    one.givens.length === other.givens.length &&
    one.givens.every(({ variable }, at) => variable === other.givens[at]!.variable)
  );
}

/** Whether a system still contradicts itself, whatever roundings and tolerances take in. */
function contradicts(execution: Execution): boolean {
  const { network, checks, failures } = execution;
  const few = { boxes: 20 };
  // A figure that was let go and has no value at all is as good as a contradiction.
  if ([...failures.values()].some(({ why }) => why === "no-root")) return true;
  const whole = [
    ...leftoversOf(execution, checks),
    ...combinationsOf(execution, network.system.equations.keys()),
  ];
  return whole.some((leftover) => unexplained(execution, leftover, few) !== undefined);
}

/** The smallest set of givens behind it, and what each of them would have to be. */
function conflictOf(
  execution: Execution,
  { equation, equations, rest, value }: Leftover,
  allowed: number,
): Omit<Conflict, "known"> {
  const { system } = execution.network;
  const sweep = sweepOfQuantity(execution, rest);
  const names = byName(system.equations);
  const members = [...new Set([...sweep.byEquation.keys(), ...equations])].sort(names);
  // Equations without influence on the gap may still be what their neighbors are solved with.
  const leading = sweep.cone.flatMap((step) => execution.steps[step]!.equations);
  leading.push(...equations);
  const parties = new Set<number>();
  for (const each of leading) {
    for (const variable of system.equations[each]!.variables) {
      if (system.variables[variable]!.given !== undefined) parties.add(variable);
    }
  }
  const givens: { variable: number; needed?: number }[] = [];
  const behind = minimalSet(execution, leading, [...parties], contradicts);
  const mayBeSearched = equations.length === 1 && behind.length <= MOST_PARTIES;
  for (const variable of behind) {
    const { role } = system.variables[variable]!;
    // What a measured figure would have to be tells which reading to take again.
    const known = role === "measured" || mayChange(role);
    const slope = sweep.byGiven.get(variable);
    const needed = !known
      ? undefined
      : mayBeSearched
        ? neededValue(execution, leading, variable)
        : alongLine(execution, rest, value, variable, slope);
    givens.push(needed === undefined ? { variable } : { variable, needed });
  }
  return { equation, equations: members, givens, gap: value, allowed };
}

function sweepOfQuantity(execution: Execution, { expression, variables }: Quantity): Sweep {
  const tape = tapeOf(expression);
  evaluate(tape, execution.values, variables);
  differentiate(tape, [1]);
  const slots = [...tape.slotIndices];
  return sweepBack(
    execution,
    slots.map((slot) => variables[slot]!),
    slots.map((_, at) => tape.adjoint[tape.slotPositions[at]!]!),
  );
}

/** Where one given would bring the rest to nothing, if that falls along a straight line. */
function alongLine(
  execution: Execution,
  rest: Quantity,
  value: number,
  variable: number,
  slope: number | undefined,
): number | undefined {
  if (slope === undefined || slope === 0) return undefined;
  const needed = execution.network.system.variables[variable]!.given!.value - value / slope;
  const left = new Trial(execution, rest, [variable]).at([needed]);
  return Math.abs(left) <= 1e-6 * Math.abs(value) ? needed : undefined;
}

/**
 * The value one given would have if the contradiction's equations were to decide it: they are taken
 * out into a small system of their own, in which everything else that they use stands as it is.
 */
function neededValue(
  execution: Execution,
  equations: readonly number[],
  freed: number,
): number | undefined {
  const { network, stepOf, steps, values } = execution;
  const { system } = network;
  const members = new Set(equations);
  const placeOf = new Map<number, number>();
  const variables: Variable[] = [];
  const place = (variable: number): number => {
    let at = placeOf.get(variable);
    if (at === undefined) {
      at = variables.length;
      placeOf.set(variable, at);
      const { given: _, ...rest } = system.variables[variable]!;
      const step = steps[stepOf[variable]!];
      const solvedHere = step?.equations.some((e) => members.has(e)) ?? false;
      const given = exactly(values[variable]!);
      variables.push(variable === freed || solvedHere ? rest : { ...rest, given });
    }
    return at;
  };
  const own = equations.map((e): Equation => {
    const equation = system.equations[e]!;
    return { ...equation, variables: equation.variables.map(place) };
  });
  const small = networkOf({ variables, equations: own });
  const answer = settle({
    network: small,
    equations: own.keys(),
    layout: undefined,
    values: Float64Array.from(variables, ({ given }) => given?.value ?? Number.NaN),
    kept: NOTHING_KEPT,
  });
  const needed = answer.values[placeOf.get(freed)!]!;
  return Number.isFinite(needed) ? needed : undefined;
}

function exactly(value: number): GivenNumber {
  return { value, low: value, high: value, rounding: 0 };
}
