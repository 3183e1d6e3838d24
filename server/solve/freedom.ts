/**
 * How figures that are open can still move together: the directions that their equations leave free,
 * at a typical place (all that is open somewhere within its range).
 *
 * Must not know: what is asked of them.
 */
import { executionOf, highOf, lowOf } from "./execution";
import { residualAndGradient } from "./form";
import { nullSpace } from "./linear";
import type { Solution, Variable } from "./system";

/** So many places are tried before what has no value at one is made up. */
const PLACES = 4;

export interface OpenPart {
  readonly variables: readonly number[];
  readonly equations: readonly number[];
  /** Equations between a variable and the asked one. */
  readonly distance: ReadonlyMap<number, number>;
}

export interface Freedom {
  readonly moves: (variable: number) => boolean;
  /** What fixing some variables leaves. */
  readonly fixing: (set: readonly number[]) => Fixed;
}

export interface Fixed {
  /** It has no freedom left. */
  readonly settles: (variable: number) => boolean;
  /** Fixing this one as well leaves the variable none. */
  readonly completes: (other: number, variable: number) => boolean;
}

/** By the solution, then by the part: figures that are open together are asked about one by one. */
const freedoms = new WeakMap<Solution, Map<string, Freedom>>();

export function freedom(solution: Solution, part: OpenPart): Freedom {
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
export function shareOf(at: number, attempt: number): number {
  return ((at + 1) * 0.6180339887498949 + attempt * 0.7548776662466927) % 1;
}

/** A number inside of a variable's range. */
export function placeOf(about: Variable, share: number): number {
  const low = lowOf(about);
  const high = highOf(about);
  if (Number.isFinite(high - low)) return low + (0.1 + 0.8 * share) * (high - low);
  const size = about.scale * (0.5 + share);
  return Number.isFinite(high) ? high - size : (Number.isFinite(low) ? low : 0) + size;
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
