/**
 * Whether a claim holds: with the nominal values, within what is likely of the tolerances, and in the
 * worst case.
 *
 * A claim becomes one number, its margin: how much is left before it fails. `and` takes the least
 * margin of its parts, `or` the greatest. In the worst case a claim holds where it is proved that its
 * margin cannot fall below 0 (`bounds.ts`), and fails where a place is found at which it does; what
 * the search cannot settle is unknown, never held. Rounding of the inputs is forgiven
 * (`rounding-noise.ts`). Equality is the exception: toleranced values can never be sure to be equal,
 * so an equality holds when the difference stays within roundings (nominal), within what is likely
 * (rss), or within the worst case (worst).
 *
 * Must not know: wording.
 */
import { inTime } from "../keep/patience";
import { staysAbove } from "./bounds";
import { lackingIn } from "./branch-taken";
import { LIKELY } from "./draws";
import { evaluate, resultSize } from "./evaluate";
import { executionOf } from "./execution";
import type { Condition, Expression } from "./expression";
import { type Chance, chanceAbove, likelyOf } from "./likely";
import { choiceOf, reachOf } from "./ranges";
import { NOISE } from "./rounding-noise";
import { quantityValue, sensitivities } from "./sensitivity";
import { isMixed, sidesOf } from "./sides";
import { spreadOf } from "./spread";
import type { Budget, Claim, Quantity, Solution, Spread, Verdict } from "./system";
import { conditionTapeOf, tapeOf } from "./tape";

export function verdictOf(solution: Solution, claim: Claim, budget?: Budget): Verdict {
  if (claim.when !== undefined) return underCondition(solution, claim, claim.when, budget);
  const open = lackingIn(solution, claim.condition, claim.variables);
  const { sizes } = executionOf(solution);
  const tape = conditionTapeOf(claim.condition);
  const truth = evaluate(tape, solution.values, claim.variables, sizes);
  const quantity = marginOf(claim);
  if (Number.isNaN(truth)) return { nominal: "unknown", rss: "unknown", worst: "unknown", open };
  const plain = truth === 1 ? "holds" : "fails";
  if (quantity === undefined) return { nominal: plain, rss: plain, worst: plain, open };
  if (isComparedAsEqual(claim.condition)) {
    return equality(solution, claim, claim.condition, open, budget);
  }
  const margin = quantityValue(solution, quantity);
  // A side that settles the claim without the other may leave the margin without a value.
  if (margin === undefined) {
    const rest = plain === "fails" ? "fails" : "unknown";
    return { nominal: plain, rss: rest, worst: rest, open };
  }
  const within =
    truth === 1
      ? () => withinTolerances(solution, claim, quantity, margin, budget)
      : () => ({ rss: "fails", worst: "fails" }) as const;
  return told(solution, { quantity, margin, nominal: plain, open, budget }, within);
}

/** What of a verdict hangs on tolerances. */
type WithinTolerances = Pick<Verdict, "rss" | "worst" | "witness">;

/** Of a claim that holds as the figures are. */
function withinTolerances(
  solution: Solution,
  claim: Claim,
  quantity: Quantity,
  margin: number,
  budget: Budget | undefined,
): WithinTolerances {
  const reach = reachOf(solution, quantity);
  if (reach === undefined) return { rss: "holds", worst: "holds" };
  const bySides = isMixed(claim.condition) ? sideBySide(solution, claim, budget) : undefined;
  if (bySides !== undefined) return bySides;
  const strict = isStrict(claim.condition);
  const limit = limitOf(solution, claim, quantity);
  const stays = staysAbove(solution, quantity, limit, strict, budget);
  if (stays.answer === "surely") return { rss: "holds", worst: "holds" };
  const rss = () => {
    const likely = likelyOf(solution, quantity, margin, reach);
    const least = Math.max(likely.low, stays.bound.loose ? likely.low : stays.bound.outer);
    return (strict ? least > limit : least >= limit) ? "holds" : "fails";
  };
  if (stays.answer === "open") {
    const likely = rss();
    return { rss: likely, worst: likely === "fails" ? "fails" : "unknown" };
  }
  let known: "holds" | "fails" | undefined;
  return {
    // Draws: many ask for the worst case alone.
    get rss() {
      known ??= rss();
      return known;
    },
    worst: "fails",
    witness: stays.bound.at,
  };
}

/**
 * Sides of which one holds at its limit and another does not have no margin together: `n == 4` has
 * none at all. Each is judged by itself, and how likely all of it holds by whether it does at the draws.
 * Nothing where that settles nothing: that each of two fails somewhere does not say that both do at once.
 */
function sideBySide(
  solution: Solution,
  { condition, variables }: Claim,
  budget: Budget | undefined,
): WithinTolerances | undefined {
  const { is, sides } = sidesOf(condition);
  const all = sides.map((side) => verdictOf(solution, { condition: side, variables }, budget));
  const surely = ({ worst }: Verdict): boolean => worst === "holds";
  if (is === "and" ? all.every(surely) : all.some(surely)) return { rss: "holds", worst: "holds" };
  if (is === "or") return undefined;
  const failing = all.find(({ worst }) => worst === "fails");
  const { share } = chanceOf(solution, { condition, variables })!;
  const rss = share >= (1 + LIKELY) / 2 ? "holds" : "fails";
  const fails = failing !== undefined || rss === "fails";
  return { rss, worst: fails ? "fails" : "unknown", witness: failing?.witness };
}

/** What a claim's margin may come down to, but for what rounding explains. */
function limitOf(solution: Solution, { condition }: Claim, quantity: Quantity): number {
  const slack = slackOf(solution, quantity);
  return isStrict(condition) ? slack : -slack;
}

/** Whether a claim fails where its margin comes to so much; no value is none at which it holds. */
export function failsBelow(
  solution: Solution,
  claim: Claim,
  quantity: Quantity,
): (margin: number) => boolean {
  const limit = limitOf(solution, claim, quantity);
  return isStrict(claim.condition) ? (margin) => !(margin > limit) : (margin) => !(margin >= limit);
}

/**
 * A claim that speaks only of where its condition holds: passed over where it surely does not, judged
 * by itself where it surely does, else by both, since tolerances may bring it about.
 */
function underCondition(
  solution: Solution,
  { condition, variables }: Claim,
  when: Condition,
  budget: Budget | undefined,
): Verdict {
  const plain = verdictOf(solution, { condition, variables }, budget);
  const itself = verdictOf(solution, { condition: when, variables }, budget);
  const opposite: Condition = otherwise(when);
  if (itself.nominal === "unknown") {
    const none = { nominal: "unknown", rss: "unknown", worst: "unknown" } as const;
    return { ...none, open: [...new Set([...plain.open, ...itself.open])] };
  }
  if (itself.nominal === "holds" && itself.worst === "holds") return plain;
  const both = verdictOf(solution, { condition: eitherOf(opposite, condition), variables }, budget);
  const { nominal, rss, worst, witness, open } = both;
  if (itself.nominal === "fails") {
    return { nominal, rss, worst, idle: true, open, witness };
  }
  return { ...plain, nominal, rss, worst, witness };
}

const opposites = new WeakMap<Condition, Condition>();

/** Kept, so that what is worked out for it is. */
function otherwise(condition: Condition): Condition {
  let opposite = opposites.get(condition);
  if (opposite === undefined) {
    opposite = { op: "not", of: condition };
    opposites.set(condition, opposite);
  }
  return opposite;
}

const pairs = new WeakMap<Condition, Condition>();

function eitherOf(left: Condition, right: Condition): Condition {
  let either = pairs.get(right);
  if (either === undefined) {
    either = { op: "or", left, right };
    pairs.set(right, either);
  }
  return either;
}

/** How likely a claim holds, undefined where it cannot be judged or compares nothing. */
export function chanceOf(solution: Solution, claim: Claim): Chance | undefined {
  const quantity = marginOf(claim);
  if (quantity === undefined || isComparedAsEqual(claim.condition)) return undefined;
  const value = quantityValue(solution, quantity);
  const reach = reachOf(solution, quantity);
  if (value === undefined || reach === undefined) return undefined;
  if (isMixed(claim.condition)) {
    const choice = { expression: choiceOf(claim.condition), variables: claim.variables };
    return chanceAbove(solution, choice, 1, reachOf(solution, choice)!, 0.5, false);
  }
  const strict = isStrict(claim.condition);
  const slack = slackOf(solution, quantity);
  return chanceAbove(solution, quantity, value, reach, strict ? slack : -slack, strict);
}

/**
 * What hangs on tolerances is worked out when it is first read: of what an option or a record changes
 * often nobody asks for more than the nominal verdict, and of most checks nobody asks for the spread.
 */
function told(
  solution: Solution,
  about: Pick<Verdict, "nominal" | "open"> & {
    readonly quantity: Quantity;
    readonly margin: number;
    readonly budget: Budget | undefined;
  },
  make: () => WithinTolerances,
): Verdict {
  const { nominal, open, quantity, margin, budget } = about;
  let known: WithinTolerances | undefined;
  const within = (): WithinTolerances => {
    known ??= inTime<WithinTolerances | undefined>(make, undefined);
    return known ?? notSettled;
  };
  let made: Made | undefined;
  return {
    nominal,
    get rss() {
      return within().rss;
    },
    get worst() {
      return within().worst;
    },
    get witness() {
      return within().witness;
    },
    margin,
    get spread() {
      made ??= inTime<Made | undefined>(
        () => ({ spread: spreadOf(solution, quantity, budget) }),
        undefined,
      );
      return made?.spread;
    },
    open,
  };
}

interface Made {
  readonly spread: Spread | undefined;
}

/** Of what there was no time for. */
const notSettled: WithinTolerances = { rss: "unknown", worst: "unknown" };

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

/** What rounding of the inputs explains in a margin. */
function slackOf(solution: Solution, quantity: Quantity): number {
  const { sizes } = executionOf(solution);
  const tape = tapeOf(quantity.expression);
  evaluate(tape, solution.values, quantity.variables, sizes);
  return NOISE * resultSize(tape, quantity.variables, sizes);
}

function equality(
  solution: Solution,
  claim: Claim,
  condition: Comparison,
  open: readonly number[],
  budget: Budget | undefined,
): Verdict {
  const quantity = { expression: differenceOf(condition), variables: claim.variables };
  const gap = quantityValue(solution, quantity);
  if (gap === undefined) return { nominal: "unknown", rss: "unknown", worst: "unknown", open };
  let rounding = slackOf(solution, quantity);
  for (const [variable, sensitivity] of sensitivities(solution, quantity)) {
    rounding += Math.abs(sensitivity) * solution.system.variables[variable]!.given!.rounding;
  }
  const spread = spreadOf(solution, quantity, budget)!;
  const fits = (low: number, high: number): "holds" | "fails" =>
    low - rounding <= 0 && high + rounding >= 0 ? "holds" : "fails";
  const { rss, shift, worstBelow, worstAbove } = spread;
  const nominal = fits(gap, gap);
  return {
    nominal,
    rss: nominal === "holds" ? "holds" : fits(gap + shift - rss, gap + shift + rss),
    worst: nominal === "holds" ? "holds" : fits(gap - worstBelow, gap + worstAbove),
    margin: rounding - Math.abs(gap),
    spread,
    open,
  };
}

export type Comparison = Extract<Condition, { op: "compare" }>;

export function isComparedAsEqual(condition: Condition): condition is Comparison {
  return condition.op === "compare" && condition.relation === "==";
}

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
