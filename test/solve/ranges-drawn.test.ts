/** What formulas and systems can come to: enclosures against draws of which none may lie outside. */
import { describe, expect, test } from "vitest";
import { spreadOf } from "../../server/solve";
import { evaluate } from "../../server/solve/evaluate";
import type { Expression, FunctionName } from "../../server/solve/expression";
import { loadRanges, runRanges } from "../../server/solve/range-run";
import { slopeRanges } from "../../server/solve/range-slopes";
import { solve, solveLike } from "../../server/solve/solve";
import { rangesOf, tapeOf } from "../../server/solve/tape";
import { add, call, div, mul, pow, SystemBuilder, sub, within } from "./build";
import { randoms } from "./random-systems";

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
        const there = solveLike({ variables: moved, equations }, solution.plan);
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
