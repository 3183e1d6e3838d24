/**
 * What conditions, steps and tables come to over ranges, against trying every place of a grid in them:
 * all that is met is in the range, and at these ends nothing else is.
 */
import { describe, expect, test } from "vitest";
import { evaluate, lookUp } from "../../server/solve/evaluate";
import type {
  Condition,
  Expression,
  FunctionName,
  LookupCurve,
} from "../../server/solve/expression";
import { loadRanges, runRanges } from "../../server/solve/range-run";
import { compile, rangesOf } from "../../server/solve/tape";
import { call, number, x, y } from "./told-ranges";

type Box = readonly [from: number, to: number];

/** A range and whether a value lacks somewhere, of a formula no number was put into before. */
function over(expression: Expression, ...box: readonly Box[]): [number, number, boolean] {
  const tape = compile([expression]);
  const low = Float64Array.from(box, ([from]) => from);
  const high = Float64Array.from(box, ([, to]) => to);
  loadRanges(tape, low, high, [0, 1]);
  runRanges(tape);
  const ranges = rangesOf(tape);
  const result = tape.results[0]!;
  return [ranges.low[result]!, ranges.high[result]!, ranges.partial];
}

const grid = ([from, to]: Box, steps: number): number[] =>
  Array.from({ length: steps * (to - from) + 1 }, (_, k) => from + k / steps);
const ends = [-1, 0, 1, 2];
const boxes = ends.flatMap((from) => ends.filter((to) => to >= from).map((to): Box => [from, to]));
const met = (found: readonly number[]): [number, number] => [
  Math.min(...found),
  Math.max(...found),
];

const relations = {
  ">=": (a: number, b: number) => a >= b,
  "<=": (a: number, b: number) => a <= b,
  ">": (a: number, b: number) => a > b,
  "<": (a: number, b: number) => a < b,
  "==": (a: number, b: number) => a === b,
  "!=": (a: number, b: number) => a !== b,
};
type Relation = keyof typeof relations;
const each = Object.keys(relations) as Relation[];
const compared = (relation: Relation, left: Expression, right: Expression): Condition => ({
  op: "compare",
  relation,
  left,
  right,
});
const truth = (condition: Condition): Expression => ({
  op: "if",
  condition,
  then: number(1),
  else: number(0),
});

describe("comparisons", () => {
  test.each(each)("x %s y over all ranges of a few numbers", (relation) => {
    for (const a of boxes) {
      for (const b of boxes) {
        const all = grid(a, 2).flatMap((one) =>
          grid(b, 2).map((other) => (relations[relation](one, other) ? 1 : 0)),
        );
        const found = over(truth(compared(relation, x, y)), a, b);
        expect(found, `${a} ${relation} ${b}`).toEqual([...met(all), false]);
      }
    }
  });

  test("joined: what each side can be, by the lesser, the greater and the other way round", () => {
    for (const a of boxes) {
      for (const b of boxes) {
        const of = (relation: Relation, box: Box) =>
          met(grid(box, 2).map((one) => (relations[relation](one, 1) ? 1 : 0)));
        const [left, right] = [of(">=", a), of("<", b)];
        const sides = { left: compared(">=", x, number(1)), right: compared("<", y, number(1)) };
        const and = over(truth({ op: "and", ...sides }), a, b);
        expect(and.slice(0, 2)).toEqual([0, 1].map((end) => Math.min(left[end]!, right[end]!)));
        const or = over(truth({ op: "or", ...sides }), a, b);
        expect(or.slice(0, 2)).toEqual([0, 1].map((end) => Math.max(left[end]!, right[end]!)));
        const not = over(truth({ op: "not", of: sides.left }), a, b);
        expect(not.slice(0, 2)).toEqual([1 - left[1], 1 - left[0]]);
      }
    }
  });

  test("with what has no value are not told, and settle nothing", () => {
    const none = call("sqrt", y);
    for (const relation of each) {
      for (const condition of [compared(relation, x, none), compared(relation, none, x)])
        expect(over(truth(condition), [0, 1], [-2, -1])).toEqual([0, 1, true]);
    }
    const open = compared(">", none, x);
    const sure = compared(">", x, number(-1));
    const never = compared("<", x, number(-1));
    const told = (op: "and" | "or", right: Condition) =>
      over(truth({ op, left: open, right }), [0, 1], [-2, -1]).slice(0, 2);
    expect(told("and", never)).toEqual([0, 0]);
    expect(told("and", sure)).toEqual([0, 1]);
    expect(told("or", sure)).toEqual([1, 1]);
    expect(told("or", never)).toEqual([0, 1]);
  });

  test("forgive what single numbers are forgiven: the last digits of 3 and no more", () => {
    for (const relation of each) {
      const expression = truth(compared(relation, x, y));
      const tape = compile([expression]);
      for (let k = -40; k <= 40; k++) {
        const a = 3 * (1 + k * Number.EPSILON);
        const alone = evaluate(tape, Float64Array.of(a, 3), [0, 1]);
        const ends = Float64Array.of(a, 3);
        loadRanges(tape, ends, ends, [0, 1]);
        runRanges(tape);
        const { low, high } = rangesOf(tape);
        const result = tape.results[0]!;
        expect(low[result], `${relation} ${k}`).toBeLessThanOrEqual(alone);
        expect(high[result], `${relation} ${k}`).toBeGreaterThanOrEqual(alone);
        if (k === 0 || Math.abs(k) === 40)
          expect([low[result], high[result]]).toEqual([alone, alone]);
      }
    }
  });
});

describe("where a value lacks", () => {
  const parts: readonly (readonly [Expression, Expression, (v: number) => number])[] = [
    [x, y, (v) => v],
    [call("sqrt", x), call("sqrt", y), (v) => Math.sqrt(v)],
    [call("log", x), call("log", y), (v) => (v > 0 ? Math.log(v) : Number.NaN)],
    [call("asin", x), call("asin", y), (v) => Math.asin(v)],
    [call("acos", x), call("acos", y), (v) => Math.acos(v)],
    [call("atan", x), call("atan", y), (v) => Math.atan(v)],
  ];
  const joins: readonly (readonly [
    (a: Expression, b: Expression) => Expression,
    (a: number, b: number) => number,
  ])[] = [
    [(left, right) => ({ op: "add", left, right }), (a, b) => a + b],
    [(left, right) => ({ op: "subtract", left, right }), (a, b) => a - b],
    [(a, b) => call("min", a, b), Math.min],
    [(a, b) => call("max", a, b), Math.max],
  ];
  test("of one part or the other it is told of the whole, with all that is met elsewhere", () => {
    for (const [one, , of] of parts) {
      for (const [, other, by] of parts) {
        for (const [join, joined] of joins) {
          for (const a of boxes) {
            for (const b of [boxes[1]!, boxes[4]!, boxes[5]!, boxes[7]!]) {
              const all = grid(a, 2).flatMap((p) => grid(b, 2).map((q) => joined(of(p), by(q))));
              const values = all.filter((value) => !Number.isNaN(value));
              const [low, high, partial] = over(join(one, other), a, b);
              expect(partial).toBe(values.length < all.length);
              if (values.length === 0) continue;
              const [least, most] = met(values);
              expect(low).toBeLessThanOrEqual(least);
              expect(high).toBeGreaterThanOrEqual(most);
              if (all.length > values.length) continue;
              expect(low).toBeCloseTo(least, 12);
              expect(high).toBeCloseTo(most, 12);
            }
          }
        }
      }
    }
  });

  test("what branches lack counts where they are followed, what their condition lacks always", () => {
    const some = call("sqrt", y);
    const none: Box = [-1, 1];
    const fine: Box = [0, 1];
    const when = (condition: Condition, then: Expression, other: Expression): Expression => ({
      op: "if",
      condition,
      then,
      else: other,
    });
    const above = compared(">", x, number(0));
    for (const lacks of [none, fine]) {
      const is = lacks === none;
      expect(over(when(above, some, x), [1, 2], lacks)[2]).toBe(is);
      expect(over(when(above, x, some), [1, 2], lacks)[2]).toBe(false);
      expect(over(when(above, some, x), [-2, -1], lacks)[2]).toBe(false);
      expect(over(when(above, x, some), [-2, -1], lacks)[2]).toBe(is);
      expect(over(when(above, x, some), [-1, 1], lacks)[2]).toBe(is);
      expect(over(when(above, some, x), [-1, 1], lacks)[2]).toBe(is);
      expect(over(when(above, x, x), [-1, 1], lacks)[2]).toBe(false);
      // 2 and −2 lie beyond whatever the root is, and yet it may have none.
      for (const side of [2, -2]) {
        const condition = compared(">", x, some);
        expect(over(when(condition, x, number(0)), [side, side], lacks)[2]).toBe(is);
      }
    }
  });

  test("a step of nothing, and rounding of what has no value", () => {
    const round = (name: FunctionName, step: Expression) => call(name, x, step);
    for (const name of ["round", "floor", "ceil"] as const) {
      expect(over(round(name, y), [1, 2], [0, 0])[2]).toBe(true);
      expect(over(round(name, y), [1, 2], [0, 1])[2]).toBe(true);
      expect(over(round(name, y), [1, 2], [-1, 0])[2]).toBe(true);
      expect(over(round(name, y), [1, 2], [0.5, 1])[2]).toBe(false);
      const empty = over(call(name, call("sqrt", x), number(0.5)), [-2, -1]);
      expect(empty).toEqual([Number.NaN, Number.NaN, true]);
      expect(over(round(name, call("sqrt", y)), [1, 2], [-2, -1])).toEqual(empty);
      for (const box of boxes) {
        const to = {
          round: (v: number) => Math.sign(v) * Math.round(Math.abs(v)),
          floor: Math.floor,
          ceil: Math.ceil,
        };
        const [low, high] = over(round(name, number(1)), box);
        const [least, most] = met(grid(box, 4).map(to[name]));
        expect(low).toBeCloseTo(least, 12);
        expect(high).toBeCloseTo(most, 12);
        expect(low).toBeLessThanOrEqual(least);
        expect(high).toBeGreaterThanOrEqual(most);
      }
    }
  });
});

describe("tables", () => {
  const keys = [-1, 0, 1, 3];
  test.each([
    ["linear", [2, 5, -1, 4]],
    ["linear", [0.1, 0.3, 0.7, 0.9]],
    ["step", [2, 5, -1, 4]],
    ["exact", [2, 5, -1, 4]],
  ] as const)("%s: between all keys and beside them", (method, values) => {
    const curve: LookupCurve = { name: "table", method, keys, values };
    const places = [-2, -1.5, -1, -0.5, 0, 0.5, 1, 2, 3, 4];
    for (const from of places) {
      for (const to of places.filter((place) => place >= from)) {
        const all = grid([from, to], 8).map((key) => lookUp(curve, key));
        const there = all.filter((value) => !Number.isNaN(value));
        const [low, high, partial] = over({ op: "lookup", curve, of: x }, [from, to]);
        const label = `${from} to ${to}`;
        expect(partial, label).toBe(there.length < all.length);
        if (there.length === 0) expect([low, high], label).toEqual([Number.NaN, Number.NaN]);
        else {
          const [least, most] = met(there);
          expect(low, label).toBeLessThanOrEqual(least);
          expect(high, label).toBeGreaterThanOrEqual(most);
          expect(low, label).toBeCloseTo(least, 12);
          expect(high, label).toBeCloseTo(most, 12);
        }
      }
    }
    // A key that rounding misses by is met.
    for (const key of keys.filter((each) => each !== 0)) {
      const missed = key + Math.abs(key) * 5e-10;
      const [low, high] = over({ op: "lookup", curve, of: x }, [missed, missed]);
      const alone = lookUp(curve, missed);
      if (!Number.isNaN(alone)) {
        expect(low).toBeLessThanOrEqual(alone);
        expect(high).toBeGreaterThanOrEqual(alone);
      }
    }
  });
});
