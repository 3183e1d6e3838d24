/**
 * Which few further givens would settle an open variable.
 *
 * The open part's equations leave some directions free in which its variables can still move
 * together. A variable is settled by a set of givens when fixing those leaves it no direction to
 * move in: a question of linear algebra at a typical place, confirmed by planning anew. Structure
 * alone would also propose fields that only repeat what is known.
 *
 * Must not know: wording.
 */
import { executionOf } from "./execution";
import { type Freedom, freedom, type OpenPart, placeOf, shareOf } from "./freedom";
import { casesLeft, conditionsOf } from "./modes";
import { connectedEquations } from "./network";
import { layOut, type PlanLayout } from "./plan";
import { fixedParts } from "./row-space";
import type { Solution } from "./system";
import { conditionTapeOf } from "./tape";

const MOST = 6;
const LARGEST_SET = 5;
/** So many beginnings in a row that lead to nothing new, and no further one is tried. */
const IN_VAIN = 4;
/** A figure that builders do not measure is as poor advice as so many that they do. */
const UNNATURAL = 4;
/** Open parts with more variables than this are looked at in the neighborhood only. */
const NEIGHBORHOOD = 120;

/** Sets of variables, smallest first, fields that builders naturally measure first. */
export function missingFor(solution: Solution, variable: number): number[][] {
  if (solution.determinations[variable]?.how !== "open") return [];
  const cases = casesLeft(solution);
  return cases.length > 0
    ? missingInCases(solution, cases, variable)
    : missingIn(solution, variable);
}

/**
 * Where open figures decide which of several cases holds, what settles these, and the figure in each
 * of the cases: which one it will be nobody knows yet.
 */
function missingInCases(
  { system }: Solution,
  cases: readonly Solution[],
  variable: number,
): number[][] {
  const deciding = new Set(
    conditionsOf(system).flatMap(({ when, variables }) =>
      [...conditionTapeOf(when!).slotIndices].map((slot) => variables[slot]!),
    ),
  );
  deciding.delete(variable);
  const isKnown = (solution: Solution, each: number, set: readonly number[]): boolean =>
    solution.determinations[each]!.how !== "open" ||
    set.includes(each) ||
    settles(solution, each, set);
  const does = (set: readonly number[]): boolean =>
    cases.every((each) => [variable, ...deciding].every((other) => isKnown(each, other, set)));
  const ways = cases.map((each) => missingIn(each, variable));
  const found: number[][] = [];
  for (let at = 0; at < Math.max(1, ...ways.map(({ length }) => length)); at++) {
    const own = ways.flatMap((sets) => sets[Math.min(at, sets.length - 1)] ?? []);
    const open = [...deciding].filter((each) => cases.some((one) => !isKnown(one, each, own)));
    let set = [...new Set([...open, ...own])];
    if (!does(set)) continue;
    for (const member of [...set].reverse()) {
      const fewer = set.filter((other) => other !== member);
      if (does(fewer)) set = fewer;
    }
    const known = found.some((other) => other.every((each) => set.includes(each)));
    if (set.length <= LARGEST_SET && !known) found.push(set);
  }
  return found;
}

function missingIn(solution: Solution, variable: number): number[][] {
  if (solution.determinations[variable]?.how !== "open") return [];
  const part = openPart(solution, variable);
  const space = freedom(solution, part);
  const { variables } = solution.system;
  const candidates = part.variables
    .filter((other) => other !== variable && space.moves(other))
    .sort((one, other) => {
      const left = variables[one]!;
      const right = variables[other]!;
      return (
        Number(right.askedFirst) - Number(left.askedFirst) ||
        part.distance.get(one)! - part.distance.get(other)! ||
        (left.name < right.name ? -1 : 1)
      );
    });
  const found: number[][] = [];
  const keep = (set: readonly number[]): void => {
    const sorted = [...set].sort((a, b) => candidates.indexOf(a) - candidates.indexOf(b));
    const known = found.some((other) => other.every((v) => sorted.includes(v)));
    if (!known && found.length < MOST && settles(solution, variable, sorted)) found.push(sorted);
  };
  const isAskedFirst = (index: number): boolean => variables[index]!.askedFirst;
  const free = space.fixing([]);
  for (const one of candidates) if (free.completes(one, variable)) keep([one]);
  if (found.some((set) => set.every(isAskedFirst))) return found;
  const isFound = (set: readonly number[]): boolean => settles(solution, variable, set);
  const growFrom = (among: readonly number[]): void => {
    let inVain = 0;
    for (const first of among) {
      if (found.length >= MOST || inVain > IN_VAIN) break;
      const before = found.length;
      const set = grow(first, among, variable, space, isFound);
      if (set !== undefined) keep(set);
      inVain = found.length > before ? 0 : inVain + 1;
    }
  };
  // A few things to measure are better advice than one figure that nobody can measure.
  growFrom(candidates.filter(isAskedFirst));
  if (found.length === 0) growFrom(candidates);
  const cost = (set: readonly number[]): number =>
    set.reduce((sum, index) => sum + (isAskedFirst(index) ? 1 : UNNATURAL), 0);
  return found.sort((one, other) => cost(one) - cost(other));
}

/** Adds candidates that still move once the set is fixed, until the variable no longer does and is found. */
function grow(
  first: number,
  candidates: readonly number[],
  variable: number,
  space: Freedom,
  isFound: (set: readonly number[]) => boolean,
): number[] | undefined {
  // Taking the candidate that alone completes the set first keeps sets small and to the point.
  let set = [first];
  for (;;) {
    const fixed = space.fixing(set);
    if (fixed.settles(variable) && isFound(set)) break;
    if (set.length >= LARGEST_SET) return undefined;
    const free = candidates.filter((other) => !set.includes(other));
    const next =
      free.find((other) => fixed.completes(other, variable)) ??
      free.find((other) => !fixed.settles(other));
    if (next === undefined) return undefined;
    set.push(next);
  }
  for (const member of [...set].reverse()) {
    const fewer = set.filter((other) => other !== member);
    if (space.fixing(fewer).settles(variable) && isFound(fewer)) set = fewer;
  }
  return set;
}

function openPart(solution: Solution, variable: number): OpenPart {
  const { network, excluded } = executionOf(solution);
  const { touchStart, touching } = network;
  const distance = new Map([[variable, 0]]);
  const queue = [variable];
  const equations = new Set<number>();
  for (let at = 0; at < queue.length && queue.length < NEIGHBORHOOD; at++) {
    const from = queue[at]!;
    for (let i = touchStart[from]!; i < touchStart[from + 1]!; i++) {
      const equation = touching[i]!;
      // What was set aside says nothing that others do not.
      if (equations.has(equation) || excluded.has(equation)) continue;
      const members = network.system.equations[equation]!.variables;
      // What failed cannot be reasoned with.
      if (members.some((v) => solution.determinations[v]!.how === "failed")) continue;
      equations.add(equation);
      for (const other of members) {
        if (solution.determinations[other]!.how !== "open" || distance.has(other)) continue;
        distance.set(other, distance.get(from)! + 1);
        queue.push(other);
      }
    }
  }
  // In one order whoever asks, so that what can move together is worked out once for all of them.
  const inOrder = (one: number, other: number): number => one - other;
  return {
    variables: queue.sort(inOrder),
    equations: [...equations].sort(inOrder),
    distance,
  };
}

/** Whether the variable is found once the set is known: by a plan, or by equations taken together. */
function settles(solution: Solution, variable: number, set: readonly number[]): boolean {
  return isPlanned(solution, variable, set) || isFixed(solution, variable, set);
}

/** `3x + y + z = 7` and `y + z = 6` fix x, which no plan does. */
function isFixed(solution: Solution, variable: number, set: readonly number[]): boolean {
  const execution = executionOf(solution);
  const known = execution.network.known.slice();
  const values = execution.values.slice();
  for (const [at, other] of set.entries()) {
    known[other] = 1;
    values[other] = placeOf(solution.system.variables[other]!, shareOf(at, 0));
  }
  // More is known than the plan has it.
  const layout = undefined;
  const more = { ...execution, layout, network: { ...execution.network, known }, values };
  return fixedParts(more).some(({ fixed }) => fixed.includes(variable));
}

/** A matter of structure alone. */
function isPlanned(solution: Solution, variable: number, set: readonly number[]): boolean {
  const { layout, excluded } = executionOf(solution);
  if (layout === undefined) return reaches(solution, variable, set);
  const known = reached.get(layout) ?? new Map<string, boolean>();
  reached.set(layout, known);
  const key = `${variable} ${set.join(",")} ${[...excluded].sort((a, b) => a - b).join(",")}`;
  let answer = known.get(key);
  if (answer === undefined) {
    answer = reaches(solution, variable, set);
    known.set(key, answer);
  }
  return answer;
}

/** By the plan, which all systems of one structure share. */
const reached = new WeakMap<PlanLayout, Map<string, boolean>>();

function reaches(solution: Solution, variable: number, set: readonly number[]): boolean {
  const { network, excluded } = executionOf(solution);
  const known = network.known.slice();
  for (const other of set) known[other] = 1;
  const { touchStart, touching } = network;
  const around: number[] = [];
  for (let i = touchStart[variable]!; i < touchStart[variable + 1]!; i++) around.push(touching[i]!);
  const more = { ...network, known };
  const { steps } = layOut(more, connectedEquations(more, around), excluded);
  return steps.some((step) => step.variables.includes(variable));
}
