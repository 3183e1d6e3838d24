/** Expressions walked through and made into others, held to what they come to. */
import { describe, expect, test } from "vitest";
import { evaluate } from "../../server/solve/evaluate";
import type { Condition, Expression, LookupCurve } from "../../server/solve/expression";
import { tapeOf } from "../../server/solve/tape";
import { rewritten, visit } from "../../server/solve/walk";
import { add, call, compare, div, mul, neg, pow, sub } from "./build";
import { slot } from "./told-ranges";

const curve: LookupCurve = { name: "c", method: "linear", keys: [-9, 9], values: [-18, 18] };
const lookup = (of: Expression): Expression => ({ op: "lookup", curve, of });
const either = (condition: Condition): Expression => ({
  op: "if",
  condition,
  then: mul(slot(1), 3),
  else: sub(slot(0), 2),
});
const [s, t] = [slot(0), slot(1)];
const always: Condition = { op: "always", value: true };
const wholes: Readonly<Record<string, Expression>> = {
  number: { op: "number", value: 4 },
  slot: s,
  sum: add(mul(2, s), div(t, 4), 1),
  power: pow(sub(s, t), 2),
  negative: neg(sub(t, s)),
  least: call("min", s, mul(2, t), 3),
  list: lookup(add(s, 1)),
  compared: either(compare(s, ">", t)),
  "compared on the right": either(compare(1, ">", t)),
  "in one and": either({ op: "and", left: compare(s, ">", 0), right: compare(2, ">", t) }),
  "in one or": either({ op: "or", left: compare(1, ">", t), right: compare(s, ">", 0) }),
  "and not": either({ op: "not", of: compare(t, "<=", s) }),
  always: either(always),
  "always or": either({ op: "or", left: always, right: { op: "not", of: always } }),
};

const at = (expression: Expression, values: readonly number[]): number =>
  evaluate(tapeOf(expression), Float64Array.from(values), [0, 1, 2]);
const places = [
  [1.5, -0.5],
  [-2, 1.25],
  [0.5, 3],
  [2.5, 1],
] as const;

describe.each(Object.keys(wholes))("%s", (name) => {
  const whole = wholes[name]!;

  test("with a formula in the place of a figure is what it comes to where the figure is that", () => {
    for (const index of [0, 1]) {
      // The figure taken as twice a third one and half more.
      const instead = add(mul(2, slot(2)), 0.5);
      const made = rewritten(whole, (part) =>
        part.op === "slot" && part.index === index ? instead : undefined,
      );
      for (const place of places) {
        const [x, y] = place;
        const third = (place[index]! - 0.5) / 2;
        const left = index === 0 ? [99, y, third] : [x, 99, third];
        expect(at(made, left)).toBe(at(whole, place));
      }
      let met = 0;
      visit(whole, (part) => {
        if (part.op === "slot" && part.index === index) met++;
      });
      // What does not speak of the figure is the very object, so that what is known of it is kept.
      if (met === 0) expect(made).toBe(whole);
      else expect(made).not.toBe(whole);
    }
  });

  test("with nothing in the place of anything is the very object, with a copy of any part another", () => {
    expect(rewritten(whole, () => undefined)).toBe(whole);
    const parts = new Set<Expression>();
    visit(whole, (part) => parts.add(part));
    for (const one of parts) {
      const copy = { ...one };
      const made = rewritten(whole, (part) => (part === one ? copy : undefined));
      expect(made).toEqual(whole);
      expect(made).not.toBe(whole);
      const met = new Set<Expression>();
      visit(made, (part) => met.add(part));
      expect(met.has(copy)).toBe(true);
      expect(met.has(one)).toBe(false);
    }
  });

  test("every part is seen once, those of conditions too", () => {
    const seen: string[] = [];
    visit(whole, ({ op }) => seen.push(op));
    // Written out, conditions have operators of their own.
    const written = [...JSON.stringify(whole).matchAll(/"op":"(\w+)"/g)].map(([, op]) => op!);
    const own = written.filter((op) => !["always", "compare", "and", "or", "not"].includes(op));
    expect(seen.sort()).toEqual(own.sort());
  });

  test("what stands in the place of a part is not looked into", () => {
    expect(rewritten(whole, () => t)).toBe(t);
  });
});
