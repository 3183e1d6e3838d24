/**
 * Dimensions on paper, in tiers beside the part. ISO 129-1 (clauses from memory, figures as quoted in
 * public extracts): the first dimension line 10 mm from the outline, further ones 7 mm apart, extension
 * lines 8 line widths past it, closed narrow arrowheads of 15°; where the build is in inches extension
 * lines keep a visible gap to the outline, as is usual there.
 *
 * Must not know: what is measured.
 */
import { type PlacedSpan, placeAlong } from "./dimensions";
import type { Draft, FigureLabel, Side } from "./drawing";
import { boxAround, grown, type Segment, union, withoutBoxes } from "./geometry";
import { boxOf, type Label, labelOf, letter, letterHeight } from "./lettering";
import {
  type Box,
  fixed,
  group,
  line,
  type Point,
  path,
  type Shape,
  through,
  tooltip,
} from "./shape";
import { attributesOf, touchArea } from "./told-shape";

const firstTier = 10;
const tierStep = 7;
const past = 2;
const visibleGap = 1;
const textAbove = 1;

export interface PlacedDimension {
  readonly reading: FigureLabel;
  readonly label: Label;
  readonly upright: boolean;
  readonly extensions: readonly Segment[];
  readonly measure: Segment;
  /** Drawn on from the measured length to arrows and text outside. */
  readonly runs: readonly Segment[];
  readonly arrows: readonly { readonly tip: Point; readonly toward: Point }[];
  readonly text: Point;
  readonly textBox: Box;
  readonly box: Box;
}

export function dimensionsOn(
  side: Side,
  draft: Draft,
  at: (point: Point) => Point,
  core: Box,
  gap: boolean,
): PlacedDimension[] {
  const upright = side === "left" || side === "right";
  const wanted = draft.dimensions
    .filter((each) => each.side === side)
    .map((each) => {
      // Upright ones are read from the right: along the side means upward.
      const along = (point: Point): number => (upright ? -at(point)[1] : at(point)[0]);
      const [from, to] =
        along(each.from) <= along(each.to) ? [each.from, each.to] : [each.to, each.from];
      return { ...each, from: at(from), to: at(to), span: [along(from), along(to)] as const };
    });
  const labels = wanted.map(({ reading }) => labelOf(reading.text));
  const places = placeAlong(
    wanted.map(({ span: [from, to] }, index) => ({ from, to, width: labels[index]?.width ?? 0 })),
  );
  return wanted.map(({ reading, from, to, span }, index) => {
    const label = labels[index]!;
    const place = places[index]!;
    const level = levelOf(side, place.tier, core);
    const on = (along: number): Point => (upright ? [level, -along] : [along, level]);
    const outward = side === "above" || side === "left" ? -1 : 1;
    const extension = (point: Point): Segment[] => {
      const start = upright ? point[0] : point[1];
      const end = level + past * outward;
      const begin = start + (gap ? visibleGap * outward : 0);
      if ((end - begin) * outward <= 0) return [];
      return [
        upright
          ? [
              [begin, point[1]],
              [end, point[1]],
            ]
          : [
              [point[0], begin],
              [point[0], end],
            ],
      ];
    };
    const lines = {
      measure: [on(span[0]), on(span[1])] as const,
      ...endsOf(place, span, label, on),
    };
    const text: Point = upright
      ? [level - textAbove - label.descent * 0.4, -place.text]
      : [place.text, level - textAbove - label.descent * 0.4];
    const flat = boxOf(label, [0, 0]);
    const textBox: Box = upright
      ? [text[0] + flat[1], text[1] - flat[2], text[0] + flat[3], text[1] - flat[0]]
      : boxOf(label, text);
    const extensions = [...extension(from), ...extension(to)];
    return {
      reading,
      label,
      upright,
      extensions,
      ...lines,
      text,
      textBox,
      box: boxAround([...extensions, lines.measure, ...lines.runs].flat()),
    };
  });
}

/** What it takes up beside the part, its extension lines left out. */
export function partOf({ measure, runs, textBox }: PlacedDimension): Box {
  return union([textBox, boxAround([...measure, ...runs.flat()])]);
}

function levelOf(side: Side, tier: number, [left, top, right, bottom]: Box): number {
  const out = firstTier + tier * tierStep;
  switch (side) {
    case "above":
      return top - out;
    case "below":
      return bottom + out + letterHeight;
    case "left":
      return left - out;
    case "right":
      return right + out + letterHeight;
  }
}

function endsOf(
  place: PlacedSpan,
  [from, to]: readonly [number, number],
  { width }: Label,
  on: (along: number) => Point,
): Pick<PlacedDimension, "runs" | "arrows"> {
  const runs: Segment[] = [];
  const out = 5;
  if (place.outside === "after") runs.push([on(to), on(place.text + width)]);
  if (place.outside === "before") runs.push([on(place.text), on(from)]);
  if (place.arrowsOutside) {
    if (place.outside !== "after") runs.push([on(to), on(to + out)]);
    if (place.outside !== "before") runs.push([on(from - out), on(from)]);
  }
  const way = place.arrowsOutside ? -1 : 1;
  return {
    runs,
    arrows: [
      { tip: on(from), toward: on(from + way) },
      { tip: on(to), toward: on(to - way) },
    ],
  };
}

export function dimensionShape(dimension: PlacedDimension, texts: readonly Box[]): Shape {
  const { reading, label, measure, runs, arrows, extensions, text, textBox, upright } = dimension;
  const others = texts.filter((box) => box !== textBox).map((box) => grown(box, 0.4));
  const clear = (segments: readonly Segment[]): Segment[] =>
    segments.flatMap((segment) => withoutBoxes(segment, others));
  const letters = letter(label, text);
  const [x, y] = text;
  return group(attributesOf("dimension", reading), [
    tooltip(reading.told),
    ...clear(extensions).map(([from, to]) => line("extension", from, to)),
    line("measure", ...measure),
    ...runs.map(([from, to]) => line("run", from, to)),
    ...arrows.map((each) => path("arrow", arrowHead(each.tip, each.toward))),
    touchArea(textBox),
    ...(upright ? [group({ transform: `rotate(-90 ${fixed(x)} ${fixed(y)})` }, letters)] : letters),
  ]);
}

/** Closed, 15°, three times as long as wide and a little more. */
function arrowHead([x, y]: Point, [tx, ty]: Point): string {
  const length = 2.5;
  const half = length * Math.tan((7.5 * Math.PI) / 180);
  const size = Math.hypot(tx - x, ty - y) || 1;
  const [ux, uy] = [(tx - x) / size, (ty - y) / size];
  return through(
    [
      [x, y],
      [x + ux * length - uy * half, y + uy * length + ux * half],
      [x + ux * length + uy * half, y + uy * length - ux * half],
    ],
    true,
  );
}
