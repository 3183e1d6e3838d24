/** Boxes and segments on paper: what meets what. Must not know: what they stand for. */
import type { Box, Point } from "./shape";

export type Segment = readonly [Point, Point];

export function boxAround(points: readonly Point[]): Box {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

export function union(boxes: readonly Box[]): Box {
  return boxAround(
    boxes.flatMap(([left, top, right, bottom]): Point[] => [
      [left, top],
      [right, bottom],
    ]),
  );
}

export function grown([left, top, right, bottom]: Box, by: number): Box {
  return [left - by, top - by, right + by, bottom + by];
}

export function boxesMeet(one: Box, other: Box): boolean {
  return one[0] < other[2] && other[0] < one[2] && one[1] < other[3] && other[1] < one[3];
}

/** Liang and Barsky's clipping: whether any of the segment lies within the box. */
export function meetsBox([[x1, y1], [x2, y2]]: Segment, [left, top, right, bottom]: Box): boolean {
  // Most segments lie wholly on one side: told at once.
  if ((x1 < left && x2 < left) || (x1 > right && x2 > right)) return false;
  if ((y1 < top && y2 < top) || (y1 > bottom && y2 > bottom)) return false;
  let from = 0;
  let to = 1;
  const dx = x2 - x1;
  const dy = y2 - y1;
  for (const [p, q] of [
    [-dx, x1 - left],
    [dx, right - x1],
    [-dy, y1 - top],
    [dy, bottom - y1],
  ] as const) {
    if (p === 0) {
      if (q < 0) return false;
      continue;
    }
    const at = q / p;
    if (p < 0) from = Math.max(from, at);
    else to = Math.min(to, at);
    if (from > to) return false;
  }
  return true;
}

export function segmentsCross([a, b]: Segment, [c, d]: Segment): boolean {
  if (Math.max(a[0], b[0]) < Math.min(c[0], d[0])) return false;
  if (Math.max(c[0], d[0]) < Math.min(a[0], b[0])) return false;
  if (Math.max(a[1], b[1]) < Math.min(c[1], d[1])) return false;
  if (Math.max(c[1], d[1]) < Math.min(a[1], b[1])) return false;
  const turn = ([px, py]: Point, [qx, qy]: Point, [rx, ry]: Point): number =>
    (qx - px) * (ry - py) - (qy - py) * (rx - px);
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

/** What is left of a level or upright segment outside of the boxes. */
export function withoutBoxes(segment: Segment, boxes: readonly Box[]): Segment[] {
  const [[x1, y1], [x2, y2]] = segment;
  let pieces: (readonly [number, number])[] = [[0, 1]];
  const length = Math.hypot(x2 - x1, y2 - y1);
  if (length === 0) return [];
  const upright = Math.abs(x2 - x1) < Math.abs(y2 - y1);
  for (const box of boxes) {
    if (!meetsBox(segment, box)) continue;
    const [low, high] = upright ? [box[1], box[3]] : [box[0], box[2]];
    const [start, end] = upright ? [y1, y2] : [x1, x2];
    const cuts = [(low - start) / (end - start), (high - start) / (end - start)];
    const from = Math.min(...cuts);
    const to = Math.max(...cuts);
    pieces = pieces.flatMap(([a, b]) =>
      (
        [
          [a, Math.min(b, from)],
          [Math.max(a, to), b],
        ] as const
      ).filter(([p, q]) => q - p > 1e-9),
    );
  }
  const at = (share: number): Point => [x1 + (x2 - x1) * share, y1 + (y2 - y1) * share];
  return pieces.map(([a, b]) => [at(a), at(b)]);
}
