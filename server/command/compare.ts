/** `trammel compare`: a build and its options side by side. */
import { comparisonOf, type Comparison, type Outcome } from "../report/comparison";
import { figureOf } from "../report/figure";
import { type Row, textTable } from "../report/table";
import { writeQuantity, writeSi } from "../units";
import { askedPath } from "./asked-paths";
import type { CompareOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import type { Palette } from "./palette";
import { CommandProblem, exit } from "./problem";
import type { Session, View } from "./session";
import { valueOutput } from "./value-json";

export interface CompareOptions extends View {
  readonly format: "text" | "json";
  readonly fields: readonly string[];
}

export function compare(file: string, options: CompareOptions, session: Session, palette: Palette): number {
  const build = session.open(file, options);
  const { spec } = build;
  if (spec.options.length === 0) {
    throw new CommandProblem(`there is nothing to compare in ${file}: it has no option, write one as in: option wider "Wider housing" { … }`);
  }
  const fields = options.fields.flatMap((path) => ownedPaths(path, file, session, options));
  const comparison = comparisonOf(spec, fields);
  if (options.format === "json") session.world.out(`${JSON.stringify(compareOutput(comparison, build.name), undefined, 2)}\n`);
  else session.world.out(`${compareLines(comparison, build.name, palette).join("\n")}\n`);
  const failing = comparison.variants.every(({ analysis }) => analysis.findings.some(({ severity }) => severity === "error"));
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
  return found.every(({ values }) => values.length <= 1) ? [path] : [...new Set(found.flatMap(({ values }) => values.map((value) => value.path)))];
}

function compareLines({ variants, rows, checks, costs }: Comparison, name: string, palette: Palette): string[] {
  const head: Row = ["", ...variants.map((variant) => ({ text: variant.name, paint: palette.bold }))];
  const figures: Row[] = rows.map(({ path, values }) => [
    path,
    ...values.map((value, column) => {
      const variant = variants[column];
      if (value === undefined || variant === undefined) return "–";
      const { text } = figureOf(value, variant.analysis);
      return value.standing === "missing" ? "missing" : `${text} ${value.standing}`;
    }),
  ]);
  const judged: Row[] = checks.map(({ title, thing, verdicts }) => [
    `${thing === undefined ? "" : `${thing}: `}${title}`,
    ...verdicts.map((outcome) => ({ text: outcome === "unknown" ? "cannot judge" : outcome, paint: paintOutcome(outcome, palette) })),
  ]);
  const prices: Row[] = costs === undefined ? [] : [["parts with a price", ...costs.map(({ total }, column) => total.map(({ amount, price }) => {
    const style = variants[column]?.analysis.style;
    const written = style === undefined || price.measure === undefined ? undefined : writeQuantity(amount, price.measure, style);
    return written?.text ?? "";
  }).join(" + ") || "–")], ["parts without a price", ...costs.map(({ unpriced }) => String(unpriced.length))]];
  const table = textTable([head, ...figures, ...judged, ...prices], "  ");
  const part = (title: string, from: number, count: number): string[] => (count === 0 ? [] : ["", palette.bold(title), ...table.slice(from, from + count)]);
  return [
    palette.bold(name),
    ...variants.filter(({ title }) => title !== undefined).map((variant) => `${variant.name}: ${variant.title}`),
    "",
    table[0] ?? "",
    ...part("Figures", 1, figures.length),
    ...part("Checks", 1 + figures.length, judged.length),
    ...part("Cost", 1 + figures.length + judged.length, prices.length),
  ];
}

function paintOutcome(outcome: Outcome, palette: Palette): (text: string) => string {
  switch (outcome) {
    case "holds":
      return palette.green;
    case "fails":
      return palette.red;
    case "likely fails":
    case "may fail":
      return palette.yellow;
    case "unknown":
      return palette.dim;
  }
}

function compareOutput({ variants, rows, checks, costs }: Comparison, file: string): CompareOutput {
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
    checks: checks.map(({ title, thing, verdicts }) => ({
      title,
      ...(thing === undefined ? {} : { thing }),
      verdicts: Object.fromEntries(variants.map(({ name }, column) => [name, verdicts[column] ?? "unknown"])),
    })),
    ...(costs === undefined
      ? {}
      : {
          cost: Object.fromEntries(
            variants.map(({ name }, column) => [
              name,
              {
                totals: (costs[column]?.total ?? []).map(({ amount, currency }) => ({ amount: writeSi(amount) ?? 0, currency })),
                unpriced: [...(costs[column]?.unpriced ?? [])],
              },
            ]),
          ),
        }),
  };
}
