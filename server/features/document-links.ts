/**
 * The paths after `use` as links to their files.
 *
 * Must not know: how answers travel.
 */
import type { DocumentLink } from "vscode-languageserver";
import type { Analysis } from "../analysis/analysis";
import { usesOf } from "./findings";
import { rangeIn } from "./place";

export function documentLinks(analysis: Analysis, uri: string): DocumentLink[] {
  const source = analysis.sourceOf(uri);
  if (source === undefined) return [];
  return usesOf(analysis, uri)
    .filter(({ target }) => analysis.files.has(target))
    .map(({ item, node, target }) => ({
      range: rangeIn(source, item, node.path.span),
      target,
      tooltip: "open the file",
    }));
}
