/**
 * Plots of a build: the grip both axles use over braking, road speed in the gears, what
 * a gap's ± is made of, how likely a gap is, options side by side.
 *
 * Must not know: how plots are drawn, paper.
 */
import type { Analysis, CurveResult, Value } from "../analysis/analysis";
import { barPlot, type Draft, dotRows, linePlot, type Series, spreadPlot } from "../drafting";
import type { Thing } from "../model/thing";
import { displayOf, fromSi, type Measure, plainUnit, readUnit } from "../units";
import { named, PictureFigures, titleOf } from "./figures";
import {
  brakeCurves,
  corridorCurve,
  kinds,
  speedCurve,
  systemField,
  wantedGap,
} from "./vocabulary";

export function gripPlot({ analysis }: PictureFigures, system: Thing): Draft {
  const curve = (name: string) => pointsOf(analysis, system, name);
  const { corridors, rules } = corridorsOf(analysis, system);
  return linePlot({
    title: `${titleOf(system, system.kind.title)}: grip used`,
    description:
      "Grip each axle needs over the deceleration. The axle whose line is higher locks first.",
    x: { name: "deceleration, in g", from: 0, to: 1 },
    y: { name: "grip used", from: 0, to: 1.2 },
    series: [
      { name: "front axle", points: curve(brakeCurves.front) },
      { name: "rear axle", points: curve(brakeCurves.rear) },
      { name: "both alike", points: curve(brakeCurves.shared) },
    ],
    forbidden: corridors,
    remarks: rules.map((rule) => `hatched: outside of the corridor of ${rule}`),
  });
}

export function speedPlot({ analysis }: PictureFigures, gearbox: Thing): Draft {
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
export function contributorsPlot({ analysis }: PictureFigures, value: Value): Draft {
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

/** Half of what is likely, as three deviations: 99.73 % of a normal distribution lies within. */
const deviations = 3;

/** How a gap comes out, and what of it falls short of the least its check wants. */
export function chancePlot(figures: PictureFigures, value: Value): Draft {
  const { analysis } = figures;
  const unit = unitOf(value.measure, analysis);
  const outcome = value.outcome();
  const at = outcome?.si ?? value.si ?? 0;
  const middle = at + (outcome?.spread?.shift ?? 0);
  const deviation = Math.max((outcome?.rss ?? 0) / deviations, 1e-9);
  const wanted = analysis.valueAt(`${value.thing.path}.${wantedGap}`);
  const check = analysis.checks.find(
    ({ inputs }) =>
      wanted !== undefined && [value, wanted].every(({ path }) => inputs.includes(path)),
  );
  const chance = check?.chance();
  return spreadPlot({
    title: `${value.path}: how likely it is`,
    description: "The likely spread of the gap; what falls short of the gap wanted is hatched.",
    axis: `${value.field.name.replaceAll("_", " ")} (${unit.unit})`,
    middle: unit.of(middle),
    deviation: unit.of(deviation),
    worst: [unit.of(outcome?.low ?? at), unit.of(outcome?.high ?? at)],
    ...(wanted?.si === undefined
      ? {}
      : { least: { at: unit.of(wanted.si), name: `least wanted ${analysis.write(wanted)}` } }),
    remarks: [
      chance === undefined
        ? "nothing says how much is wanted"
        : `chance of less than wanted: ${percentOf(1 - chance.share)}`,
      chance !== undefined && chance.draws > 0
        ? `counted in ${chance.draws} draws; the bell is drawn as if the formula were straight`
        : "each ± taken as three deviations of a normal distribution unless the build says otherwise",
    ],
  });
}

/** Gaps of the spec and of each option, a row for each gap. */
export function optionsPlot(figures: PictureFigures): Draft | undefined {
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
      const figure = new PictureFigures(analysis, figures.reckoning).of(
        value?.thing,
        value?.field.name ?? "",
      );
      if (!figure.known) return [];
      return [{ at: unit.of(figure.si), reading: named(figure, `${name} ${figure.value}`) }];
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

/**
 * The limits of the rules a build asks for, each a curve over the braking rate above which no axle
 * may run; where it asks for none, the least use of the grip that the brakes' own checks look at.
 */
function corridorsOf(
  analysis: Analysis,
  system: Thing,
): { readonly corridors: readonly Series[]; readonly rules: readonly string[] } {
  const limits = analysis.curves.filter(
    ({ name, thing }) =>
      thing !== undefined &&
      name.startsWith(corridorCurve) &&
      analysis.thingAt(`${thing.path}.${systemField}`) === system,
  );
  if (limits.length > 0)
    return {
      corridors: limits.map((limit) => ({ name: limit.title, points: above(limit.points()) })),
      rules: [...new Set(limits.map(({ thing }) => thing?.kind.title ?? ""))],
    };
  const own = analysis.curves.find(
    ({ name, thing }) => thing === system && name === brakeCurves.wanted,
  );
  if (own === undefined) return { corridors: [], rules: [] };
  const points = own.points().map(({ x, y }) => ({ x: y, y: x }));
  return {
    corridors: [{ name: "too little braking for the grip there is", points: above(points) }],
    rules: [own.remarks.source ?? own.title],
  };
}

/** The area from a line up. */
function above(line: Series["points"]): Series["points"] {
  const [first] = line;
  const last = line[line.length - 1];
  return first === undefined || last === undefined
    ? []
    : [...line, { x: last.x, y: 9 }, { x: first.x, y: 9 }];
}

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

function percentOf(share: number): string {
  if (share < 0.0005) return "under 0.05 %";
  if (share > 0.9995) return "over 99.95 %";
  return `${(share * 100).toFixed(share < 0.1 || share > 0.9 ? 1 : 0)} %`;
}
