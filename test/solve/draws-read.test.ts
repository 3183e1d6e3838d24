/**
 * Draws, and what is read off them, each against its definition: one draw in each slice of equal
 * probability (McKay, Beckman and Conover 1979), quantiles between two of the sorted draws (type 7 of
 * Hyndman and Fan, The American Statistician 50 (1996)), the normal distribution by its series.
 */
import { describe, expect, test } from "vitest";
import { chanceOf, spreadOf } from "../../server/solve";
import { DRAWS, drawsOf, LIKELY, normalShareBelow } from "../../server/solve/draws";
import { wilson } from "../../server/solve/likely";
import { solve } from "../../server/solve/solve";
import type { Distribution, GivenNumber } from "../../server/solve/system";
import {
  add,
  call,
  compare,
  type Givens,
  mul,
  neg,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";

const from = (
  value: number,
  below: number,
  above: number,
  distribution?: Distribution,
  together?: string,
): GivenNumber => ({
  ...within(value, below, above),
  ...(distribution === undefined ? {} : { distribution }),
  ...(together === undefined ? {} : { together }),
});

/** Share of a normal distribution between 0 and x deviations: Abramowitz and Stegun 26.2.10. */
function normalTo(x: number): number {
  let [term, sum] = [x, x];
  for (let n = 1; n < 60; n++) {
    term *= -(x * x) / (2 * n);
    sum += term / (2 * n + 1);
  }
  return sum / Math.sqrt(2 * Math.PI);
}

const below: Readonly<Record<Distribution, (place: number) => number>> = {
  normal: (place) => 0.5 + normalTo(3 * place) / (2 * normalTo(3)),
  uniform: (place) => (1 + place) / 2,
  triangular: (place) => (place < 0 ? (1 + place) ** 2 / 2 : 1 - (1 - place) ** 2 / 2),
};
const kinds = ["normal", "uniform", "triangular"] as const;

/** A name of its own each time: draws are kept by name. */
let named = 0;
const fresh = (name: string): string => `${name} ${++named}`;

describe("draws", () => {
  test.each(kinds)("%s ones fall once into each slice of equal probability", (kind) => {
    const draws = drawsOf(fresh("width"), from(3, 2, 2, kind));
    expect(draws.length).toBe(DRAWS);
    draws
      .slice()
      .sort()
      .forEach((draw, at) => {
        const share = DRAWS * below[kind]((draw - 3) / 2);
        expect(share).toBeGreaterThanOrEqual(at - 1e-3);
        expect(share).toBeLessThanOrEqual(at + 1 + 1e-3);
      });
  });

  test("of several names have next to nothing to do with each other, nor with their order", () => {
    const names = ["a", "b", "rear.width", "front.width", "x1", "x2"].map(fresh);
    const rows = names.map((name) => [...drawsOf(name, from(0, 1, 1, "uniform"))]);
    rows.push(rows[0]!.map((_, at) => (2 * at) / DRAWS - 1));
    const related = (one: readonly number[], other: readonly number[]): number =>
      (3 / DRAWS) * one.reduce((sum, each, at) => sum + each * other[at]!, 0);
    rows.forEach((one, i) => {
      rows.forEach((other, j) => {
        // Five deviations of 1 / √4096.
        if (i !== j) expect(Math.abs(related(one, other))).toBeLessThan(5 / 64);
        else expect(related(one, other)).toBeCloseTo(1, 2);
      });
      // Nor each with the one after it.
      if (i < names.length) {
        expect(Math.abs(related(one, [...one.slice(1), one[0]!]))).toBeLessThan(5 / 64);
        const slices = one.map((each) => Math.floor(((each + 1) / 2) * DRAWS));
        expect(new Set(slices).size).toBe(DRAWS);
        // Within their slices they lie evenly, too.
        const within = one.reduce((sum, each) => sum + ((((each + 1) / 2) * DRAWS) % 1), 0) / DRAWS;
        expect(Math.abs(within - 0.5)).toBeLessThan(5 / Math.sqrt(12 * DRAWS));
      }
    });
  });

  test("together are the same, whatever they are called", () => {
    const [jig, tape, a] = [fresh("jig"), fresh("tape"), fresh("a")];
    const of = (name: string, together: string) => drawsOf(name, from(0, 1, 1, "normal", together));
    expect(of(a, jig)).toEqual(of("b", jig));
    expect(of(a, jig)).not.toEqual(of(a, tape));
    expect(of(a, jig)).not.toEqual(drawsOf(jig, from(0, 1, 1)));
    expect(drawsOf(a, from(0, 1, 1))).not.toEqual(drawsOf(fresh("a"), from(0, 1, 1)));
  });

  test("the share of normal ones below a place", () => {
    for (let place = -1; place <= 1; place += 1 / 64)
      expect(normalShareBelow(place)).toBeCloseTo(below.normal(place), 6);
    expect([normalShareBelow(-1.5), normalShareBelow(1.5)]).toEqual([0, 1]);
  });
});

/** Type 7: at so much of the way from the least to the greatest of the sorted. */
function quantile(values: readonly number[], share: number): number {
  const sorted = Float64Array.from(values).sort();
  const place = share * (sorted.length - 1);
  const at = Math.floor(place);
  const next = sorted[Math.min(sorted.length - 1, at + 1)]!;
  return sorted[at]! + (place - at) * (next - sorted[at]!);
}

function read(builder: SystemBuilder, term: Term) {
  return spreadOf(solve(builder.system()), builder.quantity(term))!;
}

describe("what is likely, read off the draws", () => {
  const expected = (values: readonly number[]) => {
    const [low, high] = [(1 - LIKELY) / 2, (1 + LIKELY) / 2].map((s) => quantile(values, s)) as [
      number,
      number,
    ];
    return [(high - low) / 2, (high + low) / 2] as const;
  };

  test.each<[string, Term, (a: number, b: number) => number]>([
    ["one even figure", "a", (a) => a],
    ["a sum", add("a", "b"), (a, b) => a + b],
    ["a bent one", mul(pow("a", 2), "b"), (a, b) => a * a * b],
    ["a kinked one", call("max", "a", mul(2, "b")), (a, b) => Math.max(a, 2 * b)],
  ])("%s", (_, term, plainly) => {
    const givens = { a: from(1, 0.5, 1, "uniform"), b: from(0.5, 0.25, 0.25, "triangular") };
    const { rss, shift, draws } = read(new SystemBuilder().given(givens), term);
    const [as, bs] = [drawsOf("a", givens.a), drawsOf("b", givens.b)];
    const [half, middle] = expected([...as].map((a, at) => plainly(a, bs[at]!)));
    expect(rss).toBeCloseTo(half, 10);
    expect(shift).toBeCloseTo(middle - plainly(1, 0.5), 10);
    expect(draws).toBe(DRAWS);
  });

  test("of many solved together", () => {
    // The inverse of springs in a row, see `ends-together.test.ts`.
    const n = 56;
    const builder = new SystemBuilder();
    const load = from(1, 0.5, 0.5, "uniform");
    for (let i = 1; i <= n; i++) builder.given({ [`f${i}`]: load });
    const at = (i: number): Term => (i < 1 || i > n ? 0 : `x${i}`);
    for (let i = 1; i <= n; i++)
      builder.equation(`e${i}`, sub(mul(2, at(i)), at(i - 1), at(i + 1)), `f${i}`);
    const solution = solve(builder.system());
    const columns = Array.from({ length: n }, (_, j) => drawsOf(`f${j + 1}`, load));
    for (const i of [1, 20]) {
      const entry = (j: number): number => (Math.min(i, j) * (n + 1 - Math.max(i, j))) / (n + 1);
      const values = Array.from({ length: DRAWS }, (_, draw) =>
        columns.reduce((sum, column, j) => sum + entry(j + 1) * column[draw]!, 0),
      );
      const [half, middle] = expected(values);
      const { rss, shift } = spreadOf(solution, builder.quantity(`x${i}`))!;
      expect(rss / half).toBeCloseTo(1, 7);
      expect(shift).toBeCloseTo(middle - (i * (n + 1 - i)) / 2, 6);
    }
  });

  test("the same formula of other figures is another figure", () => {
    const builder = new SystemBuilder().given({
      a: from(1, 1, 1, "uniform"),
      b: from(1, 0.5, 0.5, "uniform"),
    });
    const solution = solve(builder.system());
    const one = builder.quantity(mul("a", 2));
    const other = { ...one, variables: builder.quantity("b").variables };
    expect(spreadOf(solution, one)!.rss).toBeCloseTo(2 * LIKELY, 2);
    // Apart from 1, which it is at worst.
    expect(spreadOf(solution, other)!.rss).toBeCloseTo(LIKELY, 3);
  });

  test("of what has a value nowhere but where it is", () => {
    const { rss, shift, draws } = read(
      new SystemBuilder().given({ a: within(0, 1) }),
      call("sqrt", neg(mul("a", "a"))),
    );
    expect([rss, shift, draws]).toEqual([0, 0, DRAWS]);
  });

  test("is no root sum square where another case may come about", () => {
    const builder = new SystemBuilder()
      .given({ a: within(0.5, 1) })
      .equation("above", "y", pow("a", 2), "relation", compare("a", ">", 0))
      .equation("below", "y", neg("a"), "relation", compare("a", "<=", 0));
    expect(read(builder, "y").draws).toBe(DRAWS);
  });
});

describe("how likely a check holds", () => {
  const chance = (givens: Givens, term: Term, limit: number) => {
    const builder = new SystemBuilder().given(givens);
    return chanceOf(solve(builder.system()), builder.claim(compare(term, ">=", limit)))!;
  };

  test("of a normal one off to one side", () => {
    // From 1 to 2: the middle is 1.5, the deviation a sixth.
    for (const limit of [1.2, 1.5, 1.7]) {
      const { share, draws } = chance({ a: within(1, 0, 1) }, "a", limit);
      expect([share, draws]).toEqual([expect.closeTo(1 - below.normal(2 * limit - 3), 5), 0]);
    }
  });

  test("of two that cancel", () => {
    const both = { a: from(1, 1, 1, "normal", "jig"), b: from(1, 1, 1, "normal", "jig") };
    expect(chance(both, sub("a", "b"), 0).share).toBe(1);
    expect(chance(both, sub("a", "b"), 0.5).share).toBe(0);
  });

  test("none of them is none at least, all of them all at most", () => {
    for (let draws = 5; draws < 5000; draws = Math.ceil(draws * 1.3)) {
      const [none, all] = [wilson(0, draws), wilson(draws, draws)];
      expect([none.low, all.high, none.share, all.share]).toEqual([0, 1, 0, 1]);
      // Wilson's other end: z² / (n + z²).
      const z = 1.959964 ** 2;
      expect(none.high).toBeCloseTo(z / (draws + z), 12);
      expect(all.low).toBeCloseTo(draws / (draws + z), 12);
    }
  });
});
