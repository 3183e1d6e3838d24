/**
 * How well the instrument a record names can be trusted.
 *
 *     instrumentCalled("steel tape", analysis)   →   reads to 1/32 in
 *
 * Must not know: what was measured with it.
 */

import type * as syntax from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import { madeOnce } from "../keep/once";
import type { KindDefinition } from "../model/definition";
import type { Thing } from "../model/thing";
import { isAbove } from "./close";
import { figureOf, literal, wordOf } from "./fields";
import type { NotedBuild } from "./noted-build";
import { instrumentFields, instrumentTable, kinds } from "./vocabulary";

export interface Instrument {
  readonly name: string;
  readonly isWrench: boolean;
  readonly thing?: Thing;
  /** What it measures: others of this sort can take its place. */
  readonly sort?: string;
  /** In meters. */
  readonly readsTo?: number;
  /** In radians. */
  readonly angleTo?: number;
  /** As a share of the reading. */
  readonly accuracy?: number;
  /** In N·m. */
  readonly least?: number;
  readonly most?: number;
  /** Smallest step its scale shows, in N·m. */
  readonly scaleStep?: number;
  /** What it can measure at all, in meters. */
  readonly fromLength?: number;
  readonly toLength?: number;
  /** Day of its last calibration. */
  readonly calibrated?: string;
  /** How long that is good for, in seconds. */
  readonly calibrationEvery?: number;
}

const known = new WeakMap<Analysis, Map<string, Instrument | undefined>>();

/**
 * By its title or name as declared in the build, else from the shop's table. A record names it as
 * a text, so it may stand in a file whose things nothing else in the analysis has to do with.
 */
export function instrumentCalled(name: string, analysis: Analysis): Instrument | undefined {
  const kept = madeOnce(known, analysis, () => new Map<string, Instrument | undefined>());
  return madeOnce(kept, name, () => look(name, analysis));
}

/** The same of a build that notes what it is asked. */
export function instrumentIn(build: NotedBuild, name: string): Instrument | undefined {
  return build.ask(called, name);
}

function called(analysis: Analysis, name: string): Instrument | undefined {
  return instrumentCalled(name, analysis);
}

/** Whether it is none to tighten with, as far as the build says what it is. */
export function isGauge({ isWrench, readsTo, angleTo }: Instrument): boolean {
  return !isWrench && (readsTo !== undefined || angleTo !== undefined);
}

/**
 * Whether a reading is written in steps less than half of what can be read off, and does not stand on
 * one of these: nobody saw it.
 */
export function isFiner(
  { value, rounding }: { readonly value: number; readonly rounding: number },
  readsTo = Number.NaN,
): boolean {
  const steps = value / (readsTo / 2);
  const isOnStep = Math.abs(steps - Math.round(steps)) < 1e-6;
  return rounding > 0 && isAbove(readsTo / 2, 2 * rounding) && !isOnStep;
}

/** The step it shows a measure in, in SI. */
export function stepOf({ readsTo, angleTo }: Instrument, measureName: string): number | undefined {
  return measureName === "length" ? readsTo : measureName === "angle" ? angleTo : undefined;
}

/** How far a reading of `si` may be off, in its own unit; `undefined` where nothing says so. */
export function uncertainty(
  instrument: Instrument,
  measureName: string,
  si: number,
): number | undefined {
  const { accuracy } = instrument;
  const step = stepOf(instrument, measureName);
  return step ?? (accuracy === undefined ? undefined : accuracy * Math.abs(si));
}

/** What the build declares to measure with, wrenches aside. */
export function declaredGauges(analysis: Analysis): readonly Instrument[] {
  return madeOnce(gauges, analysis, () => declaredIn(analysis).filter(isGauge));
}

const gauges = new WeakMap<Analysis, readonly Instrument[]>();

function declaredIn(analysis: Analysis): Instrument[] {
  return analysis
    .each(kinds.instrument)
    .filter((thing) => !thing.implied)
    .map((thing) => instrumentCalled(thing.path, analysis)!);
}

/** Those the build declares, then those of the shop's table that bear no name of a declared one. */
export function knownInstruments(analysis: Analysis): readonly Instrument[] {
  const declared = declaredIn(analysis);
  const table = analysis.vocabulary.tables.get(instrumentTable.name);
  const common = (table?.rows ?? []).flatMap(([name]) =>
    typeof name === "string" ? (instrumentCalled(name, analysis) ?? []) : [],
  );
  const names = new Set(declared.map(({ name }) => plain(name)));
  return [...declared, ...common.filter(({ name }) => !names.has(plain(name)))];
}

// ───────────────────────────── helpers ─────────────────────────────

function look(name: string, analysis: Analysis): Instrument | undefined {
  const wanted = plain(name);
  const thing = analysis
    .each(kinds.instrument)
    .find(
      (each) =>
        !each.implied &&
        [each.name, each.path, each.title ?? ""].some((own) => plain(own) === wanted),
    );
  if (thing === undefined) {
    return declaredAs(wanted, analysis) ?? fromTable(name, wanted, analysis);
  }
  return {
    ...described(thing.title ?? thing.name, (field) => figureOf(analysis, thing, field)),
    isWrench: thing.is(kinds.wrench),
    thing,
    sort: wordOf(thing, instrumentFields.sort) ?? sortInTable(wanted, analysis),
    calibrated: wordOf(thing, instrumentFields.calibrated),
  };
}

function described(
  name: string,
  figure: (field: string) => number | undefined,
): Omit<Instrument, "thing" | "sort" | "calibrated" | "isWrench"> {
  return {
    name,
    readsTo: figure(instrumentFields.readsTo),
    angleTo: figure(instrumentFields.angleTo),
    accuracy: figure(instrumentFields.accuracy),
    least: figure(instrumentFields.least),
    most: figure(instrumentFields.most),
    scaleStep: figure(instrumentFields.scaleStep),
    fromLength: figure(instrumentFields.fromLength),
    toLength: figure(instrumentFields.toLength),
    calibrationEvery: figure(instrumentFields.calibrationEvery),
  };
}

/** As written: what would have to be solved is left open. */
function declaredAs(wanted: string, analysis: Analysis): Instrument | undefined {
  for (const { source } of analysis.files.values()) {
    for (const { node } of source.items) {
      if (node.type !== "thing") continue;
      const kind = analysis.vocabulary.kinds.get(node.kind.text);
      const own = [node.name.text, node.title?.value ?? ""];
      if (kind?.lineage.includes(kinds.instrument) !== true) continue;
      if (!own.some((each) => plain(each) === wanted)) continue;
      const calibrated = valueIn(node, instrumentFields.calibrated);
      const sort = valueIn(node, instrumentFields.sort);
      return {
        ...described(node.title?.value ?? node.name.text, (field) => writtenIn(node, kind, field)),
        isWrench: kind.lineage.includes(kinds.wrench),
        sort: sort?.type === "text" ? sort.value : sortInTable(wanted, analysis),
        calibrated: calibrated?.type === "date" ? calibrated.text : undefined,
      };
    }
  }
  return undefined;
}

function valueIn(node: syntax.Thing, name: string): syntax.Expression | undefined {
  for (const member of node.members) {
    if (member.type !== "given" || member.path.names.length !== 1) continue;
    if (member.path.names[0].text === name) return member.value;
  }
  return undefined;
}

/** As written, else by default. */
function writtenIn(node: syntax.Thing, kind: KindDefinition, name: string): number | undefined {
  const field = kind.fields.get(name);
  const value = valueIn(node, name) ?? field?.default;
  return value === undefined || field?.type.form !== "measure"
    ? undefined
    : literal(value, field.type.measure);
}

function fromTable(name: string, wanted: string, analysis: Analysis): Instrument | undefined {
  const cell = rowOf(wanted, analysis);
  if (cell === undefined) return undefined;
  // What is not said of one stands as 0 in the table.
  const figure = (field: string): number | undefined => {
    const found = cell(field);
    return typeof found === "number" && found > 0 ? found : undefined;
  };
  return { ...described(name, figure), isWrench: false, sort: sortInTable(wanted, analysis) };
}

function sortInTable(wanted: string, analysis: Analysis): string | undefined {
  const sort = rowOf(wanted, analysis)?.(instrumentFields.sort);
  return typeof sort === "string" ? sort : undefined;
}

/** The cells of the row of the shop's table with this name, by their columns. */
function rowOf(wanted: string, { vocabulary }: Analysis) {
  const table = vocabulary.tables.get(instrumentTable.name);
  const at = (column: string): number =>
    table?.columns.findIndex(({ name }) => name === column) ?? -1;
  const key = at(instrumentTable.key);
  const row = table?.rows.find((cells) => plain(String(cells[key] ?? "")) === wanted);
  return row && ((column: string) => row[at(column)]);
}

function plain(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replaceAll(/[\s_-]+/g, " ");
}
