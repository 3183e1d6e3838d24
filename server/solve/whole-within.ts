/**
 * Counts that come out between two whole numbers, though what was written leaves room for a whole one:
 * each whole number near by is put into the system; one that contradicts nothing there, roundings and ±
 * taken in, is what was meant.
 *
 *     40 mm ± 2 mm in gaps of 6.6 mm ± 0.4 mm   →   6, not 6.06
 *
 * Must not know: how a system is solved; wording.
 */
import { highOf, lowOf } from "./execution";
import { putIn, taken } from "./put-in";
import type { Solution, System } from "./system";

export function withWholeWithin(solution: Solution, again: (system: System) => Solution): Solution {
  const { system } = solution;
  const put = new Map<number, number>();
  const yields: number[] = [];
  const looked = new Set<number>();
  let current = solution;
  for (;;) {
    const variable = system.variables.findIndex(
      ({ whole }, at) => whole !== undefined && !looked.has(at) && isBetween(current, at),
    );
    if (variable < 0) break;
    looked.add(variable);
    const determination = current.determinations[variable]!;
    const below = Math.floor(current.values[variable]!);
    const about = system.variables[variable]!;
    const fitting = [below - 1, below, below + 1, below + 2].flatMap((count) => {
      if (count < lowOf(about) || count > highOf(about)) return [];
      const solved = putIn(solution, new Map([...put, [variable, count]]), again);
      return solved === undefined ? [] : [{ count, solved }];
    });
    const [only] = fitting;
    if (only === undefined || fitting.length > 1 || !("equation" in determination)) continue;
    put.set(variable, only.count);
    yields.push(determination.equation);
    current = only.solved;
  }
  return put.size === 0 ? solution : taken(solution, current, [...put.keys()], yields);
}

/** Solved for, and no whole number but for what rounding explains. */
function isBetween(solution: Solution, variable: number): boolean {
  const value = solution.values[variable]!;
  if (!(Math.abs(value - Math.round(value)) > 1e-9 * Math.max(1, Math.abs(value)))) return false;
  const { how } = solution.determinations[variable]!;
  return how === "solved" || how === "assumed";
}
