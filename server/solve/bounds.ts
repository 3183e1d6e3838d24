/**
 * The least and the greatest a quantity can come to while every given keeps within its tolerance.
 *
 * Each bound is told twice: as what is proved to enclose it, by intervals rounded outward, and as
 * the most that was found, with the place at which it was found. Where the two do not meet at once
 * they are searched for (`bound-search.ts`).
 *
 * Must not know: claims, wording.
 */

import { type Bound, BoundSearch, isClear, isSame, TINY } from "./bound-search";
import { type Execution, executionOf } from "./execution";
import { type LimitsOf, valueAt } from "./movers";
import { LARGEST_SEARCHED } from "./range-block";
import type { FormulaReach } from "./range-pass";
import { isProof, largestBlock, passFor, passOver, rangesOver, reachOf, slopesOf } from "./ranges";
import { quantityValue } from "./sensitivity";
import type { Budget, Quantity, Solution } from "./system";
import { tapeOf } from "./tape";

export interface Bounds {
  readonly least: Bound;
  readonly most: Bound;
  /** A place within the tolerances was found at which the quantity has no value. */
  readonly partial: boolean;
}

/** Of a quantity that has a value, and moves with what has a tolerance. */
export function boundsOf(solution: Solution, quantity: Quantity, budget?: Budget): Bounds {
  const value = quantityValue(solution, quantity)!;
  const reach = reachOf(solution, quantity)!;
  const innerLow = reach.middleHigh - reach.row.totals.reachDown;
  const innerHigh = reach.middleLow + reach.row.totals.reachUp;
  const close = (outer: number, found: number): boolean =>
    Math.abs(outer - found) <= STRAIGHT * Math.abs(outer - value) + TINY * Math.abs(value);
  if (
    !reach.partial &&
    !reach.loose &&
    close(reach.low, innerLow) &&
    close(reach.high, innerHigh)
  ) {
    return {
      least: plain(solution, quantity, reach, value, reach.low, innerLow, -1),
      most: plain(solution, quantity, reach, value, reach.high, innerHigh, 1),
      partial: false,
    };
  }
  const search = searchOf(solution, quantity, value, reach, budget);
  const most = search.furthest(1, undefined).bound;
  const least = search.furthest(-1, undefined).bound;
  return { least, most, partial: search.hole };
}

/**
 * Whether a quantity that has a value, and moves with what has a tolerance, can come below `limit`
 * (`strict`: or to it). `surely` where it is proved that it cannot, `fails` with a place where it
 * does, `open` where the budget ran out first.
 */
export function staysAbove(
  solution: Solution,
  quantity: Quantity,
  limit: number,
  strict: boolean,
  budget?: Budget,
): { readonly answer: "surely" } | { readonly answer: "fails" | "open"; readonly bound: Bound } {
  const value = quantityValue(solution, quantity)!;
  const reach = reachOf(solution, quantity)!;
  const goal = { limit: -limit, strict };
  const first = { upper: -reach.low, partial: reach.partial };
  if (!reach.loose && isClear(first, goal)) return { answer: "surely" };
  return searchOf(solution, quantity, value, reach, budget).furthest(-1, goal);
}

/**
 * Whether a quantity can come to 0 while givens vary as `limitsOf` says: where it is not 0 at the
 * solution and cannot come to it, how near it can come, and whether that is proved.
 */
export function comesToNothing(
  execution: Execution,
  quantity: Quantity,
  value: number,
  limitsOf: LimitsOf,
  budget?: Budget,
): { readonly answer: "surely not" | "does" | "not found"; readonly nearest: number } {
  const own = passOver(execution, quantity.variables, limitsOf);
  if (own.inputs.length === 0) return { answer: "surely not", nearest: Math.abs(value) };
  own.pass.run(own.box);
  const first = own.pass.reach(tapeOf(quantity.expression), quantity.variables);
  const search = new BoundSearch(execution, quantity, value, first, own, budget);
  // From below 0 up to it, or from above it down.
  const { answer, bound } = search.furthest(value < 0 ? 1 : -1, { limit: 0, strict: true });
  if (bound.found * value <= 0) return { answer: "does", nearest: 0 };
  return answer === "surely"
    ? { answer: "surely not", nearest: Math.abs(bound.outer) }
    : { answer: "not found", nearest: Math.abs(bound.found) };
}

function searchOf(
  solution: Solution,
  quantity: Quantity,
  value: number,
  reach: FormulaReach,
  budget: Budget | undefined,
): BoundSearch {
  const execution = executionOf(solution);
  const keeps = isProof(solution, quantity.variables);
  const largest = largestBlock(execution, quantity.variables);
  if (largest <= LARGEST_SEARCHED) {
    const own = passFor(solution, quantity.variables);
    return new BoundSearch(execution, quantity, value, reach, own, budget, keeps);
  }
  if (largest <= LARGEST_PINNED) {
    const own = passFor(solution, quantity.variables);
    return new BoundSearch(execution, quantity, value, reach, own, PINNED, keeps);
  }
  const own = rangesOver(solution);
  return new BoundSearch(execution, quantity, value, reach, own, { boxes: 0 }, keeps);
}

/**
 * In blocks of more unknowns than are searched what a figure only rises or falls by is pinned to its
 * worse end, and the proof made again, twice at most; beyond these one proof has to do.
 */
const LARGEST_PINNED = 100;
const PINNED: Budget = { boxes: 3 };

/** So little is left by the mean value theorem that no search is worth it. */
const STRAIGHT = 1e-6;
function plain(
  solution: Solution,
  quantity: Quantity,
  reach: FormulaReach,
  value: number,
  outer: number,
  found: number,
  sign: 1 | -1,
): Bound {
  // What differs by rounding alone is one number, told without its last digits.
  const same = isSame(outer, found, value);
  const middle = same ? (outer + found) / 2 : outer;
  return {
    outer: middle,
    found: same ? middle : found,
    get at() {
      return cornerOf(solution, quantity, reach, sign);
    },
    loose: false,
  };
}

function cornerOf(
  solution: Solution,
  quantity: Quantity,
  reach: FormulaReach,
  sign: 1 | -1,
): ReadonlyMap<number, number> {
  const { slopes, inputs, box } = slopesOf(solution, quantity, reach);
  const places = new Map<number, number>();
  slopes.at.forEach((at, k) => {
    const slope = slopes.nominal[k]!;
    if (slope === 0) return;
    const mover = inputs[at]!;
    const place = slope > 0 === (sign === 1) ? box.high[at]! : box.low[at]!;
    for (const [given, variable] of mover.givens.entries()) {
      places.set(variable, valueAt(mover, given, place));
    }
  });
  return places;
}
