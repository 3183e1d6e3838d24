/**
 * Boxes of a search for answers: which way one is halved, and when it is too narrow for that.
 *
 *     halvesOf(part, widest(part, scales), 1)   // two boxes, which together are the part
 *
 * Must not know: equations, which boxes hold an answer.
 */

export interface Part {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** A box this narrow, beside its place and the unknown's size, is not halved any further. */
export const NARROW = 1e-7;

/** The unknown whose width is the largest beside its place and size, -1 where all are too narrow. */
export function widest({ low, high }: Part, scales: readonly number[]): number {
  let best = -1;
  let most = 0;
  for (let j = 0; j < low.length; j++) {
    const size = Math.max(Math.abs(low[j]!), Math.abs(high[j]!), scales[j]! * 1e-3);
    const width = (high[j]! - low[j]!) / Math.max(size, scales[j]!);
    if (high[j]! - low[j]! <= NARROW * size) continue;
    if (width > most) {
      most = width;
      best = j;
    }
  }
  return best;
}

/** A little room about a box that was cut down to its answer's last digits. */
export function widened({ low, high }: Part, scales: readonly number[]): Part {
  const room = (x: number, j: number): number => 10 * NARROW * (Math.abs(x) + scales[j]! * 1e-3);
  return { low: low.map((x, j) => x - room(x, j)), high: high.map((x, j) => x + room(x, j)) };
}

/** What rounding may put an answer past a limit of its range by. */
export function slackOf(limit: number, scale: number): number {
  return Number.isFinite(limit) ? 1e-9 * (Math.abs(limit) + scale * 1e-3) : 0;
}

/** Halves; ranges of many sizes at 0 first, then by powers. */
export function halvesOf(part: Part, at: number, scale: number): readonly Part[] {
  const low = part.low[at]!;
  const high = part.high[at]!;
  const near = Math.max(scale, Math.min(Math.abs(low), Math.abs(high)));
  let middle = low + (high - low) / 2;
  if (low < 0 && high > 0 && high - low > 16 * scale) middle = 0;
  else if (low >= 0 && high > 64 * near) middle = 8 * near;
  else if (high <= 0 && -low > 64 * near) middle = -8 * near;
  // A little off the middle, so that an answer in the very middle is not cut in two.
  else middle += 0.0137 * (high - middle);
  const below = { low: part.low.slice(), high: part.high.slice() };
  const above = { low: part.low.slice(), high: part.high.slice() };
  below.high[at] = middle;
  above.low[at] = middle;
  return [below, above];
}
