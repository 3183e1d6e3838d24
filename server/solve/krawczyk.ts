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
import { factor, type LinearSolver, solverOf } from "./linear";
import type { SolveStep } from "./plan";
import { loadRanges, runRanges } from "./range-run";
import { slopeRanges } from "./range-slopes";
import { factorSparse, type SparseRow } from "./sparse-lu";
import { rangesOf, type Tape } from "./tape";

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

/** Up to so many unknowns the Jacobian is factored as a full matrix. */
const FULL = 48;

/** Where an equation's slots stand on its tape and among the block's unknowns; −1 where none. */
interface EquationSlots {
  readonly positions: Int32Array;
  readonly slots: Int32Array;
  readonly unknowns: Int32Array;
}

class Proving {
  private readonly size: number;
  private readonly scales: readonly number[];
  private readonly slotsOf: readonly EquationSlots[];
  /** By equation, of its slots; of those of the block's unknowns they are the Jacobian. */
  private readonly slopes: SlopeLimits[];
  private readonly heightLow: Float64Array;
  private readonly heightHigh: Float64Array;

  constructor(
    private readonly execution: Execution,
    private readonly step: SolveStep,
    private readonly low: Float64Array,
    private readonly high: Float64Array,
  ) {
    const { system, facts } = execution.network;
    this.size = step.variables.length;
    this.scales = step.variables.map((variable) => system.variables[variable]!.scale);
    const placeOf = new Map(step.variables.map((variable, place) => [variable, place]));
    this.slotsOf = step.equations.map((equation) => {
      const { slotIndices, slotPositions } = facts[equation]!.tape;
      const { variables } = system.equations[equation]!;
      return {
        positions: Int32Array.from(slotPositions),
        slots: Int32Array.from(slotIndices),
        unknowns: Int32Array.from(slotIndices, (slot) => placeOf.get(variables[slot]!) ?? -1),
      };
    });
    this.slopes = step.equations.map((equation) => {
      const slots = system.equations[equation]!.variables.length;
      return { low: new Float64Array(slots), high: new Float64Array(slots) };
    });
    this.heightLow = new Float64Array(this.size);
    this.heightHigh = new Float64Array(this.size);
  }

  from(start: readonly number[]): EnclosedBlock | undefined {
    const { size } = this;
    const scales = this.scales.map((scale, j) =>
      Math.max(scale * 1e-6, Math.abs(start[j]!) * 1e-9),
    );
    const x = Float64Array.from(start);
    let solver: LinearSolver | undefined;
    // Newton's steps over the middle of what the equations come to move the start to where it belongs.
    for (let round = 0; round < 4; round++) {
      this.put(x, x);
      this.heights();
      this.jacobian();
      solver = this.factored();
      if (solver === undefined) return undefined;
      const step = solver.solve(this.heightLow.map((low, i) => (low + this.heightHigh[i]!) / 2));
      const moved = x.map((at, j) => at - step[j]!);
      const settled = moved.every((at, j) => Math.abs(at - x[j]!) <= 1e-14 * Math.abs(at));
      x.set(moved);
      if (settled) break;
    }
    this.put(x, x);
    const inverse = this.inverted(solver!);
    this.heights();
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
      const inside = next.low.every((from, j) => from > boxLow[j]! && next.high[j]! < boxHigh[j]!);
      if (!inside) {
        for (let j = 0; j < size; j++) {
          boxLow[j] = Math.min(boxLow[j]!, next.low[j]!);
          boxHigh[j] = Math.max(boxHigh[j]!, next.high[j]!);
          // Without a value somewhere it is no width, and never inside.
          if (!(boxHigh[j]! - boxLow[j]! < 1e15)) return undefined;
        }
        continue;
      }
      boxLow = next.low;
      boxHigh = next.high;
      const again = this.krawczyk(x, inverse, fromHeight, boxLow, boxHigh);
      boxLow = boxLow.map((from, j) => Math.max(from, again.low[j]!));
      boxHigh = boxHigh.map((to, j) => Math.min(to, again.high[j]!));
      const { spread, sizes } = again;
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

  private ready(equation: number): Tape {
    const { network, values, sizes } = this.execution;
    const { tape } = network.facts[equation]!;
    const { variables } = network.system.equations[equation]!;
    if (tape.kinked) evaluate(tape, values, variables, sizes);
    loadRanges(tape, this.low, this.high, variables);
    runRanges(tape);
    return tape;
  }

  /** Left minus right of every equation over the ranges at hand. */
  private heights(): void {
    for (let i = 0; i < this.size; i++) {
      const tape = this.ready(this.step.equations[i]!);
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
    }
  }

  private jacobian(): void {
    for (let i = 0; i < this.size; i++) {
      const tape = this.ready(this.step.equations[i]!);
      slopeRanges(tape, SEEDS);
      const { slopeLow, slopeHigh } = rangesOf(tape);
      const { low, high } = this.slopes[i]!;
      const { positions, slots } = this.slotsOf[i]!;
      for (let k = 0; k < slots.length; k++) {
        const slot = slots[k]!;
        low[slot] = slopeLow[positions[k]!]!;
        high[slot] = slopeHigh[positions[k]!]!;
      }
    }
  }

  /** The Jacobian's middle, ready to solve with. */
  private factored(): LinearSolver | undefined {
    const { size, scales } = this;
    const rowSizes = new Float64Array(size);
    const rows: SparseRow[] = [];
    for (let i = 0; i < size; i++) {
      const { slots, unknowns } = this.slotsOf[i]!;
      const { low, high } = this.slopes[i]!;
      const columns: number[] = [];
      const entries: number[] = [];
      for (let k = 0; k < slots.length; k++) {
        const j = unknowns[k]!;
        const entry = j < 0 ? 0 : ((low[slots[k]!]! + high[slots[k]!]!) / 2) * scales[j]!;
        if (entry === 0) continue;
        columns.push(j);
        entries.push(entry);
        rowSizes[i] = Math.max(rowSizes[i]!, Math.abs(entry));
      }
      if (columns.length === 0) return undefined;
      rows.push({ columns, entries: entries.map((entry) => entry / rowSizes[i]!) });
    }
    const solver = size > FULL ? factorSparse(rows) : solverOf(factor(full(rows), size));
    if (!(solver.smallestPivot > 0)) return undefined;
    return {
      ...solver,
      solve: (right) => {
        const answer = solver.solve(Float64Array.from(right, (entry, i) => entry / rowSizes[i]!));
        return answer.map((entry, j) => entry * scales[j]!);
      },
    };
  }

  /** Row by row: variable by equation. */
  private inverted(solver: LinearSolver): Float64Array {
    const { size } = this;
    const inverse = new Float64Array(size * size);
    const unit = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      unit[i] = 1;
      const column = solver.solve(unit);
      unit[i] = 0;
      for (let j = 0; j < size; j++) inverse[j * size + i] = column[j]!;
    }
    return inverse;
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
  ): SlopeLimits & Pick<EnclosedBlock, "spread" | "sizes"> {
    const { size } = this;
    const sizes = boxLow.map((from, j) => (boxHigh[j]! - from) / 2);
    this.put(boxLow, boxHigh);
    this.jacobian();
    const low = new Float64Array(size);
    const high = new Float64Array(size);
    const rowLow = new Float64Array(size);
    const rowHigh = new Float64Array(size);
    let spread = 0;
    for (let j = 0; j < size; j++) {
      subtract(low, high, j, x[j]!, x[j]!, fromHeight.low[j]!, fromHeight.high[j]!);
      this.rowOfRest(j, inverse, rowLow, rowHigh);
      let sum = 0;
      for (let k = 0; k < size; k++) {
        if (rowLow[k] === 0 && rowHigh[k] === 0) continue;
        const largest = Math.max(Math.abs(rowLow[k]!), Math.abs(rowHigh[k]!));
        sum += (largest * sizes[k]!) / sizes[j]!;
        subtract(one, oneHigh, 0, boxLow[k]!, boxHigh[k]!, x[k]!, x[k]!);
        multiply(one, oneHigh, 0, rowLow[k]!, rowHigh[k]!, one[0]!, oneHigh[0]!);
        add(low, high, j, low[j]!, high[j]!, one[0]!, oneHigh[0]!);
      }
      spread = Math.max(spread, sum);
    }
    return { low, high, spread, sizes };
  }

  /** Row j of 1 − C·J: each equation has entries for a few of the unknowns only. */
  private rowOfRest(j: number, inverse: Float64Array, low: Float64Array, high: Float64Array): void {
    const { size } = this;
    low.fill(0);
    high.fill(0);
    low[j] = 1;
    high[j] = 1;
    for (let i = 0; i < size; i++) {
      const factorHere = inverse[j * size + i]!;
      if (factorHere === 0) continue;
      const { slots, unknowns } = this.slotsOf[i]!;
      const slopes = this.slopes[i]!;
      for (let k = 0; k < slots.length; k++) {
        const at = unknowns[k]!;
        if (at < 0) continue;
        const slot = slots[k]!;
        multiply(one, oneHigh, 0, slopes.low[slot]!, slopes.high[slot]!, factorHere, factorHere);
        subtract(low, high, at, low[at]!, high[at]!, one[0]!, oneHigh[0]!);
      }
    }
  }
}

function full(rows: readonly SparseRow[]): Float64Array {
  const matrix = new Float64Array(rows.length ** 2);
  rows.forEach(({ columns, entries }, i) => {
    columns.forEach((column, k) => {
      matrix[i * rows.length + column] = entries[k]!;
    });
  });
  return matrix;
}

const one = new Float64Array(1);
const oneHigh = new Float64Array(1);
