/** `trammel compare`: a build and its options side by side. */

import { buildsInWords } from "../findings/checks";
import { told, toldInShort } from "../report/comes-out";
import {
  type BuildComparison,
  type ComparedCheck,
  type ComparedOutcome,
  type ComparedRow,
  comparisonOf,
  isMoney,
} from "../report/comparison";
import { type TableRow, textTable, wrapped } from "../report/table";
import { writeQuantity, writeSi } from "../units";
import { askedPath } from "./asked-paths";
import type { CompareOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import type { Palette } from "./palette";
import { print, printJson } from "./print";
import { CommandProblem, exit } from "./problem";
import type { Session, View } from "./session";
import { valueOutput } from "./value-json";

export interface CompareOptions extends View {
  readonly format: "text" | "json";
  readonly fields: readonly string[];
  /** Also what is the same throughout, line by line. */
  readonly all: boolean;
}

export function compare(
  file: string,
  options: CompareOptions,
  session: Session,
  palette: Palette,
): number {
  const build = session.open(file, options);
  const { spec } = build;
  const asBuilt = options.asBuilt === true && spec.records.length > 0;
  if (spec.options.length === 0 && !asBuilt) {
    throw new CommandProblem(
      `there is nothing to compare in ${file}: it has no option${options.asBuilt === true ? " and no record" : ""}, write one as in: option wider "Wider housing" { … }`,
    );
  }
  const fields = options.fields.flatMap((path) => ownedPaths(path, file, session, options));
  const comparison = comparisonOf(spec, fields, asBuilt);
  if (comparison.rows.length === 0 && comparison.checks.length === 0) session.askWhole();
  if (options.format === "json") printJson(session.world, compareOutput(comparison, build.name));
  else
    print(
      session.world,
      compareLines(comparison, build.name, palette, options.all || fields.length > 0),
    );
  const failing = comparison.variants.every(({ analysis }) =>
    analysis.findings.some(({ severity }) => severity === "error"),
  );
  // One way that works is what is looked for.
  return failing ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

/** A path may be there under an option only; it must be there under one of them. */
function ownedPaths(path: string, file: string, session: Session, view: View): string[] {
  const { spec } = session.open(file, view);
  const variants = [spec, ...spec.options.flatMap(({ name }) => spec.under(name) ?? [])];
  const reached = variants.map((variant) => askedPath(path, variant));
  const found = reached.flatMap((each) => (each instanceof CommandProblem ? [] : [each]));
  if (found.length === 0) throw reached[0];
  // A single field keeps the path it was asked by: it may lead to another thing in each column.
  return found.every(({ values }) => values.length <= 1)
    ? [path]
    : [...new Set(found.flatMap(({ values }) => values.map((value) => value.path)))];
}

function compareLines(
  comparison: BuildComparison,
  name: string,
  palette: Palette,
  all: boolean,
): string[] {
  const { variants, rows, checks } = comparison;
  const figures = rows.filter((row) => (all || !row.alike) && !isMoney(row));
  const alike = rows.filter((row) => !figures.includes(row) && !isMoney(row));
  const telling = checks.filter(
    ({ verdicts: [first, ...others], chances }) =>
      all ||
      first === "fails" ||
      others.some((outcome) => outcome !== first) ||
      chances.some((chance) => chance !== undefined),
  );
  const settled = checks.filter((check) => !telling.includes(check));
  const sections: { title: string; rows: TableRow[]; note?: string }[] = [
    {
      title: "Figures",
      rows: figures.map((row) => figureRow(row, comparison)),
      note:
        alike.length === 0
          ? undefined
          : `the same throughout: ${alike.map((row) => alikeInWords(row, comparison)).join("; ")}`,
    },
    {
      title: "Checks",
      rows: telling.map((check) => checkRow(check, palette)),
      note: settled.length === 0 ? undefined : alikeChecksInWords(settled),
    },
    {
      title: "Cost",
      rows: [
        ...rows.filter(isMoney).map((row) => figureRow(row, comparison)),
        ...costRows(comparison),
      ],
    },
  ];
  const head: TableRow = [
    "",
    ...variants.map((variant) => ({ text: variant.name, paint: palette.bold })),
  ];
  const table = textTable([head, ...sections.flatMap((section) => section.rows)], "  ");
  const lines = [
    palette.bold(name),
    ...variants
      .filter(({ title }) => title !== undefined)
      .map((variant) => `${variant.name}: ${variant.title}`),
    "",
    table.shift() ?? "",
  ];
  for (const { title, rows: own, note } of sections) {
    if (own.length === 0 && note === undefined) continue;
    lines.push("", palette.bold(title), ...table.splice(0, own.length));
    if (note !== undefined)
      lines.push(...wrapped(note, 96).map((line, index) => `  ${index === 0 ? "" : "  "}${line}`));
  }
  return lines;
}

function figureRow({ path, values }: ComparedRow, { variants }: BuildComparison): TableRow {
  return [
    path,
    ...values.map((value, column) => {
      const variant = variants[column];
      if (value === undefined || variant === undefined) return "-";
      return value.standing === "missing" ? "missing" : toldInShort(value, variant.analysis, " ");
    }),
  ];
}

function checkRow({ title, thing, verdicts, chances }: ComparedCheck, palette: Palette): TableRow {
  return [
    `${thing === undefined ? "" : `${thing}: `}${title}`,
    ...verdicts.map((outcome, column) => {
      const chance = chances[column];
      const text = chance === undefined ? outcome : `holds ${buildsInWords(chance)}`;
      return {
        text: outcome === "unknown" ? "cannot judge" : text,
        paint: paintOutcome(outcome, palette),
      };
    }),
  ];
}

function alikeInWords({ path, values }: ComparedRow, { variants }: BuildComparison): string {
  const [value] = values;
  const [variant] = variants;
  return value === undefined || variant === undefined
    ? path
    : `${path} ${told(value, variant.analysis).text}`;
}

/** `46 checks hold throughout` */
function alikeChecksInWords(checks: readonly ComparedCheck[]): string {
  const counts = new Map<ComparedOutcome, number>();
  for (const { verdicts } of checks) {
    const [outcome = "unknown"] = verdicts;
    counts.set(outcome, (counts.get(outcome) ?? 0) + 1);
  }
  return [...counts]
    .map(([outcome, count]) => `${count} ${inWords(outcome, count)} throughout`)
    .join("; ");
}

function inWords(outcome: ComparedOutcome, count: number): string {
  if (outcome === "unknown") return "cannot be judged";
  const hold = count === 1 ? "holds" : "hold";
  if (outcome === "holds") return hold;
  return outcome === "fails" ? (count === 1 ? "fails" : "fail") : `${hold} as drawn, ${outcome},`;
}

/** What the parts in use cost, where no figure of the build says it. */
function costRows({ variants, costs }: BuildComparison): TableRow[] {
  if (costs === undefined) return [];
  const totals = costs.map(({ total }, column) => {
    const style = variants[column]?.analysis.style;
    const written = total.map(({ amount, price }) =>
      style === undefined || price.measure === undefined
        ? ""
        : (writeQuantity(amount, price.measure, style)?.text ?? ""),
    );
    return written.length === 0 ? "-" : written.join(" + ");
  });
  return [
    ["parts with a price", ...totals],
    ["parts without a price", ...costs.map(({ unpriced }) => String(unpriced.length))],
  ];
}

function paintOutcome(outcome: ComparedOutcome, palette: Palette): (text: string) => string {
  switch (outcome) {
    case "holds":
      return palette.green;
    case "fails":
      return palette.red;
    case "not in all that is likely":
    case "not in the worst case":
    case "worst case not settled":
      return palette.yellow;
    case "unknown":
      return palette.dim;
  }
}

function compareOutput(
  { variants, rows, checks, costs }: BuildComparison,
  file: string,
): CompareOutput {
  return {
    schemaVersion,
    file,
    options: variants.map(({ name, title }) => (title === undefined ? { name } : { name, title })),
    values: Object.fromEntries(
      rows.map(({ path, values }) => [
        path,
        Object.fromEntries(
          variants.flatMap(({ name, analysis }, column) => {
            const value = values[column];
            return value === undefined ? [] : [[name, valueOutput(value, analysis)]];
          }),
        ),
      ]),
    ),
    checks: checks.map(({ title, thing, verdicts, chances }) => ({
      title,
      ...(thing === undefined ? {} : { thing }),
      verdicts: Object.fromEntries(
        variants.map(({ name }, column) => [name, verdicts[column] ?? "unknown"]),
      ),
      ...(chances.every((chance) => chance === undefined)
        ? {}
        : {
            holdsIn: Object.fromEntries(
              variants.flatMap(({ name }, column) => {
                const chance = chances[column];
                return chance === undefined ? [] : [[name, chance.share] as const];
              }),
            ),
          }),
    })),
    ...(costs === undefined
      ? {}
      : {
          cost: Object.fromEntries(
            variants.map(({ name }, column) => [
              name,
              {
                totals: (costs[column]?.total ?? []).map(({ amount, currency }) => ({
                  amount: writeSi(amount) ?? 0,
                  currency,
                })),
                unpriced: [...(costs[column]?.unpriced ?? [])],
              },
            ]),
          ),
        }),
  };
}
