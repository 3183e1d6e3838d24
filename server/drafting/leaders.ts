/**
 * Places names beside what they name, each with a leader at 30°, 45° or 60° and a short shoulder,
 * clear of every text and line that is there already.
 *
 *     placeNotes(notes, obstacles, room)   →   [{ elbow, shoulder, text: [x, y] }, …]
 *
 * For each name all places within reach are tried and the cheapest is taken: a short leader that
 * crosses few outlines. What fits nowhere goes to the margin. Must not know: what is named.
 */
import { boxAround, boxesMeet, grown, meetsBox, type Segment, segmentsCross } from "./geometry";
import { boxOf, type Label } from "./lettering";
import { LineIndex } from "./line-index";
import type { Box, Point } from "./shape";

export interface WantedNote {
  readonly at: Point;
  readonly label: Label;
}

export interface PlacedNote {
  readonly at: Point;
  readonly elbow: Point;
  readonly shoulder: Point;
  /** Left end of the text at its baseline. */
  readonly text: Point;
}

export interface Obstacles {
  /** What a leader may cross at a price, and a text never. */
  readonly lines: Segment[];
  /** What neither may cross: texts. */
  readonly boxes: Box[];
}

const shoulderLength = 2.5;
const air = 0.8;
const crossing = 9;
/** How far from the part a name stands that fits nowhere nearer, mm. */
const margins = [14, 40, 70];
const directions = [30, 45, 60].flatMap((angle) =>
  [angle, 180 - angle, 180 + angle, 360 - angle].map((each) => (each * Math.PI) / 180),
);

/** `room`: where names may stand; `part`: what they name. What is placed is an obstacle to the rest. */
export function placeNotes(
  notes: readonly WantedNote[],
  { lines, boxes }: Obstacles,
  room: Box,
  part: Box,
): PlacedNote[] {
  const leaders: Segment[] = [];
  const index = new LineIndex(lines);
  return notes.map(({ at, label }) => {
    let best: PlacedNote | undefined;
    let least = Number.POSITIVE_INFINITY;
    for (let length = 5; length <= 120; length += length < 40 ? 3 : 8) {
      if (length >= least) break;
      for (const direction of directions) {
        const note = noteAt(at, label, direction, length);
        const box = grown(boxOf(label, note.text), air);
        if (!inside(box, room) || boxes.some((each) => boxesMeet(box, each))) continue;
        if (index.near(box).some((each) => meetsBox(each, box))) continue;
        if (leaders.some((each) => meetsBox(each, box))) continue;
        const leader: Segment[] = [
          [at, note.elbow],
          [note.elbow, note.shoulder],
        ];
        if (leader.some((each) => boxes.some((other) => meetsBox(each, other)))) continue;
        if (leader.some((each) => leaders.some((other) => segmentsCross(each, other)))) continue;
        const crossed = index
          .near(boxAround([at, note.elbow, note.shoulder]))
          .filter((each) => leader.some((part) => segmentsCross(part, each)));
        const cost = length + crossing * crossed.length;
        if (cost < least) {
          least = cost;
          best = note;
        }
      }
    }
    const found = best ?? inMargin(at, label, { leaders, boxes, index }, part);
    leaders.push([found.at, found.elbow], [found.elbow, found.shoulder]);
    boxes.push(grown(boxOf(label, found.text), air));
    return found;
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function noteAt(at: Point, label: Label, direction: number, length: number): PlacedNote {
  const right = Math.cos(direction) > 0;
  const elbow: Point = [at[0] + length * Math.cos(direction), at[1] - length * Math.sin(direction)];
  return withText(at, elbow, label, right);
}

function withText(at: Point, elbow: Point, label: Label, right: boolean): PlacedNote {
  const shoulder: Point = [elbow[0] + (right ? shoulderLength : -shoulderLength), elbow[1]];
  const x = right ? shoulder[0] + air : shoulder[0] - air - label.width;
  return { at, elbow, shoulder, text: [x, elbow[1] + (label.ascent - label.descent) / 2] };
}

/**
 * Beside the part, on the nearer side first, at the height where it stands on no line and its leader
 * runs through no text; farther out where dimensions stand in the way.
 */
function inMargin(
  at: Point,
  label: Label,
  {
    leaders,
    boxes,
    index,
  }: Pick<Obstacles, "boxes"> & {
    readonly leaders: readonly Segment[];
    readonly index: LineIndex;
  },
  part: Box,
): PlacedNote {
  const step = label.ascent + label.descent + 1;
  const nearer = at[0] > (part[0] + part[2]) / 2;
  let last: PlacedNote | undefined;
  for (let turn = 0; turn < 120; turn++) {
    const y = at[1] + (turn % 2 === 0 ? 1 : -1) * Math.ceil(turn / 2) * step;
    for (const [right, away] of [nearer, !nearer].flatMap((each) =>
      margins.map((away) => [each, away] as const),
    )) {
      const note = withText(at, [right ? part[2] + away : part[0] - away, y], label, right);
      const box = grown(boxOf(label, note.text), air);
      if (boxes.some((each) => boxesMeet(box, each))) continue;
      last ??= note;
      const leader: Segment = [at, note.elbow];
      if (boxes.some((each) => meetsBox(leader, each))) continue;
      if (index.near(box).some((each) => meetsBox(each, box))) continue;
      if (!leaders.some((each) => segmentsCross(leader, each) || meetsBox(each, box))) return note;
    }
  }
  return last ?? withText(at, [part[2] + 14, part[3] + step], label, true);
}

function inside(box: Box, room: Box): boolean {
  return box[0] >= room[0] && box[1] >= room[1] && box[2] <= room[2] && box[3] <= room[3];
}
