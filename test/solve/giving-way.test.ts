/**
 * What is only supposed (a default, an assumed relation) gives way before what is known: in equations
 * that say a thing twice, and in those that have no answer together with it. By hand.
 */
import { describe, expect, test } from "vitest";
import { solve } from "../../server/solve/solve";
import type { GivenNumber, Rank } from "../../server/solve/system";
import {
  add,
  determinationNamed,
  exactly,
  mul,
  pow,
  restsOnNames,
  SystemBuilder,
  sub,
  valueNamed,
  within,
} from "./build";

describe("equations whose sides move together", () => {
  /** x + y + q = s and twice that = t, which is 10: s is 5 whatever x, y and q are. */
  const twice = (s: number, rank: Rank, supposed: string) =>
    solve(
      new SystemBuilder()
        .given({ t: 10 })
        .equation("once", add("x", "y", "q"), "s")
        .equation("twice", add(mul(2, "x"), mul(2, "y"), mul(2, "q")), "t")
        .equation("usual s", "s", s, rank)
        .equation(supposed, "q", 1, "default")
        .system(),
    );

  test.each<[s: number, rank: Rank, supposed: string]>([
    [4, "default", "a usual q"],
    [4, "default", "z usual q"],
    [4, "assumed", "z usual q"],
    [5, "default", "a usual q"],
    [5, "default", "z usual q"],
    [5, "assumed", "z usual q"],
  ])(
    "%d supposed as %s beside %s: what follows stands, and nothing else gives way",
    (s, rank, supposed) => {
      const solution = twice(s, rank, supposed);
      expect(valueNamed(solution, "s")).toBeCloseTo(5, 12);
      expect(restsOnNames(solution, "s")).toEqual([]);
      expect(valueNamed(solution, "q")).toBe(1);
      expect(restsOnNames(solution, "q")).toEqual([supposed]);
      for (const name of ["x", "y"]) expect(determinationNamed(solution, name).how).toBe("open");
      expect([solution.conflicts, solution.failures, solution.redundant]).toEqual([[], [], []]);
    },
  );

  test("curved ones, too: x² + y² is s, and twice that is 50", () => {
    for (const s of [20, 25]) {
      const solution = solve(
        new SystemBuilder()
          .given({ t: 50 })
          .variable("x", { range: [0, 10] })
          .variable("y", { range: [0, 10] })
          .equation("once", add(pow("x", 2), pow("y", 2)), "s")
          .equation("twice", add(mul(2, pow("x", 2)), mul(2, pow("y", 2))), "t")
          .equation("usual s", "s", s, "default")
          .equation("usual x", "x", 3, "default")
          .system(),
      );
      expect(valueNamed(solution, "s")).toBeCloseTo(25, 9);
      expect(valueNamed(solution, "y")).toBeCloseTo(4, 9);
      expect(restsOnNames(solution, "y")).toEqual(["usual x"]);
      expect(solution.conflicts).toEqual([]);
    }
  });
});

describe("an assumed relation with which there is no answer", () => {
  const circle = () =>
    new SystemBuilder()
      .variable("x", { range: [-10, 10] })
      .variable("y", { range: [0, 10] })
      .equation("circle", add(pow("x", 2), pow("y", 2)), 25);

  test("is let go where nothing comes after it: both are open", () => {
    const solution = solve(circle().equation("far", add("x", "y"), 20, "assumed").system());
    for (const name of ["x", "y"]) expect(determinationNamed(solution, name).how).toBe("open");
    expect(solution.failures).toEqual([]);
  });

  test("is let go, and what comes after it by name is supposed in its place", () => {
    const solution = solve(
      circle()
        .equation("a far", add("x", "y"), 20, "assumed")
        .equation("b usual", "x", 3, "assumed")
        .system(),
    );
    expect([valueNamed(solution, "x"), valueNamed(solution, "y")]).toEqual([
      3,
      expect.closeTo(4, 9),
    ]);
    expect(restsOnNames(solution, "y")).toEqual(["b usual"]);
    expect(solution.failures).toEqual([]);
  });

  test("is kept where there is one, and what comes after it is not supposed", () => {
    const solution = solve(
      circle()
        .equation("a near", "y", add("x", 1), "assumed")
        .equation("b usual", "x", 2, "assumed")
        .variable("x", { range: [0, 10] })
        .system(),
    );
    expect(valueNamed(solution, "x")).toBeCloseTo(3, 9);
    expect(restsOnNames(solution, "x")).toEqual(["a near"]);
  });

  test("of two the last by name gives way, the other stays", () => {
    const solution = solve(
      new SystemBuilder()
        .variable("x", { range: [0, 10] })
        .variable("y", { range: [0, 10] })
        .variable("z", { range: [0, 10] })
        .equation("sphere", add(pow("x", 2), pow("y", 2), pow("z", 2)), 50)
        .equation("a", add("x", "y"), 7, "assumed")
        .equation("b", "z", add("x", "y", 10), "assumed")
        .equation("c", "x", 3, "assumed")
        .system(),
    );
    expect(["x", "y", "z"].map((name) => valueNamed(solution, name))).toEqual([
      3,
      expect.closeTo(4, 9),
      expect.closeTo(5, 9),
    ]);
    expect(restsOnNames(solution, "y")).toEqual(["a", "c"]);
  });

  test("a relation never gives way: without a supposed one it is said that there is none", () => {
    const solution = solve(circle().equation("far", add("x", "y"), 20).system());
    expect(solution.failures.map(({ why }) => why)).toEqual(["no-root"]);
  });
});

describe("a relation that says nothing more only as long as something supposed holds", () => {
  /** x + y = a, and twice that = 10 + d (x − 1): with d at 0 the second is the first, or against it. */
  const leaning = (x: number, a: GivenNumber, more = 0) => {
    const builder = new SystemBuilder()
      .variable("a", { given: a })
      .equation("once", add("x", "y"), "a")
      .equation("twice", mul(2, add("x", "y")), add(10, mul("d", sub("x", 1))))
      .equation("a usual d", "d", 0, "default")
      .equation("usual x", "x", x, "default");
    // More of the same, in figures of their own.
    for (let i = 0; i < more; i++) {
      builder
        .equation(`once ${i}`, add(`x${i}`, `y${i}`), "a")
        .equation(`twice ${i}`, mul(2, add(`x${i}`, `y${i}`)), add(10, mul("d", sub(`x${i}`, 1))))
        .equation(`usual x${i}`, `x${i}`, x, "default");
    }
    return solve(builder.system());
  };

  test.each([
    [3, 4.9],
    [3, 5.5],
    [2, 4],
    [-4, 5.01],
  ])("is against it with x = %d and a = %d: what is supposed follows from it", (x, a) => {
    const solution = leaning(x, exactly(a));
    expect(valueNamed(solution, "x")).toBe(x);
    expect(valueNamed(solution, "y")).toBeCloseTo(a - x, 12);
    expect(valueNamed(solution, "d")).toBeCloseTo((2 * a - 10) / (x - 1), 9);
    expect(restsOnNames(solution, "d")).toEqual(["usual x"]);
    expect([solution.conflicts, solution.failures, solution.redundant]).toEqual([[], [], []]);
  });

  test("is not against it, or no further than a tolerance takes up: it stays supposed", () => {
    for (const a of [exactly(5), within(4.9, 0.2), within(4.9, 0, 0.1)]) {
      const solution = leaning(3, a);
      expect(valueNamed(solution, "d")).toBe(0);
      expect(restsOnNames(solution, "d")).toEqual(["a usual d"]);
      expect(solution.redundant).toHaveLength(1);
    }
  });

  test("beyond a tolerance it is let go", () => {
    const solution = leaning(3, within(4.9, 0.09));
    expect(valueNamed(solution, "d")).toBeCloseTo(-0.1, 9);
    expect(solution.redundant).toEqual([]);
  });

  test("two such: what follows from the one is in the other, too", () => {
    const solution = leaning(3, exactly(4.9), 1);
    expect(valueNamed(solution, "d")).toBeCloseTo(-0.1, 9);
    expect([valueNamed(solution, "y"), valueNamed(solution, "y0")]).toEqual([
      expect.closeTo(1.9, 12),
      expect.closeTo(1.9, 12),
    ]);
    expect([solution.conflicts, solution.failures]).toEqual([[], []]);
  });
});
