/** What is told of a formula over a box, for tests. */
import { expect } from "vitest";
import { evaluate } from "../../server/solve/evaluate";
import type { Expression, FunctionName } from "../../server/solve/expression";
import { loadRanges, runRanges } from "../../server/solve/range-run";
import { slopeRanges } from "../../server/solve/range-slopes";
import { rangesOf, tapeOf } from "../../server/solve/tape";

export const slot = (index: number): Expression => ({ op: "slot", index });
export const number = (value: number): Expression => ({ op: "number", value });
export const x = slot(0);
export const y = slot(1);
export const call = (name: FunctionName, ...of: Expression[]): Expression => ({
  op: "call",
  name,
  of,
});

export interface Told {
  readonly range: [number, number];
  readonly partial: boolean;
  /** By slot: what the slope can be. */
  readonly slopes: readonly [number, number][];
}

export function told(expression: Expression, ...box: readonly (readonly [number, number])[]): Told {
  const tape = tapeOf(expression);
  const low = Float64Array.from(box, ([from]) => from);
  const high = Float64Array.from(box, ([, to]) => to);
  const slots = box.map((_, index) => index);
  evaluate(tape, low, slots);
  loadRanges(tape, low, high, slots);
  runRanges(tape);
  const ranges = rangesOf(tape);
  const result = tape.results[0] ?? 0;
  const range: [number, number] = [ranges.low[result] ?? 0, ranges.high[result] ?? 0];
  const { partial } = ranges;
  slopeRanges(tape, [1]);
  const slopes = slots.map((index): [number, number] => {
    const at = tape.slotPositions[tape.slotIndices.indexOf(index)];
    return at === undefined ? [0, 0] : [ranges.slopeLow[at] ?? 0, ranges.slopeHigh[at] ?? 0];
  });
  return { range, partial, slopes };
}

export function near(found: readonly number[], wanted: readonly number[], label: string): void {
  found.forEach((end, index) => {
    const other = wanted[index] ?? 0;
    if (!Number.isFinite(other)) expect(end, label).toBe(other);
    else expect(Math.abs(end - other), `${label}: ${end} for ${other}`).toBeLessThan(1e-9);
  });
}
