/**
 * What would settle a figure that is open.
 *
 *     needsOf(reading, figure)   →   [[{ path: "rear.wheel.offset", advice: "read the stamp" }], …]
 *
 * Must not know: who asked for it, how it is told.
 */

import type { CasesPassedOver, FollowsFrom } from "../findings/outcomes";
import { madeOnce } from "../keep/once";
import type { FigureId } from "../names/ids";
import { missingFor, passedOver } from "../solve";
import type { Solution } from "../solve/system";
import type { Need } from "./analysis";
import { casesOf } from "./findings";
import type { Reading } from "./reading";
import { SolvedCell } from "./reasons";

/** What was worked out already, for as long as what it was worked out for is there. */
const known = new WeakMap<Solution, Map<number, readonly (readonly number[])[]>>();

/** Whether `needsOf` has nothing to work out. */
export function isAdvised(reading: Reading, figure: FigureId): boolean {
  const cell = reading.cells.cellOf(figure);
  const index = cell?.placeOf(figure);
  if (cell === undefined || index === undefined) return true;
  const { solution } = cell;
  return solution.determinations[index]?.how !== "open" || known.get(solution)?.has(index) === true;
}

/** Smallest sets of further givens, each of which would do; `asked`: figures that are no advice. */
export function needsOf(
  reading: Reading,
  figure: FigureId,
  asked: ReadonlySet<FigureId> = new Set(),
): (readonly Need[])[] {
  const cell = reading.cells.cellOf(figure);
  const index = cell?.placeOf(figure);
  if (cell === undefined || index === undefined) return [];
  if (cell.solution.determinations[index]?.how !== "open") return [];
  const solved = new SolvedCell(reading, cell);
  const seen = new Set<string>();
  const sets: Need[][] = [];
  for (const set of setsFor(reading, cell.solution, index)) {
    const needs = new Map<string, Need>();
    for (const other of set) {
      const variable = solved.figureAt(other);
      if (variable === undefined) continue;
      if (asked.has(variable.id)) {
        needs.clear();
        break;
      }
      // A part of a designation is settled by writing the designation.
      const path =
        variable.part === undefined
          ? variable.name
          : `${variable.thing.path}.${variable.field.name}`;
      needs.set(path, { path, advice: variable.field.needs });
    }
    const key = [...needs.keys()].sort().join(" ");
    if (needs.size === 0 || seen.has(key)) continue;
    seen.add(key);
    sets.push([...needs.values()]);
  }
  return sets;
}

/** A smallest set that would settle it, and which of these are asked for themselves. */
export function followsFrom(reading: Reading, figure: FigureId): FollowsFrom | undefined {
  const cell = reading.cells.cellOf(figure);
  const index = cell?.placeOf(figure);
  if (cell === undefined || index === undefined) return undefined;
  const solved = new SolvedCell(reading, cell);
  const [set = []] = setsFor(reading, cell.solution, index);
  const figures = set.flatMap((other) => solved.figureAt(other) ?? []);
  const asked = figures.filter(({ thing, field }) => thing.asked.has(field.name));
  if (asked.length === 0) return undefined;
  return { paths: figures.map(({ name }) => name), asked: asked.map(({ name }) => name) };
}

/** The cases that speak of a figure, where none of them holds and nothing else speaks of it. */
export function casesAgainst(reading: Reading, figure: FigureId): CasesPassedOver {
  const cell = reading.cells.cellOf(figure);
  const index = cell?.placeOf(figure);
  if (cell === undefined || index === undefined) return [];
  const solved = new SolvedCell(reading, cell);
  return passedOver(cell.solution, index).flatMap((each) => {
    const equation = solved.equationAt(each);
    if (equation === undefined) return [];
    const cases = casesOf([equation]);
    const { origin } = equation;
    // Without a condition of its own it speaks of the figure in a branch.
    return cases.length > 0 || origin.is !== "relation" ? cases : { title: origin.relation.title };
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function setsFor(
  { workshop }: Reading,
  solution: Solution,
  index: number,
): readonly (readonly number[])[] {
  const kept = madeOnce(known, solution, () => new Map<number, readonly (readonly number[])[]>());
  return madeOnce(kept, index, () => {
    workshop.counts.advice++;
    return missingFor(solution, index);
  });
}
