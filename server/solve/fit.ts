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
import { listedFor } from "./listed";
import { quantityValue } from "./sensitivity";
import { solveOverlay } from "./solve";
import { spreadOf } from "./spread";
import type { Claim, Fit, FitLevel, GivenNumber, Quantity, Solution } from "./system";
import { mayChange } from "./system";
import { Trial } from "./trial";
import { type Comparison, differenceOf, marginOf, verdictOf } from "./verdict";

/** More figures than this are not tried; those that lead to the claim by the fewest steps go first. */
const MOST = 40;
/** Places looked at on each side of where a figure stands, ever further out. */
const PLACES = 26;
/** So many rows of a list are tried. */
const ROWS = 40;
/** So many of the figures that move the margin are tried in pairs. */
const PAIRED = 7;

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

interface Wanted {
  readonly quantity: Quantity;
  /** An equality is to be met, anything else to be passed. */
  readonly exact: boolean;
  /** What the level asks for beyond a margin of nothing, at the nominal. */
  readonly reserve: number;
}

function wantedOf(solution: Solution, claim: Claim, level: FitLevel): Wanted | undefined {
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

interface Lead {
  readonly variable: number;
  readonly value: number;
  readonly given: GivenNumber | undefined;
  readonly increment: number;
  /** All it can be, where a list is read by it. */
  readonly listed: readonly number[] | undefined;
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
  wanted: Wanted,
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
      .sort((one, other) => Math.abs(one.at - lead.value) - Math.abs(other.at - lead.value));
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
  const reach = Math.max(Math.abs(start), variable.scale);
  return ([-1, 1] as const).map((way) => {
    const limit = way > 0 ? highOf(variable) : lowOf(variable);
    let inside = start;
    let insideMargin = here;
    // Past a place without a value nothing can be followed: up to there by halves.
    let without: number | undefined;
    for (let i = 0; i < PLACES; i++) {
      let outside = start + way * lead.increment * 0.5 * 1.6 ** i;
      if (without !== undefined) outside = (inside + without) / 2;
      else if (Math.abs(outside - start) > 100 * reach) break;
      else if (way > 0 ? outside > limit : outside < limit) outside = limit;
      const margin = marginAt(outside);
      if (!Number.isFinite(margin)) {
        without = outside;
        continue;
      }
      if (margin * here <= 0) {
        return { at: closeIn(marginAt, inside, outside, insideMargin, margin), way };
      }
      if (outside === limit) break;
      inside = outside;
      insideMargin = margin;
    }
    return undefined;
  });
}

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

/** Two figures moved together, each by its share of what it does to the margin. */
function pairs(
  solution: Solution,
  claim: Claim,
  wanted: Wanted,
  leads: readonly Lead[],
  level: FitLevel,
): Fit[] {
  const margin = quantityValue(solution, wanted.quantity)! - wanted.reserve;
  const helping = leads
    .map((lead) => {
      const trial = trialOf(solution, wanted.quantity, [lead]);
      const gains = [-1, 1].map((way) => {
        const to = lead.value + way * lead.increment;
        const gain = (trial.at([to]) - wanted.reserve - margin) * (margin < 0 ? 1 : -1);
        return Number.isFinite(gain) && isAllowed(solution, lead.variable, to) ? gain : 0;
      });
      const way: 1 | -1 = gains[1]! > gains[0]! ? 1 : -1;
      return { lead, way, gain: Math.max(...gains) };
    })
    .filter(({ gain }) => gain > 0)
    .sort((one, other) => other.gain - one.gain)
    .slice(0, PAIRED);
  const fits: Fit[] = [];
  helping.forEach((one, i) => {
    for (const other of helping.slice(i + 1)) {
      // In whole steps, further and further, neither beyond what it can be.
      for (const steps of [1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128]) {
        const both = [one, other].map(({ lead, way }): [Lead, number] => {
          const variable = solution.system.variables[lead.variable]!;
          const limit = way > 0 ? highOf(variable) : lowOf(variable);
          const to = (Math.round(lead.value / lead.increment) + way * steps) * lead.increment;
          const inward = way > 0 ? Math.floor : Math.ceil;
          const last = inward(limit / lead.increment) * lead.increment;
          return [lead, (way > 0 ? to > limit : to < limit) ? last : to];
        });
        const trial = trialOf(
          solution,
          wanted.quantity,
          both.map(([lead]) => lead),
        );
        const there = trial.at(both.map(([, value]) => value)) - wanted.reserve;
        if (!(there * margin <= 0)) continue;
        const solved = withFigures(solution, both);
        if (verdictOf(solved, claim)[level] !== "holds" || !noWorse(solution, solved)) continue;
        fits.push(fitOf(solution, both));
        break;
      }
    }
  });
  return fits;
}

/** The margin with some figures at other places; what is only assumed is taken as given for it. */
function trialOf(solution: Solution, quantity: Quantity, leads: readonly Lead[]): Trial {
  const assumed = leads.filter(({ given }) => given === undefined);
  const base =
    assumed.length === 0
      ? solution
      : withFigures(
          solution,
          assumed.map((lead) => [lead, lead.value]),
        );
  return new Trial(
    executionOf(base),
    quantity,
    leads.map(({ variable }) => variable),
  );
}

function withFigures(solution: Solution, figures: readonly (readonly [Lead, number])[]): Solution {
  const givens = new Map(
    figures.map(([{ variable, given }, value]): [number, GivenNumber] => [
      variable,
      {
        ...given,
        value,
        low: value - (given === undefined ? 0 : given.value - given.low),
        high: value + (given === undefined ? 0 : given.high - given.value),
        rounding: 0,
      },
    ]),
  );
  return solveOverlay(solution, { givens });
}

function fitOf(solution: Solution, figures: readonly (readonly [Lead, number])[]): Fit {
  const { variables } = solution.system;
  const effort = figures.reduce(
    (sum, [lead, value]) => sum + Math.abs(value - lead.value) / variables[lead.variable]!.scale,
    0,
  );
  const [[lead, value], also] = figures as [readonly [Lead, number], (readonly [Lead, number])?];
  return {
    variable: lead.variable,
    value,
    effort,
    ...(also === undefined ? {} : { also: { variable: also[0].variable, value: also[1] } }),
  };
}

function isAllowed(solution: Solution, variable: number, value: number): boolean {
  const about = solution.system.variables[variable]!;
  return value >= lowOf(about) && value <= highOf(about);
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
