/**
 * How steep formulas are over ranges, against the calculus: no wider than it is. Whether that holds
 * all there is, `ranges.test.ts` draws by the thousand.
 */
import { describe, expect, test } from "vitest";
import type { Expression, FunctionName } from "../../server/solve/expression";
import { call, near, number, told, x, y } from "./told-ranges";

const infinity = Number.POSITIVE_INFINITY;

describe("slopes are those of the calculus", () => {
  // Each with its derivative, which rises or falls all over the range: the ends tell it.
  test.each([
    ["sqrt", [1, 4], (at: number) => 0.5 / Math.sqrt(at)],
    ["exp", [-1, 2], Math.exp],
    ["log", [1, 4], (at: number) => 1 / at],
    ["sin", [0.2, 1.2], Math.cos],
    ["cos", [0.2, 1.2], (at: number) => -Math.sin(at)],
    ["tan", [0.2, 1.2], (at: number) => 1 / Math.cos(at) ** 2],
    ["asin", [0.2, 0.9], (at: number) => 1 / Math.sqrt(1 - at * at)],
    ["acos", [0.2, 0.9], (at: number) => -1 / Math.sqrt(1 - at * at)],
    ["atan", [0.2, 3], (at: number) => 1 / (1 + at * at)],
    ["abs", [1, 4], () => 1],
    ["abs", [-4, -1], () => -1],
  ] as const)("%s over %j", (name, box, derivative) => {
    const ends = box.map((at) => derivative(at)).sort((one, other) => one - other);
    const { slopes, partial } = told(call(name, x), box);
    near(slopes[0] ?? [], ends, name);
    expect(partial).toBe(false);
    // Three times as much is three times as steep.
    const thrice: Expression = { op: "multiply", left: number(3), right: call(name, x) };
    near(
      told(thrice, box).slopes[0] ?? [],
      ends.map((end) => 3 * end),
      name,
    );
  });

  test("where a slope has no limit it is told to have none", () => {
    near(told(call("sqrt", x), [0, 4]).slopes[0] ?? [], [0.25, infinity], "sqrt");
    near(told(call("log", x), [0, 4]).slopes[0] ?? [], [0.25, infinity], "log");
    near(told(call("asin", x), [0, 1]).slopes[0] ?? [], [1, infinity], "asin");
    near(told(call("acos", x), [0, 1]).slopes[0] ?? [], [-infinity, -1], "acos");
    near(told(call("abs", x), [-1, 2]).slopes[0] ?? [], [-1, 1], "abs");
    near(told(call("round", x, number(1)), [0.2, 3]).slopes[0] ?? [], [0, infinity], "round");
    near(told(call("round", x, number(1)), [0.6, 1.4]).slopes[0] ?? [], [0, 0], "round, level");
  });

  test.each([
    [
      "add",
      [
        [1, 1],
        [1, 1],
      ],
    ],
    [
      "subtract",
      [
        [1, 1],
        [-1, -1],
      ],
    ],
    [
      "multiply",
      [
        [5, 7],
        [2, 3],
      ],
    ],
    // 1/y from 1/7 to 1/5; −x/y² from −3/25 to −2/49.
    [
      "divide",
      [
        [1 / 7, 1 / 5],
        [-3 / 25, -2 / 49],
      ],
    ],
  ] as const)("x from 2 to 3, y from 5 to 7: %s", (op, wanted) => {
    const { slopes } = told({ op, left: x, right: y }, [2, 3], [5, 7]);
    wanted.forEach((each, index) => {
      // A quotient's slope may be told a little wider than it is: x/y is taken for itself.
      const [low = 0, high = 0] = slopes[index] ?? [];
      expect(low).toBeLessThanOrEqual(each[0] + 1e-12);
      expect(high).toBeGreaterThanOrEqual(each[1] - 1e-12);
      expect(low).toBeGreaterThan(each[0] - 1e-9);
      expect(high).toBeLessThan(each[1] + 1e-9);
    });
  });

  test("of powers, by a number and by what varies", () => {
    const power = (left: Expression, right: Expression): Expression => ({
      op: "power",
      left,
      right,
    });
    near(told(power(x, number(3)), [1, 2]).slopes[0] ?? [], [3, 12], "x³");
    near(told(power(x, number(-1)), [1, 2]).slopes[0] ?? [], [-1, -0.25], "1/x");
    near(told(power(x, number(0.5)), [0, 4]).slopes[0] ?? [], [0.25, infinity], "√x");
    // d xʸ = y·xʸ/x and xʸ·ln x, each taken for itself: xʸ from 1 to 8, over 1 to 2.
    const both = told(power(x, y), [1, 2], [2, 3]);
    near(both.slopes[0] ?? [], [1, 24], "xʸ by x");
    near(both.slopes[1] ?? [], [0, 8 * Math.log(2)], "xʸ by y");
    const below = told(power(x, y), [-1, 2], [2, 3]);
    expect(below.slopes).toEqual([
      [-infinity, infinity],
      [-infinity, infinity],
    ]);
    expect(below.partial).toBe(true);
  });

  test("of an angle: −a/(a² + b²) and b/(a² + b²), any where it jumps", () => {
    const of = call("atan2", x, y);
    const { slopes, range } = told(of, [1, 2], [3, 4]);
    near(slopes[0] ?? [], [3 / 20, 4 / 10], "by a");
    near(slopes[1] ?? [], [-2 / 10, -1 / 20], "by b");
    near(range, [Math.atan2(1, 4), Math.atan2(2, 3)], "angle");
    expect(told(of, [-1, 1], [-4, -3]).slopes).toEqual([
      [-infinity, infinity],
      [-infinity, infinity],
    ]);
    near(told(of, [1, 2], [-4, -3]).slopes[0] ?? [], [-4 / 10, -3 / 20], "behind");
  });

  test("of the lesser and the greater: the one that is, or a share of both", () => {
    const slopesOf = (name: FunctionName, box: readonly [number, number]) =>
      told(call(name, x, y), box, [5, 7]).slopes;
    expect(slopesOf("min", [2, 3])).toEqual([
      [1, 1],
      [0, 0],
    ]);
    expect(slopesOf("min", [8, 9])).toEqual([
      [0, 0],
      [1, 1],
    ]);
    expect(slopesOf("min", [6, 9])).toEqual([
      [0, 1],
      [0, 1],
    ]);
    expect(slopesOf("max", [2, 3])).toEqual([
      [0, 0],
      [1, 1],
    ]);
    expect(slopesOf("max", [8, 9])).toEqual([
      [1, 1],
      [0, 0],
    ]);
    expect(slopesOf("max", [6, 9])).toEqual([
      [0, 1],
      [0, 1],
    ]);
    expect(told(call("min", x, y), [6, 9], [5, 7]).range).toEqual([5, 7]);
    expect(told(call("max", x, y), [6, 9], [5, 7]).range).toEqual([6, 9]);
  });

  test("what is taken from or divided by itself is no range", () => {
    expect(told({ op: "subtract", left: x, right: x }, [2, 3]).range).toEqual([0, 0]);
    expect(told({ op: "divide", left: x, right: x }, [2, 3]).range).toEqual([1, 1]);
    expect(told({ op: "divide", left: x, right: x }, [2, 3]).slopes).toEqual([[0, 0]]);
    near(told({ op: "add", left: x, right: x }, [2, 3]).range, [4, 6], "x + x");
    near(told({ op: "multiply", left: x, right: x }, [-2, 3]).range, [0, 9], "x·x");
    expect(told({ op: "divide", left: x, right: x }, [-2, 3]).partial).toBe(true);
  });
});
