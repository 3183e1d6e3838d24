/**
 * In how many builds a check holds, against distributions in closed form, and what is likely beside
 * the worst case.
 */
import { describe, expect, test } from "vitest";
import { spreadOf } from "../../server/solve";
import type { Condition } from "../../server/solve/expression";
import { solve } from "../../server/solve/solve";
import type { GivenNumber } from "../../server/solve/system";
import { chanceOf } from "../../server/solve/verdict";
import {
  add,
  call,
  compare,
  div,
  type Givens,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";
import { randoms } from "./random-systems";

describe("in how many builds a check holds, against distributions in closed form", () => {
  const uniform = (value: number, by: number): GivenNumber => ({
    ...within(value, by),
    distribution: "uniform",
  });
  const triangular = (value: number, by: number): GivenNumber => ({
    ...within(value, by),
    distribution: "triangular",
  });
  const cases: readonly [string, Givens, Condition, number][] = [
    ["one rectangle", { a: uniform(0, 1) }, compare("a", "<=", 0.3), 0.65],
    ["one triangle", { a: triangular(0, 1) }, compare("a", "<=", 0.5), 1 - 0.5 * 0.5 ** 2],
    // Irwin and Hall: the sum of two rectangles is a triangle.
    [
      "two rectangles",
      { a: uniform(0, 1), b: uniform(0, 1) },
      compare(add("a", "b"), "<=", 1),
      1 - 0.5 * 0.5 ** 2,
    ],
    // Of three from 0 to 1: 1 − x³/6 with x the rest to 3.
    [
      "three rectangles",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5), c: uniform(0.5, 0.5) },
      compare(add("a", "b", "c"), "<=", 2.2),
      1 - 0.8 ** 3 / 6,
    ],
    // P(ab ≤ z) of two from 0 to 1 is z − z ln z.
    [
      "a product of rectangles",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      compare(mul("a", "b"), "<=", 0.4),
      0.4 - 0.4 * Math.log(0.4),
    ],
    [
      "a quotient of rectangles",
      { a: uniform(0.5, 0.5), b: uniform(1.5, 0.5) },
      compare(div("a", "b"), "<=", 0.4),
      0.4 * 1.5,
    ],
    // The greater of two: the square of one's.
    [
      "the greater of two",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      compare(call("max", "a", "b"), "<=", 0.7),
      0.49,
    ],
    [
      "the less of two",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      compare(call("min", "a", "b"), "<=", 0.7),
      1 - 0.09,
    ],
    [
      "how far two are apart",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      compare(call("abs", sub("a", "b")), "<=", 0.25),
      1 - 0.75 ** 2,
    ],
    ["a square", { a: uniform(0, 1) }, compare(pow("a", 2), "<=", 0.36), 0.6],
    [
      "both of two",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      { op: "and", left: compare("a", "<=", 0.8), right: compare("b", ">=", 0.1) },
      0.72,
    ],
    [
      "either of two",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      { op: "or", left: compare("a", "<=", 0.8), right: compare("b", ">=", 0.9) },
      1 - 0.2 * 0.9,
    ],
    // One standard deviation of four that add up to three: normal tables.
    [
      "four normal ones",
      { a: within(0, 0.3), b: within(0, 0.3), c: within(0, 0.3), d: within(0, 0.3) },
      compare(add("a", "b", "c", "d"), "<=", 0.2),
      0.8413,
    ],
    [
      "a lopsided one",
      { a: { ...within(1, 0, 1), distribution: "uniform" } },
      compare("a", "<=", 1.9),
      0.9,
    ],
  ];
  test.each(cases)("%s", (_, givens, condition, share) => {
    const builder = new SystemBuilder().given(givens);
    const chance = chanceOf(solve(builder.system()), builder.claim(condition))!;
    expect(chance.share).toBeGreaterThan(share - 0.012);
    expect(chance.share).toBeLessThan(share + 0.012);
  });
});

describe("likely", () => {
  test("the chance of a sum of normal ones, against the normal distribution", () => {
    // Deviations 0.1 and 0.2 of three sigma: sigma √(0.1² + 0.2²) / 3; P by Abramowitz and Stegun 26.2.17.
    const system = new SystemBuilder().given({ a: within(1, 0.1), b: within(2, 0.2) });
    const sigma = Math.hypot(0.1, 0.2) / 3;
    for (const limit of [3.05, 3.1, 3.15]) {
      const claim = system.claim(compare(add("a", "b"), "<=", limit));
      const chance = chanceOf(solve(system.system()), claim)!;
      expect(chance.share).toBeCloseTo(phi((limit - 3) / sigma), 2);
    }
  });

  test("two that move together add up, two that do not by their squares", () => {
    const together = new SystemBuilder()
      .variable("a", { given: { ...within(1, 0.3), together: "jig" } })
      .variable("b", { given: { ...within(1, 0.4), together: "jig" } });
    const apart = new SystemBuilder().given({ a: within(1, 0.3), b: within(1, 0.4) });
    const rss = (builder: SystemBuilder, term: Term) =>
      spreadOf(solve(builder.system()), builder.quantity(term))!.rss;
    expect(rss(together, add("a", "b"))).toBeCloseTo(0.7, 9);
    expect(rss(apart, add("a", "b"))).toBeCloseTo(0.5, 9);
    expect(rss(together, sub("a", "b"))).toBeCloseTo(0.1, 9);
  });

  test("never exceeds the worst case, for bent, kinked and lopsided ones", () => {
    const random = randoms(5);
    const terms: readonly Term[] = [
      pow("a", 2),
      call("abs", sub("a", "b")),
      call("max", "a", "b", 1),
      div(1, add(2, mul("a", "b"))),
      call("exp", sub("a", "b")),
      call("sqrt", add(4, "a")),
    ];
    for (let i = 0; i < 60; i++) {
      const given = (): GivenNumber => {
        const value = random() * 2 - 1;
        return { value, low: value - random(), high: value + random() * 0.5, rounding: 0 };
      };
      const system = new SystemBuilder().given({ a: given(), b: given() });
      const solution = solve(system.system());
      const quantity = system.quantity(terms[i % terms.length]!);
      const spread = spreadOf(solution, quantity);
      if (spread === undefined) continue;
      expect(spread.shift + spread.rss).toBeLessThanOrEqual(spread.worstAbove + 1e-9);
      expect(spread.rss - spread.shift).toBeLessThanOrEqual(spread.worstBelow + 1e-9);
    }
  });
});

/** The normal distribution to 7.5e-8 (Abramowitz and Stegun 26.2.17). */
function phi(x: number): number {
  if (x < 0) return 1 - phi(-x);
  const t = 1 / (1 + 0.2316419 * x);
  const sum =
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return 1 - (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) * sum;
}
