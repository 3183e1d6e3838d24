/**
 * Claims that hold by far: by what each of their figures can come to by itself, however these hang
 * together. What is clear so needs no closer look, and no figures of several parts put side by side.
 *
 *     holdsClearly(condition, [gap, least])   →   true: it holds in the worst case, too
 *
 * Must not know: wording, which part of a build a figure is of.
 */
import { evaluate, resultSize } from "./evaluate";
import { executionOf } from "./execution";
import type { Condition } from "./expression";
import { hasTolerance } from "./movers";
import { isGiven } from "./network";
import { loadRanges, runRanges } from "./range-run";
import { keepsMode, rangesOver } from "./ranges";
import { NOISE } from "./rounding-noise";
import type { Solution, Variable } from "./system";
import { conditionTapeOf, rangesOf, tapeOf } from "./tape";
import { isComparedAsEqual, marginOf } from "./verdict";

/** One figure while every given keeps within its tolerance. */
export interface Enclosed {
  readonly value: number;
  /** How large the numbers are that it came from. */
  readonly size: number;
  /** Proved. */
  readonly low: number;
  readonly high: number;
}

/** Of larger systems ranges are worked out for what is asked alone. */
const largest = 400;

/** Nothing where it is open or not enclosed. */
export function enclosed(solution: Solution, variable: number): Enclosed | undefined {
  const value = solution.values[variable];
  if (value === undefined || Number.isNaN(value)) return undefined;
  if (solution.system.variables.length > largest) return undefined;
  const size = executionOf(solution).sizes[variable] ?? Math.abs(value);
  if (!anyTolerance(solution)) return { value, size, low: value, high: value };
  const { pass, moves } = rangesOver(solution);
  if (moves[variable] !== 1) return { value, size, low: value, high: value };
  if (pass.marks[variable] !== 0 || !keepsMode(solution)) return undefined;
  return { value, size, low: pass.low[variable] as number, high: pass.high[variable] as number };
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

/** The same of a figure that is given. */
export function enclosedGiven(variable: Variable): Enclosed | undefined {
  const { given } = variable;
  if (given === undefined || !isGiven(variable)) return undefined;
  const { value, low, high } = given;
  return { value, size: Math.abs(value), low: Math.min(low, value), high: Math.max(high, value) };
}

/** Of what is not clear nothing is said. */
export function holdsClearly(condition: Condition, figures: readonly Enclosed[]): boolean {
  const slots = figures.map((_, slot) => slot);
  const quantity = marginOf({ condition, variables: slots });
  if (quantity === undefined || isComparedAsEqual(condition)) return false;
  const values = Float64Array.from(figures, ({ value }) => value);
  const sizes = Float64Array.from(figures, ({ size }) => size);
  if (evaluate(conditionTapeOf(condition), values, slots, sizes) !== 1) return false;
  const tape = tapeOf(quantity.expression);
  const margin = evaluate(tape, values, slots, sizes);
  const slack = NOISE * resultSize(tape, slots, sizes);
  if (!(margin > slack)) return false;
  loadRanges(
    tape,
    Float64Array.from(figures, ({ low }) => low),
    Float64Array.from(figures, ({ high }) => high),
    slots,
  );
  runRanges(tape);
  const ranges = rangesOf(tape);
  return !ranges.partial && (ranges.low[tape.results[0] as number] as number) > slack;
}
