/**
 * Values while a formula is compiled, and arithmetic with them.
 *
 *     combined("divide", width, constant(2, dimensionless), length)   →   slot 1 / 2, a length
 *
 * Written numbers are put together at once. Must not know: names, syntax, findings.
 */
import type { Expression } from "../solve/expression";
import { type Dimension, dimensionless, type Measure, sameDimension } from "../units";

export interface NumberValue {
  readonly is: "number";
  readonly expression: Expression;
  readonly dimension: Dimension;
  readonly measure?: Measure;
  /** A written 0 fits every dimension. */
  readonly zero?: boolean;
  /** Value where no unknown takes part in it; asked only where a table or a kit is read by it. */
  readonly known?: () => number | undefined;
  /** Each particular thing will know it (a part of its designation), so a table can wait for it. */
  readonly settled?: boolean;
}

export type FormulaValue =
  | NumberValue
  | { readonly is: "word"; readonly value: string | boolean }
  | { readonly is: "list"; readonly items: readonly FormulaValue[] }
  | { readonly is: "nothing" };

export const nothing: FormulaValue = { is: "nothing" };
export const placeholder: NumberValue = {
  is: "number",
  expression: { op: "number", value: 0 },
  dimension: dimensionless,
  zero: true,
};

export function constant(
  value: number,
  dimension: Dimension,
  measure?: Measure,
  zero = false,
): NumberValue {
  return {
    is: "number",
    expression: { op: "number", value },
    dimension,
    measure,
    zero,
    known: () => value,
  };
}

export function combined(
  op: "add" | "subtract" | "multiply" | "divide" | "power",
  left: NumberValue,
  right: NumberValue,
  dimension: Dimension,
  measure?: Measure,
): NumberValue {
  const expression = folded({ op, left: left.expression, right: right.expression });
  return {
    is: "number",
    expression,
    dimension,
    measure,
    known: both(left, right, (one, other) => calculate(op, one, other)),
    zero: false,
  };
}

/** A number that is known where two others are. */
function both(
  left: NumberValue,
  right: NumberValue,
  make: (left: number, right: number) => number,
): NumberValue["known"] {
  const { known: one } = left;
  const { known: other } = right;
  if (one === undefined || other === undefined) return undefined;
  return () => {
    const first = one();
    const second = first === undefined ? undefined : other();
    return first === undefined || second === undefined ? undefined : make(first, second);
  };
}

function calculate(op: string, left: number, right: number): number {
  switch (op) {
    case "add":
      return left + right;
    case "subtract":
      return left - right;
    case "multiply":
      return left * right;
    case "divide":
      return left / right;
    default:
      return left ** right;
  }
}

/** Written numbers are put together at once, so that the solver sees fewer steps. */
export function folded(expression: Expression): Expression {
  let value: number | undefined;
  if (expression.op === "negate" && expression.of.op === "number") value = -expression.of.value;
  if ("left" in expression && expression.left.op === "number" && expression.right.op === "number") {
    value = calculate(expression.op, expression.left.value, expression.right.value);
  }
  return value !== undefined && Number.isFinite(value) ? { op: "number", value } : expression;
}

/** A length times a plain number still is that kind of length. */
export function keptMeasure(
  dimension: Dimension,
  left: NumberValue,
  right: NumberValue,
): Measure | undefined {
  if (
    left.measure !== undefined &&
    sameDimension(left.measure.dimension, dimension) &&
    dimension.key !== ""
  )
    return left.measure;
  if (
    right.measure !== undefined &&
    sameDimension(right.measure.dimension, dimension) &&
    dimension.key !== ""
  )
    return right.measure;
  return undefined;
}

/** The numbers of a list, where no unknown takes part in any of them. */
export function knownNumbers(list: FormulaValue): number[] | undefined {
  const numbers: number[] = [];
  for (const item of flattened(list)) {
    const known = item.is === "number" ? item.known?.() : undefined;
    if (known === undefined) return undefined;
    numbers.push(known);
  }
  return numbers;
}

export function flattened(value: FormulaValue): readonly FormulaValue[] {
  return value.is === "list" ? value.items.flatMap(flattened) : [value];
}
