/**
 * Builds for the tests of the order of work: texts in, sequence out.
 */
import { expect } from "vitest";
import { placeOf } from "../../grammar/anchor";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { type Library, loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { type Sequence, sequenceOf } from "../../server/sequence";

let kept: Library | undefined;

export function library(): Library {
  kept ??= loadLibrary(libraryFiles());
  return kept;
}

const uri = "file:///shop/build.trammel";
const files = new Map<string, string>();
let analyzer: Analyzer | undefined;

/**
 * One build after another in one file, as somebody types them: what did not change from one to the
 * next is kept, so that what is kept wrongly is seen, and logs of one plan do not read it again each.
 */
export function analyze(text: string): Analysis {
  analyzer ??= new Analyzer(memoryHost(files), library());
  files.set(uri, text);
  const analysis = analyzer.analyze(uri);
  if (analysis === undefined) throw new Error("the root file is there");
  return analysis;
}

/** The sequence of a build that the engine itself has nothing to object to. */
export function sequence(text: string): Sequence {
  const analysis = analyze(text);
  expect(
    analysis.findings.filter(({ severity }) => severity === "error").map(({ message }) => message),
  ).toEqual([]);
  return sequenceOf(analysis);
}

/** Findings as "line: code: message", lines counted from 1. */
export function findingsOf(text: string): string[] {
  const analysis = analyze(text);
  return sequenceOf(analysis).findings.map(({ code, message, anchor }) => {
    const source = analysis.sourceOf(anchor.uri);
    const line = source === undefined ? 0 : placeOf(source, anchor).start.line + 1;
    return `${line}: ${code}: ${message}`;
  });
}
