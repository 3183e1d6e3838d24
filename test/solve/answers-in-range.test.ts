/** Answers that lie in a range, of polynomials made from their roots and of curves that cross. */
import { describe, expect, test } from "vitest";
import { solve } from "../../server/solve/solve";
import { add, call, mul, pow, SystemBuilder, sub, valueNamed } from "./build";

describe("answers of one figure", () => {
  // Each polynomial is made from its roots; those in the range, and no other, are answers.
  const cases: readonly [string, readonly number[], readonly [number, number]][] = [
    ["three, one out of range", [-2, 0.5, 3], [-1, 10]],
    ["two that nearly meet", [1, 1.0001, -4], [0, 2]],
    ["five", [-1.5, -0.25, 0.75, 1.25, 2.5], [-2, 3]],
    ["one in range of four", [-3, -2, -1, 4], [0, 10]],
    ["none", [-3, -2], [0, 10]],
    ["far and near", [0.001, 900], [0, 1000]],
  ];
  test.each(cases)("%s", (_, roots, range) => {
    const builder = new SystemBuilder().variable("x", { range });
    const product = roots.map((root) => sub("x", root)).reduce((left, right) => mul(left, right));
    builder.equation("product", product, 0);
    const solution = solve(builder.system());
    const inside = roots
      .filter((root) => root >= range[0] && root <= range[1])
      .sort((x, y) => x - y);
    const x = valueNamed(solution, "x");
    if (inside.length === 1) expect(x).toBeCloseTo(inside[0]!, 9);
    else {
      expect(x).toBeNaN();
      const [failure] = solution.failures;
      expect(failure?.why).toBe(inside.length === 0 ? "no-root" : "several-roots");
      expect(failure?.roots ?? []).toEqual(inside.map((root) => expect.closeTo(root, 6)));
    }
  });
});

describe("answers of figures solved together", () => {
  const cases: readonly [
    string,
    (builder: SystemBuilder) => void,
    readonly (readonly [number, number])[],
  ][] = [
    // By hand: x² + y² = 25 and x y = 12.
    [
      "a circle and a hyperbola",
      (builder) => {
        builder.equation("circle", add(pow("x", 2), pow("y", 2)), 25);
        builder.equation("hyperbola", mul("x", "y"), 12);
      },
      [
        [-4, -3],
        [-3, -4],
        [3, 4],
        [4, 3],
      ],
    ],
    // y = x² − 3 and x = y² − 3, two on the line and two beside it.
    [
      "two parabolas",
      (builder) => {
        builder.equation("up", "y", sub(pow("x", 2), 3));
        builder.equation("aside", "x", sub(pow("y", 2), 3));
      },
      [
        [(1 - Math.sqrt(13)) / 2, (1 - Math.sqrt(13)) / 2],
        [-2, 1],
        [1, -2],
        [(1 + Math.sqrt(13)) / 2, (1 + Math.sqrt(13)) / 2],
      ],
    ],
    // |x| + |y| = 4 and y = x + 2.
    [
      "a square on its corner and a line",
      (builder) => {
        builder.equation("square", add(call("abs", "x"), call("abs", "y")), 4);
        builder.equation("line", "y", add("x", 2));
      },
      [
        [-3, -1],
        [1, 3],
      ],
    ],
  ];
  test.each(cases)("%s", (_, write, answers) => {
    const builder = new SystemBuilder()
      .variable("x", { range: [-10, 10] })
      .variable("y", { range: [-10, 10] });
    write(builder);
    const solution = solve(builder.system());
    const [failure] = solution.failures;
    expect(failure?.why).toBe("several-roots");
    const at = ["x", "y"].map((name) => failure!.variables.indexOf(builder.index(name)));
    const found =
      failure?.answers === undefined
        ? // One of both was put into the other's equation.
          failure!.roots!.map((root) => [root])
        : failure.answers.map((answer) => at.map((place) => answer[place]!));
    const wanted = answers.map((answer) =>
      failure?.answers === undefined ? answer.filter((_v, k) => at[k]! >= 0) : [...answer],
    );
    const sorted = (rows: readonly (readonly number[])[]) =>
      [...rows].sort((one, other) => one[0]! - other[0]! || one[1]! - other[1]!);
    expect(found).toHaveLength(wanted.length);
    for (const [k, row] of sorted(wanted).entries()) {
      expect(sorted(found)[k]).toEqual(row.map((each) => expect.closeTo(each, 6)));
    }
  });
});
