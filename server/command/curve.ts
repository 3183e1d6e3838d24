/**
 * `trammel curve`: what a build draws over a range, as tables; without a name, a list of what there is.
 *
 *     trammel curve van.trammel rear_gears.speed
 */

import type { Analysis, CurveResult } from "../analysis/analysis";
import { columnTitle, curvePath, curveTable } from "../report/curve-table";
import { countsOf, placedFindings } from "../report/placed-finding";
import { type TableRow, textTable, wrapped } from "../report/table";
import { writeSi } from "../units";
import type { CurveOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { plural } from "./finding-text";
import type { Palette } from "./palette";
import { print, printJson } from "./print";
import { CommandProblem, exit } from "./problem";
import { noSuch, type Session, type View } from "./session";

export interface CurveOptions extends View {
  readonly format: "text" | "json";
  /** Tables of all curves. */
  readonly all: boolean;
}

const width = 100;

export function curve(
  file: string,
  names: readonly string[],
  options: CurveOptions,
  session: Session,
  palette: Palette,
): number {
  const build = session.open(file, options);
  const { analysis } = build;
  const findings = placedFindings(analysis, (uri) => session.nameOf(uri));
  const failing = countsOf(findings).errors > 0;
  const curves = curvesCalled(names, analysis);
  if (curves.length === 0) session.askWhole();
  if (options.format === "json") {
    const output: CurveOutput = {
      schemaVersion,
      file: build.name,
      ...(options.option === undefined ? {} : { option: options.option }),
      ...(options.asBuilt === true ? { asBuilt: true as const } : {}),
      curves: curves.map(curveOutput),
    };
    printJson(session.world, output);
  } else {
    const lines =
      curves.length === 0 || (names.length === 0 && !options.all)
        ? listLines(curves, palette)
        : curves.flatMap((each, index) => [
            ...(index === 0 ? [] : [""]),
            ...tableLines(each, analysis, palette),
          ]);
    print(session.world, lines);
  }
  return failing ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

/** By path, by name alone, or all of a thing and its parts. */
function curvesCalled(names: readonly string[], analysis: Analysis): readonly CurveResult[] {
  if (names.length === 0) return analysis.curves;
  const called = names.flatMap((name) => {
    const thing = analysis.thingAt(name)?.path;
    const owner = analysis.thingAt(name.slice(0, Math.max(0, name.lastIndexOf("."))))?.path;
    const last = name.slice(name.lastIndexOf(".") + 1);
    const found = analysis.curves.filter(
      (each) =>
        curvePath(each) === name ||
        each.name === name ||
        (thing !== undefined && `${each.thing?.path}.`.startsWith(`${thing}.`)) ||
        (owner !== undefined && each.thing?.path === owner && each.name === last),
    );
    if (found.length > 0) return found;
    if (analysis.curves.length === 0)
      throw new CommandProblem("this build draws nothing: none of its things has a curve");
    throw noSuch("curve", name, analysis.curves.map(curvePath));
  });
  return [...new Set(called)];
}

function listLines(curves: readonly CurveResult[], palette: Palette): string[] {
  if (curves.length === 0) return ["this build draws nothing: none of its things has a curve"];
  const rows = curves.map((each): TableRow => {
    const points = each.points().length;
    return [
      { text: curvePath(each), paint: palette.bold },
      each.title,
      `over ${each.parameter}`,
      { text: points === 0 ? "open" : plural(points, "point"), right: true },
    ];
  });
  return [...textTable(rows), "", "name one of them to see its table, or say --all"];
}

function tableLines(each: CurveResult, analysis: Analysis, palette: Palette): string[] {
  const { parameter, value, rows } = curveTable(each, analysis);
  const { title, thing, remarks } = each;
  const lines = [`${palette.bold(curvePath(each))}  ${title}`];
  if (thing?.title !== undefined) lines.push(`  of ${thing.title}`);
  if (rows.length === 0) {
    lines.push("  no points: what it is made of is open, or it has no value in its range");
  } else {
    const cells = [[columnTitle(parameter), columnTitle(value)] as const, ...rows];
    const table = cells.map((row, index) =>
      row.map((text) => ({ text, right: true, paint: index === 0 ? palette.dim : undefined })),
    );
    lines.push("", ...textTable(table, "  "));
  }
  const notes = [
    remarks.source === undefined ? undefined : `source: ${remarks.source}`,
    remarks.caution === undefined ? undefined : `caution: ${remarks.caution}`,
  ].filter((note) => note !== undefined);
  if (notes.length > 0) {
    lines.push("", ...notes.flatMap((note) => wrapped(note, width - 2).map((line) => `  ${line}`)));
  }
  return lines;
}

function curveOutput(each: CurveResult): CurveOutput["curves"][number] {
  const { name, title, thing, remarks, parameter, parameterMeasure, measure } = each;
  return {
    path: curvePath(each),
    name,
    title,
    ...(thing === undefined ? {} : { thing: thing.path }),
    parameter: { name: parameter, unit: parameterMeasure?.si ?? "1" },
    unit: measure?.si ?? "1",
    ...(remarks.source === undefined ? {} : { source: remarks.source }),
    points: each.points().flatMap(({ x, y }) => {
      const at = writeSi(x);
      const value = writeSi(y);
      return at === undefined || value === undefined ? [] : [{ x: at, y: value }];
    }),
  };
}
