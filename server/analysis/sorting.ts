/**
 * The order findings are shown in: by file (the root first), place and code.
 */
import type { Finding } from "../findings/finding";
import type { Analysis } from "./analysis";

export function sortFindings(
  findings: readonly Finding[],
  analysis: Pick<Analysis, "rootUri" | "sourceOf">,
): Finding[] {
  const placed = findings.map((finding) => {
    const { uri, item, span } = finding.anchor;
    const source = analysis.sourceOf(uri);
    return {
      finding,
      file: uri === analysis.rootUri ? "" : uri,
      offset: source?.offsetOf(item, span.start) ?? span.start,
    };
  });
  placed.sort(
    (one, other) =>
      compare(one.file, other.file) ||
      one.offset - other.offset ||
      compare(one.finding.code, other.finding.code) ||
      compare(one.finding.message, other.finding.message),
  );
  return placed.map(({ finding }) => finding);
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
