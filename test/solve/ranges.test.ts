/**
 * What formulas and systems can come to: enclosures against draws of which none may lie outside, and
 * bounds against dense sampling, corner search and answers known in closed form.
 */
import { describe, expect, test } from "vitest";
import { spreadOf } from "../../server/solve";
import { boundsOf } from "../../server/solve/bounds";
import { evaluate } from "../../server/solve/evaluate";
import type { Expression, FunctionName } from "../../server/solve/expression";
import { loadRanges, runRanges } from "../../server/solve/range-run";
import { slopeRanges } from "../../server/solve/range-slopes";
import { solve } from "../../server/solve/solve";
import { rangesOf, tapeOf } from "../../server/solve/tape";
import { verdictOf } from "../../server/solve/verdict";
import { add, call, compare, div, mul, pow, SystemBuilder, sub, type Term, within } from "./build";

/** A row of numbers from 0 to 1, the same each time (Lehmer's generator, Park and Miller 1988). */
function randoms(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

const slot = (index: number): Expression => ({ op: "slot", index });
const number = (value: number): Expression => ({ op: "number", value });
const unary: readonly FunctionName[] = [
  "abs",
  "sqrt",
  "exp",
  "log",
  "sin",
  "cos",
  "tan",
  "asin",
  "acos",
  "atan",
  "round",
  "floor",
  "ceil",
];
const curve = {
  name: "t",
  method: "linear",
  keys: [-3, -1, 0, 2, 5],
  values: [4, -1, 2, 2.5, -7],
} as const;

function formula(random: () => number, depth: number): Expression {
  const pick = (count: number): number => Math.floor(random() * count);
  if (depth === 0) return random() < 0.7 ? slot(pick(3)) : number(Math.round(random() * 8 - 4));
  const part = (): Expression => formula(random, depth - 1);
  const ops = ["add", "subtract", "multiply", "divide"] as const;
  switch (pick(8)) {
    case 0:
    case 1:
    case 2:
      return { op: ops[pick(4)]!, left: part(), right: part() };
    case 3:
      return { op: "power", left: part(), right: number(pick(6) - 2) };
    case 4:
      return { op: "call", name: unary[pick(unary.length)]!, of: [part()] };
    case 5:
      return { op: "call", name: random() < 0.5 ? "min" : "atan2", of: [part(), part()] };
    case 6:
      return { op: "lookup", curve, of: part() };
    default:
      return {
        op: "if",
        condition: { op: "compare", relation: ">=", left: part(), right: part() },
        then: part(),
        else: part(),
      };
  }
}

describe("formulas over intervals", () => {
  test("no draw of 100,000 lies outside of what is said, nor a slope between two of them", () => {
    const random = randoms(7);
    let drawn = 0;
    for (let round = 0; drawn < 100_000; round++) {
      const whole = formula(random, 1 + (round % 4));
      const tape = tapeOf(whole);
      const low = Float64Array.from([0, 1, 2], () => random() * 8 - 4);
      const high = low.map((from) => from + random() * [0.01, 0.5, 4][round % 3]!);
      evaluate(tape, low, [0, 1, 2]);
      loadRanges(tape, low, high, [0, 1, 2]);
      runRanges(tape);
      const ranges = rangesOf(tape);
      const result = tape.results[0]!;
      const [least, most, partial] = [ranges.low[result]!, ranges.high[result]!, ranges.partial];
      slopeRanges(tape, [1]);
      const slopes = [0, 1, 2].map((index) => {
        const at = tape.slotIndices.indexOf(index);
        const position = tape.slotPositions[at]!;
        return at < 0 ? [0, 0] : [ranges.slopeLow[position]!, ranges.slopeHigh[position]!];
      });
      let before: { readonly at: Float64Array; readonly value: number } | undefined;
      for (let draw = 0; draw < 200; draw++) {
        const at = low.map((from, i) => from + random() * (high[i]! - from));
        const value = evaluate(tape, at, [0, 1, 2]);
        drawn++;
        if (Number.isNaN(value)) {
          expect(partial).toBe(true);
          continue;
        }
        if (!(value >= least && value <= most)) {
          throw new Error(
            `${value} is not in ${least}..${most}: ${JSON.stringify([whole, [...low], [...high], [...at]])}`,
          );
        }
        if (before !== undefined && !partial) {
          // The mean value theorem: the change is some slope of the box times the way.
          let [from, to] = [0, 0];
          for (let i = 0; i < 3; i++) {
            const way = at[i]! - before.at[i]!;
            const ends = slopes[i]!.map((slope) => (way === 0 ? 0 : slope * way));
            from += Math.min(...ends);
            to += Math.max(...ends);
          }
          const change = value - before.value;
          const room = 1e-9 * (1 + Math.abs(value) + Math.abs(before.value));
          expect(change >= from - room && change <= to + room).toBe(true);
        }
        before = { at, value };
      }
    }
  });
});

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
    const bounds = boundsOf(solution, builder.quantity("x"))!;
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

describe("random systems", () => {
  test("no draw leaves the worst case, and likely keeps within it", () => {
    const random = randoms(11);
    let drawn = 0;
    for (let round = 0; round < 120; round++) {
      const builder = new SystemBuilder();
      const names = ["a", "b", "c"];
      for (const name of names) {
        builder.given({ [name]: within(random() * 4 - 2, random() * 0.6, random() * 0.6) });
      }
      const pick = (): string => names[Math.floor(random() * names.length)]!;
      const shapes: readonly (() => Expression)[] = [
        () => mul(pick(), pick()),
        () => sub(pick(), mul(pick(), pick())),
        () => call("max", pick(), pick()),
        () => call("sin", add(pick(), pick())),
        () => call("abs", sub(pick(), 0.3)),
        () => div(pick(), add(2, mul(pick(), pick()))),
        () => pow(pick(), 2),
      ];
      for (const name of ["u", "v", "w"]) {
        builder.equation(name, name, shapes[Math.floor(random() * shapes.length)]!());
        names.push(name);
      }
      const solution = solve(builder.system());
      const quantity = builder.quantity("w");
      const value = solution.values[quantity.variables[0]!]!;
      if (Number.isNaN(value)) continue;
      const spread = spreadOf(solution, quantity)!;
      expect(spread.rss).toBeLessThanOrEqual((spread.worstBelow + spread.worstAbove) / 2 + 1e-12);
      const { variables, equations } = solution.system;
      for (let draw = 0; draw < 900; draw++) {
        const moved = variables.map(({ given, ...rest }) => {
          if (given === undefined) return rest;
          const corner = random();
          const at = corner < 0.2 ? given.low : corner > 0.8 ? given.high : undefined;
          const place = at ?? given.low + random() * (given.high - given.low);
          return { ...rest, given: { ...given, value: place } };
        });
        const there = solve({ variables: moved, equations }, solution.plan);
        const found = there.values[quantity.variables[0]!]! - value;
        drawn++;
        if (Number.isNaN(found)) continue;
        const room = 1e-12 * (1 + Math.abs(value));
        expect(found).toBeLessThanOrEqual(spread.worstAbove + room);
        expect(-found).toBeLessThanOrEqual(spread.worstBelow + room);
      }
    }
    expect(drawn).toBeGreaterThan(90_000);
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
  const bounds = boundsOf(solution, system.quantity("y"))!;
  expect(bounds.partial).toBe(true);
  expect(bounds.most.loose).toBe(false);
  expect(bounds.most.outer).toBeGreaterThanOrEqual(Math.max(...real) - 1e-9);
  expect(bounds.most.outer).toBeLessThan(5.4);
  expect(bounds.least.outer).toBeLessThanOrEqual(Math.min(...real) + 1e-9);
  expect(bounds.least.outer).toBeGreaterThanOrEqual(-1e-6);
});
