/**
 * Lays a draft out on paper: scale, line kinds, dimensions in tiers, names with leaders, a caption.
 *
 *     layOut(draft, scaleFor([1900, 720], [230, 90]))   →   { shape, scale, width, height, readings }
 *
 * The part's own origin stays at 0, 0 of the paper: a position divided by the scale is the position
 * on the part, y counted downward. ISO 129-1 (clauses from memory, figures as quoted in public
 * extracts): the first dimension line 10 mm from the outline, further ones 7 mm apart, extension
 * lines 8 line widths past it, closed narrow arrowheads of 15°; where the build is in inches
 * extension lines keep a visible gap to the outline, as is usual there.
 *
 * Must not know: what the part is.
 */
import { type PlacedSpan, placeAlong } from "./dimensions";
import type { Draft, Lettering, Mark, Reading, Side } from "./drawing";
import { boxAround, boxesMeet, grown, type Segment, union, withoutBoxes } from "./geometry";
import { hatch } from "./hatch";
import { type PlacedNote, placeNotes } from "./leaders";
import { boxOf, type Label, labelOf, letter, letterHeight, wrappedLabels } from "./lettering";
import type { Scale } from "./scale";
import {
  type Box,
  circle,
  fixed,
  group,
  line,
  type Point,
  path,
  type Shape,
  through,
  tooltip,
} from "./shape";

export interface Drawing {
  readonly title: string;
  readonly description: string;
  readonly scale: Scale;
  /** The whole of it, `<svg>`, sized in mm. */
  readonly shape: Shape;
  readonly width: number;
  readonly height: number;
  /** What it tells, each figure once, in reading order. */
  readonly readings: readonly Reading[];
  readonly missing: readonly Reading[];
  /** Boxes of its texts, for who looks whether they meet. */
  readonly texts: readonly Box[];
}

export interface LayOptions {
  /** Extension lines touch the outline (ISO) or leave a gap (usual where inches are). */
  readonly gap?: boolean;
  /** Said behind the title: "scale 1:10" unless the drawing has none. */
  readonly toScale?: boolean;
  readonly leastWidth?: number;
  /** Without title and remarks. */
  readonly bare?: boolean;
  /** Names with leaders stay within that width; dimensions may need more. */
  readonly widest?: number;
}

const firstTier = 10;
const tierStep = 7;
const past = 2;
const visibleGap = 1;
const textAbove = 1;
const margin = 4;
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

// ───────────────────────────── outlines ─────────────────────────────

interface Outline {
  readonly mark: Mark;
  readonly box: Box;
  readonly shapes: readonly Shape[];
  readonly segments: readonly Segment[];
}

function outlineOf(mark: Mark, at: (point: Point) => Point, { paper }: Scale): Outline {
  const named: Record<string, string> = {};
  if (mark.part !== undefined) named["data-part"] = mark.part;
  if (mark.path !== undefined) named["data-path"] = mark.path;
  const points = mark.points.map(at);
  const [center = [0, 0]] = points;
  if (mark.radius !== undefined) {
    const radius = mark.radius * paper;
    const shape = circle(mark.kind, center, radius);
    const corners = roundPoints(center, radius);
    return {
      mark,
      box: boxAround(corners),
      shapes: [{ ...shape, attributes: { ...shape.attributes, ...named } }],
      segments: ring(corners),
    };
  }
  const shapes: Shape[] = [];
  if (mark.hatch !== undefined && points.length > 2) {
    const lines = hatch(points, mark.hatch, mark.turned);
    const d = lines.map((each) => through(each, false)).join("");
    if (d !== "") shapes.push(path("hatching", d));
  }
  const corner = (mark.round ?? 0) * paper;
  const d = corner > 0.05 && mark.closed ? rounded(points, corner) : through(points, mark.closed);
  if (mark.kind !== "hatching") {
    const [from, to] = points;
    shapes.unshift(
      points.length === 2 && from !== undefined && to !== undefined
        ? line(mark.kind, from, to, named)
        : path(mark.kind, d, named),
    );
  }
  return {
    mark,
    box: boxAround(points),
    shapes,
    segments: mark.closed ? ring(points) : chain(points),
  };
}

function chain(points: readonly Point[]): Segment[] {
  return points.slice(1).map((point, index): Segment => [points[index] ?? point, point]);
}

function ring(points: readonly Point[]): Segment[] {
  return points.map(
    (point, index): Segment => [point, points[(index + 1) % points.length] ?? point],
  );
}

function roundPoints([x, y]: Point, radius: number): Point[] {
  return Array.from({ length: 16 }, (_, index): Point => {
    const angle = (index * Math.PI) / 8;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });
}

/** A polygon whose corners are rounded by arcs of that radius, less where an edge is short. */
function rounded(points: readonly Point[], radius: number): string {
  const steps = points.map((corner, index) => {
    const before = points[(index + points.length - 1) % points.length] ?? corner;
    const after = points[(index + 1) % points.length] ?? corner;
    const toward = (other: Point): Point => {
      const length = Math.hypot(other[0] - corner[0], other[1] - corner[1]);
      const by = Math.min(radius, length / 2) / (length || 1);
      return [corner[0] + (other[0] - corner[0]) * by, corner[1] + (other[1] - corner[1]) * by];
    };
    const [from, to] = [toward(before), toward(after)];
    const start = index === 0 ? "M" : "L";
    return `${start}${from.map(fixed).join(" ")}Q${corner.map(fixed).join(" ")} ${to.map(fixed).join(" ")}`;
  });
  return `${steps.join("")}Z`;
}

function letteringOf(
  { at: place, text, height, from, bold }: Lettering,
  at: (point: Point) => Point,
): { readonly shapes: readonly Shape[]; readonly textBox: Box } {
  const label = labelOf(text, height);
  const [x, y] = at(place);
  const left = from === "start" ? x : from === "end" ? x - label.width : x - label.width / 2;
  const start: Point = [left, y + (height ?? letterHeight) / 2];
  return {
    shapes: letter(label, start, bold === true ? "strong" : "letters"),
    textBox: boxOf(label, start),
  };
}

// ───────────────────────────── dimensions ─────────────────────────────

interface PlacedDimension {
  readonly reading: Reading;
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

function dimensionsOn(
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
function partOf({ measure, runs, textBox }: PlacedDimension): Box {
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

function dimensionShape(dimension: PlacedDimension, texts: readonly Box[]): Shape {
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

function noteShape(reading: Reading, label: Label, placed: PlacedNote): PlacedName {
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

function attributesOf(kind: string, reading: Reading): Shape["attributes"] {
  const states = [reading.known ? "" : " missing", reading.tight === true ? " tight" : ""];
  const name = `${kind}${states.join("")}`;
  if (reading.path === "") return { class: name };
  return { class: name, "data-path": reading.path, "aria-label": reading.told };
}

/** Larger than the letters, so that a finger finds it. */
function touchArea(box: Box): Shape {
  const [left, top, right, bottom] = grown(box, 0.8);
  const corners: Point[] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  return path("touch", through(corners, true));
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
  const width = Math.max(right - left, options.leastWidth ?? 110);
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

function readingsOf({ dimensions, notes }: Draft): Reading[] {
  const found = new Map<string, Reading>();
  for (const { reading } of [...dimensions, ...notes])
    if (reading.path !== "" && !found.has(reading.path)) found.set(reading.path, reading);
  return [...found.values()];
}
