/**
 * How a figure moves with the inputs of a pass: its slopes by each, between two limits, and what they
 * come to over the box of the pass.
 *
 * A figure may rest on thousands of inputs, and each of thousands of figures on one more than the one
 * before. So a row that is a sum of others without a common input is kept as that sum: what it comes
 * to follows from what they come to. Its slopes are written out when someone looks at them.
 *
 * Must not know: formulas, steps.
 */
import { add, multiply } from "./interval";
import type { Mover } from "./movers";

/** Slopes of a figure by the inputs it moves with; `at` counts in the pass's inputs. */
export interface Slopes {
  readonly at: Int32Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** At the solution itself. */
  readonly nominal: Float64Array;
}

/** A row times a slope between two limits. */
export interface Term {
  readonly row: RowOfSlopes;
  readonly low: number;
  readonly high: number;
  readonly nominal: number;
}

/** What a row of slopes comes to, summed up over the box. */
export interface RowTotals {
  /** By straight lines at the solution, each input a normal one: variance (of three deviations) and shift. */
  readonly variance: number;
  readonly shift: number;
  /** How far slopes vary, as a part of the spread, and the spread at the steepest. */
  readonly bend: number;
  readonly span: number;
  /** What is sure to be reached above and below the middle, by the mean value theorem at the worse corners. */
  readonly reachUp: number;
  readonly reachDown: number;
  /** Nothing moves it further from the middle; rounded outward. */
  readonly movedLow: number;
  readonly movedHigh: number;
  /** All inputs in it lie normally. */
  readonly normal: boolean;
  /** Slopes are single numbers: it was followed along straight lines. */
  readonly lines: boolean;
}

/** Inputs and the limits they keep within; `middle` lies between them. */
export interface InputBox {
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly middle: Float64Array;
}

export class RowOfSlopes {
  /** Another row is a sum of it. */
  private part = false;

  private constructor(
    /** It moves with none of the inputs before the first and after the last. */
    readonly first: number,
    readonly last: number,
    readonly totals: RowTotals,
    private own: Slopes | undefined,
    private terms: readonly Term[],
  ) {}

  static of(slopes: Slopes, inputs: readonly Mover[], box: InputBox): RowOfSlopes {
    let first = Number.POSITIVE_INFINITY;
    let last = -1;
    for (const at of slopes.at) {
      if (at < first) first = at;
      if (at > last) last = at;
    }
    return new RowOfSlopes(first, last, totalsOf(slopes, inputs, box), slopes, []);
  }

  /** The sum, undefined where it has to be written out: for inputs in common, or slopes that vary. */
  static sumOf(terms: readonly Term[]): RowOfSlopes | undefined {
    const sorted = terms.length > 1 ? [...terms].sort((a, b) => a.row.first - b.row.first) : terms;
    let last = -1;
    for (const { row, low, high } of sorted) {
      if (row.first <= last || !(high - low <= ALIKE * Math.abs(low))) return undefined;
      last = Math.max(last, row.last);
    }
    const [only] = sorted;
    if (sorted.length === 1 && only!.low === 1 && only!.high === 1 && only!.nominal === 1) {
      return only!.row;
    }
    for (const { row } of sorted) row.part = true;
    return new RowOfSlopes(only?.row.first ?? 0, last, sumOfTotals(sorted), undefined, sorted);
  }

  /** How many slopes are kept for it. */
  get kept(): number {
    return this.own?.at.length ?? 0;
  }

  /** Lets its slopes go, unless another row is a sum of it; what it comes to stays. */
  letGo(): boolean {
    if (this.part) return false;
    this.own = undefined;
    this.terms = [];
    return true;
  }

  get wasLetGo(): boolean {
    return this.own === undefined && this.terms.length === 0;
  }

  /** Undefined where they were let go. */
  get slopes(): Slopes | undefined {
    if (this.own !== undefined) return this.own;
    const parts: { readonly slopes: Slopes; readonly by: Omit<Term, "row"> }[] = [];
    const rest: Term[] = [{ row: this, low: 1, high: 1, nominal: 1 }];
    let count = 0;
    for (let term = rest.pop(); term !== undefined; term = rest.pop()) {
      const { own, terms } = term.row;
      if (own !== undefined) {
        parts.push({ slopes: own, by: term });
        count += own.at.length;
        continue;
      }
      if (terms.length === 0) return undefined;
      for (const { row, low, high, nominal } of terms) {
        multiply(pair, pairHigh, 0, term.low, term.high, low, high);
        rest.push({ row, low: pair[0]!, high: pairHigh[0]!, nominal: term.nominal * nominal });
      }
    }
    const whole = blankSlopes(count);
    let place = 0;
    for (const { slopes, by } of parts.reverse()) {
      for (let k = 0; k < slopes.at.length; k++, place++) {
        whole.at[place] = slopes.at[k]!;
        multiply(whole.low, whole.high, place, slopes.low[k]!, slopes.high[k]!, by.low, by.high);
        whole.nominal[place] = by.nominal * slopes.nominal[k]!;
      }
    }
    return whole;
  }
}

export function blankSlopes(count: number): Slopes {
  return {
    at: new Int32Array(count),
    low: new Float64Array(count),
    high: new Float64Array(count),
    nominal: new Float64Array(count),
  };
}

export const NO_SLOPES: Slopes = blankSlopes(0);

const STILL: RowTotals = {
  variance: 0,
  shift: 0,
  bend: 0,
  span: 0,
  reachUp: 0,
  reachDown: 0,
  movedLow: 0,
  movedHigh: 0,
  normal: true,
  lines: true,
};

/** A row that moves with nothing. */
export const NO_ROW: RowOfSlopes = RowOfSlopes.of(NO_SLOPES, [], {
  low: new Float64Array(0),
  high: new Float64Array(0),
  middle: new Float64Array(0),
});

/** What slopes move a value by within a box, from that at the middle; rounded outward. */
export function movedBy(
  { at, low, high }: Slopes,
  box: InputBox,
  middle = box.middle,
): readonly [low: number, high: number] {
  let [least, most] = [0, 0];
  for (let k = 0; k < at.length; k++) {
    const input = at[k]!;
    const from = box.low[input]! - middle[input]!;
    const to = box.high[input]! - middle[input]!;
    multiply(pair, pairHigh, 0, low[k]!, high[k]!, from, to);
    add(pair, pairHigh, 0, least, most, pair[0]!, pairHigh[0]!);
    least = pair[0]!;
    most = pairHigh[0]!;
  }
  return [least, most];
}

// ───────────────────────────── helpers ─────────────────────────────

/** Slopes that differ by no more than this share of themselves count as one number. */
const ALIKE = 1e-9;

function totalsOf(slopes: Slopes, inputs: readonly Mover[], box: InputBox): RowTotals {
  const { at, low, high, nominal } = slopes;
  let [variance, shift, bend, span, reachUp, reachDown] = [0, 0, 0, 0, 0, 0];
  let normal = true;
  let lines = true;
  for (let k = 0; k < at.length; k++) {
    const input = at[k]!;
    const up = box.high[input]! - box.middle[input]!;
    const down = box.middle[input]! - box.low[input]!;
    const half = (up + down) / 2;
    const slope = nominal[k]!;
    const [from, to] = [low[k]!, high[k]!];
    variance += slope * slope * half * half;
    shift += (slope * (up - down)) / 2;
    span += Math.max(Math.abs(from), Math.abs(to)) * half;
    if (to !== from) {
      bend += ((to - from) / 2) * half;
      lines = false;
    }
    normal &&= inputs[input]!.normal;
    // Along the worse corner's way the least slope is certain.
    const least = slope >= 0 ? from : -to;
    const [above, below] = slope >= 0 ? [up, down] : [down, up];
    if (above !== 0) reachUp += least * above;
    if (below !== 0) reachDown += least * below;
  }
  const [movedLow, movedHigh] = movedBy(slopes, box);
  return { variance, shift, bend, span, reachUp, reachDown, movedLow, movedHigh, normal, lines };
}

function sumOfTotals(terms: readonly Term[]): RowTotals {
  const sum = { ...STILL };
  for (const { row, low, high, nominal } of terms) {
    const { totals } = row;
    const size = Math.max(Math.abs(low), Math.abs(high));
    const wide = high - low;
    const [up, down] =
      low >= 0 ? [totals.reachUp, totals.reachDown] : [totals.reachDown, totals.reachUp];
    sum.variance += nominal * nominal * totals.variance;
    sum.shift += nominal * totals.shift;
    sum.bend += times(size, totals.bend) + times(wide / 2, totals.span);
    sum.span += times(size, totals.span);
    sum.reachUp += times(size, up) - times(wide, totals.span);
    sum.reachDown += times(size, down) - times(wide, totals.span);
    sum.normal &&= totals.normal;
    sum.lines &&= totals.lines && wide === 0;
    multiply(pair, pairHigh, 0, totals.movedLow, totals.movedHigh, low, high);
    add(pair, pairHigh, 0, sum.movedLow, sum.movedHigh, pair[0]!, pairHigh[0]!);
    sum.movedLow = pair[0]!;
    sum.movedHigh = pairHigh[0]!;
  }
  return sum;
}

/** 0 · ∞ is 0: what is nothing stays nothing however steep the other is. */
function times(factor: number, sum: number): number {
  return factor === 0 ? 0 : factor * sum;
}

const pair = new Float64Array(1);
const pairHigh = new Float64Array(1);
