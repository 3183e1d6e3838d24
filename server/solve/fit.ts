/**
 * What to change so that a failing claim holds: for each given that may be changed, and each figure
 * that is only assumed, the nearest workable value on the safe side; where no single change will do,
 * two together. Each is verified by solving again.
 *
 * A change is looked for along the whole range of a figure, outward from where it stands, so that a
 * flat spot or a bend on the way hides nothing; of a figure by which a list is read, among its rows.
 *
 * Must not know: wording, units.
 */
import { coneOf } from "./adjoint";
import { closeIn } from "./close-in";
import { executionOf, highOf, lowOf } from "./execution";
import { pairs } from "./fit-pairs";
import {
  fitOf,
  isAllowed,
  type Lead,
  noWorse,
  type Sought,
  trialOf,
  withFigures,
} from "./fit-tries";
import { listedFor } from "./listed";
import { quantityValue } from "./sensitivity";
import { spreadOf } from "./spread";
import type { Claim, Fit, FitLevel, Quantity, Solution } from "./system";
import { mayChange } from "./system";
import { type Comparison, differenceOf, marginOf, verdictOf } from "./verdict";

/** More figures than this are not tried; those that lead to the claim by the fewest steps go first. */
const MOST = 40;
/** Places looked at on each side of where a figure stands, ever further out. */
const PLACES = 26;
/** So many rows of a list are tried. */
const ROWS = 40;

/**
 * One change for each figure that can mend the claim, gentlest first. `increments` names the step a
 * variable's values are made in; a variable without one is left alone, and so is what its role says is
 * not to be changed.
 */
export function fitFor(
  solution: Solution,
  claim: Claim,
  increments: (variable: number) => number | undefined,
  level: FitLevel = "nominal",
): Fit[] {
  const wanted = wantedOf(solution, claim, level);
  if (wanted === undefined) return [];
  const leads = leadsOf(solution, wanted.quantity, increments);
  const fits = leads.flatMap((lead) => {
    const value = alone(solution, claim, wanted, lead, level);
    return value === undefined ? [] : [fitOf(solution, [[lead, value]])];
  });
  const { variables } = solution.system;
  const sorted = (list: Fit[]): Fit[] =>
    list.sort(
      (one, other) =>
        one.effort - other.effort ||
        (variables[one.variable]!.name < variables[other.variable]!.name ? -1 : 1),
    );
  return sorted(fits.length > 0 ? fits : pairs(solution, claim, wanted, leads, level));
}

function wantedOf(solution: Solution, claim: Claim, level: FitLevel): Sought | undefined {
  const equality = isEquality(claim) ? claim.condition : undefined;
  const quantity =
    equality === undefined
      ? marginOf(claim)
      : { expression: differenceOf(equality), variables: claim.variables };
  if (quantity === undefined || verdictOf(solution, claim)[level] !== "fails") return undefined;
  if (quantityValue(solution, quantity) === undefined) return undefined;
  const exact = equality !== undefined;
  return { quantity, exact, reserve: exact ? 0 : reserveOf(solution, quantity, level) };
}

/** How much of the margin tolerances may take. */
function reserveOf(solution: Solution, quantity: Quantity, level: FitLevel): number {
  if (level === "nominal") return 0;
  const spread = spreadOf(solution, quantity);
  if (spread === undefined) return 0;
  const reserve = level === "worst" ? spread.worstBelow : spread.rss - spread.shift;
  return Number.isFinite(reserve) ? Math.max(0, reserve) : 0;
}

/** Figures the margin rests on by structure: givens that may be changed, and what is only assumed. */
function leadsOf(
  solution: Solution,
  quantity: Quantity,
  increments: (variable: number) => number | undefined,
): readonly Lead[] {
  const { variables, equations } = solution.system;
  const { steps } = executionOf(solution);
  const seen = new Set<number>(quantity.variables);
  for (const at of coneOf(executionOf(solution), quantity.variables).reverse()) {
    for (const equation of steps[at]!.equations) {
      for (const variable of equations[equation]!.variables) seen.add(variable);
    }
  }
  const leads: Lead[] = [];
  for (const variable of seen) {
    const { given, role } = variables[variable]!;
    const determination = solution.determinations[variable]!;
    const assumed =
      determination.how === "assumed" && equations[determination.equation]!.variables.length === 1;
    if ((given === undefined && !assumed) || !mayChange(role)) continue;
    const increment = increments(variable);
    if (increment === undefined || !(increment > 0)) continue;
    const listed = listedOf(solution, variable);
    leads.push({ variable, value: solution.values[variable]!, given, increment, listed });
    if (leads.length >= MOST) break;
  }
  return leads;
}

/** Keys that all lists read by a figure have; undefined where none is. */
function listedOf(solution: Solution, variable: number): readonly number[] | undefined {
  const { touchStart, touching, facts, system } = executionOf(solution).network;
  let listed: readonly number[] | undefined;
  for (let i = touchStart[variable]!; i < touchStart[variable + 1]!; i++) {
    const equation = touching[i]!;
    const slot = system.equations[equation]!.variables.indexOf(variable);
    const keys = listedFor(facts[equation]!.tape, slot);
    if (keys !== undefined) listed = listed?.filter((key) => keys.includes(key)) ?? keys;
  }
  return listed;
}

function isEquality(claim: Claim): claim is Claim & { readonly condition: Comparison } {
  return claim.condition.op === "compare" && claim.condition.relation === "==";
}

/** The nearest workable value of one figure with which everything comes out well. */
function alone(
  solution: Solution,
  claim: Claim,
  wanted: Sought,
  lead: Lead,
  level: FitLevel,
): number | undefined {
  const does = (value: number): boolean => {
    if (!isAllowed(solution, lead.variable, value)) return false;
    const solved = withFigures(solution, [[lead, value]]);
    return verdictOf(solved, claim)[level] === "holds" && noWorse(solution, solved);
  };
  if (lead.listed !== undefined) {
    const away = (value: number) => Math.abs(value - lead.value);
    const nearest = [...lead.listed].sort((one, other) => away(one) - away(other));
    return nearest.slice(0, ROWS).find((value) => value !== lead.value && does(value));
  }
  const trial = trialOf(solution, wanted.quantity, [lead]);
  let { reserve } = wanted;
  // Tolerances may take more or less of the margin elsewhere: twice is enough to follow them.
  for (let round = 0; round < 3; round++) {
    const marginAt = (value: number): number => trial.at([value]) - reserve;
    const [before, after] = crossings(solution, lead, marginAt);
    const thresholds = [before, after]
      .filter((each) => each !== undefined)
      .sort(
        (one, other) =>
          Math.abs(one.at - lead.value) - Math.abs(other.at - lead.value) || other.at - one.at,
      );
    for (const { at, way } of thresholds) {
      for (const value of workable(lead, at, way, wanted.exact)) {
        if (does(value)) return value;
      }
    }
    const [nearest] = thresholds;
    if (nearest === undefined || level === "nominal") return undefined;
    const there = withFigures(solution, [[lead, nearest.at]]);
    const next = reserveOf(there, wanted.quantity, level);
    if (Math.abs(next - reserve) <= 1e-9 * Math.abs(reserve)) return undefined;
    reserve = next;
  }
  return undefined;
}

interface Crossing {
  readonly at: number;
  readonly way: 1 | -1;
}

/** Where the margin first turns, below and above where the figure stands. */
function crossings(
  solution: Solution,
  lead: Lead,
  marginAt: (value: number) => number,
): readonly (Crossing | undefined)[] {
  const variable = solution.system.variables[lead.variable]!;
  const start = lead.value;
  const here = marginAt(start);
  if (!Number.isFinite(here)) return [];
  // A figure that is 0 says nothing of how large it may be: its range ends the search, or its places do.
  const far =
    start === 0 ? Number.POSITIVE_INFINITY : 100 * Math.max(Math.abs(start), variable.scale);
  return ([-1, 1] as const).map((way) => {
    const limit = way > 0 ? highOf(variable) : lowOf(variable);
    let inside = start;
    let insideMargin = here;
    let before = start - way * lead.increment * 0.5;
    let beforeMargin = marginAt(before);
    // Past a place without a value nothing can be followed: up to there by halves.
    let without: number | undefined;
    for (let i = 0; i < PLACES; i++) {
      let outside = start + way * lead.increment * 0.5 * 1.6 ** i;
      if (without !== undefined) outside = (inside + without) / 2;
      else if (Math.abs(outside - start) > far) break;
      else if (way > 0 ? outside > limit : outside < limit) outside = limit;
      const margin = marginAt(outside);
      if (!Number.isFinite(margin)) {
        without = outside;
        continue;
      }
      if (margin * here <= 0) {
        return { at: closeIn(marginAt, inside, outside, insideMargin, margin), way };
      }
      // Between three places of which the middle one is best it may come further yet.
      if (Math.abs(insideMargin) < Math.min(Math.abs(beforeMargin), Math.abs(margin))) {
        const best = nearestToNothing(marginAt, before, outside, here);
        if (best.margin * here <= 0) {
          const from = way * (best.at - start) > 0 ? start : before;
          return { at: closeIn(marginAt, from, best.at, marginAt(from), best.margin), way };
        }
      }
      if (outside === limit) break;
      before = inside;
      beforeMargin = insideMargin;
      inside = outside;
      insideMargin = margin;
    }
    return undefined;
  });
}

/** Where a margin comes nearest to nothing between two places, or past it (golden section). */
function nearestToNothing(
  marginAt: (value: number) => number,
  from: number,
  to: number,
  here: number,
): { readonly at: number; readonly margin: number } {
  let [low, high] = [from, to];
  let best = { at: from, margin: marginAt(from) };
  for (let round = 0; round < 40 && best.margin * here > 0; round++) {
    const [one, other] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
    const [first, second] = [marginAt(one), marginAt(other)];
    if (!Number.isFinite(first) || !Number.isFinite(second)) break;
    const isFirst = Math.sign(here) * (first - second) < 0;
    if (isFirst) high = other;
    else low = one;
    best = isFirst ? { at: one, margin: first } : { at: other, margin: second };
  }
  return best;
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** The first values in whole steps from a threshold outward. */
function workable(
  { increment }: Lead,
  threshold: number,
  way: 1 | -1,
  exact: boolean,
): readonly number[] {
  const count = threshold / increment;
  const nearest = Math.round(count);
  if (exact) return [nearest * increment, threshold];
  // A threshold that is a whole number of steps but for rounding is meant to be one.
  const first =
    Math.abs(count - nearest) < 1e-6 ? nearest : way > 0 ? Math.ceil(count) : Math.floor(count);
  return [0, 1, 2].map((more) => (first + way * more) * increment);
}
