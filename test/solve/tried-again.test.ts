/**
 * Cases of many kinds, each answered by a means of its own: corners, dense sampling, exact fractions,
 * closed forms, enumeration. Invented but where a source is named.
 */
import { describe, expect, test } from "vitest";
import { fitFor, missingFor, repairsFor, spreadOf } from "../../server/solve";
import { boundsOf } from "../../server/solve/bounds";
import { solve } from "../../server/solve/solve";
import type { GivenNumber } from "../../server/solve/system";
import { chanceOf, verdictOf } from "../../server/solve/verdict";
import { withGivens } from "../../server/solve/with-givens";
import {
  add,
  call,
  compare,
  div,
  exactly,
  mul,
  neg,
  pow,
  restsOnNames,
  SystemBuilder,
  sub,
  type Term,
  valueNamed,
  within,
} from "./build";

/** A row of numbers from 0 to 1, the same each time (Lehmer's generator, Park and Miller 1988). */
function randoms(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

describe("worst cases of closed forms", () => {
  const ranged = (
    term: Term,
    givens: Readonly<Record<string, GivenNumber>>,
  ): readonly [number, number] => {
    const builder = new SystemBuilder().given(givens).equation("y", "y", term);
    const solution = solve(builder.system());
    const bounds = boundsOf(solution, builder.quantity("y"))!;
    expect(bounds.least.loose || bounds.most.loose).toBe(false);
    return [bounds.least.outer, bounds.most.outer];
  };

  // By hand: extremes of each over its limits.
  const cases: readonly [string, Term, Record<string, GivenNumber>, number, number][] = [
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
      const bounds = boundsOf(solution, system.quantity(name))!;
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

describe("rounding noise, against exact tenths", () => {
  test("sums, products by whole numbers and floors of exact decimals", () => {
    const random = randoms(99);
    let told = 0;
    for (let i = 0; i < 400; i++) {
      const [a, b, c] = [1, 2, 3].map(() => Math.floor(random() * 2000)) as [
        number,
        number,
        number,
      ];
      const whole = 1 + Math.floor(random() * 9);
      // In tenths: exact.
      const margin = a * whole - b - c;
      const builder = new SystemBuilder().given({ a: a / 10, b: b / 10, c: (c + margin) / 10 });
      const claims: readonly [Parameters<SystemBuilder["claim"]>[0], boolean][] = [
        [compare(sub(sub(mul("a", whole), "b"), "c"), ">=", 0), true],
        [compare(sub(sub(mul("a", whole), "b"), "c"), "<=", 0), true],
        [compare(sub(sub(mul("a", whole), "b"), "c"), ">", 0), false],
        [compare(call("floor", div("a", 0.1)), "==", a), true],
        [compare(mul("a", whole), ">=", add("b", "c", 0.1)), false],
      ];
      const solution = solve(builder.system());
      for (const [condition, expected] of claims) {
        const verdict = verdictOf(solution, builder.claim(condition)).nominal;
        expect(verdict, `${a} ${b} ${c} ${whole}`).toBe(expected ? "holds" : "fails");
        told++;
      }
    }
    expect(told).toBe(2000);
  });
});

describe("what rests on what", () => {
  test("by structure, where slopes are nothing", () => {
    const rested = (term: Term, b: number): string[] =>
      restsOnNames(
        solve(
          new SystemBuilder()
            .variable("b", { range: [-1000, 1000] })
            .equation("default b", "b", b, "default")
            .equation("y", "y", term)
            .system(),
        ),
        "y",
      );
    expect(rested(call("max", "b", 10), 3)).toEqual(["default b"]);
    expect(rested(call("round", "b", 1), 3.2)).toEqual(["default b"]);
    expect(rested(pow(sub("b", 5), 2), 5)).toEqual(["default b"]);
    expect(rested(mul(0, "b"), 5)).toEqual([]);
    expect(rested(sub("b", "b"), 5)).toEqual([]);
    expect(rested(call("min", "b", 2000), 5)).toEqual(["default b"]);
    // Nothing in b's range comes to 2,000: it never rests on it.
    expect(rested(call("max", "b", 2000), 5)).toEqual([]);
  });
});

describe("contradictions", () => {
  // a + b = s, s + c = t, t = d, a = e: with all given, the smallest sets by enumeration.
  const rows = (builder: SystemBuilder) =>
    builder
      .equation("one", add("a", "b"), "s")
      .equation("two", add("s", "c"), "t")
      .equation("three", "t", "d")
      .equation("four", "a", "e");
  const consistent = (givens: Readonly<Record<string, number>>): boolean =>
    solve(rows(new SystemBuilder().given(givens)).system()).conflicts.length === 0;

  test("each set named is minimal, by leaving out every one", () => {
    const random = randoms(31);
    let found = 0;
    for (let i = 0; i < 60; i++) {
      const names = ["a", "b", "c", "d", "e"].filter(() => random() < 0.85);
      const givens = Object.fromEntries(names.map((name) => [name, Math.floor(random() * 5)]));
      const solution = solve(rows(new SystemBuilder().given(givens)).system());
      const [conflict] = solution.conflicts;
      if (conflict === undefined) continue;
      found++;
      const parties = conflict.givens.map(
        ({ variable }) => solution.system.variables[variable]!.name,
      );
      const only = Object.fromEntries(parties.map((name) => [name, givens[name]!]));
      expect(consistent(only), JSON.stringify(givens)).toBe(false);
      for (const left of parties) {
        const { [left]: _, ...rest } = only;
        expect(consistent(rest), `${JSON.stringify(givens)} without ${left}`).toBe(true);
      }
    }
    expect(found).toBeGreaterThan(30);
  });

  test("each repair put into the system mends it", () => {
    const random = randoms(8);
    let tried = 0;
    for (let i = 0; i < 40; i++) {
      const givens = Object.fromEntries(
        ["a", "b", "c", "d", "e", "s"].map((name) => [name, Math.floor(random() * 6)]),
      );
      const builder = new SystemBuilder();
      for (const [name, value] of Object.entries(givens))
        builder.variable(name, { given: value, role: "made" });
      const solution = solve(rows(builder).system());
      if (solution.conflicts.length < 2) continue;
      for (const { changes } of repairsFor(solution)) {
        tried++;
        const mended = withGivens(
          solution.system,
          new Map(changes.map(({ variable, value }) => [variable, exactly(value ?? Number.NaN)])),
        );
        expect(solve(mended).conflicts).toEqual([]);
      }
    }
    expect(tried).toBeGreaterThan(10);
  });
});

describe("what is missing", () => {
  test("each set named settles the figure, and no part of it does", () => {
    const random = randoms(63);
    let sets = 0;
    for (let i = 0; i < 25; i++) {
      const builder = new SystemBuilder();
      for (let v = 0; v < 9; v++) builder.variable(`x${v}`);
      for (let e = 0; e < 5; e++) {
        const used = [0, 1, 2, 3, 4, 5, 6, 7, 8].filter(() => random() < 0.35).slice(0, 3);
        if (used.length < 2) continue;
        const terms = used.map((v) => mul(1 + Math.floor(random() * 4), `x${v}`));
        builder.equation(`e${e}`, add(...terms), Math.floor(random() * 9));
      }
      const system = builder.system();
      const solution = solve(system);
      for (const variable of [0, 1, 2]) {
        if (solution.determinations[variable]?.how !== "open") continue;
        for (const set of missingFor(solution, variable)) {
          sets++;
          const settled = (own: readonly number[]): boolean => {
            const given = new Map(own.map((each) => [each, exactly(0.37 + each)] as const));
            const { how } = solve(withGivens(system, given)).determinations[variable]!;
            return how === "solved";
          };
          expect(settled(set)).toBe(true);
          for (const each of set)
            expect(settled(set.filter((other) => other !== each))).toBe(false);
        }
      }
    }
    expect(sets).toBeGreaterThan(20);
  });
});

describe("what makes a check hold", () => {
  test("one change in whole steps, the nearest of all, by trying every step", () => {
    const random = randoms(12);
    let tried = 0;
    for (let i = 0; i < 40; i++) {
      const [a, b] = [2 + Math.floor(random() * 8), 1 + Math.floor(random() * 5)] as const;
      const limit = 10 + Math.floor(random() * 60);
      // Flat at a = 4: the slope is nothing there.
      const term = add(pow(sub("a", 4), 2), mul("b", 3));
      const builder = new SystemBuilder()
        .variable("a", { given: a, range: [0, 20], role: "made" })
        .variable("b", { given: b, range: [0, 20], role: "made" });
      const claim = builder.claim(compare(term, ">=", limit));
      const solution = solve(builder.system());
      if (verdictOf(solution, claim).nominal !== "fails") continue;
      tried++;
      const value = (x: number, y: number): number => (x - 4) ** 2 + 3 * y;
      const nearest = (start: number, holds: (x: number) => boolean): number | undefined =>
        Array.from({ length: 41 }, (_, at) => at / 2)
          .filter(holds)
          .sort((one, other) => Math.abs(one - start) - Math.abs(other - start))[0];
      const expected = new Map([
        ["a", nearest(a, (x) => value(x, b) >= limit)],
        ["b", nearest(b, (y) => value(a, y) >= limit)],
      ]);
      const fits = fitFor(solution, claim, () => 0.5);
      const alone = fits.filter(({ also }) => also === undefined);
      for (const [name, best] of expected) {
        const fit = alone.find(
          ({ variable }) => solution.system.variables[variable]!.name === name,
        );
        if (best === undefined) expect(fit).toBeUndefined();
        else {
          const start = name === "a" ? a : b;
          expect(Math.abs((fit?.value ?? Number.NaN) - start), `${name} ${a} ${b} ${limit}`).toBe(
            Math.abs(best - start),
          );
        }
      }
    }
    expect(tried).toBeGreaterThan(15);
  });
});

test("sixty-one assumed stages in a row", () => {
  const builder = new SystemBuilder().given({ x0: 1 });
  for (let i = 0; i < 61; i++)
    builder.equation(`stage ${i}`, `x${i + 1}`, add(`x${i}`, 0.25), "assumed");
  const solution = solve(builder.system());
  expect(valueNamed(solution, "x61")).toBe(16.25);
  expect(restsOnNames(solution, "x61")).toHaveLength(61);
  expect(valueNamed(solve(builder.equation("end", "x61", neg(2)).system()), "x60")).not.toBeNaN();
});
