/**
 * What the tests of editor features share: a build from a snippet, with the library that ships.
 *
 *     const { analysis, uri, offset } = cursor("wheel w { off$0 }");
 *
 * `$0` marks the cursor; `//- path` lines split a snippet into several files, the first one being
 * the file the question is about.
 */
import type { Analysis, AnalysisSettings } from "../../server/analysis/analysis";
import { memoryHost } from "../../server/analysis/host";
import { analyzerFor, tradeLibrary } from "../../server/trade";

export const folder = "file:///shop/";
export const library = tradeLibrary();

export interface Snippet {
  readonly analysis: Analysis;
  readonly uri: string;
  /** Of the cursor; -1 where there is none. */
  readonly offset: number;
  readonly texts: ReadonlyMap<string, string>;
}

export function cursor(snippet: string, settings: AnalysisSettings = {}): Snippet {
  const files = split(snippet);
  const texts = new Map<string, string>();
  let uri = "";
  let offset = -1;
  for (const [path, text] of files) {
    const at = text.indexOf("$0");
    texts.set(folder + path, text.replace("$0", ""));
    if (uri === "" || at >= 0) uri = folder + path;
    if (at >= 0) offset = at;
  }
  const analysis = analyzerFor(memoryHost(texts, [folder]), library).analyze(uri, settings);
  if (analysis === undefined) throw new Error("the snippet cannot be read");
  // As an editor shows it once whoever types has rested.
  for (const _ of analysis.advising());
  return { analysis, uri, offset, texts };
}

/** The lines of an indented template without what they have in common. */
export function dedent(text: string): string {
  const lines = text.replace(/^\n/, "").split("\n");
  const depths = lines
    .filter((line) => line.trim() !== "")
    .map((line) => /^ */.exec(line)?.[0].length ?? 0);
  const least = Math.min(...depths);
  return lines
    .map((line) => line.slice(least))
    .join("\n")
    .trimEnd()
    .concat("\n");
}

/** A text with edits done, for asserting the document rather than the edits. */
export function edited(
  text: string,
  edits: readonly {
    readonly range: { readonly start: Position; readonly end: Position };
    readonly newText: string;
  }[],
): string {
  const offsetAt = ({ line, character }: Position): number =>
    text
      .split("\n")
      .slice(0, line)
      .reduce((sum, each) => sum + each.length + 1, 0) + character;
  return [...edits]
    .sort((one, other) => offsetAt(other.range.start) - offsetAt(one.range.start))
    .reduce(
      (done, { range, newText }) =>
        done.slice(0, offsetAt(range.start)) + newText + done.slice(offsetAt(range.end)),
      text,
    );
}

interface Position {
  readonly line: number;
  readonly character: number;
}

function split(snippet: string): [string, string][] {
  const text = dedent(snippet);
  const parts = text.split(/^\/\/- (.+)\n/m);
  if (parts.length === 1) return [["build.trammel", text]];
  const files: [string, string][] = [];
  for (let index = 1; index < parts.length; index += 2)
    files.push([parts[index] ?? "", parts[index + 1] ?? ""]);
  return files;
}
