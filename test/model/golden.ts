/**
 * Findings of a build as a reader meets them, for golden texts: place, words, what to do, and the
 * line as it stands after each fix.
 *
 *     golden("wheel w { offset: 18 }")
 *     // 1:19 error unit/missing `18`
 *     //   18 needs a unit of length, such as in, mm or ft
 *     //   fix write 18 in: wheel w { offset: 18 in }
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type { Analysis, AnalysisSettings } from "../../server/analysis/analysis";
import type { Finding, Fix } from "../../server/findings/finding";
import { analyzed, filesOf, folder } from "./build";

export interface GoldenOptions {
  readonly settings?: AnalysisSettings;
  /** Only findings whose code begins so. */
  readonly only?: string;
  /** Looks at another view of the build. */
  readonly view?: (analysis: Analysis) => Analysis | undefined;
}

export function golden(text: string, options: GoldenOptions = {}): string {
  const analysis = analyzed(text, options.settings);
  const shown = options.view?.(analysis) ?? analysis;
  return shown.findings
    .filter(({ code }) => code.startsWith(options.only ?? ""))
    .map((finding) => describe(finding, shown, text, options.settings))
    .join("\n");
}

/** The files of a build after a fix, as one text again. */
export function applied(fix: Fix, analysis: Analysis, text: string): string {
  const files = new Map(filesOf(text));
  const edits = fix.edits.map(({ anchor, text: replacement }) => {
    const at = offsetsOf(anchor, analysis);
    return { uri: anchor.uri, ...at, replacement };
  });
  for (const { uri, start, end, replacement } of edits.sort((a, b) => b.start - a.start)) {
    const before = files.get(uri);
    if (before === undefined)
      throw new Error(`a fix edits ${uri}, which is not a file of the build`);
    files.set(uri, before.slice(0, start) + replacement + before.slice(end));
  }
  return [...files].map(([uri, body]) => `//- ${uri.slice(folder.length)}\n${body}`).join("");
}

export function placeIn(anchor: Anchor, analysis: Analysis): string {
  const source = analysis.sourceOf(anchor.uri);
  if (source === undefined) throw new Error(`no source for ${anchor.uri}`);
  const at = source.positionAt(offsetsOf(anchor, analysis).start);
  const file = anchor.uri === analysis.rootUri ? "" : `${anchor.uri.replace(folder, "")} `;
  return `${file}${at.line + 1}:${at.character + 1}`;
}

// ───────────────────────────── helpers ─────────────────────────────

function describe(
  finding: Finding,
  analysis: Analysis,
  text: string,
  settings?: AnalysisSettings,
): string {
  const lines = [
    `${placeIn(finding.anchor, analysis)} ${finding.severity} ${finding.code} \`${oneLine(textAt(finding.anchor))}\``,
    `  ${finding.message}`,
  ];
  if (finding.hint !== undefined) lines.push(`  hint ${finding.hint}`);
  if (finding.caution !== undefined) lines.push(`  caution ${finding.caution}`);
  for (const { anchor, message } of finding.related ?? [])
    lines.push(`  see ${placeIn(anchor, analysis)} ${message}`);
  // What takes some solving is tried of contradictions, whose mending is the finding's whole point.
  const further = finding.code === "conflict/givens" ? finding.furtherFixes?.() : undefined;
  for (const fix of [...(finding.fixes ?? []), ...(further ?? [])])
    lines.push(`  fix ${fix.title}: ${afterFix(fix, finding, analysis, text, settings)}`);
  return lines.join("\n");
}

/** The edited line; a fix that does not mend its finding is a mistake in itself. */
function afterFix(
  fix: Fix,
  finding: Finding,
  analysis: Analysis,
  text: string,
  settings?: AnalysisSettings,
): string {
  const mended = applied(fix, analysis, text);
  const again = analyzed(mended, settings);
  const left = again.findings.some(
    ({ code, message }) => code === finding.code && message === finding.message,
  );
  if (left) throw new Error(`"${fix.title}" leaves what it should mend: ${finding.message}`);
  const first = fix.edits[0];
  if (first === undefined) throw new Error(`"${fix.title}" changes nothing`);
  const source = analysis.sourceOf(first.anchor.uri);
  const line = source?.positionAt(offsetsOf(first.anchor, analysis).start).line ?? 0;
  return (filesOf(mended).get(first.anchor.uri) ?? "").split("\n")[line]?.trim() ?? "";
}

function offsetsOf(anchor: Anchor, analysis: Analysis): { start: number; end: number } {
  const source = analysis.sourceOf(anchor.uri);
  const at = (inside: number): number => source?.offsetOf(anchor.item, inside) ?? inside;
  return { start: at(anchor.span.start), end: at(anchor.span.end) };
}

function oneLine(text: string): string {
  const line = text.replaceAll(/\s+/g, " ");
  return line.length > 60 ? `${line.slice(0, 57)}…` : line;
}
