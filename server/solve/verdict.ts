/**
 * Whether a claim holds: with the nominal values, within the root sum square of the tolerances, and
 * in the worst case.
 *
 * A claim becomes one number, its margin: how much is left before it fails. `and` takes the least
 * margin of its parts, `or` the greatest; a claim holds in the worst case when its margin cannot
 * fall below 0. Equality is the exception: toleranced values can never be sure to be equal, so an
 * equality holds when the difference stays within roundings (nominal), within the RSS of the
 * tolerances (rss), or within their worst case (worst).
 *
 * Must not know: wording.
 */
import { CLOSE, evaluate } from "./evaluate";
import type { Condition, Expression } from "./expression";
import { quantityValue, sensitivities } from "./sensitivity";
import { spreadOf } from "./spread";
import type { Claim, Quantity, Solution, Verdict } from "./system";
import { conditionTapeOf, tapeOf } from "./tape";
import { visit } from "./walk";

export function verdictOf(solution: Solution, claim: Claim): Verdict {
  const open = [...new Set(claim.variables)].filter((v) => Number.isNaN(solution.values[v]));
  const truth = evaluate(conditionTapeOf(claim.condition), solution.values, claim.variables);
  const quantity = marginOf(claim);
  if (Number.isNaN(truth)) return { nominal: "unknown", rss: "unknown", worst: "unknown", open };
  if (quantity === undefined) {
    const plain = truth === 1 ? "holds" : "fails";
    return { nominal: plain, rss: plain, worst: plain, open };
  }
  if (claim.condition.op === "compare" && claim.condition.relation === "==") {
    return equality(solution, claim, claim.condition, open);
  }
  const margin = quantityValue(solution, quantity);
  // A side that settles the claim without the other may leave the margin without a value.
  if (margin === undefined) {
    const plain = truth === 1 ? "holds" : "fails";
    return { nominal: plain, rss: "unknown", worst: "unknown", open };
  }
  const spread = spreadOf(solution, quantity);
  const slack = slackOf(solution, claim);
  const holds = truth === 1;
  const enough = (left: number): "holds" | "fails" =>
    holds && (isStrict(claim.condition) ? left > slack : left >= -slack) ? "holds" : "fails";
  if (spread === undefined) {
    const nominal = holds ? "holds" : "fails";
    return { nominal, rss: nominal, worst: nominal, margin, open };
  }
  return {
    nominal: holds ? "holds" : "fails",
    rss:
      spread.rss === 0 && spread.shift === 0
        ? holds
          ? "holds"
          : "fails"
        : enough(margin + spread.shift - spread.rss),
    worst:
      spread.worstBelow === 0 ? (holds ? "holds" : "fails") : enough(margin - spread.worstBelow),
    margin,
    spread,
    open,
  };
}

/** How much is left of a claim as a quantity; undefined where it compares nothing. */
export function marginOf(claim: Claim): Quantity | undefined {
  let expression = margins.get(claim.condition);
  if (expression === undefined) {
    expression = marginExpression(claim.condition, false) ?? "none";
    margins.set(claim.condition, expression);
  }
  return expression === "none" ? undefined : { expression, variables: claim.variables };
}

/** Margins are built once, so that their tapes are too. */
const margins = new WeakMap<Condition, Expression | "none">();

function marginExpression(condition: Condition, turned: boolean): Expression | undefined {
  switch (condition.op) {
    case "always":
      return undefined;
    case "not":
      return marginExpression(condition.of, !turned);
    case "compare": {
      const { relation, left, right } = condition;
      const difference: Expression = { op: "subtract", left, right };
      if (relation === "==" || relation === "!=") {
        const apart: Expression = { op: "call", name: "abs", of: [difference] };
        return (relation === "!=") !== turned ? apart : { op: "negate", of: apart };
      }
      const rising = relation === ">=" || relation === ">";
      return rising !== turned ? difference : { op: "subtract", left: right, right: left };
    }
    default: {
      const left = marginExpression(condition.left, turned);
      const right = marginExpression(condition.right, turned);
      // A side that is always so or never so says nothing about how much is left.
      if (left === undefined || right === undefined) return left ?? right;
      const name = (condition.op === "and") !== turned ? "min" : "max";
      return { op: "call", name, of: [left, right] };
    }
  }
}

function isStrict(condition: Condition): boolean {
  switch (condition.op) {
    case "compare":
      return (
        condition.relation === ">" || condition.relation === "<" || condition.relation === "!="
      );
    case "not":
      return !isStrict(condition.of);
    case "and":
    case "or":
      return isStrict(condition.left) || isStrict(condition.right);
    default:
      return false;
  }
}

/** What counts as nothing beside the compared numbers. */
function slackOf(solution: Solution, claim: Claim): number {
  let largest = 0;
  const see = (side: Expression): void => {
    visit(side, (part) => {
      const value = part.op === "slot" || part.op === "number" ? sizeOf(solution, claim, part) : 0;
      if (Number.isFinite(value)) largest = Math.max(largest, value);
    });
  };
  const walk = (condition: Condition): void => {
    if (condition.op === "compare") {
      see(condition.left);
      see(condition.right);
    } else if (condition.op === "not") walk(condition.of);
    else if (condition.op !== "always") {
      walk(condition.left);
      walk(condition.right);
    }
  };
  walk(claim.condition);
  return CLOSE * largest;
}

function sizeOf(solution: Solution, claim: Claim, part: Expression): number {
  return Math.abs(evaluate(tapeOf(part), solution.values, claim.variables));
}

function equality(
  solution: Solution,
  claim: Claim,
  condition: Comparison,
  open: readonly number[],
): Verdict {
  const quantity = { expression: differenceOf(condition), variables: claim.variables };
  const gap = quantityValue(solution, quantity);
  if (gap === undefined) return { nominal: "unknown", rss: "unknown", worst: "unknown", open };
  let rounding = slackOf(solution, claim);
  for (const [variable, sensitivity] of sensitivities(solution, quantity)) {
    rounding += Math.abs(sensitivity) * solution.system.variables[variable]!.given!.rounding;
  }
  const spread = spreadOf(solution, quantity);
  const fits = (low: number, high: number): "holds" | "fails" =>
    low - rounding <= 0 && high + rounding >= 0 ? "holds" : "fails";
  const { rss = 0, shift = 0, worstBelow = 0, worstAbove = 0 } = spread ?? {};
  const nominal = fits(gap, gap);
  return {
    nominal,
    rss: nominal === "holds" ? "holds" : fits(gap + shift - rss, gap + shift + rss),
    worst: nominal === "holds" ? "holds" : fits(gap - worstBelow, gap + worstAbove),
    margin: rounding - Math.abs(gap),
    ...(spread === undefined ? {} : { spread }),
    open,
  };
}

export type Comparison = Extract<Condition, { op: "compare" }>;

const differences = new WeakMap<Condition, Expression>();

/** Left minus right of a comparison; the same expression each time, so that its tape is kept. */
export function differenceOf(condition: Comparison): Expression {
  let difference = differences.get(condition);
  if (difference === undefined) {
    difference = { op: "subtract", left: condition.left, right: condition.right };
    differences.set(condition, difference);
  }
  return difference;
}
