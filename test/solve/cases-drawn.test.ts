/**
 * Equations that hold in some cases, and conditions on a figure that is open, against trying every case
 * and every value of a grid.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { limitsIn, type WantedCase } from "../../server/solve/case-limits";
import type { Condition } from "../../server/solve/expression";
import { solve } from "../../server/solve/solve";
import {
  add,
  call,
  compare,
  div,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  valueNamed,
} from "./build";

describe("cases that the unknowns themselves decide", () => {
  const eighth = fc.integer({ min: -24, max: 24 }).map((n) => n / 8);

  test("the only one that stands is the answer; none or several are told", () => {
    const counts = { one: 0, none: 0, several: 0 };
    fc.assert(
      fc.property(
        fc.tuple(eighth, eighth, eighth, eighth, eighth, eighth, eighth),
        fc.boolean(),
        ([p, q, a, b, c, d, t], strict) => {
          // x = p y + q; y = a x + b above t, else y = c x + d; what is read off it goes by x.
          fc.pre(Math.abs(1 - a * p) > 0.1 && Math.abs(1 - c * p) > 0.1);
          const isAbove = (y: number) => (strict ? y > t : y >= t);
          const high = (a * q + b) / (1 - a * p);
          const low = (c * q + d) / (1 - c * p);
          // Where a case is decided by less than rounding nothing is asked.
          fc.pre(Math.abs(high - t) > 1e-6 && Math.abs(low - t) > 1e-6);
          const standing = [...(isAbove(high) ? [high] : []), ...(isAbove(low) ? [] : [low])];
          const differ = standing.length === 2 && Math.abs(high - low) > 1e-7;
          fc.pre(standing.length < 2 || differ || high === low);
          const builder = new SystemBuilder()
            .given({ one: 1 })
            .equation("line", "x", add(mul(p, "y"), q))
            .equation(
              "above",
              "y",
              add(mul(a, "x"), b),
              "relation",
              compare("y", strict ? ">" : ">=", t),
            )
            .equation(
              "below",
              "y",
              add(mul(c, "x"), d),
              "relation",
              compare("y", strict ? "<=" : "<", t),
            )
            .equation("far", "z", add("x", "one"), "relation", compare("x", ">", 0.1))
            .equation("near", "z", mul(2, "y"), "relation", compare("x", "<=", 0.1));
          const solution = solve(builder.system());
          if (standing.length === 1 || (standing.length === 2 && !differ)) {
            counts.one++;
            const y = standing[0]!;
            const x = p * y + q;
            expect(valueNamed(solution, "y")).toBeCloseTo(y, 9);
            expect(valueNamed(solution, "x")).toBeCloseTo(x, 9);
            if (Math.abs(x - 0.1) > 1e-6)
              expect(valueNamed(solution, "z")).toBeCloseTo(x > 0.1 ? x + 1 : 2 * y, 9);
            expect(solution.failures).toEqual([]);
            return;
          }
          counts[standing.length === 0 ? "none" : "several"]++;
          expect(solution.failures.map(({ why }) => why)).toEqual([
            standing.length === 0 ? "no-mode" : "several-modes",
          ]);
          expect(valueNamed(solution, "y")).toBeNaN();
          const { equations, variables } = solution.failures[0]!;
          expect(equations.map((e) => solution.system.equations[e]!.name)).toContain("above");
          expect(variables).toContain(builder.index("y"));
          expect(solution.determinations[builder.index("y")]).toEqual({
            how: "failed",
            failure: 0,
          });
        },
      ),
      { numRuns: 150, seed: 9 },
    );
    for (const count of Object.values(counts)) expect(count).toBeGreaterThan(5);
  });
});

describe("what conditions leave of a figure that is open", () => {
  const relations = ["<", "<=", ">", ">=", "==", "!="] as const;
  const holds = (relation: (typeof relations)[number], left: number, right: number): boolean =>
    ({
      "<": left < right,
      "<=": left <= right,
      ">": left > right,
      ">=": left >= right,
      "==": left === right,
      "!=": left !== right,
    })[relation];
  const part = fc.record({
    relation: fc.constantFrom(...relations),
    limit: fc.integer({ min: -3, max: 7 }),
    turned: fc.boolean(),
    wanted: fc.boolean(),
    denied: fc.boolean(),
  });

  test("by every value of a grid", () => {
    let [emptied, pinned, left] = [0, 0, 0];
    fc.assert(
      fc.property(
        fc.array(part, { minLength: 1, maxLength: 4 }),
        fc.constantFrom<readonly [number, number]>([-2, 6], [0, 6], [0, 0]),
        (parts, [low, high]) => {
          const builder = new SystemBuilder()
            .given({ zero: 0 })
            .variable("x", { range: [low, high] });
          const solution = solve(builder.system());
          const wanted = parts.map(({ relation, limit, turned, wanted, denied }): WantedCase => {
            const side: Term = add("zero", limit);
            const plain = turned ? compare(side, relation, "x") : compare("x", relation, side);
            const { condition, variables } = builder.claim(
              denied ? { op: "not", of: plain } : plain,
            );
            return { condition, variables, holds: wanted };
          });
          // Halves lie between all limits, so that an open end leaves something of a stretch.
          const fitting = Array.from({ length: 41 }, (_, i) => (i - 10) / 4).filter(
            (x) =>
              x >= low &&
              x <= high &&
              parts.every(({ relation, limit, turned, wanted: as, denied }) => {
                const own = turned ? holds(relation, limit, x) : holds(relation, x, limit);
                return (own !== denied) === as;
              }),
          );
          const says = parts.every(({ relation, wanted: as, denied }) => {
            const isSame = as !== denied;
            return isSame ? relation !== "!=" : relation !== "==";
          });
          const found = limitsIn(solution, wanted);
          // That it is not this one number cuts no range.
          if (!says) return;
          expect(found.understood).toBe(true);
          expect(found.empty).toBe(fitting.length === 0);
          if (fitting.length === 0) emptied++;
          else if (fitting.length === 1) {
            expect([...found.pinned]).toEqual([[builder.index("x"), fitting[0]! + 0]]);
            pinned++;
          } else {
            expect(found.pinned.size).toBe(0);
            left++;
          }
        },
      ),
      { numRuns: 400, seed: 10 },
    );
    expect(Math.min(emptied, pinned, left)).toBeGreaterThan(20);
  });
});

describe("what conditions of several parts leave of a figure that is open", () => {
  const told = (condition: Condition, holds: boolean) => {
    const builder = new SystemBuilder().given({ one: 1 }).variable("x", { range: [0, 6] });
    const { condition: own, variables } = builder.claim(condition);
    const found = limitsIn(solve(builder.system()), [{ condition: own, variables, holds }]);
    const { empty, understood, pinned } = found;
    return [understood, empty, pinned.get(builder.index("x"))];
  };
  const both = (left: Condition, right: Condition): Condition => ({ op: "and", left, right });
  const either = (left: Condition, right: Condition): Condition => ({ op: "or", left, right });
  const not = (of: Condition): Condition => ({ op: "not", of });
  const [least, most] = [compare("x", ">=", 4), compare("x", "<=", 4)];

  test("both that hold pin it, shut it out or leave a stretch", () => {
    expect(told(both(least, most), true)).toEqual([true, false, 4]);
    expect(told(both(least, compare("x", "<", 4)), true)).toEqual([true, true, undefined]);
    expect(told(both(least, compare("x", "<=", 5)), true)).toEqual([true, false, undefined]);
    expect(told(both(both(least, compare("x", "<=", 5)), most), true)).toEqual([true, false, 4]);
  });

  test("neither of two that holds is both denied", () => {
    expect(told(either(compare("x", "<", 4), compare("x", ">", 4)), false)).toEqual([
      true,
      false,
      4,
    ]);
    expect(told(not(either(compare("x", "<", 4), compare("x", ">", 4))), true)).toEqual([
      true,
      false,
      4,
    ]);
    expect(told(either(least, most), false)).toEqual([true, true, undefined]);
  });

  test("one of two that holds says nothing of either", () => {
    expect(told(either(compare("x", "<=", 0), compare("x", "<=", -1)), true)).toEqual([
      false,
      false,
      undefined,
    ]);
    expect(told(both(compare("x", ">", 0), compare("x", ">", -1)), false)).toEqual([
      false,
      false,
      undefined,
    ]);
  });

  test("one of both that is about something else is not understood, the other still counts", () => {
    const known = compare("one", ">", 0);
    expect(told(both(known, compare("x", ">=", 6)), true)).toEqual([false, false, 6]);
    expect(told(both(compare("x", ">=", 6), known), true)).toEqual([false, false, 6]);
    expect(told(both(compare("x", "!=", 3), compare("x", ">=", 6)), true)).toEqual([
      false,
      false,
      6,
    ]);
    const always: Condition = { op: "always", value: true };
    expect(told(both(always, most), true)).toEqual([true, false, undefined]);
    expect(told(not(always), true)).toEqual([false, false, undefined]);
  });

  test("the same limit twice, shut out by one of both", () => {
    const at = (one: "<" | "<=", other: "<" | "<=") =>
      told(both(compare("x", one, 4), both(compare("x", other, 4), least)), true);
    expect([at("<=", "<="), at("<", "<="), at("<=", "<"), at("<", "<")]).toEqual([
      [true, false, 4],
      [true, true, undefined],
      [true, true, undefined],
      [true, true, undefined],
    ]);
    expect(told(both(compare("x", "==", 2), compare("x", "==", 3)), true)[1]).toBe(true);
    expect(told(compare("x", "==", 7), true)[1]).toBe(true);
    expect(told(compare("x", "==", 6), true)).toEqual([true, false, 6]);
  });
});

describe("one equation that has no plain answer", () => {
  const told = (left: Term, right: Term, range: readonly [number, number], givens = {}) => {
    const builder = new SystemBuilder().variable("x", { range }).given(givens);
    builder.equation("e", left, right);
    const { failures, values, determinations } = solve(builder.system());
    const [failure] = failures;
    const x = builder.index("x");
    return failure?.why ?? (Number.isNaN(values[x]) ? determinations[x]!.how : values[x]);
  };
  const inf = Number.POSITIVE_INFINITY;

  test.each<readonly [string, Term, Term, readonly [number, number], string | number]>([
    ["a value somewhere, and no answer", call("sqrt", sub(45, "x")), -1, [40, 60], "no-root"],
    [
      "a value near the middle only",
      call("sqrt", mul(sub("x", 50), sub(52, "x"))),
      -1,
      [40, 60],
      "no-root",
    ],
    ["no value anywhere", call("sqrt", sub(30, "x")), 1, [40, 60], "not-defined"],
    ["no value, without a range", call("log", sub(-1, pow("x", 2))), 1, [-inf, inf], "not-defined"],
    ["no answer, open above", add(mul("x", "x"), "x"), -3, [1, inf], "no-root"],
    ["no answer, open below", add(mul("x", "x"), "x"), -3, [-inf, 9], "no-root"],
    ["no answer, without a range", add(mul("x", "x"), "x"), -3, [-inf, inf], "no-root"],
    ["outside by a little", mul(2, "x"), 9, [0, 4.49], "no-root"],
    ["at the end", mul(2, "x"), 9, [0, 4.5], 4.5],
    ["two of them", sub(mul("x", "x"), "x"), 2, [-5, 5], "several-roots"],
    ["one of two in range", sub(mul("x", "x"), "x"), 2, [0, 5], 2],
    ["both of a magnitude", call("abs", sub("x", 3)), 2, [0, 9], "several-roots"],
    ["one of a magnitude", call("abs", sub("x", 3)), 2, [2, 9], 5],
    ["a pole is none", div(1, sub("x", 3)), 0, [0, 9], "no-root"],
    ["beside a pole", div(1, sub("x", 3)), 0.5, [0, 9], 5],
    ["what takes in a stretch", call("max", "x", 5), 5, [0, 9], "several-roots"],
    ["one beyond the stretch", call("max", "x", 5), 6, [0, 9], 6],
  ])("%s", (_, left, right, range, expected) => {
    const found = told(left, right, range);
    if (typeof expected === "number") expect(found).toBeCloseTo(expected, 9);
    else expect(found).toBe(expected);
  });
});
