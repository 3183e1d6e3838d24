/**
 * The wording of what can be wrong with the text itself. One function per cause; each gives a
 * stable code, a message in the builder's words, and a fix where one text mends it.
 *
 *     missingValue("`offset:`", "the end of the line", place)
 *       // expected a value after `offset:`, found the end of the line
 *
 * Must not know: how the text is read.
 */
import { closest } from "fastest-levenshtein";
import type { ProblemCode, Span, SyntaxProblem } from "./syntax";
import { clauseWords, resemblesClause } from "./words";

type Fix = NonNullable<SyntaxProblem["fix"]>;

function problem(code: ProblemCode, message: string, span: Span, fix?: Fix): SyntaxProblem {
  return fix === undefined ? { code, message, span } : { code, message, span, fix };
}

function insertion(at: number, text: string, title: string): Fix {
  return { title, span: { start: at, end: at }, text };
}

function replacement(span: Span, text: string): Fix {
  return { title: `write \`${text}\``, span, text };
}

export function missingValue(after: string, found: string, span: Span): SyntaxProblem {
  return problem(
    "syntax/missing-value",
    `expected a value after ${after}, found ${found}`,
    span,
    insertion(span.start, after.endsWith("(`") ? "?" : " ?", "ask for the solved value: `?`"),
  );
}

/** A value is missing inside an expression, where `?` would not do. */
export function missingOperand(after: string, found: string, span: Span): SyntaxProblem {
  return problem("syntax/missing-value", `expected a value after ${after}, found ${found}`, span);
}

export function missingPart(what: string, after: string, found: string, span: Span): SyntaxProblem {
  return problem("syntax/missing-part", `expected ${what} after ${after}, found ${found}`, span);
}

export function missingName(after: string, found: string, span: Span): SyntaxProblem {
  return problem("syntax/missing-name", `expected a name after ${after}, found ${found}`, span);
}

export function missingTitle(
  what: string,
  after: string,
  found: string,
  span: Span,
): SyntaxProblem {
  return problem("syntax/missing-title", `expected ${what} after ${after}, found ${found}`, span);
}

export function missingColon(after: string, found: string, span: Span, at: number): SyntaxProblem {
  return problem(
    "syntax/missing-colon",
    `expected \`:\` after ${after}, found ${found}`,
    span,
    insertion(at, ":", "add `:`"),
  );
}

export function equalsForColon(name: string, span: Span): SyntaxProblem {
  return problem(
    "syntax/missing-colon",
    `a field takes its value after \`:\`, expected \`${name}:\`, found \`${name} =\``,
    span,
    replacement(span, ":"),
  );
}

/** A name stands alone, as while it is being typed. */
export function loneName(name: string, found: string, span: Span): SyntaxProblem {
  return problem(
    "syntax/missing-colon",
    `expected \`:\` and a value after \`${name}\`, found ${found}`,
    span,
  );
}

export function missingBrace(after: string, found: string, span: Span, at: number): SyntaxProblem {
  return problem(
    "syntax/missing-brace",
    `expected \`{\` after ${after}, found ${found}`,
    span,
    insertion(at, " { }", "add `{ }`"),
  );
}

export function unclosedBrace(
  head: string,
  span: Span,
  at: number,
  closing: string,
): SyntaxProblem {
  return problem(
    "syntax/unclosed-brace",
    `\`${head}\` is never closed: add \`}\``,
    span,
    insertion(at, closing, "add `}`"),
  );
}

export function unclosedBracket(
  open: string,
  close: string,
  span: Span,
  at: number,
): SyntaxProblem {
  return problem(
    "syntax/unclosed-bracket",
    `\`${open}\` is never closed: add \`${close}\``,
    span,
    insertion(at, close, `add \`${close}\``),
  );
}

export function unclosedText(span: Span): SyntaxProblem {
  return problem(
    "syntax/unclosed-text",
    'a text in quotes is never closed: add `"` before the end of the line',
    span,
    insertion(span.end, '"', 'add `"`'),
  );
}

export function curlyQuotes(span: Span, value: string): SyntaxProblem {
  return problem(
    "syntax/spelling-of-sign",
    'a text stands in straight quotes `"…"`, found curly ones',
    span,
    { title: "write straight quotes", span, text: `"${value.replaceAll('"', '\\"')}"` },
  );
}

export function strayBrace(span: Span): SyntaxProblem {
  return problem("syntax/stray-brace", "this `}` closes nothing: take it out", span, {
    title: "take out `}`",
    span,
    text: "",
  });
}

export function unexpected(expected: string, found: string, span: Span): SyntaxProblem {
  return problem("syntax/unexpected", `expected ${expected}, found ${found}`, span);
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
export function signSpelling(found: string, span: Span): SyntaxProblem | undefined {
  const spelling = signs.get(found);
  if (spelling === undefined) return undefined;
  return problem(
    "syntax/spelling-of-sign",
    `\`${found}\` is written \`${spelling}\``,
    span,
    replacement(span, spelling),
  );
}

export function inchMark(number: string, span: Span): SyntaxProblem {
  return problem(
    "syntax/inch-mark",
    `inches are written \`in\`: expected \`${number} in\`, found \`${number}"\``,
    span,
    { title: "write `in`", span, text: " in" },
  );
}

export function footMark(number: string, span: Span): SyntaxProblem {
  return problem(
    "syntax/inch-mark",
    `feet are written \`ft\`: expected \`${number} ft\`, found \`${number}'\``,
    span,
    { title: "write `ft`", span, text: " ft" },
  );
}

export function unreadableNumber(text: string, span: Span): SyntaxProblem {
  const why = text.includes("/")
    ? "the lower figure of a fraction cannot be 0, nor have more than nine figures"
    : "it has too many figures";
  return problem("syntax/number", `\`${text}\` is not a number: ${why}`, span);
}

/** `10 in / 3/4 in`: to the signs alone two divisions, to whoever writes it a fraction. */
export function splitFraction(fraction: string, before: string, span: Span): SyntaxProblem {
  return problem(
    "syntax/split-fraction",
    `after \`${before}\` the fraction \`${fraction}\` stands in brackets: \`(${fraction})\``,
    span,
    replacement(span, `(${fraction})`),
  );
}

/** `0 in < x < 2 in` */
export function comparisonInARow(first: string, second: string, span: Span): SyntaxProblem {
  const written = `${first} and ${second}`;
  return problem(
    "syntax/comparison",
    `two comparisons are joined by \`and\`: expected \`${written}\``,
    span,
    replacement(span, written),
  );
}

export function strayPlus(span: Span): SyntaxProblem {
  return problem("syntax/unexpected", "`+` stands before a figure, or between two values", span, {
    title: "take out `+`",
    span,
    text: "",
  });
}

export function noSuchDay(text: string, span: Span): SyntaxProblem {
  return problem(
    "syntax/date",
    `there is no such day: \`${text}\`, a date is year-month-day`,
    span,
  );
}

/** A word followed by a text where only clauses stand. */
export function unknownClause(word: string, span: Span): SyntaxProblem {
  if (resemblesClause(word)) {
    const near = closest(word, [...clauseWords]);
    return problem(
      "syntax/unknown-word",
      `\`${word}\` says nothing here, did you mean \`${near}\`?`,
      span,
      replacement(span, near),
    );
  }
  return problem(
    "syntax/unknown-word",
    `\`${word}\` says nothing here, expected \`source\`, \`because\`, \`advise\` or another such word before a text`,
    span,
  );
}

/** Print and other tools have more words for it than the language. */
export function unknownSeverity(word: string, span: Span): SyntaxProblem {
  const meant = /^(info|information|hint|notice)$/i.test(word)
    ? "note"
    : /^warn/i.test(word)
      ? "warning"
      : /^(fatal|err|fail)/i.test(word)
        ? "error"
        : undefined;
  return problem(
    "syntax/unknown-word",
    `a severity is \`error\`, \`warning\` or \`note\`, not \`${word}\``,
    span,
    meant === undefined ? undefined : replacement(span, meant),
  );
}

export function misplacedClause(word: string, span: Span): SyntaxProblem {
  return problem(
    "syntax/misplaced",
    `\`${word}\` has nothing to speak of: it follows a value, a field, a relation or a check`,
    span,
  );
}

export function misplaced(what: string, where: string, span: Span): SyntaxProblem {
  return problem("syntax/misplaced", `${what} stands ${where}`, span);
}

export function repeatedPart(what: string, span: Span): SyntaxProblem {
  return problem("syntax/misplaced", `${what} is already written: keep one of the two`, span);
}

export function tooDeep(what: string, levels: number, span: Span): SyntaxProblem {
  return problem(
    "syntax/too-deep",
    `${what} lie too deep in one another: expected at most ${levels} levels`,
    span,
  );
}

export function tooManySteps(steps: number, span: Span): SyntaxProblem {
  return problem(
    "syntax/too-deep",
    `this has too many steps in a row: expected at most ${steps}, use \`sum\` or a field of its own`,
    span,
  );
}

export function tooLong(characters: number, span: Span): SyntaxProblem {
  return problem(
    "syntax/too-long",
    `this declaration is too long to read: expected at most ${characters} characters`,
    span,
  );
}

export function conflictMarker(span: Span): SyntaxProblem {
  return problem(
    "syntax/conflict-marker",
    "a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
    span,
  );
}

export function notText(span: Span): SyntaxProblem {
  return problem(
    "syntax/not-text",
    "this does not look like text: expected a build in UTF-8",
    span,
  );
}
