/**
 * Builds as texts for tests: `analyzed("tire t { size: 205/55R16 }")`, several files split by
 * lines `//- parts/wheels.trammel`; the first file is the root, `build.trammel`.
 */

import type { Analysis, AnalysisSettings } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { type Library, loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";

export const folder = "file:///shop/";

let loaded: Library | undefined;

export function library(): Library {
  loaded ??= loadLibrary(libraryFiles());
  return loaded;
}

export function filesOf(text: string): Map<string, string> {
  const files = new Map<string, string>();
  const parts = text.split(/^\/\/- (\S+)[^\n]*\n/m);
  if ((parts[0] ?? "").trim() !== "" || parts.length === 1)
    files.set(`${folder}build.trammel`, parts[0] ?? "");
  for (let index = 1; index < parts.length; index += 2) {
    files.set(`${folder}${parts[index]}`, parts[index + 1] ?? "");
  }
  return files;
}

export function analyzed(text: string, settings?: AnalysisSettings): Analysis {
  const analyzer = new Analyzer(memoryHost(filesOf(text), [folder]), library());
  const analysis = analyzer.analyze(`${folder}build.trammel`, settings);
  if (analysis === undefined) throw new Error("the root file could not be read");
  return analysis;
}

/** `line:column code message` of every finding, for golden texts. */
export function findingsOf(analysis: Analysis): string[] {
  return analysis.findings.map((finding) => {
    const source = analysis.sourceOf(finding.anchor.uri);
    const at = source?.positionAt(source.offsetOf(finding.anchor.item, finding.anchor.span.start));
    const file =
      finding.anchor.uri === analysis.rootUri ? "" : `${finding.anchor.uri.slice(folder.length)} `;
    const hint = finding.hint === undefined ? "" : ` | ${finding.hint}`;
    return `${file}${(at?.line ?? 0) + 1}:${(at?.character ?? 0) + 1} ${finding.severity} ${finding.code}: ${finding.message}${hint}`;
  });
}
