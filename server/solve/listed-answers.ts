/**
 * Figures by which a list is read and of which no row gives just what is asked of it: rows near it may
 * do within what was written, its roundings and its ±. Each is put into the system; one that holds is
 * the answer.
 *
 *     6.6 mm to a tenth, of a list with 6.5 mm and 8 mm   →   the row of 6.5 mm
 *
 * Must not know: how a system is solved; wording.
 */
import { markedLike, putIn, taken } from "./put-in";
import { MOST_LISTED } from "./single";
import type { Failure, Solution, System } from "./system";

export function withListed(solution: Solution, again: (system: System) => Solution): Solution {
  let current = solution;
  const looked = new Set<number>();
  for (;;) {
    const number = current.failures.findIndex(
      ({ nearest, variables: [variable = -1] }) => nearest !== undefined && !looked.has(variable),
    );
    const failure = current.failures[number];
    const [variable] = failure?.variables ?? [];
    if (failure === undefined || variable === undefined) return current;
    looked.add(variable);
    const before = without(current, number);
    const rows = (failure.nearest ?? []).flatMap((key) => {
      const solved = putIn(before, new Map([[variable, key]]), again);
      return solved === undefined ? [] : [{ key, solved }];
    });
    const [only] = rows;
    if (only === undefined) continue;
    if (rows.length === 1) {
      current = taken(solution, only.solved, [variable], failure.equations);
      continue;
    }
    const { nearest: _, ...rest } = failure;
    const several: Failure = {
      ...rest,
      why: "several-roots",
      roots: rows.map(({ key }) => key).sort((one, other) => one - other),
      complete: (failure.nearest ?? []).length < MOST_LISTED,
    };
    const failures = current.failures.with(number, several);
    current = markedLike({ ...current, failures }, current);
  }
}

/** What a failure spoils goes with it. */
function without(solution: Solution, number: number): Solution {
  const failures = solution.failures.filter((_, at) => at !== number);
  return markedLike({ ...solution, failures }, solution);
}
