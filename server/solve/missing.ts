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
import { executionOf, highOf, lowOf } from "./execution";
import { residualAndGradient } from "./form";
import { nullSpace } from "./linear";
import { connectedEquations } from "./network";
import { layOut, type PlanLayout } from "./plan";
import { fixedParts } from "./row-space";
import type { Solution, Variable } from "./system";

const MOST = 6;
const LARGEST_SET = 5;
/** So many beginnings in a row that lead to nothing new, and no further one is tried. */
const IN_VAIN = 4;
/** A figure that builders do not measure is as poor advice as so many that they do. */
const UNNATURAL = 4;
/** So many places are tried before what has no value at one is made up. */
const PLACES = 4;
/** Open parts with more variables than this are looked at in the neighborhood only. */
const NEIGHBORHOOD = 120;

/** Sets of variables, smallest first, fields that builders naturally measure first. */
export function missingFor(solution: Solution, variable: number): number[][] {
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

interface OpenPart {
  readonly variables: readonly number[];
  readonly equations: readonly number[];
  /** Equations between a variable and the asked one. */
  readonly distance: ReadonlyMap<number, number>;
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
      const members = solution.system.equations[equation]!.variables;
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

interface Freedom {
  readonly moves: (variable: number) => boolean;
  /** What fixing some variables leaves. */
  readonly fixing: (set: readonly number[]) => Fixed;
}

interface Fixed {
  /** It has no freedom left. */
  readonly settles: (variable: number) => boolean;
  /** Fixing this one as well leaves the variable none. */
  readonly completes: (other: number, variable: number) => boolean;
}

/** By the solution, then by the part: figures that are open together are asked about one by one. */
const freedoms = new WeakMap<Solution, Map<string, Freedom>>();

function freedom(solution: Solution, part: OpenPart): Freedom {
  const known = freedoms.get(solution) ?? new Map<string, Freedom>();
  freedoms.set(solution, known);
  const key = part.variables.join(" ");
  let found = known.get(key);
  if (found === undefined) {
    found = freedomOf(solution, part);
    known.set(key, found);
  }
  return found;
}

function freedomOf(solution: Solution, part: OpenPart): Freedom {
  const columnOf = new Map(part.variables.map((variable, column) => [variable, column]));
  const columns = part.variables.length;
  const matrix = typicalJacobian(solution, part, columnOf);
  const { basis, count } = nullSpace(matrix, part.equations.length, columns);
  // Asked for hundreds of figures by hundreds of others: one row to work in for all of them.
  const scratch = new Float64Array(count);
  const rows = part.variables.map((_, column) => {
    const row = new Float64Array(count);
    for (let i = 0; i < count; i++) row[i] = basis[i * columns + column]!;
    return row;
  });
  const rowOf = (variable: number): Float64Array => rows[columnOf.get(variable)!]!;
  return {
    moves: (variable) => rowOf(variable).some((entry) => Math.abs(entry) > 1e-9),
    fixing: (set) => {
      const directions = directionsOf(set.map(rowOf));
      let left: { readonly variable: number; readonly rest: Float64Array } | undefined;
      const isNothing = (rest: Float64Array, row: Float64Array): boolean =>
        lengthOf(rest) <= 1e-8 * lengthOf(row);
      return {
        settles: (variable) =>
          isNothing(without(rowOf(variable), directions, scratch), rowOf(variable)),
        completes: (other, variable) => {
          if (left?.variable !== variable) {
            left = { variable, rest: without(rowOf(variable), directions) };
          }
          const further = without(rowOf(other), directions, scratch);
          if (isNothing(further, rowOf(other))) return false;
          return isParallel(left.rest, further, 1e-8 * lengthOf(rowOf(variable)));
        },
      };
    },
  };
}

/** Where nothing has a value at one place, another is tried; at the last one, what has none is made up. */
function typicalJacobian(
  solution: Solution,
  part: OpenPart,
  columnOf: ReadonlyMap<number, number>,
): Float64Array {
  let found = jacobianAt(0, solution, part, columnOf);
  for (let attempt = 1; attempt < PLACES && !found.sound; attempt++) {
    found = jacobianAt(attempt, solution, part, columnOf);
  }
  return found.matrix;
}

function jacobianAt(
  attempt: number,
  solution: Solution,
  part: OpenPart,
  columnOf: ReadonlyMap<number, number>,
): { readonly matrix: Float64Array; readonly sound: boolean } {
  const { system, facts } = executionOf(solution).network;
  const columns = part.variables.length;
  const values = solution.values.slice();
  part.variables.forEach((variable, column) => {
    values[variable] = placeOf(system.variables[variable]!, shareOf(column, attempt));
  });
  const matrix = new Float64Array(part.equations.length * columns);
  let sound = true;
  part.equations.forEach((equation, row) => {
    const slots = system.equations[equation]!.variables;
    const gradient = new Float64Array(slots.length);
    residualAndGradient(facts[equation]!, values, slots, gradient, 0);
    const { tape } = facts[equation]!;
    const defined = gradient.every(Number.isFinite);
    sound &&= defined;
    let largest = 0;
    const joined: number[] = [];
    slots.forEach((variable, slot) => {
      const column = columnOf.get(variable);
      if (column === undefined || !tape.slotIndices.includes(slot)) return;
      const at = row * columns + column;
      joined.push(column);
      matrix[at] = defined ? gradient[slot]! * system.variables[variable]!.scale : 0;
      largest = Math.max(largest, Math.abs(matrix[at]));
    });
    for (const column of joined) {
      const at = row * columns + column;
      if (largest > 0) matrix[at]! /= largest;
      // What is level here, or read off a list that has nothing here, still joins its figures somewhere.
      if ((!defined || tape.kinked) && matrix[at] === 0)
        matrix[at] = 0.25 + (((row + 1) * (column + 2) * 0.7548776662466927) % 0.5);
    }
  });
  return { matrix, sound };
}

/** From 0 to 1, another for each figure and each attempt. */
function shareOf(at: number, attempt: number): number {
  return ((at + 1) * 0.6180339887498949 + attempt * 0.7548776662466927) % 1;
}

/** A number inside of a variable's range. */
function placeOf(about: Variable, share: number): number {
  const low = lowOf(about);
  const high = highOf(about);
  return Number.isFinite(high - low)
    ? low + (0.1 + 0.8 * share) * (high - low)
    : (Number.isFinite(low) ? low : 0) + about.scale * (0.5 + share);
}

/** Orthonormal directions that rows span (modified Gram and Schmidt). */
function directionsOf(rows: readonly Float64Array[]): Float64Array[] {
  const directions: Float64Array[] = [];
  for (const row of rows) {
    const rest = without(row, directions);
    const length = lengthOf(rest);
    if (length > 1e-8 * lengthOf(row)) directions.push(rest.map((entry) => entry / length));
  }
  return directions;
}

/** Whether a row is so many times another, but for `room`. */
function isParallel(row: Float64Array, other: Float64Array, room: number): boolean {
  let share = 0;
  let square = 0;
  for (let i = 0; i < row.length; i++) {
    share += row[i]! * other[i]!;
    square += other[i]! * other[i]!;
  }
  share /= square;
  let rest = 0;
  for (let i = 0; i < row.length; i++) rest += (row[i]! - share * other[i]!) ** 2;
  return Math.sqrt(rest) <= room;
}

/** What is left of a row without some directions, written into `rest`; the row itself without any. */
function without(
  row: Float64Array,
  directions: readonly Float64Array[],
  rest = new Float64Array(row.length),
): Float64Array {
  if (directions.length === 0) return row;
  rest.set(row);
  // Twice is enough to be rid of rounding.
  for (let pass = 0; pass < 2; pass++) {
    for (const direction of directions) {
      let share = 0;
      for (let i = 0; i < rest.length; i++) share += rest[i]! * direction[i]!;
      for (let i = 0; i < rest.length; i++) rest[i]! -= share * direction[i]!;
    }
  }
  return rest;
}

function lengthOf(row: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < row.length; i++) sum += row[i]! * row[i]!;
  return Math.sqrt(sum);
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
  const more = { ...execution, network: { ...execution.network, known }, values };
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
