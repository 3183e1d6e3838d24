/**
 * The order in which equal fasteners are tightened, for any count and pattern, and where they stand.
 *
 *     tighteningOrder(8, "cross")   →   [1, 5, 3, 7, 2, 6, 4, 8]
 *
 * Places are numbered clockwise from 1; those of a line from one end to the other; those of two rows
 * along the upper row and back along the lower; those of a rectangle from its upper left corner;
 * those with coordinates as listed. Must not know: joints, torques, builds.
 */

export type Pattern = "cross" | "circle" | "line" | "rectangle" | "two_rows" | "coordinates";

export interface FastenerLayout {
  readonly count: number;
  /** Equal groups that stand apart, numbered on from group to group. */
  readonly groups: number;
  readonly pattern: Pattern;
  /** Of a rectangle: fasteners along a long side, corners included. */
  readonly columns?: number;
  /** Where each stands, by number, in any one unit. */
  readonly places?: readonly FastenerPoint[];
}

export interface FastenerPoint {
  /** To the right. */
  readonly x: number;
  /** Upward. */
  readonly y: number;
}

/** More fasteners than any joint has; beyond it there is no order. */
const mostFasteners = 400;
/** Fasteners up to this much farther than the nearest are neighbors too. */
const neighborhood = 1.2;

/**
 * `cross`: each fastener is followed by the one opposite, and each pair lies as far from the last
 * as it can (ASME PCC-1, legacy cross pattern). Odd counts from 7 up go to the middle of the widest
 * gap and then across. `circle`: round once. `line`: from the middle outwards. `rectangle`,
 * `two_rows`, `coordinates`: from the middle outwards, each followed by the one opposite (common
 * practice, no source).
 */
export function tighteningOrder(count: number, pattern: Pattern = "cross"): number[] {
  return orderOfGroup({ count, groups: 1, pattern });
}

/** The same for equal groups that stand apart, numbered on from group to group. */
export function groupedOrder(layout: FastenerLayout): number[][] {
  const { count } = layout;
  if (!isCount(count)) return [];
  const each = sizeOfGroup(layout);
  const result: number[][] = [];
  for (let first = 0; first < count; first += each) {
    const places = layout.places?.slice(first, first + each);
    const own = orderOfGroup({ ...layout, count: each, groups: 1, places });
    result.push(own.map((place) => place + first));
  }
  return result;
}

/** Pairs of an order that follow each other and stand side by side; groups stand apart. */
export function neighborsInSuccession(
  order: readonly number[],
  layout: FastenerLayout,
): [number, number][] {
  const areNeighbors = neighborsOf(layout);
  const pairs: [number, number][] = [];
  for (const [index, place] of order.entries()) {
    const next = order[index + 1];
    if (next !== undefined && areNeighbors(place, next)) pairs.push([place, next]);
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

/**
 * Where the fasteners of one group stand, for a drawing: in the unit of `places` where they are
 * given, else on a circle of radius 1 or with 1 from one to the next.
 */
export function pointsOf(layout: FastenerLayout): readonly FastenerPoint[] {
  const { pattern, places, count } = layout;
  const size = sizeOfGroup(layout);
  if (!isCount(count)) return [];
  if (pattern === "coordinates" && places !== undefined && places.length >= count) return places;
  switch (pattern) {
    case "line":
      return upTo(size).map((place) => ({ x: place - (size + 1) / 2, y: 0 }));
    case "two_rows":
      return rows(size);
    case "rectangle":
      return rectangle(size, layout.columns) ?? ring(size);
    default:
      return ring(size);
  }
}

/** How many of a rectangle stand in each short side, corners included; `undefined` where none fits. */
export function rowsOfRectangle(count: number, columns: number): number | undefined {
  const rows = (count - 2 * columns + 4) / 2;
  return Number.isInteger(rows) && rows >= 2 && columns >= 2 ? rows : undefined;
}

// ───────────────────────────── orders ─────────────────────────────

function orderOfGroup(layout: FastenerLayout): number[] {
  const { count, pattern } = layout;
  if (!isCount(count)) return [];
  switch (pattern) {
    case "circle":
      return upTo(count);
    case "line":
      return fromTheMiddle(count);
    case "cross":
      return across(count);
    case "rectangle":
      if (rectangle(count, layout.columns) === undefined) return across(count);
      return outward(layout);
    case "two_rows":
      return outward(layout);
    case "coordinates":
      return layout.places === undefined || layout.places.length < count
        ? across(count)
        : outward(layout);
  }
}

/** Even counts: the order of the half, each place followed by its opposite. */
function across(count: number): number[] {
  if (count === 5) return [1, 3, 5, 2, 4];
  if (count % 2 === 1) return widestGaps(count);
  const half = count / 2;
  return across(half).flatMap((place) => [place, place + half]);
}

/** The middle of the widest gap, then across, and so on: never round on two fronts. */
function widestGaps(count: number): number[] {
  const apart = (one: number, other: number): number => {
    const way = Math.abs(one - other);
    return Math.min(way, count - way);
  };
  const nearest = new Array<number>(count + 1).fill(count);
  const left = new Set(upTo(count));
  const order: number[] = [];
  const take = (place: number): void => {
    order.push(place);
    left.delete(place);
    for (const other of left) {
      nearest[other] = Math.min(nearest[other]!, apart(place, other));
    }
  };
  const best = (places: Iterable<number>, marks: (place: number) => readonly number[]): number => {
    let found = 0;
    let highest: readonly number[] = [];
    for (const place of places) {
      const own = marks(place);
      if (found !== 0 && !isHigher(own, highest)) continue;
      found = place;
      highest = own;
    }
    return found;
  };
  while (left.size > 0) {
    const last = order[order.length - 1];
    const far = last === undefined ? left : [...left].filter((each) => apart(each, last) > 1);
    const gap = (place: number): number => nearest[place]!;
    const first = best(far === left || [...far].length > 0 ? far : left, (place) => [
      gap(place),
      last === undefined ? 0 : apart(place, last),
    ]);
    take(first);
    if (left.size > 0) take(best(left, (place) => [apart(place, first), gap(place)]));
  }
  return keptApart(order, (one, other) => apart(one, other) === 1);
}

/** From the middle outwards, each followed by the one opposite. */
function outward(layout: FastenerLayout): number[] {
  const points = pointsOf(layout);
  const areNeighbors = neighborsOf(layout);
  const middle = {
    x: mean(points.map(({ x }) => x)),
    y: mean(points.map(({ y }) => y)),
  };
  const away = (place: number): number => {
    const { x, y } = points[place - 1]!;
    return Math.hypot(x - middle.x, y - middle.y);
  };
  const left = upTo(layout.count).sort(
    (one, other) => rounded(away(one) - away(other)) || one - other,
  );
  const order: number[] = [];
  while (left.length > 0) {
    const last = order[order.length - 1];
    const next = left.findIndex((each) => last === undefined || !areNeighbors(last, each));
    const [first] = left.splice(Math.max(0, next), 1) as [number];
    order.push(first);
    const own = points[first - 1]!;
    const opposite = { x: 2 * middle.x - own.x, y: 2 * middle.y - own.y };
    const miss = (place: number): number => {
      const { x, y } = points[place - 1]!;
      return Math.hypot(x - opposite.x, y - opposite.y);
    };
    let partner = -1;
    for (const [index, each] of left.entries()) {
      if (areNeighbors(first, each)) continue;
      const before = left[partner];
      if (before === undefined || rounded(miss(each) - miss(before)) < 0) partner = index;
    }
    if (partner >= 0) order.push(...left.splice(partner, 1));
  }
  return keptApart(order, areNeighbors);
}

function fromTheMiddle(count: number): number[] {
  const middle = (count + 1) / 2;
  // The place nearer to the middle comes first; of two equally far, the lower one.
  return upTo(count).sort(
    (one, other) => Math.abs(one - middle) - Math.abs(other - middle) || one - other,
  );
}

/** Moves what follows its neighbor to where it follows and precedes none, where there is such a place. */
function keptApart(
  order: readonly number[],
  areNeighbors: (one: number, other: number) => boolean,
): number[] {
  const result = [...order];
  const meets = (one: number | undefined, other: number | undefined): boolean =>
    one !== undefined && other !== undefined && areNeighbors(one, other);
  for (let at = 1; at < result.length; at++) {
    const place = result[at]!;
    if (!meets(result[at - 1], place)) continue;
    const rest = result.filter((_, index) => index !== at);
    if (meets(rest[at - 1], rest[at])) continue;
    let to = -1;
    for (let index = rest.length; index > 0; index--) {
      if (index === at || meets(rest[index - 1], place) || meets(place, rest[index])) continue;
      to = index;
      break;
    }
    if (to < 0) continue;
    rest.splice(to, 0, place);
    result.splice(0, result.length, ...rest);
    at = 0;
  }
  return result;
}

// ───────────────────────────── who stands beside whom ─────────────────────────────

function neighborsOf(layout: FastenerLayout): (one: number, other: number) => boolean {
  const { pattern } = layout;
  const size = sizeOfGroup(layout);
  if (pattern === "coordinates" && layout.places !== undefined) return byDistance(layout.places);
  return (one, other) => {
    const group = Math.floor((one - 1) / size);
    if (group !== Math.floor((other - 1) / size)) return false;
    const way = Math.abs(one - other);
    if (pattern === "line") return way === 1;
    if (pattern === "two_rows") {
      const half = Math.ceil(size / 2);
      const isUpper = (place: number): boolean => place - group * size <= half;
      return way === 1 && isUpper(one) === isUpper(other);
    }
    return way === 1 || way === size - 1;
  };
}

function byDistance(points: readonly FastenerPoint[]): (one: number, other: number) => boolean {
  const distance = (one: number, other: number): number => {
    const [a, b] = [points[one]!, points[other]!];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  const nearest = points.map((_, one) =>
    points.reduce(
      (least, _other, other) => (other === one ? least : Math.min(least, distance(one, other))),
      Number.POSITIVE_INFINITY,
    ),
  );
  return (one, other) => {
    const reach = Math.max(nearest[one - 1]!, nearest[other - 1]!);
    return distance(one - 1, other - 1) <= neighborhood * reach;
  };
}

// ───────────────────────────── places ─────────────────────────────

function ring(size: number): FastenerPoint[] {
  return upTo(size).map((place) => {
    const angle = (2 * Math.PI * (place - 1)) / size;
    return { x: Math.sin(angle), y: Math.cos(angle) };
  });
}

function rows(size: number): FastenerPoint[] {
  const half = Math.ceil(size / 2);
  return upTo(size).map((place) =>
    place <= half
      ? { x: place - (half + 1) / 2, y: 0.5 }
      : { x: (size - half + 1) / 2 - (place - half), y: -0.5 },
  );
}

function rectangle(size: number, columns: number | undefined): FastenerPoint[] | undefined {
  const high = columns === undefined ? undefined : rowsOfRectangle(size, columns);
  if (columns === undefined || high === undefined) return undefined;
  const [right, top] = [(columns - 1) / 2, (high - 1) / 2];
  const points: FastenerPoint[] = [];
  for (let x = -right; x < right; x++) points.push({ x, y: top });
  for (let y = top; y > -top; y--) points.push({ x: right, y });
  for (let x = right; x > -right; x--) points.push({ x, y: -top });
  for (let y = -top; y < top; y++) points.push({ x: -right, y });
  return points;
}

// ───────────────────────────── helpers ─────────────────────────────

function sizeOfGroup({ count, groups }: FastenerLayout): number {
  return Number.isInteger(groups) && groups > 1 && count % groups === 0 ? count / groups : count;
}

function isCount(count: number): boolean {
  return Number.isInteger(count) && count >= 1 && count <= mostFasteners;
}

function isHigher(one: readonly number[], other: readonly number[]): boolean {
  for (const [index, mark] of one.entries()) {
    const against = other[index]!;
    if (mark !== against) return mark > against;
  }
  return false;
}

/** Distances that differ by no more than arithmetic does are equal. */
function rounded(difference: number): number {
  return Math.abs(difference) < 1e-9 ? 0 : difference;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, each) => sum + each, 0) / Math.max(1, values.length);
}

/** The places of so many fasteners; of more than any joint has, enough to see that. */
export function upTo(count: number): number[] {
  const length = Math.max(0, Math.min(count, mostFasteners + 1));
  return Array.from({ length }, (_, index) => index + 1);
}
