/**
 * Conditions in formulas: comparisons, and what `and`, `or` and `not` make of them.
 *
 *     offset >= 1/2 in and grade == five
 *
 * Must not know: calls and operators, what holds the formula.
 */
import type * as syntax from "../../grammar/syntax";
import type { Condition } from "../solve/expression";
import { dimensionless, type Measure } from "../units";
import type { Formula } from "./formula";
import type { FormulaValue, NumberValue } from "./formula-value";

type WordValue = Extract<FormulaValue, { is: "word" }>;

import { measureOfUnits } from "./measure-written";

/** What is wrong, or not there, keeps what it stands in from being used: what it says does not matter. */
const notJudged: Condition = { op: "always", value: true };

/** A condition as the solver knows it; what cannot be one is told. */
export function conditionOf<R>(formula: Formula<R>, node: syntax.Expression): Condition {
  switch (node.type) {
    case "group":
      return conditionOf(formula, node.inner);
    case "unary":
      if (node.operator === "not") return negated(conditionOf(formula, node.operand));
      break;
    case "binary": {
      const { operator } = node;
      if (operator === "and" || operator === "or") {
        return joined(operator, conditionOf(formula, node.left), conditionOf(formula, node.right));
      }
      if (isComparison(operator)) return comparison(formula, node, operator);
      break;
    }
    default:
      break;
  }
  const value = formula.value(node);
  if (value.is === "word" && typeof value.value === "boolean") {
    return { op: "always", value: value.value };
  }
  if (value.is !== "nothing") {
    formula.problem({ is: "value/not-a-condition" }, node.span);
  }
  formula.applies = false;
  return notJudged;
}

function comparison<R>(
  formula: Formula<R>,
  node: syntax.BinaryExpression,
  relation: Comparison,
): Condition {
  const bounds = comparedBounds(node);
  if (bounds !== undefined) return conditionOf(formula, bounds);
  const [left, right] = sides(formula, node);
  if (left.is === "nothing" || right.is === "nothing") {
    if (!formula.later) formula.applies = false;
    return notJudged;
  }
  if (left.is === "word" || right.is === "word") {
    if (left.is === "list" || right.is === "list") {
      formula.oneOfSeveral(left.is === "list" ? node.left.span : node.right.span);
      return notJudged;
    }
    if (left.is !== right.is) {
      const told = { left: spoken(left), right: spoken(right) };
      formula.problem({ is: "value/clash", ...told }, node.span);
      return notJudged;
    }
    const [one, other] = [left, right] as [WordValue, WordValue];
    return { op: "always", value: compareWords(relation, one.value, other.value) };
  }
  if (left.is !== "number" || right.is !== "number") {
    formula.oneOfSeveral(left.is === "list" ? node.left.span : node.right.span);
    return notJudged;
  }
  formula.agree(left, right, node.span, relation);
  const base = left.zero ? right : left;
  formula.compared = {
    relation,
    left: left.expression,
    right: right.expression,
    dimension: base.dimension,
    measure: left.measure ?? right.measure ?? angleIn(base, node),
    leftNode: node.left,
    rightNode: node.right,
  };
  return { op: "compare", relation, left: left.expression, right: right.expression };
}

/** A bare word beside a choice or text is that word: `grade == five`. */
function sides<R>(
  formula: Formula<R>,
  node: syntax.BinaryExpression,
): [FormulaValue, FormulaValue] {
  const asWord = (side: syntax.Expression, other: syntax.Expression): FormulaValue | undefined => {
    if (side.type !== "path" || side.names.length !== 1) return undefined;
    // A thing that happens to be called like a choice does not change what a kind says.
    if (!["unknown", "thing"].includes(formula.environment.denote(side).is)) return undefined;
    const known = other.type === "path" ? formula.environment.denote(other) : undefined;
    if (known === undefined || !["word", "later", "unset"].includes(known.is)) return undefined;
    return { is: "word", value: side.names[0].text };
  };
  const leftWord = asWord(node.left, node.right);
  const rightWord = asWord(node.right, node.left);
  const left = leftWord ?? formula.value(node.left);
  const right =
    rightWord ?? formula.value(node.right, left.is === "number" ? left.dimension : undefined);
  return [left, right];
}

// ───────────────────────────── helpers ─────────────────────────────

/** `atan(rise / run) >= 62 deg` compares angles, though its left side tells no measure. */
function angleIn({ dimension }: NumberValue, node: syntax.BinaryExpression): Measure | undefined {
  if (dimension.key !== dimensionless.key) return undefined;
  return measureOfUnits([node.left, node.right]);
}

type Comparison = ">=" | "<=" | ">" | "<" | "==" | "!=";

function isComparison(operator: syntax.BinaryOperator): operator is Comparison {
  return [">=", "<=", ">", "<", "==", "!="].includes(operator);
}

function negated(condition: Condition): Condition {
  return condition.op === "always"
    ? { op: "always", value: !condition.value }
    : { op: "not", of: condition };
}

function joined(op: "and" | "or", left: Condition, right: Condition): Condition {
  const decisive = op === "or";
  if (left.op === "always") return left.value === decisive ? left : right;
  if (right.op === "always") return right.value === decisive ? right : left;
  return { op, left, right };
}

function compareWords(
  relation: Comparison,
  left: string | boolean,
  right: string | boolean,
): boolean {
  const one = String(left);
  const other = String(right);
  switch (relation) {
    case "==":
      return one === other;
    case "!=":
      return one !== other;
    case ">=":
      return one >= other;
    case "<=":
      return one <= other;
    case ">":
      return one > other;
    case "<":
      return one < other;
  }
}

/** `x == 3 in ± 0.1 in` and `x == 2..4 in` ask whether x lies between two bounds. */
function comparedBounds(node: syntax.BinaryExpression): syntax.Expression | undefined {
  if (node.operator !== "==" && node.operator !== "!=") return undefined;
  const { left, right, span } = node;
  const binary = (
    operator: syntax.BinaryOperator,
    one: syntax.Expression,
    other: syntax.Expression,
  ): syntax.Expression => ({ type: "binary", operator, left: one, right: other, span });
  let between: syntax.Expression | undefined;
  if (right.type === "limits") {
    between = binary("and", binary(">=", left, right.low), binary("<=", left, right.high));
  } else if (right.type === "tolerance") {
    between = binary(
      "and",
      binary(">=", left, binary("-", right.nominal, right.by)),
      binary("<=", left, binary("+", right.nominal, right.by)),
    );
  }
  if (between === undefined || node.operator === "==") return between;
  return { type: "unary", operator: "not", operand: between, span };
}

/** A side of a comparison as a finding tells of it. */
function spoken(value: NumberValue | Extract<FormulaValue, { is: "word" }>) {
  return value.is === "number" ? { dimension: value.dimension } : { word: value.value };
}
