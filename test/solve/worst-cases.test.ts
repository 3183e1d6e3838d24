/**
 * Worst cases of formulas and of what is solved together, against closed forms, ends by hand and draws
 * over corners and the inside. Invented but where a source is named.
 */
import { describe, expect, test } from "vitest";
import { spreadOf } from "../../server/solve";
import { boundsOf } from "../../server/solve/bounds";
import { solve } from "../../server/solve/solve";
import {
  add,
  call,
  div,
  type Givens,
  mul,
  neg,
  pow,
  SystemBuilder,
  sub,
  type Term,
  valueNamed,
  within,
} from "./build";
import { randoms } from "./random-systems";

/** The least and the greatest of a function over the limits: ends, middles and draws of each. */
function sampled(givens: Givens, of: (at: Record<string, number>) => number, seed: number) {
  const random = randoms(seed);
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let draw = 0; draw < 30_000; draw++) {
    const at: Record<string, number> = {};
    for (const [name, { low, high }] of Object.entries(givens)) {
      const share = draw % 3 === 0 ? Math.round(random()) : random();
      at[name] = low + share * (high - low);
    }
    const value = of(at);
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  return [least, most] as const;
}

describe("worst cases", () => {
  const [a, b, c] = ["a", "b", "c"];
  const cases: readonly [string, Term, Givens, (at: Record<string, number>) => number][] = [
    [
      "of a quotient of differences",
      div(sub(a, b), add(a, b)),
      { a: within(5, 1), b: within(3, 0.5) },
      (x) => (x.a! - x.b!) / (x.a! + x.b!),
    ],
    [
      "of a length in the plane",
      call("sqrt", add(pow(a, 2), pow(b, 2))),
      { a: within(0, 1), b: within(0.2, 0.6) },
      (x) => Math.hypot(x.a!, x.b!),
    ],
    [
      "of a length in space",
      call("sqrt", add(pow(a, 2), pow(b, 2), pow(c, 2))),
      { a: within(1, 2), b: within(-1, 2), c: within(2, 1) },
      (x) => Math.hypot(x.a!, x.b!, x.c!),
    ],
    [
      "of an angle through nothing",
      call("atan2", a, b),
      { a: within(0.1, 0.4), b: within(2, 0.5) },
      (x) => Math.atan2(x.a!, x.b!),
    ],
    [
      "of a bump",
      mul(a, call("exp", neg(pow(a, 2)))),
      { a: within(0.5, 1) },
      (x) => x.a! * Math.exp(-(x.a! ** 2)),
    ],
    [
      "of a saddle",
      sub(pow(a, 2), pow(b, 2)),
      { a: within(0.1, 1), b: within(-0.2, 1.5) },
      (x) => x.a! ** 2 - x.b! ** 2,
    ],
    [
      "of the greatest of three lines",
      call("max", a, neg(a), sub(mul(2, b), 1)),
      { a: within(0.2, 0.7), b: within(0.6, 0.3) },
      (x) => Math.max(x.a!, -x.a!, 2 * x.b! - 1),
    ],
    [
      "of the least of what crosses",
      call("min", pow(a, 2), sub(2, a)),
      { a: within(0.5, 1.5) },
      (x) => Math.min(x.a! ** 2, 2 - x.a!),
    ],
    [
      "of a product of three about nothing",
      mul(a, b, c),
      { a: within(0, 1), b: within(0.5, 1), c: within(-0.2, 1) },
      (x) => x.a! * x.b! * x.c!,
    ],
    [
      "of a share that is limited",
      call("min", 1, call("max", 0, div(a, b))),
      { a: within(0.2, 0.5), b: within(1, 0.4) },
      (x) => Math.min(1, Math.max(0, x.a! / x.b!)),
    ],
    [
      "of a wave times a slope",
      mul(a, call("cos", mul(3, a))),
      { a: within(1, 1) },
      (x) => x.a! * Math.cos(3 * x.a!),
    ],
    ["of a cube root by a power", pow(a, 1 / 3), { a: within(8, 7.9) }, (x) => x.a! ** (1 / 3)],
    [
      "of a harmonic sum",
      div(1, add(div(1, a), div(1, b))),
      { a: within(4, 1), b: within(6, 2) },
      (x) => 1 / (1 / x.a! + 1 / x.b!),
    ],
    [
      "of how far two are apart, squared",
      pow(sub(a, b), 2),
      { a: within(1, 0.3), b: within(1.1, 0.3) },
      (x) => (x.a! - x.b!) ** 2,
    ],
    [
      "of what rounding makes",
      call("round", mul(a, b), 0.5),
      { a: within(2, 0.2), b: within(3, 0.1) },
      (x) => Math.round((x.a! * x.b!) / 0.5) * 0.5,
    ],
    [
      "of lopsided limits",
      div(a, b),
      { a: within(1, 0, 0.5), b: within(2, 0.5, 0) },
      (x) => x.a! / x.b!,
    ],
  ];
  test.each(cases)("%s", (_, term, givens, of) => {
    const builder = new SystemBuilder().given(givens).equation("y", "y", term);
    const solution = solve(builder.system());
    const y = valueNamed(solution, "y");
    const spread = spreadOf(solution, builder.quantity("y"))!;
    const [least, most] = sampled(givens, of, 11);
    expect(y - spread.worstBelow).toBeLessThanOrEqual(least + 1e-12);
    expect(y + spread.worstAbove).toBeGreaterThanOrEqual(most - 1e-12);
    // No wider than a fiftieth of what was drawn, and what was found is there.
    const room = 0.02 * (most - least) + 1e-9;
    expect(y - spread.worstBelow).toBeGreaterThanOrEqual(least - room);
    expect(y + spread.worstAbove).toBeLessThanOrEqual(most + room);
    for (const { known } of [spread.below, spread.above]) expect(known).toBe("proved");
    expect(spread.rss).toBeLessThanOrEqual((spread.worstBelow + spread.worstAbove) / 2 + 1e-12);
  });

  const blocks: readonly [
    string,
    Givens,
    (builder: SystemBuilder) => void,
    (at: Record<string, number>) => number,
  ][] = [
    // x² + y² = r², y = m x: x = r / √(1 + m²).
    [
      "where a circle meets a line",
      { r: within(5, 0.2), m: within(0.75, 0.1) },
      (builder) => {
        builder.variable("x", { range: [0, 100] }).variable("y", { range: [0, 100] });
        builder.equation("circle", add(pow("x", 2), pow("y", 2)), pow("r", 2));
        builder.equation("line", "y", mul("m", "x"));
      },
      ({ r, m }) => r! / Math.sqrt(1 + m! ** 2),
    ],
    // x + y = s, x y = p, x the greater: (s + √(s² − 4p)) / 2.
    [
      "from a sum and a product",
      { s: within(10, 0.3), p: within(16, 1) },
      (builder) => {
        builder.variable("x", { range: [5, 50] }).variable("y", { range: [0, 5] });
        builder.equation("sum", add("x", "y"), "s");
        builder.equation("product", mul("x", "y"), "p");
      },
      ({ s, p }) => (s! + Math.sqrt(s! ** 2 - 4 * p!)) / 2,
    ],
    // Two that lean on each other: x = p + y/3, y = s − x/2: x = (p + s/3) / (1 + 1/6).
    [
      "of two that lean on each other",
      { s: within(7, 0.1), p: within(2, 0.3) },
      (builder) => {
        builder.equation("one", "x", add("p", div("y", 3)));
        builder.equation("other", "y", sub("s", div("x", 2)));
      },
      ({ s, p }) => (p! + s! / 3) / (1 + 1 / 6),
    ],
    // x e^x = p: Lambert's W by Newton's steps.
    [
      "of a figure on both sides",
      { p: within(3, 1) },
      (builder) => {
        builder.variable("x", { range: [0, 10] });
        builder.equation("product", mul("x", call("exp", "x")), "p");
      },
      ({ p }) => {
        let w = 1;
        for (let i = 0; i < 30; i++) w -= (w * Math.exp(w) - p!) / (Math.exp(w) * (w + 1));
        return w;
      },
    ],
  ];
  test.each(blocks)("%s", (_, givens, write, of) => {
    const builder = new SystemBuilder().given(givens);
    write(builder);
    const solution = solve(builder.system());
    const x = valueNamed(solution, "x");
    const spread = spreadOf(solution, builder.quantity("x"))!;
    const [least, most] = sampled(givens, of, 5);
    expect(x - spread.worstBelow).toBeLessThanOrEqual(least + 1e-9);
    expect(x + spread.worstAbove).toBeGreaterThanOrEqual(most - 1e-9);
    const room = 0.02 * (most - least) + 1e-9;
    expect(x - spread.worstBelow).toBeGreaterThanOrEqual(least - room);
    expect(x + spread.worstAbove).toBeLessThanOrEqual(most + room);
  });
});

describe("worst cases of closed forms", () => {
  const ranged = (term: Term, givens: Givens): readonly [number, number] => {
    const builder = new SystemBuilder().given(givens).equation("y", "y", term);
    const solution = solve(builder.system());
    const bounds = boundsOf(solution, builder.quantity("y"));
    expect(bounds.least.loose || bounds.most.loose).toBe(false);
    return [bounds.least.outer, bounds.most.outer];
  };

  // By hand: extremes of each over its limits.
  const cases: readonly [string, Term, Givens, number, number][] = [
    ["a parabola's vertex inside", sub(pow("x", 2), mul(4, "x")), { x: within(3, 2) }, -4, 5],
    ["a cubic with both bends inside", sub(pow("x", 3), mul(3, "x")), { x: within(0, 2) }, -2, 2],
    [
      "a sine over more than a half turn",
      call("sin", "x"),
      { x: within(Math.PI / 2, 2) },
      Math.sin(Math.PI / 2 + 2),
      1,
    ],
    ["x times (1 − x)", mul("x", sub(1, "x")), { x: within(0.4, 0.4) }, 0, 0.25],
    ["lopsided limits", pow("x", 2), { x: { value: 1, low: -3, high: 1.5, rounding: 0 } }, 0, 9],
    ["a difference of like things", sub("x", "x"), { x: within(5, 3) }, 0, 0],
    [
      "a quotient that cancels",
      div(add("x", 1), add("x", 2)),
      { x: within(1, 0.5) },
      1.5 / 2.5,
      2.5 / 3.5,
    ],
    [
      "the larger of two that cross",
      call("max", "x", sub(1, "x")),
      { x: within(0.5, 0.5) },
      0.5,
      1,
    ],
    [
      "a length of two sides about nothing",
      call("sqrt", add(pow("a", 2), pow("b", 2))),
      { a: within(0, 3), b: within(0, 4) },
      0,
      5,
    ],
    ["a saddle", mul("a", "b"), { a: within(0, 2), b: within(0, 3) }, -6, 6],
    [
      "an angle through its turn",
      call("atan2", "a", "b"),
      { a: within(0, 1), b: within(2, 1) },
      -Math.PI / 4,
      Math.PI / 4,
    ],
    ["a power of a power", pow(pow("x", 2), 0.5), { x: within(-1, 3) }, 0, 4],
  ];
  for (const [name, term, givens, least, most] of cases) {
    test(name, () => {
      const [low, high] = ranged(term, givens);
      const room = 2e-3 * (most - least) + 1e-12;
      expect(low).toBeLessThanOrEqual(least + 1e-12);
      expect(high).toBeGreaterThanOrEqual(most - 1e-12);
      expect(low).toBeGreaterThan(least - room - 1e-9);
      expect(high).toBeLessThan(most + room + 1e-9);
    });
  }
});

describe("a straight block before something bent", () => {
  // Two halves and a shift solved together; what follows is bent in them.
  const builder = () =>
    new SystemBuilder()
      .given({ whole: within(10, 0.4), apart: within(1, 0.6), load: within(3, 0.5) })
      .equation("sum", add("left", "right"), "whole")
      .equation("shift", sub("left", mul(0.5, "right")), "apart")
      .equation("bend", "bend", mul("load", mul(sub("left", 4), sub("right", 6))))
      .equation("safe", "safe", div(20, add(1, pow("bend", 2))));
  const at = (whole: number, apart: number, load: number): readonly [number, number] => {
    const right = (whole - apart) / 1.5;
    const bend = load * (whole - right - 4) * (right - 6);
    return [bend, 20 / (1 + bend ** 2)];
  };

  test("is bounded as 60,000 draws and a grid of corners have it", () => {
    const system = builder();
    const solution = solve(system.system());
    const random = randoms(77);
    for (const [number, name] of (["bend", "safe"] as const).entries()) {
      const bounds = boundsOf(solution, system.quantity(name));
      let least = Number.POSITIVE_INFINITY;
      let most = Number.NEGATIVE_INFINITY;
      const look = (one: number, two: number, three: number): void => {
        const value = at(9.6 + 0.8 * one, 0.4 + 1.2 * two, 2.5 + three)[number]!;
        least = Math.min(least, value);
        most = Math.max(most, value);
      };
      for (let i = 0; i < 60_000; i++) look(random(), random(), random());
      for (let i = 0; i <= 40; i++)
        for (let j = 0; j <= 40; j++) for (const k of [0, 1]) look(i / 40, j / 40, k);
      expect(bounds.least.outer).toBeLessThanOrEqual(least);
      expect(bounds.most.outer).toBeGreaterThanOrEqual(most);
      const room = 0.01 * (most - least);
      expect(bounds.least.outer).toBeGreaterThan(least - room);
      expect(bounds.most.outer).toBeLessThan(most + room);
    }
  });
});
