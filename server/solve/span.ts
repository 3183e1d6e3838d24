/**
 * A growing set of directions that are independent of one another, by numbers: what a direction adds
 * beside those taken already.
 *
 *     const span = new Span(); span.add([1, 1]); span.add([2, 2]);   →   the second adds nothing
 *
 * Must not know: what the directions are of.
 */
import { goOn } from "../keep/patience";

/** A direction whose remainder is shorter than this share of it is a mix of the others. */
const NOTHING = 1e-7;

export class LinearSpan {
  private readonly basis: Float64Array[];

  constructor(basis: readonly ArrayLike<number>[] = []) {
    this.basis = basis.map((one) => (one instanceof Float64Array ? one : Float64Array.from(one)));
  }

  get rank(): number {
    return this.basis.length;
  }

  copy(): LinearSpan {
    return new LinearSpan(this.basis);
  }

  /** Takes a direction in; false where it adds nothing. */
  add(direction: ArrayLike<number>): boolean {
    goOn(4 * (1 + this.basis.length) * direction.length);
    const rest = Float64Array.from(direction);
    const length = lengthOf(rest);
    if (!(length > 0) || !Number.isFinite(length)) return false;
    for (let i = 0; i < rest.length; i++) rest[i]! /= length;
    // Twice is enough to be rid of rounding (Gram and Schmidt, modified).
    for (let pass = 0; pass < 2; pass++) {
      for (const one of this.basis) {
        let share = 0;
        for (let i = 0; i < rest.length; i++) share += rest[i]! * one[i]!;
        if (share === 0) continue;
        for (let i = 0; i < rest.length; i++) rest[i]! -= share * one[i]!;
      }
    }
    const left = lengthOf(rest);
    if (left < NOTHING) return false;
    for (let i = 0; i < rest.length; i++) rest[i]! /= left;
    this.basis.push(rest);
    return true;
  }

  /** Takes all of some directions in, or none of them; true where each adds something. */
  addAll(directions: readonly (readonly number[])[]): boolean {
    const before = this.basis.length;
    if (directions.every((direction) => this.add(direction))) return true;
    this.basis.length = before;
    return false;
  }
}

/** The largest taken out first, so that nothing overflows. */
function lengthOf(direction: Float64Array): number {
  let largest = 0;
  for (const entry of direction) largest = Math.max(largest, Math.abs(entry));
  if (!(largest > 0) || !Number.isFinite(largest)) return largest;
  let sum = 0;
  for (const entry of direction) sum += (entry / largest) ** 2;
  return largest * Math.sqrt(sum);
}

/** Solves a small square system by elimination; undefined where its rows are not independent. */
export function solveSquare(
  rows: readonly (readonly number[])[],
  right: readonly number[],
): number[] | undefined {
  return solveSquares(rows, [right])?.[0];
}

/** The same for several right sides at once: the rows are eliminated a single time. */
export function solveSquares(
  rows: readonly (readonly number[])[],
  rights: readonly (readonly number[])[],
): number[][] | undefined {
  const size = rows.length;
  const width = size + rights.length;
  const work = rows.map((row, i) => [...row, ...rights.map((right) => right[i]!)]);
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++) {
      if (Math.abs(work[row]![column]!) > Math.abs(work[pivot]![column]!)) pivot = row;
    }
    goOn(size * (width - column));
    const head = work[pivot]![column]!;
    if (!(Math.abs(head) > 1e-12)) return undefined;
    [work[column], work[pivot]] = [work[pivot]!, work[column]!];
    for (let row = 0; row < size; row++) {
      if (row === column) continue;
      const factor = work[row]![column]! / head;
      if (factor === 0) continue;
      for (let k = column; k < width; k++) work[row]![k]! -= factor * work[column]![k]!;
    }
  }
  return rights.map((_, at) => work.map((row, i) => row[size + at]! / row[i]!));
}
