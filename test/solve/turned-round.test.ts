/**
 * Equations turned round: whatever the formula, the place it came from is among what comes out, and
 * all that comes out is right.
 */
import { describe, expect, test } from "vitest";
import { evaluate } from "../../server/solve/evaluate";
import { choice, type Expression, type LookupCurve } from "../../server/solve/expression";
import { branchesFor } from "../../server/solve/isolate";
import { tapeOf } from "../../server/solve/tape";
import { add, call, compare, div, mul, neg, pow, sub } from "./build";

const x: Expression = { op: "slot", index: 0 };
const y: Expression = { op: "slot", index: 1 };
const k: Expression = { op: "slot", index: 2 };

const value = (expression: Expression, at: readonly number[]): number =>
  evaluate(tapeOf(expression), Float64Array.from(at), [0, 1, 2]);

/** Values of the branches that satisfy `f = y`, where x was `at` and the other figure is `other`. */
function turned(f: Expression, at: number, other: number, left = true) {
  const wanted = value(f, [at, Number.NaN, other]);
  const form = left ? { left: f, right: y, slots: 3 } : { left: y, right: f, slots: 3 };
  const branches = branchesFor(form, 0)!;
  expect(branches).toBeDefined();
  const found = branches.tapes.map((tape) =>
    evaluate(tape, Float64Array.of(Number.NaN, wanted, other), [0, 1, 2]),
  );
  const right = found.filter((each) => {
    const again = value(f, [each, wanted, other]);
    return Math.abs(again - wanted) <= 1e-9 * (1 + Math.abs(wanted));
  });
  return { found, right, branches, wanted };
}

const curve = (
  method: LookupCurve["method"],
  ...points: readonly (readonly [number, number])[]
): LookupCurve => ({
  name: "t",
  method,
  keys: points.map(([key]) => key),
  values: points.map(([, v]) => v),
});
const through = (table: LookupCurve, of: Expression): Expression => ({
  op: "lookup",
  curve: table,
  of,
});

const around = [-2.5, -1.25, -0.5, 0.25, 0.75, 1.5, 3];
const small = [-0.9, -0.4, 0.1, 0.6, 0.95];
const above = [0.25, 0.75, 1.5, 3, 7];

describe("the place it came from is among what comes out", () => {
  /** Name, formula, places, how many branches, whether they must be put back, whether they repeat. */
  const cases: readonly (readonly [
    name: string,
    f: Expression,
    places: readonly number[],
    count: number,
    check: boolean,
    repeats: boolean,
  ])[] = [
    ["x + k", add(x, k), around, 1, false, false],
    ["k + x", add(k, x), around, 1, false, false],
    ["x − k", sub(x, k), around, 1, false, false],
    ["k − x", sub(k, x), around, 1, false, false],
    ["x · k", mul(x, k), around, 1, false, false],
    ["k · x", mul(k, x), around, 1, false, false],
    ["x / 3", div(x, 3), around, 1, false, false],
    ["x / k", div(x, k), around, 1, true, false],
    ["k / x", div(k, x), around, 1, true, false],
    ["−x", neg(x), around, 1, false, false],
    ["x²", pow(x, 2), around, 2, true, false],
    ["x³", pow(x, 3), around, 1, true, false],
    ["x⁴", pow(x, 4), around, 2, true, false],
    ["x⁻¹", pow(x, -1), around, 1, true, false],
    ["x⁻²", pow(x, -2), around, 2, true, false],
    ["x⁻³", pow(x, -3), around, 1, true, false],
    ["x¹", pow(x, 1), around, 1, false, false],
    ["x^1.5", pow(x, 1.5), above, 1, true, false],
    ["x^k", pow(x, k), above, 2, true, false],
    ["k^x", pow(k, x), around, 1, true, false],
    ["|x|", call("abs", x), around, 2, true, false],
    ["√x", call("sqrt", x), above, 1, true, false],
    ["exp x", call("exp", x), around, 1, true, false],
    ["log x", call("log", x), above, 1, true, false],
    ["sin x", call("sin", x), [...around, -6, 6, 4.5], 6, true, true],
    ["cos x", call("cos", x), [...around, -6, 6, 4.5], 6, true, true],
    ["tan x", call("tan", x), [...around, -6, 6, 4.5], 5, true, true],
    ["asin x", call("asin", x), small, 1, true, false],
    ["acos x", call("acos", x), small, 1, true, false],
    ["atan x", call("atan", x), around, 1, true, false],
    ["atan2(x, k)", call("atan2", x, k), around, 1, true, false],
    ["atan2(k, x)", call("atan2", k, x), above, 1, true, false],
    ["min(x, 2)", call("min", x, 2), [-3, 0, 1.9], 1, true, false],
    ["max(k, x)", call("max", sub(k, 9), x), around, 1, true, false],
    ["3 − 2·√(1 + x)/k", sub(3, div(mul(2, call("sqrt", add(1, x))), k)), above, 1, true, false],
    ["(|x − 1| + 2)²", pow(add(call("abs", sub(x, 1)), 2), 2), around, 4, true, false],
    ["sin²x", pow(call("sin", x), 2), small, 12, true, true],
    [
      "if k > 1 then 2x else 0",
      choice(compare(k, ">", 1), mul(2, x), sub(k, k)),
      around,
      1,
      true,
      false,
    ],
    [
      "if k ≤ 1 then 0 else x/4",
      choice(compare(k, "<=", 1), sub(k, k), div(x, 4)),
      around,
      1,
      true,
      false,
    ],
  ];
  test.each(cases)("%s", (_, f, places, count, check, repeats) => {
    for (const left of [true, false]) {
      for (const at of places) {
        const { found, right, branches } = turned(f, at, 2, left);
        expect(branches.tapes.length).toBe(count);
        expect(branches.expressions.length).toBe(count);
        expect(branches.check).toBe(check);
        expect(branches.repeats).toBe(repeats);
        const nearest = Math.min(...right.map((each) => Math.abs(each - at)));
        expect(nearest, `${at} of ${found}`).toBeLessThan(1e-9 * (1 + Math.abs(at)));
        // What need not be put back is right by itself.
        if (!check) expect(right).toEqual(found);
      }
    }
  });
});

describe("all turns within one turn of nothing", () => {
  test.each([
    ["sin", Math.sin],
    ["cos", Math.cos],
    ["tan", Math.tan],
  ] as const)("of %s, by looking at each", (name, of) => {
    for (const wanted of [-0.8, -0.3, 0.2, 0.9]) {
      const { found } = (() => {
        const branches = branchesFor({ left: call(name, x), right: y, slots: 2 }, 0)!;
        return {
          found: branches.tapes.map((tape) =>
            evaluate(tape, Float64Array.of(Number.NaN, wanted), [0, 1]),
          ),
        };
      })();
      // Crossings of a fine grid over two turns.
      const crossings: number[] = [];
      const step = 1e-3;
      for (let at = -2 * Math.PI; at < 2 * Math.PI; at += step) {
        const [one, other] = [of(at) - wanted, of(at + step) - wanted];
        if (one * other < 0 && Math.abs(one - other) < 1) crossings.push(at + step / 2);
      }
      expect(crossings.length).toBeGreaterThan(3);
      for (const crossing of crossings)
        expect(Math.min(...found.map((each) => Math.abs(each - crossing)))).toBeLessThan(step);
      for (const each of found) expect(of(each)).toBeCloseTo(wanted, 9);
    }
  });
});

describe("tables", () => {
  test("a straight one is read back on each stretch, exact ones row by row", () => {
    const bent = through(curve("linear", [0, 1], [1, 5], [3, 2], [4, 9]), x);
    for (const at of [0.25, 0.75, 1.5, 2.5, 3.25]) {
      const { right, branches } = turned(bent, at, 0);
      expect(branches.tapes.length).toBe(3);
      expect(branches.check).toBe(true);
      expect(Math.min(...right.map((each) => Math.abs(each - at)))).toBeLessThan(1e-12);
    }
    const rising = turned(through(curve("linear", [0, 1], [2, 5]), x), 1.5, 0);
    expect([rising.branches.check, rising.found]).toEqual([false, [1.5]]);
    const rows = through(curve("exact", [1, 7], [2, 8], [3, 7], [4, 7]), x);
    expect(turned(rows, 3, 0).right).toEqual([1, 3, 4]);
    expect(turned(rows, 2, 0).right).toEqual([2]);
  });

  test("one that stays the same, or leaps, is not", () => {
    const cannot = (table: LookupCurve) =>
      expect(branchesFor({ left: through(table, x), right: y, slots: 2 }, 0)).toBeUndefined();
    cannot(curve("linear", [0, 1], [1, 1], [2, 3]));
    cannot(curve("linear", [0, 1]));
    cannot(curve("linear", [0, 1], [1, Number.NaN]));
    cannot(curve("step", [0, 1], [1, 2]));
    // More stretches than are told apart.
    const teeth = (count: number) =>
      curve("linear", ...Array.from({ length: count + 1 }, (_, i) => [i, i % 2] as const));
    expect(branchesFor({ left: through(teeth(24), x), right: y, slots: 2 }, 0)?.tapes.length).toBe(
      24,
    );
    cannot(teeth(25));
  });
});

describe("what cannot be turned round", () => {
  test.each([
    ["x twice", add(x, mul(x, 2))],
    ["x⁰", pow(x, 0)],
    ["rounded", call("round", x)],
    ["floored in a sum", add(1, call("floor", x))],
    ["only in a condition", choice(compare(x, ">", 1), y, k)],
    ["a call of nothing", call("abs")],
  ] as const)("%s", (_, f) => {
    expect(branchesFor({ left: f, right: k, slots: 3 }, 0)).toBeUndefined();
  });

  test("what is not there", () => {
    expect(branchesFor({ left: y, right: k, slots: 3 }, 0)).toBeUndefined();
    expect(branchesFor({ left: x, right: x, slots: 3 }, 0)).toBeUndefined();
  });
});
