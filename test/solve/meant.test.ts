/** Which of several answers is taken: the one nearest to what is meant, each figure by its own size. */
import { describe, expect, test } from "vitest";
import { nearestOf } from "../../server/solve/execution";
import { solve } from "../../server/solve/solve";
import { add, determinationNamed, mul, pow, SystemBuilder, sub, valueNamed } from "./build";

describe("one figure", () => {
  const square = (near?: number) =>
    solve(
      new SystemBuilder()
        .variable("x", { range: [-10, 10], ...(near === undefined ? {} : { near }) })
        .equation("square", pow("x", 2), 4)
        .equation("next", "y", add("x", 1))
        .system(),
    );

  test.each([
    [1, 2],
    [0.001, 2],
    [7, 2],
    [-0.001, -2],
    [-9, -2],
    // As near to both: the first.
    [0, -2],
  ])("meant near %d is %d, and what follows rests on it", (near, x) => {
    const solution = square(near);
    expect(valueNamed(solution, "x")).toBeCloseTo(x, 12);
    expect(valueNamed(solution, "y")).toBeCloseTo(x + 1, 12);
    expect(solution.failures).toEqual([]);
  });

  test("of which nothing is meant is none of them", () => {
    const solution = square();
    expect(valueNamed(solution, "x")).toBeNaN();
    expect(solution.failures).toMatchObject([{ why: "several-roots", complete: true }]);
    expect(solution.failures[0]?.roots).toEqual([expect.closeTo(-2, 9), expect.closeTo(2, 9)]);
    expect(determinationNamed(solution, "y").how).toBe("failed");
  });
});

describe("figures that are solved together", () => {
  /** x² + y² = 25 and y = x + 1: 3 and 4, or −4 and −3. */
  const pair = (
    x: { near?: number; scale?: number },
    y: { near?: number; scale?: number } = {},
  ): readonly number[] => {
    const solution = solve(
      new SystemBuilder()
        .variable("x", { range: [-10, 10], ...x })
        .variable("y", { range: [-10, 10], ...y })
        .equation("circle", add(pow("x", 2), pow("y", 2)), 25)
        .equation("other", add(mul(2, "y"), pow(sub("y", "x"), 3)), add(mul(2, "x"), 3))
        .system(),
    );
    return ["x", "y"].map((name) => Math.round(valueNamed(solution, name) * 1e9) / 1e9);
  };

  test("are those that lie nearest in all that is meant", () => {
    expect(pair({ near: 1 })).toEqual([3, 4]);
    expect(pair({ near: -1 })).toEqual([-4, -3]);
    expect(pair({}, { near: 1 })).toEqual([3, 4]);
    expect(pair({}, { near: -1 })).toEqual([-4, -3]);
    // One speaks for each: 4 and 0 off, or 3 and 7.
    expect(pair({ near: -1 }, { near: 4 })).toEqual([3, 4]);
    // Where y is a matter of hundreds its 7 are 0.07.
    expect(pair({ near: -1 }, { near: 4, scale: 100 })).toEqual([-4, -3]);
  });
});

test("the nearest of answers, by what is meant of each figure", () => {
  const { variables } = new SystemBuilder()
    .variable("a", { near: 10, scale: 10 })
    .variable("b", { near: 1 })
    .variable("c")
    .system();
  const system = { variables, equations: [] };
  const answers = [
    [0, 5, 0],
    [20, 1, 9],
    [10, 1.5, 3],
  ];
  // 1 and 4, 1 and 0, 0 and 0.5.
  expect(nearestOf(system, [0, 1, 2], answers)).toBe(answers[2]);
  expect(
    nearestOf(
      system,
      [2, 1, 0],
      [
        [0, 1, 40],
        [0, 2, 20],
      ],
    ),
  ).toEqual([0, 2, 20]);
  expect(nearestOf(system, [1], [[3], [-1], [2]])).toEqual([2]);
  expect(nearestOf(system, [1], [[3], [-1]])).toEqual([3]);
  expect(nearestOf(system, [2], answers)).toBeUndefined();
  expect(nearestOf(system, [0, 1], [])).toBeUndefined();
});
