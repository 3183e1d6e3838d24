/**
 * What to change so that a failing claim holds: for each given that may be changed, the nearest
 * workable value on the safe side, verified by solving again.
 *
 * Must not know: wording, units.
 */

import { closeIn } from "./close-in";
import { evaluate } from "./evaluate";
import { highOf, lowOf } from "./execution";
import { Replay } from "./replay";
import { quantityValue, sensitivities } from "./sensitivity";
import { solveOverlay } from "./solve";
import { spreadOf } from "./spread";
import { type Claim, type Fit, type GivenNumber, mayChange, type Solution } from "./system";
import { tapeOf } from "./tape";
import { type Comparison, differenceOf, marginOf, verdictOf } from "./verdict";

/** More givens than this are not tried; those with the gentlest change go first. */
const MOST = 40;

/**
 * One change per given that can mend the claim, gentlest first. `increments` names the step a
 * variable's values are made in; a variable without one is left alone, and so is a fact. With
 * `worst`, the claim has to hold in the worst case of the tolerances.
 */
export function fitFor(
  solution: Solution,
  claim: Claim,
  increments: (variable: number) => number | undefined,
  level: "nominal" | "worst" = "nominal",
): Fit[] {
  const equality = isEquality(claim) ? claim.condition : undefined;
  const quantity =
    equality === undefined
      ? marginOf(claim)
      : { expression: differenceOf(equality), variables: claim.variables };
  if (quantity === undefined || verdictOf(solution, claim)[level] !== "fails") return [];
  const margin = quantityValue(solution, quantity);
  if (margin === undefined) return [];
  const reserve =
    level === "worst" && equality === undefined
      ? (spreadOf(solution, quantity)?.worstBelow ?? 0)
      : 0;
  const lacking = margin - reserve;
  const leads: Lead[] = [];
  for (const [variable, sensitivity] of sensitivities(solution, quantity)) {
    const { given, scale, role } = solution.system.variables[variable]!;
    const increment = increments(variable);
    if (given === undefined || !mayChange(role)) continue;
    if (increment === undefined || !(increment > 0)) continue;
    const guess = -lacking / sensitivity;
    leads.push({ variable, given, increment, guess, effort: Math.abs(guess) / scale });
  }
  leads.sort((one, other) => one.effort - other.effort);
  const replay = new Replay(solution, quantity.variables);
  const tape = tapeOf(quantity.expression);
  const fits: Fit[] = [];
  for (const lead of leads.slice(0, MOST)) {
    const marginAt = (value: number): number =>
      evaluate(tape, replay.at([[lead.variable, value]]), quantity.variables) - reserve;
    const threshold = nearestZero(solution, lead, lacking, marginAt);
    if (threshold === undefined) continue;
    const value = firstThatHolds(solution, claim, lead, threshold, level, equality !== undefined);
    if (value === undefined) continue;
    const { scale } = solution.system.variables[lead.variable]!;
    const effort = Math.abs(value - lead.given.value) / scale;
    fits.push({ variable: lead.variable, value, effort });
  }
  const { variables } = solution.system;
  return fits.sort(
    (one, other) =>
      one.effort - other.effort ||
      (variables[one.variable]!.name < variables[other.variable]!.name ? -1 : 1),
  );
}

interface Lead {
  readonly variable: number;
  readonly given: GivenNumber;
  readonly increment: number;
  /** Change that would do if everything were a straight line. */
  readonly guess: number;
  readonly effort: number;
}

function isEquality(claim: Claim): claim is Claim & { readonly condition: Comparison } {
  return claim.condition.op === "compare" && claim.condition.relation === "==";
}

/** Steps out in the promising direction until the margin turns, then closes in on where it does. */
function nearestZero(
  solution: Solution,
  lead: Lead,
  lacking: number,
  marginAt: (value: number) => number,
): number | undefined {
  const variable = solution.system.variables[lead.variable]!;
  const start = lead.given.value;
  const limit = lead.guess > 0 ? highOf(variable) : lowOf(variable);
  let inside = start;
  let insideMargin = lacking;
  let step = lead.guess;
  for (let i = 0; i < 50; i++) {
    let outside = start + step;
    if (lead.guess > 0 ? outside > limit : outside < limit) outside = limit;
    const margin = marginAt(outside);
    if (!Number.isFinite(margin)) {
      // No value there: look less far, but only a few times.
      step = (inside - start + step) / 2;
      if (i > 8) return undefined;
      continue;
    }
    if (margin * lacking <= 0) {
      return closeIn(marginAt, inside, outside, insideMargin, margin);
    }
    if (outside === limit) return undefined;
    inside = outside;
    insideMargin = margin;
    step *= i < 3 ? 1.001 : 1.6;
  }
  return undefined;
}

/** The first workable value from the threshold outward with which everything comes out well. */
function firstThatHolds(
  solution: Solution,
  claim: Claim,
  lead: Lead,
  threshold: number,
  level: "nominal" | "worst",
  exact: boolean,
): number | undefined {
  const { increment, given, guess } = lead;
  const away = guess > 0 ? 1 : -1;
  const count = threshold / increment;
  const nearest = Math.round(count);
  // A threshold that is a whole number of increments but for rounding is meant to be one.
  const first =
    Math.abs(count - nearest) < 1e-6 ? nearest : away > 0 ? Math.ceil(count) : Math.floor(count);
  const values = [0, 1, 2].map((more) => (first + away * more) * increment);
  if (exact) values.splice(0, 3, nearest * increment, threshold);
  const variable = solution.system.variables[lead.variable]!;
  for (const value of values) {
    if (value < lowOf(variable) || value > highOf(variable)) continue;
    const changed: GivenNumber = {
      value,
      low: value - (given.value - given.low),
      high: value + (given.high - given.value),
      rounding: 0,
    };
    const after = solveOverlay(solution, { givens: new Map([[lead.variable, changed]]) });
    if (verdictOf(after, claim)[level] === "holds" && noWorse(solution, after)) return value;
  }
  return undefined;
}

/** No contradiction and no failure that was not there before. */
export function noWorse(before: Solution, after: Solution): boolean {
  const conflicts = new Set(before.conflicts.map((conflict) => conflict.equation));
  const failures = new Set(before.failures.flatMap((failure) => failure.equations));
  return (
    after.conflicts.every((conflict) => conflicts.has(conflict.equation)) &&
    after.failures.every((failure) => failure.equations.every((e) => failures.has(e)))
  );
}
