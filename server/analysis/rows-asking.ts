/**
 * Which rows of a reading have asked something of which things: where something is laid over the
 * reading, these are looked at and all others are taken over.
 *
 *     new RowsAsking(placed, rows).touchedBy(changed)   →   the places of some of them
 *
 * Must not know: what was asked, what is laid over.
 */
import type { Row } from "../model/model";
import type { ThingId } from "../names/ids";
import type { Placed } from "./taken-in";

export class RowsAsking {
  private readonly places = new Map<ThingId, number[]>();
  /** To be looked at whatever changes: what asks of all there is, what may count or no longer count. */
  private readonly always: number[] = [];
  /** Terms of sums that all of them took. */
  readonly spent: number;

  constructor(placed: readonly Placed[], rows: readonly (Row | undefined)[]) {
    let spent = 0;
    for (const [place, { item, declaration }] of placed.entries()) {
      const row = rows[place];
      spent += row?.terms.spent ?? 0;
      const { type } = item.node;
      if (declaration !== undefined) this.note(declaration.id, place);
      if (row === undefined || row.questions.overall || type === "option" || type === "record") {
        this.always.push(place);
        continue;
      }
      for (const top of row.questions.asked) this.note(top, place);
    }
    this.spent = spent;
  }

  touchedBy(changed: ReadonlySet<ThingId>): ReadonlySet<number> {
    const touched = new Set(this.always);
    for (const top of changed) for (const place of this.places.get(top) ?? []) touched.add(place);
    return touched;
  }

  private note(top: ThingId, place: number): void {
    const places = this.places.get(top);
    if (places === undefined) this.places.set(top, [place]);
    else places.push(place);
  }
}
