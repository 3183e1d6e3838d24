/**
 * Places in files: an item and a span inside it, which stays right while other lines move.
 *
 * Must not know: what stands at the place.
 */
import { codeIn } from "./layout";
import type { Item, SourceFile, Span } from "./syntax";

/** The source of a file of a build or of the library. */
export interface SourceOfFile {
  /** Stable identifier, `file:///…/build.trammel` or `library:/axle.trammel`. */
  readonly uri: string;
  readonly source: SourceFile;
  /** True for the trade's own files, which ship with Trammel. */
  readonly library: boolean;
}

/** A span of an item of a file. */
export interface Anchor {
  readonly uri: string;
  readonly item: Item;
  readonly span: Span;
}

export interface LinePlace {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

/** The zero-based lines and UTF-16 columns of an anchor in the file as it stands now. */
export function placeOf(source: SourceFile, anchor: Anchor): LinePlace {
  const { item, span } = anchor;
  return {
    start: source.positionAt(source.offsetOf(item, span.start)),
    end: source.positionAt(source.offsetOf(item, span.end)),
  };
}

/** The text an anchor covers; on one line, and without its remarks, where it covers several. */
export function textAt(anchor: Anchor): string {
  return codeIn(anchor.item, anchor.span);
}
