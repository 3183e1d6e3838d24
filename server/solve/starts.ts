/**
 * Where to start looking for a block's answer: fixed places, so that the same block always gives the
 * same answer.
 *
 * Must not know: how the search goes on.
 */
import type { Block } from "./block";

/** Points to start from: neighbors, middles of ranges, and fixed scatterings of both. */
export function starts(block: Block, count: number): Float64Array[] {
  const points: Float64Array[] = [];
  for (let number = 0; number < count; number++) {
    points.push(
      Float64Array.from(block.unknowns, (_, j) => startValue(block, j, number, count === 2)),
    );
  }
  return points;
}

function startValue(block: Block, j: number, number: number, generic: boolean): number {
  const low = block.lows[j]!;
  const high = block.highs[j]!;
  const scale = block.scales[j]!;
  const guess = block.guesses[j]!;
  // The golden ratio's multiples fill an interval evenly and are never in step with one another.
  const share = ((j + 1) * 0.6180339887498949 + (number + 1) * 0.7548776662466927) % 1;
  const bounded = Number.isFinite(low) && Number.isFinite(high);
  if (!generic && number === 0) {
    if (Number.isFinite(guess)) return guess * (0.95 + 0.1 * share);
    return bounded ? low + (0.45 + 0.1 * share) * (high - low) : oneSided(low, high, scale, share);
  }
  if (bounded) return low + share * (high - low);
  const sizes = generic ? [1, 3] : [1, 0.1, 10, 1, 100, 1000, 3];
  const size = scale * sizes[number % sizes.length]!;
  if (Number.isFinite(low) || Number.isFinite(high)) return oneSided(low, high, size, share);
  const sign = number % 2 === 0 || share > 0.5 ? 1 : -1;
  return sign * size * (0.5 + share);
}

function oneSided(low: number, high: number, size: number, share: number): number {
  if (Number.isFinite(low)) return low + size * (0.5 + share);
  if (Number.isFinite(high)) return high - size * (0.5 + share);
  return size * (0.5 + share);
}
