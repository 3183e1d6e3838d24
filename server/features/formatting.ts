/**
 * The canonical layout as the fewest edits: only the blanks that differ, so that cursors, marks and
 * neighboring lines stay where they are.
 *
 *     minimalEdits("a:1 in\n", "a: 1 in\n")   →   one edit that puts a blank after the colon
 *
 * Must not know: what the layout is, how answers travel.
 */
import type { Range, TextEdit } from "vscode-languageserver";
import type { SourceFile } from "../../grammar/syntax";

/** What turns `source` into `formatted`; those that touch `range` only, where one is given. */
export function minimalEdits(
  source: Pick<SourceFile, "text" | "positionAt">,
  formatted: string,
  range?: Range,
): TextEdit[] {
  const edits = changes(source.text, formatted).map(({ start, end, text }) => ({
    range: { start: source.positionAt(start), end: source.positionAt(end) },
    newText: text,
  }));
  if (range === undefined) return edits;
  return edits.filter(
    (edit) =>
      edit.range.start.line >= range.start.line && edit.range.end.line <= range.end.line + 1,
  );
}

// ───────────────────────────── helpers ─────────────────────────────

interface Change {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Runs of blanks are compared one by one; other text that differs is replaced as a whole. */
function changes(before: string, after: string): Change[] {
  const found: Change[] = [];
  let at = 0;
  let to = 0;
  while (at < before.length || to < after.length) {
    const endOfBlank = skipBlanks(before, at);
    const endOfNewBlank = skipBlanks(after, to);
    const blank = after.slice(to, endOfNewBlank);
    if (before.slice(at, endOfBlank) !== blank) found.push(trimmed(before, at, endOfBlank, blank));
    at = endOfBlank;
    to = endOfNewBlank;
    if (at >= before.length || to >= after.length) {
      if (at < before.length || to < after.length) {
        found.push({ start: at, end: before.length, text: after.slice(to) });
      }
      break;
    }
    const endOfWord = skipWord(before, at);
    const endOfNewWord = skipWord(after, to);
    if (before.slice(at, endOfWord) === after.slice(to, endOfNewWord)) {
      at = endOfWord;
      to = endOfNewWord;
      continue;
    }
    // The words differ (a blank put between two of them, or another spelling): step together as
    // long as they agree, then let what is left be one change up to where the line ends.
    while (at < endOfWord && to < endOfNewWord && before[at] === after[to]) {
      at++;
      to++;
    }
    if (at < endOfWord && to < endOfNewWord) {
      const lineEnd = endOfLine(before, at);
      const newLineEnd = endOfLine(after, to);
      found.push({ start: at, end: lineEnd, text: after.slice(to, newLineEnd) });
      at = lineEnd;
      to = newLineEnd;
    }
  }
  return found;
}

/** A change of a run of blanks without what its two ends have in common. */
function trimmed(before: string, start: number, end: number, text: string): Change {
  let from = start;
  let skip = 0;
  while (from < end && skip < text.length && before[from] === text[skip]) {
    from++;
    skip++;
  }
  let until = end;
  let keep = text.length;
  while (until > from && keep > skip && before[until - 1] === text[keep - 1]) {
    until--;
    keep--;
  }
  return { start: from, end: until, text: text.slice(skip, keep) };
}

function skipBlanks(text: string, from: number): number {
  let at = from;
  while (at < text.length && isBlank(text, at)) at++;
  return at;
}

function skipWord(text: string, from: number): number {
  let at = from;
  while (at < text.length && !isBlank(text, at)) at++;
  return at;
}

function isBlank(text: string, at: number): boolean {
  const letter = text[at];
  return letter === " " || letter === "\t" || letter === "\n" || letter === "\r";
}

function endOfLine(text: string, from: number): number {
  let at = from;
  while (at < text.length && text[at] !== "\n" && text[at] !== "\r") at++;
  return at;
}
