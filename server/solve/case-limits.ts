/**
 * What the conditions of a case leave of a figure that is open in it: where a case holds only for a
 * spacer above 0 mm and another only for one of 0 mm or less, no spacer is in both, and of the second
 * in a range from 0 mm just one.
 *
 *     limitsIn(solution, [{ condition: x > 0, variables, holds: false }])   →   x: 0..0, where x is 0..40
 *
 * Must not know: which cases there are.
 */
import { evaluate } from "./evaluate";
import { executionOf, highOf, lowOf } from "./execution";
import type { Condition, Expression } from "./expression";
import type { Solution } from "./system";
import { tapeOf } from "./tape";

/** A condition, and whether it is to hold. */
export interface WantedCase {
  readonly condition: Condition;
  readonly variables: readonly number[];
  readonly holds: boolean;
}

interface Limits {
  low: number;
  high: number;
  /** The ends themselves are shut out. */
  above: boolean;
  below: boolean;
}

export interface CaseLimits {
  /** Some open figure can be nothing that the conditions ask for. */
  readonly empty: boolean;
  /** Every condition was understood: each that cannot be told speaks of one open figure alone. */
  readonly understood: boolean;
  /** Figures of which just one value is left. */
  readonly pinned: ReadonlyMap<number, number>;
}

export function limitsIn(solution: Solution, wanted: readonly WantedCase[]): CaseLimits {
  const limits = new Map<number, Limits>();
  const understood = wanted
    .map(({ condition, variables, holds }) => cut(solution, limits, condition, variables, holds))
    .every((each) => each);
  const pinned = new Map<number, number>();
  let empty = false;
  for (const [variable, { low, high, above, below }] of limits) {
    if (low > high || (low === high && (above || below))) empty = true;
    else if (low === high) pinned.set(variable, low);
  }
  return { empty, understood, pinned };
}

/** Takes a condition in; false where it says nothing that can be told of one figure. */
function cut(
  solution: Solution,
  limits: Map<number, Limits>,
  condition: Condition,
  variables: readonly number[],
  holds: boolean,
): boolean {
  const own = (of: Condition, as: boolean): boolean => cut(solution, limits, of, variables, as);
  switch (condition.op) {
    case "always":
      return condition.value === holds;
    case "not":
      return own(condition.of, !holds);
    case "and":
    case "or": {
      // Both have to hold, or both not to; else either may be the one.
      if ((condition.op === "and") !== holds) return false;
      const left = own(condition.left, holds);
      return own(condition.right, holds) && left;
    }
    case "compare": {
      const { left, right } = condition;
      const relation = holds ? condition.relation : denied[condition.relation];
      const variable = openIn(solution, left, variables);
      if (variable !== undefined) {
        return keep(solution, limits, variable, relation, known(solution, right, variables));
      }
      const other = openIn(solution, right, variables);
      if (other === undefined) return false;
      return keep(solution, limits, other, mirrored[relation], known(solution, left, variables));
    }
  }
}

type Relation = Extract<Condition, { op: "compare" }>["relation"];

const denied: Readonly<Record<Relation, Relation>> = {
  ">": "<=",
  ">=": "<",
  "<": ">=",
  "<=": ">",
  "==": "!=",
  "!=": "==",
};

const mirrored: Readonly<Record<Relation, Relation>> = {
  ">": "<",
  ">=": "<=",
  "<": ">",
  "<=": ">=",
  "==": "==",
  "!=": "!=",
};

function openIn(
  { determinations }: Solution,
  side: Expression,
  variables: readonly number[],
): number | undefined {
  if (side.op !== "slot") return undefined;
  const variable = variables[side.index]!;
  return determinations[variable]!.how === "open" ? variable : undefined;
}

function known(solution: Solution, side: Expression, variables: readonly number[]): number {
  return evaluate(tapeOf(side), solution.values, variables, executionOf(solution).sizes);
}

function keep(
  { system }: Solution,
  limits: Map<number, Limits>,
  variable: number,
  relation: Relation,
  limit: number,
): boolean {
  if (Number.isNaN(limit) || relation === "!=") return false;
  const about = system.variables[variable]!;
  const own = limits.get(variable) ?? {
    low: lowOf(about),
    high: highOf(about),
    above: false,
    below: false,
  };
  limits.set(variable, own);
  if (relation !== "<" && relation !== "<=" && limit >= own.low) {
    own.above = relation === ">" || (limit === own.low && own.above);
    own.low = limit;
  }
  if (relation !== ">" && relation !== ">=" && limit <= own.high) {
    own.below = relation === "<" || (limit === own.high && own.below);
    own.high = limit;
  }
  // One value with both ends at it is outside of what an end shuts out.
  if (relation === "==" && (limit < own.low || limit > own.high))
    own.low = Number.POSITIVE_INFINITY;
  return true;
}
