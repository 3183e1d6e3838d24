/**
 * What is told of equations that hold in cases: what decides the case of a contradiction, what no case or
 * more than one answers, and what is the same in all. By hand; figures are invented.
 */
import { describe, expect, test } from "vitest";
import { passedOver, solve, spreadOf, verdictOf } from "../../server/solve";
import { casesLeft } from "../../server/solve/modes";
import type { Solution } from "../../server/solve/system";
import { add, compare, mul, SystemBuilder, valueNamed, within } from "./build";

const named = (solution: Solution, places: readonly number[]): string[] =>
  places.map((place) => solution.system.variables[place]!.name);
const blamed = (builder: SystemBuilder): string[][] => {
  const solution = solve(builder.system());
  return solution.conflicts.map(({ givens }) =>
    named(
      solution,
      givens.map(({ variable }) => variable),
    ),
  );
};
const positive = (name: string) => compare(name, ">", 0);

describe("a contradiction in a case has among its givens", () => {
  const apart = (when = positive("mode")): SystemBuilder =>
    new SystemBuilder()
      .given({ a: 5, b: 7, mode: 1, other: 3 })
      .equation("same", "a", "b", "relation", when);

  test("what decides the case", () => {
    expect(blamed(apart())).toEqual([["a", "b", "mode"]]);
    expect(solve(apart(compare("mode", "<", 0)).system()).conflicts).toEqual([]);
  });

  test("what that follows from, one of them or several", () => {
    const builder = apart(compare("kind", ">", 1)).equation("kind", "kind", mul(2, "mode"));
    expect(blamed(builder)).toEqual([["a", "b", "mode"]]);
    const two = apart(compare("kind", ">", 1)).equation("kind", "kind", add("mode", "other"));
    expect(blamed(two)).toEqual([["a", "b", "mode", "other"]]);
  });

  test("nothing that another thing decides as well, nor anything that decides nothing", () => {
    const either = { op: "or", left: positive("mode"), right: positive("other") } as const;
    expect(blamed(apart(either))).toEqual([["a", "b"]]);
    const both = { op: "and", left: positive("mode"), right: positive("other") } as const;
    expect(blamed(apart(both))).toEqual([["a", "b", "mode", "other"]]);
    const beside = apart().equation("beside", "z", add("other", 1), "relation", positive("other"));
    expect(blamed(beside)).toEqual([["a", "b", "mode"]]);
  });

  test("what decides its own case, whatever else contradicts itself", () => {
    const two = apart().given({ c: 2, d: 4 }).equation("too", "c", "d");
    expect(blamed(two)).toEqual([
      ["a", "b", "mode"],
      ["c", "d"],
    ]);
  });

  test("beside a figure whose cases are open: these stay so", () => {
    const builder = apart()
      .variable("x", { range: [-10, 10] })
      .equation("low", "y", 1, "relation", compare("x", "<", 0))
      .equation("high", "y", 2, "relation", compare("x", ">=", 0));
    expect(blamed(builder)).toEqual([["a", "b", "mode"]]);
    const solution = solve(builder.system());
    const y = builder.index("y");
    expect(
      casesLeft(solution)
        .map(({ values }) => values[y])
        .sort(),
    ).toEqual([1, 2]);
    expect(valueNamed(solution, "y")).toBeNaN();
  });

  test("each once, and nothing more where it holds in any case", () => {
    expect(blamed(apart(positive("a")))).toEqual([["a", "b"]]);
    const plain = new SystemBuilder()
      .given({ a: 5, b: 7, mode: 1 })
      .equation("same", "a", "b")
      .equation("beside", "z", add("mode", 1), "relation", positive("mode"));
    expect(blamed(plain)).toEqual([["a", "b"]]);
    expect(valueNamed(solve(plain.system()), "z")).toBe(2);
  });
});

describe("a figure that decides its own case", () => {
  const between = (low: number, high: number, lowWhen: "<" | ">=", highWhen: "<" | ">=") =>
    new SystemBuilder()
      .given({ g: 6 })
      .equation("low", "x", low, "relation", compare("x", lowWhen, 2))
      .equation("high", "x", high, "relation", compare("x", highWhen, 2))
      .equation("twice", "y", mul(2, "x"))
      .equation("apart", "z", add("g", 1));

  test("in no case has no answer; what does not hang on it has", () => {
    const solution = solve(between(1, 3, ">=", "<").system());
    expect(solution.failures).toHaveLength(1);
    const [failure] = solution.failures;
    expect(failure!.why).toBe("no-mode");
    expect(failure!.equations.map((e) => solution.system.equations[e]!.name)).toEqual([
      "high",
      "low",
    ]);
    expect(named(solution, failure!.variables).sort()).toEqual(["x", "y"]);
    for (const name of ["x", "y"]) {
      expect(valueNamed(solution, name)).toBeNaN();
      const at = solution.system.variables.findIndex((each) => each.name === name);
      expect(solution.determinations[at]).toEqual({ how: "failed", failure: 0 });
    }
    expect(valueNamed(solution, "z")).toBe(7);
  });

  test("in two cases has neither's answer, in one its own", () => {
    const solution = solve(between(1, 3, "<", ">=").system());
    expect(solution.failures.map(({ why }) => why)).toEqual(["several-modes"]);
    expect(named(solution, solution.failures[0]!.variables).sort()).toEqual(["x", "y"]);
    expect(valueNamed(solution, "z")).toBe(7);
    for (const [builder, x] of [
      [between(1, 1.5, "<", ">="), 1],
      [between(5, 3, "<", ">="), 3],
    ] as const) {
      const one = solve(builder.system());
      expect([valueNamed(one, "x"), valueNamed(one, "y"), valueNamed(one, "z")]).toEqual([
        x,
        2 * x,
        7,
      ]);
      expect(one.failures).toEqual([]);
    }
  });

  test("in cases that come to the same has it", () => {
    const same = new SystemBuilder()
      .equation("one", "x", 3, "relation", compare("x", ">", 2))
      .equation("other", "x", 3, "relation", compare("x", ">", 1));
    expect(valueNamed(solve(same.system()), "x")).toBe(3);
  });
});

describe("an open figure leaves its cases open", () => {
  const open = (low: number, high: number): SystemBuilder =>
    new SystemBuilder()
      .given({ g: 6 })
      .variable("x", { range: [-10, 10] })
      .equation("low", "y", low, "relation", compare("x", "<", 0))
      .equation("high", "y", high, "relation", compare("x", ">=", 0))
      .equation("z", "z", add("g", 1));

  test("what differs between them is open, what is alike is known", () => {
    const solution = solve(open(1, 2).system());
    expect(solution.failures).toEqual([]);
    expect(valueNamed(solution, "y")).toBeNaN();
    expect(valueNamed(solution, "z")).toBe(7);
    const y = solution.system.variables.findIndex(({ name }) => name === "y");
    expect(solution.determinations[y]).toEqual({ how: "open" });
    const cases = casesLeft(solution).map((each) => each.values[y]);
    expect(cases.sort()).toEqual([1, 2]);
    for (const each of casesLeft(solution)) expect(each.determinations[y]!.how).toBe("solved");
    const alike = solve(open(4, 4).system());
    expect(valueNamed(alike, "y")).toBe(4);
  });

  test("what comes to the same but for rounding is alike, however large or small it is", () => {
    for (const size of [1e-7, 3, 4e8]) {
      for (const [off, isAlike] of [
        [1e-12, true],
        [1e-7, false],
        [2, false],
      ] as const) {
        const solution = solve(open(size, size * (1 + off)).system());
        const y = valueNamed(solution, "y");
        if (isAlike) expect(y / size).toBeCloseTo(1, 11);
        else expect(y).toBeNaN();
      }
    }
  });

  test("what is known all the same is judged, and has its ±", () => {
    const builder = open(1, 2).variable("g", { given: within(6, 0.5) });
    const claims = [6, 7, 8].map((limit) => builder.claim(compare("z", ">=", limit)));
    const solution = solve(builder.system());
    expect(claims.map((claim) => verdictOf(solution, claim).nominal)).toEqual([
      "holds",
      "holds",
      "fails",
    ]);
    const spread = spreadOf(solution, builder.quantity("z"))!;
    expect([spread.worstBelow, spread.worstAbove]).toEqual([
      expect.closeTo(0.5, 9),
      expect.closeTo(0.5, 9),
    ]);
  });

  test("once it is given one of them holds, and the other is passed over", () => {
    for (const [x, y] of [
      [-3, 1],
      [3, 2],
    ] as const) {
      const builder = open(1, 2).given({ x });
      const solution = solve(builder.system());
      expect(valueNamed(solution, "y")).toBe(y);
      expect(casesLeft(solution)).toEqual([]);
      expect(passedOver(solution, builder.index("y"))).toEqual([]);
    }
    const only = new SystemBuilder()
      .given({ x: 3 })
      .equation("low", "y", 1, "relation", compare("x", "<", 0))
      .equation("beside", "w", add("x", 1));
    const solution = solve(only.system());
    expect(passedOver(solution, only.index("y"))).toEqual([0]);
    expect(valueNamed(solution, "y")).toBeNaN();
  });
});
