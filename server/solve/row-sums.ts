/**
 * Sums of rows of slopes: what a step's figure moves by, from what its inputs do.
 *
 *     sums.add(row, 2, 2, 2); sums.add(other, 1, 1, 1); sums.take()   // twice the one and the other
 *
 * Must not know: formulas, steps.
 */
import { add, multiply } from "./interval";
import type { Mover } from "./movers";
import { blankSlopes, type InputBox, NO_ROW, RowOfSlopes, type Term } from "./slope-row";

export class RowSums {
  private readonly low: Float64Array;
  private readonly high: Float64Array;
  private readonly nominal: Float64Array;
  private readonly seen: Uint8Array;
  private touched: number[] = [];
  private terms: Term[] = [];

  constructor(private readonly inputs: readonly Mover[]) {
    this.low = new Float64Array(inputs.length);
    this.high = new Float64Array(inputs.length);
    this.nominal = new Float64Array(inputs.length);
    this.seen = new Uint8Array(inputs.length);
  }

  /** Adds a row times a slope between two limits. */
  add(row: RowOfSlopes, low: number, high: number, nominal: number): void {
    this.terms.push({ row, low, high, nominal });
  }

  /** The sums over a box as a row; they begin at 0 again. Undefined where a row's slopes were let go. */
  take(box: InputBox): RowOfSlopes {
    const { terms } = this;
    if (terms.length === 0) return NO_ROW;
    this.terms = [];
    return RowOfSlopes.sumOf(terms) ?? this.writtenOut(terms, box);
  }

  private writtenOut(terms: readonly Term[], box: InputBox): RowOfSlopes {
    for (const term of terms) this.addAll(term);
    const { touched, seen } = this;
    this.touched = [];
    const slopes = blankSlopes(touched.length);
    touched.forEach((input, k) => {
      slopes.at[k] = input;
      slopes.low[k] = this.low[input]!;
      slopes.high[k] = this.high[input]!;
      slopes.nominal[k] = this.nominal[input]!;
      this.low[input] = 0;
      this.high[input] = 0;
      this.nominal[input] = 0;
      seen[input] = 0;
    });
    return RowOfSlopes.of(slopes, this.inputs, box);
  }

  private addAll({ row, low: from, high: to, nominal }: Term): void {
    const { slopes } = row;
    if (slopes === undefined) throw new Error("slopes were let go that are still needed");
    const { at } = slopes;
    const { low, high, seen } = this;
    for (let k = 0; k < at.length; k++) {
      const input = at[k]!;
      if (seen[input] === 0) {
        seen[input] = 1;
        this.touched.push(input);
      }
      multiply(pair, pairHigh, 0, slopes.low[k]!, slopes.high[k]!, from, to);
      add(low, high, input, low[input]!, high[input]!, pair[0]!, pairHigh[0]!);
      this.nominal[input]! += nominal * slopes.nominal[k]!;
    }
  }
}

const pair = new Float64Array(1);
const pairHigh = new Float64Array(1);
