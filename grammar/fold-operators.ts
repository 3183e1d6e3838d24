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
import { missingPart, tooManySteps } from "./problems";
import type {
  BinaryOperator,
  Expression,
  LimitsExpression,
  NumberLiteral,
  SyntaxProblem,
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

/** The row must alternate: signs before any value, one operator between two values. */
export function foldOperators(
  pieces: readonly Piece[],
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
        return {
          node: {
            type: "binary",
            operator: operator.image as BinaryOperator,
            left: left.node,
            right: right.node,
            span,
          },
          height,
        };
    }
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
