/**
 * What figures that are solved together can come to while some givens keep within a box, and their
 * slopes by these: by Krawczyk's test; where that proves nothing, by what the equations leave of the fields'
 * ranges; large blocks along their straight lines.
 *
 * A block whose answers prove to be straight in the givens over a first box is not proved anew over
 * the boxes inside of it: its slopes are the same there.
 *
 * Must not know: steps that stand alone, what is asked of the ranges.
 */
import { Contraction } from "./contraction";
import { highOf, linearizedAt, lowOf } from "./execution";
import { residualAndGradient } from "./form";
import { add, multiply } from "./interval";
import { type EnclosedBlock, encloseBlock } from "./krawczyk";
import { SINGULAR } from "./linear";
import type { SolveStep } from "./plan";
import type { RangePass } from "./range-pass";
import { type InputBox, movedBy, NO_SLOPES, RowOfSlopes, type Slopes } from "./slope-row";

/** Blocks of more unknowns are followed along their straight lines only, and marked. */
const LARGEST = 500;
/** In blocks of more unknowns one proof for all of the box has to do: none is tried for parts of it. */
export const LARGEST_SEARCHED = 48;
/** Slopes that differ by no more than this, beside what they move all in all, are those of a straight line. */
const STRAIGHT = 1e-12;

/** Answers that are straight over a box, from those at its middle. */
interface Straight {
  readonly box: InputBox;
  readonly middleLow: readonly number[];
  readonly middleHigh: readonly number[];
  readonly rows: readonly Slopes[];
}

export class BlockRanges {
  private readonly straight = new Map<SolveStep, Straight>();

  /** Reads what the pass knows of the block's inputs, and writes into it what its answers come to. */
  constructor(private readonly pass: RangePass) {}

  enclose(step: SolveStep, box: InputBox): void {
    const { pass } = this;
    const size = step.variables.length;
    if (size > LARGEST) {
      this.alongLines(step, box);
      return;
    }
    const known = this.straight.get(step);
    if (known !== undefined && isInside(box, known.box)) {
      this.straightOn(step, box, known);
      return;
    }
    const whole = this.proved(step);
    if (whole === undefined && size > LARGEST_SEARCHED) {
      this.alongLines(step, box);
      return;
    }
    this.blockRows(step, whole, box);
    const rows = step.variables.map((variable) => pass.rows[variable]!.slopes!);
    if (whole === undefined || !rows.every((row) => isStraight(row, box))) return;
    this.straight.set(step, {
      box: copyOf(box),
      middleLow: step.variables.map((variable) => pass.middleLow[variable]!),
      middleHigh: step.variables.map((variable) => pass.middleHigh[variable]!),
      rows,
    });
  }

  /** Krawczyk's test at the middle of the box, then over all of it. */
  private proved(step: SolveStep): EnclosedBlock | undefined {
    const { pass } = this;
    const { execution, low, high, middleLow, middleHigh, place } = pass;
    const middle = encloseBlock(execution, step, middleLow, middleHigh, place);
    step.variables.forEach((variable, j) => {
      middleLow[variable] = middle === undefined ? Number.NaN : middle.low[j]!;
      middleHigh[variable] = middle === undefined ? Number.NaN : middle.high[j]!;
      place[variable] =
        middle === undefined ? execution.values[variable]! : (middle.low[j]! + middle.high[j]!) / 2;
    });
    const whole =
      middle === undefined ? undefined : encloseBlock(execution, step, low, high, place);
    const searched = step.variables.length <= LARGEST_SEARCHED;
    const cut = whole === undefined && searched ? this.cutDown(step) : undefined;
    // Somewhere in what is only cut down there may be no answer, or more than one.
    const marks = this.marksOf(step) | (whole !== undefined ? 0 : cut === undefined ? 2 : 1);
    step.variables.forEach((variable, j) => {
      pass.marks[variable] = marks;
      low[variable] = whole?.low[j] ?? cut?.low[variable] ?? this.lowest(variable);
      high[variable] = whole?.high[j] ?? cut?.high[variable] ?? this.highest(variable);
    });
    return whole;
  }

  /** All answers there are in the fields' ranges, where these or the equations have limits. */
  private cutDown(step: SolveStep): Contraction | undefined {
    const { execution, low, high } = this.pass;
    const ranges = new Contraction(execution.network, step.equations, (variable) =>
      step.variables.includes(variable)
        ? [this.lowest(variable), this.highest(variable)]
        : [low[variable]!, high[variable]!],
    );
    const left = ranges.contract();
    const limited = step.variables.every((variable) =>
      Number.isFinite(ranges.high[variable]! - ranges.low[variable]!),
    );
    return left && limited ? ranges : undefined;
  }

  private lowest(variable: number): number {
    return lowOf(this.pass.execution.network.system.variables[variable]!);
  }

  private highest(variable: number): number {
    return highOf(this.pass.execution.network.system.variables[variable]!);
  }

  /** What is wrong with what the block takes in. */
  private marksOf(step: SolveStep): number {
    const { execution, marks: known } = this.pass;
    let marks = 0;
    for (const equation of step.equations) {
      for (const variable of execution.network.system.equations[equation]!.variables) {
        if (!step.variables.includes(variable)) marks |= known[variable]!;
      }
    }
    return marks;
  }

  /** By the slopes that are known, from the answers in the middle of the box they were proved in. */
  private straightOn(step: SolveStep, box: InputBox, { box: first, ...known }: Straight): void {
    const { pass } = this;
    const marks = this.marksOf(step);
    const middle = { low: box.middle, high: box.middle, middle: first.middle };
    const around = { low: box.low, high: box.high, middle: first.middle };
    step.variables.forEach((variable, j) => {
      const row = known.rows[j]!;
      const [from, to] = [known.middleLow[j]!, known.middleHigh[j]!];
      const nearby = movedBy(row, middle);
      const all = movedBy(row, around);
      add(pass.middleLow, pass.middleHigh, variable, from, to, nearby[0], nearby[1]);
      add(pass.low, pass.high, variable, from, to, all[0], all[1]);
      pass.place[variable] = (pass.middleLow[variable]! + pass.middleHigh[variable]!) / 2;
      pass.marks[variable] = marks;
      pass.rows[variable] = RowOfSlopes.of(row, pass.inputs, box);
    });
  }

  /** Slopes of a block's answers: its inverse times how its equations move with the inputs. */
  private blockRows(step: SolveStep, block: EnclosedBlock | undefined, box: InputBox): void {
    const size = step.variables.length;
    const { equations } = this.pass.execution.network.system;
    const rows = step.equations.map((equation, i) => {
      equations[equation]!.variables.forEach((variable, slot) => {
        const row = this.pass.rows[variable];
        if (row === undefined || step.variables.includes(variable)) return;
        const slopes = block?.slopes[i];
        this.pass.sums.add(row, slopes?.low[slot] ?? 0, slopes?.high[slot] ?? 0, 0);
      });
      return this.pass.sums.take(box).slopes ?? NO_SLOPES;
    });
    const nominal = this.nominalRows(step);
    const union = new Set<number>();
    for (const row of rows) for (const input of row.at) union.add(input);
    const at = Int32Array.from([...union].sort((a, b) => a - b));
    const results = step.variables.map(
      (_, j): Slopes => ({
        at,
        low: new Float64Array(at.length).fill(Number.NEGATIVE_INFINITY),
        high: new Float64Array(at.length).fill(Number.POSITIVE_INFINITY),
        nominal: Float64Array.from(at, (input) => nominal[j]!.get(input) ?? 0),
      }),
    );
    if (block !== undefined && block.spread < 1) {
      const placeOf = new Map([...at].map((input, place) => [input, place]));
      const placesOf = rows.map((row) => row.at.map((input) => placeOf.get(input)!));
      for (let j = 0; j < size; j++) {
        results[j]!.low.fill(0);
        results[j]!.high.fill(0);
        rows.forEach((row, i) => {
          const factor = -block.inverse[j * size + i]!;
          if (factor === 0) return;
          placesOf[i]!.forEach((place, k) => {
            const { low, high } = results[j]!;
            multiply(pair, pairHigh, 0, row.low[k]!, row.high[k]!, factor, factor);
            add(low, high, place, low[place]!, high[place]!, pair[0]!, pairHigh[0]!);
          });
        });
      }
      // (I − E)⁻¹ = I + E + E² + …, each entry no larger than the sum of ‖E‖, ‖E‖², …
      const room = (block.spread / (1 - block.spread)) * (1 + 1e-12);
      at.forEach((_, place) => {
        let largest = 0;
        results.forEach(({ low, high }, j) => {
          const most = Math.max(Math.abs(low[place]!), Math.abs(high[place]!));
          largest = Math.max(largest, most / block.sizes[j]!);
        });
        results.forEach(({ low, high }, j) => {
          const wide = room * largest * block.sizes[j]!;
          add(low, high, place, low[place]!, high[place]!, -wide, wide);
        });
      });
    }
    step.variables.forEach((variable, j) => {
      this.pass.rows[variable] = RowOfSlopes.of(results[j]!, this.pass.inputs, box);
    });
  }

  /** Slopes at the solution, by input, for each of the block's variables. */
  private nominalRows(step: SolveStep): Map<number, number>[] {
    const { network, values } = this.pass.execution;
    const size = step.variables.length;
    const { solver, rowSizes, scales } = linearizedAt(this.pass.execution, step);
    const found = step.variables.map(() => new Map<number, number>());
    if (!(solver.smallestPivot > SINGULAR)) return found;
    const right = new Map<number, Float64Array>();
    step.equations.forEach((equation, i) => {
      const { variables } = network.system.equations[equation]!;
      const gradient = new Float64Array(variables.length);
      residualAndGradient(network.facts[equation]!, values, variables, gradient, 0);
      variables.forEach((variable, slot) => {
        const row = this.pass.rows[variable]?.slopes;
        if (row === undefined || step.variables.includes(variable)) return;
        row.at.forEach((input, k) => {
          const column = right.get(input) ?? new Float64Array(size);
          column[i]! -= (gradient[slot]! * row.nominal[k]!) / rowSizes[i]!;
          right.set(input, column);
        });
      });
    });
    for (const [input, column] of right) {
      const answer = solver.solve(column);
      for (let j = 0; j < size; j++) found[j]!.set(input, answer[j]! * scales[j]!);
    }
    return found;
  }

  /** Large blocks: first order only, and said so. */
  private alongLines(step: SolveStep, box: InputBox): void {
    const { pass } = this;
    const slopes = this.nominalRows(step);
    const marks = this.marksOf(step) | 2 | 4;
    step.variables.forEach((variable, j) => {
      const value = pass.execution.values[variable]!;
      const at = Int32Array.from([...slopes[j]!.keys()].sort((a, b) => a - b));
      const nominal = Float64Array.from(at, (input) => slopes[j]!.get(input)!);
      let low = value;
      let high = value;
      at.forEach((input, k) => {
        const from = nominal[k]! * (box.low[input]! - box.middle[input]!);
        const to = nominal[k]! * (box.high[input]! - box.middle[input]!);
        low += Math.min(from, to);
        high += Math.max(from, to);
      });
      pass.low[variable] = low;
      pass.high[variable] = high;
      pass.middleLow[variable] = value;
      pass.middleHigh[variable] = value;
      pass.marks[variable] = marks;
      const slopesHere = { at, low: nominal, high: nominal, nominal };
      pass.rows[variable] = RowOfSlopes.of(slopesHere, pass.inputs, box);
    });
  }
}

/** What slopes differ by moves an answer by next to nothing of what moves it at all. */
function isStraight({ at, low, high }: Slopes, box: InputBox): boolean {
  let whole = 0;
  let bent = 0;
  at.forEach((input, k) => {
    const width = box.high[input]! - box.low[input]!;
    whole += Math.max(Math.abs(low[k]!), Math.abs(high[k]!)) * width;
    bent += (high[k]! - low[k]!) * width;
  });
  return bent <= STRAIGHT * whole;
}

function isInside({ low, high }: InputBox, { low: from, high: to }: InputBox): boolean {
  return (
    low.every((at, input) => at >= from[input]!) && high.every((at, input) => at <= to[input]!)
  );
}

function copyOf({ low, high, middle }: InputBox): InputBox {
  return { low: low.slice(), high: high.slice(), middle };
}

const pair = new Float64Array(1);
const pairHigh = new Float64Array(1);
