/**
 * Lays a draft out on paper: scale, line kinds, dimensions in tiers, names with leaders, a caption.
 *
 *     layOut(draft, scaleFor([1900, 720], [230, 90]))   →   { shape, scale, width, height, readings }
 *
 * The part's own origin stays at 0, 0 of the paper: a position divided by the scale is the position
 * on the part, y counted downward.
 *
 * Must not know: what the part is.
 */
import type { Draft, FigureLabel, Side } from "./drawing";
import { boxAround, boxesMeet, grown, union } from "./geometry";
import { type PlacedNote, placeNotes } from "./leaders";
import { boxOf, type Label, labelOf, letter, wrappedLabels } from "./lettering";
import { letteringOf, type Outline, outlineOf } from "./outlines";
import { dimensionShape, dimensionsOn, type PlacedDimension, partOf } from "./placed-dimensions";
import type { Scale } from "./scale";
import {
  type Box,
  circle,
  fixed,
  group,
  type Point,
  path,
  type Shape,
  through,
  tooltip,
} from "./shape";
import { attributesOf, touchArea } from "./told-shape";

export interface Drawing {
  readonly title: string;
  readonly description: string;
  readonly scale: Scale;
  /** The whole of it, `<svg>`, sized in mm. */
  readonly shape: Shape;
  readonly width: number;
  readonly height: number;
  /** What it tells, each figure once, in reading order. */
  readonly readings: readonly FigureLabel[];
  readonly missing: readonly FigureLabel[];
  /** Boxes of its texts, for who looks whether they meet. */
  readonly texts: readonly Box[];
}

export interface LayOptions {
  /** Extension lines touch the outline (ISO) or leave a gap (usual where inches are). */
  readonly gap?: boolean;
  /** Said behind the title: "scale 1:10" unless the drawing has none. */
  readonly toScale?: boolean;
  /** Without title and remarks. */
  readonly bare?: boolean;
  /** Names with leaders stay within that width; dimensions may need more. */
  readonly widest?: number;
}

const margin = 4;
/** A caption is given as much at least. */
const leastWidth = 110;
/** A page has an edge of its own. */
const marginOnPage = 1;

export function layOut(draft: Draft, scale: Scale, options: LayOptions = {}): Drawing {
  const at = ([x, y]: Point): Point => [x * scale.paper, -y * scale.paper];
  const outlines = draft.marks.map((mark) => outlineOf(mark, at, scale));
  const kept = outlines.filter(({ mark }) => mark.open !== true);
  const core = kept.length === 0 ? ([0, 0, 1, 1] as Box) : union(kept.map(({ box }) => box));
  const on = (side: Side, box: Box): PlacedDimension[] =>
    dimensionsOn(side, draft, at, box, options.gap === true);
  const level = [...on("above", core), ...on("below", core)];
  const upright = (["left", "right"] as const).flatMap((side) => {
    const near = on(side, core);
    // A text that stands out past the corner of the part would meet the upright ones there.
    const met = level.filter((each) =>
      near.some((other) => boxesMeet(grown(partOf(each), 1), partOf(other))),
    );
    return met.length === 0 ? near : on(side, union([core, ...met.map(partOf)]));
  });
  const dimensions = [...level, ...upright];
  const letterings = draft.letterings.map((each) => letteringOf(each, at));
  const texts = [...dimensions, ...letterings].map(({ textBox }) => textBox);
  const notes = notesOf(draft, at, outlines, dimensions, texts, roomOf(core, options.widest), core);
  const drawn = union([
    core,
    ...dimensions.flatMap(({ box, textBox }) => [box, textBox]),
    ...notes.map(({ box }) => box),
    ...letterings.map(({ textBox }) => textBox),
    ...outlines.filter(({ mark }) => mark.open === true).map(({ box }) => box),
  ]);
  const caption = captionOf(draft, scale, drawn, options);
  const around = options.widest === undefined ? margin : marginOnPage;
  const whole = grown(union([drawn, caption.box]), around);
  const [left, top, right, bottom] = whole;
  const everyText = [...texts, ...notes.map(({ textBox }) => textBox), ...caption.texts];
  const shape: Shape = {
    tag: "svg",
    attributes: {
      xmlns: "http://www.w3.org/2000/svg",
      class: "drawing",
      viewBox: [left, top, right - left, bottom - top].map(fixed).join(" "),
      width: `${fixed(right - left)}mm`,
      height: `${fixed(bottom - top)}mm`,
      role: "img",
      "aria-label": draft.title,
      "data-scale": scale.text,
    },
    children: [
      tooltip(draft.title),
      { tag: "desc", attributes: {}, children: [draft.description] },
      group(
        { class: "outlines" },
        outlines.flatMap(({ shapes }) => shapes),
      ),
      group(
        { class: "letterings" },
        letterings.flatMap(({ shapes }) => shapes),
      ),
      group(
        { class: "dimensions" },
        dimensions.map((each) => dimensionShape(each, texts)),
      ),
      group(
        { class: "notes" },
        notes.map(({ shape: each }) => each),
      ),
      group({ class: "caption" }, caption.shapes),
    ],
  };
  return {
    title: draft.title,
    description: draft.description,
    scale,
    shape,
    width: right - left,
    height: bottom - top,
    readings: readingsOf(draft),
    missing: draft.missing,
    texts: everyText,
  };
}

// ───────────────────────────── names ─────────────────────────────

interface PlacedName {
  readonly shape: Shape;
  readonly box: Box;
  readonly textBox: Box;
}

function notesOf(
  draft: Draft,
  at: (point: Point) => Point,
  outlines: readonly Outline[],
  dimensions: readonly PlacedDimension[],
  texts: readonly Box[],
  room: Box,
  core: Box,
): PlacedName[] {
  const wanted = draft.notes.map((note) => ({
    reading: note.reading,
    at: at(note.at),
    label: labelOf(note.reading.text),
  }));
  const lines = [
    ...outlines.flatMap(({ segments }) => segments),
    ...dimensions.flatMap(({ extensions, measure, runs }) => [...extensions, measure, ...runs]),
  ];
  const boxes = [...texts];
  const placed = placeNotes(wanted, { lines, boxes }, room, core);
  return wanted.map(({ reading, label }, index) => noteShape(reading, label, placed[index]!));
}

/** Where names may stand: beside the part, above and below it only as far as no dimension begins. */
function roomOf([left, top, right, bottom]: Box, widest: number | undefined): Box {
  const beside = 95;
  if (widest === undefined) return [left - beside, top - 6, right + beside, bottom + 6];
  const middle = (left + right) / 2;
  const half = Math.max((right - left) / 2, widest / 2 - marginOnPage);
  return [middle - half, top - 6, middle + half, bottom + 6];
}

function noteShape(reading: FigureLabel, label: Label, placed: PlacedNote): PlacedName {
  const textBox = boxOf(label, placed.text);
  const shape = group(attributesOf("note", reading), [
    tooltip(reading.told),
    path("leader", through([placed.at, placed.elbow, placed.shoulder], false)),
    circle("dot", placed.at, 0.45),
    touchArea(textBox),
    ...letter(label, placed.text),
  ]);
  return { shape, textBox, box: union([textBox, boxAround([placed.at, placed.elbow])]) };
}

// ───────────────────────────── caption ─────────────────────────────

interface Caption {
  readonly shapes: readonly Shape[];
  readonly box: Box;
  readonly texts: readonly Box[];
}

function captionOf(draft: Draft, scale: Scale, drawn: Box, options: LayOptions): Caption {
  const [left, , right, bottom] = drawn;
  if (options.bare === true) return { shapes: [], texts: [], box: drawn };
  const width = Math.max(right - left, leastWidth);
  const title = options.toScale === false ? draft.title : `${draft.title}  ·  scale ${scale.text}`;
  const missing =
    draft.missing.length === 0
      ? []
      : [`dashed, not known yet: ${draft.missing.map(({ path: each }) => each).join(", ")}`];
  const lines = [
    ...wrappedLabels(title, width, 3.5).map((label) => ({ label, kind: "title" })),
    ...[...draft.remarks, ...missing].flatMap((each) =>
      wrappedLabels(each, width).map((label) => ({ label, kind: "letters" })),
    ),
  ];
  let y = bottom + 4;
  const shapes: Shape[] = [];
  const texts: Box[] = [];
  for (const { label, kind } of lines) {
    y += label.ascent + 1.2;
    shapes.push(...letter(label, [left, y], kind));
    texts.push(boxOf(label, [left, y]));
    y += label.descent + 0.6;
  }
  return { shapes, texts, box: [left, bottom + 4, left + width, y] };
}

function readingsOf({ dimensions, notes }: Draft): FigureLabel[] {
  const found = new Map<string, FigureLabel>();
  for (const { reading } of [...dimensions, ...notes])
    if (reading.path !== "" && !found.has(reading.path)) found.set(reading.path, reading);
  return [...found.values()];
}
