/**
 * What figures that are solved together come to over tolerances, against closed forms: springs in a
 * row, whose inverse is known, in all sizes and units, and pairs whose answers can be written down.
 */
import { describe, expect, test } from "vitest";
import { spreadOf, verdictOf, withGivens } from "../../server/solve";
import { boundsOf } from "../../server/solve/bounds";
import { quantityValue } from "../../server/solve/sensitivity";
import { solve } from "../../server/solve/solve";
import {
  add,
  call,
  compare,
  exactly,
  type Givens,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";

/**
 * 2 xᵢ − xᵢ₋₁ − xᵢ₊₁ = fᵢ of n springs between two walls. The inverse has min(i, j) (n + 1 − max(i, j))
 * / (n + 1) at i, j (Meurant, SIAM J. Matrix Anal. Appl. 13 (1992), section 2).
 */
function springs(n: number, units: (i: number) => number = () => 1) {
  const builder = new SystemBuilder();
  for (let i = 1; i <= n; i++) builder.given({ [`f${i}`]: within(i % 3, 0.1) });
  for (let i = 1; i <= n; i++) builder.variable(`x${i}`, { scale: units(i) });
  const at = (i: number): Term => (i < 1 || i > n ? 0 : mul(1 / units(i), `x${i}`));
  for (let i = 1; i <= n; i++)
    builder.equation(`e${i}`, sub(mul(2, at(i)), at(i - 1), at(i + 1)), `f${i}`);
  const inverse = (i: number, j: number): number =>
    (Math.min(i, j) * (n + 1 - Math.max(i, j))) / (n + 1);
  const sum = (i: number, of: (entry: number, j: number) => number): number => {
    let total = 0;
    for (let j = 1; j <= n; j++) total += of(inverse(i, j), j);
    return total;
  };
  return { builder, solution: solve(builder.system()), sum };
}

describe("springs in a row", () => {
  const unit = (i: number): number => [1, 1000, 0.02][i % 3]!;

  test.each([
    [3, "proved", unit],
    [12, "proved", unit],
    [60, "proved", () => 1],
    [120, "proved", () => 1],
    [510, "found", () => 1],
  ] as const)(
    "%d of them: what moves each, all together, and by root sum square",
    (n, known, of) => {
      const { builder, solution, sum } = springs(n, of);
      for (const i of [1, n >> 1, n]) {
        const middle = of(i) * sum(i, (entry, j) => entry * (j % 3));
        const quantity = builder.quantity(`x${i}`);
        expect(quantityValue(solution, quantity)! / middle).toBeCloseTo(1, 9);
        const spread = spreadOf(solution, quantity)!;
        const worst = of(i) * 0.1 * sum(i, Math.abs);
        expect(spread.worstAbove / worst).toBeCloseTo(1, 6);
        expect(spread.worstBelow / worst).toBeCloseTo(1, 6);
        expect([spread.above.known, spread.below.known]).toEqual([known, known]);
        const likely = of(i) * 0.1 * Math.sqrt(sum(i, (entry) => entry ** 2));
        expect([spread.rss / likely, spread.draws]).toEqual([expect.closeTo(1, 6), 0]);
        expect(spread.shift / likely).toBeCloseTo(0, 6);
        expect(spread.partial).toBe(false);
      }
    },
  );

  test("the difference of two of them is worst where the loads between help", () => {
    const { builder, solution } = springs(6, unit);
    const quantity = builder.quantity(sub(mul(1 / unit(2), "x2"), mul(1 / unit(5), "x5")));
    const { least, most } = boundsOf(solution, quantity);
    for (const bound of [least, most]) {
      const there = new Map([...bound.at].map(([given, place]) => [given, exactly(place)]));
      const again = quantityValue(solve(withGivens(solution.system, there)), quantity)!;
      expect(again).toBeCloseTo(bound.found, 9);
      expect(bound.outer).toBeCloseTo(bound.found, 9);
    }
    expect(most.found - least.found).toBeGreaterThan(0.5);
  });

  test("a bent figure of straight ones is searched for", () => {
    // x₁ and x₂ of two springs are (2 f + g) / 3 and (f + 2 g) / 3: their product less the first.
    const { builder, solution } = springs(2);
    const { least, most } = boundsOf(
      solution,
      builder.quantity(sub(mul("x1", "x2"), mul(3, "x1"))),
    );
    let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 0; i <= 40; i++) {
      for (let j = 0; j <= 40; j++) {
        const [f, g] = [0.9 + i / 200, 1.9 + j / 200];
        const [one, two] = [(2 * f + g) / 3, (f + 2 * g) / 3];
        from = Math.min(from, one * two - 3 * one);
        to = Math.max(to, one * two - 3 * one);
      }
    }
    const room = 2e-3 * (to - from);
    expect(Math.abs(least.outer - from)).toBeLessThan(room);
    expect(Math.abs(most.outer - to)).toBeLessThan(room);
    expect([least.outer <= from + 1e-9, most.outer >= to - 1e-9]).toEqual([true, true]);
  });
});

describe("springs that stiffen", () => {
  // They give way more under more load, and less where they are stiffer.
  // Of dozens the proof is made again for what is pinned, and not for parts of the rest.
  test.each([
    [8, 1e-6],
    [55, 0.05],
  ])("%d of them: the worst is where all is for the worse", (n, room) => {
    const at = (i: number): Term => (i < 1 || i > n ? 0 : `x${i}`);
    const row = (rate: number, load: number, by: number) => {
      const builder = new SystemBuilder().given({ rate: within(rate, by), load: within(load, by) });
      for (let i = 1; i <= n; i++) {
        const apart = mul("rate", sub(mul(2, at(i)), at(i - 1), at(i + 1)));
        builder.variable(`x${i}`, { range: [-50, 50] });
        builder.equation(`e${i}`, add(apart, mul(0.1, pow(at(i), 3))), "load");
      }
      const solution = solve(builder.system());
      return { solution, quantity: builder.quantity("x3") };
    };
    const { solution, quantity } = row(1.5, 1, 0.05);
    const end = (rate: number, load: number): number => {
      const worst = row(rate, load, 0);
      return quantityValue(worst.solution, worst.quantity)!;
    };
    const [low, high] = [end(1.55, 0.95), end(1.45, 1.05)];
    const { least, most } = boundsOf(solution, quantity);
    expect(least.found).toBeCloseTo(low, 9);
    expect(most.found).toBeCloseTo(high, 9);
    const [below, above] = [(low - least.outer) / (high - low), (most.outer - high) / (high - low)];
    expect([below > -1e-9, above > -1e-9]).toEqual([true, true]);
    expect([below < room, above < room]).toEqual([true, true]);
    expect([least.loose, most.loose]).toEqual([false, false]);
  });
});

describe("a pair that is straight on one side only", () => {
  test("is not taken for straight on the other", () => {
    // x + y = a and x − y = |a|: x is what of a lies above 0, y what lies below.
    const builder = new SystemBuilder()
      .given({ a: within(1, 5, 0.5) })
      .equation("sum", add("x", "y"), "a")
      .equation("apart", sub("x", "y"), call("abs", "a"));
    const q = sub(add(pow("x", 2), pow("y", 2)), "x", mul(2, "y"));
    const { least, most } = boundsOf(solve(builder.system()), builder.quantity(q));
    // a² − 2a below 0, a² − a above: 24 at −4, −1/4 at 1/2.
    expect(most.outer).toBeCloseTo(24, 1);
    expect(most.found).toBeCloseTo(24, 1);
    expect(least.outer).toBeGreaterThan(-0.3);
    expect(least.found).toBeCloseTo(-0.25, 1);
    expect([least.loose, most.loose]).toEqual([false, false]);
  });
});

describe("where two answers meet", () => {
  // x + y = 4 and xy = p have x = 2 + √(4 − p); none beyond p = 4.
  const two = (to: number) => {
    const builder = new SystemBuilder()
      .given({ p: within(3, 1, to - 3) })
      .variable("x", { range: [2, 10] })
      .variable("y", { range: [-10, 10] })
      .equation("sum", add("x", "y"), 4)
      .equation("product", mul("x", "y"), "p");
    return boundsOf(solve(builder.system()), builder.quantity("x"));
  };

  test.each([3.5, 3.75, 4])("up to it all is proved: %d", (to) => {
    const { least, most, partial } = two(to);
    for (const x of [least.outer, least.found]) expect(x).toBeCloseTo(2 + Math.sqrt(4 - to), 2);
    for (const x of [most.outer, most.found]) expect(x).toBeCloseTo(2 + Math.SQRT2, 2);
    expect([least.loose, most.loose, partial]).toEqual([false, false, false]);
  });

  test("beyond it some places have no value, and what was found there is not called proved", () => {
    const { least, most, partial } = two(4.25);
    expect([least.loose, most.loose, partial]).toEqual([true, false, true]);
    expect(least.found).toBeGreaterThanOrEqual(2);
    expect(most.found).toBeCloseTo(2 + Math.SQRT2, 3);
    expect(most.outer).toBeCloseTo(2 + Math.SQRT2, 3);
  });
});

describe("what a pair takes in", () => {
  // x = (2 s + 1) / 3.
  const pair = (of: Givens) => {
    const builder = new SystemBuilder()
      .given(of)
      .equation("first", "s", call("sqrt", "a"))
      .equation("sum", add("x", "y"), "s")
      .equation("apart", sub("x", mul(2, "y")), 1);
    const solution = solve(builder.system());
    const worst = (limit: number) =>
      verdictOf(solution, builder.claim(compare("x", ">=", limit))).worst;
    return { told: spreadOf(solution, builder.quantity("x"))!, worst };
  };

  test("has no value where that has none, and nothing holds there for sure", () => {
    const { told, worst } = pair({ a: within(1, 2, 3) });
    expect(told.partial).toBe(true);
    expect(told.worstAbove).toBeCloseTo(2 / 3, 2);
    expect([worst(-100), worst(0.5)]).toEqual(["fails", "fails"]);
  });

  test("has one all over where that has", () => {
    const { told, worst } = pair({ a: within(1, 0.75, 3) });
    expect([told.partial, told.above.known]).toEqual([false, "proved"]);
    expect(told.worstBelow).toBeCloseTo(1 / 3, 2);
    expect(told.worstAbove).toBeCloseTo(2 / 3, 2);
    expect([worst(-100), worst(0.6), worst(0.7)]).toEqual(["holds", "holds", "fails"]);
  });
});
