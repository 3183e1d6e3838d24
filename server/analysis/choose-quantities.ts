/**
 * How many of a thing each field takes, how many there are in one that is bought (a kit of several), and
 * how many there are at all.
 *
 *     { fields: ["rear.stud"], counts: [8], pack: "in_kit", stock: "in_stock" }   →   2 kits of 5
 *
 * Must not know: how combinations are searched.
 */

import type { BuildAnalysis } from "./build-analysis";
import type { ChooseRequest } from "./choose-request";
import type { FieldToFill } from "./choose-slots";

export interface Quantities {
  /** Pieces that a field takes. */
  readonly takes: (slot: number) => number;
  /** So many are bought of a thing for a field: kits are not shared between fields. */
  readonly bought: (slot: number, name: string) => number;
  /** Pieces there are of a thing, kits opened; undefined where nobody says. */
  readonly pieces: (name: string) => number | undefined;
}

export function quantitiesOf(
  { counts = [], stock, pack }: ChooseRequest,
  freed: BuildAnalysis,
  shelves: BuildAnalysis,
  slots: readonly FieldToFill[],
): Quantities | string {
  for (const path of [stock, pack]) {
    if (path === undefined) continue;
    const isField = slots.some(
      (slot) => freed.thingAt(slot.path)?.field(path)?.type.form === "measure",
    );
    if (!isField) return `these things have no figure ${path}`;
  }
  const wrong = counts.find((count) => !(Number.isInteger(count) && count > 0));
  if (wrong !== undefined) return `a field takes one or more of a thing, not ${wrong}`;
  const figure = (name: string, path: string | undefined): number | undefined =>
    path === undefined ? undefined : shelves.valueAt(`${name}.${path}`)?.si;
  const inOne = (name: string): number => {
    const count = figure(name, pack) ?? 1;
    return Math.max(count, 1);
  };
  const takes = (slot: number): number => counts[slot] ?? 1;
  return {
    takes,
    bought: (slot, name) => Math.ceil(takes(slot) / inOne(name)),
    pieces(name) {
      const count = figure(name, stock);
      return count === undefined ? undefined : count * inOne(name);
    },
  };
}
