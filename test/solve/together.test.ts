/** Tolerances that move together, in the worst case: against all places of the one number that moves them. */
import { describe, expect, test } from "vitest";
import { type GivenNumber, type Quantity, solve, spreadOf, verdictOf } from "../../server/solve";
import { rangesOver } from "../../server/solve/ranges";
import { chainOf } from "../bench/scale";
import { add, compare, mul, SystemBuilder, sub, within } from "./build";

const jig = (value: number, below: number, above = below, name = "jig"): GivenNumber => ({
  ...within(value, below, above),
  together: name,
});

/** How far below and above its nominal value a quantity comes, drawn densely. */
function drawn(formula: (t: number, u: number) => number, at = 0): readonly [number, number] {
  const nominal = formula(at, 0);
  let [below, above] = [0, 0];
  for (let i = -200; i <= 200; i++) {
    for (let j = -20; j <= 20; j++) {
      const off = formula(i / 200, j / 20) - nominal;
      below = Math.max(below, -off);
      above = Math.max(above, off);
    }
  }
  return [below, above];
}

describe("the worst case of what moves together", () => {
  const spread = (givens: Record<string, GivenNumber>, of: ReturnType<typeof add>) => {
    const builder = new SystemBuilder();
    builder.given(givens);
    builder.equation("it", "whole", of);
    const solution = solve(builder.system());
    const whole = builder.index("whole");
    return spreadOf(solution, { expression: { op: "slot", index: 0 }, variables: [whole] })!;
  };

  test.each([
    ["a sum", add("a", "b"), (t: number) => 3 + 0.1 * t + (7 + 0.2 * t)],
    ["a difference", sub("a", "b"), (t: number) => 3 + 0.1 * t - (7 + 0.2 * t)],
    ["a product", mul("a", "b"), (t: number) => (3 + 0.1 * t) * (7 + 0.2 * t)],
    [
      "a product of what lies about nothing",
      mul(sub("a", 3), sub("b", 7)),
      (t: number) => 0.1 * t * 0.2 * t,
    ],
    [
      "beside another",
      add(mul("a", "b"), "c"),
      (t: number, u: number) => (3 + 0.1 * t) * (7 + 0.2 * t) + 1 + 0.05 * u,
    ],
  ] as const)("%s", (_, of, formula) => {
    const found = spread({ a: jig(3, 0.1), b: jig(7, 0.2), c: within(1, 0.05) }, of);
    const [below, above] = drawn(formula);
    expect(found.worstBelow).toBeGreaterThanOrEqual(below - 1e-12);
    expect(found.worstAbove).toBeGreaterThanOrEqual(above - 1e-12);
    expect(found.worstBelow).toBeLessThanOrEqual(below * 1.01 + 1e-9);
    expect(found.worstAbove).toBeLessThanOrEqual(above * 1.01 + 1e-9);
    expect(found.below.known).toBe("proved");
  });

  test("what is equal in both takes itself away", () => {
    const found = spread({ a: jig(3, 0.1), b: jig(7, 0.1) }, sub("b", "a"));
    expect(found.worstBelow).toBeCloseTo(0, 12);
    expect(found.worstAbove).toBeCloseTo(0, 12);
  });

  test("lopsided alike they move as one, else by themselves", () => {
    const alike = spread({ a: jig(3, 0, 0.1), b: jig(7, 0, 0.2) }, sub("b", "a"));
    expect(alike.worstAbove).toBeCloseTo(0.1, 9);
    expect(alike.worstBelow).toBeCloseTo(0, 9);
    const apart = spread({ a: jig(3, 0, 0.1), b: jig(7, 0.2, 0) }, sub("b", "a"));
    expect(apart.worstBelow).toBeCloseTo(0.3, 9);
    const named = spread({ a: jig(3, 0.1), b: jig(7, 0.1, 0.1, "tape") }, sub("b", "a"));
    expect(named.worstAbove).toBeCloseTo(0.2, 9);
  });

  test("a check that would fail if each went its own way holds, and the witness of one that fails places all", () => {
    const builder = new SystemBuilder();
    builder.given({ a: jig(3, 0.1), b: jig(7, 0.2) });
    const solution = solve(builder.system());
    const claim = (least: number) => builder.claim(compare(sub("b", "a"), ">=", least));
    expect(verdictOf(solution, claim(3.9)).worst).toBe("holds");
    const failing = verdictOf(solution, claim(3.91));
    expect(failing.worst).toBe("fails");
    expect(failing.witness?.get(builder.index("a"))).toBeCloseTo(2.9, 9);
    expect(failing.witness?.get(builder.index("b"))).toBeCloseTo(6.8, 9);
  });
});

test("the slopes of a long chain are kept by what each link adds, and told when asked", () => {
  const length = 3000;
  const solution = solve(chainOf(length));
  const { pass } = rangesOver(solution);
  const kept = pass.rows.reduce((sum, row) => sum + (row?.kept ?? 0), 0);
  // One for each given; written out for each figure it would be four and a half million.
  expect(kept).toBe(length + 1);
  const last: Quantity = { expression: { op: "slot", index: 0 }, variables: [2 * length] };
  const spread = spreadOf(solution, last)!;
  expect(spread.worstAbove).toBeCloseTo((length + 1) * 1e-5, 12);
  expect(spread.rss).toBeCloseTo(Math.sqrt(length + 1) * 1e-5, 12);
  expect(spread.above.at.size).toBe(length + 1);
  expect(spread.contributors).toHaveLength(length + 1);
});
