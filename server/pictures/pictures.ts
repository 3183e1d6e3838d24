/** Which pictures a build has, and each laid out. See `index.ts`. */
import type { Analysis, Value } from "../analysis/analysis";
import { type Draft, type Drawing, fullSize, type LayOptions, layOut, scaleFor } from "../drafting";
import type { Thing } from "../model/thing";
import { FigureWriter, type Sequence, sequenceOf } from "../sequence";
import { axleFromBehind, housingFromBehind, limitsFromBehind } from "./axle";
import { boltPattern } from "./bolts";
import { sawMarks } from "./cut";
import { driveline } from "./driveline";
import { PictureFigures, type Reckoning } from "./figures";
import { linksFromTheSide } from "./linkage";
import { chancePlot, contributorsPlot, gripPlot, optionsPlot, speedPlot } from "./plots";
import { boltCircle, sawStrip, tubeBand } from "./templates";
import { kinds } from "./vocabulary";
import { wheelEnd } from "./wheel-end";

export interface PictureOffer {
  /** `rear/behind` */
  readonly id: string;
  /** Path of the thing or figure it is of; empty for the whole build. */
  readonly path: string;
  readonly title: string;
}

export interface PictureOptions {
  /** How it comes out unless said. */
  readonly reckoning?: Reckoning;
  /** Another reading of the build, drawn over it in double-dotted lines. */
  readonly over?: Analysis;
  /** What a page shows, width and height in mm: the largest scale at which all of it stands there. */
  readonly page?: Page;
  /** Without title and remarks below it, where they stand beside it anyway. */
  readonly bare?: boolean;
}

export type Page = readonly [width: number, height: number];

interface Maker {
  readonly name: string;
  suits(thing: Thing): boolean;
  readonly title: string;
  draft(figures: PictureFigures, thing: Thing, over?: PictureFigures): Draft;
  /** Not set where it is drawn at 1:1. */
  readonly room?: readonly [number, number];
  /** At 1:1 to the scale of the part; a plot is to no scale. */
  readonly fullSize?: boolean;
}

const written = (kind: string) => (thing: Thing) =>
  thing.is(kind) && thing.written && !thing.implied;

const makers: readonly Maker[] = [
  {
    name: "behind",
    suits: written(kinds.axle),
    title: "from behind",
    draft: axleFromBehind,
    room: [205, 112],
  },
  {
    name: "limits",
    suits: written(kinds.axle),
    title: "what the tires have to clear",
    draft: limitsFromBehind,
    room: [205, 112],
  },
  {
    name: "housing",
    suits: written(kinds.axle),
    title: "housing, saw lines and shafts",
    draft: housingFromBehind,
    room: [205, 112],
  },
  {
    name: "saw",
    suits: written(kinds.axle),
    title: "saw marks",
    draft: sawMarks,
    room: [190, 130],
  },
  {
    name: "section",
    suits: written(kinds.corner),
    title: "half section of the wheel end",
    draft: wheelEnd,
    room: [170, 190],
  },
  {
    name: "side",
    suits: written(kinds.driveshaft),
    title: "side view and plan",
    draft: driveline,
    room: [190, 110],
  },
  {
    name: "links",
    suits: written(kinds.linkage),
    title: "links from the side, with the instant center",
    draft: linksFromTheSide,
    room: [170, 90],
  },
  {
    name: "grip",
    suits: written(kinds.brakeSystem),
    title: "grip used",
    draft: gripPlot,
  },
  {
    name: "speeds",
    suits: written(kinds.gearbox),
    title: "road speed in the gears",
    draft: speedPlot,
  },
  {
    name: "drill",
    suits: (thing) =>
      (thing.is(kinds.hub) || thing.is(kinds.wheel)) && thing.entries.has("stud_circle"),
    title: "bolt circle at full size",
    draft: boltCircle,
    fullSize: true,
  },
  {
    name: "band",
    suits: (thing) => thing.is(kinds.housing) && thing.entries.has("tube_diameter"),
    title: "band for the tube's end at full size",
    draft: tubeBand,
    fullSize: true,
  },
  {
    name: "strip",
    suits: (thing) => thing.is(kinds.corner) && thing.entries.has("tube_end"),
    title: "strip from the tube's end to the saw line at full size",
    draft: sawStrip,
    fullSize: true,
  },
];

const gapFields = ["inner_gap", "outer_gap"];

export function picturesOf(analysis: Analysis): PictureOffer[] {
  const offers: PictureOffer[] = [];
  const offer = (path: string, name: string, title: string): void => {
    offers.push({ id: `${path}/${name}`, path, title });
  };
  for (const thing of analysis.things) {
    for (const maker of makers)
      if (maker.suits(thing)) offer(thing.path, maker.name, `${titled(thing)}: ${maker.title}`);
    if (thing.is(kinds.joint) && thing.written && thing.anchor !== undefined)
      offer(thing.path, "order", `${titled(thing)}: places and order`);
    for (const value of gapsOf(analysis, thing)) {
      offer(value.path, "contributors", `${value.path}: what its ± is made of`);
      offer(value.path, "chance", `${value.path}: how likely it is`);
    }
  }
  if (analysis.options.length > 0) offer("", "options", "Options side by side");
  return offers;
}

/** By its id, or the first of the thing or figure of that path. */
export function pictureCalled(analysis: Analysis, id: string): PictureOffer | undefined {
  const offers = picturesOf(analysis);
  const path = analysis.thingAt(id)?.path ?? analysis.valueAt(id)?.path ?? id;
  return offers.find((each) => each.id === id) ?? offers.find((each) => each.path === path);
}

/** `undefined` where there is no such picture, or nothing to draw. */
export function drawPicture(
  analysis: Analysis,
  id: string,
  options: PictureOptions = {},
): Drawing | undefined {
  const offer = pictureCalled(analysis, id);
  if (offer === undefined) return undefined;
  const { path } = offer;
  const name = offer.id.slice(path.length + 1);
  const maker = makers.find((each) => each.name === name);
  const draft = draftOf(analysis, offer, options);
  if (draft === undefined) return undefined;
  if (maker === undefined)
    return layOut(draft, fullSize, { toScale: false, bare: options.bare === true });
  const { page } = options;
  if (maker.room === undefined)
    return layOut(draft, fullSize, {
      toScale: maker.fullSize === true,
      ...(page === undefined ? {} : { widest: page[0] }),
    });
  const gap = analysis.style.system === "inch";
  return page === undefined
    ? layOut(draft, scaleFor(extentOf(draft), maker.room), { gap })
    : onPage(draft, maker.room, page, { gap });
}

/** The same before it is laid out, in millimeters of the part: for who cuts it out. */
export function draftPicture(
  analysis: Analysis,
  id: string,
  options: Pick<PictureOptions, "reckoning"> = {},
): Draft | undefined {
  const offer = pictureCalled(analysis, id);
  return offer === undefined ? undefined : draftOf(analysis, offer, options);
}

// ───────────────────────────── helpers ─────────────────────────────

/**
 * By the largest scale at which outlines keep to the room and all of it, names and dimensions too,
 * stands on the page: upright, else turned. A drawing that stands on it by no scale gets the smallest
 * that was tried.
 */
function onPage(
  draft: Draft,
  room: readonly [number, number],
  [wide, high]: Page,
  options: LayOptions,
): Drawing {
  const extent = extentOf(draft);
  let scale = scaleFor(extent, [Math.min(room[0], high), room[1]]);
  let drawing = layOut(draft, scale, { ...options, widest: wide });
  for (let smaller = 0; smaller < mostSmaller; smaller++) {
    if (drawing.width <= wide && drawing.height <= high) return drawing;
    const turned = layOut(draft, scale, { ...options, widest: high });
    if (turned.width <= high && turned.height <= wide) return turned;
    const [across] = extent;
    scale = scaleFor(extent, [across * scale.paper * 0.9, room[1]]);
    drawing = layOut(draft, scale, { ...options, widest: wide });
  }
  return drawing;
}

const mostSmaller = 3;

function draftOf(
  analysis: Analysis,
  { id, path }: PictureOffer,
  options: PictureOptions,
): Draft | undefined {
  const name = id.slice(path.length + 1);
  const figures = new PictureFigures(analysis, options.reckoning);
  const maker = makers.find((each) => each.name === name);
  if (maker !== undefined) {
    const thing = analysis.thingAt(path);
    const over = options.over === undefined ? undefined : new PictureFigures(options.over);
    return thing === undefined ? undefined : maker.draft(figures, thing, over);
  }
  if (name === "options") return optionsPlot(figures);
  if (name === "order") {
    const sequence: Sequence = sequenceOf(analysis);
    const joint = sequence.joints.find((each) => each.path === path);
    return joint === undefined ? undefined : boltPattern(joint, new FigureWriter(sequence.style));
  }
  const value = analysis.valueAt(path);
  if (value === undefined) return undefined;
  if (name === "contributors") return contributorsPlot(figures, value);
  return chancePlot(figures, value);
}

/** Gaps that carry a ±: of the others there is nothing to plot. */
function gapsOf(analysis: Analysis, thing: Thing): Value[] {
  if (!thing.is(kinds.corner) || !thing.written) return [];
  return gapFields.flatMap((field) => {
    const value = analysis.valueAt(`${thing.path}.${field}`);
    return value?.si === undefined || (value.outcome()?.rss ?? 0) <= 0 ? [] : [value];
  });
}

function titled(thing: Thing): string {
  const own = thing.title ?? thing.name.replaceAll("_", " ");
  return thing.is(kinds.corner) && thing.owner !== undefined
    ? `${thing.owner.title ?? thing.owner.name}, ${own}`
    : own;
}

function extentOf({ marks }: Draft): readonly [number, number] {
  const points = marks
    .filter(({ open }) => open !== true)
    .flatMap(({ points: each, radius = 0 }) =>
      each.flatMap(([x, y]) => [
        [x - radius, y - radius],
        [x + radius, y + radius],
      ]),
    );
  const size = (axis: 0 | 1): number => {
    const all = points.map((point) => point[axis] ?? 0);
    return all.length === 0 ? 1 : Math.max(...all) - Math.min(...all);
  };
  return [size(0), size(1)];
}
