/**
 * What is told of a worst case: the place at which it is reached is put in and comes to what was told,
 * nothing at the corners or on a grid lies beyond, and where there is no value that is told, too.
 */
import { describe, expect, test } from "vitest";
import {
  chanceOf,
  quantityValue,
  solve,
  spreadOf,
  verdictOf,
  withGivens,
} from "../../server/solve";
import { boundsOf, staysAbove } from "../../server/solve/bounds";
import type { Condition } from "../../server/solve/expression";
import type { GivenNumber } from "../../server/solve/system";
import {
  add,
  call,
  compare,
  div,
  exactly,
  type Givens,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";

const system = (term: Term, givens: Givens) =>
  new SystemBuilder().given(givens).equation("y", "y", term);

/** Values of the formula over a grid that has all corners and middles. */
function grid(builder: SystemBuilder, givens: Givens, steps: number): number[] {
  const base = solve(builder.system());
  const names = Object.keys(givens);
  const values: number[] = [];
  const walk = (at: readonly number[]): void => {
    const name = names[at.length];
    if (name !== undefined) {
      const { low, high } = givens[name]!;
      for (let i = 0; i <= steps; i++) walk([...at, low + ((high - low) * i) / steps]);
      return;
    }
    const changes = new Map(at.map((place, n) => [builder.index(names[n]!), exactly(place)]));
    values.push(solve(withGivens(base.system, changes)).values[builder.index("y")]!);
  };
  walk([]);
  return values;
}

const two = { a: within(2, 0.5), b: within(1, 0.25, 0.75) };
const signs = { a: within(0.5, 2), b: within(-0.25, 1, 0.5) };
const formulas: readonly (readonly [string, Term, Givens])[] = [
  ["a sum", add("a", mul(3, "b")), two],
  ["a difference", sub("a", mul(2, "b")), signs],
  ["a product", mul("a", "b"), signs],
  ["a quotient", div("a", "b"), two],
  ["a sum of squares", add(pow("a", 2), pow("b", 2)), signs],
  ["a difference of squares", sub(pow("a", 2), pow("b", 2)), signs],
  ["a cube", add(pow("a", 3), "b"), signs],
  ["a bent product", mul(sub("a", 2), sub("b", 1)), two],
  ["a sine", mul("a", call("sin", mul(3, "b"))), two],
  ["the larger", call("max", "a", mul(2, "b")), two],
  ["the smaller", call("min", sub("a", 1), "b"), two],
  ["a magnitude", call("abs", add("a", "b")), signs],
  ["a magnitude off to one side", sub("a", call("abs", sub("b", 1.25))), two],
  ["an exponential", call("exp", sub("a", mul(2, "b"))), two],
  ["an angle", call("atan2", "a", "b"), two],
  ["a root", call("sqrt", add(1, mul("a", "b"))), two],
  ["a logarithm", call("log", add("a", "b")), two],
  ["a saddle turned", mul(add("a", "b"), sub("a", "b")), signs],
];

describe("ends of formulas", () => {
  test.each(formulas)("%s", (_, term, givens) => {
    const builder = system(term, givens);
    const base = solve(builder.system());
    const quantity = builder.quantity("y");
    const value = quantityValue(base, quantity)!;
    const bounds = boundsOf(base, quantity);
    const all = grid(builder, givens, 16);
    const [least, most] = [Math.min(...all), Math.max(...all)];
    const room = 5e-3 * (most - least);
    expect(bounds.partial).toBe(false);
    for (const [bound, end, sign] of [
      [bounds.least, least, -1],
      [bounds.most, most, 1],
    ] as const) {
      expect(bound.loose).toBe(false);
      expect(sign * bound.outer).toBeGreaterThanOrEqual(sign * end - 1e-9);
      expect(sign * bound.outer).toBeLessThanOrEqual(sign * end + room);
      expect(sign * bound.found).toBeLessThanOrEqual(sign * bound.outer + 1e-12);
      expect(sign * bound.found).toBeGreaterThanOrEqual(sign * end - room);
      // The place that is told is in the box and comes to what was found.
      for (const [variable, place] of bound.at) {
        const { given } = base.system.variables[variable]!;
        expect(place).toBeGreaterThanOrEqual(given!.low);
        expect(place).toBeLessThanOrEqual(given!.high);
        expect(place).not.toBe(given!.value);
      }
      const there = new Map([...bound.at].map(([variable, place]) => [variable, exactly(place)]));
      const own = quantityValue(solve(withGivens(base.system, there)), quantity)!;
      expect(Math.abs(own - bound.found)).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(own)));
    }
    const spread = spreadOf(base, quantity)!;
    expect(spread.worstAbove).toBeCloseTo(bounds.most.outer - value, 9);
    expect(spread.worstBelow).toBeCloseTo(value - bounds.least.outer, 9);
    expect(spread.partial).toBe(false);
  });
});

describe("whether it stays above", () => {
  test.each(formulas)("%s", (_, term, givens) => {
    const builder = system(term, givens);
    const base = solve(builder.system());
    const quantity = builder.quantity("y");
    const value = quantityValue(base, quantity)!;
    const least = boundsOf(base, quantity).least.outer;
    if (least === value) return;
    for (const share of [0.02, 0.3, 0.8, 0.95]) {
      const reached = value + (least - value) * share;
      const asked = staysAbove(base, quantity, reached, false);
      expect(asked.answer).toBe("fails");
      if (asked.answer === "surely") return;
      const there = new Map([...asked.bound.at].map(([v, place]) => [v, exactly(place)]));
      expect(quantityValue(solve(withGivens(base.system, there)), quantity)!).toBeLessThan(reached);
    }
    for (const share of [1.05, 1.5, 4])
      for (const strict of [true, false])
        expect(staysAbove(base, quantity, value + (least - value) * share, strict).answer).toBe(
          "surely",
        );
    expect(staysAbove(base, quantity, value, true).answer).toBe("fails");
  });

  test("the end itself is in, and is out where only more will do", () => {
    // 0.5, 0.25, 0.125: sums without rounding.
    const builder = system(add("a", "b"), { a: within(2, 0.5), b: within(1, 0.25) });
    const base = solve(builder.system());
    const claim = (condition: Condition) => verdictOf(base, builder.claim(condition)).worst;
    expect(claim(compare("y", ">=", 2.25))).toBe("holds");
    expect(claim(compare("y", ">", 2.25))).toBe("fails");
    expect(claim(compare("y", "<=", 3.75))).toBe("holds");
    expect(claim(compare("y", "<", 3.75))).toBe("fails");
    expect(claim(compare("y", "<", 3.751))).toBe("holds");
    expect(claim({ op: "not", of: compare("y", "<", 2.25) })).toBe("holds");
    expect(claim({ op: "not", of: compare("y", "<=", 2.25) })).toBe("fails");
  });
});

describe("where there is no value", () => {
  test("for part of what is allowed: told, and nothing holds for sure", () => {
    const cases: readonly (readonly [Term, Givens, string])[] = [
      [div(1, sub("a", 1)), { a: within(1.5, 1) }, "a quotient about its pole"],
      [call("sqrt", sub("a", 1)), { a: within(1.5, 1) }, "a root of less than nothing"],
      [call("log", "a"), { a: within(0.5, 1) }, "a logarithm of nothing"],
      [call("asin", "a"), { a: within(0.9, 0.5) }, "an angle of more than one"],
    ];
    for (const [term, givens, name] of cases) {
      const builder = system(term, givens);
      const base = solve(builder.system());
      const spread = spreadOf(base, builder.quantity("y"))!;
      expect(spread.partial, name).toBe(true);
      const claim = builder.claim(compare("y", "<=", 1e6));
      const verdict = verdictOf(base, claim);
      expect([verdict.nominal, verdict.worst], name).toEqual(["holds", "fails"]);
      const there = new Map([...verdict.witness!].map(([v, place]) => [v, exactly(place)]));
      const y = solve(withGivens(base.system, there)).values[builder.index("y")]!;
      expect(!(y <= 1e6), `${name} ${y}`).toBe(true);
    }
  });

  test("just beside it there is, and it holds", () => {
    const builder = system(div(1, sub("a", 1)), { a: within(1.5, 0.25) });
    const base = solve(builder.system());
    expect(spreadOf(base, builder.quantity("y"))!.partial).toBe(false);
    const worst = (limit: number) =>
      verdictOf(base, builder.claim(compare("y", "<=", limit))).worst;
    expect([worst(4.001), worst(3.999)]).toEqual(["holds", "fails"]);
  });
});

describe("two sides that are to be equal", () => {
  const said = (a: GivenNumber, b: GivenNumber) => {
    const builder = new SystemBuilder().given({ a, b });
    const claim = builder.claim(compare("a", "==", "b"));
    const { nominal, rss, worst, margin } = verdictOf(solve(builder.system()), claim);
    expect(chanceOf(solve(builder.system()), claim)).toBeUndefined();
    return [nominal, rss, worst, margin] as const;
  };
  const rounded = (value: number, rounding: number) => ({ ...exactly(value), rounding });

  test("are, by what they are rounded to, by what is likely, at worst", () => {
    expect(said(exactly(2), exactly(2)).slice(0, 3)).toEqual(["holds", "holds", "holds"]);
    expect(said(exactly(2), exactly(2.1)).slice(0, 3)).toEqual(["fails", "fails", "fails"]);
    expect(said(rounded(2, 0.05), rounded(2.1, 0.06)).slice(0, 3)).toEqual([
      "holds",
      "holds",
      "holds",
    ]);
    expect(said(rounded(2, 0.05), rounded(2.12, 0.06)).slice(0, 3)).toEqual([
      "fails",
      "fails",
      "fails",
    ]);
    // Root of 0.3² + 0.4² is 0.5, the sum 0.7.
    expect(said(within(2, 0.3), within(2.4, 0.4)).slice(0, 3)).toEqual(["fails", "holds", "holds"]);
    expect(said(within(2, 0.3), within(2.6, 0.4)).slice(0, 3)).toEqual(["fails", "fails", "holds"]);
    expect(said(within(2, 0.3), within(2.8, 0.4)).slice(0, 3)).toEqual(["fails", "fails", "fails"]);
    expect(said(within(2.6, 0.3), within(2, 0.4)).slice(0, 3)).toEqual(["fails", "fails", "holds"]);
    expect(said(rounded(2, 0.05), exactly(2.02))[3]).toBeCloseTo(0.03, 9);
    expect(said(exactly(2.02), exactly(2))[3]).toBeCloseTo(-0.02, 9);
  });
});

describe("a check that speaks of a case only", () => {
  const of = (a: GivenNumber, b: GivenNumber) => {
    const builder = new SystemBuilder().given({ a, b });
    const claim = builder.claim(compare("b", ">=", 5), compare("a", ">", 1));
    const { nominal, worst, idle, witness } = verdictOf(solve(builder.system()), claim);
    return { told: [nominal, worst, idle ?? false], witness: witness?.size ?? 0 };
  };

  test("is passed over, judged, or both, as tolerances may bring the case about", () => {
    expect(of(exactly(0), exactly(3)).told).toEqual(["holds", "holds", true]);
    expect(of(exactly(2), exactly(3)).told).toEqual(["fails", "fails", false]);
    expect(of(exactly(2), exactly(6)).told).toEqual(["holds", "holds", false]);
    expect(of(within(0.5, 1), exactly(3))).toEqual({ told: ["holds", "fails", true], witness: 1 });
    expect(of(within(0.5, 1), exactly(6)).told).toEqual(["holds", "holds", true]);
    expect(of(within(1.5, 1), within(5.5, 1)).told).toEqual(["holds", "fails", false]);
    expect(of(within(1.5, 1), within(6.5, 1)).told).toEqual(["holds", "holds", false]);
    expect(of(within(3, 1), within(5.5, 1)).told).toEqual(["holds", "fails", false]);
  });
});

describe("figures that keep within a range", () => {
  test("solved together, too: what lies outside is no value, and that is told", () => {
    const of = (high: number) => {
      const builder = new SystemBuilder()
        .given({ sum: within(10, 1), apart: within(2, 0.5) })
        .variable("x", { range: [0, high] })
        .variable("y", { range: [0, 50] })
        .equation("one", add("x", "y"), "sum")
        .equation("two", sub("x", mul(1, "y")), "apart");
      const base = solve(builder.system());
      return spreadOf(base, builder.quantity("x"))!;
    };
    // x is 6, from 5.25 to 6.75.
    expect(of(6.8)).toMatchObject({ partial: false, worstAbove: expect.closeTo(0.75, 9) });
    expect(of(6.5).partial).toBe(true);
    expect(of(6.5).worstAbove).toBeLessThanOrEqual(0.5 + 1e-6);
  });
});

test("a condition denied twice is itself", () => {
  const twice = (a: GivenNumber) => {
    const builder = new SystemBuilder().given({ a });
    const condition: Condition = { op: "not", of: { op: "not", of: compare("a", ">", 1) } };
    const { nominal, worst } = verdictOf(solve(builder.system()), builder.claim(condition));
    return [nominal, worst];
  };
  expect(twice(exactly(2))).toEqual(["holds", "holds"]);
  expect(twice(exactly(1))).toEqual(["fails", "fails"]);
  expect(twice(within(2, 1.5))).toEqual(["holds", "fails"]);
  expect(twice(within(3, 1.5))).toEqual(["holds", "holds"]);
});
