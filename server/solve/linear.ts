/**
 * Dense linear algebra for blocks: LU with row pivoting, rows that depend on earlier rows, and null
 * spaces. Matrices are stored row after row in a Float64Array. Callers scale rows and columns first,
 * so that an entry's natural size is 1.
 *
 * Must not know: equations, variables, systems.
 */
import { goOn } from "../keep/patience";

/** A pivot this small, against rows and columns of natural size 1, counts as nothing. */
export const SINGULAR = 1e-10;

/** What a factored matrix can be asked. */
export interface LinearSolver {
  /** The smallest pivot's magnitude; 0 where the matrix has no inverse. */
  readonly smallestPivot: number;
  /** x of A x = b, in a new array. */
  solve(right: ArrayLike<number>): Float64Array;
  /** x of Aᵀ x = b, in a new array. */
  solveTransposed(right: ArrayLike<number>): Float64Array;
}

/** What was factored as a full matrix, to be asked. */
export function solverOf(factors: Factors): LinearSolver {
  return {
    smallestPivot: factors.smallestPivot,
    solve: (right) => solveWith(factors, right),
    solveTransposed: (right) => solveTransposed(factors, right),
  };
}

export interface Factors {
  readonly size: number;
  readonly lu: Float64Array;
  readonly rows: Int32Array;
  /** The smallest pivot's magnitude; below `SINGULAR` the factors must not be used. */
  readonly smallestPivot: number;
}

/** LU of a square matrix, which is left as it is. NaN anywhere gives a smallest pivot of 0. */
export function factor(matrix: Float64Array, size: number): Factors {
  const lu = matrix.slice(0, size * size);
  const rows = new Int32Array(size);
  for (let i = 0; i < size; i++) rows[i] = i;
  let smallest = size === 0 ? 1 : Number.POSITIVE_INFINITY;
  for (let k = 0; k < size; k++) {
    goOn((size - k) ** 2);
    let best = k;
    for (let i = k + 1; i < size; i++) {
      if (Math.abs(lu[i * size + k]!) > Math.abs(lu[best * size + k]!)) best = i;
    }
    const pivot = lu[best * size + k]!;
    if (!(Math.abs(pivot) > 0) || !Number.isFinite(pivot)) {
      smallest = 0;
      break;
    }
    smallest = Math.min(smallest, Math.abs(pivot));
    if (best !== k) {
      swapRows(lu, size, best, k);
      const row = rows[best]!;
      rows[best] = rows[k]!;
      rows[k] = row;
    }
    for (let i = k + 1; i < size; i++) {
      const share = lu[i * size + k]! / pivot;
      lu[i * size + k] = share;
      if (share === 0) continue;
      for (let j = k + 1; j < size; j++) lu[i * size + j]! -= share * lu[k * size + j]!;
    }
  }
  return { size, lu, rows, smallestPivot: smallest };
}

/** x of A x = b, in a new array. */
export function solveWith(factors: Factors, right: ArrayLike<number>): Float64Array {
  const { size, lu, rows } = factors;
  goOn(size * size);
  const x = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let sum = right[rows[i]!]!;
    for (let j = 0; j < i; j++) sum -= lu[i * size + j]! * x[j]!;
    x[i] = sum;
  }
  for (let i = size - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let j = i + 1; j < size; j++) sum -= lu[i * size + j]! * x[j]!;
    x[i] = sum / lu[i * size + i]!;
  }
  return x;
}

/** x of Aᵀ x = b, in a new array. */
export function solveTransposed(factors: Factors, right: ArrayLike<number>): Float64Array {
  const { size, lu, rows } = factors;
  goOn(size * size);
  const y = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let sum = right[i]!;
    for (let j = 0; j < i; j++) sum -= lu[j * size + i]! * y[j]!;
    y[i] = sum / lu[i * size + i]!;
  }
  const x = new Float64Array(size);
  for (let i = size - 1; i >= 0; i--) {
    let sum = y[i]!;
    for (let j = i + 1; j < size; j++) sum -= lu[j * size + i]! * y[j]!;
    y[i] = sum;
  }
  for (let i = 0; i < size; i++) x[rows[i]!] = y[i]!;
  return x;
}

function swapRows(matrix: Float64Array, width: number, one: number, other: number): void {
  for (let j = 0; j < width; j++) {
    const kept = matrix[one * width + j]!;
    matrix[one * width + j] = matrix[other * width + j]!;
    matrix[other * width + j] = kept;
  }
}

/** A row that earlier rows make superfluous: Σ weights · rows = 0, with weight 1 on itself. */
export interface DependentRow {
  readonly row: number;
  readonly weights: Float64Array;
}

/**
 * Goes through the rows in order and finds those that depend on the ones before them, so that rows
 * that should be kept stand first. Rows should be of natural size 1 (largest entry 1, or all 0).
 */
export function dependentRows(
  matrix: Float64Array,
  rows: number,
  columns: number,
): readonly DependentRow[] {
  const reduced = matrix.slice(0, rows * columns);
  const weights: Float64Array[] = [];
  const pivots: { row: number; column: number }[] = [];
  const dependent: DependentRow[] = [];
  for (let i = 0; i < rows; i++) {
    goOn(pivots.length * columns);
    const own = new Float64Array(rows);
    own[i] = 1;
    for (const pivot of pivots) {
      const share =
        reduced[i * columns + pivot.column]! / reduced[pivot.row * columns + pivot.column]!;
      if (share === 0) continue;
      for (let j = 0; j < columns; j++) {
        reduced[i * columns + j]! -= share * reduced[pivot.row * columns + j]!;
      }
      reduced[i * columns + pivot.column] = 0;
      const theirs = weights[pivot.row]!;
      for (let j = 0; j <= pivot.row; j++) own[j]! -= share * theirs[j]!;
    }
    weights.push(own);
    let best = 0;
    for (let j = 1; j < columns; j++) {
      if (Math.abs(reduced[i * columns + j]!) > Math.abs(reduced[i * columns + best]!)) best = j;
    }
    // Rounding grows with the weights that were needed to get here.
    const size = own.reduce((largest, weight) => Math.max(largest, Math.abs(weight)), 1);
    if (columns > 0 && Math.abs(reduced[i * columns + best]!) > SINGULAR * size) {
      pivots.push({ row: i, column: best });
    } else {
      dependent.push({ row: i, weights: own });
    }
  }
  return dependent;
}

/**
 * A basis of all x with A x = 0, one basis vector per row of the result (`count` rows of `columns`).
 */
export function nullSpace(
  matrix: Float64Array,
  rows: number,
  columns: number,
): { readonly basis: Float64Array; readonly count: number } {
  const reduced = matrix.slice(0, rows * columns);
  const pivotColumns: number[] = [];
  const isPivot = new Uint8Array(columns);
  let rank = 0;
  while (rank < rows && rank < columns) {
    goOn(rows * columns);
    // Full pivoting keeps the basis well behaved.
    let bestRow = -1;
    let bestColumn = -1;
    let largest = SINGULAR;
    for (let i = rank; i < rows; i++) {
      for (let j = 0; j < columns; j++) {
        if (isPivot[j] === 0 && Math.abs(reduced[i * columns + j]!) > largest) {
          largest = Math.abs(reduced[i * columns + j]!);
          bestRow = i;
          bestColumn = j;
        }
      }
    }
    if (bestRow < 0) break;
    if (bestRow !== rank) swapRows(reduced, columns, bestRow, rank);
    const pivot = reduced[rank * columns + bestColumn]!;
    for (let j = 0; j < columns; j++) reduced[rank * columns + j]! /= pivot;
    for (let i = 0; i < rows; i++) {
      const share = reduced[i * columns + bestColumn]!;
      if (i === rank || share === 0) continue;
      for (let j = 0; j < columns; j++) {
        reduced[i * columns + j]! -= share * reduced[rank * columns + j]!;
      }
      reduced[i * columns + bestColumn] = 0;
    }
    pivotColumns.push(bestColumn);
    isPivot[bestColumn] = 1;
    rank++;
  }
  const count = columns - rank;
  const basis = new Float64Array(count * columns);
  let at = 0;
  for (let j = 0; j < columns; j++) {
    if (isPivot[j] === 1) continue;
    basis[at * columns + j] = 1;
    for (let i = 0; i < rank; i++) {
      const entry = -reduced[i * columns + j]!;
      basis[at * columns + pivotColumns[i]!] = Math.abs(entry) < SINGULAR ? 0 : entry;
    }
    at++;
  }
  return { basis, count };
}
