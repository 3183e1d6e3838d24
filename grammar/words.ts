/**
 * The words the language itself knows. All of them are words only in their place: any of them may
 * also be the name of a field or a thing.
 *
 *     clauseWords.has("source")  // true
 *
 * Must not know: kinds, fields and measures, which are declared in the language.
 */

import { closest, distance } from "fastest-levenshtein";

/** Followed by a text (or a name), they say more about the declaration before them. */
export const clauseWords: ReadonlySet<string> = new Set([
  "source",
  "because",
  "advise",
  "code",
  "caution",
  "severity",
  "message",
  "needs",
  "lookup",
  "example",
  "by",
  "with",
  "at",
]);

/** Clause words whose value is a bare name: `severity warning`, `lookup linear`. */
export const namedClauseWords: ReadonlySet<string> = new Set(["severity", "lookup"]);

/** The names such a clause takes. */
export const severities: readonly string[] = ["error", "warning", "note"];
export const waysToLookUp: readonly string[] = ["exact", "linear", "step"];

/** Open a declaration followed by a title: `check "…"`. */
export const titledWords: ReadonlySet<string> = new Set([
  "check",
  "relation",
  "assume",
  "order",
  "record",
  "use",
  "wanted",
]);

/** Open a declaration followed by a name: `kind wheel`. */
export const namedWords: ReadonlySet<string> = new Set([
  "kind",
  "option",
  "table",
  "curve",
  "designation",
]);

/** Stand only at the top of a file, never inside another declaration. */
export const topWords: ReadonlySet<string> = new Set([
  "use",
  "display",
  "option",
  "record",
  "kind",
  "designation",
  "table",
  "order",
]);

/**
 * What a figure is: read off the vehicle, stated by a maker, made by the shop, or how things are to
 * come out; then those that hold whatever else gives way.
 */
export const roleWords: ReadonlySet<string> = new Set([
  "measured",
  "bought",
  "made",
  "wanted",
  "case",
  "setting",
  "limit",
  "constant",
]);

/** How values lie within their limits, behind a ±. */
export const distributionWords: ReadonlySet<string> = new Set(["normal", "triangular", "uniform"]);

/** What may follow a field's type besides its description and clauses. */
export const fieldWords: ReadonlySet<string> = new Set([
  "default",
  "range",
  "shown",
  "optional",
  "found",
  ...roleWords,
]);

/** Words between the parts of a declaration. */
export const joiningWords: ReadonlySet<string> = new Set([
  "when",
  "before",
  "over",
  "from",
  "to",
  "step",
  "is",
  "of",
  "as",
  "like",
  "row",
  "key",
  "form",
]);

/** How often, before the first side of an order: `order "…": last shim before tighten`. */
export const repetitionWords = ["first", "last", "every"] as const;

/** Words of expressions. */
export const expressionWords: ReadonlySet<string> = new Set([
  "if",
  "then",
  "else",
  "and",
  "or",
  "not",
  "within",
  "yes",
  "no",
]);

/** Never a unit, even right after a number: `row 60, 250  row 61, 257`. */
export const notUnits: ReadonlySet<string> = new Set([
  ...clauseWords,
  ...titledWords,
  ...namedWords,
  ...fieldWords,
  ...joiningWords,
  ...expressionWords,
  ...distributionWords,
  "near",
  "together",
]);

/** True for a word that is a slip of the finger or two away from a clause word. */
export function resemblesClause(word: string): boolean {
  if (word.length < 3 || word.length > 20) return false;
  return distance(word, closest(word, [...clauseWords])) <= 2;
}
