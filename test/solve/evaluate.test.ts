import fc from "fast-check";
import { derivative, parse } from "mathjs";
import { expect, test } from "vitest";
import { differentiate } from "../../server/solve/differentiate";
import { evaluate, lookUp } from "../../server/solve/evaluate";
import { choice, type Expression, type LookupCurve } from "../../server/solve/expression";
import { conditionTapeOf, tapeOf } from "../../server/solve/tape";
import { call, compare, div, mul, of, pow, sub } from "./build";

const slot = (index: number): Expression => ({ op: "slot", index });
const valueAt = (expression: Expression, ...slots: number[]): number =>
  evaluate(tapeOf(expression), Float64Array.from(slots), [...slots.keys()]);

function gradientAt(expression: Expression, ...slots: number[]): number[] {
  const tape = tapeOf(expression);
  evaluate(tape, Float64Array.from(slots), [...slots.keys()]);
  differentiate(tape, [1]);
  return slots.map((_, index) => {
    const at = tape.slotIndices.indexOf(index);
    return at < 0 ? 0 : tape.adjoint[tape.slotPositions[at]!]!;
  });
}

test.each([
  ["round", 2.5, undefined, 3],
  ["round", -2.5, undefined, -3],
  ["round", 0.30000000001, 0.1, 0.3],
  ["floor", 2.999999999999, undefined, 3],
  ["floor", 2.99, undefined, 2],
  ["ceil", 3.000000000001, undefined, 3],
  ["ceil", 0.51, 0.25, 0.75],
  ["floor", 5, 0, Number.NaN],
] as const)("%s of %d by steps of %s is %d", (name, value, step, wanted) => {
  const result = valueAt(step === undefined ? call(name, value) : call(name, value, step));
  if (Number.isNaN(wanted)) expect(result).toBeNaN();
  else expect(result).toBeCloseTo(wanted, 12);
});

test("what is not defined is NaN and nothing else", () => {
  expect(valueAt(div(1, 0))).toBeNaN();
  expect(valueAt(div(0, 0))).toBeNaN();
  expect(valueAt(call("sqrt", -1))).toBeNaN();
  expect(valueAt(call("log", 0))).toBeNaN();
  expect(valueAt(call("exp", 1e9))).toBeNaN();
  expect(valueAt(pow(0, -1))).toBeNaN();
  expect(valueAt(call("min"))).toBeNaN();
});

test("comparisons forgive rounding, and conditions that cannot be told are neither", () => {
  const truth = (condition: Parameters<typeof conditionTapeOf>[0], ...slots: number[]): number =>
    evaluate(conditionTapeOf(condition), Float64Array.from(slots), [...slots.keys()]);
  expect(0.1 + 0.2 <= 0.3).toBe(false);
  expect(truth(compare(0.1 + 0.2, "<=", 0.3))).toBe(1);
  expect(truth(compare(0.1 + 0.2, ">", 0.3))).toBe(0);
  expect(truth(compare(1, "<", 2))).toBe(1);
  const unknown = compare(slot(0), ">", 0);
  expect(truth(unknown, Number.NaN)).toBeNaN();
  expect(truth({ op: "and", left: unknown, right: compare(1, ">", 2) }, Number.NaN)).toBe(0);
  expect(truth({ op: "or", left: unknown, right: compare(2, ">", 1) }, Number.NaN)).toBe(1);
  expect(truth({ op: "not", of: unknown }, Number.NaN)).toBeNaN();
});

test("the branch that is not taken cannot spoil value or derivative", () => {
  const guarded = choice(compare(slot(0), ">", 0), call("sqrt", slot(0)), of(0));
  expect(valueAt(guarded, -4)).toBe(0);
  expect(gradientAt(guarded, -4)).toEqual([0]);
  expect(gradientAt(guarded, 4)).toEqual([0.25]);
});

test("tables: straight lines, points, steps", () => {
  const curve = (method: LookupCurve["method"]): LookupCurve => ({
    name: "t",
    method,
    keys: [1, 2, 4],
    values: [10, 20, 0],
  });
  expect(lookUp(curve("linear"), 1.5)).toBe(15);
  expect(lookUp(curve("linear"), 3)).toBe(10);
  expect(lookUp(curve("linear"), 4)).toBe(0);
  expect(lookUp(curve("linear"), 4.1)).toBeNaN();
  expect(lookUp(curve("linear"), 0.9)).toBeNaN();
  expect(lookUp(curve("exact"), 2 + 1e-12)).toBe(20);
  expect(lookUp(curve("exact"), 2 - 1e-12)).toBe(20);
  expect(lookUp(curve("exact"), 3)).toBeNaN();
  expect(lookUp(curve("step"), 3.999)).toBe(20);
  expect(lookUp(curve("step"), 4 - 1e-12)).toBe(0);
  expect(lookUp({ name: "none", method: "step", keys: [], values: [] }, 1)).toBeNaN();
  expect(gradientAt({ op: "lookup", curve: curve("linear"), of: slot(0) }, 3)).toEqual([-10]);
  // At its last point it is as steep as it comes there.
  expect(gradientAt({ op: "lookup", curve: curve("linear"), of: slot(0) }, 4)).toEqual([-10]);
  expect(gradientAt({ op: "lookup", curve: curve("linear"), of: slot(0) }, 1)).toEqual([10]);
});

test("a sum of twenty thousand terms does not exhaust the stack", () => {
  let sum: Expression = of(0);
  for (let i = 0; i < 20_000; i++) sum = { op: "add", left: sum, right: slot(0) };
  expect(valueAt(sum, 2)).toBe(40_000);
  expect(gradientAt(sum, 2)).toEqual([20_000]);
});

// Symbolic derivatives by mathjs, an independent library.
const formulas: readonly [string, (x: Expression, y: Expression) => Expression][] = [
  ["x * y - x / y", (x, y) => sub(mul(x, y), div(x, y))],
  ["x ^ 3 * y ^ (-2)", (x, y) => mul(pow(x, 3), pow(y, -2))],
  ["x ^ y", (x, y) => pow(x, y)],
  ["sqrt(x) * exp(-y)", (x, y) => mul(call("sqrt", x), call("exp", sub(0, y)))],
  ["log(x) * sin(y)", (x, y) => mul(call("log", x), call("sin", y))],
  ["cos(x) / tan(y)", (x, y) => div(call("cos", x), call("tan", y))],
  [
    "asin(x / 9) + acos(y / 9)",
    (x, y) => sub(call("asin", div(x, 9)), sub(0, call("acos", div(y, 9)))),
  ],
  ["atan(x * y)", (x, y) => call("atan", mul(x, y))],
];

test.each(formulas)("derivatives of %s agree with an algebra library", (text, make) => {
  const expression = make(slot(0), slot(1));
  const node = parse(text);
  fc.assert(
    fc.property(
      fc.double({ min: 0.2, max: 4, noNaN: true }),
      fc.double({ min: 0.2, max: 4, noNaN: true }),
      (x, y) => {
        const [byX, byY] = gradientAt(expression, x, y);
        const at = { x, y };
        expect(valueAt(expression, x, y)).toBeCloseTo(Number(node.evaluate(at)), 9);
        for (const [name, own] of [
          ["x", byX],
          ["y", byY],
        ] as const) {
          const wanted = Number(derivative(node, name).evaluate(at));
          expect(Math.abs(own! - wanted)).toBeLessThanOrEqual(1e-10 * (1 + Math.abs(wanted)));
        }
      },
    ),
    { numRuns: 60 },
  );
});

test("at a kink the derivative is that of the branch taken", () => {
  expect(gradientAt(call("min", slot(0), slot(1)), 1, 2)).toEqual([1, 0]);
  expect(gradientAt(call("max", slot(0), slot(1)), 1, 2)).toEqual([0, 1]);
  expect(gradientAt(call("abs", slot(0)), -3)).toEqual([-1]);
  expect(gradientAt(call("atan2", slot(0), slot(1)), 1, 1)).toEqual([0.5, -0.5]);
  expect(gradientAt(call("round", slot(0)), 1.2)).toEqual([0]);
});
