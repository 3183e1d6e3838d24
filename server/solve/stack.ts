/**
 * Puts a wanted size together from the pieces of a kit: the fewest pieces within what may be left
 * over, else the nearest that can be reached.
 *
 *   bestStack({ sizes: [5, 10, 15, 20] }, 36, 1)   // pieces 20 and 15, sum 35, residual 1
 *
 * The same question as a function of the wanted size is a step curve, so that it can stand in an
 * equation. Same kit, same answer, whatever the order of its sizes.
 *
 * Must not know: units, what the pieces are, systems.
 */
import type { LookupCurve } from "./expression";

export interface Kit {
  /** Sizes above 0, one entry for each size; others are passed over. */
  readonly sizes: readonly number[];
  /** How many there are of each size, in the order of `sizes`; where it says nothing, plenty. */
  readonly quantities?: readonly (number | undefined)[];
}

export interface Stack {
  /** Sizes of the pieces, largest first. */
  readonly pieces: readonly number[];
  readonly sum: number;
  /** Wanted minus sum. */
  readonly residual: number;
  /** Whether the residual is within what is allowed. */
  readonly met: boolean;
}

/** More pieces than this nobody stacks. */
export const mostPiecesInStack = 6;

/** Search ends here and keeps the best so far: kits of hundreds of sizes must not take minutes. */
const mostVisits = 300_000;
const mostSums = 4_000;
const mostPiecesForCurves = 12;

/** Fewest pieces within `allowed`, then the nearest of them, then the smaller sum. */
export function bestStack(
  kit: Kit,
  wanted: number,
  allowed: number,
  mostPieces: number = mostPiecesInStack,
): Stack {
  const sizes = usableSizes(kit);
  if (!(wanted > 0)) return stackOf([], wanted, allowed, sizes);
  let best = stackOf([], wanted, allowed, sizes);
  // A stack of more than twice the wanted size is worse than no piece at all.
  enumerate(sizes, mostPieces, 2 * wanted + slackOf(sizes), (pieces) => {
    const found = stackOf(pieces, wanted, allowed, sizes);
    if (better(found, best, sizes)) best = found;
  });
  return best;
}

/**
 * One stack for each wanted size, all from one kit: as many met as can be, with the fewest pieces
 * in all, then with the least left over. What cannot be met gets the nearest of what is left.
 */
export function allotStacks(
  kit: Kit,
  wanteds: readonly number[],
  allowed: number,
  mostPieces: number = mostPiecesInStack,
): readonly Stack[] {
  const sizes = usableSizes(kit);
  const candidates = wanteds.map((wanted) => candidatesFor(sizes, wanted, allowed, mostPieces));
  const left = sizes.map((size) => size.count);
  const chosen: (readonly number[] | undefined)[] = wanteds.map(() => undefined);
  let best: { readonly cost: readonly number[]; readonly chosen: typeof chosen } | undefined;
  let visits = 0;
  const choose = (at: number, unmet: number, pieces: number, leftOver: number): void => {
    if (best !== undefined && !cheaper([unmet, pieces, leftOver], best.cost)) return;
    if (at === wanteds.length) {
      best = { cost: [unmet, pieces, leftOver], chosen: [...chosen] };
      return;
    }
    if (visits++ > mostVisits && best !== undefined) return;
    for (const counts of candidates[at]!) {
      if (!take(left, counts)) continue;
      chosen[at] = counts;
      const sum = sumOf(counts, sizes);
      choose(at + 1, unmet, pieces + countOf(counts), leftOver + Math.abs(wanteds[at]! - sum));
      giveBack(left, counts);
    }
    chosen[at] = undefined;
    choose(at + 1, unmet + 1, pieces, leftOver);
  };
  choose(0, 0, 0, 0);
  return settled(best?.chosen ?? chosen, sizes, wanteds, allowed, mostPieces);
}

/**
 * The sum of the best stack as a function of the wanted size, with plenty of each size where no
 * quantities are given. Where two answers are equally near, the smaller sum holds.
 */
export function stackCurve(
  sizes: readonly number[],
  mostPieces: number,
  allowed: number,
  quantities?: Kit["quantities"],
): LookupCurve {
  return curveOf("stack", { sizes, quantities }, mostPieces, allowed, (found) => found.sum);
}

/** The number of pieces of the best stack as a function of the wanted size. */
export function stackCountCurve(
  sizes: readonly number[],
  mostPieces: number,
  allowed: number,
  quantities?: Kit["quantities"],
): LookupCurve {
  return curveOf("stack_count", { sizes, quantities }, mostPieces, allowed, (found) => found.count);
}

// ───────────────────────────── one stack ─────────────────────────────

interface Size {
  readonly size: number;
  readonly count: number;
}

/** Largest first, equal sizes together. */
function usableSizes({ sizes, quantities }: Kit): readonly Size[] {
  const counts = new Map<number, number>();
  sizes.forEach((size, at) => {
    const quantity = quantities?.[at] ?? Number.POSITIVE_INFINITY;
    if (!(size > 0) || !Number.isFinite(size) || !(quantity > 0)) return;
    counts.set(size, (counts.get(size) ?? 0) + Math.floor(quantity));
  });
  return [...counts]
    .map(([size, count]) => ({ size, count }))
    .sort((one, other) => other.size - one.size);
}

/** Differences below this are rounding, not size. */
function slackOf(sizes: readonly Size[]): number {
  return (sizes[sizes.length - 1]?.size ?? 0) * 1e-6;
}

function stackOf(
  pieces: readonly number[],
  wanted: number,
  allowed: number,
  sizes: readonly Size[],
): Stack {
  const sum = pieces.reduce((total, piece) => total + piece, 0);
  const residual = wanted - sum;
  return {
    pieces: [...pieces],
    sum,
    residual,
    met: Math.abs(residual) <= allowed + slackOf(sizes),
  };
}

function better(one: Stack, other: Stack, sizes: readonly Size[]): boolean {
  if (one.met !== other.met) return one.met;
  const slack = slackOf(sizes);
  const nearer = Math.abs(other.residual) - Math.abs(one.residual);
  const fewer = other.pieces.length - one.pieces.length;
  if (one.met && fewer !== 0) return fewer > 0;
  if (Math.abs(nearer) > slack) return nearer > 0;
  if (fewer !== 0) return fewer > 0;
  return one.sum < other.sum - slack;
}

/** Every stack of up to `mostPieces` pieces and a sum up to `highest`, larger pieces first. */
function enumerate(
  sizes: readonly Size[],
  mostPieces: number,
  highest: number,
  see: (pieces: readonly number[]) => void,
): void {
  const pieces: number[] = [];
  let visits = 0;
  const add = (from: number, sum: number): void => {
    if (pieces.length >= mostPieces) return;
    let used = 0;
    for (let at = from; at < sizes.length; at++) {
      const { size, count } = sizes[at]!;
      used = at === from ? trailing(pieces, size) : 0;
      if (used >= count || sum + size > highest) continue;
      if (visits++ > mostVisits) return;
      pieces.push(size);
      see(pieces);
      add(at, sum + size);
      pieces.pop();
    }
  };
  add(0, 0);
}

function trailing(pieces: readonly number[], size: number): number {
  let count = 0;
  for (let at = pieces.length - 1; at >= 0 && pieces[at] === size; at--) count++;
  return count;
}

// ───────────────────────────── several stacks from one kit ─────────────────────────────

/** How many of each size. */
type Counts = readonly number[];

const mostCandidates = 400;

function candidatesFor(
  sizes: readonly Size[],
  wanted: number,
  allowed: number,
  mostPieces: number,
): readonly Counts[] {
  const found: Stack[] = [];
  const empty = stackOf([], wanted, allowed, sizes);
  if (empty.met) found.push(empty);
  if (wanted > 0) {
    enumerate(sizes, mostPieces, wanted + allowed + slackOf(sizes), (pieces) => {
      const stack = stackOf(pieces, wanted, allowed, sizes);
      if (stack.met) found.push(stack);
    });
  }
  found.sort((one, other) => (better(one, other, sizes) ? -1 : better(other, one, sizes) ? 1 : 0));
  return found.slice(0, mostCandidates).map((stack) => countsOf(stack.pieces, sizes));
}

function countsOf(pieces: readonly number[], sizes: readonly Size[]): Counts {
  return sizes.map(({ size }) => pieces.filter((piece) => piece === size).length);
}

function piecesOf(counts: Counts, sizes: readonly Size[]): number[] {
  return counts.flatMap((count, at) => new Array<number>(count).fill(sizes[at]!.size));
}

function sumOf(counts: Counts, sizes: readonly Size[]): number {
  return piecesOf(counts, sizes).reduce((total, piece) => total + piece, 0);
}

function countOf(counts: Counts): number {
  return counts.reduce((total, count) => total + count, 0);
}

function take(left: number[], counts: Counts): boolean {
  if (counts.some((count, at) => count > left[at]!)) return false;
  counts.forEach((count, at) => {
    left[at] = left[at]! - count;
  });
  return true;
}

function giveBack(left: number[], counts: Counts): void {
  counts.forEach((count, at) => {
    left[at] = left[at]! + count;
  });
}

function cheaper(one: readonly number[], other: readonly number[]): boolean {
  for (let at = 0; at < one.length; at++) {
    if (Math.abs(one[at]! - other[at]!) > 1e-12) return one[at]! < other[at]!;
  }
  return false;
}

/** Takes the chosen stacks out of the kit first, then the nearest for what was not met. */
function settled(
  chosen: readonly (Counts | undefined)[],
  sizes: readonly Size[],
  wanteds: readonly number[],
  allowed: number,
  mostPieces: number,
): readonly Stack[] {
  const left = sizes.map((size) => size.count);
  for (const counts of chosen) if (counts !== undefined) take(left, counts);
  return wanteds.map((wanted, at) => {
    const counts = chosen[at];
    if (counts !== undefined) return stackOf(piecesOf(counts, sizes), wanted, allowed, sizes);
    const rest = { sizes: sizes.map((each) => each.size), quantities: left };
    const nearest = bestStack(rest, wanted, allowed, mostPieces);
    take(left, countsOf(nearest.pieces, sizes));
    return nearest;
  });
}

// ───────────────────────────── the curve ─────────────────────────────

interface Reached {
  readonly sum: number;
  readonly count: number;
}

/** Curves made before: everything that takes from one kit asks it the same. */
const kept = new Map<string, LookupCurve>();
const mostKept = 64;

function curveOf(
  name: string,
  kit: Kit,
  mostPieces: number,
  allowed: number,
  valueOf: (found: Reached) => number,
): LookupCurve {
  const key = [name, kit.sizes.join(), kit.quantities?.join(), mostPieces, allowed].join(" ");
  const before = kept.get(key);
  if (before !== undefined) return before;
  const curve = freshCurve(name, kit, mostPieces, allowed, valueOf);
  if (kept.size >= mostKept) kept.clear();
  kept.set(key, curve);
  return curve;
}

function freshCurve(
  name: string,
  kit: Kit,
  mostPieces: number,
  allowed: number,
  valueOf: (found: Reached) => number,
): LookupCurve {
  const usable = usableSizes(kit);
  const slack = slackOf(usable);
  const rows = sumsByCount(usable, mostPieces, slack);
  const all = rows.flatMap((sums, count) => sums.map((sum) => ({ sum, count })));
  const nearest = distinct(
    all.sort((one, other) => one.sum - other.sum || one.count - other.count),
    slack,
  );
  const bounds = [0];
  for (const sums of [...rows, nearest.map((each) => each.sum)]) {
    sums.forEach((sum, at) => {
      bounds.push(sum - allowed - slack, sum + allowed + slack);
      const next = sums[at + 1];
      // Just past the middle, so that the smaller sum holds in the middle itself.
      if (next !== undefined) bounds.push((sum + next) / 2 + slack);
    });
  }
  bounds.sort((one, other) => one - other);
  const keys: number[] = [];
  const values: number[] = [];
  const inside = bounds.filter((bound) => bound >= 0);
  inside.forEach((bound, at) => {
    const next = inside[at + 1] ?? bound + allowed + 2 * slack + 1;
    if (next - bound <= slack / 2 && at + 1 < inside.length) return;
    const value = valueOf(chosenAt((bound + next) / 2, rows, nearest, allowed + slack));
    if (values[values.length - 1] === value) return;
    keys.push(keys.length === 0 ? 0 : bound);
    values.push(value);
  });
  // Whatever is wanted beyond the reach of the kit gets the largest stack.
  keys.push(Number.MAX_VALUE);
  values.push(values[values.length - 1] ?? 0);
  return { name, method: "step", keys, values };
}

function chosenAt(
  wanted: number,
  rows: readonly (readonly number[])[],
  nearest: readonly Reached[],
  allowed: number,
): Reached {
  for (const [count, sums] of rows.entries()) {
    const sum = nearestOf(sums, wanted, (each) => each);
    if (sum !== undefined && Math.abs(sum - wanted) <= allowed) return { sum, count };
  }
  return nearestOf(nearest, wanted, (each) => each.sum) ?? { sum: 0, count: 0 };
}

function nearestOf<T>(
  items: readonly T[],
  wanted: number,
  sumOf: (item: T) => number,
): T | undefined {
  let low = 0;
  let high = items.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sumOf(items[middle]!) < wanted) low = middle + 1;
    else high = middle;
  }
  const above = items[low];
  const below = items[low - 1];
  if (above === undefined || below === undefined) return above ?? below;
  return wanted - sumOf(below) <= sumOf(above) - wanted ? below : above;
}

/** Sums that can be reached with exactly 0, 1, 2 … pieces, ascending; fewer pieces for huge kits. */
function sumsByCount(sizes: readonly Size[], mostPieces: number, slack: number): number[][] {
  for (let most = Math.min(mostPieces, mostPiecesForCurves); most > 0; most--) {
    const rows = reachable(sizes, most, slack);
    if (rows !== undefined) return rows;
  }
  return [[0]];
}

/** Takes the sizes in turn, so that no size is used oftener than there are pieces of it. */
function reachable(sizes: readonly Size[], most: number, slack: number): number[][] | undefined {
  let rows: number[][] = [[0], ...Array.from({ length: most }, () => [])];
  for (const { size, count } of sizes) {
    const next = rows.map((row) => [...row]);
    for (const [used, row] of rows.entries()) {
      for (let more = 1; more <= Math.min(count, most - used); more++) {
        for (const sum of row) next[used + more]!.push(sum + more * size);
      }
    }
    rows = next.map((row) => {
      row.sort((one, other) => one - other);
      return row.filter((sum, at) => at === 0 || sum - row[at - 1]! > slack);
    });
    if (rows.reduce((total, row) => total + row.length, 0) > mostSums) return undefined;
  }
  while (rows.length > 1 && rows[rows.length - 1]!.length === 0) rows.pop();
  return rows;
}

/** Equal sums once, with the fewest pieces; expects them sorted by sum. */
function distinct(reached: readonly Reached[], slack: number): Reached[] {
  const kept: Reached[] = [];
  for (const each of reached) {
    const last = kept[kept.length - 1];
    if (last === undefined || each.sum - last.sum > slack) kept.push(each);
    else if (each.count < last.count) kept[kept.length - 1] = each;
  }
  return kept;
}
