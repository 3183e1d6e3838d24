/**
 * A quantity at the draws of its givens (see `draws.ts`), worked out only where it matters.
 *
 * By the mean value theorem slopes that are proved over all of the tolerances say of every draw between
 * which two numbers the quantity lies there. The few draws that can be among the outermost, or on
 * either side of a limit, are worked out; the answer is, to the last digit, that of working out all.
 *
 *     sampled.between(6, 7)   // the seventh and the eighth least value
 *
 * Must not know: claims, wording.
 */
import { goOn } from "../keep/patience";
import { DRAWS, drawsOf } from "./draws";
import { evaluate } from "./evaluate";
import { executionOf } from "./execution";
import type { Expression } from "./expression";
import { givensOf, type Mover } from "./movers";
import type { FormulaReach } from "./range-pass";
import { passFor, rangesOver, restsOnLargeBlock, slopesOf } from "./ranges";
import type { Quantity, Solution } from "./system";
import { tapeOf } from "./tape";
import { Trial } from "./trial";

export class Sampled {
  private readonly trial: (draw: number) => number;
  private readonly values = new Float64Array(DRAWS);
  private readonly done = new Uint8Array(DRAWS);
  private readonly lower: Float64Array | undefined;
  private readonly upper: Float64Array | undefined;

  constructor(solution: Solution, quantity: Quantity, reach: FormulaReach) {
    this.trial =
      solution.system.variables.length <= MOST_KEPT &&
      restsOnLargeBlock(executionOf(solution), quantity.variables)
        ? alongWith(solution, quantity)
        : byItself(solution, quantity);
    // Where it may have no value, or something is not enclosed, slopes say nothing.
    if (reach.partial || reach.loose) return;
    const low = new Float64Array(DRAWS).fill(reach.middleLow);
    const high = new Float64Array(DRAWS).fill(reach.middleHigh);
    const { slopes, inputs, box } = slopesOf(solution, quantity, reach);
    for (const [k, at] of slopes.at.entries()) {
      const column = placesOf(solution, inputs[at]!);
      const middle = box.middle[at]!;
      const [from, to] = [slopes.low[k]!, slopes.high[k]!];
      for (let draw = 0; draw < DRAWS; draw++) {
        const by = column[draw]! - middle;
        low[draw]! += by * (by >= 0 ? from : to);
        high[draw]! += by * (by >= 0 ? to : from);
      }
    }
    const room = ROUNDING * (Math.abs(reach.low) + Math.abs(reach.high));
    if (!Number.isFinite(room)) return;
    this.lower = low.map((each) => (Number.isNaN(each) ? Number.NEGATIVE_INFINITY : each - room));
    this.upper = high.map((each) => (Number.isNaN(each) ? Number.POSITIVE_INFINITY : each + room));
  }

  /** How many of the draws have a value; NaN stands for those without. */
  get count(): number {
    return this.lower === undefined ? this.all.length : DRAWS;
  }

  /** The values at two neighboring places of the whole sorted row. */
  between(below: number, above: number): readonly [number, number] {
    const { lower, upper } = this;
    if (lower === undefined || upper === undefined) {
      const { all } = this;
      return [all[below]!, all[above]!];
    }
    // So many lie surely below, and nothing that surely lies above can be at these places.
    this.ordered ??= { lower: lower.slice().sort(), upper: upper.slice().sort() };
    const least = this.ordered.lower[below]!;
    const most = this.ordered.upper[above]!;
    let before = 0;
    const candidates: number[] = [];
    for (let draw = 0; draw < DRAWS; draw++) {
      if (upper[draw]! < least) before++;
      else if (lower[draw]! <= most) candidates.push(this.at(draw));
    }
    const sorted = Float64Array.from(candidates).sort();
    return [sorted[below - before]!, sorted[above - before]!];
  }

  /** How many of the draws lie above a limit (`strict`: not on it). */
  above(limit: number, strict: boolean): number {
    let count = 0;
    for (let draw = 0; draw < DRAWS; draw++) {
      if (this.lower !== undefined && this.lower[draw]! > limit) count++;
      else if (this.upper === undefined || this.upper[draw]! >= limit) {
        const value = this.at(draw);
        if (strict ? value > limit : value >= limit) count++;
      }
    }
    return count;
  }

  // ── helpers ──

  private at(draw: number): number {
    if (this.done[draw] === 0) {
      goOn();
      this.values[draw] = this.trial(draw);
      this.done[draw] = 1;
    }
    return this.values[draw]!;
  }

  private sorted: Float64Array | undefined;
  private ordered: { readonly lower: Float64Array; readonly upper: Float64Array } | undefined;

  private get all(): Float64Array {
    if (this.sorted === undefined) {
      for (let draw = 0; draw < DRAWS; draw++) this.at(draw);
      this.sorted = this.values.filter((each) => !Number.isNaN(each)).sort();
    }
    return this.sorted;
  }
}

/** Made once for a quantity: its verdict, its ± and its chance ask for it. */
export function sampledOf(solution: Solution, quantity: Quantity, reach: FormulaReach): Sampled {
  const { expression, variables } = quantity;
  let of = known.get(solution);
  if (of === undefined) {
    of = new Map();
    known.set(solution, of);
  }
  const alike = of.get(expression) ?? [];
  of.set(expression, alike);
  const before = alike.find((each) => each.variables.every((v, at) => v === variables[at]));
  if (before !== undefined) return before.sampled;
  const sampled = new Sampled(solution, quantity, reach);
  alike.push({ variables, sampled });
  return sampled;
}

// ───────────────────────────── helpers ─────────────────────────────

/** What the values worked out may differ by from exact ones, as a share of the largest. */
const ROUNDING = 1e-11;

const known = new WeakMap<
  Solution,
  Map<Expression, { readonly variables: readonly number[]; readonly sampled: Sampled }[]>
>();

const columns = new WeakMap<Solution, Map<number, Float64Array>>();

/** Only what leads to the quantity is worked out. */
function byItself(solution: Solution, quantity: Quantity): (draw: number) => number {
  const givens = givensOf(passFor(solution, quantity.variables).inputs);
  const trial = new Trial(executionOf(solution), quantity, givens);
  const columns = givens.map((variable) => columnOf(solution, variable));
  const places = new Float64Array(givens.length);
  return (draw) => {
    for (let i = 0; i < columns.length; i++) places[i] = columns[i]![draw]!;
    return trial.at(places);
  };
}

/** A large block is worked out once for a draw, for all figures that rest on it. */
function alongWith(
  solution: Solution,
  { expression, variables }: Quantity,
): (draw: number) => number {
  let drawn = wholes.get(solution);
  if (drawn === undefined) {
    drawn = wholeDraws(solution);
    wholes.set(solution, drawn);
  }
  const tape = tapeOf(expression);
  const at = drawn;
  return (draw) => evaluate(tape, at(draw), variables);
}

/** Of larger systems the draws of all figures are not kept. */
const MOST_KEPT = 4000;

const wholes = new WeakMap<Solution, (draw: number) => Float64Array>();

function wholeDraws(solution: Solution): (draw: number) => Float64Array {
  const execution = executionOf(solution);
  const givens = givensOf(rangesOver(solution).inputs);
  const all = solution.system.variables.map((_, variable) => variable);
  const nothing: Expression = { op: "number", value: 0 };
  const trial = new Trial(execution, { expression: nothing, variables: all }, givens);
  const columns = givens.map((variable) => columnOf(solution, variable));
  const places = new Float64Array(givens.length);
  const drawn: (Float64Array | undefined)[] = [];
  return (draw) => {
    const before = drawn[draw];
    if (before !== undefined) return before;
    for (let i = 0; i < columns.length; i++) places[i] = columns[i]![draw]!;
    trial.at(places);
    const values = trial.values.slice();
    drawn[draw] = values;
    return values;
  };
}

/** The draws of what moves as one: of one given its values, of several their common place. */
function placesOf(solution: Solution, { givens, low, high, parts }: Mover): Float64Array {
  const [first] = givens;
  if (parts === undefined) return columnOf(solution, first!);
  const { name, given } = solution.system.variables[first!]!;
  return drawsOf(name, { ...given!, low, high });
}

/** The draws of one given, made once for a solution. */
function columnOf(solution: Solution, variable: number): Float64Array {
  let own = columns.get(solution);
  if (own === undefined) {
    own = new Map();
    columns.set(solution, own);
  }
  let column = own.get(variable);
  if (column === undefined) {
    const { name, given } = solution.system.variables[variable]!;
    column = drawsOf(name, given!);
    own.set(variable, column);
  }
  return column;
}
