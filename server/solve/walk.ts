/**
 * Walks through expressions, conditions included, and makes others of them.
 *
 * Must not know: what is looked for, what is put in its place.
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

/**
 * An expression with others in the place of some of its parts, conditions included: of those that
 * `instead` names none the parts are looked at in turn. What stays the same is the very object.
 */
export function rewritten(
  whole: Expression,
  instead: (part: Expression) => Expression | undefined,
): Expression {
  // Up the left side in a loop, as `visit` goes down.
  const above: TwoSided[] = [];
  let part = whole;
  let made = instead(part);
  while (made === undefined && isBinary(part)) {
    above.push(part);
    part = part.left;
    made = instead(part);
  }
  made ??= withParts(part, (inner) => rewritten(inner, instead));
  for (let at = above.length - 1; at >= 0; at--) {
    const two = above[at]!;
    const right = rewritten(two.right, instead);
    made = made === two.left && right === two.right ? two : { ...two, left: made, right };
  }
  return made;
}

type Make = (expression: Expression) => Expression;

function withParts(part: Expression, make: Make): Expression {
  switch (part.op) {
    case "negate":
    case "lookup": {
      const of = make(part.of);
      return of === part.of ? part : { ...part, of };
    }
    case "call": {
      const of = part.of.map(make);
      return of.every((each, at) => each === part.of[at]) ? part : { ...part, of };
    }
    case "if": {
      const condition = conditionWith(part.condition, make);
      const [then, otherwise] = [make(part.then), make(part.else)];
      const same = condition === part.condition && then === part.then && otherwise === part.else;
      return same ? part : { op: "if", condition, then, else: otherwise };
    }
    default:
      return part;
  }
}

/** A condition with other expressions in it. */
export function conditionWith(condition: Condition, make: Make): Condition {
  switch (condition.op) {
    case "always":
      return condition;
    case "not": {
      const of = conditionWith(condition.of, make);
      return of === condition.of ? condition : { op: "not", of };
    }
    case "compare": {
      const [left, right] = [make(condition.left), make(condition.right)];
      const same = left === condition.left && right === condition.right;
      return same ? condition : { ...condition, left, right };
    }
    default: {
      const left = conditionWith(condition.left, make);
      const right = conditionWith(condition.right, make);
      const same = left === condition.left && right === condition.right;
      return same ? condition : { ...condition, left, right };
    }
  }
}
