/**
 * The solver's formulas: numbers, slots and operations, in coherent SI, without names or units.
 *
 * A slot stands for "the n-th quantity of this equation", so that one formula serves every thing
 * of a kind: `{ op: "subtract", left: slot(0), right: slot(1) }`.
 *
 * Must not know: text, units, kinds, files.
 */

export type Expression =
  | { readonly op: "number"; readonly value: number }
  | { readonly op: "slot"; readonly index: number }
  | {
      readonly op: "add" | "subtract" | "multiply" | "divide" | "power";
      readonly left: Expression;
      readonly right: Expression;
    }
  | { readonly op: "negate"; readonly of: Expression }
  | { readonly op: "call"; readonly name: FunctionName; readonly of: readonly Expression[] }
  | { readonly op: "lookup"; readonly curve: LookupCurve; readonly of: Expression }
  | {
      readonly op: "if";
      readonly condition: Condition;
      readonly then: Expression;
      readonly else: Expression;
    };

/** `round`, `floor` and `ceil` take an optional second argument, the step. Angles in radians. */
export type FunctionName =
  | "abs"
  | "sqrt"
  | "min"
  | "max"
  | "exp"
  | "log"
  | "sin"
  | "cos"
  | "tan"
  | "asin"
  | "acos"
  | "atan"
  | "atan2"
  | "round"
  | "floor"
  | "ceil";

/** `if condition then yes else no`. */
export function choice(condition: Condition, yes: Expression, no: Expression): Expression {
  return { op: "if", condition, then: yes, else: no };
}

export type Condition =
  | { readonly op: "always"; readonly value: boolean }
  | {
      readonly op: "compare";
      readonly relation: ">=" | "<=" | ">" | "<" | "==" | "!=";
      readonly left: Expression;
      readonly right: Expression;
    }
  | { readonly op: "and" | "or"; readonly left: Condition; readonly right: Condition }
  | { readonly op: "not"; readonly of: Condition };

/**
 * A table of one numeric key: straight lines between its points (`linear`), or only at its points
 * (`exact`), or the value of the nearest key not above (`step`, kept up to and excluding the next; the last for
 * all that is larger).
 * Keys ascend. Outside the keys, or between the points of an exact table, there is no value (NaN).
 */
export interface LookupCurve {
  readonly name: string;
  readonly method: "linear" | "exact" | "step";
  readonly keys: readonly number[];
  readonly values: readonly number[];
}
