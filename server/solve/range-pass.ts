/**
 * What every figure can come to while some givens keep within a box: one pass over the steps of a
 * plan, in their order, over intervals that are rounded outward.
 *
 * Each figure gets its range, the range of its slopes by every given of the box, and what it is at
 * the box's middle. The range is the formula's own, cut down by the mean value theorem: the value in
 * the middle, and no more beside it than the steepest slope allows. Where a step could not be
 * enclosed its figure keeps the whole range of its field and is marked.
 *
 * Must not know: what is asked of the ranges.
 */
import { differentiate } from "./differentiate";
import { evaluate } from "./evaluate";
import type { Execution } from "./execution";
import { add } from "./interval";
import { type Mover, rangeAt } from "./movers";
import type { SolveStep } from "./plan";
import { BlockRanges } from "./range-block";
import { loadRanges, runRanges } from "./range-run";
import { slopeRanges } from "./range-slopes";
import { RowSums } from "./row-sums";
import { type InputBox, NO_ROW, RowOfSlopes, type RowTotals } from "./slope-row";
import { rangesOf, type Tape } from "./tape";

/** What a formula over the figures can come to. */
export interface FormulaReach {
  readonly low: number;
  readonly high: number;
  readonly middleLow: number;
  readonly middleHigh: number;
  readonly row: RowOfSlopes;
  /** It has no value for a part of the box. */
  readonly partial: boolean;
  /** Something it rests on could not be enclosed. */
  readonly loose: boolean;
  /** Something it rests on was followed along straight lines: its limits are no proof. */
  readonly alongLines: boolean;
}

/** Slopes kept for a pass; beyond them those that no further step uses are let go. */
const MOST_SLOPES = 2_000_000;

export class RangePass {
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly middleLow: Float64Array;
  readonly middleHigh: Float64Array;
  /** Added up: 1 where no value exists for part of the box, 2 where the step could not be enclosed, 4 where it was followed along straight lines. */
  readonly marks: Uint8Array;
  readonly rows: (RowOfSlopes | undefined)[] = [];
  readonly place: Float64Array;
  readonly sums: RowSums;
  private readonly blocks: BlockRanges;
  private box: InputBox | undefined;
  private slopes = 0;
  private uses: Int32Array | undefined;

  /** `inputs` are the givens that vary; `steps` those that lead on from them, by number. */
  constructor(
    readonly execution: Execution,
    private readonly steps: readonly number[],
    readonly inputs: readonly Mover[],
  ) {
    const { values } = execution;
    this.low = values.slice();
    this.high = values.slice();
    this.middleLow = values.slice();
    this.middleHigh = values.slice();
    this.place = values.slice();
    this.marks = new Uint8Array(values.length);
    this.sums = new RowSums(inputs);
    this.blocks = new BlockRanges(this);
  }

  /** Goes through all steps. With `sparing`, slopes that no later step uses may be let go. */
  run(box: InputBox, sparing = false): void {
    this.box = box;
    this.marks.fill(0);
    if (sparing) this.countUses();
    for (const [at, mover] of this.inputs.entries()) this.moved(mover, at, box);
    for (const number of this.steps) {
      const step = this.execution.steps[number]!;
      const plain = this.plainTape(step);
      if (plain !== undefined) this.plainStep(step, plain);
      else this.block(step, box);
      for (const variable of step.variables) this.slopes += this.rows[variable]?.kept ?? 0;
      if (this.slopes > MOST_SLOPES) this.letGo(step);
    }
  }

  /** Puts what moves into a box. */
  private moved(mover: Mover, at: number, box: InputBox): void {
    mover.givens.forEach((variable, k) => {
      const by = mover.parts?.[k]?.by ?? 1;
      [this.low[variable], this.high[variable]] = rangeAt(mover, k, box.low[at]!, box.high[at]!);
      const [from, to] = rangeAt(mover, k, box.middle[at]!, box.middle[at]!);
      this.middleLow[variable] = from;
      this.middleHigh[variable] = to;
      this.place[variable] = (from + to) / 2;
      const slopes = { at: Int32Array.of(at), low: Float64Array.of(by), high: Float64Array.of(by) };
      this.rows[variable] = RowOfSlopes.of(
        { ...slopes, nominal: Float64Array.of(by) },
        this.inputs,
        box,
      );
    });
  }

  /** What one figure comes to over the last box; its slopes are not there where they were let go. */
  reachOfVariable(variable: number): FormulaReach {
    const marks = this.marks[variable]!;
    return {
      low: this.low[variable]!,
      high: this.high[variable]!,
      middleLow: this.middleLow[variable]!,
      middleHigh: this.middleHigh[variable]!,
      row: this.rows[variable] ?? NO_ROW,
      partial: (marks & 1) !== 0,
      loose: (marks & 2) !== 0,
      alongLines: (marks & 4) !== 0,
    };
  }

  /** What a formula comes to over the last box. */
  reach(tape: Tape, variables: ArrayLike<number>): FormulaReach {
    const marks = this.throughTape(tape, variables);
    const { low, high, middleLow, middleHigh } = this.outcome;
    return {
      low,
      high,
      middleLow,
      middleHigh,
      row: this.row,
      partial: (marks & 1) !== 0,
      loose: (marks & 2) !== 0,
      alongLines: (marks & 4) !== 0,
    };
  }

  // ───────────────────────────── one step ─────────────────────────────

  /** The formula that yields the step's variable: its only one, or that of the branch it is on. */
  private plainTape(step: SolveStep): Tape | undefined {
    if (step.variables.length !== 1) return undefined;
    const { network, values } = this.execution;
    const variable = step.variables[0]!;
    const equation = step.equations[0]!;
    const { variables } = network.system.equations[equation]!;
    const { branches } = network.facts[equation]!.slots[variables.indexOf(variable)]!;
    if (branches === undefined) return undefined;
    if (branches.tapes.length === 1) return branches.tapes[0];
    const value = values[variable]!;
    let best: Tape | undefined;
    let nearest = 1e-6 * (Math.abs(value) + network.system.variables[variable]!.scale);
    for (const tape of branches.tapes) {
      const away = Math.abs(evaluate(tape, values, variables) - value);
      if (away < nearest) {
        best = tape;
        nearest = away;
      }
    }
    return best;
  }

  private plainStep(step: SolveStep, tape: Tape): void {
    const variable = step.variables[0]!;
    const { variables } = this.execution.network.system.equations[step.equations[0]!]!;
    this.marks[variable] = this.throughTape(tape, variables);
    const { low, high, middleLow, middleHigh } = this.outcome;
    this.low[variable] = low;
    this.high[variable] = high;
    this.middleLow[variable] = middleLow;
    this.middleHigh[variable] = middleHigh;
    this.place[variable] = (middleLow + middleHigh) / 2;
    this.rows[variable] = this.row;
    this.keepInRange(variable);
  }

  /** What lies outside of a field's range is no answer. */
  private keepInRange(variable: number): void {
    const { range, scale } = this.execution.network.system.variables[variable]!;
    if (range === undefined) return;
    const slack = 1e-9 * (scale * 1e-3 + Math.abs(range[0]) + Math.abs(range[1]));
    const low = range[0] - (Number.isFinite(slack) ? slack : 0);
    const high = range[1] + (Number.isFinite(slack) ? slack : 0);
    if (this.low[variable]! < low || this.high[variable]! > high) {
      this.marks[variable]! |= 1;
      this.low[variable] = Math.max(low, this.low[variable]!);
      this.high[variable] = Math.min(high, this.high[variable]!);
    }
  }

  private readonly outcome = { low: 0, high: 0, middleLow: 0, middleHigh: 0 };
  private row: RowOfSlopes = NO_ROW;

  /** Runs a tape over the ranges of its slots; leaves the outcome, and its slopes as `row`. */
  private throughTape(tape: Tape, variables: ArrayLike<number>): number {
    const { execution, outcome } = this;
    let marks = 0;
    let moves = false;
    const { slotIndices, slotPositions } = tape;
    for (let i = 0; i < slotIndices.length; i++) {
      const variable = variables[slotIndices[i]!]!;
      marks |= this.marks[variable]!;
      moves ||= this.rows[variable] !== undefined;
    }
    // The sizes by which comparisons forgive are those at the solution.
    const value = evaluate(tape, execution.values, variables, execution.sizes);
    if (!moves) {
      outcome.low = value;
      outcome.high = value;
      outcome.middleLow = value;
      outcome.middleHigh = value;
      this.row = NO_ROW;
      return marks;
    }
    differentiate(tape, ONE);
    loadRanges(tape, this.middleLow, this.middleHigh, variables);
    runRanges(tape);
    const ranges = rangesOf(tape);
    const result = tape.results[0]!;
    outcome.middleLow = ranges.low[result]!;
    outcome.middleHigh = ranges.high[result]!;
    loadRanges(tape, this.low, this.high, variables);
    runRanges(tape);
    outcome.low = ranges.low[result]!;
    outcome.high = ranges.high[result]!;
    if (ranges.partial) marks |= 1;
    slopeRanges(tape, ONE);
    for (let i = 0; i < slotIndices.length; i++) {
      const row = this.rows[variables[slotIndices[i]!]!];
      if (row === undefined) continue;
      const at = slotPositions[i]!;
      this.sums.add(row, ranges.slopeLow[at]!, ranges.slopeHigh[at]!, tape.adjoint[at]!);
    }
    this.row = this.sums.take(this.box!);
    this.sharpen(this.row.totals);
    return marks;
  }

  /** Cuts the outcome down by the mean value theorem. */
  private sharpen({ movedLow, movedHigh }: RowTotals): void {
    const { outcome } = this;
    if (Number.isNaN(outcome.middleLow)) return;
    add(sum, sumHigh, 0, outcome.middleLow, outcome.middleHigh, movedLow, movedHigh);
    if (sum[0]! > outcome.low) outcome.low = sum[0]!;
    if (sumHigh[0]! < outcome.high) outcome.high = sumHigh[0]!;
  }

  private block(step: SolveStep, box: InputBox): void {
    this.blocks.enclose(step, box);
    for (const variable of step.variables) {
      const { outcome } = this;
      outcome.low = this.low[variable]!;
      outcome.high = this.high[variable]!;
      outcome.middleLow = this.middleLow[variable]!;
      outcome.middleHigh = this.middleHigh[variable]!;
      this.sharpen(this.rows[variable]!.totals);
      this.low[variable] = outcome.low;
      this.high[variable] = outcome.high;
      this.keepInRange(variable);
    }
  }

  private countUses(): void {
    const { network, steps } = this.execution;
    const uses = new Int32Array(network.system.variables.length);
    for (const number of this.steps) {
      for (const equation of steps[number]!.equations) {
        for (const variable of network.system.equations[equation]!.variables) uses[variable]!++;
      }
    }
    this.uses = uses;
  }

  /** Slopes of what no later step uses are not kept where there are very many. */
  private letGo(step: SolveStep): void {
    const { uses } = this;
    if (uses === undefined) return;
    for (const equation of step.equations) {
      for (const variable of this.execution.network.system.equations[equation]!.variables) {
        const row = this.rows[variable];
        if (row === undefined || step.variables.includes(variable) || row.kept < 64) continue;
        uses[variable]!--;
        if (uses[variable]! > 1) continue;
        const { kept } = row;
        if (row.letGo()) this.slopes -= kept;
      }
    }
  }
}

const ONE = [1];
const sum = new Float64Array(1);
const sumHigh = new Float64Array(1);
