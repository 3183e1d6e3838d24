/**
 * The order in which equal fasteners are tightened, for any count and pattern.
 *
 *     tighteningOrder(8, "cross")   →   [1, 5, 3, 7, 2, 6, 4, 8]
 *
 * Fasteners are numbered clockwise from 1; those of a line from one end to the other.
 * Must not know: joints, torques, builds.
 */

export type Pattern = "cross" | "circle" | "line";

/** More fasteners than any joint has; beyond it there is no order. */
const mostFasteners = 400;

/**
 * `cross`: each fastener is followed by the one opposite, and each pair lies as far from the last
 * as it can (ASME PCC-1, legacy cross pattern; odd counts go by the step nearest to half a turn).
 * `circle`: round once. `line`: from the middle outwards (common practice).
 */
export function tighteningOrder(count: number, pattern: Pattern = "cross"): number[] {
  if (!isCount(count)) return [];
  if (pattern === "circle") return upTo(count);
  return pattern === "line" ? fromTheMiddle(count) : across(count);
}

/** The same for equal groups that stand apart, numbered on from group to group. */
export function groupedOrder(count: number, groups: number, pattern: Pattern): number[][] {
  if (!isCount(count)) return [];
  const each =
    Number.isInteger(groups) && groups > 1 && count % groups === 0 ? count / groups : count;
  const own = tighteningOrder(each, pattern);
  const result: number[][] = [];
  for (let first = 0; first < count; first += each) result.push(own.map((place) => place + first));
  return result;
}

/** Pairs of a written order that follow each other and are neighbours on the circle. */
export function neighboursInSuccession(
  order: readonly number[],
  count: number,
): [number, number][] {
  const pairs: [number, number][] = [];
  for (const [index, place] of order.entries()) {
    const next = order[index + 1];
    if (next === undefined) break;
    const apart = Math.abs(next - place);
    if (apart === 1 || apart === count - 1) pairs.push([place, next]);
  }
  return pairs;
}

/** What is wrong with a written order as a way round `count` fasteners. */
export function gapsOfOrder(
  order: readonly number[],
  count: number,
): { readonly missing: number[]; readonly twice: number[]; readonly unknown: number[] } {
  const seen = new Set<number>();
  const twice: number[] = [];
  const unknown: number[] = [];
  for (const place of order) {
    if (!Number.isInteger(place) || place < 1 || place > count) unknown.push(place);
    else if (seen.has(place)) twice.push(place);
    else seen.add(place);
  }
  return { missing: upTo(count).filter((place) => !seen.has(place)), twice, unknown };
}

// ───────────────────────────── helpers ─────────────────────────────

function isCount(count: number): boolean {
  return Number.isInteger(count) && count >= 1 && count <= mostFasteners;
}

/** Even counts: the order of the half, each place followed by its opposite. */
function across(count: number): number[] {
  if (count <= 3) return upTo(count);
  if (count % 2 === 1) {
    const step = (count - 1) / 2;
    return Array.from({ length: count }, (_, index) => ((index * step) % count) + 1);
  }
  const half = count / 2;
  return across(half).flatMap((place) => [place, place + half]);
}

function fromTheMiddle(count: number): number[] {
  const middle = (count + 1) / 2;
  // The place nearer to the middle comes first; of two equally far, the lower one.
  return upTo(count).sort(
    (one, other) => Math.abs(one - middle) - Math.abs(other - middle) || one - other,
  );
}

function upTo(count: number): number[] {
  return Array.from({ length: count }, (_, index) => index + 1);
}
