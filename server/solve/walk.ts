/**
 * Walks through expressions, conditions included.
 *
 * Must not know: what is looked for.
 */
import type { Condition, Expression } from "./expression";

/**
 * Calls `see` for an expression and for every expression within it, conditions included. Goes down
 * the left side in a loop, so that a sum of thousands of terms does not exhaust the stack.
 */
export function visit(whole: Expression, see: (expression: Expression) => void): void {
  let expression = whole;
  while (isBinary(expression)) {
    see(expression);
    visit(expression.right, see);
    expression = expression.left;
  }
  see(expression);
  switch (expression.op) {
    case "number":
    case "slot":
      return;
    case "negate":
    case "lookup":
      visit(expression.of, see);
      return;
    case "call":
      for (const part of expression.of) visit(part, see);
      return;
    case "if":
      visitCondition(expression.condition, see);
      visit(expression.then, see);
      visit(expression.else, see);
      return;
  }
}

export type TwoSided = Extract<Expression, { left: Expression }>;

export function isBinary(expression: Expression): expression is TwoSided {
  return "right" in expression;
}

export function visitCondition(condition: Condition, see: (expression: Expression) => void): void {
  switch (condition.op) {
    case "always":
      return;
    case "not":
      visitCondition(condition.of, see);
      return;
    case "compare":
      visit(condition.left, see);
      visit(condition.right, see);
      return;
    default:
      visitCondition(condition.left, see);
      visitCondition(condition.right, see);
  }
}
