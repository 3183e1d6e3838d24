/**
 * Measures and tells: a table of each figure with its target, what was measured, and the
 * alternative's figure beside it. Ends with 1 where a figure is more than three times its target
 * (or, of a ratio, less than a third): that is a regression and no busy machine.
 *
 *     node main.mjs --only edit,check --json
 */
import { availableParallelism } from "node:os";
import { editFigures, type Figure, firstFigures, load, solveFigures } from "./figures";
import { logFigures } from "./log-figures";
import type { Summary } from "./measure";
import { checkFigures, startFigures } from "./process-figures";
import { typingFigures } from "./typing-figures";

const tolerated = 3;

const groups = {
  type: typingFigures,
  edit: editFigures,
  first: firstFigures,
  start: startFigures,
  check: checkFigures,
  log: logFigures,
  solve: solveFigures,
};

type Verdict = "met" | "missed" | "regression";

const json = process.argv.includes("--json");
const wanted = asked();
const figures: Figure[] = [];
const before = load();
for (const [name, measure] of Object.entries(groups)) {
  if (wanted !== undefined && !wanted.includes(name)) continue;
  if (!json) console.error(`measuring: ${name} …`);
  figures.push(...(await measure()));
}
const machine = {
  node: process.version,
  cores: availableParallelism(),
  load: { before, after: load() },
};
if (json) {
  const all = figures.map((figure) => ({ ...figure, verdict: verdictOf(figure) }));
  console.log(JSON.stringify({ machine, tolerated, figures: all }, undefined, 2));
} else tell();
process.exitCode = figures.some((figure) => verdictOf(figure) === "regression") ? 1 : 0;

// ───────────────────────────── helpers ─────────────────────────────

function asked(): string[] | undefined {
  const at = process.argv.indexOf("--only");
  if (at < 0) return undefined;
  const names = (process.argv[at + 1] ?? "").split(",");
  const unknown = names.filter((name) => !(name in groups));
  if (unknown.length === 0) return names;
  console.error(
    `no figures called ${unknown.join(", ")}; there are ${Object.keys(groups).join(", ")}`,
  );
  process.exit(2);
}

function verdictOf({ unit, target, measured: { median } }: Figure): Verdict {
  // Of what is counted none at all may be wanted.
  const share = unit === "times" ? target / median : median === target ? 1 : median / target;
  if (share <= 1) return "met";
  return share <= tolerated ? "missed" : "regression";
}

function tell(): void {
  const header = ["figure", "target", "median", "95 of 100", "first", "processor", "verdict"];
  const rows = figures.flatMap((figure) => [
    [
      figure.name,
      `${figure.unit === "times" ? "at least" : "at most"} ${amount(figure.target, figure.unit)}`,
      ...cells(figure.measured, figure.cpu, figure.unit),
      verdictOf(figure),
    ],
    ...(figure.parts ?? []).map(({ what, measured, cpu }) => [
      `  ${what}`,
      "",
      ...cells(measured, cpu, figure.unit),
      "",
    ]),
    ...(figure.alternative === undefined
      ? []
      : [
          [
            `  beside: ${figure.alternative.what}`,
            "",
            ...cells(figure.alternative.measured, figure.alternative.cpu, figure.unit),
            "",
          ],
        ]),
  ]);
  const widths = header.map((title, column) =>
    Math.max(title.length, ...rows.map((row) => row[column]?.length ?? 0)),
  );
  const line = (row: readonly string[]): string =>
    row
      .map((cell, column) =>
        column === 0 || column === row.length - 1
          ? cell.padEnd(widths[column] ?? 0)
          : cell.padStart(widths[column] ?? 0),
      )
      .join("  ")
      .trimEnd();
  console.log(line(header));
  console.log(widths.map((width) => "─".repeat(width)).join("  "));
  for (const row of rows) console.log(line(row));
  console.log(
    `\nNode ${machine.node}, ${machine.cores} cores, load ${before} before and ${machine.load.after} after. "processor" is time of all threads; on a busy machine it says more than the clock.`,
  );
  console.log(
    `A figure over its target is missed; one over ${tolerated} times its target is a regression and ends this with 1.`,
  );
}

function cells(measured: Summary, cpu: number | undefined, unit: Figure["unit"]): string[] {
  const one = measured.least === measured.greatest;
  return [
    amount(measured.median, unit),
    one ? "" : amount(measured.most, unit),
    one ? "" : measured.first.map((each) => amount(each, unit)).join(", "),
    cpu === undefined ? "" : amount(cpu, "ms"),
  ];
}

function amount(value: number, unit: Figure["unit"]): string {
  if (unit === "made") return value.toFixed(0);
  if (unit === "relative") return value === 0 ? "0" : value.toExponential(1);
  const digits = value >= 100 ? 0 : value >= 10 ? 1 : 2;
  const written = value.toFixed(digits);
  return unit === "times" ? `${written} ×` : `${written} ${unit}`;
}
