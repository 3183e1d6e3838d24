/**
 * Plots of a build: the adhesion both axles use over the braking rate, road speed in the gears, what
 * a gap's ± is made of, how likely a gap is, options side by side.
 *
 * Must not know: how plots are drawn, paper.
 */
import type { Analysis, CurveResult, Value } from "../analysis/analysis";
import { barPlot, type Draft, dotRows, linePlot, spreadPlot } from "../drafting";
import type { Thing } from "../model/thing";
import { displayOf, fromSi, type Measure, plainUnit, readUnit } from "../units";
import { Figures, named, titleOf } from "./figures";
import { brakeCurves, kinds, speedCurve } from "./vocabulary";

export function adhesionPlot({ analysis }: Figures, system: Thing): Draft {
  const curve = (name: string) => pointsOf(analysis, system, name);
  const limit = curve(brakeCurves.wanted).map(({ x, y }) => ({ x: y, y: x }));
  const [first] = limit;
  const last = limit[limit.length - 1];
  const above =
    first === undefined || last === undefined
      ? []
      : [...limit, { x: last.x, y: 9 }, { x: first.x, y: 9 }];
  return linePlot({
    title: `${titleOf(system, system.kind.title)}: adhesion used`,
    description:
      "Adhesion each axle needs over the braking rate. The axle whose line is higher locks first.",
    x: { name: "braking rate, as a share of gravity", from: 0, to: 1 },
    y: { name: "adhesion used", from: 0, to: 1.2 },
    series: [
      { name: "front axle", points: curve(brakeCurves.front) },
      { name: "rear axle", points: curve(brakeCurves.rear) },
      { name: "both alike", points: curve(brakeCurves.shared) },
    ],
    forbidden: [{ name: "too little braking for the grip there is", points: above }],
    remarks: ["the hatched corridor is that of the rule the build looks at; see its checks"],
  });
}

export function speedPlot({ analysis }: Figures, gearbox: Thing): Draft {
  const gears = analysis.curves.filter(
    ({ name, thing }) =>
      name === speedCurve && thing?.is(kinds.gear) === true && thing.owner === gearbox,
  );
  const [any] = gears;
  const x = unitOf(any?.parameterMeasure, analysis);
  const y = unitOf(any?.measure, analysis);
  return linePlot({
    title: `${titleOf(gearbox, gearbox.kind.title)}: road speed in the gears`,
    description: "Road speed over engine speed, a line for each gear.",
    x: { name: `engine speed (${x.unit})` },
    y: { name: `road speed (${y.unit})`, from: 0 },
    series: gears.map((gear) => ({
      name: titleOf(gear.thing, gear.title),
      points: gear.points().map((point) => ({ x: x.of(point.x), y: y.of(point.y) })),
    })),
  });
}

/** What the ± of a figure is made of, largest share first. */
export function contributorsPlot({ analysis }: Figures, value: Value): Draft {
  const contributors = value.contributors().slice(0, 12);
  return barPlot({
    title: `${value.path}: what its ± is made of`,
    description: "Share of the likely spread that each figure brings in.",
    axis: "share of the likely spread",
    bars: contributors.map(({ path, share }) => ({
      name: path,
      value: share,
      text: `${Math.round(share * 100)} %`,
    })),
    remarks: [`${value.path} is ${analysis.write(value)}`],
  });
}

/** JCGM 100 (GUM), 4.3.7: a figure that may lie anywhere within ± a deviates by a / √3. */
const rectangular = Math.sqrt(3);

export function chancePlot(figures: Figures, value: Value, wanted: Value | undefined): Draft {
  const { analysis } = figures;
  const unit = unitOf(value.measure, analysis);
  const spread = value.spread();
  const si = value.si ?? 0;
  const middle = si + (spread?.shift ?? 0);
  const deviation = Math.max((spread?.rss ?? 0) / rectangular, 1e-9);
  const least = wanted?.si;
  const chance = least === undefined ? undefined : normalBelow((least - middle) / deviation);
  return spreadPlot({
    title: `${value.path}: how likely it is`,
    description: "The likely spread of the gap; what falls short of the gap wanted is hatched.",
    axis: `${value.field.name.replaceAll("_", " ")} (${unit.unit})`,
    middle: unit.of(middle),
    deviation: unit.of(deviation),
    worst: [unit.of(si - (spread?.worstBelow ?? 0)), unit.of(si + (spread?.worstAbove ?? 0))],
    ...(least === undefined || wanted === undefined
      ? {}
      : { least: { at: unit.of(least), name: `least wanted ${analysis.write(wanted)}` } }),
    remarks: [
      chance === undefined
        ? "nothing says how much is wanted"
        : `chance of less than wanted: ${percentOf(chance)}`,
      "each ± taken to hold its figure anywhere between its ends (JCGM 100, 4.3.7)",
    ],
  });
}

/** Gaps of the spec and of each option, a row for each gap. */
export function optionsPlot(figures: Figures): Draft | undefined {
  const spec = figures.analysis;
  const readings: (readonly [string, Analysis])[] = [
    ["spec", spec],
    ...spec.options.flatMap(({ name }) => {
      const under = spec.under(name);
      return under === undefined ? [] : [[name, under] as const];
    }),
  ];
  if (readings.length < 2) return undefined;
  const corners = spec.things.filter((thing) => thing.is(kinds.corner) && thing.written);
  const gaps = corners.flatMap((thing) =>
    ["inner_gap", "outer_gap"].map((field) => `${thing.path}.${field}`),
  );
  const [any] = gaps.flatMap((path) => spec.valueAt(path) ?? []);
  const unit = unitOf(any?.measure, spec);
  const rows = gaps.flatMap((path) => {
    const dots = readings.flatMap(([name, analysis]) => {
      const value = analysis.valueAt(path);
      if (value?.si === undefined) return [];
      const owner = analysis.thingAt(path.slice(0, path.lastIndexOf(".")));
      const figure = new Figures(analysis).of(owner, value.field.name);
      return [{ at: unit.of(value.si), reading: named(figure, `${name} ${figure.value}`) }];
    });
    const owner = path.slice(0, path.lastIndexOf("."));
    const wanted = spec.valueAt(`${owner}.wanted_gap`)?.si;
    const least = wanted === undefined ? {} : { least: unit.of(wanted) };
    return dots.length === 0 ? [] : [{ name: path, dots, ...least }];
  });
  return dotRows({
    title: "Options side by side: gaps",
    description: "Each gap under the spec and each option; the upright stroke is the least wanted.",
    axis: `gap (${unit.unit})`,
    rows,
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function pointsOf(
  analysis: Analysis,
  thing: Thing,
  name: string,
): ReturnType<CurveResult["points"]> {
  return analysis.curves.find((each) => each.thing === thing && each.name === name)?.points() ?? [];
}

function unitOf(measure: Measure | undefined, { style }: Pick<Analysis, "style">) {
  const symbol = measure === undefined ? "" : displayOf(measure, style).unit;
  const read = measure === undefined || symbol === "" ? plainUnit : readUnit(symbol, measure);
  return { unit: symbol, of: (si: number): number => fromSi(si, read ?? plainUnit) };
}

/** Abramowitz and Stegun, 26.2.17: the normal distribution to 7.5e-8. */
function normalBelow(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const series =
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * series;
  return z > 0 ? 1 - tail : tail;
}

function percentOf(share: number): string {
  if (share < 0.0005) return "under 0.05 %";
  if (share > 0.9995) return "over 99.95 %";
  return `${(share * 100).toFixed(share < 0.1 || share > 0.9 ? 1 : 0)} %`;
}
