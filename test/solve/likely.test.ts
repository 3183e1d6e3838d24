/**
 * What is likely, against published examples of uncertainty: JCGM 101:2008, Evaluation of measurement
 * data, Supplement 1 to the GUM, and against plain sampling with another generator.
 */
import { describe, expect, test } from "vitest";
import { chanceOf, spreadOf } from "../../server/solve";
import { DRAWS, drawsOf } from "../../server/solve/draws";
import { wilson } from "../../server/solve/likely";
import { reachOf } from "../../server/solve/ranges";
import { Sampled } from "../../server/solve/sampled";
import { solve } from "../../server/solve/solve";
import type { Distribution, GivenNumber } from "../../server/solve/system";
import { add, call, compare, div, type Givens, mul, SystemBuilder, type Term } from "./build";
import { randoms } from "./random-systems";

function given(half: number, distribution?: Distribution, together?: string): GivenNumber {
  return {
    value: 0,
    low: -half,
    high: half,
    rounding: 0,
    ...(distribution === undefined ? {} : { distribution }),
    ...(together === undefined ? {} : { together }),
  };
}

function spread(givens: Givens, term: Term) {
  const builder = new SystemBuilder().given(givens).equation("y", "y", term);
  return spreadOf(solve(builder.system()), builder.quantity("y"))!;
}

const four = (one: GivenNumber) => ({ x1: one, x2: one, x3: one, x4: one });
const sum = add("x1", "x2", "x3", "x4");

describe("JCGM 101:2008, 9.2: an additive model", () => {
  // 9.2.2: four normal inputs of standard deviation 1 give 2.0; limits stand for three deviations.
  test("four normal ones: twice the deviation of one", () => {
    const { rss, draws } = spread(four(given(3)), sum);
    expect(draws).toBe(0);
    expect(rss / 3).toBeCloseTo(2, 12);
  });

  // 9.2.3: four rectangular ones of standard deviation 1, half width √3; the 95 % interval is ±3.88.
  test("four rectangular ones: 95 % lie within 3.88", () => {
    const one = given(Math.sqrt(3), "uniform");
    const builder = new SystemBuilder().given(four(one)).equation("y", "y", sum);
    const solution = solve(builder.system());
    const within = builder.claim(compare(call("abs", "y"), "<=", 3.88));
    expect(chanceOf(solution, within)!.share).toBeCloseTo(0.95, 2);
    expect(spreadOf(solution, builder.quantity("y"))!.draws).toBeGreaterThan(0);
  });
});

describe("draws", () => {
  test("have the mean and deviation of what they are drawn from", () => {
    const about = (distribution: Distribution): readonly [number, number] => {
      const draws = drawsOf("a figure", given(1, distribution));
      const mean = draws.reduce((total, each) => total + each, 0) / draws.length;
      const square = draws.reduce((total, each) => total + each * each, 0) / draws.length;
      return [mean, Math.sqrt(square - mean * mean)];
    };
    // Half width over the deviation: 3 less what is cut off, √6, √3 (JCGM 101, table 1).
    for (const [distribution, deviation] of [
      ["normal", 1 / 3.04],
      ["triangular", 1 / Math.sqrt(6)],
      ["uniform", 1 / Math.sqrt(3)],
    ] as const) {
      const [mean, found] = about(distribution);
      expect(mean).toBeCloseTo(0, 3);
      expect(found).toBeCloseTo(deviation, 2);
    }
  });

  test("of one name are the same whatever else there is", () => {
    expect(drawsOf("a", given(1))).toEqual(drawsOf("a", given(1)));
    expect(drawsOf("a", given(1))).not.toEqual(drawsOf("b", given(1)));
  });
});

describe("a quantity at the draws", () => {
  // Worked out here by itself, draw by draw.
  const cases: [string, Term, (x: number, z: number) => number][] = [
    ["bent", mul("x", "x", "z"), (x, z) => x * x * z],
    ["kinked", call("max", "x", mul(2, "z")), (x, z) => Math.max(x, 2 * z)],
    ["with a pole", div(1, add("x", 1.5)), (x) => 1 / (x + 1.5)],
    ["without a value here and there", call("sqrt", add("x", 0.5)), (x) => Math.sqrt(x + 0.5)],
  ];
  for (const [what, term, plainly] of cases) {
    test(`${what}: the outermost and the share above a limit are those of all draws`, () => {
      const givens = { x: given(1), z: given(0.8, "uniform") };
      const builder = new SystemBuilder().given(givens).equation("y", "y", term);
      const solution = solve(builder.system());
      const quantity = builder.quantity("y");
      const [xs, zs] = [drawsOf("x", givens.x), drawsOf("z", givens.z)];
      const all = [...xs].map((x, at) => plainly(x, zs[at]!));
      const sorted = Float64Array.from(all.filter((each) => !Number.isNaN(each))).sort();
      const sampled = new Sampled(solution, quantity, reachOf(solution, quantity)!);
      expect(sampled.count).toBe(sorted.length);
      for (const at of [0, 5, 40, sorted.length >> 1, sorted.length - 7, sorted.length - 2]) {
        const [below, above] = sampled.between(at, at + 1);
        expect(below).toBeCloseTo(sorted[at]!, 11);
        expect(above).toBeCloseTo(sorted[at + 1]!, 11);
      }
      const limit = sorted[Math.floor(DRAWS / 7)]! + 1e-9;
      expect(sampled.above(limit, true)).toBe(all.filter((each) => each > limit).length);
      // One of them lies at its own value, neither above nor below.
      const at = sorted.length >> 2;
      const [own] = sampled.between(at, at + 1);
      expect(sampled.above(own, true)).toBe(sorted.length - at - 1);
      expect(sampled.above(own, false)).toBe(sorted.length - at);
    });
  }
});

describe("tolerances that move together", () => {
  test("add up where they point the same way, and cancel where they do not", () => {
    const both = { x: given(1, undefined, "jig"), z: given(1, undefined, "jig") };
    expect(spread(both, add("x", "z")).rss).toBeCloseTo(2, 12);
    expect(spread(both, add("x", mul(-1, "z"))).rss).toBeCloseTo(0, 12);
    const apart = { x: given(1), z: given(1) };
    expect(spread(apart, add("x", "z")).rss).toBeCloseTo(Math.SQRT2, 12);
  });

  test("in draws too", () => {
    const both = { x: given(1, "uniform", "tape"), z: given(1, "uniform", "tape") };
    expect(spread(both, add("x", "z")).rss).toBeCloseTo(2 * 0.9973, 2);
    expect(spread(both, add("x", mul(-1, "z"))).rss).toBeLessThan(1e-9);
  });
});

describe("bent formulas", () => {
  test("a square: the 99.73 % of a squared normal, and never beyond the worst case", () => {
    const { rss, shift, worstAbove, worstBelow } = spread({ x: given(3) }, mul("x", "x"));
    // χ² of one degree: 0.00135 and 0.99865 quantiles of a normal cut off at three deviations.
    expect(shift + rss).toBeLessThanOrEqual(worstAbove);
    expect(shift - rss).toBeGreaterThanOrEqual(-worstBelow);
    expect(shift + rss).toBeGreaterThan(8.2);
  });

  test("the chance that a check holds, against 100,000 plain draws", () => {
    const random = randoms(12345);
    let held = 0;
    for (let i = 0; i < 100_000; i++) {
      const [x, z] = [2 * random() - 1, 2 * random() - 1];
      if (Math.max(x, z * z) <= 0.6) held++;
    }
    const builder = new SystemBuilder().given({ x: given(1, "uniform"), z: given(1, "uniform") });
    builder.equation("y", "y", call("max", "x", mul("z", "z")));
    const claim = builder.claim(compare("y", "<=", 0.6));
    const chance = chanceOf(solve(builder.system()), claim)!;
    const plain = held / 100_000;
    expect(chance.low - 0.004).toBeLessThan(plain);
    expect(chance.high + 0.004).toBeGreaterThan(plain);
  });

  // R. G. Newcombe, Statistics in Medicine 17 (1998), table I: 81 of 263, method 3.
  test("Wilson's interval", () => {
    const { low, high } = wilson(81, 263);
    expect([low, high]).toEqual([expect.closeTo(0.2553, 4), expect.closeTo(0.3662, 4)]);
  });
});
