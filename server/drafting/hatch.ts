/**
 * Hatching of an area by lines of its own, so that it needs no fill, prints in black and white and
 * goes to a cutting table as it is.
 *
 *     hatch([[0, 0], [10, 0], [10, 5], [0, 5]], 2)   →   [[[0, 2], [2, 0]], …]
 *
 * ISO 128-3 (from memory): narrow continuous lines at 45°.
 */
import type { Point } from "./shape";

const most = 400;

/** Segments within a polygon; `apart` between lines, mm on paper; `turned`: the other way. */
export function hatch(
  polygon: readonly Point[],
  apart: number,
  turned = false,
): (readonly [Point, Point])[] {
  // Along the lines u + v (or u - v) stays the same: turn by 45° and cut with level lines.
  const turn = ([x, y]: Point): Point => (turned ? [x + y, y - x] : [x - y, x + y]);
  const back = ([u, v]: Point): Point =>
    turned ? [(u - v) / 2, (u + v) / 2] : [(u + v) / 2, (v - u) / 2];
  const corners = polygon.map(turn);
  const step = apart * Math.SQRT2;
  const low = Math.min(...corners.map(([, v]) => v));
  const high = Math.max(...corners.map(([, v]) => v));
  const found: (readonly [Point, Point])[] = [];
  const wide = Math.max(step, (high - low) / most);
  for (let level = (Math.floor(low / wide) + 0.5) * wide; level < high; level += wide) {
    if (level <= low) continue;
    const crossings = corners
      .flatMap(([u, v], index) => {
        const [u2, v2] = corners[(index + 1) % corners.length] ?? [u, v];
        return v <= level !== v2 <= level ? [u + ((u2 - u) * (level - v)) / (v2 - v)] : [];
      })
      .sort((one, other) => one - other);
    for (let index = 0; index + 1 < crossings.length; index += 2) {
      const from = crossings[index] ?? 0;
      const to = crossings[index + 1] ?? 0;
      if (to - from > 0.05) found.push([back([from, level]), back([to, level])]);
    }
  }
  return found;
}
