/**
 * The ± of a quantity from the givens' tolerances.
 *
 * Worst case: how far the quantity can come while every given keeps within its limits, as a bound
 * that is proved to enclose it (`bounds.ts`), with what was in fact found inside. Where no bound can
 * be proved the furthest that was found stands, marked so.
 *
 * Likely: the root sum square of what each given contributes where the formula is proved nearly
 * straight, else read off draws (`likely.ts`); centered on nominal + `shift`, and never beyond the
 * worst case.
 *
 * Must not know: claims.
 */
import type { Bound } from "./bound-search";
import { boundsOf } from "./bounds";
import { executionOf } from "./execution";
import { likelyOf } from "./likely";
import { givensOf } from "./movers";
import type { FormulaReach } from "./range-pass";
import { passFor, reachOf, slopesOf } from "./ranges";
import { quantityValue, sweepOf } from "./sensitivity";
import type { Slopes } from "./slope-row";
import type { Budget, Quantity, Solution, Spread, SpreadEnd } from "./system";
import { Trial } from "./trial";

/** Undefined where the quantity has no value. */
export function spreadOf(
  solution: Solution,
  quantity: Quantity,
  budget?: Budget,
): Spread | undefined {
  const value = quantityValue(solution, quantity);
  if (value === undefined) return undefined;
  const reach = reachOf(solution, quantity);
  if (reach === undefined) return none;
  const bounds = boundsOf(solution, quantity, budget);
  const below = endOf(bounds.least, value);
  const above = endOf(bounds.most, value);
  const likely = likelyOf(solution, quantity, value, reach);
  const low = Math.max(likely.low, value - below.reach);
  const high = Math.min(likely.high, value + above.reach);
  return {
    worstBelow: below.reach,
    worstAbove: above.reach,
    below: below.end,
    above: above.end,
    partial: bounds.partial,
    rss: Math.max(0, (high - low) / 2),
    shift: (high + low) / 2 - value,
    draws: likely.draws,
    // A figure may rest on thousands of givens: they are listed when someone looks.
    get contributors() {
      return contributorsOf(solution, quantity, value, reach);
    },
  };
}

const settled: SpreadEnd = { known: "proved", found: 0, at: new Map() };

const none: Spread = {
  worstBelow: 0,
  worstAbove: 0,
  below: settled,
  above: settled,
  partial: false,
  rss: 0,
  shift: 0,
  draws: 0,
  contributors: [],
};

function endOf(bound: Bound, value: number): { readonly reach: number; readonly end: SpreadEnd } {
  const outer = Math.abs(bound.outer - value);
  const found = Math.abs(bound.found - value);
  const known = bound.loose ? "found" : Number.isFinite(outer) ? "proved" : "unlimited";
  const end: SpreadEnd = {
    known,
    found,
    // A figure may rest on thousands of givens: where it was found is listed when someone looks.
    get at() {
      return bound.at;
    },
  };
  return { reach: bound.loose ? found : outer, end };
}

/** What each given does by itself: by its slope where that hardly varies, else worked out at its limits. */
function contributorsOf(
  solution: Solution,
  quantity: Quantity,
  value: number,
  reach: FormulaReach,
): Spread["contributors"] {
  const { variables } = solution.system;
  const inputs = givensOf(passFor(solution, quantity.variables).inputs);
  const trial = new Trial(executionOf(solution), quantity, inputs);
  const placeOf = new Map(inputs.map((variable, place) => [variable, place]));
  const sweep = sweepOf(solution, quantity);
  const nominal = Float64Array.from(inputs, (variable) => variables[variable]!.given!.value);
  const straight =
    !reach.loose && !reach.partial && isStraight(slopesOf(solution, quantity, reach).slopes);
  const moved = inputs.map((variable) => {
    const { value: at, low, high } = variables[variable]!.given!;
    const sensitivity = sweep?.byGiven.get(variable) ?? 0;
    const up = Math.max(0, high - at);
    const down = Math.max(0, at - low);
    if (straight) {
      const size = Math.abs(sensitivity);
      return {
        variable,
        sensitivity,
        below: size * (sensitivity > 0 ? down : up),
        above: size * (sensitivity > 0 ? up : down),
        half: (size * (up + down)) / 2,
      };
    }
    const ends = [low, high].map((place) => {
      const places = nominal.slice();
      places[placeOf.get(variable)!] = place;
      const moves = trial.at(places) - value;
      return Number.isNaN(moves) ? 0 : moves;
    });
    const below = Math.max(0, -Math.min(...ends));
    const above = Math.max(0, ...ends);
    return { variable, sensitivity, below, above, half: Math.max(below, above) };
  });
  const variance = moved.reduce((sum, { half }) => sum + half ** 2, 0);
  return moved
    .filter(({ below, above }) => below > 0 || above > 0)
    .map(({ half, ...rest }) => ({ ...rest, share: variance > 0 ? half ** 2 / variance : 0 }))
    .sort(
      (one, other) =>
        other.share - one.share ||
        (variables[one.variable]!.name < variables[other.variable]!.name ? -1 : 1),
    );
}

/** Each slope varies by no more than a hundredth of itself. */
function isStraight({ at, low, high, nominal }: Slopes): boolean {
  return at.every((_, k) => high[k]! - low[k]! <= 0.02 * Math.abs(nominal[k]!));
}
