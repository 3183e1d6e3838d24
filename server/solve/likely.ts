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
import { DRAWS, drawsOf, LIKELY, normalShareBelow } from "./draws";
import { executionOf } from "./execution";
import type { Expression } from "./expression";
import { passFor, reachOf, type ToleranceReach } from "./ranges";
import { quantityValue } from "./sensitivity";
import type { Quantity, Solution } from "./system";
import { Trial } from "./trial";

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
  reach: ToleranceReach,
): Likely {
  const straight = alongLines(reach);
  if (straight !== undefined) {
    const { rss, shift } = straight;
    return { low: value + shift - rss, high: value + shift + rss, draws: 0 };
  }
  const sorted = drawn(solution, quantity)
    .filter((each) => !Number.isNaN(each))
    .sort();
  if (sorted.length === 0) return { low: value, high: value, draws: DRAWS };
  const outside = (1 - LIKELY) / 2;
  return {
    low: quantile(sorted, outside),
    high: quantile(sorted, 1 - outside),
    draws: sorted.length,
  };
}

/** Root sum square and shift, where the formula is proved nearly straight and all givens are normal. */
function alongLines({
  summary,
  partial,
  loose,
}: ToleranceReach): { readonly rss: number; readonly shift: number } | undefined {
  const { variance, shift, bend, normal, lines } = summary;
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

export function chanceAbove(
  solution: Solution,
  quantity: Quantity,
  limit: number,
  strict: boolean,
): Chance {
  const value = quantityValue(solution, quantity);
  const reach = reachOf(solution, quantity);
  const straight = reach === undefined ? undefined : alongLines(reach);
  if (value !== undefined && straight !== undefined && straight.rss > 0) {
    const share = 1 - normalShareBelow((limit - value - straight.shift) / straight.rss);
    return { share, low: share, high: share, draws: 0 };
  }
  const values = drawn(solution, quantity);
  let count = 0;
  // Where it has no value, nothing holds.
  for (const value of values) if (strict ? value > limit : value >= limit) count++;
  return wilson(count, values.length);
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

const columns = new WeakMap<Solution, Map<number, Float64Array>>();

/** The draws of one given, made once for a solution. */
function columnOf(solution: Solution, variable: number): Float64Array {
  let known = columns.get(solution);
  if (known === undefined) {
    known = new Map();
    columns.set(solution, known);
  }
  let column = known.get(variable);
  if (column === undefined) {
    const { name, given } = solution.system.variables[variable]!;
    column = drawsOf(name, given!);
    known.set(variable, column);
  }
  return column;
}

const known = new WeakMap<Solution, Map<Expression, Drawn[]>>();

interface Drawn {
  readonly variables: readonly number[];
  readonly values: Float64Array;
}

/** The quantity at each draw; NaN where it has no value there. Asked for by verdict, ± and chance. */
function drawn(solution: Solution, { expression, variables }: Quantity): Float64Array {
  let of = known.get(solution);
  if (of === undefined) {
    of = new Map();
    known.set(solution, of);
  }
  const alike = of.get(expression) ?? [];
  of.set(expression, alike);
  const before = alike.find((each) => each.variables.every((v, at) => v === variables[at]));
  if (before !== undefined) return before.values;
  const values = draw(solution, { expression, variables });
  alike.push({ variables, values });
  return values;
}

function draw(solution: Solution, quantity: Quantity): Float64Array {
  const { inputs } = passFor(solution, quantity.variables);
  const trial = new Trial(executionOf(solution), quantity, inputs);
  const own = inputs.map((variable) => columnOf(solution, variable));
  const places = new Float64Array(inputs.length);
  const values = new Float64Array(DRAWS);
  for (let draw = 0; draw < DRAWS; draw++) {
    for (let i = 0; i < own.length; i++) places[i] = own[i]![draw]!;
    values[draw] = trial.at(places);
  }
  return values;
}

/** Between the two sorted values around the place. */
function quantile(sorted: Float64Array, share: number): number {
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(sorted.length - 1, below + 1);
  return sorted[below]! + (place - below) * (sorted[above]! - sorted[below]!);
}
