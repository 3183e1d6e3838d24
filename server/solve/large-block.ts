/**
 * Solves a large block whose equations each know only a few of its unknowns: damped Newton steps over
 * a sparse factorisation of the Jacobian.
 *
 * Must not know: names, plans, tolerances.
 */
import { goOn } from "../keep/patience";
import type { Block } from "./block";
import { magnitude, residual, residualAndGradient } from "./form";
import { type LinearSolver, SINGULAR } from "./linear";
import { factorSparse, type SparseRow } from "./sparse-lu";
import { starts } from "./starts";

/** Blocks of fewer unknowns, or with a larger share of entries, are worked on as full matrices. */
const FEWEST = 64;
const FULLEST = 0.1;

export function isSparse(block: Block): boolean {
  const size = block.unknowns.length;
  if (size <= FEWEST) return false;
  const own = new Set(block.unknowns);
  let entries = 0;
  for (const slots of block.slots) for (const variable of slots) if (own.has(variable)) entries++;
  return entries < FULLEST * size * size;
}

export type LargeAnswer = "solved" | "singular" | "no-root" | "no-convergence" | "not-defined";

/** Solves in place, from `start` or from a few fixed places. */
export function solveLarge(
  block: Block,
  values: Float64Array,
  start?: readonly number[],
): LargeAnswer {
  const newton = new LargeNewton(block, values);
  let answer: LargeAnswer = "not-defined";
  const places = start === undefined ? starts(block, 3) : [Float64Array.from(start)];
  for (const place of places) {
    answer = newton.from(place);
    if (answer === "solved" || answer === "singular") return answer;
  }
  return answer;
}

/** The block's Jacobian at the numbers that stand in `values`, factored; rows brought to size 1. */
export function factorLarge(
  block: Block,
  values: Float64Array,
): { readonly solver: LinearSolver; readonly rowSizes: Float64Array } {
  const newton = new LargeNewton(block, values);
  const rows = newton.rows();
  if (rows === undefined) return { solver: NONE, rowSizes: newton.rowSizes };
  return { solver: factorSparse(rows), rowSizes: newton.rowSizes };
}

const NONE: LinearSolver = {
  smallestPivot: 0,
  solve: (right) => new Float64Array(right.length),
  solveTransposed: (right) => new Float64Array(right.length),
};

class LargeNewton {
  readonly rowSizes: Float64Array;
  private readonly size: number;
  private readonly placeOf: ReadonlyMap<number, number>;
  private readonly heights: Float64Array;
  private readonly sides: Float64Array;
  private readonly gradient: Float64Array;

  constructor(
    private readonly block: Block,
    private readonly values: Float64Array,
  ) {
    this.size = block.unknowns.length;
    this.placeOf = new Map(block.unknowns.map((unknown, place) => [unknown, place]));
    this.rowSizes = new Float64Array(this.size);
    this.heights = new Float64Array(this.size);
    this.sides = new Float64Array(this.size);
    this.gradient = new Float64Array(Math.max(1, ...block.slots.map((slots) => slots.length)));
  }

  from(start: Float64Array): LargeAnswer {
    const { size, block } = this;
    let x = this.clipped(start);
    this.place(x);
    for (let round = 0; round < 60; round++) {
      goOn(50 * size);
      if (!this.measure()) return "not-defined";
      const rows = this.rows();
      if (rows === undefined) return "not-defined";
      const merit = this.merit();
      const solver = factorSparse(rows);
      if (!(solver.smallestPivot > SINGULAR)) return "singular";
      const step = solver.solve(this.heights.map((height, i) => height / this.rowSizes[i]!));
      let longest = 0;
      for (let j = 0; j < size; j++) {
        const size_ = 1 + Math.abs(x[j]!) / block.scales[j]!;
        longest = Math.max(longest, Math.abs(step[j]!) / size_);
      }
      if (!Number.isFinite(longest)) return "not-defined";
      let share = 1;
      let next = x;
      for (let halving = 0; halving < 40; halving++, share /= 2) {
        next = this.clipped(x.map((at, j) => at - share * step[j]! * block.scales[j]!));
        this.place(next);
        if (longest < 1e-10) break;
        if (this.measure() && this.merit() <= merit * (1 - 1e-4 * share)) break;
      }
      x = next;
      // The last step removes what rounding left.
      if (longest < 1e-10) return this.settled() ? "solved" : "no-root";
    }
    return "no-convergence";
  }

  /** Rows of the Jacobian, columns in natural units; undefined where an entry has no value. */
  rows(): SparseRow[] | undefined {
    const { block, gradient } = this;
    const rows: SparseRow[] = [];
    for (let i = 0; i < this.size; i++) {
      const slots = block.slots[i]!;
      residualAndGradient(block.facts[i]!, this.values, slots, gradient, 0);
      const columns: number[] = [];
      const entries: number[] = [];
      let largest = 0;
      for (let slot = 0; slot < slots.length; slot++) {
        const place = this.placeOf.get(slots[slot]!);
        if (place === undefined) continue;
        const entry = gradient[slot]! * block.scales[place]!;
        if (!Number.isFinite(entry)) return undefined;
        if (entry === 0) continue;
        columns.push(place);
        entries.push(entry);
        largest = Math.max(largest, Math.abs(entry));
      }
      this.rowSizes[i] = largest > 0 ? largest : 1;
      for (let k = 0; k < entries.length; k++) entries[k]! /= this.rowSizes[i]!;
      rows.push({ columns, entries });
    }
    return rows;
  }

  private measure(): boolean {
    let sum = 0;
    for (let i = 0; i < this.size; i++) {
      const facts = this.block.facts[i]!;
      this.heights[i] = residual(facts, this.values, this.block.slots[i]!);
      this.sides[i] = magnitude(facts);
      sum += Math.abs(this.heights[i]!);
    }
    return Number.isFinite(sum);
  }

  private merit(): number {
    let sum = 0;
    for (let i = 0; i < this.size; i++) sum += (this.heights[i]! / this.rowSizes[i]!) ** 2;
    return sum;
  }

  private settled(): boolean {
    if (!this.measure()) return false;
    return this.heights.every(
      (height, i) => Math.abs(height) <= 1e-6 * (this.sides[i]! + 1e-3 * this.rowSizes[i]!),
    );
  }

  private clipped(x: Float64Array): Float64Array {
    const { lows, highs } = this.block;
    return x.map((at, j) => Math.min(highs[j]!, Math.max(lows[j]!, at)));
  }

  private place(x: Float64Array): void {
    this.block.unknowns.forEach((unknown, j) => {
      this.values[unknown] = x[j]!;
    });
  }
}
