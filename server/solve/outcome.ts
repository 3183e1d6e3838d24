/**
 * A build as it comes out: what is made is made to its steps, and the wishes it answers give way.
 *
 *     outcomeOf(draw(system))   →   the same variables, made figures given, gaps solved from them
 *
 * Of the figures that are open and made (then of those that are bought), each that no earlier one
 * settles already is taken, in the order of making, twins both or neither; as many wishes and assumed
 * relations are let go. Which answer which is found by numbers (sensitivities to the wishes), not by
 * structure, and being asked plays no part: the same text gives the same answer whatever its order.
 *
 * Variables and equations keep their places; further ones stand behind them.
 *
 * Must not know: text, units, kinds, files, the trade.
 */
import { sweepBack } from "./adjoint";
import { shareSteps } from "./as-made";
import { admitted, type Solving } from "./draw";
import { evaluate } from "./evaluate";
import { executionOf } from "./execution";
import { MadeFigures, madeFigures } from "./made-figures";
import { quantityValue, sensitivities } from "./sensitivity";
import { solve } from "./solve";
import type { Claim, Solution } from "./system";
import { conditionTapeOf } from "./tape";
import { marginOf } from "./verdict";

/** The drawn solution itself where nothing is made and nothing has a tolerance of its own. */
export function outcomeOf(
  drawn: Solution,
  claims: readonly Claim[] = [],
  solved: Solving = solve,
): Solution {
  const made = new MadeFigures(drawn, solved);
  if (made.isIdle) {
    shareSteps(drawn, made.halved(drawn));
    return drawn;
  }
  const turned = made.turned;
  let outcome = made.cut(turned);
  if (claims.length === 0 || made.figures.length === 0) return outcome;
  // Where a check that holds as drawn would fail by rounding alone, the other side is taken.
  for (let round = 0; round < 4; round++) {
    const more = turnedFor(drawn, outcome, claims, made, turned);
    if (more.size === turned.size) return outcome;
    const other = made.cut(more);
    if (failing(drawn, other, claims).length >= failing(drawn, outcome, claims).length) break;
    for (const variable of more) turned.add(variable);
    outcome = other;
  }
  return outcome;
}

/**
 * Which wishes each figure that is made answers, by their equations: those that were let go for it
 * and move it, less what is answered by what is made before it.
 */
export function answersOf(
  drawn: Solution,
  outcome: Solution,
): ReadonlyMap<number, readonly number[]> {
  const letGo = [...admitted(drawn)].filter(
    (equation) =>
      drawn.system.equations[equation]!.rank === "wanted" &&
      outcome.system.equations[equation]!.rank !== "wanted",
  );
  const answers = new Map<number, readonly number[]>();
  const answered = new Set<number>();
  for (const variable of madeFigures(outcome)) {
    const { byEquation } = sweepBack(executionOf(drawn), [variable], [1]);
    const moving = letGo.filter((equation) => Math.abs(byEquation.get(equation) ?? 0) > 1e-9);
    const own = moving.filter((equation) => !answered.has(equation));
    for (const equation of own) answered.add(equation);
    answers.set(variable, own.length > 0 ? own : moving);
  }
  return answers;
}

// ───────────────────────────── helpers ─────────────────────────────

/** 1 where the figures as they are hold the claim, 0 where they do not, NaN where one is open. */
export function truthOf(
  values: Solution["values"],
  { condition, variables, when }: Pick<Claim, "condition" | "variables" | "when">,
): number {
  if (when !== undefined && evaluate(conditionTapeOf(when), values, variables) !== 1) {
    return Number.NaN;
  }
  return evaluate(conditionTapeOf(condition), values, variables);
}

/** Claims that hold as drawn and not as it comes out. */
function failing(drawn: Solution, outcome: Solution, claims: readonly Claim[]): Claim[] {
  return claims.filter(
    (claim) => truthOf(outcome.values, claim) === 0 && truthOf(drawn.values, claim) === 1,
  );
}

function turnedFor(
  drawn: Solution,
  outcome: Solution,
  claims: readonly Claim[],
  made: MadeFigures,
  turned: ReadonlySet<number>,
): Set<number> {
  const more = new Set(turned);
  for (const claim of failing(drawn, outcome, claims)) {
    const quantity = marginOf(claim);
    if (quantity === undefined || quantityValue(outcome, quantity) === undefined) continue;
    const slopes = sensitivities(outcome, quantity);
    for (const variable of made.figures) {
      const moved = outcome.values[variable]! - drawn.values[variable]!;
      if ((slopes.get(variable) ?? 0) * moved < 0) more.add(variable);
    }
  }
  return more;
}
