/**
 * Claims that need no closer look: those that hold by far, by what each of their figures can come to
 * by itself, however these hang together, and those that something open leaves open. Of neither are
 * figures of several parts put side by side.
 *
 *     atAGlance(condition, [gap, least])   →   "holds": in the worst case, too
 *
 * Must not know: wording, which part of a build a figure is of.
 */
import { evaluate, resultSize } from "./evaluate";
import { executionOf } from "./execution";
import type { Condition } from "./expression";
import { hasTolerance } from "./movers";
import { isGiven } from "./network";
import { loadRanges, runRanges } from "./range-run";
import { isProof, rangesOver } from "./ranges";
import { NOISE } from "./rounding-noise";
import type { GivenNumber, Solution, Variable } from "./system";
import { conditionTapeOf, rangesOf, tapeOf } from "./tape";
import { isComparedAsEqual, marginOf } from "./verdict";

/** One figure by itself. */
export interface Seen {
  /** NaN where it is open. */
  readonly value: number;
  /** How large the numbers are that it came from. */
  readonly size: number;
  /** Between what it lies while every given keeps within its tolerance, as far as that is proved. */
  readonly limits: () => readonly [low: number, high: number] | undefined;
}

/** Of larger systems ranges are worked out for what is asked alone: slopes grow with their square. */
const largest = 1_000;

/** A figure where it was solved. */
export function seenIn(solution: Solution, variable: number): Seen {
  const value = solution.values[variable] ?? Number.NaN;
  const size = executionOf(solution).sizes[variable] ?? Math.abs(value);
  return { value, size, limits: () => limitsIn(solution, variable, value) };
}

function limitsIn(solution: Solution, variable: number, value: number): ReturnType<Seen["limits"]> {
  if (solution.system.variables.length > largest) return undefined;
  if (!anyTolerance(solution)) return [value, value];
  const { pass, moves } = rangesOver(solution);
  if (moves[variable] !== 1) return [value, value];
  if (pass.marks[variable] !== 0 || !isProof(solution, [variable])) return undefined;
  return [pass.low[variable] as number, pass.high[variable] as number];
}

const withTolerance = new WeakMap<Solution, boolean>();

function anyTolerance(solution: Solution): boolean {
  let found = withTolerance.get(solution);
  if (found === undefined) {
    found = solution.system.variables.some(({ given }) => hasTolerance(given));
    withTolerance.set(solution, found);
  }
  return found;
}

/** A figure that no equation speaks of, as it is given. */
export function seenGiven(variable: Variable | undefined): Seen {
  if (variable === undefined || !isGiven(variable)) return open;
  const { value, low, high } = variable.given as GivenNumber;
  const limits = [Math.min(low, value), Math.max(high, value)] as const;
  return { value, size: Math.abs(value), limits: () => limits };
}

const open: Seen = { value: Number.NaN, size: 0, limits: () => undefined };

/** `holds` at worst, too; `open` where it can be told neither way; of all others nothing is said. */
export function atAGlance(
  condition: Condition,
  figures: readonly Seen[],
): "holds" | "open" | "unclear" {
  const slots = figures.map((_, slot) => slot);
  const values = Float64Array.from(figures, ({ value }) => value);
  const sizes = Float64Array.from(figures, ({ size }) => size);
  const truth = evaluate(conditionTapeOf(condition), values, slots, sizes);
  if (Number.isNaN(truth)) return "open";
  const quantity = marginOf({ condition, variables: slots });
  if (truth !== 1 || quantity === undefined || isComparedAsEqual(condition)) return "unclear";
  const tape = tapeOf(quantity.expression);
  const margin = evaluate(tape, values, slots, sizes);
  const slack = NOISE * resultSize(tape, slots, sizes);
  if (!(margin > slack)) return "unclear";
  const low = new Float64Array(figures.length);
  const high = new Float64Array(figures.length);
  for (const [slot, { limits }] of figures.entries()) {
    const own = limits();
    if (own === undefined) return "unclear";
    [low[slot], high[slot]] = own;
  }
  loadRanges(tape, low, high, slots);
  runRanges(tape);
  const ranges = rangesOf(tape);
  const least = ranges.low[tape.results[0] as number] as number;
  return !ranges.partial && least > slack ? "holds" : "unclear";
}
