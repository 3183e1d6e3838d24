/**
 * Plots as drafts: lines over an axis, bars of shares, a spread about a value, dots in rows. Scales,
 * ticks and paths are d3's; names stand at the lines with leaders, since a legend sends the eye away.
 *
 *     linePlot({ title, x: { name: "braking rate" }, y: { name: "adhesion" }, series: [...] })
 *
 * A plot is drawn at 1:1, its points in millimeters on paper. Must not know: what is plotted.
 */
import { extent } from "d3-array";
import { type ScaleLinear, scaleLinear } from "d3-scale";
import { Draft, type FigureLabel, type LineKind } from "./drawing";
import type { Point } from "./shape";

export interface Axis {
  /** With its unit: `road speed (mph)`. */
  readonly name: string;
  /** Ends; of the points unless said. */
  readonly from?: number;
  readonly to?: number;
}

export interface Series {
  readonly name: string;
  readonly points: readonly { readonly x: number; readonly y: number }[];
}

export interface LinePlot {
  readonly title: string;
  readonly description: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly series: readonly Series[];
  /** Outside of which nothing may run: hatched, with a name. */
  readonly forbidden?: readonly Series[];
  /** Upright lines with a name. */
  readonly places?: readonly { readonly x: number; readonly reading: FigureLabel }[];
  readonly remarks?: readonly string[];
}

const wide = 155;
const high = 95;
const kinds: readonly LineKind[] = ["series0", "series1", "series2", "series3", "series4"];

export function linePlot(plot: LinePlot): Draft {
  const draft = new Draft(plot.title, plot.description);
  const all = plot.series.flatMap(({ points }) => points);
  if (all.length === 0) {
    draft.remarks.push("nothing to plot yet: the build does not settle these lines");
    return draft;
  }
  const x = scaleOf(
    plot.x,
    all.map((each) => each.x),
    wide,
  );
  const y = scaleOf(
    plot.y,
    all.map((each) => each.y),
    high,
  );
  axes(draft, x, y, plot.x.name, plot.y.name);
  for (const { name, points } of plot.forbidden ?? []) {
    const within = clipped(points, x, y);
    if (within.length < 3) continue;
    draft.polygon("hatching", within, { hatch: 2.4, part: name });
    const edge = points.filter((each) => inDomain(each.y, y) && inDomain(each.x, x));
    draft.polyline(
      "hidden",
      edge.map((each): Point => [x(each.x), y(each.y)]),
    );
    draft.note({ at: middleOf(within), reading: plain(name) });
  }
  for (const [index, { name, points }] of plot.series.entries()) {
    const within = points.filter((each) => inDomain(each.y, y) && inDomain(each.x, x));
    const onPaper = within.map((each): Point => [x(each.x), y(each.y)]);
    if (onPaper.length < 2) continue;
    draft.polyline(kinds[index % kinds.length] ?? "series0", onPaper, { part: name });
    const share = 0.35 + (0.55 * (index + 1)) / (plot.series.length + 1);
    const at = onPaper[Math.round((onPaper.length - 1) * share)];
    if (at !== undefined) draft.note({ at, reading: plain(name) });
  }
  for (const { x: place, reading } of plot.places ?? []) {
    if (!inDomain(place, x)) continue;
    draft.line("center", [x(place), 0], [x(place), high], { part: reading.text });
    draft.note({ at: [x(place), high * 0.93], reading });
  }
  draft.remarks.push(...(plot.remarks ?? []));
  return draft;
}

export interface Bars {
  readonly title: string;
  readonly description: string;
  readonly axis: string;
  readonly bars: readonly {
    readonly name: string;
    readonly value: number;
    readonly text: string;
  }[];
  readonly remarks?: readonly string[];
}

const barHeight = 6;
const barStep = 10;

/** Level bars from a common line, largest first as they come. */
export function barPlot({ title, description, axis, bars, remarks = [] }: Bars): Draft {
  const draft = new Draft(title, description);
  const most = Math.max(0, ...bars.map(({ value }) => value));
  const x = scaleLinear([0, most || 1], [0, 90]);
  for (const [index, { name, value, text }] of bars.entries()) {
    const y = -index * barStep;
    draft.rectangle("outline", [0, y], [Math.max(0.2, x(value)), y - barHeight], {
      part: name,
      hatch: 1.6,
      turned: index % 2 === 1,
    });
    draft.letters({ at: [-2, y - barHeight / 2], text: name, from: "end" });
    draft.letters({ at: [x(value) + 2, y - barHeight / 2], text, from: "start" });
  }
  const foot = -bars.length * barStep + (barStep - barHeight);
  draft.line("thin", [0, 3], [0, foot - 2]);
  draft.letters({ at: [0, 8], text: axis, from: "start" });
  draft.remarks.push(...remarks);
  return draft;
}

export interface SpreadPlot {
  readonly title: string;
  readonly description: string;
  readonly axis: string;
  readonly middle: number;
  /** Standard deviation, above 0. */
  readonly deviation: number;
  /** What must not be fallen short of; the part below it is hatched. */
  readonly least?: { readonly at: number; readonly name: string };
  /** Worst case, both ends. */
  readonly worst: readonly [number, number];
  readonly remarks?: readonly string[];
}

/** The bell of a normal spread over the value, what falls short of the least hatched. */
export function spreadPlot(plot: SpreadPlot): Draft {
  const { middle, deviation, least, worst } = plot;
  const draft = new Draft(plot.title, plot.description);
  const ends = [middle - 4 * deviation, middle + 4 * deviation, ...worst, least?.at ?? middle];
  const x = scaleLinear(extent(ends) as [number, number], [0, wide]).nice();
  const y = scaleLinear([0, 1.08], [0, high * 0.7]);
  const height = (at: number): number => Math.exp(-(((at - middle) / deviation) ** 2) / 2);
  const [from = 0, to = 1] = x.domain();
  const points = Array.from({ length: 121 }, (_, index): Point => {
    const at = from + ((to - from) * index) / 120;
    return [x(at), y(height(at))];
  });
  axisBelow(draft, x, plot.axis);
  draft.polyline("series0", points, { part: "likely spread" });
  if (least !== undefined) {
    const short = points.filter(([at]) => at <= x(least.at));
    const edge: Point[] = [
      ...short,
      [x(least.at), y(height(least.at))],
      [x(least.at), 0],
      [points[0]?.[0] ?? 0, 0],
    ];
    draft.polygon("hatching", edge, { hatch: 1.2, part: "too little" });
    draft.line("heavy", [x(least.at), 0], [x(least.at), high * 0.72], { part: "least" });
    draft.note({ at: [x(least.at), high * 0.7], reading: plain(least.name) });
  }
  draft.line("center", [x(middle), 0], [x(middle), high * 0.74], { part: "middle" });
  for (const at of worst) draft.line("hidden", [x(at), 0], [x(at), 14], { part: "worst case" });
  draft.note({ at: [x(worst[1]), 12], reading: plain("worst case") });
  draft.remarks.push(...(plot.remarks ?? []));
  return draft;
}

export interface DotRows {
  readonly title: string;
  readonly description: string;
  readonly axis: string;
  readonly rows: readonly {
    readonly name: string;
    readonly dots: readonly { readonly at: number; readonly reading: FigureLabel }[];
    readonly least?: number;
  }[];
  readonly remarks?: readonly string[];
}

/** A row for each figure, a dot for each alternative, an upright stroke for the least wanted. */
export function dotRows({ title, description, axis, rows, remarks = [] }: DotRows): Draft {
  const draft = new Draft(title, description);
  const all = rows.flatMap(({ dots, least }) => [
    ...dots.map(({ at }) => at),
    ...(least === undefined ? [] : [least]),
  ]);
  const [low = 0, top = 1] = extent([0, ...all]);
  const x = scaleLinear([low, top], [0, wide * 0.7]).nice();
  const step = 24;
  for (const [index, { name, dots, least }] of rows.entries()) {
    const y = -index * step;
    draft.line("grid", [0, y], [wide * 0.7, y], { part: name });
    draft.letters({ at: [-3, y], text: name, from: "end" });
    if (least !== undefined) draft.line("heavy", [x(least), y + 4], [x(least), y - 4]);
    for (const { at, reading } of dots) {
      draft.circle("filled", [x(at), y], 1.1, { part: `${name} ${reading.text}` });
      draft.note({ at: [x(at), y], reading });
    }
  }
  const foot = -(rows.length - 1) * step - 14;
  for (const tick of x.ticks(6)) {
    draft.line("thin", [x(tick), foot], [x(tick), foot - 1.5]);
    draft.letters({ at: [x(tick), foot - 5], text: x.tickFormat(6)(tick) });
  }
  draft.line("thin", [0, foot], [wide * 0.7, foot]);
  draft.letters({ at: [(wide * 0.7) / 2, foot - 11], text: axis });
  draft.remarks.push(...remarks);
  return draft;
}

// ───────────────────────────── helpers ─────────────────────────────

function scaleOf(axis: Axis, values: readonly number[], size: number): ScaleLinear<number, number> {
  const [low = 0, high = 1] = extent(values);
  const from = axis.from ?? low;
  const to = axis.to ?? high;
  const scale = scaleLinear([from, to > from ? to : from + 1], [0, size]);
  return axis.from === undefined || axis.to === undefined ? scale.nice() : scale;
}

function axes(
  draft: Draft,
  x: ScaleLinear<number, number>,
  y: ScaleLinear<number, number>,
  across: string,
  up: string,
): void {
  for (const tick of y.ticks(6)) {
    draft.line("grid", [0, y(tick)], [wide, y(tick)]);
    draft.letters({ at: [-2, y(tick)], text: y.tickFormat(6)(tick), from: "end" });
  }
  axisBelow(draft, x, across);
  draft.line("outline", [0, 0], [0, high]);
  draft.letters({ at: [-10, high + 6], text: up, from: "start" });
}

function axisBelow(draft: Draft, x: ScaleLinear<number, number>, name: string): void {
  for (const tick of x.ticks(8)) {
    draft.line("thin", [x(tick), 0], [x(tick), -1.5]);
    draft.letters({ at: [x(tick), -4.5], text: x.tickFormat(8)(tick) });
  }
  draft.line("outline", [0, 0], [wide, 0]);
  draft.letters({ at: [wide / 2, -11], text: name });
}

function inDomain(value: number, scale: ScaleLinear<number, number>): boolean {
  const [from = 0, to = 1] = scale.domain();
  return value >= from && value <= to;
}

/** Points drawn into the frame: what lies outside runs along its edge. */
function clipped(
  points: Series["points"],
  x: ScaleLinear<number, number>,
  y: ScaleLinear<number, number>,
): Point[] {
  const keep = (value: number, most: number): number => Math.min(most, Math.max(0, value));
  return points.map((each) => [keep(x(each.x), wide), keep(y(each.y), high)]);
}

function middleOf(points: readonly Point[]): Point {
  const sum = points.reduce(([a, b], [x, y]): Point => [a + x, b + y], [0, 0]);
  return [sum[0] / points.length, sum[1] / points.length];
}

function plain(text: string): FigureLabel {
  return { path: "", text, told: text, known: true };
}
