/**
 * The literals whose reading depends on what stands around them: numbers and fractions, units,
 * designations, dates, texts. Each function matches at one place of a text or gives null.
 *
 *     61 5/16 in   →  number `61 5/16`, unit `in`
 *     5x5 in       →  one designation
 *     3/8-24       →  one designation
 *     61-5/16       →  number
 *
 * Must not know: what a unit or a designation means.
 */
import type { CustomPatternMatcherFunc, CustomPatternMatcherReturn, IToken } from "chevrotain";
import { isUnitSymbol, unitOfTwoWords } from "../server/units";
import { opensComment } from "./number-sign";
import { notUnits, resemblesClause } from "./words";

type Match = CustomPatternMatcherReturn | null;

// ───────────────────────────── numbers ─────────────────────────────

const decimal = /(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+(?![\w.]))?/y;
/** A fraction is one number only where no other operator claims its figures. */
const fraction = /\d+\/\d+(?![\d/]|\.\d|[ \t]*\^)/y;
const mixed = /\d+(?:[ \t]+|-)\d+\/\d+(?![\d/]|\.\d|[ \t]*\^)/y;

export const matchNumber: CustomPatternMatcherFunc = (text, offset, tokens): Match => {
  const before = tokens.at(-1)?.image;
  if (before !== "/" && before !== "^") {
    const image = at(mixed, text, offset) ?? at(fraction, text, offset);
    if (image !== undefined) return [image];
  }
  const image = at(decimal, text, offset);
  return image === undefined ? null : [image];
};

// ───────────────────────────── units ─────────────────────────────

const unitWord =
  /[%°]|°?[A-Za-z_µμΩ\u00c0-\u024f\u0370-\u1fff][\w°µμΩ\u00c0-\u024f\u0370-\u1fff]*/y;
const unitPower = /\^-?\d+/y;
/** A name with `:` or `{` after it opens the next member, whatever the name. */
const nextMember = /(?:\.\w+)*[ \t]*[:{]/y;
const nextText = /[ \t]*"/y;
const colonNext = /[ \t]*:/y;
/** `axle rear {`, `axle rear "…" like front {`, `left like right {`: the rest of such a head. */
const nextThing =
  /(?:[ \t]+[A-Za-z_]\w*)?[ \t]*(?:"[^"\n\r]*"[ \t]*)?(?:like[ \t]+[A-Za-z_][\w.]*[ \t]*)?\{/y;

export const matchUnit: CustomPatternMatcherFunc = (text, offset, tokens): Match => {
  const before = tokens.at(-1);
  if (before === undefined || before.tokenType.name !== "NumberWord") return null;
  const image = unitAt(text, offset, () => insideCondition(tokens));
  return image === undefined ? null : [image];
};

/** The longest unit that begins at `offset`, an unknown word included; undefined for none. */
function unitAt(text: string, offset: number, colonMayFollow: () => boolean): string | undefined {
  const known = knownUnitAt(text, offset);
  const image = known ?? at(unitWord, text, offset);
  if (image === undefined || notUnits.has(image)) return undefined;
  const end = offset + image.length;
  if (at(nextMember, text, end) !== undefined) {
    if (at(colonNext, text, end) === undefined || !colonMayFollow()) return undefined;
  }
  if (known === undefined) {
    if (at(nextThing, text, end) !== undefined) return undefined;
    if (at(nextText, text, end) !== undefined && resemblesClause(image)) return undefined;
  }
  return image;
}

/** Known symbols joined by `-`, `/`, `*` and powers: `lb-ft`, `kg/m^3`. */
function knownUnitAt(text: string, offset: number): string | undefined {
  const first = at(unitOfTwoWords, text, offset) ?? at(unitWord, text, offset);
  if (first === undefined || !isUnitSymbol(first)) return undefined;
  let end = offset + first.length;
  for (;;) {
    end += at(unitPower, text, end)?.length ?? 0;
    const joint = text[end];
    if (joint !== "-" && joint !== "/" && joint !== "*") break;
    const next = at(unitWord, text, end + 1);
    if (next === undefined || !isUnitSymbol(next)) break;
    end += 1 + next.length;
  }
  return text.slice(offset, end);
}

/** True between `when` and the `:` that ends its condition. */
function insideCondition(tokens: readonly IToken[]): boolean {
  for (let index = tokens.length - 1; index >= 0; index--) {
    const image = tokens[index]?.image;
    if (image === "when") return tokens[index + 1]?.image !== ":";
    if (image === ":" || image === "{" || image === "}" || image === ";") return false;
  }
  return false;
}

// ───────────────────────────── designations ─────────────────────────────

const figure = "\\d+(?:\\.\\d+)?";
const mixedFigure = "\\d+[ -]\\d+/\\d+";
const designation = new RegExp(
  [
    // 6.5Jx16, 6J x 15, 7 1/2Jx17
    `(?:${mixedFigure}|${figure})(?:[ ]?[A-Z]{1,2}[ ]?[xX][ ]?|(?<=/\\d+)[xX])${figure}(?:[A-Z]{1,2}\\d?)?(?!\\w)`,
    // 15x6 1/2, 15x6-1/2JJ
    `${figure}[xX]${mixedFigure}[A-Z]{0,2}(?![\\w/])`,
    // M12 x 1.5, M10x1.25-6g
    `[A-Z]${figure}(?:[ ]?[xX][ ]?${figure})?(?:-\\d[a-zA-Z](?!\\w)|(?<=[xX][ ]?[\\d.]+)(?!\\w))`,
    // M12x1.5, 17x9, 5x5, 31x10.50R15LT, 17x9J, LT31x10.50R15
    `(?:[A-Z]{1,3})?${figure}(?:[xX]${figure})+(?:(?:[A-Z]{1,3}|-)${figure})?[A-Z]{0,2}(?!\\w)`,
    // 275/50R17, P215/65ZR15, LT235/75R15
    `(?:[A-Z]{1,3})?${figure}/${figure}[A-Z]{1,3}${figure}[A-Z]{0,2}(?!\\w)`,
    // 205R16, 195R14C, 175HR14, 7.00R16
    `(?!\\d+E\\d)${figure}[A-Z]{1,2}${figure}[A-Z]{0,2}(?!\\w)`,
    // 7.50-16, E70-15, A2-70
    "(?:\\d+\\.\\d\\d|[A-Z]{1,2}\\d{1,2})-\\d\\d(?![\\d.\\w/])",
    // #10-32: only where no comment begins there
    "#\\d+-\\d+(?![\\d/.\\w])",
    // 3/8-24, 7/16-14
    "\\d+/\\d+-\\d+(?![\\d/.\\w])",
    // 39:11
    "\\d+:\\d+(?![\\d:.\\w])",
  ].join("|"),
  "y",
);
/** `101W`, `116/112S`: figures with one or two capitals right behind, also in brackets. */
const ratedWord = /\d+(?:\/\d+)?[A-Z]{1,2}(?![\w/])/y;
const ratedWordNext =
  /(?:[ \t]+(?:\d+(?:\/\d+)?[A-Z]{1,2}|\d+\/\d+|\(\d+(?:\/\d+)?[A-Z]{1,2}\))(?![\w/])){1,2}/y;
/** `UNF`, `XL`, `M+S`: words in capitals right after a designation. */
const capitalsNext = /[ \t]+[A-Z]{1,4}(?:\d|\+[A-Z]|-\d[A-Z])?(?![\w.]|[ \t]*[:{])/y;
const blanks = /[ \t]+/y;

export const matchDesignation: CustomPatternMatcherFunc = (text, offset, tokens): Match => {
  const code = at(designation, text, offset);
  if (code === undefined) return matchRatedWord(text, offset, tokens.at(-1));
  let end = offset + code.length;
  const rating = at(ratedWordNext, text, end);
  if (rating !== undefined) {
    end += rating.length;
  } else {
    const gap = at(blanks, text, end)?.length ?? 0;
    const unit = gap > 0 && knownUnitAt(text, end + gap) !== undefined;
    const image = unit ? unitAt(text, end + gap, () => insideCondition(tokens)) : undefined;
    if (image !== undefined) return [text.slice(offset, end + gap + image.length)];
  }
  for (
    let more = at(capitalsNext, text, end);
    more !== undefined;
    more = at(capitalsNext, text, end)
  ) {
    end += more.length;
  }
  return [text.slice(offset, end)];
};

/** `101W` alone is one word unless its letters are a unit: `12V` is a quantity. */
function matchRatedWord(text: string, offset: number, before: IToken | undefined): Match {
  if (before?.image === "/" || before?.image === "^") return null;
  const word = at(ratedWord, text, offset);
  if (word === undefined) return null;
  const letters = word.slice(word.search(/[A-Z]/));
  return isUnitSymbol(letters) ? null : [word];
}

const comment = /#[^\n\r]*/y;

export const matchComment: CustomPatternMatcherFunc = (text, offset): Match => {
  const image = opensComment(text, offset) ? at(comment, text, offset) : undefined;
  return image === undefined ? null : [image];
};

// ───────────────────────────── dates and texts ─────────────────────────────

const date = /\d{4}-\d{2}-\d{2}(?![\w-])/y;

export const matchDate: CustomPatternMatcherFunc = (text, offset): Match => {
  const image = at(date, text, offset);
  return image === undefined ? null : [image];
};

/** In the calendar: `2026-02-31` is not. */
export function isDay(text: string): boolean {
  const [year = 0, month = 0, day = 0] = text.split("-").map(Number);
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const days = month === 2 ? (isLeap ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
  return month >= 1 && month <= 12 && day >= 1 && day <= days;
}

/** A `"` that touches the number before it stands for inches. */
export const matchInchMark: CustomPatternMatcherFunc = (text, offset, tokens): Match => {
  const before = tokens.at(-1);
  if (before === undefined || before.tokenType.name !== "NumberWord") return null;
  return text[offset] === '"' && before.startOffset + before.image.length === offset ? ['"'] : null;
};

const textEnd = /["“”„\\\n\r]/g;

/** Quotes of any kind; the parser says which are not right. */
export const matchText: CustomPatternMatcherFunc = (text, offset): Match => {
  const first = text[offset];
  // The lexer tries this for whole ranges of rare letters, not for quotes alone.
  if (first === undefined || !'"“”„'.includes(first)) return null;
  const curly = first !== '"';
  textEnd.lastIndex = offset + 1;
  for (;;) {
    const found = textEnd.exec(text);
    if (found === null) return [text.slice(offset)];
    const mark = found[0];
    if (mark === "\n" || mark === "\r") return [text.slice(offset, found.index).trimEnd()];
    if (mark === "\\") {
      const next = text[found.index + 1];
      if (next !== "\n" && next !== "\r") textEnd.lastIndex = found.index + 2;
    } else if (mark === '"' ? !curly : curly) {
      return [text.slice(offset, found.index + 1)];
    }
  }
};

const marker = /(?:<{7}|={7}|>{7}|\|{7})(?=[ \t\r\n]|$)[^\n\r]*/y;

export const matchConflictMarker: CustomPatternMatcherFunc = (text, offset): Match => {
  const before = text[offset - 1];
  if (before !== undefined && before !== "\n" && before !== "\r") return null;
  const image = at(marker, text, offset);
  return image === undefined ? null : [image.trimEnd()];
};

const unknownRun = /[^\w\s"#{}()[\]:;,?.±+\-*/^=<>|“”„\u00a0-\u1fff\u2c00-\ud7ff]+/y;

/** A run of characters the language has no use for, or one stray character. */
export const matchUnknown: CustomPatternMatcherFunc = (text, offset): Match => [
  at(unknownRun, text, offset) ?? text.charAt(offset),
];

function at(pattern: RegExp, text: string, offset: number): string | undefined {
  pattern.lastIndex = offset;
  return pattern.exec(text)?.[0];
}
