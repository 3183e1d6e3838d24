/**
 * Readings on record that say more than enough, made to agree: what is made and was not read follows
 * from what was; the rest is adjusted by least squares, each by how surely it was read or stated;
 * where two or more conditions tell which reading is wrong, that one is left out.
 *
 *     reconciled({ read, rows, readings, … })   →   { given: width 54 5/8 → 54 9/16 in, misclosed: [] }
 *
 * Source: see `server/solve/adjust.ts`. Must not know: how findings are worded.
 */

import { anyIn } from "../keep/any-in";
import type { ModelVariable } from "../model/model";
import type { FigureId } from "../names/ids";
import { type AdjustedReading, type Adjustment, adjusted, sensitivities } from "../solve";
import type { Conflict, GivenNumber } from "../solve/system";
import type { BuildCell, BuildCells } from "./build-cells";
import type { PlacedRow } from "./build-rows";

/** Readings that their ± does not explain. */
export interface Misclosed {
  /** As they were read. */
  readonly cell: BuildCell;
  /** What counts as read. */
  readonly readings: ReadonlySet<FigureId>;
  /** The widest gap among them. */
  readonly conflict: Conflict;
  readonly adjustment: Adjustment;
  /** The one that is likely wrong, where that can be told. */
  readonly suspect?: AdjustedReading;
}

/** What figures are taken to be in place of what is written; nothing where one follows from others. */
export type Taken = ReadonlyMap<FigureId, GivenNumber | undefined>;

export interface Reconciled {
  readonly cells: BuildCells;
  readonly taken: Taken;
  readonly misclosed: readonly Misclosed[];
}

/** Rounds of letting go and adjusting; a curved condition takes two or three. */
export const mostRounds = 12;

/** Cells that say more of some readings than enough, by what they come to. */
export type RepeatedCells = ReadonlyMap<BuildCell["core"], BuildCell>;

/** Those that rows speak of. */
export function repeatedAmong(
  rows: readonly PlacedRow[],
  cells: BuildCells,
  readings: ReadonlySet<FigureId>,
): RepeatedCells {
  const repeated = new Map<BuildCell["core"], BuildCell>();
  const looked = new Set<BuildCell>();
  for (const { row } of rows) {
    if (!anyIn(row.figures, readings)) continue;
    for (const { equation } of row.equations) {
      if (!equation.figures.some((figure) => readings.has(figure))) continue;
      const cell = cells.cellOfEquation(equation);
      if (cell === undefined || looked.has(cell)) continue;
      looked.add(cell);
      if (isRepeated(cell.solution)) repeated.set(cell.core, cell);
    }
  }
  return repeated;
}

/** Those of some cells, from those of the cells they were made from. */
export function repeatedCells(
  cells: BuildCells,
  before: RepeatedCells,
  readings: ReadonlySet<FigureId>,
): RepeatedCells {
  const repeated = new Map(before);
  for (const core of cells.opened.keys()) repeated.delete(core);
  for (const cell of cells.fresh) {
    if (cell.keys.some((key) => readings.has(key)) && isRepeated(cell.solution))
      repeated.set(cell.core, cell);
  }
  return repeated;
}

export interface Reconciling {
  /** Of every reading as it was read. */
  readonly repeated: RepeatedCells;
  readonly read: BuildCells;
  /** Figures on record. */
  readonly readings: ReadonlySet<FigureId>;
  figureOf(figure: FigureId): ModelVariable | undefined;
  /** What the readings in a cell come to, where that is not known yet. */
  answerOf(cell: BuildCell, make: () => ReconcilingStep | undefined): ReconcilingStep | undefined;
  /** The cells there are once figures are taken otherwise. */
  cellsWith(taken: Taken): BuildCells;
}

/** Nothing where all readings close as they are. */
export function reconciled({
  repeated,
  read,
  readings,
  figureOf,
  answerOf,
  cellsWith,
}: Reconciling): Reconciled | undefined {
  if (readings.size === 0) return undefined;
  const taken = new Map<FigureId, GivenNumber | undefined>();
  const misclosed: Misclosed[] = [];
  let cells = read;
  let now = repeated;
  for (let round = 0; round < mostRounds; round++) {
    const before = taken.size;
    let moved = false;
    for (const cell of overdetermined(now.values(), cells, readings)) {
      const answer = answerOf(cell, () => reconcile(cell, readings, figureOf));
      if (answer === undefined) continue;
      moved = true;
      if (answer.misclosed !== undefined) misclosed.push(answer.misclosed);
      for (const [figure, given] of answer.taken) taken.set(figure, given);
    }
    if (!moved && taken.size === before) break;
    cells = cellsWith(taken);
    // These are made from those of the readings as they were read.
    now = repeatedCells(cells, repeated, readings);
  }
  return taken.size === 0 && misclosed.length === 0 ? undefined : { cells, taken, misclosed };
}

/**
 * Readings in the spec that contradict each other and nothing else, as records are looked at: how far
 * they are apart, which is likely wrong, what all together make of each. What is written stays.
 */
export function misclosedAsWritten(
  cell: BuildCell,
  figureOf: (figure: FigureId) => ModelVariable | undefined,
): Misclosed | undefined {
  const isRead = (figure: FigureId | undefined): boolean =>
    figure !== undefined && figureOf(figure)?.variable.role === "measured";
  const between = cell.solution.conflicts.filter(
    ({ givens }) =>
      givens.length > 1 && givens.every(({ variable }) => isRead(cell.keys[variable])),
  );
  if (between.length === 0) return undefined;
  const { variables } = cell.solution.system;
  const readings = new Set(
    cell.keys.filter((key, at) => isRead(key) && variables[at]?.given !== undefined),
  );
  const misclosed = reconcile(cell, readings, figureOf)?.misclosed;
  return misclosed && { ...misclosed, conflict: widestOf(between) };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Those of some cells with more conditions than they need; of these those that share readings are one. */
export function overdetermined(
  among: Iterable<BuildCell>,
  cells: BuildCells,
  readings: ReadonlySet<FigureId>,
): BuildCell[] {
  const groups = new Set<Set<BuildCell>>();
  const groupOf = new Map<FigureId, Set<BuildCell>>();
  for (const cell of among) {
    if (!isRepeated(cell.solution)) continue;
    const group = new Set([cell]);
    groups.add(group);
    for (const key of readIn(cell, readings)) {
      const other = groupOf.get(key);
      groupOf.set(key, group);
      if (other === undefined || other === group) continue;
      groups.delete(other);
      for (const each of other) {
        group.add(each);
        for (const own of readIn(each, readings)) groupOf.set(own, group);
      }
    }
  }
  return [...groups].flatMap((group) => {
    const [only, ...others] = group;
    if (only === undefined) return [];
    return others.length === 0 ? only : cells.together([...group]);
  });
}

const readKnown = new WeakMap<
  BuildCell["core"],
  { readonly readings: ReadonlySet<FigureId>; readonly own: readonly FigureId[] }
>();

/** The readings in a cell. */
function readIn({ core, keys }: BuildCell, readings: ReadonlySet<FigureId>): readonly FigureId[] {
  const before = readKnown.get(core);
  if (before?.readings === readings) return before.own;
  const own = keys.filter((key) => readings.has(key));
  readKnown.set(core, { readings, own });
  return own;
}

/** Whether more is said than it takes to solve it. */
export function isRepeated({ redundant, conflicts }: BuildCell["solution"]): boolean {
  return redundant.length + conflicts.length > 0;
}

/** What comes of the readings in one cell. */
export interface ReconcilingStep {
  readonly taken: Taken;
  readonly misclosed?: Misclosed;
}

function reconcile(
  cell: BuildCell,
  readings: ReadonlySet<FigureId>,
  figureOf: (figure: FigureId) => ModelVariable | undefined,
): ReconcilingStep | undefined {
  const { solution, keys } = cell;
  const conditions = [...solution.conflicts.map(({ equation }) => equation), ...solution.redundant];
  const isRead = (variable: number): boolean => {
    const key = keys[variable];
    return key !== undefined && readings.has(key);
  };
  const parties = new Map<number, ReadonlySet<number>>();
  for (const equation of conditions) {
    const { form, variables } = solution.system.equations[equation]!;
    const expression = { op: "subtract", left: form.left, right: form.right } as const;
    const slopes = sensitivities(solution, { expression, variables });
    const moving = [...slopes].flatMap(([variable, slope]) => (slope === 0 ? [] : variable));
    // What was written alone is no reading's business.
    if (moving.some(isRead)) parties.set(equation, new Set(moving));
  }
  if (parties.size === 0) return undefined;
  const figureAt = (variable: number): ModelVariable | undefined => {
    const key = keys[variable];
    return key && figureOf(key);
  };
  const adjustment = adjusted(solution, [...parties.keys()], (variable) => {
    const figure = figureAt(variable);
    return figure !== undefined && mayMove(figure);
  });
  // What is counted is read exactly: where no reading can be a little off, they contradict.
  if (!adjustment?.readings.some(({ variable }) => isRead(variable))) return undefined;
  const off = adjustment.readings.filter(({ variable, read, adjusted: now }) => {
    const { scale } = solution.system.variables[variable]!;
    return Math.abs(now - read) > 1e-9 * Math.max(scale, Math.abs(read));
  });
  const made = madeUnread(solution.system.variables, parties, (variable) => {
    const figure = figureAt(variable);
    return figure?.variable.role === "made" && !isRead(variable);
  });
  if (off.length === 0) return undefined;
  if (made !== undefined) return { taken: new Map([[keys[made]!, undefined]]) };
  const conflicts = solution.conflicts.filter(({ givens }) =>
    givens.some(({ variable }) => isRead(variable)),
  );
  const [first, ...others] = conflicts;
  if (first === undefined) return { taken: takenFrom(cell, off) };
  const conflict = widestOf([first, ...others]);
  const suspect = suspectOf(adjustment, isRead);
  const taken =
    suspect === undefined
      ? takenFrom(cell, off)
      : new Map([[keys[suspect.variable]!, undefined]] as const);
  return { taken, misclosed: { cell, readings, conflict, adjustment, suspect } };
}

function widestOf(conflicts: readonly Conflict[]): Conflict {
  return conflicts.reduce((most, each) => (Math.abs(each.gap) > Math.abs(most.gap) ? each : most));
}

/** Readings, and what makers state of parts; how the work is set and what is looked at stays. */
function mayMove({ part, entry, variable: { role } }: ModelVariable): boolean {
  if (part !== undefined || entry === undefined) return false;
  return entry.layer === "record" || role === "measured" || role === "bought" || role === undefined;
}

/** Of what is made and was not read, what is made last: it is as it came out, not as it was drawn. */
function madeUnread(
  variables: BuildCell["solution"]["system"]["variables"],
  parties: ReadonlyMap<number, ReadonlySet<number>>,
  isMade: (variable: number) => boolean,
): number | undefined {
  const all = new Set([...parties.values()].flatMap((each) => [...each]));
  const order = (variable: number): number => variables[variable]?.making?.order ?? 0;
  const [last] = [...all]
    .filter(isMade)
    .sort((one, other) => order(other) - order(one) || one - other);
  return last;
}

/** With one condition among them all are under the same suspicion. */
function suspectOf(
  { readings, redundancy }: Adjustment,
  isRead: (variable: number) => boolean,
): AdjustedReading | undefined {
  const [one, next] = readings.filter(({ variable }) => isRead(variable));
  const stands =
    redundancy > 1 &&
    one !== undefined &&
    one.standardized > (next?.standardized ?? 0) * (1 + 1e-6);
  return stands ? one : undefined;
}

export function takenFrom({ keys, solution }: BuildCell, off: readonly AdjustedReading[]): Taken {
  const taken = new Map<FigureId, GivenNumber>();
  for (const { variable, read, adjusted: value } of off) {
    const key = keys[variable];
    const given = solution.system.variables[variable]?.given;
    if (key === undefined || given === undefined) continue;
    // Its own ± is kept: agreeing with others is told, not made use of.
    const by = value - read;
    taken.set(key, { ...given, value, low: given.low + by, high: given.high + by });
  }
  return taken;
}
