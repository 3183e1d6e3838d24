/** The engine's smaller parts: turning round, pairing off, components, matrices, roots. */
import fc from "fast-check";
import { lusolve, matrix, multiply, norm, transpose } from "mathjs";
import { expect, test } from "vitest";
import { stronglyConnected } from "../../server/solve/components";
import { evaluate } from "../../server/solve/evaluate";
import { choice, type Expression } from "../../server/solve/expression";
import { factsOf } from "../../server/solve/form";
import { branchesFor } from "../../server/solve/isolate";
import {
  dependentRows,
  factor,
  nullSpace,
  solveTransposed,
  solveWith,
} from "../../server/solve/linear";
import { Matching } from "../../server/solve/matching";
import { add, call, compare, div, mul, neg, of, pow, sub } from "./build";

const slot = (index: number): Expression => ({ op: "slot", index });

function branchValues(left: Expression, right: Expression, slots: number, ...values: number[]) {
  const branches = branchesFor({ left, right, slots }, 0);
  return branches?.tapes.map((tape) =>
    evaluate(tape, Float64Array.from(values), [...values.keys()]),
  );
}

test.each<[string, Expression, number]>([
  ["sum", add(3, slot(0)), 4],
  ["difference", sub(3, slot(0)), 10],
  ["product", mul(2, slot(0)), 8],
  ["quotient", div(slot(0), 4), 2],
  ["divisor", div(12, slot(0)), 4],
  ["negation", neg(slot(0)), -5],
  ["cube", pow(slot(0), 3), -27],
  ["exponent", pow(2, slot(0)), 8],
  ["root", call("sqrt", add(slot(0), 1)), 3],
  ["logarithm", call("log", slot(0)), 2],
  ["exponential", call("exp", slot(0)), 2],
  ["arc sine", call("asin", slot(0)), 0.3],
  ["angle of two", call("atan2", slot(0), 2), 0.4],
])("a %s is turned round to one answer that satisfies it", (_, left, target) => {
  const values = branchValues(left, slot(1), 2, Number.NaN, target)!;
  expect(values).toHaveLength(1);
  const forward = branchesFor({ left: slot(1), right: left, slots: 2 }, 1)!;
  const put = evaluate(forward.tapes[0]!, Float64Array.of(values[0]!, Number.NaN), [0, 1]);
  expect(put).toBeCloseTo(target, 12);
});

test("squares, magnitudes and sines have several branches", () => {
  expect(branchValues(pow(slot(0), 2), slot(1), 2, Number.NaN, 9)).toEqual([3, -3]);
  expect(branchValues(call("abs", sub(slot(0), 1)), slot(1), 2, Number.NaN, 2)).toEqual([3, -1]);
  const sines = branchValues(call("sin", slot(0)), slot(1), 2, Number.NaN, 0.5)!;
  for (const angle of sines) expect(Math.sin(angle)).toBeCloseTo(0.5, 12);
  expect(new Set(sines.map((angle) => angle.toFixed(9))).size).toBe(6);
});

test("a table is read backwards, one that turns on each of its stretches", () => {
  const curve = (values: number[]) => ({
    name: "c",
    method: "linear" as const,
    keys: [0, 1, 2],
    values,
  });
  const through = (values: number[]): Expression => ({
    op: "lookup",
    curve: curve(values),
    of: slot(0),
  });
  expect(branchValues(through([9, 4, 1]), slot(1), 2, Number.NaN, 2.5)).toEqual([1.5]);
  expect(branchValues(through([1, 4, 1]), slot(1), 2, Number.NaN, 2.5)).toEqual([0.5, 1.5]);
});

test("what stands twice, in a condition or under rounding is not turned round", () => {
  expect(branchesFor({ left: mul(slot(0), slot(0)), right: of(4), slots: 1 }, 0)).toBeUndefined();
  const inCondition = choice(compare(slot(0), ">", 1), of(2), of(3));
  expect(branchesFor({ left: inCondition, right: slot(1), slots: 2 }, 0)).toBeUndefined();
});

test("which slots an equation can settle, and in which it is a straight line", () => {
  const facts = (left: Expression) => factsOf({ left, right: slot(1), slots: 2 }).slots[0]!;
  const about = (left: Expression) => [facts(left).determines, facts(left).straight];
  expect(about(call("round", slot(0)))).toEqual([false, false]);
  expect(about(add(call("round", slot(0)), slot(0)))).toEqual([true, false]);
  expect(about(choice(compare(slot(0), ">", 1), of(2), of(3)))).toEqual([false, false]);
  expect(about(add(mul(3, slot(0)), div(slot(0), 2)))).toEqual([true, true]);
  expect(about(mul(slot(0), add(slot(0), 1)))).toEqual([true, false]);
  expect(about(div(1, slot(0)))).toEqual([true, false]);
  expect(about(pow(slot(0), 2))).toEqual([true, false]);
  expect(about(neg(sub(1, slot(0))))).toEqual([true, true]);
});

test("a sum of ten thousand terms is turned round at once", () => {
  let sum = slot(1);
  for (let i = 2; i < 10_000; i++) sum = add(sum, slot(i));
  const since = process.cpuUsage();
  const form = { left: slot(0), right: sum, slots: 10_000 };
  expect(factsOf(form).slots[5000]!.straight).toBe(true);
  const [tape] = branchesFor(form, 5000)!.tapes;
  const values = new Float64Array(10_000).fill(1);
  values[0] = 12_345;
  expect(evaluate(tape!, values, [...values.keys()])).toBe(12_345 - 9998);
  expect(process.cpuUsage(since).user / 1000).toBeLessThan(1500);
});

const edgesArbitrary = fc.array(fc.uniqueArray(fc.nat(6), { maxLength: 4 }), { maxLength: 7 });

function mostPairs(
  edges: readonly (readonly number[])[],
  from = 0,
  taken = new Set<number>(),
): number {
  if (from === edges.length) return 0;
  let best = mostPairs(edges, from + 1, taken);
  for (const unknown of edges[from]!) {
    if (taken.has(unknown)) continue;
    taken.add(unknown);
    best = Math.max(best, 1 + mostPairs(edges, from + 1, taken));
    taken.delete(unknown);
  }
  return best;
}

test("pairing off finds as many pairs as trying everything does, and keeps the earlier ones", () => {
  fc.assert(
    fc.property(edgesArbitrary, (edges) => {
      const matching = new Matching(edges.length, 7);
      const admitted = edges.map((unknowns, equation) => matching.admit(equation, unknowns));
      expect(admitted.filter(Boolean)).toHaveLength(mostPairs(edges));
      edges.forEach((unknowns, equation) => {
        const unknown = matching.unknownOf[equation]!;
        expect(unknown >= 0).toBe(admitted[equation]);
        // Admitted exactly when the rank of all up to it grows by it.
        const grows = mostPairs(edges.slice(0, equation + 1)) > mostPairs(edges.slice(0, equation));
        expect(admitted[equation]).toBe(grows);
        if (unknown >= 0) {
          expect(unknowns).toContain(unknown);
          expect(matching.equationOf[unknown]).toBe(equation);
        }
      });
    }),
    { numRuns: 300 },
  );
});

test("strongly connected components come after what they lead to", () => {
  const next: Record<number, number[]> = { 0: [1], 1: [2], 2: [0, 3], 3: [4], 4: [3], 5: [0] };
  const components = stronglyConnected([0, 1, 2, 3, 4, 5], 6, (node) => next[node]!);
  expect(components.map((members) => [...members].sort())).toEqual([[3, 4], [0, 1, 2], [5]]);
});

const squareArbitrary = fc.integer({ min: 1, max: 6 }).chain((size) =>
  fc.record({
    size: fc.constant(size),
    entries: fc.array(fc.integer({ min: -9, max: 9 }), {
      minLength: size * size,
      maxLength: size * size,
    }),
    right: fc.array(fc.integer({ min: -9, max: 9 }), { minLength: size, maxLength: size }),
  }),
);

test("linear systems agree with a mathematics library", () => {
  fc.assert(
    fc.property(squareArbitrary, ({ size, entries, right }) => {
      const factors = factor(Float64Array.from(entries), size);
      fc.pre(factors.smallestPivot > 1e-6);
      const rows = Array.from({ length: size }, (_, i) => entries.slice(i * size, (i + 1) * size));
      const theirs = (lusolve(rows, right) as number[][]).map((row) => row[0]!);
      solveWith(factors, right).forEach((x, i) => {
        expect(Math.abs(x - theirs[i]!)).toBeLessThan(1e-8 * (1 + Math.abs(theirs[i]!)));
      });
      const turned = (
        lusolve(transpose(matrix(rows)).toArray() as number[][], right) as number[][]
      ).map((row) => row[0]!);
      solveTransposed(factors, right).forEach((x, i) => {
        expect(Math.abs(x - turned[i]!)).toBeLessThan(1e-8 * (1 + Math.abs(turned[i]!)));
      });
    }),
    { numRuns: 200 },
  );
});

test("rows that depend on earlier ones are found with their weights, and null spaces are null", () => {
  const entries = Float64Array.of(1, 1, 0, 0, 1, 1, 1, 2, 1);
  const found = dependentRows(entries, 3, 3);
  expect(found.map(({ row }) => row)).toEqual([2]);
  expect([...found[0]!.weights]).toEqual([-1, -1, 1]);
  const { basis, count } = nullSpace(entries, 3, 3);
  expect(count).toBe(1);
  const image = multiply(
    [
      [1, 1, 0],
      [0, 1, 1],
      [1, 2, 1],
    ],
    [...basis],
  );
  expect(norm(image as number[])).toBe(0);
});
