/**
 * Of several answers of a figure, or of figures solved together, those are left out with which
 * something else cannot hold: a relation further on, or the range of a figure that follows. Each is
 * taken in turn and the system solved with it; where one alone is left, it is the answer.
 *
 *     x ^ 2 = 4, y = x - 1, y in 0..9   →   x is 2: with -2, y would be -3
 *
 * Must not know: how a system is solved; names, wording.
 */
import type { Conflict, Failure, Solution, System } from "./system";

/** Lists of more answers are left as they are. */
const MOST_ANSWERS = 8;
/** So many systems are solved for one. */
const MOST_TRIES = 40;

export function withoutRuledOut(solution: Solution, again: (system: System) => Solution): Solution {
  if (!solution.failures.some(isOpen)) return solution;
  const search = new Search(again);
  const alone = search.oneByOne({ system: solution.system, solution });
  const together = search.together(alone);
  const [only = alone] = together?.length === 1 ? together : [];
  return only.solution === solution ? solution : { ...only.solution, system: solution.system };
}

/** A system in which some answers are said to be meant, and what it comes to. */
interface Branch {
  readonly system: System;
  readonly solution: Solution;
}

class Search {
  private tries = 0;

  constructor(private readonly again: (system: System) => Solution) {}

  /** Takes those of which one answer alone is left whatever the others are. */
  oneByOne(start: Branch): Branch {
    let current = start;
    const looked = new Set<string>();
    for (;;) {
      const failure = current.solution.failures.find(
        (each) => isOpen(each) && !looked.has(each.variables.join()),
      );
      if (failure === undefined) return current;
      looked.add(failure.variables.join());
      const left = this.branches(current, failure);
      if (left === undefined) return current;
      const [only] = left;
      if (only !== undefined && left.length === 1) current = only;
    }
  }

  /** All ways to take an answer of each, no more than two; undefined where that takes too long. */
  together(start: Branch): readonly Branch[] | undefined {
    const open = start.solution.failures.filter(isOpen);
    const [first] = open;
    if (first === undefined) return [start];
    const ways: Branch[] = [];
    for (const branch of this.branches(start, first) ?? []) {
      const further = this.together(branch);
      if (further === undefined) return undefined;
      ways.push(...further);
      if (ways.length > 1) break;
    }
    return this.tries > MOST_TRIES ? undefined : ways;
  }

  /** The answers with which nothing goes wrong that did not before. */
  private branches({ system, solution }: Branch, failure: Failure): Branch[] | undefined {
    const answers = answersOf(failure);
    this.tries += answers.length;
    if (this.tries > MOST_TRIES) return undefined;
    return answers
      .map((answer) => withMeant(system, failure.variables, answer))
      .map((meant) => ({ system: meant, solution: this.again(meant) }))
      .filter((branch) => !spoiledBy(branch.solution, solution));
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function isOpen(failure: Failure): boolean {
  const { length } = answersOf(failure);
  return length > 1 && length <= MOST_ANSWERS;
}

function answersOf({ why, variables, roots, answers }: Failure): readonly (readonly number[])[] {
  if (why !== "several-roots") return [];
  if (answers !== undefined) return answers;
  return variables.length === 1 ? (roots ?? []).map((root) => [root]) : [];
}

function withMeant(
  system: System,
  variables: readonly number[],
  answer: readonly number[],
): System {
  const own = system.variables.slice();
  variables.forEach((variable, at) => {
    own[variable] = { ...own[variable]!, near: answer[at]! };
  });
  return { ...system, variables: own };
}

/** Something contradicts or fails that did not before; more answers further on are no failure of it. */
export function spoiledBy(solution: Solution, before: Solution): boolean {
  const keyOf = ({ equations }: Conflict | Failure): string => equations.join();
  const known = new Set([...before.conflicts, ...before.failures].map(keyOf));
  return (
    solution.conflicts.some((each) => !known.has(keyOf(each))) ||
    solution.failures.some((each) => each.why !== "several-roots" && !known.has(keyOf(each)))
  );
}
