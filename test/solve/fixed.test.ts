/**
 * Figures that curved equations fix while others stay open, by hand: where they are fixed in several
 * ways, the ways are told as the answers of any figure are.
 */
import { describe, expect, test } from "vitest";
import { workDone } from "../../server/keep/patience";
import { solve } from "../../server/solve/solve";
import {
  add,
  determinationNamed,
  mul,
  pow,
  restsOnNames,
  SystemBuilder,
  sub,
  valueNamed,
} from "./build";

const failureOf = (builder: SystemBuilder) => {
  const solution = solve(builder.system());
  const { equations, variables } = solution.system;
  expect(solution.conflicts).toEqual([]);
  return solution.failures.map((each) => ({
    why: each.why,
    equations: each.equations.map((at) => equations[at]!.name).sort(),
    variables: each.variables.map((at) => variables[at]!.name),
    roots: each.roots,
    answers: each.answers,
    complete: each.complete,
  }));
};

describe("fixed in several ways while x and y stay open", () => {
  test.each([1, 2, 3])("one figure: its square is %d squared", (root) => {
    // z² + x + y = 5 + root², x + y = 5.
    const builder = new SystemBuilder()
      .variable("z", { range: [-10, 10] })
      .equation("one", add(pow("z", 2), "x", "y"), 5 + root ** 2)
      .equation("two", add("x", "y"), 5);
    expect(failureOf(builder)).toEqual([
      {
        why: "several-roots",
        equations: ["one"],
        variables: ["z"],
        roots: [expect.closeTo(-root, 9), expect.closeTo(root, 9)],
        answers: undefined,
        // Found from two places of what is open; nobody has proved that there are no others.
        complete: false,
      },
    ]);
  });

  test.each([
    [1, 2],
    [-3, 4],
    [0.5, 6],
  ])("two figures together: %d and %d, either way round", (p, q) => {
    // z + w and z w are those of the two.
    const builder = new SystemBuilder()
      .variable("z", { range: [-10, 10] })
      .variable("w", { range: [-10, 10] })
      .equation("sum", add("z", "w", "x", "y"), p + q + 5)
      .equation("product", add(mul("z", "w"), "x", "y"), p * q + 5)
      .equation("open", add("x", "y"), 5);
    const [failure, ...more] = failureOf(builder);
    expect(more).toEqual([]);
    expect(failure).toMatchObject({
      why: "several-roots",
      equations: ["product", "sum"],
      complete: false,
    });
    expect([...failure!.variables].sort()).toEqual(["w", "z"]);
    const sorted = [...failure!.answers!].sort((one, other) => one[0]! - other[0]!);
    expect(sorted).toEqual([
      [expect.closeTo(Math.min(p, q), 8), expect.closeTo(Math.max(p, q), 8)],
      [expect.closeTo(Math.max(p, q), 8), expect.closeTo(Math.min(p, q), 8)],
    ]);
  });
});

test("what is fixed fixes more: a cube, and what stands beside it", () => {
  // z³ + x + y = 13, x + y = 5; w³ + u + v = z, u + v = 5 z: z is 2, w the cube root of −8.
  const solution = solve(
    new SystemBuilder()
      .variable("z", { range: [0, 10] })
      .equation("cube", add(pow("z", 3), "x", "y"), 13)
      .equation("open", add("x", "y"), 5)
      .equation("cube beside", add(pow("w", 3), "u", "v"), "z")
      .equation("open beside", add("u", "v"), mul(5, "z"))
      .system(),
  );
  expect([valueNamed(solution, "z"), valueNamed(solution, "w")]).toEqual([
    expect.closeTo(2, 9),
    expect.closeTo(-2, 9),
  ]);
  for (const name of ["z", "w"]) {
    expect(determinationNamed(solution, name)).toMatchObject({ how: "solved", whatever: "found" });
  }
  for (const name of ["x", "y", "u", "v"]) {
    expect(determinationNamed(solution, name).how).toBe("open");
  }
  expect(solution.failures).toEqual([]);
});

test("what curved equations fix only where they touch is not told as fixed", () => {
  // (x − 2)² + (y − 1)² + z = 3, z + (x − 2)² = 3 − w²: w² = (y − 1)², two ways for each y.
  const solution = solve(
    new SystemBuilder()
      .variable("w", { range: [-10, 10] })
      .equation("one", add(pow(sub("x", 2), 2), pow(sub("y", 1), 2), "z"), 3)
      .equation("two", add("z", pow(sub("x", 2), 2), pow("w", 2)), 3)
      .system(),
  );
  for (const name of ["w", "x", "y", "z"]) {
    expect(determinationNamed(solution, name)).not.toHaveProperty("whatever");
    expect(valueNamed(solution, name)).toBeNaN();
  }
});

describe("beside what is supposed of what lines fix", () => {
  // With s = x + y + w: 3 s + z = 18 and 0.2 s − z = −1, so that s is 17 / 3.2 and z 0.2 s + 1.
  const s = 17 / 3.2;
  const z = 0.2 * s + 1;
  const lines = (scale: number) =>
    new SystemBuilder()
      .variable("z", { scale })
      .variable("x", { scale: 40, range: [-100, 100] })
      .variable("y", { range: [0, 50] })
      .equation("sum", add(mul(3, add("x", "y", "w")), "z"), 18)
      .equation("difference", sub(mul(0.2, add("x", "y", "w")), "z"), -1);

  test("what comes to the same is left as supposed, and found so without solving again", () => {
    for (const scale of [1e-3, 0.25, 30]) {
      const asked = (usual: number) => {
        const before = workDone();
        const solution = solve(lines(scale).equation("usual z", "z", usual, "default").system());
        return { solution, work: workDone() - before };
      };
      const [same, other] = [asked(z), asked(z + 2)];
      expect(determinationNamed(same.solution, "z").how).toBe("assumed");
      expect(restsOnNames(same.solution, "z")).toEqual(["usual z"]);
      expect(determinationNamed(other.solution, "z")).toMatchObject({
        how: "solved",
        whatever: "proved",
      });
      expect(valueNamed(other.solution, "z")).toBeCloseTo(z, 12);
      expect(same.work).toBeLessThan(0.7 * other.work);
    }
  });

  test("of two that are fixed both follow where one is supposed otherwise", () => {
    const two = (usualZ: number, usualV: number) =>
      solve(
        lines(1)
          .equation("and", add("x", "y", "w", mul(4, "v")), s + 8)
          .equation("usual v", "v", usualV, "default")
          .equation("usual z", "z", usualZ, "default")
          .system(),
      );
    for (const [usualZ, usualV] of [
      [z, 2],
      [z, 3],
      [z + 1, 2],
      [z + 1e-4, 2 - 1e-4],
    ] as const) {
      const solution = two(usualZ, usualV);
      expect(valueNamed(solution, "z")).toBeCloseTo(z, 10);
      expect(valueNamed(solution, "v")).toBeCloseTo(2, 10);
      expect(solution.conflicts).toEqual([]);
    }
  });

  test("curved ones, too: a cube that comes to what is supposed, and one that does not", () => {
    for (const [usual, how] of [
      [2, "assumed"],
      [2 + 1e-6, "solved"],
      [-2, "solved"],
      [3, "solved"],
    ] as const) {
      const solution = solve(
        new SystemBuilder()
          .variable("z", { range: [-10, 10] })
          .equation("cube", add(pow("z", 3), "x", "y", "w"), 13)
          .equation("rest", add("x", "y", "w"), 5)
          .equation("usual z", "z", usual, "default")
          .system(),
      );
      expect(determinationNamed(solution, "z").how, `${usual}`).toBe(how);
      expect(valueNamed(solution, "z")).toBeCloseTo(2, 9);
    }
  });
});

test("what is fixed is found in ranges of every kind", () => {
  // Wherever x and y may lie (within ends, above one, below one) x y + w is 6 and z 3.
  const ranges = [undefined, [0, 9], [-9, 0.5], [3, Number.POSITIVE_INFINITY]] as const;
  const below = [Number.NEGATIVE_INFINITY, -4] as const;
  for (const x of [...ranges, below]) {
    for (const y of [...ranges, below]) {
      const builder = new SystemBuilder();
      builder.variable("x", x === undefined ? {} : { range: x });
      builder.variable("y", y === undefined ? {} : { range: y });
      builder
        .variable("z", { range: [0, 20] })
        .equation("one", add(mul("x", "y"), "w", pow("z", 2)), 15)
        .equation("two", sub(add(mul("x", "y"), "w"), "z"), 3);
      // z² + z = 12
      const solution = solve(builder.system());
      expect(valueNamed(solution, "z")).toBeCloseTo(3, 9);
      expect(determinationNamed(solution, "z")).toMatchObject({ whatever: "found" });
    }
  }
});

test("what is fixed on one branch and follows what is open on another is not told as fixed", () => {
  // (z − 1) (z − x) is 0: z is 1, or whatever x is.
  for (const range of [
    [-10, 10],
    [0, 3],
    [1.5, 20],
  ] as const) {
    const solution = solve(
      new SystemBuilder()
        .variable("z", { range: [-20, 20] })
        .variable("x", { range })
        .equation("one", add("x", "y", "w", mul(sub("z", 1), sub("z", "x"))), 6)
        .equation("two", add("x", "y", "w"), 6)
        .equation("and", "v", mul(2, "z"))
        .system(),
    );
    for (const name of ["z", "x", "y", "w", "v"]) {
      expect(determinationNamed(solution, name).how).toBe("open");
    }
    expect([solution.failures, solution.conflicts]).toEqual([[], []]);
  }
});
