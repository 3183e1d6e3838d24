/**
 * Readings that do not close, against the normal equations of the same readings over the figures
 * behind them: another way to the same least squares, with no conditions in it.
 */
import { describe, expect, test } from "vitest";
import { adjusted } from "../../server/solve/adjust";
import { solve } from "../../server/solve/solve";
import { add, SystemBuilder, sub, within } from "./build";

/** Least squares over two figures: readings as rows of a design, each with its standard uncertainty. */
function byNormalEquations(
  rows: readonly {
    readonly of: readonly [number, number];
    readonly read: number;
    readonly u: number;
  }[],
) {
  const sum = (term: (row: (typeof rows)[number]) => number) =>
    rows.reduce((all, row) => all + term(row) / row.u ** 2, 0);
  const a = sum(({ of: [x] }) => x * x);
  const b = sum(({ of: [x, y] }) => x * y);
  const d = sum(({ of: [, y] }) => y * y);
  const right = [sum(({ of: [x], read }) => x * read), sum(({ of: [, y], read }) => y * read)];
  const [first = 0, second = 0] = right;
  const det = a * d - b * b;
  const [x, y] = [(d * first - b * second) / det, (a * second - b * first) / det];
  return rows.map(({ of: [p, q], read, u }) => {
    const adjusted = p * x + q * y;
    const own = (p * (d * p - b * q) + q * (a * q - b * p)) / det;
    return { adjusted, standardized: Math.abs(adjusted - read) / Math.sqrt(u * u - own) };
  });
}

describe("readings that do not close", () => {
  const readings = [
    { name: "left", read: 28.1, off: 1 / 32, of: [1, 0] },
    { name: "right", read: 28.3, off: 1 / 16, of: [0, 1] },
    { name: "width", read: 56.75, off: 1 / 32, of: [1, 1] },
    { name: "apart", read: 0.21, off: 1 / 64, of: [-1, 1] },
  ] as const;
  const system = (names: readonly string[]) => {
    const some = readings.filter(({ name }) => names.includes(name));
    const builder = new SystemBuilder().given(
      Object.fromEntries(some.map(({ name, read, off }) => [name, within(read, off)])),
    );
    if (names.includes("width")) builder.equation("width", "width", add("left", "right"));
    if (names.includes("apart")) builder.equation("apart", "apart", sub("right", "left"));
    return solve(builder.system());
  };
  const expected = (names: readonly string[]) => {
    const some = readings.filter(({ name }) => names.includes(name));
    const found = byNormalEquations(some.map(({ of, read, off }) => ({ of, read, u: off / 3 })));
    return new Map<string, (typeof found)[number] | undefined>(
      some.map(({ name }, at) => [name, found[at]]),
    );
  };

  for (const names of [
    ["left", "right", "width"],
    ["left", "right", "width", "apart"],
  ]) {
    test(names.join(", "), () => {
      const solution = system(names);
      const equations = solution.conflicts.map(({ equation }) => equation);
      const { readings: found, redundancy } = adjusted(solution, [
        ...equations,
        ...solution.redundant,
      ]) ?? { readings: [], redundancy: 0 };
      expect(redundancy).toBe(names.length - 2);
      const wanted = expected(names);
      expect(found.length).toBe(names.length);
      for (const { variable, adjusted: value, standardized } of found) {
        const by = wanted.get(solution.system.variables[variable]?.name ?? "");
        expect(value).toBeCloseTo(by?.adjusted ?? 0, 9);
        expect(standardized).toBeCloseTo(by?.standardized ?? 0, 6);
      }
    });
  }

  test("what the others make of a reading is the adjustment without it", () => {
    const names = ["left", "right", "width", "apart"];
    const others = names.filter((name) => name !== "width");
    const some = readings.filter(({ name }) => others.includes(name));
    const [left, right] = byNormalEquations(
      some.map(({ of, read, off }) => ({ of, read, u: off / 3 })),
    );
    const solution = system(names);
    const width = adjusted(solution, [0, 1])?.readings.find(
      ({ variable }) => solution.system.variables[variable]?.name === "width",
    );
    expect(width?.byOthers).toBeCloseTo((left?.adjusted ?? 0) + (right?.adjusted ?? 0), 9);
  });

  test("with one condition all are under the same suspicion, with more the wrong one stands out", () => {
    const one = adjusted(system(["left", "right", "width"]), [0])?.readings ?? [];
    for (const { standardized } of one)
      expect(standardized).toBeCloseTo(one[0]?.standardized ?? 0, 9);
    // The width and the difference agree with the right half; 28.1 is what does not fit.
    const solution = system(["left", "right", "width", "apart"]);
    const [first, second] = adjusted(solution, [0, 1])?.readings ?? [];
    expect(first?.standardized).toBeGreaterThan(second?.standardized ?? 0);
  });
});
