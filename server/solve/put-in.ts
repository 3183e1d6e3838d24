/**
 * Answers that no formula yields, put into a system to see whether they hold in it: whole numbers, rows
 * of a list. What is taken follows from the equations that it was tried for, though it stands in the
 * plan as if it were given.
 *
 * Must not know: where the numbers are from.
 */
import { spoiledBy } from "./rule-out";
import type { Determination, Solution, System } from "./system";
import { withGivens } from "./with-givens";

/** The system solved with some numbers put in; undefined where something goes wrong then. */
export function putIn(
  solution: Solution,
  numbers: ReadonlyMap<number, number>,
  again: (system: System) => Solution,
): Solution | undefined {
  const givens = new Map(
    [...numbers].map(([variable, value]) => [
      variable,
      { value, low: value, high: value, rounding: 0 },
    ]),
  );
  const solved = again(withGivens(solution.system, givens));
  return spoiledBy(solved, solution) ? undefined : solved;
}

/** What was put in and is taken, as it follows from `equations`; `before`: where it was put in. */
export function taken(
  before: Solution,
  solved: Solution,
  variables: readonly number[],
  equations: readonly number[],
): Solution {
  const { system } = before;
  const determinations = solved.determinations.slice();
  for (const variable of variables) {
    const own =
      equations.find((equation) => system.equations[equation]!.variables.includes(variable)) ??
      equations[0]!;
    const determination: Determination = {
      how: "solved",
      equation: own,
      block: equations,
      restsOn: [],
    };
    determinations[variable] = determination;
  }
  const answer = { ...solved, system, determinations };
  markPutIn(answer, writtenSystem(before));
  return answer;
}

/** Something was put in: its plan has more givens than the system, and what is laid over it may want others. */
export function isPutIn(solution: Solution): boolean {
  return putInto.has(solution);
}

/** The solution is of more than was written: of `written`, or of its own system where numbers stand in it. */
export function markPutIn(solution: Solution, written: System): void {
  putInto.add(solution);
  systems.set(solution, written);
}

/** What was written of a solution's system. */
export function writtenSystem(solution: Solution): System {
  return systems.get(solution) ?? solution.system;
}

/** A solution that says more of the same, marked as the first one is. */
export function markedLike(solution: Solution, first: Solution): Solution {
  if (!isPutIn(first)) return solution;
  putInto.add(solution);
  const written = systems.get(first);
  if (written !== undefined) systems.set(solution, written);
  return solution;
}

const putInto = new WeakSet<Solution>();
const systems = new WeakMap<Solution, System>();
