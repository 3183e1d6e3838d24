/**
 * A build as a sheet of text: figures by thing, then findings, then what is missing, then what was
 * only assumed.
 *
 *     rear_housing  Housing, cut to width
 *       face_to_face  54 11/16 in  rounded from 54.679 in  ± 0.016 in  solved by “housing halves”
 *
 * Must not know: files, arguments.
 */
import type { Analysis, MissingValue, Value } from "../analysis/analysis";
import { type AsBuilt, asBuilt } from "../report/as-built";
import { Assumptions } from "../report/assumptions";
import { madeAsUsual, told } from "../report/comes-out";
import { isFoundOnly } from "../report/figure";
import { countsOf, type PlacedFinding } from "../report/placed-finding";
import { nameInThing, type ThingValues } from "../report/selection";
import { type TableRow, textTable, wrapped } from "../report/table";
import { countWords, findingLines, plural } from "./finding-text";
import { type Palette, paintStanding } from "./palette";
import type { OpenBuild, View } from "./session";

export interface ShownValues {
  readonly build: OpenBuild;
  readonly view: View;
  readonly sections: readonly {
    readonly title?: string;
    readonly groups: readonly ThingValues[];
  }[];
  readonly findings: readonly PlacedFinding[];
  readonly missing: readonly MissingValue[];
  readonly palette: Palette;
}

const width = 100;

export function showLines(sheet: ShownValues): string[] {
  const assumptions = new Assumptions(sheet.build.analysis);
  const figures = figureLines(sheet, assumptions);
  return [
    ...titleLines(sheet),
    ...figures,
    ...findingSection(sheet),
    ...missingSection(sheet),
    ...assumptionSection(sheet, assumptions),
    ...cautionSection(sheet),
    "",
    ...closingLines(sheet),
  ];
}

// ───────────────────────────── helpers ─────────────────────────────

function titleLines({ build, view, palette }: ShownValues): string[] {
  const option = build.spec.options.find(({ name }) => name === view.option);
  const lines = [palette.bold(build.name)];
  if (option !== undefined)
    lines.push(
      `under the option ${option.name}${option.title === undefined ? "" : `: ${option.title}`}`,
    );
  if (view.asBuilt === true)
    lines.push("as built: what the records measured stands in for the spec");
  return lines;
}

function figureLines(
  { build: { analysis, spec }, view, sections, palette }: ShownValues,
  assumptions: Assumptions,
): string[] {
  const filled = sections.filter(({ groups }) => groups.length > 0);
  if (filled.length === 0)
    return analysis.leftOut.length > 0
      ? ["", "no figures: not all of the build is read"]
      : ["", "no figures yet: ask for one with a question mark, as in width: ?"];
  // A row for each figure, between them the lines that are not part of the table.
  const rows: TableRow[] = [];
  const lines: (string | undefined)[] = [];
  for (const { title, groups } of filled) {
    if (title !== undefined) lines.push("", palette.bold(palette.underline(title)));
    for (const { thing, values } of groups) {
      lines.push("", heading(thing.path, thing.title ?? thing.kind.title, palette));
      const open = values.filter(
        (value) => value.standing === "missing" && value.anchor === undefined,
      );
      for (const value of values) {
        if (open.length > 1 && open.includes(value)) continue;
        lines.push(undefined);
        const built = view.asBuilt === true ? asBuilt(value, spec) : undefined;
        rows.push(figureRow(value, analysis, assumptions, palette, built));
      }
      // Fields nobody wrote and nothing settles would only drown the rest, one a line.
      if (open.length > 1)
        lines.push(...indented(`missing: ${open.map(nameInThing).join(", ")}`, 2));
    }
  }
  // Columns line up over all things; the names of those for ± come where there are any.
  const toleranced = rows.some((row) => row[3] !== "");
  const table = textTable(toleranced ? [columnNames(palette), ...rows] : rows, "  ");
  const header = toleranced ? ["", table.shift() ?? ""] : [];
  const filledIn = lines.map((line) => line ?? table.shift() ?? "");
  return [...header, ...(toleranced ? filledIn.slice(1) : filledIn)];
}

function heading(path: string, title: string | undefined, palette: Palette): string {
  const name = palette.bold(path === "" ? "the build" : path);
  return title === undefined || title === "" ? name : `${name}  ${title}`;
}

function columnNames(palette: Palette): TableRow {
  return ["", "", "", "worst case", "likely (rss)", "standing"].map((text) => ({
    text,
    paint: palette.dim,
  }));
}

function figureRow(
  value: Value,
  analysis: Analysis,
  assumptions: Assumptions,
  palette: Palette,
  built: AsBuilt | undefined,
): TableRow {
  const out = told(value, analysis);
  const { text, tolerance, standing } = out;
  const beside = built?.was ?? out.beside;
  const why = built?.verdict ?? out.why;
  const usual = standing === "made" ? madeAsUsual(value, analysis) : undefined;
  const rests = [...value.restsOn, ...(usual === undefined ? [] : [usual])];
  const missing = value.standing === "missing";
  return [
    nameInThing(value),
    { text: missing ? "?" : text, paint: palette.bold },
    beside,
    tolerance === undefined ? "" : `${tolerance.worst}${isFoundOnly(value) ? " found" : ""}`,
    tolerance?.rss ?? "",
    {
      text: `${standing}${value.reason?.kind === "default" ? "" : assumptions.marks(rests)}`,
      paint: paintStanding(palette, value.standing),
    },
    why !== undefined
      ? { text: why, paint: palette.dim }
      : value.reason === undefined
        ? value.standing === "assumed"
          ? { text: "default", paint: palette.dim }
          : ""
        : { text: reasonInWords(value, value.reason), paint: palette.dim },
  ];
}

function reasonInWords({ pieces }: Value, reason: NonNullable<Value["reason"]>): string {
  switch (reason.kind) {
    case "relation":
      return `by “${reason.title}”${pieces === undefined ? "" : `: ${pieces}`}`;
    case "assumed relation":
      return `by “${reason.title}”, assumed`;
    case "wish":
      return `by “${reason.title}”, wanted`;
    case "formula":
      return reason.formula;
    case "default":
      return "default";
  }
}

function findingSection({ findings, palette }: ShownValues): string[] {
  // What is missing has a section of its own.
  const others = findings.filter(({ code }) => code !== "missing/value");
  if (others.length === 0) return [];
  return [
    "",
    palette.bold("Findings"),
    ...findingLines(others, palette).map((line) => (line === "" ? line : `  ${line}`)),
  ];
}

function missingSection({ missing, palette }: ShownValues): string[] {
  if (missing.length === 0) return [];
  const lines = ["", palette.bold("Missing")];
  for (const { path, message, needs } of missing) {
    if (needs.length === 0) {
      lines.push(...indented(message, 2));
      continue;
    }
    lines.push(`  ${path} would be settled by${needs.length === 1 ? "" : " any one of these"}:`);
    for (const set of needs.slice(0, 4)) {
      lines.push(
        ...indented(
          set
            .map((need) =>
              need.advice === undefined ? need.path : `${need.path} (${need.advice})`,
            )
            .join(" and "),
          4,
        ),
      );
    }
  }
  return lines;
}

function assumptionSection({ palette }: ShownValues, assumptions: Assumptions): string[] {
  const entries = assumptions.entries();
  if (entries.length === 0) return [];
  return [
    "",
    palette.bold("Assumed, as nothing in the build says otherwise"),
    ...entries.flatMap((entry, index) => indented(`[${index + 1}] ${entry}`, 2)),
  ];
}

/** The cautions of what is judged about the figures shown, whether it holds or not, each once. */
function cautionSection({
  build: { analysis },
  sections,
  findings,
  palette,
}: ShownValues): string[] {
  const shown = new Set(
    sections.flatMap(({ groups }) =>
      groups.flatMap(({ values }) => values.map(({ path }) => path)),
    ),
  );
  const told = new Set(findings.map(({ caution }) => caution));
  const cautions = analysis.checks
    .filter(
      ({ verdict, inputs }) =>
        verdict.nominal !== "unknown" && inputs.some((path) => shown.has(path)),
    )
    .flatMap(({ remarks: { caution } }) =>
      caution === undefined || told.has(caution) ? [] : [caution],
    );
  if (cautions.length === 0) return [];
  return [
    "",
    palette.bold(palette.yellow("Cautions")),
    ...[...new Set(cautions)].flatMap((caution) => indented(caution, 2)),
  ];
}

function closingLines({ build: { analysis }, findings, palette }: ShownValues): string[] {
  const judged = analysis.checks.filter(({ verdict }) => verdict.nominal !== "unknown");
  const holding = judged.filter(({ verdict }) => verdict.nominal === "holds").length;
  const checks =
    judged.length === 0
      ? ""
      : holding === judged.length
        ? `${plural(judged.length, "check")} hold${judged.length === 1 ? "s" : ""}`
        : `${holding} of ${plural(judged.length, "check")} hold`;
  const counts = countsOf(findings);
  const words = countWords(counts);
  const paint =
    counts.errors > 0 ? palette.red : counts.warnings > 0 ? palette.yellow : palette.green;
  return [
    paint(
      [words === "" ? "nothing to object to" : words, checks]
        .filter((each) => each !== "")
        .join("; "),
    ),
  ];
}

function indented(text: string, by: number): string[] {
  return wrapped(text, width - by).map(
    (line, index) => " ".repeat(index === 0 ? by : by + 2) + line,
  );
}
