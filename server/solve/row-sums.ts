/**
 * Slopes by many inputs, and sums of them: each figure moves with a few of the inputs only, and keeps
 * the ranges of its slopes by these.
 *
 * Must not know: formulas, steps.
 */
import { add, multiply } from "./interval";

/** Slopes of a figure by the inputs it moves with; `at` counts in the pass's inputs. */
export interface SlopeRow {
  readonly at: Int32Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** At the solution itself; empty where they were not asked for. */
  readonly nominal: Float64Array;
}

export const NO_ROW: SlopeRow = {
  at: new Int32Array(0),
  low: new Float64Array(0),
  high: new Float64Array(0),
  nominal: new Float64Array(0),
};

export class RowSums {
  private readonly low: Float64Array;
  private readonly high: Float64Array;
  private readonly nominal: Float64Array;
  private readonly seen: Uint8Array;
  private readonly touched: number[] = [];

  /** `inputs`: how many there are; `withNominal`: whether rows have slopes at the solution too. */
  constructor(
    inputs: number,
    private readonly withNominal: boolean,
  ) {
    this.low = new Float64Array(inputs);
    this.high = new Float64Array(inputs);
    this.nominal = new Float64Array(inputs);
    this.seen = new Uint8Array(inputs);
  }

  /** Adds a row times a slope between two limits. */
  add(row: SlopeRow, from: number, to: number, nominal: number): void {
    const { at } = row;
    const { low, high, seen } = this;
    const one = from === 1 && to === 1;
    for (let k = 0; k < at.length; k++) {
      const input = at[k]!;
      if (seen[input] === 0) {
        seen[input] = 1;
        this.touched.push(input);
      }
      if (one) {
        add(low, high, input, low[input]!, high[input]!, row.low[k]!, row.high[k]!);
      } else {
        multiply(pair, pairHigh, 0, row.low[k]!, row.high[k]!, from, to);
        add(low, high, input, low[input]!, high[input]!, pair[0]!, pairHigh[0]!);
      }
      if (this.withNominal) this.nominal[input]! += nominal * row.nominal[k]!;
    }
  }

  /** What the sums move a value by within a box, from that at its middle; rounded outward. */
  movedFrom(
    middleLow: number,
    middleHigh: number,
    box: { readonly low: Float64Array; readonly high: Float64Array; readonly middle: Float64Array },
  ): readonly [number, number] {
    let [low, high] = [middleLow, middleHigh];
    for (const at of this.touched) {
      const from = box.low[at]! - box.middle[at]!;
      const to = box.high[at]! - box.middle[at]!;
      multiply(pair, pairHigh, 0, this.low[at]!, this.high[at]!, from, to);
      add(pair, pairHigh, 0, low, high, pair[0]!, pairHigh[0]!);
      low = pair[0]!;
      high = pairHigh[0]!;
    }
    return [low, high];
  }

  /** The sums as a row; they begin at 0 again. */
  take(): SlopeRow {
    const { touched } = this;
    const count = touched.length;
    const row: SlopeRow = {
      at: new Int32Array(count),
      low: new Float64Array(count),
      high: new Float64Array(count),
      nominal: this.withNominal ? new Float64Array(count) : NO_ROW.nominal,
    };
    for (let k = 0; k < count; k++) {
      const input = touched[k]!;
      row.at[k] = input;
      row.low[k] = this.low[input]!;
      row.high[k] = this.high[input]!;
      if (this.withNominal) row.nominal[k] = this.nominal[input]!;
    }
    this.clear();
    return row;
  }

  clear(): void {
    for (const input of this.touched) {
      this.low[input] = 0;
      this.high[input] = 0;
      this.nominal[input] = 0;
      this.seen[input] = 0;
    }
    this.touched.length = 0;
  }
}

const pair = new Float64Array(1);
const pairHigh = new Float64Array(1);
