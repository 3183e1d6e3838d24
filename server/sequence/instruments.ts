/**
 * How well the instrument a record names can be trusted.
 *
 *     instrumentCalled("steel tape", analysis)   →   reads to 1/32 in
 *
 * Must not know: what was measured with it.
 */
import type { Analysis } from "../analysis/analysis";
import type { Thing } from "../model/thing";
import { figureOf } from "./fields";
import { instrumentFields, instrumentTable, kinds } from "./vocabulary";

export interface Instrument {
  readonly name: string;
  readonly thing?: Thing;
  /** In metres. */
  readonly readsTo?: number;
  /** In radians. */
  readonly angleTo?: number;
  /** As a share of the reading. */
  readonly accuracy?: number;
  /** In N·m. */
  readonly least?: number;
  readonly most?: number;
}

/** By its title or name as declared in the build, else from the shop's table. */
export function instrumentCalled(name: string, analysis: Analysis): Instrument | undefined {
  const wanted = plain(name);
  const thing = analysis.things.find(
    (each) =>
      each.is(kinds.instrument) &&
      !each.implied &&
      [each.name, each.path, each.title ?? ""].some((own) => plain(own) === wanted),
  );
  if (thing === undefined) return fromTable(name, wanted, analysis);
  const figure = (field: string): number | undefined => figureOf(analysis, thing, field);
  return {
    name: thing.title ?? thing.name,
    thing,
    readsTo: figure(instrumentFields.readsTo),
    angleTo: figure(instrumentFields.angleTo),
    accuracy: figure(instrumentFields.accuracy),
    least: figure(instrumentFields.least),
    most: figure(instrumentFields.most),
  };
}

/** How far a reading of `si` may be off, in its own unit; `undefined` where nothing says so. */
export function uncertainty(
  instrument: Instrument,
  measureName: string,
  si: number,
): number | undefined {
  const { readsTo, angleTo, accuracy } = instrument;
  if (measureName === "length" && readsTo !== undefined) return readsTo;
  if (measureName === "angle" && angleTo !== undefined) return angleTo;
  return accuracy === undefined ? undefined : accuracy * Math.abs(si);
}

// ───────────────────────────── helpers ─────────────────────────────

function fromTable(name: string, wanted: string, analysis: Analysis): Instrument | undefined {
  const table = analysis.vocabulary.tables.get(instrumentTable.name);
  if (table === undefined) return undefined;
  const key = table.columns.findIndex((column) => column.name === instrumentTable.key);
  const length = table.columns.findIndex((column) => column.name === instrumentTable.length);
  const row = table.rows.find((cells) => plain(String(cells[key] ?? "")) === wanted);
  const readsTo = row?.[length];
  return typeof readsTo === "number" ? { name, readsTo } : undefined;
}

function plain(name: string): string {
  return name.trim().toLowerCase().replaceAll("_", " ");
}
