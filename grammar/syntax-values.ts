/**
 * The part of the syntax tree that stands for values: names, figures, formulas, with their places.
 *
 * Must not know: what they are written for, what they mean.
 */

import type { NumberForm } from "../server/units";

/** Half-open range of UTF-16 offsets, counted from the start of the enclosing item. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

export interface Name {
  readonly type: "name";
  readonly text: string;
  readonly span: Span;
}

/** One at least. */
export type Names = readonly [Name, ...Name[]];

/** Dotted names: `rear.left.inner_gap`. An unfinished path (`rear.`) has an empty last name. */
export interface Path {
  readonly type: "path";
  readonly names: Names;
  readonly span: Span;
}

/** Quoted text; `value` is without quotes and escapes. */
export interface Text {
  readonly type: "text";
  readonly value: string;
  readonly span: Span;
}

// ───────────────────────────── expressions ─────────────────────────────

export interface NumberLiteral {
  readonly type: "number";
  readonly value: number;
  /** How it was written; it decides how far the true value may lie from it. */
  readonly form: NumberForm;
  /** As typed, several blanks as one: `61-5/16`, `0.188`. */
  readonly text: string;
  readonly span: Span;
}

export interface UnitReference {
  readonly type: "unit";
  /** As typed: `lb-ft`, `kJ/in`, `%`. */
  readonly text: string;
  readonly span: Span;
}

/** `23 1/2 in`, or several parts for a compound: `5 ft 1 5/16 in`. */
export interface QuantityLiteral {
  readonly type: "quantity";
  readonly parts: readonly { readonly number: NumberLiteral; readonly unit: UnitReference }[];
  readonly span: Span;
}

/** `nominal ± by` (also typed `+-`). */
export interface ToleranceExpression {
  readonly type: "tolerance";
  readonly nominal: Expression;
  readonly by: Expression;
  readonly span: Span;
}

/**
 * `low..high`; where only `high` carries a unit (`0.008..0.012 in`), the parser has put the same
 * unit on `low`, with an empty span at the end of the number. With a nominal: `2.500 in within 2.495..2.510 in`.
 */
export interface LimitsExpression {
  readonly type: "limits";
  readonly nominal?: Expression;
  readonly low: Expression;
  readonly high: Expression;
  readonly span: Span;
}

/** What the trade writes as one word: `275/50R17 101W`, `17x9`, `5x5 in`, `M12x1.5`, `39:11`. */
export interface DesignationLiteral {
  readonly type: "designation";
  /** As typed, several blanks as one. */
  readonly text: string;
  readonly span: Span;
}

export interface YesNoLiteral {
  readonly type: "yes_no";
  readonly value: boolean;
  readonly span: Span;
}

/** ISO 8601 calendar date, `2026-03-14`. */
export interface DateLiteral {
  readonly type: "date";
  readonly text: string;
  readonly span: Span;
}

export interface ListLiteral {
  readonly type: "list";
  readonly items: readonly Expression[];
  readonly span: Span;
}

/** `name(arguments)`: a built-in function, or a table looked up by its keys (`table.column(key)`). */
export interface CallExpression {
  readonly type: "call";
  readonly callee: Path;
  readonly arguments: readonly Expression[];
  /** What follows the parentheses: `each(part).price` has the rest `price`. */
  readonly rest?: Path;
  readonly span: Span;
}

export interface UnaryExpression {
  readonly type: "unary";
  readonly operator: "-" | "not";
  readonly operand: Expression;
  readonly span: Span;
}

export type BinaryOperator =
  | "+"
  | "-"
  | "*"
  | "/"
  | "^"
  | ">="
  | "<="
  | ">"
  | "<"
  | "=="
  | "!="
  | "and"
  | "or";

export interface BinaryExpression {
  readonly type: "binary";
  readonly operator: BinaryOperator;
  readonly left: Expression;
  readonly right: Expression;
  readonly span: Span;
}

/** `if condition then a else b`. */
export interface IfExpression {
  readonly type: "if";
  readonly condition: Expression;
  readonly then: Expression;
  readonly else: Expression;
  readonly span: Span;
}

/** Parentheses, kept so that layout survives. */
export interface GroupExpression {
  readonly type: "group";
  readonly inner: Expression;
  readonly span: Span;
}

/** `?`: the solved value is wanted here. */
export interface Ask {
  readonly type: "ask";
  readonly span: Span;
}

/** Where a value should stand and none does (after a syntax error, or unfinished typing). */
export interface MissingExpression {
  readonly type: "missing";
  readonly span: Span;
}

export type Expression =
  | NumberLiteral
  | QuantityLiteral
  | ToleranceExpression
  | LimitsExpression
  | DesignationLiteral
  | Text
  | YesNoLiteral
  | DateLiteral
  | ListLiteral
  | Path
  | CallExpression
  | UnaryExpression
  | BinaryExpression
  | IfExpression
  | GroupExpression
  | Ask
  | MissingExpression;
