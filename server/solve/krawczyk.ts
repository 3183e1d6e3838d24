/**
 * Proves a block's answer over ranges of its inputs: for whatever inputs within theirs, the block
 * has exactly one answer in the box that is returned (Krawczyk's test; Neumaier, Interval Methods
 * for Systems of Equations, 1990, chapter 5), and what its equations' slopes are there.
 *
 * Must not know: how the answer at the middle was found, what the ranges are for.
 */

import { evaluate } from "./evaluate";
import type { Execution } from "./execution";
import { add, multiply, subtract } from "./interval";
import { factor, solveWith } from "./linear";
import type { SolveStep } from "./plan";
import { loadRanges, runRanges } from "./range-run";
import { slopeRanges } from "./range-slopes";
import { rangesOf } from "./tape";

export interface EnclosedBlock {
  /** For each of the step's variables. */
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** For each of the step's equations, its slopes by slot over the box. */
  readonly slopes: readonly SlopeLimits[];
  /** About the inverse of the Jacobian in the middle, row by row: variable by equation. */
  readonly inverse: Float64Array;
  /** How far the inverse times the Jacobian can be from 1, as the largest row sum in units of `sizes`. */
  readonly spread: number;
  /** For each of the step's variables, half the width of the box. */
  readonly sizes: Float64Array;
}

export interface SlopeLimits {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

const ROUNDS = 14;
const SEEDS = [1, -1];

/**
 * `low` and `high` hold the inputs' ranges by variable; `place` a point near the answer for the middle
 * of them. The step's own entries of `low` and `high` are used as scratch. Undefined where nothing
 * could be proved.
 */
export function encloseBlock(
  execution: Execution,
  step: SolveStep,
  low: Float64Array,
  high: Float64Array,
  place: Float64Array,
): EnclosedBlock | undefined {
  const proving = new Proving(execution, step, low, high);
  return proving.from(step.variables.map((variable) => place[variable]!));
}

class Proving {
  private readonly size: number;
  private readonly slopes: SlopeLimits[];
  private readonly jacobianLow: Float64Array;
  private readonly jacobianHigh: Float64Array;
  private readonly heightLow: Float64Array;
  private readonly heightHigh: Float64Array;

  constructor(
    private readonly execution: Execution,
    private readonly step: SolveStep,
    private readonly low: Float64Array,
    private readonly high: Float64Array,
  ) {
    const { equations } = execution.network.system;
    this.size = step.variables.length;
    this.slopes = step.equations.map((equation) => {
      const slots = equations[equation]!.variables.length;
      return { low: new Float64Array(slots), high: new Float64Array(slots) };
    });
    this.jacobianLow = new Float64Array(this.size ** 2);
    this.jacobianHigh = new Float64Array(this.size ** 2);
    this.heightLow = new Float64Array(this.size);
    this.heightHigh = new Float64Array(this.size);
  }

  from(start: readonly number[]): EnclosedBlock | undefined {
    const { size, step } = this;
    const { variables } = this.execution.network.system;
    if (start.some((x) => !Number.isFinite(x))) return undefined;
    const scales = step.variables.map((variable, j) =>
      Math.max(variables[variable]!.scale * 1e-6, Math.abs(start[j]!) * 1e-9),
    );
    const x = Float64Array.from(start);
    let inverse: Float64Array | undefined;
    // Newton's steps over the middle of what the equations come to move the start to where it belongs.
    for (let round = 0; round < 4; round++) {
      this.put(x, x);
      if (!this.heights() || !this.jacobian()) return undefined;
      inverse = this.inverted();
      if (inverse === undefined) return undefined;
      const moved = Float64Array.from(x, (at, j) => {
        let sum = 0;
        for (let i = 0; i < size; i++) {
          sum += inverse![j * size + i]! * ((this.heightLow[i]! + this.heightHigh[i]!) / 2);
        }
        return at - sum;
      });
      if (!moved.every(Number.isFinite)) return undefined;
      const settled = moved.every((at, j) => Math.abs(at - x[j]!) <= 1e-14 * Math.abs(at));
      x.set(moved);
      if (settled) break;
    }
    this.put(x, x);
    if (inverse === undefined || !this.heights()) return undefined;
    const fromHeight = this.pulled(inverse);
    let boxLow: Float64Array = Float64Array.from(
      x,
      (at, j) => at - fromHeight.high[j]! - 1e-9 * scales[j]!,
    );
    let boxHigh: Float64Array = Float64Array.from(
      x,
      (at, j) => at - fromHeight.low[j]! + 1e-9 * scales[j]!,
    );
    for (let round = 0; round < ROUNDS; round++) {
      for (let j = 0; j < size; j++) {
        const room =
          0.1 * (boxHigh[j]! - boxLow[j]!) + 1e-12 * scales[j]! + 4e-16 * Math.abs(x[j]!);
        boxLow[j]! -= room;
        boxHigh[j]! += room;
      }
      const next = this.krawczyk(x, inverse, fromHeight, boxLow, boxHigh);
      if (next === undefined) return undefined;
      const inside = next.low.every((from, j) => from > boxLow[j]! && next.high[j]! < boxHigh[j]!);
      if (!inside) {
        for (let j = 0; j < size; j++) {
          boxLow[j] = Math.min(boxLow[j]!, next.low[j]!);
          boxHigh[j] = Math.max(boxHigh[j]!, next.high[j]!);
          if (!(boxHigh[j]! - boxLow[j]! < 1e15)) return undefined;
        }
        continue;
      }
      boxLow = next.low;
      boxHigh = next.high;
      const again = this.krawczyk(x, inverse, fromHeight, boxLow, boxHigh);
      if (again !== undefined) {
        boxLow = boxLow.map((from, j) => Math.max(from, again.low[j]!));
        boxHigh = boxHigh.map((to, j) => Math.min(to, again.high[j]!));
      }
      const { spread, sizes } = again ?? next;
      return { low: boxLow, high: boxHigh, slopes: this.slopes, inverse, spread, sizes };
    }
    return undefined;
  }

  private put(from: ArrayLike<number>, to: ArrayLike<number>): void {
    this.step.variables.forEach((variable, j) => {
      this.low[variable] = from[j]!;
      this.high[variable] = to[j]!;
    });
  }

  private ready(equation: number) {
    const { network, values, sizes } = this.execution;
    const { tape } = network.facts[equation]!;
    const { variables } = network.system.equations[equation]!;
    if (tape.kinked) evaluate(tape, values, variables, sizes);
    loadRanges(tape, this.low, this.high, variables);
    runRanges(tape);
    return { tape, variables };
  }

  /** Left minus right of every equation over the ranges at hand. */
  private heights(): boolean {
    for (let i = 0; i < this.size; i++) {
      const { tape } = this.ready(this.step.equations[i]!);
      const { low, high } = rangesOf(tape);
      const [left, right] = [tape.results[0]!, tape.results[1]!];
      subtract(
        this.heightLow,
        this.heightHigh,
        i,
        low[left]!,
        high[left]!,
        low[right]!,
        high[right]!,
      );
      if (!Number.isFinite(this.heightLow[i]! + this.heightHigh[i]!)) return false;
    }
    return true;
  }

  private jacobian(): boolean {
    const { size, step } = this;
    this.jacobianLow.fill(0);
    this.jacobianHigh.fill(0);
    for (let i = 0; i < size; i++) {
      const { tape, variables } = this.ready(step.equations[i]!);
      slopeRanges(tape, SEEDS);
      const { slopeLow, slopeHigh } = rangesOf(tape);
      const slopes = this.slopes[i]!;
      for (let k = 0; k < tape.slotIndices.length; k++) {
        const slot = tape.slotIndices[k]!;
        slopes.low[slot] = slopeLow[tape.slotPositions[k]!]!;
        slopes.high[slot] = slopeHigh[tape.slotPositions[k]!]!;
        const j = step.variables.indexOf(variables[slot]!);
        if (j < 0) continue;
        this.jacobianLow[i * size + j] = slopes.low[slot]!;
        this.jacobianHigh[i * size + j] = slopes.high[slot]!;
        if (!Number.isFinite(slopes.low[slot]! + slopes.high[slot]!)) return false;
      }
    }
    return true;
  }

  /** Inverse of the Jacobian's middle. */
  private inverted(): Float64Array | undefined {
    const { size } = this;
    const middle = this.jacobianLow.map((from, at) => (from + this.jacobianHigh[at]!) / 2);
    const sizes = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) {
        sizes[i] = Math.max(sizes[i]!, Math.abs(middle[i * size + j]!));
      }
      if (sizes[i] === 0) return undefined;
      for (let j = 0; j < size; j++) middle[i * size + j]! /= sizes[i]!;
    }
    const factors = factor(middle, size);
    if (!(factors.smallestPivot > 0)) return undefined;
    const inverse = new Float64Array(size * size);
    for (let i = 0; i < size; i++) {
      const unit = new Float64Array(size);
      unit[i] = 1 / sizes[i]!;
      const column = solveWith(factors, unit);
      for (let j = 0; j < size; j++) inverse[j * size + i] = column[j]!;
    }
    return inverse.every(Number.isFinite) ? inverse : undefined;
  }

  /** The inverse times the heights. */
  private pulled(inverse: Float64Array): SlopeLimits {
    const { size } = this;
    const low = new Float64Array(size);
    const high = new Float64Array(size);
    for (let j = 0; j < size; j++) {
      for (let i = 0; i < size; i++) {
        const entry = inverse[j * size + i]!;
        multiply(one, oneHigh, 0, this.heightLow[i]!, this.heightHigh[i]!, entry, entry);
        add(low, high, j, low[j]!, high[j]!, one[0]!, oneHigh[0]!);
      }
    }
    return { low, high };
  }

  /** x − C·F(x) + (1 − C·J)·(X − x). */
  private krawczyk(
    x: Float64Array,
    inverse: Float64Array,
    fromHeight: SlopeLimits,
    boxLow: Float64Array,
    boxHigh: Float64Array,
  ): (SlopeLimits & Pick<EnclosedBlock, "spread" | "sizes">) | undefined {
    const { size } = this;
    const sizes = boxLow.map((from, j) => (boxHigh[j]! - from) / 2);
    this.put(boxLow, boxHigh);
    if (!this.jacobian()) return undefined;
    const low = new Float64Array(size);
    const high = new Float64Array(size);
    let spread = 0;
    for (let j = 0; j < size; j++) {
      subtract(low, high, j, x[j]!, x[j]!, fromHeight.low[j]!, fromHeight.high[j]!);
      let sum = 0;
      for (let k = 0; k < size; k++) {
        // Entry j, k of 1 − C·J.
        const unit = j === k ? 1 : 0;
        sumLow[0] = unit;
        sumHigh[0] = unit;
        for (let i = 0; i < size; i++) {
          const from = this.jacobianLow[i * size + k]!;
          const to = this.jacobianHigh[i * size + k]!;
          if (from === 0 && to === 0) continue;
          const entry = inverse[j * size + i]!;
          multiply(one, oneHigh, 0, from, to, entry, entry);
          subtract(sumLow, sumHigh, 0, sumLow[0]!, sumHigh[0]!, one[0]!, oneHigh[0]!);
        }
        const largest = Math.max(Math.abs(sumLow[0]!), Math.abs(sumHigh[0]!));
        sum += (largest * sizes[k]!) / sizes[j]!;
        subtract(one, oneHigh, 0, boxLow[k]!, boxHigh[k]!, x[k]!, x[k]!);
        multiply(one, oneHigh, 0, sumLow[0]!, sumHigh[0]!, one[0]!, oneHigh[0]!);
        add(low, high, j, low[j]!, high[j]!, one[0]!, oneHigh[0]!);
      }
      spread = Math.max(spread, sum);
      if (!Number.isFinite(low[j]! + high[j]!)) return undefined;
    }
    return { low, high, spread, sizes };
  }
}

const one = new Float64Array(1);
const oneHigh = new Float64Array(1);
const sumLow = new Float64Array(1);
const sumHigh = new Float64Array(1);
