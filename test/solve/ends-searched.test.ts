/**
 * The ends of what is searched for, against closed forms: where slopes change their sign or have no
 * limit, where there is no value, where a limit is met to the last digit, and how near nothing a
 * difference can come.
 */
import { describe, expect, test } from "vitest";
import { boundsOf, comesToNothing, staysAbove } from "../../server/solve/bounds";
import { executionOf } from "../../server/solve/execution";
import type { Condition } from "../../server/solve/expression";
import { toleranceOf } from "../../server/solve/movers";
import { quantityValue } from "../../server/solve/sensitivity";
import { solve } from "../../server/solve/solve";
import { chanceOf, verdictOf } from "../../server/solve/verdict";
import {
  add,
  call,
  compare,
  div,
  exactly,
  type Givens,
  mul,
  neg,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";

function asked(term: Term, givens: Givens) {
  const builder = new SystemBuilder().given(givens);
  const quantity = builder.quantity(term);
  return { solution: solve(builder.system()), quantity, builder };
}

const ends = (term: Term, givens: Givens, boxes?: number) => {
  const { solution, quantity } = asked(term, givens);
  return boundsOf(solution, quantity, boxes === undefined ? undefined : { boxes });
};

describe("ends in few boxes", () => {
  const square = (name: string) => pow(sub(name, 2), 2);
  const three = { a: within(1.9, 0.4, 2.1), b: within(1.9, 0.4, 2.1), c: within(1.9, 0.4, 2.1) };

  test("the corner all slopes lead to, and not the one that those in the middle do", () => {
    // Each of the three is 4 at its greatest, though it falls where it is.
    const sum = add(mul("a", square("a")), mul("b", square("b")), mul("c", square("c")));
    expect(ends(sum, three, 1).most.found).toBeCloseTo(3 * 16, 9);
    expect(ends(neg(sum), three, 1).least.found).toBeCloseTo(-3 * 16, 9);
  });

  test("what may stand still rises or falls all the same", () => {
    // u³ − u of the larger u of two, from 1 to 2: 0 to 6.
    for (const turned of [false, true]) {
      const builder = new SystemBuilder().given({ a: within(1.5, 0.5), b: within(1.4, 0.4) });
      builder.equation("u", "u", call("max", "a", "b"));
      const bent = sub(pow("u", 3), "u");
      const quantity = builder.quantity(turned ? neg(bent) : bent);
      const { least, most } = boundsOf(solve(builder.system()), quantity, { boxes: 2 });
      const [from, to] = turned ? [-6, 0] : [0, 6];
      for (const told of [least.outer, least.found]) expect(told).toBeCloseTo(from, 9);
      for (const told of [most.outer, most.found]) expect(told).toBeCloseTo(to, 9);
    }
  });

  test("of what moves one way on one side only", () => {
    const { least, most } = ends(pow("a", 2), { a: within(1, 0, 1) });
    expect([least.outer, least.found, most.outer, most.found]).toEqual([1, 1, 4, 4]);
    const back = ends(pow("a", 2), { a: within(1, 1, 0) });
    expect([back.least.outer, back.least.found]).toEqual([0, 0]);
    expect(Object.is(back.least.outer, 0)).toBe(true);
    expect([back.most.outer, back.most.found]).toEqual([1, 1]);
  });

  test("nothing is said of a given that moves nothing", () => {
    const { least, most } = ends(add("a", sub("b", "b")), { a: within(1, 0.5), b: within(2, 1) });
    expect([least.at.size, most.at.size]).toEqual([1, 1]);
    expect([...least.at.values(), ...most.at.values()]).toEqual([0.5, 1.5]);
  });
});

describe("where there is no value for part of what is allowed", () => {
  test("the ends of the rest are found all the same", () => {
    // √a (3 − a) from 0 to 3: 2 at 1, 0 at both ends.
    const { least, most, partial } = ends(mul(call("sqrt", "a"), sub(3, "a")), {
      a: within(1.5, 2.5, 1.5),
    });
    expect(partial).toBe(true);
    expect([most.found, most.outer]).toEqual([expect.closeTo(2, 2), expect.closeTo(2, 2)]);
    expect(least.found).toBeCloseTo(0, 2);
    expect([least.loose, most.loose]).toEqual([false, false]);
  });

  test("a hole in the middle is the place that is told", () => {
    // None between 0.9 and 1.1; at both limits there is one.
    const { solution, builder, quantity } = asked(call("sqrt", sub(pow(sub("a", 1), 2), 0.01)), {
      a: within(2, 2, 0),
    });
    expect(boundsOf(solution, quantity).partial).toBe(true);
    const stays = staysAbove(solution, quantity, -1, false);
    expect(stays.answer).toBe("fails");
    if (stays.answer === "surely") return;
    const place = stays.bound.at.get(builder.index("a"))!;
    expect(Math.abs(place - 1)).toBeLessThan(0.1);
  });
});

describe("a limit that is met to the last digit", () => {
  const least = (term: Term, givens: Givens, limit: number) => {
    const { solution, quantity } = asked(term, givens);
    return [false, true].map((strict) => staysAbove(solution, quantity, limit, strict).answer);
  };

  test("is kept to, and is not kept clear of", () => {
    expect(least(pow("a", 2), { a: within(1, 2) }, 0)).toEqual(["surely", "fails"]);
  });
});

describe("how near nothing a difference can come", () => {
  const near = (term: Term, givens: Givens) => {
    const { solution, quantity } = asked(term, givens);
    const value = quantityValue(solution, quantity)!;
    return comesToNothing(executionOf(solution), quantity, value, toleranceOf);
  };

  test.each<[string, Term, Givens, number, atOnce?: boolean]>([
    ["a square less 2", sub(pow("a", 2), 2), { a: within(2, 0.5) }, 0.25],
    ["2 less a square", sub(2, pow("a", 2)), { a: within(2, 0.5) }, 0.25],
    ["a bent one", add(sub(pow("a", 2), mul(2, "a")), 1.5), { a: within(1.3, 1) }, 0.5, false],
    ["the same below", sub(sub(mul(2, "a"), pow("a", 2)), 1.5), { a: within(1.3, 1) }, 0.5, false],
    ["one that stands", sub("a", 3), { a: exactly(1) }, 2],
    ["a product", mul("a", "b"), { a: within(2, 1), b: within(-3, 1) }, 2],
  ])("%s cannot", (_, term, givens, nearest, atOnce = true) => {
    const told = near(term, givens);
    expect(told.answer).toBe("surely not");
    // Never farther than it is.
    expect(told.nearest).toBeLessThanOrEqual(nearest + 1e-12);
    expect(told.nearest).toBeGreaterThan(0);
    if (atOnce) expect(told.nearest).toBeCloseTo(nearest, 9);
  });

  test.each<[string, Term, Givens]>([
    ["a square less 2", sub(pow("a", 2), 2), { a: within(2, 1) }],
    ["2 less a square", sub(2, pow("a", 2)), { a: within(2, 1) }],
    ["at its limit", sub("a", 1), { a: within(1.5, 0.5) }],
    ["at its other limit", sub("a", 2), { a: within(1.5, 0.5) }],
    ["a square at its least", pow("a", 2), { a: within(1, 2) }],
  ])("%s can", (_, term, givens) => {
    expect(near(term, givens)).toEqual({ answer: "does", nearest: 0 });
  });
});

test("a division by nothing compared as equal is not judged", () => {
  const builder = new SystemBuilder().given({ a: exactly(0) });
  const solution = solve(builder.system());
  const same: Condition = compare(div(1, "a"), "==", 3);
  const { nominal, rss, worst } = verdictOf(solution, builder.claim(same));
  expect([nominal, rss, worst]).toEqual(["unknown", "unknown", "unknown"]);
  expect(chanceOf(solution, builder.claim(same))).toBeUndefined();
});

test("what is not settled in the boxes there are is not called proved", () => {
  // (a − 1)² + 1/2 is never less than 1/2; where it is, it is 0.59.
  const { solution, quantity } = asked(add(sub(pow("a", 2), mul(2, "a")), 1.5), {
    a: within(1.3, 1),
  });
  const told = (boxes: number) =>
    comesToNothing(executionOf(solution), quantity, 0.59, toleranceOf, { boxes });
  expect(told(1).answer).toBe("not found");
  expect(told(1).nearest).toBeGreaterThanOrEqual(0.5);
  expect(told(1).nearest).toBeLessThanOrEqual(0.59);
  expect(told(50).answer).toBe("surely not");
  expect(told(50).nearest).toBeLessThanOrEqual(0.5);
});
