/**
 * The `use` lines to mend when files or folders move: those that lead to what moved, and those of
 * the moved files themselves.
 *
 *     editsForMoves(files, [{ from: "…/parts/wheels.trammel", to: "…/stock/wheels.trammel" }])
 *
 * Must not know: how answers travel, whether the files exist.
 */
import type { TextEdit } from "vscode-languageserver";
import type { SourceFile } from "../../grammar/syntax";
import { usesOf } from "./findings";
import { rangeIn } from "./place";

export interface Move {
  readonly from: string;
  readonly to: string;
}

/** Edits by the URI a file has before the move. */
export function editsForMoves(
  files: ReadonlyMap<string, SourceFile>,
  moves: readonly Move[],
): Map<string, TextEdit[]> {
  const edits = new Map<string, TextEdit[]>();
  for (const [uri, source] of files) {
    const found: TextEdit[] = [];
    const place = moved(uri, moves);
    for (const { item, node, target } of usesOf({ sourceOf: () => source }, uri)) {
      const lead = moved(target, moves);
      if (target.startsWith("library:") || (place === uri && lead === target)) continue;
      const path = pathBetween(place, lead);
      if (path === undefined || path === node.path.value) continue;
      found.push({ range: rangeIn(source, item, node.path.span), newText: `"${path}"` });
    }
    if (found.length > 0) edits.set(uri, found);
  }
  return edits;
}

// ───────────────────────────── helpers ─────────────────────────────

function moved(uri: string, moves: readonly Move[]): string {
  for (const { from, to } of moves) {
    if (uri === from) return to;
    if (uri.startsWith(`${from}/`)) return `${to}${uri.slice(from.length)}`;
  }
  return uri;
}

/** `../parts/wheels.trammel` from one file to another; nothing between different places. */
export function pathBetween(from: string, to: string): string | undefined {
  const folders = from.split("/").slice(0, -1);
  const target = to.split("/");
  let same = 0;
  while (same < folders.length && same < target.length - 1 && folders[same] === target[same])
    same++;
  // Scheme and authority have to agree.
  if (same < 3) return undefined;
  const up = folders.slice(same).map(() => "..");
  try {
    return [...up, ...target.slice(same).map(decodeURIComponent)].join("/");
  } catch {
    return undefined;
  }
}
