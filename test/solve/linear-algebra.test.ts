/** Full matrices against an algebra library, and what depends on what by multiplying it out. */
import { lusolve } from "mathjs";
import { describe, expect, test } from "vitest";
import {
  dependentRows,
  factor,
  nullSpace,
  solverOf,
  solveTransposed,
  solveWith,
} from "../../server/solve/linear";
import { LinearSpan, solveSquare } from "../../server/solve/span";
import { randoms } from "./random-systems";

const plain = (matrix: number[][], right: number[]): number[] =>
  (lusolve(matrix, right) as number[][]).map(([x]) => x!);
const turned = (matrix: number[][]): number[][] =>
  matrix.map((_, j) => matrix.map((row) => row[j]!));

describe("factors", () => {
  test("agree with an algebra library, transposed too", () => {
    const random = randoms(3);
    for (let size = 1; size <= 8; size++) {
      // Nothing on the diagonal, so that rows have to be swapped.
      const matrix = Array.from({ length: size }, (_, i) =>
        Array.from({ length: size }, (_, j) => (i === j && size > 1 ? 0 : random() * 2 - 1)),
      );
      const right = Array.from({ length: size }, () => random());
      const factors = factor(Float64Array.from(matrix.flat()), size);
      expect(factors.smallestPivot).toBeGreaterThan(0);
      plain(matrix, right).forEach((x, i) => {
        expect(solveWith(factors, right)[i]).toBeCloseTo(x, 9);
        expect(solverOf(factors).solve(right)[i]).toBeCloseTo(x, 9);
      });
      plain(turned(matrix), right).forEach((x, i) => {
        expect(solveTransposed(factors, right)[i]).toBeCloseTo(x, 9);
        expect(solverOf(factors).solveTransposed(right)[i]).toBeCloseTo(x, 9);
      });
    }
  });

  test("take the largest pivot of each column", () => {
    // By hand: 4 is taken before 1, then 2 − 1/4 · 4 = 1.
    expect(factor(Float64Array.of(1, 2, 4, 4), 2).smallestPivot).toBe(1);
    expect(factor(Float64Array.of(-4, 4, 1, 2), 2).smallestPivot).toBe(3);
    expect(factor(Float64Array.of(1, 2, -4, 4), 2).smallestPivot).toBe(3);
    expect(solverOf(factor(Float64Array.of(0, 3, 2, 0), 2)).smallestPivot).toBe(2);
  });

  test("of nothing, and where there is no inverse", () => {
    expect(factor(new Float64Array(0), 0).smallestPivot).toBe(1);
    expect(factor(Float64Array.of(1, 2, 2, 4), 2).smallestPivot).toBe(0);
    expect(factor(Float64Array.of(0, 0, 1, 1), 2).smallestPivot).toBe(0);
    expect(factor(Float64Array.of(Number.NaN, 1, 1, 1), 2).smallestPivot).toBe(0);
    expect(factor(Float64Array.of(1, 1, 1, Number.POSITIVE_INFINITY), 2).smallestPivot).toBe(0);
  });

  test("leave the matrix as it is", () => {
    const matrix = Float64Array.of(1, 2, 3, 4);
    factor(matrix, 2);
    expect([...matrix]).toEqual([1, 2, 3, 4]);
  });
});

describe("rows that depend on earlier ones", () => {
  test("are found with what makes them up", () => {
    const rows = [
      [1, 0, 2],
      [0, 1, 1],
      [1, 1, 3],
      [0, 0, 0],
      [0, 0, 1],
      [1, 0, 0],
    ];
    const found = dependentRows(Float64Array.from(rows.flat()), 6, 3);
    expect(found.map(({ row }) => row)).toEqual([2, 3, 5]);
    for (const { row, weights } of found) {
      expect(weights[row]).toBe(1);
      for (let j = 0; j < 3; j++) {
        const sum = rows.reduce((total, each, i) => total + weights[i]! * each[j]!, 0);
        expect(sum).toBeCloseTo(0, 12);
      }
    }
    expect([...found[0]!.weights]).toEqual([-1, -1, 1, 0, 0, 0]);
    expect([...found[2]!.weights]).toEqual([-1, 0, 0, 0, 2, 1]);
  });

  test("none where all are independent, all where there are no columns", () => {
    expect(dependentRows(Float64Array.of(0, 1, 1, 0), 2, 2)).toEqual([]);
    expect(dependentRows(new Float64Array(0), 2, 0).map(({ row }) => row)).toEqual([0, 1]);
    // What differs by rounding alone is the same.
    expect(dependentRows(Float64Array.of(1, 1, 1, 1 + 1e-14), 2, 2).length).toBe(1);
    expect(dependentRows(Float64Array.of(1, 1, 1, 1 + 1e-6), 2, 2)).toEqual([]);
  });
});

describe("what a matrix takes to nothing", () => {
  test("as many directions as columns are left over, each taken to nothing", () => {
    const random = randoms(11);
    for (const [rows, columns, rank] of [
      [2, 4, 2],
      [3, 3, 2],
      [4, 3, 1],
      [3, 5, 3],
      [1, 1, 0],
      [2, 6, 1],
    ] as const) {
      const make = (height: number, width: number): number[][] =>
        Array.from({ length: height }, () =>
          Array.from({ length: width }, () => Math.round(random() * 8) / 4 - 1),
        );
      const [left, right] = [make(rows, rank), make(rank, columns)];
      const product = left.map((row) =>
        Array.from({ length: columns }, (_, j) =>
          row.reduce((sum, each, k) => sum + each * right[k]![j]!, 0),
        ),
      );
      const { basis, count } = nullSpace(Float64Array.from(product.flat()), rows, columns);
      expect(count).toBe(columns - rank);
      const directions = Array.from({ length: count }, (_, at) => [
        ...basis.slice(at * columns, (at + 1) * columns),
      ]);
      for (const direction of directions) {
        for (const row of product) {
          expect(row.reduce((sum, each, j) => sum + each * direction[j]!, 0)).toBeCloseTo(0, 10);
        }
      }
      // They are independent of each other.
      expect(new LinearSpan().addAll(directions)).toBe(true);
    }
  });

  test("by hand: x + 2y = 0", () => {
    const { basis } = nullSpace(Float64Array.of(1, 2), 1, 2);
    // The largest coefficient is solved for.
    expect([...basis]).toEqual([1, -0.5]);
    expect([...nullSpace(Float64Array.of(0, 0), 1, 2).basis]).toEqual([1, 0, 0, 1]);
  });
});

describe("directions", () => {
  test("what adds something and what does not", () => {
    const span = new LinearSpan();
    expect(span.add([0, 0, 0])).toBe(false);
    expect(span.add([Number.NaN, 1, 0])).toBe(false);
    expect(span.add([Number.POSITIVE_INFINITY, 1, 0])).toBe(false);
    expect(span.add([1, 1, 0])).toBe(true);
    expect(span.add([-3, -3, 0])).toBe(false);
    expect(span.add([1e-9, 0, 0])).toBe(true);
    expect(span.add([5, -2, 0])).toBe(false);
    expect(span.rank).toBe(2);
    const copy = span.copy();
    expect(copy.add([0, 0, 4])).toBe(true);
    expect([span.rank, copy.rank]).toEqual([2, 3]);
    expect(span.add([1, 2, 1e-3])).toBe(true);
    expect(span.add([7, 8, 9])).toBe(false);
  });

  test("all or none", () => {
    const span = new LinearSpan([[1, 0, 0]]);
    expect(
      span.addAll([
        [0, 1, 0],
        [1, 1, 0],
      ]),
    ).toBe(false);
    expect(span.rank).toBe(1);
    expect(
      span.addAll([
        [0, 1, 0],
        [1, 1, 1],
      ]),
    ).toBe(true);
    expect(span.rank).toBe(3);
  });

  test("small systems against an algebra library", () => {
    const random = randoms(7);
    for (let size = 1; size <= 6; size++) {
      const matrix = Array.from({ length: size }, (_, i) =>
        Array.from({ length: size }, (_, j) => (i === j && size > 1 ? 0 : random() * 2 - 1)),
      );
      const right = Array.from({ length: size }, () => random());
      const own = solveSquare(matrix, right)!;
      plain(matrix, right).forEach((x, i) => {
        expect(own[i]).toBeCloseTo(x, 9);
      });
    }
    expect(
      solveSquare(
        [
          [1, 2],
          [2, 4],
        ],
        [1, 2],
      ),
    ).toBeUndefined();
    expect(solveSquare([[0]], [1])).toBeUndefined();
  });
});
