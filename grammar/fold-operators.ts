/**
 * Folds a flat row of values, signs and operators into a tree, by how tightly each binds.
 *
 *     a + b * c   →   a + (b * c)
 *     - x ^ 2     →   - (x ^ 2)
 *     0.008..0.012 in   →   limits, both ends in inches
 *
 * Must not know: tokens other than operators.
 */

import type { IToken, TokenType } from "chevrotain";
import type { SyntaxProblem } from "./problems";
import { comparisonInARow, missingPart, splitFraction, strayPlus, tooManySteps } from "./problems";
import type {
  BinaryExpression,
  BinaryOperator,
  Expression,
  LimitsExpression,
  NumberLiteral,
  UnitReference,
} from "./syntax";
import {
  And,
  Caret,
  DotDot,
  DoubleEquals,
  Greater,
  GreaterEqual,
  Less,
  LessEqual,
  Minus,
  NotEquals,
  Or,
  Plus,
  PlusMinus,
  Slash,
  Star,
  Within,
} from "./tokens";

export type Piece =
  | { readonly node: Expression; readonly height: number }
  | { readonly sign: IToken }
  | { readonly operator: IToken };

/** Levels a tree may have, so that whoever walks it may do so by recursion. */
export const deepest = 400;

const tightness: ReadonlyMap<TokenType, number> = new Map([
  [Or, 1],
  [And, 2],
  [GreaterEqual, 4],
  [LessEqual, 4],
  [Greater, 4],
  [Less, 4],
  [DoubleEquals, 4],
  [NotEquals, 4],
  [Within, 5],
  [DotDot, 5],
  [PlusMinus, 5],
  [Plus, 6],
  [Minus, 6],
  [Star, 7],
  [Slash, 7],
  [Caret, 9],
]);
const comparison = 4;
const sum = 6;
const power = 9;

interface Folded {
  readonly node: Expression;
  readonly height: number;
}

/**
 * The row must alternate: signs before any value, one operator between two values. `text` is what
 * the spans count in.
 */
export function foldOperators(
  pieces: readonly Piece[],
  text: string,
  report: (problem: SyntaxProblem) => void,
): Folded {
  let index = 0;
  let steep = false;
  const whole = fold(0, 0);
  return whole;

  function fold(loosest: number, depth: number): Folded {
    let left = depth > deepest ? giveUp() : operand(depth);
    for (;;) {
      const piece = pieces[index];
      if (piece === undefined || !("operator" in piece)) return left;
      const binds = tightness.get(piece.operator.tokenType) ?? 0;
      if (binds < loosest) return left;
      index++;
      const right = fold(binds === power ? power : binds + 1, depth + 1);
      left = join(left, piece.operator, right, depth);
      if (left.height > deepest) left = giveUp();
    }
  }

  function operand(depth: number): Folded {
    const piece = pieces[index++]!;
    if ("node" in piece) return piece;
    if (!("sign" in piece)) return giveUp();
    if (piece.sign.tokenType === Plus) return positive(piece.sign, depth);
    const minus = piece.sign.tokenType === Minus;
    const of = fold(minus ? power : comparison, depth + 1);
    return {
      node: {
        type: "unary",
        operator: minus ? "-" : "not",
        operand: of.node,
        span: { start: piece.sign.startOffset, end: of.node.span.end },
      },
      height: of.height + 1,
    };
  }

  /** `+6 mm`: the sign belongs to the figure and changes nothing. */
  function positive(sign: IToken, depth: number): Folded {
    const next = pieces[index];
    const of = fold(power, depth + 1);
    const { node } = of;
    if (node.type === "missing") return of;
    if (next === undefined || !("node" in next) || !isFigure(node)) {
      report(strayPlus({ start: sign.startOffset, end: sign.startOffset + 1 }));
      return of;
    }
    return { ...of, node: { ...node, span: { start: sign.startOffset, end: node.span.end } } };
  }

  function join(left: Folded, operator: IToken, right: Folded, depth: number): Folded {
    const span = { start: left.node.span.start, end: right.node.span.end };
    const height = Math.max(left.height, right.height) + 1;
    switch (operator.tokenType) {
      case PlusMinus:
        return { node: { type: "tolerance", nominal: left.node, by: right.node, span }, height };
      case DotDot:
        return { node: limits(left.node, right.node), height };
      case Within: {
        const next = pieces[index];
        if (next !== undefined && "operator" in next && next.operator.tokenType === DotDot) {
          index++;
          const high = fold(sum, depth + 1);
          return {
            node: {
              ...limits(right.node, high.node),
              nominal: left.node,
              span: { start: span.start, end: high.node.span.end },
            },
            height: Math.max(height, high.height + 1),
          };
        }
        const at = right.node.span.end;
        if (right.node.type !== "missing") {
          report(
            missingPart("`..` and the upper limit", "the lower limit", "no `..`", {
              start: at,
              end: at,
            }),
          );
        }
        const missing = { type: "missing", span: { start: at, end: at } } as const;
        return {
          node: { type: "limits", nominal: left.node, low: right.node, high: missing, span },
          height,
        };
      }
      default:
        return (
          meant(left, operator, right) ?? {
            node: {
              type: "binary",
              operator: operator.image as BinaryOperator,
              left: left.node,
              right: right.node,
              span,
            },
            height,
          }
        );
    }
  }

  /**
   * What is meant where the signs alone say something that nobody means: a fraction torn apart, a
   * comparison of three. It is told how to write it.
   */
  function meant(one: Folded, operator: IToken, other: Folded): Folded | undefined {
    const { node: left } = one;
    const { node: right } = other;
    const height = Math.max(one.height, other.height) + 2;
    if (left.type !== "binary" || right.type === "missing") return undefined;
    const upper = left.right;
    const span = { start: left.span.start, end: right.span.end };
    const sign = operator.image as BinaryOperator;
    if (operator.tokenType === Slash && isTornFraction(left, operator, right)) {
      const whole = { start: upper.span.start, end: right.span.end };
      report(splitFraction(text.slice(whole.start, whole.end), left.operator, whole));
      const fraction = asFraction(upper, right, text.slice(whole.start, whole.end));
      const { operator: before } = left;
      return {
        node: { type: "binary", operator: before, left: left.left, right: fraction, span },
        height,
      };
    }
    if (comparisons.has(left.operator) && comparisons.has(sign)) {
      const second = { start: upper.span.start, end: right.span.end };
      const first = text.slice(left.span.start, left.span.end);
      report(comparisonInARow(first, text.slice(second.start, second.end), span));
      const then = { type: "binary", operator: sign, left: upper, right, span: second } as const;
      return { node: { type: "binary", operator: "and", left, right: then, span }, height };
    }
    return undefined;
  }

  /** `a / 3/4 in`, `x ^ 1/2`: the second stroke touches its figures, the sign before stands apart. */
  function isTornFraction(left: BinaryExpression, { startOffset }: IToken, right: Expression) {
    if (left.operator !== "/" && left.operator !== "^") return false;
    const upper = left.right;
    const tight = upper.span.end === startOffset && right.span.start === startOffset + 1;
    const apart = left.operator === "^" || /\s/.test(text.charAt(upper.span.start - 1));
    const lower = right.type === "quantity" ? right.parts[0]?.number : right;
    return tight && apart && isWhole(upper) && lower !== undefined && isWhole(lower);
  }

  /** Drops the rest of the row: it is longer than anything that walks the tree could bear. */
  function giveUp(): Folded {
    const from = index < pieces.length ? index : pieces.length - 1;
    const start = placeOf(pieces[from]!);
    if (!steep) report(tooManySteps(deepest, { start, end: start }));
    steep = true;
    index = pieces.length;
    return { node: { type: "missing", span: { start, end: start } }, height: 1 };
  }
}

const comparisons: ReadonlySet<string> = new Set([">=", "<=", ">", "<", "==", "!="]);

function isFigure(node: Expression): boolean {
  return node.type === "number" || node.type === "quantity" || node.type === "designation";
}

function isWhole(node: Expression): node is NumberLiteral {
  return node.type === "number" && node.form === "whole";
}

/** `3` over `4 in`: three quarters of an inch. */
function asFraction(upper: Expression, right: Expression, written: string): Expression {
  const span = { start: upper.span.start, end: right.span.end };
  const lower = right.type === "quantity" ? right.parts[0]?.number : right;
  if (upper.type !== "number" || lower?.type !== "number") return right;
  const number: NumberLiteral = {
    type: "number",
    value: upper.value / lower.value,
    form: "fraction",
    text: written.slice(0, lower.span.end - span.start),
    span: { start: span.start, end: lower.span.end },
  };
  if (right.type !== "quantity") return number;
  const [first, ...others] = right.parts;
  return first === undefined
    ? number
    : { type: "quantity", parts: [{ number, unit: first.unit }, ...others], span };
}

function placeOf(piece: Piece): number {
  if ("node" in piece) return piece.node.span.start;
  return "sign" in piece ? piece.sign.startOffset : piece.operator.startOffset;
}

function limits(low: Expression, high: Expression): LimitsExpression {
  const unit = unitOf(high);
  return {
    type: "limits",
    low: unit === undefined ? low : withUnit(low, unit),
    high,
    span: { start: low.span.start, end: high.span.end },
  };
}

function unitOf(high: Expression): UnitReference | undefined {
  if (high.type === "unary") return unitOf(high.operand);
  return high.type === "quantity" && high.parts.length === 1 ? high.parts[0]!.unit : undefined;
}

/** A bare number takes over the unit of the upper end; its place is the end of the number. */
function withUnit(low: Expression, unit: UnitReference): Expression {
  if (low.type === "unary" && low.operator === "-") {
    const operand = withUnit(low.operand, unit);
    return operand === low.operand ? low : { ...low, operand };
  }
  return low.type === "number" ? shared(low, unit) : low;
}

function shared(number: NumberLiteral, unit: UnitReference): Expression {
  const end = { start: number.span.end, end: number.span.end };
  return {
    type: "quantity",
    parts: [{ number, unit: { type: "unit", text: unit.text, span: end } }],
    span: number.span,
  };
}
