/**
 * Figures that stand alone in some combination of rows, of which each has so much of every figure.
 *
 *     x + y + z, x + y - z   →   z, half of the first less half of the second
 *
 * Must not know: equations, what rows and figures are.
 */
import { goOn } from "../keep/patience";
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
  const { core, leading } = inTurn(mayCancel(rows));
  const reduced = new Reduced();
  const alone = new Map<number, Alone>();
  for (const [row, entries] of core) {
    reduced.add(row, entries);
    if (reduced.work > MOST_WORK) return alone;
  }
  // Each leads with a figure that stands in none that was added before: those stay as they are.
  for (const { row, lead } of leading.reverse()) {
    reduced.addLed(row, rows.get(row)!, lead);
    if (reduced.work > MOST_WORK) return alone;
  }
  for (const { entries, weights } of reduced.rows()) {
    if (entries.size !== 1) continue;
    for (const [figure, factor] of entries) alone.set(figure, { factor, weights: weights() });
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

/**
 * Rows that have a figure which stands in no other one, taken off one after the other as long as there
 * are such; what is left runs in a circle.
 */
function inTurn(rows: Rows) {
  const standsIn = new Map<number, Set<number>>();
  for (const [row, entries] of rows) {
    for (const figure of entries.keys()) {
      const own = standsIn.get(figure);
      if (own === undefined) standsIn.set(figure, new Set([row]));
      else own.add(row);
    }
  }
  const core = new Map(rows);
  const leading: { readonly row: number; readonly lead: number }[] = [];
  const once = [...standsIn.keys()].filter((figure) => standsIn.get(figure)!.size === 1);
  for (const lead of once) {
    const [row = -1] = standsIn.get(lead)!;
    const entries = core.get(row);
    // What there is next to nothing of is not divided by.
    if (entries === undefined || Math.abs(entries.get(lead)!) < LEAST_LEAD) continue;
    core.delete(row);
    leading.push({ row, lead });
    for (const figure of entries.keys()) {
      const left = standsIn.get(figure)!;
      left.delete(row);
      if (left.size === 1) once.push(figure);
    }
  }
  return { core, leading };
}

/** Of entries that are 1 at most. */
const LEAST_LEAD = 1e-3;

interface Combined {
  readonly entries: Map<number, number>;
  /** The rows it is made of, and how often each was taken. */
  weights(): ReadonlyMap<number, number>;
}

interface Leading extends Combined {
  readonly taken: Map<number, number>;
}

/** Rows of which each leads with a figure that stands in no other (Gauss and Jordan). */
class Reduced {
  /** Entries that were worked on. */
  work = 0;
  private readonly leading = new Map<number, Leading>();
  private readonly led = new Map<number, Combined>();
  /** Which leading rows a figure stands in, its own not counted. */
  private readonly standsIn = new Map<number, Set<number>>();

  *rows(): Generator<Combined> {
    yield* this.leading.values();
    yield* this.led.values();
  }

  add(number: number, entries: ReadonlyMap<number, number>): void {
    const taken = new Map([[number, 1]]);
    const row: Leading = { entries: new Map(entries), taken, weights: () => taken };
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
    const largest = [...taken.values()].reduce((one, other) => Math.max(one, Math.abs(other)), 1);
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

  /** A row with a figure that stands in none of those before, after all that have none such. */
  addLed(number: number, entries: ReadonlyMap<number, number>, lead: number): void {
    const left = new Map(entries);
    const off: (readonly [Combined, number])[] = [];
    for (const [figure, entry] of entries) {
      const other = this.leading.get(figure) ?? this.led.get(figure);
      if (other === undefined || figure === lead) continue;
      const share = entry / other.entries.get(figure)!;
      this.work += other.entries.size;
      addTo(left, other.entries, -share);
      left.delete(figure);
      off.push([other, share]);
    }
    const weights = (): ReadonlyMap<number, number> => {
      const sums = new Map([[number, 1]]);
      for (const [other, share] of off) addTo(sums, other.weights(), -share);
      return sums;
    };
    this.led.set(lead, { entries: left, weights });
  }

  private note(row: Leading, lead: number): void {
    for (const figure of row.entries.keys()) {
      if (figure === lead) continue;
      const rows = this.standsIn.get(figure);
      if (rows === undefined) this.standsIn.set(figure, new Set([lead]));
      else rows.add(lead);
    }
  }

  private takeOff(row: Leading, other: Leading, figure: number): void {
    const share = (row.entries.get(figure) ?? 0) / other.entries.get(figure)!;
    if (share === 0) return;
    goOn(10 * (other.entries.size + other.taken.size));
    this.work += other.entries.size + other.taken.size;
    addTo(row.entries, other.entries, -share);
    row.entries.delete(figure);
    addTo(row.taken, other.taken, -share);
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
