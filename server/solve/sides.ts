/**
 * The sides of a condition of several comparisons, each to be judged by itself.
 *
 *     sidesOf(not (a < 1 or b > 2))   →   and: not a < 1, not b > 2
 *
 * Must not know: what becomes of them.
 */
import type { Condition } from "./expression";

const known = new WeakMap<Condition, Sides>();

interface Sides {
  readonly is: "and" | "or";
  readonly sides: readonly Condition[];
}

/** The sides of an `and` of several, or of an `or`; a `not` goes into each of them. */
export function sidesOf(condition: Condition): Sides {
  let found = known.get(condition);
  if (found === undefined) {
    const is = joinOf(condition) ?? "and";
    const list: Condition[] = [];
    const take = (each: Condition, turned: boolean): void => {
      if (each.op === "not") take(each.of, !turned);
      else if ((each.op === "and" || each.op === "or") && (each.op === is) !== turned) {
        take(each.left, turned);
        take(each.right, turned);
      } else list.push(turned ? { op: "not", of: each } : each);
    };
    take(condition, false);
    found = { is, sides: list };
    known.set(condition, found);
  }
  return found;
}

function joinOf(condition: Condition, turned = false): "and" | "or" | undefined {
  if (condition.op === "not") return joinOf(condition.of, !turned);
  if (condition.op !== "and" && condition.op !== "or") return undefined;
  return (condition.op === "and") !== turned ? "and" : "or";
}

/** What its comparisons say of their limits: taken in, shut out, or nothing but the limit will do. */
function limitsSaid(condition: Condition, turned = false): readonly string[] {
  switch (condition.op) {
    case "always":
      return [];
    case "not":
      return limitsSaid(condition.of, !turned);
    case "compare": {
      const { relation } = condition;
      if (relation === "==" || relation === "!=")
        return [(relation === "==") !== turned ? "alone" : "out"];
      return [(relation === ">" || relation === "<") !== turned ? "out" : "in"];
    }
    default:
      return [...limitsSaid(condition.left, turned), ...limitsSaid(condition.right, turned)];
  }
}

const mixed = new WeakMap<Condition, boolean>();

export function isMixed(condition: Condition): boolean {
  let is = mixed.get(condition);
  if (is === undefined) {
    const said = new Set(limitsSaid(condition));
    is = joinOf(condition) !== undefined && (said.size > 1 || said.has("alone"));
    mixed.set(condition, is);
  }
  return is;
}
