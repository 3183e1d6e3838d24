/**
 * Anchors of an analysis as places an editor understands.
 *
 *     rangeOf(analysis, finding.anchor)   →   { start: { line: 4, character: 2 }, end: … }
 *
 * Must not know: what stands at the place, how answers travel.
 */
import type { Location, Range } from "vscode-languageserver";
import { type Anchor, placeOf } from "../../grammar/anchor";
import type { SourceFile } from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";

/** Files by URI: an analysis, or whatever else can find a source. */
export type Sources = Pick<Analysis, "sourceOf">;

/** `undefined` where the anchor's file is not part of the analysis any more. */
export function rangeOf(sources: Sources, anchor: Anchor): Range | undefined {
  const source = sources.sourceOf(anchor.uri);
  return source === undefined ? undefined : placeOf(source, anchor);
}

export function locationOf(sources: Sources, anchor: Anchor): Location | undefined {
  const range = rangeOf(sources, anchor);
  return range === undefined ? undefined : { uri: anchor.uri, range };
}

/** The range of a span that is counted as those of the item's nodes are. */
export function rangeIn(
  source: SourceFile,
  item: Anchor["item"],
  span: { readonly start: number; readonly end: number },
): Range {
  return {
    start: source.positionAt(source.offsetOf(item, span.start)),
    end: source.positionAt(source.offsetOf(item, span.end)),
  };
}

export function overlaps(one: Range, other: Range): boolean {
  return !isBefore(one.end, other.start) && !isBefore(other.end, one.start);
}

export function isBefore(one: Range["start"], other: Range["start"]): boolean {
  return one.line < other.line || (one.line === other.line && one.character < other.character);
}

/** `wheels.trammel` of `file:///shop/parts/wheels.trammel`. */
export function fileName(uri: string): string {
  const name = uri.slice(uri.lastIndexOf("/") + 1);
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}
