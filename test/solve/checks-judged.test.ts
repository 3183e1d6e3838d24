/** Verdicts on checks of several parts, by trying every place; the fewest places at which one fails. */
import { describe, expect, test } from "vitest";
import { fewestPlaces, spreadOf } from "../../server/solve";
import type { Condition } from "../../server/solve/expression";
import { solve } from "../../server/solve/solve";
import { verdictOf } from "../../server/solve/verdict";
import {
  add,
  compare,
  exactly,
  type Givens,
  mul,
  pow,
  SystemBuilder,
  type Term,
  within,
} from "./build";

describe("checks of several parts, against every place of a grid", () => {
  const [a, b] = ["a", "b"];
  const at = (left: Term, relation: Parameters<typeof compare>[1], right: Term) =>
    compare(left, relation, right);
  const conditions: readonly [string, Condition, (a: number, b: number) => boolean][] = [
    [
      "both",
      { op: "and", left: at(a, ">=", 0.75), right: at(b, "<=", 2.25) },
      (x, y) => x >= 0.75 && y <= 2.25,
    ],
    [
      "both, one at its edge",
      { op: "and", left: at(a, ">=", 0.7), right: at(b, "<", 2.25) },
      (x, y) => x >= 0.7 && y < 2.25,
    ],
    [
      "either, none always",
      { op: "or", left: at(a, "<=", 1), right: at(a, ">=", 1) },
      (x) => x <= 1 || x >= 1,
    ],
    [
      "either, with a gap between",
      { op: "or", left: at(a, "<=", 1), right: at(a, ">=", 1.1) },
      (x) => x <= 1 || x >= 1.1,
    ],
    [
      "either of two figures",
      { op: "or", left: at(a, ">=", 0.9), right: at(b, ">=", 1.75) },
      (x, y) => x >= 0.9 || y >= 1.75,
    ],
    [
      "neither",
      { op: "not", of: { op: "or", left: at(a, ">", 1.25), right: at(b, "<", 1.75) } },
      (x, y) => !(x > 1.25 || y < 1.75),
    ],
    [
      "not both",
      { op: "not", of: { op: "and", left: at(a, ">", 1.2), right: at(b, ">", 2.2) } },
      (x, y) => !(x > 1.2 && y > 2.2),
    ],
    [
      "a chain",
      {
        op: "and",
        left: { op: "and", left: at(a, "<", b), right: at(b, "<", 2.5) },
        right: at(mul(a, b), ">=", 1),
      },
      (x, y) => x < y && y < 2.5 && x * y >= 1,
    ],
  ];
  test.each(conditions)("%s", (_, condition, of) => {
    const builder = new SystemBuilder().given({ a: within(1, 0.25), b: within(2, 0.25) });
    const solution = solve(builder.system());
    const verdict = verdictOf(solution, builder.claim(condition));
    let always = true;
    for (let i = -100; i <= 100; i++) {
      for (let j = -100; j <= 100; j++) always &&= of(1 + i / 400, 2 + j / 400);
    }
    expect(verdict.nominal).toBe(of(1, 2) ? "holds" : "fails");
    expect(verdict.worst).toBe(always ? "holds" : "fails");
    if (verdict.witness !== undefined) {
      const place = (name: string, nominal: number) =>
        verdict.witness!.get(builder.index(name)) ?? nominal;
      expect(of(place("a", 1), place("b", 2))).toBe(false);
    }
  });
});

test("what is given exactly has no ± and its checks are proved", () => {
  const builder = new SystemBuilder()
    .given({ a: exactly(3), b: exactly(4) })
    .equation("c", pow("c", 2), 25);
  builder.variable("c", { range: [0, 10] });
  const solution = solve(builder.system());
  expect(verdictOf(solution, builder.claim(compare(add("a", "b"), ">", "c"))).worst).toBe("holds");
  expect(spreadOf(solution, builder.quantity("c"))?.worstAbove).toBe(0);
});

describe("the fewest places at which a check fails", () => {
  const inside: Givens = {
    a: within(1, 0.25),
    b: within(2, 0.25),
    c: within(3, 0.25),
  };
  const cases: readonly [string, Condition, readonly string[]][] = [
    [
      "one of two that must hold",
      { op: "and", left: compare("a", "<=", 1.1), right: compare("b", "<=", 4) },
      ["a"],
    ],
    ["of a sum, as many as it takes", compare(add("a", "b", "c"), "<=", 6.4), ["a", "b"]],
    ["of a sum, all of them", compare(add("a", "b", "c"), "<=", 6.6), ["a", "b", "c"]],
    [
      "both ways out of an or",
      { op: "or", left: compare("a", "<=", 1.1), right: compare("b", "<=", 2.1) },
      ["a", "b"],
    ],
    ["of what weighs most", compare(add("a", mul(10, "b")), "<=", 23), ["b"]],
  ];
  test.each(cases)("%s", (_, condition, names) => {
    const builder = new SystemBuilder().given(inside);
    const solution = solve(builder.system());
    const claim = builder.claim(condition);
    const { worst, witness } = verdictOf(solution, claim);
    expect(worst).toBe("fails");
    const fewest = fewestPlaces(solution, claim, witness!);
    expect(fewest.size).toBe(names.length);
    // By solving there: it fails, and with any one put back it holds.
    const judgedAt = (left: readonly number[]) => {
      const moved = new SystemBuilder().given(
        Object.fromEntries(
          Object.entries(inside).map(([name, { value }]) => {
            const index = builder.index(name);
            return [name, exactly(left.includes(index) ? fewest.get(index)! : value)];
          }),
        ),
      );
      return verdictOf(solve(moved.system()), moved.claim(condition)).nominal;
    };
    const all = [...fewest.keys()];
    expect(judgedAt(all)).toBe("fails");
    for (const one of all) expect(judgedAt(all.filter((other) => other !== one))).toBe("holds");
  });
});
