/** What systems can come to: bounds against dense sampling, corner search and closed forms. */
import { describe, expect, test } from "vitest";
import { spreadOf } from "../../server/solve";
import { boundsOf } from "../../server/solve/bounds";
import { solve } from "../../server/solve/solve";
import { verdictOf } from "../../server/solve/verdict";
import {
  add,
  call,
  compare,
  div,
  mul,
  neg,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";

describe("worst cases", () => {
  const worst = (expression: Term, givens: Readonly<Record<string, readonly number[]>>) => {
    const builder = new SystemBuilder();
    for (const [name, [value, below, above]] of Object.entries(givens)) {
      builder.given({ [name]: within(value!, below!, above) });
    }
    builder.equation("y", "y", expression);
    const solution = solve(builder.system());
    return spreadOf(solution, builder.quantity("y"))!;
  };

  test("a square about nothing rises", () => {
    const spread = worst(mul("x", "x"), { x: [0, 1] });
    expect(spread.worstBelow).toBe(0);
    expect(spread.worstAbove).toBeCloseTo(1, 12);
    expect(spread.above.known).toBe("proved");
    expect(spread.worstAbove - spread.above.found).toBeLessThan(2e-3);
  });

  test("a product about nothing", () => {
    const spread = worst(mul("x", "y0"), { x: [0, 2], y0: [0, 3] });
    expect(spread.worstAbove).toBeCloseTo(6, 9);
    expect(spread.worstBelow).toBeCloseTo(6, 9);
  });

  test("1/x near its pole has no limit on the side of the pole", () => {
    const spread = worst(div(1, "x"), { x: [1, 1] });
    expect(spread.above.known).toBe("unlimited");
    expect(spread.worstAbove).toBe(Number.POSITIVE_INFINITY);
    expect(spread.worstBelow).toBeCloseTo(0.5, 3);
  });

  test("curved formulas reach their ends exactly", () => {
    const root = worst(call("sqrt", "x"), { x: [1, 1] });
    expect([root.worstBelow, root.worstAbove]).toEqual([
      expect.closeTo(1, 3),
      expect.closeTo(Math.SQRT2 - 1, 12),
    ]);
    const exp = worst(call("exp", "x"), { x: [0, 3] });
    expect(exp.worstAbove).toBeCloseTo(Math.exp(3) - 1, 9);
    expect(exp.worstBelow).toBeCloseTo(1 - Math.exp(-3), 9);
  });

  test("a summit between the corners is found there, not at the higher corner", () => {
    // x (1 - x): 0.21 at 0.3, 0.24 at the corner 0.6, and 1/4 at the vertex 1/2.
    const arch = worst(mul("x", sub(1, "x")), { x: [0.3, 0.3] });
    expect(arch.worstAbove).toBeGreaterThanOrEqual(0.04 - 1e-12);
    expect(arch.worstAbove).toBeLessThan(0.0401);
    expect(arch.above.found).toBeCloseTo(0.04, 5);
    expect(arch.worstBelow).toBeCloseTo(0.21, 6);
    // sin x + cos y: its summit at x = π/2, y = 0 lies inside of both ranges.
    const wave = worst(add(call("sin", "x"), call("cos", "y0")), { x: [1.2, 0.6], y0: [0.2, 0.4] });
    const summit = 2 - Math.sin(1.2) - Math.cos(0.2);
    expect(wave.worstAbove - summit).toBeLessThan(1e-3);
    expect(wave.worstAbove).toBeGreaterThanOrEqual(summit - 1e-12);
    expect(wave.above.found).toBeCloseTo(summit, 4);
  });

  test("a kink reached through curvature", () => {
    // max(x², 4) from x = 1 ± 2: 4 at the nominal, 9 at the end.
    const spread = worst(call("max", mul("x", "x"), 4), { x: [1, 2] });
    expect(spread.worstBelow).toBeCloseTo(0, 12);
    expect(spread.worstAbove).toBeCloseTo(5, 9);
  });

  test("an angle between two sides, offset to either side", () => {
    // A driveshaft of 50 in that stands 3 in off in height and 0 ± 2 in to the side.
    const off = call("sqrt", add(mul("side", "side"), mul(3, 3)));
    const spread = worst(call("atan2", off, 50), { side: [0, 2] });
    expect(spread.worstAbove).toBeCloseTo(Math.atan2(Math.sqrt(13), 50) - Math.atan2(3, 50), 9);
    expect(spread.worstBelow).toBeLessThan(1e-12);
  });

  test("through a block that is solved together, against dense sampling", () => {
    // x² + y² = r², x·y = p: the rectangle of a diagonal and an area.
    const builder = new SystemBuilder()
      .given({ r: within(5, 0.02), p: within(12, 0.05) })
      .variable("x", { range: [3.6, 10] })
      .variable("y", { range: [0.1, 3.5] })
      .equation("diagonal", add(mul("x", "x"), mul("y", "y")), mul("r", "r"))
      .equation("area", mul("x", "y"), "p");
    const solution = solve(builder.system());
    const bounds = boundsOf(solution, builder.quantity("x"));
    let [least, most] = [Number.POSITIVE_INFINITY, 0];
    for (let i = 0; i <= 40; i++) {
      for (let j = 0; j <= 40; j++) {
        const [r, p] = [4.98 + i * 0.001, 11.95 + j * 0.0025];
        const half = Math.sqrt(r * r + 2 * p);
        const other = Math.sqrt(r * r - 2 * p);
        if (Number.isNaN(other)) continue;
        const x = (half + other) / 2;
        least = Math.min(least, x);
        most = Math.max(most, x);
      }
    }
    expect(bounds.most.outer).toBeGreaterThanOrEqual(most - 1e-12);
    expect(bounds.most.outer).toBeCloseTo(most, 2);
    expect(bounds.least.outer).toBeLessThanOrEqual(least + 1e-12);
  });

  test("where a figure only rises it is taken to its end, and only what turns is searched", () => {
    // Ten of x³ − x, which rise from 0.8 to 1.2, and one arch, a (1 − a) about its top: closed form,
    // within a budget that is far from halving eleven ranges.
    const names = Array.from({ length: 10 }, (_, at) => `x${at}`);
    const builder = new SystemBuilder().given({ a: within(0.4, 0.3) });
    for (const name of names) builder.given({ [name]: within(1, 0.2) });
    builder.equation(
      "y",
      "y",
      add(...names.map((name) => sub(mul(name, name, name), name)), mul("a", sub(1, "a"))),
    );
    const solution = solve(builder.system());
    const { most, least } = boundsOf(solution, builder.quantity("y"));
    const [top, bottom] = [10 * (1.2 ** 3 - 1.2) + 0.25, 10 * (0.8 ** 3 - 0.8) + 0.1 * 0.9];
    for (const [bound, end] of [
      [most, top],
      [least, bottom],
    ] as const) {
      expect(bound.loose).toBe(false);
      expect(Math.abs(bound.found - end)).toBeLessThan(1e-3);
      expect(Math.abs(bound.outer - end)).toBeLessThan(0.05);
    }
    expect(most.outer).toBeGreaterThanOrEqual(top - 1e-9);
    expect(least.outer).toBeLessThanOrEqual(bottom + 1e-9);
  });

  test("with room for one look the ends are tried one by one", () => {
    // Falls to the right of 0 and leaps up late, but not so far: the slopes say right, the end left.
    const builder = new SystemBuilder()
      .given({ x: within(0.5, 0.5) })
      .equation("y", "y", call("max", neg("x"), sub(mul(10, "x"), 10.5)));
    const { most } = boundsOf(solve(builder.system()), builder.quantity("y"), { boxes: 1 });
    expect(most.found).toBe(0);
    expect([...most.at.values()]).toEqual([0]);
  });

  test("three hundred kinked checks over three hundred tolerances are judged within a second", () => {
    const builder = new SystemBuilder();
    for (let i = 0; i < 300; i++) builder.given({ [`g${i}`]: within(1 + (i % 7) * 0.1, 0.02) });
    const claims = Array.from({ length: 300 }, (_, i) => {
      const sum = Array.from({ length: 8 }, (_, k) => `g${(i * 13 + k * 37) % 300}`);
      return builder.claim(
        compare(call("abs", sub(add(...sum.slice(0, 4)), add(...sum.slice(4)))), "<=", 3),
      );
    });
    const solution = solve(builder.system());
    const before = performance.now();
    const verdicts = claims.map((claim) => verdictOf(solution, claim));
    expect(performance.now() - before).toBeLessThan(1000);
    expect(verdicts.every(({ worst }) => worst !== "unknown")).toBe(true);
  });
});

test("two circles that may touch: where no answer can be proved, what the equations leave bounds it", () => {
  // Distances 5 ± 0.4 and 5 ± 0.4 from two points 9.4 apart: x = 4.7 + (d² − e²) / 18.8, and no height
  // where the two are too short together.
  const system = new SystemBuilder()
    .given({ d: within(5, 0.4), e: within(5, 0.4) })
    .variable("y", { range: [0, Number.POSITIVE_INFINITY] })
    .equation("one", add(pow("x", 2), pow("y", 2)), pow("d", 2))
    .equation("two", add(pow(sub("x", 9.4), 2), pow("y", 2)), pow("e", 2));
  const solution = solve(system.system());
  const heights: number[] = [];
  for (let i = 0; i <= 80; i++) {
    for (let j = 0; j <= 80; j++) {
      const [d, e] = [4.6 + i / 100, 4.6 + j / 100];
      const x = 4.7 + (d * d - e * e) / 18.8;
      heights.push(Math.sqrt(d * d - x * x));
    }
  }
  const real = heights.filter((height) => !Number.isNaN(height));
  expect(real.length).toBeLessThan(heights.length);
  const bounds = boundsOf(solution, system.quantity("y"));
  expect(bounds.partial).toBe(true);
  expect(bounds.most.loose).toBe(false);
  expect(bounds.most.outer).toBeGreaterThanOrEqual(Math.max(...real) - 1e-9);
  expect(bounds.most.outer).toBeLessThan(5.4);
  expect(bounds.least.outer).toBeLessThanOrEqual(Math.min(...real) + 1e-9);
  expect(bounds.least.outer).toBeGreaterThanOrEqual(-1e-6);
});
