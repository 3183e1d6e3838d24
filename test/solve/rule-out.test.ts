/**
 * Of several answers those that something further on rules out, held to answers found by trying every
 * root by hand: Himmelblau's four points (Applied Nonlinear Programming, 1972), roots of quadratics.
 */
import { expect, test } from "vitest";
import { solve, solveOverlay } from "../../server/solve/solve";
import { add, compare, exactly, mul, pow, SystemBuilder, sub, valueNamed } from "./build";

const himmelblau = (): SystemBuilder =>
  new SystemBuilder()
    .variable("x", { range: [-10, 10] })
    .variable("y", { range: [-10, 10] })
    .equation("one", add(pow("x", 2), "y"), 11)
    .equation("two", add("x", pow("y", 2)), 7);

/** Where its gradient and the function are nothing. */
const points = [
  [3, 2],
  [-2.805118, 3.131312],
  [-3.77931, -3.283186],
  [3.584428, -1.848126],
] as const;

test("the range of what follows leaves one of Himmelblau's four points, whichever is meant", () => {
  for (const [x, y] of points) {
    const far = x - 2 * y;
    const system = himmelblau()
      .variable("far", { range: [far - 0.3, far + 0.3] })
      .equation("follows", "far", sub("x", mul(2, "y")))
      .system();
    const among = points.filter(([a, b]) => Math.abs(a - 2 * b - far) <= 0.3);
    const solution = solve(system);
    expect(among).toHaveLength(1);
    expect(valueNamed(solution, "x")).toBeCloseTo(x, 5);
    expect(valueNamed(solution, "y")).toBeCloseTo(y, 5);
    expect(solution.failures).toEqual([]);
  }
});

test("two that are left stay two, and none is taken where none is left", () => {
  const two = himmelblau()
    .variable("sum", { range: [0, 10] })
    .equation("follows", "sum", add("x", "y"))
    .system();
  // 3 + 2, -2.8 + 3.1 and 3.6 - 1.8 are left; all four stay listed.
  expect(solve(two).failures.map(({ answers }) => answers?.length)).toEqual([4]);
  const none = himmelblau()
    .variable("sum", { range: [20, 30] })
    .equation("follows", "sum", add("x", "y"))
    .system();
  const solution = solve(none);
  expect(solution.failures.map(({ why }) => why)).toContain("several-roots");
  expect(valueNamed(solution, "x")).toBeNaN();
});

test("a root of a quadratic is ruled out several steps on, and again one behind it", () => {
  // x² = a; y = x + 3 in 2..9 leaves +√a only where 3 - √a < 2; z² = y has the same two, z ≥ 0 leaves one.
  for (const a of [1.44, 4, 9, 16, 25]) {
    const system = new SystemBuilder()
      .given({ a })
      .variable("y", { range: [2, 9] })
      .variable("w", { range: [0, 100] })
      .equation("square", pow("x", 2), "a")
      .equation("shift", "y", add("x", 3))
      .equation("again", pow("z", 2), "y")
      .equation("half", "w", mul(2, "z"))
      .system();
    const solution = solve(system);
    expect(valueNamed(solution, "x")).toBeCloseTo(Math.sqrt(a), 12);
    expect(valueNamed(solution, "z")).toBeCloseTo(Math.sqrt(Math.sqrt(a) + 3), 12);
  }
});

test("a relation left over decides, in any order, under an overlay and in a case", () => {
  const builder = new SystemBuilder()
    .given({ a: 9, check: exactly(-6) })
    .equation("square", pow("x", 2), "a")
    .equation("double", "check", mul(2, "x"));
  // Two of x and two of y are left each by itself; together it is one pair.
  expect(valueNamed(solve(builder.system()), "x")).toBe(-3);
  const longer = new SystemBuilder()
    .given({ a: 9, c: 8 })
    .equation("square", pow("x", 2), "a")
    .equation("next", "y", add("x", 1))
    .equation("last", mul("y", "y"), mul(2, "c"))
    .system();
  const base = solve(longer);
  expect(valueNamed(base, "x")).toBeCloseTo(3, 12);
  const index = longer.variables.findIndex(({ name }) => name === "c");
  const over = solveOverlay(base, { givens: new Map([[index, exactly(2)]]) });
  expect(valueNamed(over, "x")).toBeCloseTo(-3, 12);
  expect(over.conflicts).toEqual([]);
  const cases = new SystemBuilder()
    .given({ a: 9, m: 1 })
    .variable("y", { range: [0, 100] })
    .equation("square", pow("x", 2), "a")
    .equation("up", "y", add("x", 1), "relation", compare("m", ">", 0))
    .equation("down", "y", sub(1, "x"), "relation", compare("m", "<=", 0));
  expect(valueNamed(solve(cases.system()), "x")).toBe(3);
  expect(valueNamed(solve(cases.given({ m: -1 }).system()), "x")).toBe(-3);
});
