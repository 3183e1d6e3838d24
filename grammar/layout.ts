/**
 * An item that is laid out otherwise than the text it was read from, and says the same: remarks, empty
 * lines and blanks at the end of lines differ, the code of its lines does not. It stays the item it
 * was, so that nothing is made again for a remark; where it stands now, its file tells.
 *
 *     const layout = laidOut(item, text)   // undefined where the text says something else
 *     layout.now(3), layout.then(8)        // from places of the item's own text to those of this one, and back
 *
 * Must not know: what the text says.
 */
import { readTokens } from "./lexer";
import type { Item, Span } from "./syntax";

export interface Layout {
  readonly text: string;
  /** `#` comments in it. */
  readonly comments: readonly Span[];
  /** A place within the item's own text; what is no place of a line's code goes to the nearest before it. */
  now(then: number): number;
  then(now: number): number;
}

/** Something is wrong in none of the two: what is wrong is told by where it stands. */
export function laidOut(item: Item, text: string): Layout | undefined {
  if (item.problems.length > 0 || text.length > longest || item.text.length > longest)
    return undefined;
  if (codeDiffers(item.text, text)) return undefined;
  const { comments } = readTokens(text);
  const lines = codeLines(text, comments);
  const own = codeLines(item.text, item.comments);
  const same =
    own.length === lines.length &&
    own.every(({ code }, at) => code.length > 0 && code === lines[at]?.code);
  if (!same) return undefined;
  return {
    text,
    comments,
    now: (then) => moved(then, own, lines, item.text.length, text.length),
    then: (now) => moved(now, lines, own, text.length, item.text.length),
  };
}

/** The text of a span, its remarks left out, on one line. */
export function codeIn({ text, comments }: Pick<Item, "text" | "comments">, span: Span): string {
  const written = text.slice(span.start, span.end);
  if (!/[\n\r]/.test(written)) return written;
  let code = "";
  let from = span.start;
  for (const { start, end } of comments) {
    if (start < from || end > span.end) continue;
    code += text.slice(from, start);
    from = end;
  }
  return (code + text.slice(from, span.end)).replaceAll(/[ \t]*(?:\r\n|\n|\r)\s*/g, " ");
}

// ───────────────────────────── helpers ─────────────────────────────

/** In characters: what is longer is looked at as a whole again. */
const longest = 200_000;

/** Whether the first line that is another one holds code and no remark: so most edits are told apart. */
function codeDiffers(one: string, other: string): boolean {
  let at = 0;
  while (at < one.length && one.charCodeAt(at) === other.charCodeAt(at)) at++;
  const first = lineAround(one, at);
  const second = lineAround(other, at);
  return first !== second && first !== "" && second !== "" && !`${first}${second}`.includes("#");
}

function lineAround(text: string, at: number): string {
  const from = Math.max(text.lastIndexOf("\n", at - 1), text.lastIndexOf("\r", at - 1)) + 1;
  const end = text.slice(at).search(/[\n\r]/);
  return text.slice(from, end < 0 ? undefined : at + end).trimEnd();
}

interface CodeLine {
  readonly start: number;
  readonly code: string;
}

/** Lines with something on them, from their first column to where their code ends. */
function codeLines(text: string, comments: readonly Span[]): CodeLine[] {
  const lines: CodeLine[] = [];
  const remarks = comments.values();
  let remark = remarks.next().value;
  for (const { index: start, 0: line } of text.matchAll(/[^\n\r]+/g)) {
    while (remark !== undefined && remark.start < start) remark = remarks.next().value;
    const end = start + line.length;
    const code = text.slice(start, Math.min(remark?.start ?? end, end)).trimEnd();
    if (code !== "") lines.push({ start, code });
  }
  return lines;
}

function moved(
  place: number,
  from: readonly CodeLine[],
  to: readonly CodeLine[],
  fromEnd: number,
  toEnd: number,
): number {
  if (place >= fromEnd) return toEnd;
  const at = Math.max(
    0,
    from.findLastIndex(({ start }) => start <= place),
  );
  const line = from[at];
  const other = to[at];
  if (line === undefined || other === undefined) return 0;
  return other.start + Math.min(Math.max(0, place - line.start), line.code.length);
}
