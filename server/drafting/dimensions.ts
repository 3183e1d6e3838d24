/**
 * Places dimensions along one side of a drawing: tiers by interval scheduling, the shortest nearest,
 * and on each dimension line a place for its text where no extension line runs.
 *
 *     placeAlong([{ from: 0, to: 30, width: 12, … }, …])   →   [{ tier: 0, text: 9, outside: … }, …]
 *
 * Everything is in one dimension, millimeters on paper along the side. Extension lines of outer
 * tiers run through inner ones; a text keeps clear of all of them, also of those still to be placed,
 * and a dimension for which there is no such place waits until the others have one, in a tier of
 * its own further out, where nothing runs.
 *
 * Must not know: which side it is, what is measured.
 */

export interface Stretch {
  /** Ascending. */
  readonly from: number;
  readonly to: number;
  /** Of its text. */
  readonly width: number;
}

export interface PlacedSpan {
  /** 0 is nearest to the outline. */
  readonly tier: number;
  /** Where its text begins. */
  readonly text: number;
  /** Set where arrows and text stand outside, and the dimension line is drawn on to the text. */
  readonly outside?: "before" | "after";
  /** True where the arrows stand outside, the text perhaps between them. */
  readonly arrowsOutside: boolean;
}

export const arrowLength = 2.5;

const air = 1.2;
const clear = 0.8;
const outsideReach = arrowLength + 2;

/** In the order given. */
export function placeAlong(spans: readonly Stretch[]): PlacedSpan[] {
  const placed = new Map<number, Taken>();
  const order = spans
    .map((span, index) => ({ span, index }))
    .sort((one, other) => reach(one.span) - reach(other.span) || one.span.from - other.span.from);
  const waiting: typeof order = [];
  for (const [turn, { span, index }] of order.entries()) {
    const others = [...order.slice(turn + 1), ...waiting];
    const lines = others.flatMap(({ span: { from, to } }) => [from, to]);
    const found = placeOne(span, [...placed.values()], lines, false);
    if (found === undefined) waiting.push({ span, index });
    else placed.set(index, found);
  }
  for (const [turn, { span, index }] of waiting.entries()) {
    const lines = waiting.slice(turn + 1).flatMap(({ span: { from, to } }) => [from, to]);
    const taken = [...placed.values()];
    const found = placeOne(span, taken, lines, true) ?? placeOne(span, taken, [], true);
    if (found !== undefined) placed.set(index, found);
  }
  return spans.map((_, index) => placed.get(index)!);
}

// ───────────────────────────── helpers ─────────────────────────────

interface Taken extends PlacedSpan {
  readonly span: Stretch;
  /** What it takes up of its tier. */
  readonly from: number;
  readonly to: number;
}

function reach({ from, to }: Stretch): number {
  return to - from;
}

function placeOne(
  span: Stretch,
  taken: readonly Taken[],
  lines: readonly number[],
  further: boolean,
): Taken | undefined {
  const last = Math.max(-1, ...taken.map(({ tier }) => tier));
  // What lies within it stands nearer to the outline.
  const least = Math.max(
    0,
    ...taken.filter((each) => within(each.span, span)).map(({ tier }) => tier + 1),
  );
  for (let tier = further ? last + 1 : least; tier <= last + 1; tier++) {
    const beyond = taken
      .filter((each) => each.tier > tier)
      .flatMap(({ span: { from, to } }) => [from, to]);
    const cut = taken.filter((each) => each.tier < tier);
    // Its own extension lines must not run through a text further in.
    if (cut.some((each) => [span.from, span.to].some((at) => inText(at, each)))) {
      if (tier <= last) continue;
    }
    const beside = taken.filter((each) => each.tier === tier);
    for (const candidate of candidatesOf(span)) {
      const textEnd = candidate.text + span.width;
      const free =
        ![...lines, ...beyond].some((at) => at > candidate.text - clear && at < textEnd + clear) &&
        !beside.some((each) => overlap(candidate, each));
      if (free) return { ...candidate, tier, span };
    }
  }
  return undefined;
}

/** Chains share their ends; everything else keeps apart. */
function overlap(one: { from: number; to: number }, other: Taken): boolean {
  const slack = 0.01;
  return one.from < other.to - slack && other.from < one.to - slack;
}

function within(inner: Stretch, outer: Stretch): boolean {
  return inner.from >= outer.from - 0.01 && inner.to <= outer.to + 0.01;
}

function inText(at: number, { text, span }: Taken): boolean {
  return at > text - clear && at < text + span.width + clear;
}

/** Best first: in the middle, beside the middle, outside after, outside before. */
function* candidatesOf(span: Stretch): Generator<Omit<Taken, "tier" | "span">> {
  const { from, to, width } = span;
  const length = to - from;
  const arrowsOutside = length < 2 * arrowLength + 1.5;
  const room = length - width - 2 * (arrowLength * 0.4 + air);
  if (!arrowsOutside && room >= 0) {
    const middle = (from + to - width) / 2;
    const steps = Math.min(60, Math.floor(room / 2 / 1.5));
    for (let step = 0; step <= steps; step++) {
      for (const way of step === 0 ? [0] : [1, -1])
        yield { from, to, text: middle + way * step * 1.5, arrowsOutside };
    }
  }
  const out = arrowsOutside ? outsideReach : 0;
  for (const further of [0, 4, 9, 15]) {
    const after = to + out + air + further;
    yield {
      from: from - out,
      to: after + width + air,
      text: after,
      outside: "after",
      arrowsOutside,
    };
    const before = from - out - air - further - width;
    yield { from: before - air, to: to + out, text: before, outside: "before", arrowsOutside };
  }
}
