/**
 * Growing a selection: word, value, member, what is between the braces, thing, file.
 *
 * Must not know: what anything means.
 */
import type { Position, SelectionRange } from "vscode-languageserver";
import type { SourceFile } from "../../grammar/syntax";
import { rangeIn } from "./place";
import { spotAt } from "./spot";

export function selectionRanges(
  source: SourceFile,
  positions: readonly Position[],
): SelectionRange[] {
  return positions.map((position) => selectionAt(source, position));
}

// ───────────────────────────── helpers ─────────────────────────────

function selectionAt(source: SourceFile, position: Position): SelectionRange {
  const offset = source.offsetAt(position);
  const spot = spotAt(source, offset);
  let selection: SelectionRange = {
    range: { start: source.positionAt(0), end: source.positionAt(source.text.length) },
  };
  if (spot === undefined) return { range: { start: position, end: position }, parent: selection };
  const { item } = spot;
  const start = source.offsetOf(item);
  const end = start + source.standing(item).text.length;
  let last = { start: 0, end: item.text.length };
  const grow = (span: { start: number; end: number }): void => {
    const same = span.start === last.start && span.end === last.end;
    const inside = span.start >= last.start && span.end <= last.end;
    if (same || !inside) return;
    last = span;
    selection = { range: rangeIn(source, item, span), parent: selection };
  };
  const whole = { start: source.positionAt(start), end: source.positionAt(end) };
  selection = { range: whole, parent: selection };
  for (const node of spot.nodes) {
    grow(node.span);
    if ("body" in node && node.body.start < spot.offset && spot.offset < node.body.end) {
      grow({ start: node.body.start + 1, end: Math.max(node.body.start + 1, node.body.end - 1) });
    }
  }
  return selection;
}
