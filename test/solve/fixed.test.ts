/**
 * Figures that curved equations fix while others stay open, by hand: where they are fixed in several
 * ways, the ways are told as the answers of any figure are.
 */
import { describe, expect, test } from "vitest";
import { solve } from "../../server/solve/solve";
import { add, determinationNamed, mul, pow, SystemBuilder, sub, valueNamed } from "./build";

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
