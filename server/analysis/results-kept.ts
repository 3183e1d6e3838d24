/**
 * Which results of rows an analysis has in common with another, and what differs.
 *
 *     differing(before, after)   →   { gone: [result of the wheel], come: [its result now] }
 *
 * Must not know: what results are about.
 */

import type { Item } from "../../grammar/syntax";
import { aligned } from "../keep/aligned";
import type { ThingId } from "../names/ids";
import type { BuildAnalysis } from "./build-analysis";
import { type Opened, topsOf } from "./build-cells";
import type { PlacedRow } from "./build-rows";
import type { Reading } from "./reading";
import { type Bench, RowResult } from "./row-result";

interface ResultSource {
  readonly from: BuildAnalysis;
  readonly edited: boolean;
  /** The cells that are others than there, where that is known. */
  readonly opened: Opened | undefined;
}

/** Results that still hold are those of an analysis that is much the same. */
export function resultsOf(
  reading: Reading,
  bench: Bench,
  alike: readonly ResultSource[],
): readonly RowResult[] {
  const sources = alike.map((source) => {
    const changed = reading.changedSince(source.from.reading);
    return { ...source, resultOf: resultsIn(source.from, reading), changed };
  });
  const { rows } = reading;
  const resultAt = (place: number): RowResult => {
    for (const { resultOf, changed, edited, opened } of sources) {
      const known = resultOf(place);
      if (known?.holdsIn(reading, changed, opened) !== true) continue;
      // What is kept of an edited build need not hold on to the build before the edit.
      if (edited) known.reading = reading;
      return known;
    }
    return new RowResult(rows[place] as PlacedRow, reading, bench);
  };
  const [nearest] = sources;
  if (nearest?.opened === undefined || nearest.from.results.length !== rows.length)
    return rows.map((_, place) => resultAt(place));
  // Nothing is asked of results that have to do with nothing that is another.
  const { from, changed, opened, edited } = nearest;
  const again = new Set(from.indexes.speakingOf(topsIn(opened, changed)));
  const results = from.results.slice();
  for (const [place, known] of results.entries()) {
    const { placed, row } = rows[place] as PlacedRow;
    const same = known.of.row === row && known.of.placed.item === placed.item;
    if (!same || known.named.size > 0 || again.has(place)) results[place] = resultAt(place);
    else if (edited) known.reading = reading;
  }
  return results;
}

/** Results of which one analysis has others than another. */
export function differing(
  before: BuildAnalysis,
  after: BuildAnalysis,
): { readonly gone: readonly RowResult[]; readonly come: readonly RowResult[] } {
  const without = (one: BuildAnalysis, other: BuildAnalysis): RowResult[] => {
    const resultOf = resultsIn(other, one.reading);
    return one.results.filter((result, place) => resultOf(place) !== result);
  };
  return { gone: without(before, after), come: without(after, before) };
}

/** Results of one analysis that are not those of another, each with the one that stands in its place there. */
export function differencesIn(
  one: BuildAnalysis,
  other: BuildAnalysis,
): { readonly here: RowResult; readonly there: RowResult | undefined }[] {
  const placeIn = aligned(one.reading.rows, other.reading.rows, itemOf);
  const found: { here: RowResult; there: RowResult | undefined }[] = [];
  for (const [place, here] of one.results.entries()) {
    const at = placeIn(place);
    const there = at === undefined ? undefined : other.results[at];
    if (there !== here) found.push({ here, there });
  }
  return found;
}

/** Things at the top that are others, or that a row speaks of that comes to something else. */
export function movedBy(
  { gone, come }: ReturnType<typeof differing>,
  changed: ReadonlySet<ThingId>,
): ReadonlyMap<ThingId, object> {
  const state = {};
  const moved = new Map<ThingId, object>();
  for (const top of changed) moved.set(top, state);
  for (const results of [gone, come])
    for (const {
      named,
      of: {
        row: { figures, words },
      },
    } of results) {
      for (const { thing } of figures) moved.set(thing.top, state);
      for (const { thing } of named) moved.set(thing.top, state);
      for (const thing of words.keys()) moved.set(thing.top, state);
    }
  return moved;
}

// ───────────────────────────── helpers ─────────────────────────────

function topsIn(opened: Opened, changed: ReadonlySet<ThingId>): Set<ThingId> {
  const found = new Set(changed);
  for (const keys of opened.values()) for (const top of topsOf({ keys })) found.add(top);
  return found;
}

/** The results of an analysis, by the places of their rows in another reading that has the same rows. */
function resultsIn(
  { results, reading }: BuildAnalysis,
  { rows }: Reading,
): (place: number) => RowResult | undefined {
  const placeIn = aligned(rows, reading.rows, itemOf);
  return (place) => {
    const at = placeIn(place);
    const result = at === undefined ? undefined : results[at];
    return result?.of.row === rows[place]?.row ? result : undefined;
  };
}

function itemOf({ placed }: PlacedRow): Item {
  return placed.item;
}
