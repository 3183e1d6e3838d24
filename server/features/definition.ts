/**
 * Where the name at a place comes from: things in their files, fields, kinds and tables in the
 * library, files behind `use`.
 *
 * Must not know: how answers travel.
 */
import type { LocationLink, Range } from "vscode-languageserver";
import type { Analysis } from "../analysis/analysis";
import { usesOf } from "./findings";
import { namesAt, pathOf } from "./holder";
import { declarationOf, type Meaning, meaningOf } from "./meaning";
import { locationOf, rangeIn } from "./place";
import { spotAt } from "./spot";

const top: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

export function definition(analysis: Analysis, uri: string, offset: number): LocationLink[] {
  const source = analysis.sourceOf(uri);
  const spot = source === undefined ? undefined : spotAt(source, offset);
  if (source === undefined || spot === undefined) return [];
  const used = usesOf(analysis, uri).find(({ item }) => item === spot.item);
  if (used !== undefined) {
    const known = analysis.files.has(used.target);
    return known ? [link(used.target, top, rangeIn(source, used.item, used.node.path.span))] : [];
  }
  const names = namesAt(analysis, uri);
  const named = meaningOf(names, uri, spot);
  if (named === undefined) return [];
  const origin = rangeIn(source, spot.item, named.name.span);
  if (named.meaning.is === "namespace") return [link(named.meaning.scope.file.uri, top, origin)];
  const anchors = [writtenAt(analysis, named.meaning, offset, uri), declarationOf(named.meaning)];
  return anchors.flatMap((anchor) => {
    const location = anchor === undefined ? undefined : locationOf(analysis, anchor);
    return location === undefined ? [] : [link(location.uri, location.range, origin)];
  });
}

/** Where a field's value is written, if that is not the very place that asks. */
function writtenAt(analysis: Analysis, meaning: Meaning, offset: number, uri: string) {
  const path = meaning.is === "field" ? pathOf(meaning) : undefined;
  const anchor = path === undefined ? undefined : analysis.valueAt(path)?.anchor;
  if (anchor === undefined) return undefined;
  const source = analysis.sourceOf(anchor.uri);
  if (source === undefined) return undefined;
  const here = source.positionAt(source.offsetOf(anchor.item, anchor.span.start)).line;
  return anchor.uri === uri && source.positionAt(offset).line === here ? undefined : anchor;
}

function link(targetUri: string, range: Range, originSelectionRange: Range): LocationLink {
  return { targetUri, targetRange: range, targetSelectionRange: range, originSelectionRange };
}
