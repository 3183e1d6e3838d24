/**
 * A merge that was not finished left two versions in a text: that is one finding, and nothing else
 * is said of either side.
 *
 * Must not know: what else can be wrong.
 */
import type { SourceFile } from "../../grammar/syntax";
import type { Finding } from "../findings/finding";

interface Side {
  readonly from: number;
  readonly to: number;
}

const marker = "syntax/conflict-marker";

/** The findings without those that lie between the markers of a merge, but for its first marker. */
export function outsideConflicts(
  findings: readonly Finding[],
  files: readonly { readonly uri: string; readonly source: SourceFile }[],
): readonly Finding[] {
  if (!findings.some(({ code }) => code === marker)) return findings;
  const conflicts = new Map<string, readonly Side[]>();
  const sources = new Map(files.map(({ uri, source }) => [uri, source]));
  for (const [uri, source] of sources) conflicts.set(uri, conflictsIn(source.text));
  return findings.filter(({ anchor: { uri, item, span } }) => {
    const at = sources.get(uri)?.offsetOf(item, span.start) ?? span.start;
    return !isWithin(conflicts.get(uri) ?? [], at);
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** Whether a place lies in one of them; they are in the order of the text. */
function isWithin(sides: readonly Side[], at: number): boolean {
  let low = 0;
  let high = sides.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sides[middle] as Side).from < at) low = middle + 1;
    else high = middle;
  }
  const last = sides[low - 1];
  return last !== undefined && at <= last.to;
}

/** From each `<<<<<<<` to the end of its `>>>>>>>`; to the end of the text where that is gone. */
function conflictsIn(text: string): Side[] {
  const sides: Side[] = [];
  let from: number | undefined;
  for (const found of text.matchAll(/^(?:<{7}|>{7})(?=[ \t\r\n]|$)[^\r\n]*/gm)) {
    if (found[0].startsWith("<")) from ??= found.index;
    else if (from !== undefined) {
      sides.push({ from, to: found.index + found[0].length });
      from = undefined;
    }
  }
  if (from !== undefined) sides.push({ from, to: text.length });
  return sides;
}
