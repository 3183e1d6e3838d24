/**
 * What can be wrong with the text itself, as data: what was expected, what stands there. It is told in
 * words elsewhere, `server/findings/text.ts` for a builder.
 *
 *     missingValue("`offset:`", "the end of the line", place)
 *       // { is: "syntax/missing-value", after: "`offset:`", found: "the end of the line", span }
 *
 * Must not know: how the text is read, how any of it is told.
 */
import { closest } from "fastest-levenshtein";
import type { Span } from "./syntax";
import { clauseWords, resemblesClause } from "./words";

/** Something is expected behind what was read last; both as the text has them: `offset:`, "the end of the line". */
interface Missing {
  readonly after: string;
  readonly found: string;
}

/** Where a text that mends it belongs, counted like spans. */
interface Mended {
  readonly at: number;
}

/** A code, and where it has several sentences a word after it, with what there is to say. */
export type SyntaxFact =
  | ({ readonly is: "syntax/missing-value" | "syntax/missing-value operand" } & Missing)
  | ({ readonly is: "syntax/missing-name" } & Missing)
  | ({
      readonly is: "syntax/missing-part" | "syntax/missing-title";
      readonly what: string;
    } & Missing)
  | ({ readonly is: "syntax/missing-colon" | "syntax/missing-brace" } & Missing & Mended)
  | { readonly is: "syntax/missing-colon equals"; readonly name: string }
  | { readonly is: "syntax/missing-colon lone"; readonly name: string; readonly found: string }
  | ({
      readonly is: "syntax/unclosed-brace";
      readonly head: string;
      readonly closing: string;
    } & Mended)
  | ({
      readonly is: "syntax/unclosed-bracket";
      readonly open: string;
      readonly close: string;
    } & Mended)
  | { readonly is: "syntax/unclosed-text" | "syntax/stray-brace" | "syntax/unexpected plus" }
  | { readonly is: "syntax/unexpected"; readonly expected: string; readonly found: string }
  | { readonly is: "syntax/spelling-of-sign"; readonly sign: string; readonly spelling: string }
  /** `value`: what stands in curly quotes. */
  | { readonly is: "syntax/spelling-of-sign quotes"; readonly value: string }
  | { readonly is: "syntax/inch-mark" | "syntax/inch-mark foot"; readonly number: string }
  | { readonly is: "syntax/number" | "syntax/date"; readonly text: string }
  | { readonly is: "syntax/split-fraction"; readonly fraction: string; readonly before: string }
  | { readonly is: "syntax/comparison"; readonly first: string; readonly second: string }
  | {
      readonly is: "syntax/unknown-word" | "syntax/unknown-word severity";
      readonly word: string;
      /** What was likely meant. */
      readonly near: string | undefined;
    }
  | { readonly is: "syntax/misplaced"; readonly what: string; readonly where: string }
  | { readonly is: "syntax/misplaced clause"; readonly word: string }
  | { readonly is: "syntax/misplaced repeated"; readonly what: string }
  | { readonly is: "syntax/too-deep"; readonly what: string; readonly levels: number }
  | { readonly is: "syntax/too-deep steps"; readonly steps: number }
  | { readonly is: "syntax/too-long"; readonly characters: number }
  | { readonly is: "syntax/conflict-marker" | "syntax/not-text" };

/** A fact at its place within the item. */
export type SyntaxProblem = SyntaxFact & { readonly span: Span };

export function missingValue(after: string, found: string, span: Span): SyntaxProblem {
  return { is: "syntax/missing-value", after, found, span };
}

/** A value is missing inside an expression, where `?` would not do. */
export function missingOperand(after: string, found: string, span: Span): SyntaxProblem {
  return { is: "syntax/missing-value operand", after, found, span };
}

export function missingPart(what: string, after: string, found: string, span: Span): SyntaxProblem {
  return { is: "syntax/missing-part", what, after, found, span };
}

export function missingName(after: string, found: string, span: Span): SyntaxProblem {
  return { is: "syntax/missing-name", after, found, span };
}

export function missingTitle(
  what: string,
  after: string,
  found: string,
  span: Span,
): SyntaxProblem {
  return { is: "syntax/missing-title", what, after, found, span };
}

export function missingColon(after: string, found: string, span: Span, at: number): SyntaxProblem {
  return { is: "syntax/missing-colon", after, found, at, span };
}

export function equalsForColon(name: string, span: Span): SyntaxProblem {
  return { is: "syntax/missing-colon equals", name, span };
}

/** A name stands alone, as while it is being typed. */
export function loneName(name: string, found: string, span: Span): SyntaxProblem {
  return { is: "syntax/missing-colon lone", name, found, span };
}

export function missingBrace(after: string, found: string, span: Span, at: number): SyntaxProblem {
  return { is: "syntax/missing-brace", after, found, at, span };
}

export function unclosedBrace(
  head: string,
  span: Span,
  at: number,
  closing: string,
): SyntaxProblem {
  return { is: "syntax/unclosed-brace", head, at, closing, span };
}

export function unclosedBracket(
  open: string,
  close: string,
  span: Span,
  at: number,
): SyntaxProblem {
  return { is: "syntax/unclosed-bracket", open, close, at, span };
}

export function unclosedText(span: Span): SyntaxProblem {
  return { is: "syntax/unclosed-text", span };
}

export function curlyQuotes(span: Span, value: string): SyntaxProblem {
  return { is: "syntax/spelling-of-sign quotes", value, span };
}

export function strayBrace(span: Span): SyntaxProblem {
  return { is: "syntax/stray-brace", span };
}

export function unexpected(expected: string, found: string, span: Span): SyntaxProblem {
  return { is: "syntax/unexpected", expected, found, span };
}

/** Signs as print has them, and how they are typed here. */
const signs: ReadonlyMap<string, string> = new Map([
  ["≥", ">="],
  ["≤", "<="],
  ["≠", "!="],
  ["×", "*"],
  ["·", "*"],
  ["÷", "/"],
  ["−", "-"],
  ["–", "-"],
  ["—", "-"],
  ["=>", ">="],
  ["=<", "<="],
  ["…", ".."],
  ["½", "1/2"],
  ["¼", "1/4"],
  ["¾", "3/4"],
  ["⅛", "1/8"],
  ["⅜", "3/8"],
  ["⅝", "5/8"],
  ["⅞", "7/8"],
]);

/** For a sign that has another spelling here; undefined for any other. */
export function signSpelling(sign: string, span: Span): SyntaxProblem | undefined {
  const spelling = signs.get(sign);
  return spelling === undefined
    ? undefined
    : { is: "syntax/spelling-of-sign", sign, spelling, span };
}

export function inchMark(number: string, span: Span): SyntaxProblem {
  return { is: "syntax/inch-mark", number, span };
}

export function footMark(number: string, span: Span): SyntaxProblem {
  return { is: "syntax/inch-mark foot", number, span };
}

export function unreadableNumber(text: string, span: Span): SyntaxProblem {
  return { is: "syntax/number", text, span };
}

/** `10 in / 3/4 in`: to the signs alone two divisions, to whoever writes it a fraction. */
export function splitFraction(fraction: string, before: string, span: Span): SyntaxProblem {
  return { is: "syntax/split-fraction", fraction, before, span };
}

/** `0 in < x < 2 in` */
export function comparisonInARow(first: string, second: string, span: Span): SyntaxProblem {
  return { is: "syntax/comparison", first, second, span };
}

export function strayPlus(span: Span): SyntaxProblem {
  return { is: "syntax/unexpected plus", span };
}

export function noSuchDay(text: string, span: Span): SyntaxProblem {
  return { is: "syntax/date", text, span };
}

/** A word followed by a text where only clauses stand. */
export function unknownClause(word: string, span: Span): SyntaxProblem {
  const near = resemblesClause(word) ? closest(word, [...clauseWords]) : undefined;
  return { is: "syntax/unknown-word", word, near, span };
}

/** Print and other tools have more words for it than the language. */
export function unknownSeverity(word: string, span: Span): SyntaxProblem {
  const near = /^(info|information|hint|notice)$/i.test(word)
    ? "note"
    : /^warn/i.test(word)
      ? "warning"
      : /^(fatal|err|fail)/i.test(word)
        ? "error"
        : undefined;
  return { is: "syntax/unknown-word severity", word, near, span };
}

export function misplacedClause(word: string, span: Span): SyntaxProblem {
  return { is: "syntax/misplaced clause", word, span };
}

export function misplaced(what: string, where: string, span: Span): SyntaxProblem {
  return { is: "syntax/misplaced", what, where, span };
}

export function repeatedPart(what: string, span: Span): SyntaxProblem {
  return { is: "syntax/misplaced repeated", what, span };
}

export function tooDeep(what: string, levels: number, span: Span): SyntaxProblem {
  return { is: "syntax/too-deep", what, levels, span };
}

export function tooManySteps(steps: number, span: Span): SyntaxProblem {
  return { is: "syntax/too-deep steps", steps, span };
}

export function tooLong(characters: number, span: Span): SyntaxProblem {
  return { is: "syntax/too-long", characters, span };
}

export function conflictMarker(span: Span): SyntaxProblem {
  return { is: "syntax/conflict-marker", span };
}

export function notText(span: Span): SyntaxProblem {
  return { is: "syntax/not-text", span };
}
