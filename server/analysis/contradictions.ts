/**
 * Contradictions of a build: those that share what is written are looked at together, so that the
 * sets named are the smallest against all that speaks of them, and a change that mends several of
 * them is found.
 *
 * Must not know: how findings are worded.
 */

import { anyIn } from "../keep/any-in";
import type { FigureId } from "../names/ids";
import { type Repair, repairsFor } from "../solve";
import type { BuildCell } from "./build-cells";
import type { Reading } from "./reading";
import type { SolvedCell } from "./reasons";

/** Larger surroundings are left as they are. */
const mostEquations = 400;

/** The cells in which something contradicts, those that share given figures joined to one. */
export function contradictory(reading: Reading, bad: Iterable<BuildCell>): readonly BuildCell[] {
  const groups: Set<BuildCell>[] = [];
  for (const cell of bad) {
    if (cell.solution.conflicts.length === 0) continue;
    const around = new Set([cell, ...speakingOf(reading, partiesIn(cell))]);
    const alike = groups.filter((group) => [...around].some((each) => group.has(each)));
    for (const group of alike) {
      for (const each of group) around.add(each);
      groups.splice(groups.indexOf(group), 1);
    }
    groups.push(around);
  }
  return groups.flatMap((group) => {
    const cells = [...group];
    const count = cells.reduce((sum, { equations }) => sum + equations.length, 0);
    const own = cells.filter(({ solution }) => solution.conflicts.length > 0);
    return cells.length === 1 || count > mostEquations ? own : [reading.cells.together(cells)];
  });
}

/** Changes that mend all contradictions of a cell at once, where there are several. */
export function repairsOf(solved: SolvedCell): readonly Repair[] {
  const { solution } = solved;
  return solution.conflicts.length < 2 ? [] : repairsFor(solution);
}

/** Cells of equations that speak of some figures. */
export function speakingOf(
  { rows, cells }: Pick<Reading, "rows" | "cells">,
  figures: ReadonlySet<FigureId>,
): BuildCell[] {
  const found = new Set<BuildCell>();
  for (const { row } of rows) {
    if (!anyIn(row.figures, figures)) continue;
    for (const { equation } of row.equations) {
      if (!equation.figures.some((figure) => figures.has(figure))) continue;
      const cell = cells.cellOfEquation(equation);
      if (cell !== undefined) found.add(cell);
    }
  }
  return [...found];
}

// ───────────────────────────── helpers ─────────────────────────────

function partiesIn({ keys, solution }: BuildCell): ReadonlySet<FigureId> {
  const parties = new Set<FigureId>();
  for (const { givens } of solution.conflicts) {
    for (const { variable } of givens) {
      const key = keys[variable];
      if (key !== undefined) parties.add(key);
    }
  }
  return parties;
}
