/**
 * What a quantity is likely to come to, and how likely it keeps above a limit, from how its givens
 * lie within their tolerances.
 *
 * Where intervals prove the formula nearly straight and all givens are normal, likely is the root sum
 * square of what each given contributes. Elsewhere it is read off draws (see `draws.ts`): what lies
 * between the outermost 0.135 % on either side.
 *
 * Must not know: claims, wording.
 */
import { DRAWS, LIKELY, normalShareBelow } from "./draws";
import type { FormulaReach } from "./range-pass";
import { type Sampled, sampledOf } from "./sampled";
import type { Quantity, Solution } from "./system";

export interface Likely {
  readonly low: number;
  readonly high: number;
  /** Number of draws it was read off; 0 where it is a root sum square. */
  readonly draws: number;
}

/** Slopes may vary by this share of the likely spread for the formula to count as straight. */
const STRAIGHT = 0.1;

/** `value`: the nominal one; `reach`: what the quantity can come to. */
export function likelyOf(
  solution: Solution,
  quantity: Quantity,
  value: number,
  reach: FormulaReach,
): Likely {
  const straight = alongLines(reach);
  if (straight !== undefined) {
    const { rss, shift } = straight;
    return { low: value + shift - rss, high: value + shift + rss, draws: 0 };
  }
  const sampled = sampledOf(solution, quantity, reach);
  const { count } = sampled;
  if (count === 0) return { low: value, high: value, draws: DRAWS };
  const outside = (1 - LIKELY) / 2;
  return {
    low: quantile(sampled, outside),
    high: quantile(sampled, 1 - outside),
    draws: count,
  };
}

/** Root sum square and shift, where the formula is proved nearly straight and all givens are normal. */
function alongLines({
  row,
  partial,
  loose,
}: FormulaReach): { readonly rss: number; readonly shift: number } | undefined {
  const { variance, shift, bend, normal, lines } = row.totals;
  if (!normal || partial) return undefined;
  const rss = Math.sqrt(variance);
  // A large block is followed along its straight lines only, and told so.
  return bend <= STRAIGHT * rss || (loose && lines) ? { rss, shift } : undefined;
}

/** How many builds in a hundred keep a quantity above a limit, with Wilson's interval of 95 %. */
export interface Chance {
  readonly share: number;
  readonly low: number;
  readonly high: number;
  /** Number of draws it was counted in; 0 where it follows from the straight formula's spread. */
  readonly draws: number;
}

/** `value`: the nominal one; `reach`: what the quantity can come to. */
export function chanceAbove(
  solution: Solution,
  quantity: Quantity,
  value: number,
  reach: FormulaReach,
  limit: number,
  strict: boolean,
): Chance {
  const straight = alongLines(reach);
  if (straight !== undefined && straight.rss > 0) {
    const share = 1 - normalShareBelow((limit - value - straight.shift) / straight.rss);
    return { share, low: share, high: share, draws: 0 };
  }
  // Where it has no value, nothing holds.
  return wilson(sampledOf(solution, quantity, reach).above(limit, strict), DRAWS);
}

/** Wilson's score interval (1927) at 95 %. */
export function wilson(count: number, draws: number): Chance {
  const z = 1.959964;
  const share = count / draws;
  const weight = 1 + (z * z) / draws;
  const middle = (share + (z * z) / (2 * draws)) / weight;
  const half =
    (z / weight) * Math.sqrt((share * (1 - share)) / draws + (z * z) / (4 * draws * draws));
  return {
    share,
    low: count === 0 ? 0 : Math.max(0, middle - half),
    high: count === draws ? 1 : Math.min(1, middle + half),
    draws,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Between the two sorted values around the place. */
function quantile(sampled: Sampled, share: number): number {
  const last = sampled.count - 1;
  const place = share * last;
  const below = Math.floor(place);
  const [from, to] = sampled.between(below, Math.min(last, below + 1));
  return from + (place - below) * (to - from);
}
