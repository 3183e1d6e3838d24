/**
 * Figures that stand alone in some combination of rows, of which each has so much of every figure.
 *
 *     x + y + z, x + y - z   →   z, half of the first less half of the second
 *
 * Must not know: equations, what rows and figures are.
 */
import { SINGULAR } from "./linear";

/** By the number of the row: how much of each figure it has. */
export type Rows = ReadonlyMap<number, ReadonlyMap<number, number>>;

/** A combination of rows in which one figure stands alone. */
export interface Alone {
  /** How much of it there is. */
  readonly factor: number;
  /** How often each row is taken. */
  readonly weights: ReadonlyMap<number, number>;
}

/** Rows in which too much runs together are not looked through. */
const MOST_WORK = 2_000_000;
const NOTHING = 1e-9;

/** By the figure. */
export function standingAlone(rows: Rows): ReadonlyMap<number, Alone> {
  const reduced = new Reduced();
  const alone = new Map<number, Alone>();
  for (const [row, entries] of mayCancel(rows)) {
    reduced.add(row, entries);
    if (reduced.work > MOST_WORK) return alone;
  }
  for (const { entries, weights } of reduced.rows()) {
    if (entries.size !== 1) continue;
    for (const [figure, factor] of entries) alone.set(figure, { factor, weights });
  }
  return alone;
}

// ───────────────────────────── helpers ─────────────────────────────

/** Without rows of two figures that stand in no other row: whatever these are combined with has both. */
function mayCancel(rows: Rows): Rows {
  const count = new Map<number, number>();
  for (const entries of rows.values())
    for (const figure of entries.keys()) count.set(figure, (count.get(figure) ?? 0) + 1);
  const left = new Map(rows);
  for (let before = -1; before !== left.size; ) {
    before = left.size;
    for (const [row, entries] of left) {
      let own = 0;
      for (const figure of entries.keys()) if (count.get(figure) === 1) own++;
      if (own < 2) continue;
      left.delete(row);
      for (const figure of entries.keys()) count.set(figure, count.get(figure)! - 1);
    }
  }
  return left;
}

interface Combined {
  readonly entries: Map<number, number>;
  /** The rows it is made of, and how often each was taken. */
  readonly weights: Map<number, number>;
}

/** Rows of which each leads with a figure that stands in no other (Gauss and Jordan). */
class Reduced {
  /** Entries that were worked on. */
  work = 0;
  private readonly leading = new Map<number, Combined>();
  /** Which leading rows a figure stands in, its own not counted. */
  private readonly standsIn = new Map<number, Set<number>>();

  rows(): Iterable<Combined> {
    return this.leading.values();
  }

  add(number: number, entries: ReadonlyMap<number, number>): void {
    const row: Combined = { entries: new Map(entries), weights: new Map([[number, 1]]) };
    for (const figure of entries.keys()) {
      const leading = this.leading.get(figure);
      if (leading !== undefined) this.takeOff(row, leading, figure);
    }
    let lead: number | undefined;
    let most = 0;
    for (const [figure, entry] of row.entries) {
      if (Math.abs(entry) <= most) continue;
      most = Math.abs(entry);
      lead = figure;
    }
    const largest = [...row.weights.values()].reduce(
      (one, other) => Math.max(one, Math.abs(other)),
      1,
    );
    if (lead === undefined || most <= SINGULAR * largest) return;
    for (const other of this.standsIn.get(lead) ?? []) {
      const above = this.leading.get(other)!;
      const before = new Set(above.entries.keys());
      this.takeOff(above, row, lead);
      for (const figure of before)
        if (!above.entries.has(figure)) this.standsIn.get(figure)?.delete(other);
      this.note(above, other);
    }
    this.standsIn.delete(lead);
    this.leading.set(lead, row);
    this.note(row, lead);
  }

  private note(row: Combined, lead: number): void {
    for (const figure of row.entries.keys()) {
      if (figure === lead) continue;
      const rows = this.standsIn.get(figure);
      if (rows === undefined) this.standsIn.set(figure, new Set([lead]));
      else rows.add(lead);
    }
  }

  private takeOff(row: Combined, other: Combined, figure: number): void {
    const share = (row.entries.get(figure) ?? 0) / other.entries.get(figure)!;
    if (share === 0) return;
    this.work += other.entries.size + other.weights.size;
    addTo(row.entries, other.entries, -share);
    row.entries.delete(figure);
    addTo(row.weights, other.weights, -share);
  }
}

function addTo(sums: Map<number, number>, more: ReadonlyMap<number, number>, share: number): void {
  for (const [key, entry] of more) {
    const before = sums.get(key) ?? 0;
    const after = before + share * entry;
    if (Math.abs(after) <= NOTHING * (Math.abs(before) + Math.abs(share * entry))) sums.delete(key);
    else sums.set(key, after);
  }
}
