/**
 * Findings as lines for a terminal, grouped by file, in the form problem matchers know:
 *
 *     van/build.trammel:41:16: error: the inner sidewall clears … [clearance/inner-gap]
 *         to do: move the wheel outboard
 *
 * Must not know: where findings come from.
 */
import { type Counts, countsOf, type PlacedFinding } from "../report/placed-finding";
import { type Palette, paintSeverity } from "./palette";

export function findingLines(findings: readonly PlacedFinding[], palette: Palette): string[] {
  const lines: string[] = [];
  let file: string | undefined;
  for (const finding of findings) {
    if (file !== undefined && file !== finding.file) lines.push("");
    file = finding.file;
    lines.push(headline(finding, palette), ...remarks(finding, palette));
  }
  return lines;
}

/** `2 errors, 1 warning in 3 builds`, or `3 builds, nothing to object to`. */
export function summaryLine(
  findings: readonly PlacedFinding[],
  builds: number,
  palette: Palette,
): string {
  const counts = countsOf(findings);
  const size = plural(builds, "build");
  const words = countWords(counts);
  if (words === "") return palette.green(`${size}, nothing to object to`);
  const paint =
    counts.errors > 0 ? palette.red : counts.warnings > 0 ? palette.yellow : palette.cyan;
  return paint(`${words} in ${size}`);
}

/** `2 errors, 1 warning`; empty where there are none. */
export function countWords({ errors, warnings, notes }: Counts): string {
  return [
    errors > 0 ? plural(errors, "error") : "",
    warnings > 0 ? plural(warnings, "warning") : "",
    notes > 0 ? plural(notes, "note") : "",
  ]
    .filter((each) => each !== "")
    .join(", ");
}

export function plural(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

// ───────────────────────────── helpers ─────────────────────────────

function headline(finding: PlacedFinding, palette: Palette): string {
  const { line, character } = finding.place.start;
  const place = `${finding.file}:${line + 1}:${character + 1}`;
  const word = paintSeverity(palette, finding.severity)(finding.severity);
  return `${place}: ${word}: ${oneLine(finding.message)} ${palette.dim(`[${finding.code}]`)}`;
}

function remarks(finding: PlacedFinding, palette: Palette): string[] {
  const lines: string[] = [];
  if (finding.hint !== undefined) lines.push(`    to do: ${oneLine(finding.hint)}`);
  if (finding.caution !== undefined)
    lines.push(`    ${palette.yellow("caution:")} ${oneLine(finding.caution)}`);
  for (const related of finding.related) {
    const { line, character } = related.place.start;
    lines.push(`    see ${related.file}:${line + 1}:${character + 1}: ${oneLine(related.message)}`);
  }
  return lines;
}

function oneLine(text: string): string {
  return text.replaceAll(/\s*[\r\n]+\s*/g, " ");
}
