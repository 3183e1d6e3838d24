/**
 * What conditions, rounding and curves come to over ranges, by hand: no wider than it is. Whether
 * that holds all there is, `ranges.test.ts` draws by the thousand.
 */
import { describe, expect, test } from "vitest";
import type { Expression, FunctionName, LookupCurve } from "../../server/solve/expression";
import { call, near, number, told, x, y } from "./told-ranges";

const infinity = Number.POSITIVE_INFINITY;

describe("one thing or another", () => {
  const which = (
    relation: ">=" | "<=" | ">" | "<" | "==" | "!=",
    right: Expression = y,
  ): Expression => ({
    op: "if",
    condition: { op: "compare", relation, left: x, right },
    then: number(1),
    else: number(0),
  });

  // x and y over boxes that lie apart, touch, and lie across each other.
  test.each([
    [">=", [1, 0], [0, 0], [0, 1]],
    ["<=", [0, 0], [1, 1], [0, 1]],
    [">", [1, 1], [0, 0], [0, 1]],
    ["<", [0, 0], [1, 1], [0, 1]],
    ["==", [0, 0], [0, 0], [0, 1]],
    ["!=", [1, 1], [1, 1], [0, 1]],
  ] as const)("x %s y", (relation, above, below, across) => {
    const sorted = [...above].sort();
    const found = told(which(relation), [5, 6], [1, 2]).range;
    expect(found).toEqual(relation === ">=" ? [1, 1] : sorted);
    expect(told(which(relation), [1, 2], [5, 6]).range).toEqual([...below]);
    expect(told(which(relation), [1, 5], [2, 3]).range).toEqual([...across]);
  });

  test("where the ends touch, only what counts the end is decided", () => {
    expect(told(which(">="), [2, 3], [1, 2]).range).toEqual([1, 1]);
    expect(told(which("<="), [1, 2], [2, 3]).range).toEqual([1, 1]);
    expect(told(which(">"), [2, 3], [1, 2]).range).toEqual([0, 1]);
    expect(told(which("<"), [1, 2], [2, 3]).range).toEqual([0, 1]);
    expect(told(which(">"), [1, 2], [2, 3]).range).toEqual([0, 0]);
    expect(told(which("<"), [2, 3], [1, 2]).range).toEqual([0, 0]);
    expect(told(which(">="), [1, 2], [2, 3]).range).toEqual([0, 1]);
    expect(told(which("<="), [2, 3], [1, 2]).range).toEqual([0, 1]);
    expect(told(which("=="), [2, 2], [2, 2]).range).toEqual([1, 1]);
    expect(told(which("!="), [2, 2], [2, 2]).range).toEqual([0, 0]);
    expect(told(which("=="), [2, 3], [3, 4]).range).toEqual([0, 1]);
    expect(told(which("!="), [2, 3], [3, 4]).range).toEqual([0, 1]);
  });

  test("a decided branch is followed alone, an open one with the other", () => {
    const branches: Expression = {
      op: "if",
      condition: { op: "compare", relation: ">=", left: x, right: number(2) },
      then: { op: "multiply", left: number(3), right: y },
      else: { op: "negate", of: y },
    };
    const over = (box: readonly [number, number]) => told(branches, box, [1, 2]);
    near(over([2, 4]).range, [3, 6], "then");
    near(over([0, 1]).range, [-2, -1], "else");
    near(over([0, 4]).range, [-2, 6], "either");
    near(over([2, 4]).slopes[1] ?? [], [3, 3], "then");
    near(over([0, 1]).slopes[1] ?? [], [-1, -1], "else");
    near(over([0, 4]).slopes[1] ?? [], [-1, 3], "either");
    expect(over([0, 4]).slopes[0]).toEqual([-infinity, infinity]);
    expect(over([2, 4]).slopes[0]).toEqual([0, 0]);
    expect(over([0, 4]).partial).toBe(false);
  });

  test("a branch that lacks a value counts where it is followed", () => {
    const branches: Expression = {
      op: "if",
      condition: { op: "compare", relation: ">=", left: x, right: number(2) },
      then: call("sqrt", y),
      else: number(7),
    };
    expect(told(branches, [2, 4], [-1, 4]).partial).toBe(true);
    expect(told(branches, [0, 1], [-1, 4]).partial).toBe(false);
    expect(told(branches, [0, 4], [-1, 4]).partial).toBe(true);
    expect(told(branches, [0, 4], [1, 4]).partial).toBe(false);
    expect(told(branches, [0, 1], [-2, -1]).range).toEqual([7, 7]);
  });

  test("conditions joined", () => {
    const over = (op: "and" | "or", box: readonly [number, number]) =>
      told(
        {
          op: "if",
          condition: {
            op,
            left: { op: "compare", relation: ">=", left: x, right: number(2) },
            right: { op: "compare", relation: "<=", left: x, right: number(4) },
          },
          then: number(1),
          else: number(0),
        },
        box,
      ).range;
    expect(over("and", [2, 4])).toEqual([1, 1]);
    expect(over("and", [5, 6])).toEqual([0, 0]);
    expect(over("and", [3, 6])).toEqual([0, 1]);
    expect(over("or", [5, 6])).toEqual([1, 1]);
    expect(over("or", [0, 6])).toEqual([0, 1]);
    const not = (box: readonly [number, number]) =>
      told(
        {
          op: "if",
          condition: {
            op: "not",
            of: { op: "compare", relation: ">=", left: x, right: number(2) },
          },
          then: number(1),
          else: number(0),
        },
        box,
      ).range;
    expect(not([2, 4])).toEqual([0, 0]);
    expect(not([0, 1])).toEqual([1, 1]);
    expect(not([0, 4])).toEqual([0, 1]);
  });

  test("rounding over a range, to a step and to one that varies", () => {
    const round = (name: FunctionName, step: Expression = number(0.5)) => call(name, x, step);
    near(told(round("round"), [1.1, 2.3]).range, [1, 2.5], "round");
    near(told(round("floor"), [1.1, 2.3]).range, [1, 2], "floor");
    near(told(round("ceil"), [1.1, 2.3]).range, [1.5, 2.5], "ceil");
    expect(told(round("round"), [1.1, 2.3]).partial).toBe(false);
    const varies = told(round("round", y), [1.1, 2.3], [0.25, 0.5]);
    near(varies.range, [0.6, 2.8], "by at most the largest step");
    expect(varies.partial).toBe(false);
    expect(told(round("round", y), [1.1, 2.3], [0, 0.5]).partial).toBe(true);
    expect(told(round("round", y), [1.1, 2.3], [-0.5, -0.25]).partial).toBe(false);
    expect(varies.slopes).toEqual([
      [0, infinity],
      [-infinity, infinity],
    ]);
  });
});

describe("curves", () => {
  const curve = (method: LookupCurve["method"]): LookupCurve => ({
    name: "t",
    method,
    keys: [0, 1, 3, 4],
    values: [0, 4, 2, 9],
  });
  const over = (method: LookupCurve["method"], box: readonly [number, number]) =>
    told({ op: "lookup", curve: curve(method), of: x }, box);

  // Neither bound alone says it: each case moves one of the two.
  test.each([
    [
      [0.25, 0.5],
      [1, 2],
      [4, 4],
    ],
    [
      [0.5, 2],
      [2, 4],
      [-1, 4],
    ],
    [
      [0.25, 2],
      [1, 4],
      [-1, 4],
    ],
    [
      [1.5, 2.5],
      [2.5, 3.5],
      [-1, -1],
    ],
    [
      [2, 3.5],
      [2, 5.5],
      [-1, 7],
    ],
    [
      [3, 4],
      [2, 9],
      [-1, 7],
    ],
    [
      [3.25, 3.5],
      [3.75, 5.5],
      [7, 7],
    ],
    [
      [0, 4],
      [0, 9],
      [-1, 7],
    ],
  ] as const)("straight between its points, over %j", (box, range, slopes) => {
    const found = over("linear", box);
    near(found.range, range, "values");
    near(found.slopes[0] ?? [], slopes, "slopes");
    expect(found.partial).toBe(false);
  });

  test("beyond its first or last point it has no value", () => {
    expect(over("linear", [-1, 1]).partial).toBe(true);
    near(over("linear", [-1, 1]).range, [0, 4], "from below");
    expect(over("linear", [3, 5]).partial).toBe(true);
    near(over("linear", [3.5, 5]).range, [5.5, 9], "to above");
    expect(over("linear", [5, 6]).range).toEqual([Number.NaN, Number.NaN]);
  });

  test("in steps: the values of all steps it lies on", () => {
    expect(over("step", [0.25, 0.5]).range).toEqual([0, 0]);
    expect(over("step", [0.25, 0.5]).slopes).toEqual([[0, 0]]);
    expect(over("step", [0.5, 1]).range).toEqual([0, 4]);
    expect(over("step", [0.5, 3.5]).range).toEqual([0, 4]);
    expect(over("step", [1.5, 3.5]).range).toEqual([2, 4]);
    expect(over("step", [1.5, 3.5]).slopes).toEqual([[-infinity, infinity]]);
    expect(over("step", [1.5, 3.5]).partial).toBe(false);
  });

  test("of exact points only, a value at one of them and none beside it", () => {
    expect(over("exact", [1, 1])).toEqual({ range: [4, 4], partial: false, slopes: [[0, 0]] });
    expect(over("exact", [1, 1.5])).toMatchObject({ range: [4, 4], partial: true });
    expect(over("exact", [0.5, 3.5])).toMatchObject({ range: [2, 4], partial: true });
  });
});
