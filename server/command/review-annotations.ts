/**
 * Findings as the annotation commands that code review on GitHub reads from a job's output.
 *
 *     ::error file=van/build.trammel,line=41,col=16,…,title=clearance/inner-gap::the inner …
 *
 * Must not know: where findings come from.
 */
import type { Severity } from "../findings/finding";
import type { PlacedFinding } from "../report/placed-finding";
import { forJobLog, forJobLogProperty } from "../text/untrusted-text";
import { plural } from "./finding-text";

const commandOf: Readonly<Record<Severity, string>> = {
  error: "error",
  warning: "warning",
  note: "notice",
};

/** No more of one kind are shown for one step of a job. */
const mostOfAKind = 10;

export function reviewAnnotations(findings: readonly PlacedFinding[]): string[] {
  const lines: string[] = [];
  let left = 0;
  for (const severity of ["error", "warning", "note"] as const) {
    const all = findings.filter((finding) => finding.severity === severity);
    lines.push(...all.slice(0, mostOfAKind).map(annotation));
    left += Math.max(0, all.length - mostOfAKind);
  }
  if (left > 0) {
    lines.push(
      `${plural(left, "finding")} more than can be annotated: --format sarif carries all of them`,
    );
  }
  return lines;
}

// ───────────────────────────── helpers ─────────────────────────────

function annotation(finding: PlacedFinding): string {
  const { start, end } = finding.place;
  const properties = {
    file: finding.file,
    line: start.line + 1,
    endLine: end.line + 1,
    // Columns count only where a finding lies in one line.
    ...(start.line === end.line ? { col: start.character + 1, endColumn: end.character + 1 } : {}),
    title: finding.code,
  };
  const list = Object.entries(properties).map(
    ([name, value]) => `${name}=${forJobLogProperty(String(value))}`,
  );
  const text = [
    finding.message,
    finding.hint === undefined ? "" : `to do: ${finding.hint}`,
    finding.caution === undefined ? "" : `caution: ${finding.caution}`,
  ];
  return `::${commandOf[finding.severity]} ${list.join(",")}::${forJobLog(text.filter((each) => each !== "").join("\n"))}`;
}
