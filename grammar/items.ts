/**
 * Splits a file into its items: where one top-level declaration ends and the next begins.
 *
 *     splitItems('use "a"\n\n# note\nwheel w { }\n')  // [0, 8]: two items, the note is the second's
 *
 * Items tile the file: each begins where the one before ends, the first at 0, and blanks and
 * comments between two declarations go to the second. Only braces, quotes, comments and the first
 * and last signs of a line are looked at. A brace that is never closed must not swallow the rest:
 * its item ends before the next line that begins a declaration at its very first column.
 *
 * Must not know: the inside of an item.
 */

import { opensComment } from "./number-sign";
import { clauseWords } from "./words";

export interface Split {
  /** Where each item begins, ascending; empty where the text holds no declaration. */
  readonly starts: number[];
  /**
   * Where the first item begins that has an unclosed brace; infinite where there is none. Items from
   * there on may depend on text far behind them.
   */
  readonly openFrom: number;
}

/** The items from `from` on, which must be a place where an item begins. */
export function splitItems(text: string, from = 0): Split {
  const starts: number[] = [];
  let unmatched: readonly number[] | undefined;
  let openFrom = Number.POSITIVE_INFINITY;
  let start = from;
  while (significantFrom(text, start) < text.length) {
    starts.push(start);
    let end = itemEnd(text, start, unmatched);
    if (end === unclosed) {
      unmatched = unmatchedBraces(text, start);
      openFrom = start;
      end = itemEnd(text, start, unmatched);
      if (end === unclosed) end = text.length;
    }
    start = end;
  }
  return { starts, openFrom };
}

/** `itemEnd` found a brace that nothing closes. */
export const unclosed = -1;

/**
 * Where the item that begins at `start` ends: behind its last line, blanks behind it not counted in.
 * Without `unmatched`, an unclosed brace gives `unclosed`; with it, the item is cut short there.
 */
export function itemEnd(text: string, start: number, unmatched?: readonly number[]): number {
  if (matches(entryLine, text, start)) return entryLine.lastIndex;
  let at = significantFrom(text, start);
  if (text[at] === "}" || startsMarker(text, at)) return afterLine(text, at, text[at] === "}");
  let depth = 0;
  let parentheses = 0;
  // Where the last sign of the line stands, comments and blanks left out.
  let last = -1;
  while (at < text.length) {
    if (depth > 0) {
      at = nextOf(insideBraces, text, at);
      if (at >= text.length) break;
    }
    const code = text.charCodeAt(at);
    switch (code) {
      case quote:
        at = afterText(text, at);
        last = at - 1;
        continue;
      case hash:
        if (!opensComment(text, at)) {
          last = at;
          break;
        }
        at = lineEnd(text, at);
        continue;
      case leftBrace:
        if (depth === 0 && unmatched !== undefined && holds(unmatched, at))
          return nextDeclaration(text, at);
        depth++;
        parentheses = 0;
        last = at;
        break;
      case rightBrace:
        last = at;
        if (depth === 1) {
          const end = afterBlock(text, at + 1);
          if (end !== undefined) return end;
        }
        depth = Math.max(0, depth - 1);
        break;
      case newline:
      case carriageReturn:
        if (depth === 0) {
          const next = significantFrom(text, at);
          if (next >= text.length || !goesOn(text, last, next, parentheses)) {
            return afterNewline(text, at);
          }
          at = next;
          continue;
        }
        break;
      case semicolon:
        if (depth === 0) return afterLine(text, at, true);
        last = at;
        break;
      case leftParenthesis:
      case leftBracket:
        parentheses++;
        last = at;
        break;
      case rightParenthesis:
      case rightBracket:
        parentheses--;
        last = at;
        break;
      case blank:
      case tab:
        break;
      default:
        last = at;
    }
    at++;
  }
  return depth > 0 ? unclosed : text.length;
}

/** The first place from `start` on that is no blank, no newline, no `;` and no comment. */
export function significantFrom(text: string, start: number): number {
  let at = start;
  for (;;) {
    const code = text.charCodeAt(at);
    if (code === hash) at = lineEnd(text, at);
    else if (isBlank(code) || code === newline || code === carriageReturn || code === semicolon)
      at++;
    else return at;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const quote = 0x22;
const hash = 0x23;
const leftParenthesis = 0x28;
const rightParenthesis = 0x29;
const leftBracket = 0x5b;
const rightBracket = 0x5d;
const leftBrace = 0x7b;
const rightBrace = 0x7d;
const newline = 0x0a;
const carriageReturn = 0x0d;
const semicolon = 0x3b;
const blank = 0x20;
const tab = 0x09;
const backslash = 0x5c;

/** What the lexer skips. */
function isBlank(code: number): boolean {
  if (code === blank || code === tab) return true;
  if (code < 0xa0) return code === 0x0b || code === 0x0c;
  return (
    code === 0xa0 ||
    code === 0xfeff ||
    (code >= 0x2000 && code <= 0x200b) ||
    code === 0x202f ||
    code === 0x3000
  );
}

/** Behind the closing quote, or at the end of the line. A `"` right behind a figure stands for inches. */
function afterText(text: string, start: number): number {
  const before = text.charCodeAt(start - 1);
  if (before >= 0x30 && before <= 0x39) return start + 1;
  for (let at = start + 1; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === quote) return at + 1;
    if (code === newline || code === carriageReturn) return at;
    if (code === backslash) {
      const next = text.charCodeAt(at + 1);
      if (next !== newline && next !== carriageReturn) at++;
    }
  }
  return text.length;
}

function lineEnd(text: string, start: number): number {
  for (let at = start; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === newline || code === carriageReturn) return at;
  }
  return text.length;
}

function afterNewline(text: string, at: number): number {
  const two = text.charCodeAt(at) === carriageReturn && text.charCodeAt(at + 1) === newline;
  return Math.min(text.length, two ? at + 2 : at + 1);
}

/** Behind the line of `at`; or, where `mayShare`, behind `at` if another item follows on its line. */
function afterLine(text: string, at: number, mayShare: boolean): number {
  if (mayShare) {
    let next = at + 1;
    while (isBlank(text.charCodeAt(next)) || text.charCodeAt(next) === semicolon) next++;
    const code = text.charCodeAt(next);
    const ends = code === newline || code === carriageReturn || code === hash;
    if (next < text.length && !ends) return next;
  }
  return afterNewline(text, lineEnd(text, at));
}

/** Where the item ends whose block closes before `at`; undefined where the line or the next goes on. */
function afterBlock(text: string, at: number): number | undefined {
  let next = at;
  while (isBlank(text.charCodeAt(next)) || text.charCodeAt(next) === semicolon) next++;
  const code = text.charCodeAt(next);
  if (next >= text.length) return text.length;
  if (code === newline || code === carriageReturn || code === hash) return undefined;
  return next;
}

/** True where the line whose last sign stands at `last` is not finished at its end. */
function goesOn(text: string, last: number, next: number, parentheses: number): boolean {
  if (clauseLine(text, next)) return true;
  if (opensDeclaration(text, next)) return false;
  if (parentheses > 0) return true;
  if (last >= 0 && unfinishedSigns.includes(text.charAt(last))) return true;
  if (goingOnSigns.includes(text.charAt(next)) && !startsMarker(text, next)) return true;
  if (matches(goingOnWord, text, next)) return true;
  return last >= 0 && unfinishedWord.test(text.slice(Math.max(0, last - 8), last + 1));
}

const unfinishedSigns = ":=,+-*/^<>±(";
const goingOnSigns = "{,=+-*/^<>!±)]";
const goingOnWord = /(?:then|else|and|or|within)\b(?!\s*[:{.])/y;
const unfinishedWord = /(?:^|[^\w.])(?:when|before|over|from|to|not|if|then|else|and|or|within)$/;

const clauseStart = new RegExp(
  `(?:${[...clauseWords].join("|")})[ \\t]*"|(?:severity|lookup)[ \\t]+[A-Za-z_]\\w*(?![ \\t]*[:{."\\w])`,
  "y",
);

function clauseLine(text: string, next: number): boolean {
  return matches(clauseStart, text, next);
}

/** `name:`, `a.b {`, `kind name {`, `check "…"`: the beginning of something of its own. */
const declarationStart = new RegExp(
  [
    "[A-Za-z_][\\w]*(?:\\.\\w+)*[ \\t]*[:{]",
    '(?:use|check|relation|assume|order|record)[ \\t]*["\\d]',
    "(?:kind|option|table|curve|designation)[ \\t]+[A-Za-z_]",
    '[A-Za-z_]\\w*[ \\t]+[A-Za-z_]\\w*[ \\t]*(?:"[^"\\n\\r]*"[ \\t]*)?(?:like[ \\t]+[A-Za-z_][\\w.]*[ \\t]*)?\\{',
  ].join("|"),
  "y",
);

function opensDeclaration(text: string, next: number): boolean {
  return matches(declarationStart, text, next);
}

/** What ends the damage of an unclosed brace when it stands at the first column. */
const columnStart = new RegExp(
  [
    '(?:use|check|relation|assume|order|record)[ \\t]*["\\d]',
    "(?:kind|option|table|curve|designation)[ \\t]+[A-Za-z_]",
    "display[ \\t]*\\{",
    '[A-Za-z_]\\w*[ \\t]+[A-Za-z_]\\w*[ \\t]*(?:"|\\{|like[ \\t]|\\r?$)',
    "[<>=|]{7}(?:[ \\t\\r]|$)",
  ].join("|"),
  "my",
);

/**
 * Where the item of an unclosed brace at `from` is cut: before the next line that begins a
 * declaration at its first column, and before the blank lines and comments above that line.
 */
function nextDeclaration(text: string, from: number): number {
  let line = afterNewline(text, lineEnd(text, from));
  let cut = line;
  while (line < text.length) {
    if (matches(columnStart, text, line) && !clauseLine(text, line)) return cut;
    const next = afterNewline(text, lineEnd(text, line));
    if (!matches(emptyLine, text, line)) cut = next;
    line = next;
  }
  return text.length;
}

const emptyLine = /[ \t]*(?:#|[\r\n]|$)/y;

const markerStart = /[<>=|]{7}(?:[ \t\r\n]|$)/y;

function startsMarker(text: string, next: number): boolean {
  return matches(markerStart, text, next) && /^(.)\1{6}/.test(text.slice(next, next + 7));
}

/** The places of all `{` from `start` on that no `}` closes, ascending. */
function unmatchedBraces(text: string, start: number): readonly number[] {
  const open: number[] = [];
  let place = nextOf(insideBraces, text, start);
  while (place < text.length) {
    const code = text.charCodeAt(place);
    if (code === quote) place = afterText(text, place);
    else if (code === hash) place = opensComment(text, place) ? lineEnd(text, place) : place + 1;
    else {
      if (code === leftBrace) open.push(place);
      else open.pop();
      place++;
    }
    place = nextOf(insideBraces, text, place);
  }
  return open;
}

/** True where an ascending row holds a value. */
function holds(ascending: readonly number[], value: number): boolean {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return ascending[low] === value;
}

/**
 * An entry of a log that stands on one line, with another one below it. A log holds thousands of them.
 * A quotation mark behind a figure may stand for inches.
 */
const entryLine = (() => {
  const inside = '[^"#{}\\n\\r]*(?:(?<!\\d)"[^"\\\\\\n\\r]*"[^"#{}\\n\\r]*)*';
  return new RegExp(
    `record \\d${inside}\\{${inside}(?:\\{${inside}\\}${inside})*\\}\\r?\\n(?=record \\d)`,
    "y",
  );
})();

/** What counts inside braces. */
const insideBraces = /["#{}]/g;

/** The next place from `from` on where a global pattern matches, or the end. */
function nextOf(pattern: RegExp, text: string, from: number): number {
  pattern.lastIndex = from;
  return pattern.test(text) ? pattern.lastIndex - 1 : text.length;
}

function matches(pattern: RegExp, text: string, place: number): boolean {
  pattern.lastIndex = place;
  return pattern.test(text);
}
