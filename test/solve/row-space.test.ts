/**
 * What equations fix beyond what their structure says, against the null space that a general library
 * (mathjs) has of the same rows: a figure is fixed where no direction in it moves that figure.
 */
import fc from "fast-check";
import { eigs, matrix, multiply, transpose } from "mathjs";
import { expect, test } from "vitest";
import { missingFor } from "../../server/solve/missing";
import { solve, solveOverlay } from "../../server/solve/solve";
import { spreadOf } from "../../server/solve/spread";
import {
  add,
  call,
  determinationNamed,
  exactly,
  mul,
  pow,
  SystemBuilder,
  sub,
  valueNamed,
  within,
} from "./build";

const COLUMNS = 6;

/** How long each axis is in the null space of some rows: 0 where they fix it. */
function inNullSpace(rows: readonly (readonly number[])[]): number[] {
  const own = matrix(rows as number[][]);
  const { eigenvectors } = eigs(multiply(transpose(own), own)) as unknown as {
    eigenvectors: { value: number; vector: { toArray(): number[] } }[];
  };
  return Array.from({ length: COLUMNS }, (_, column) =>
    eigenvectors.reduce((sum, { value, vector }) => {
      const entries = vector.toArray();
      return Math.abs(value) < 1e-9 ? sum + entries[column]! ** 2 : sum;
    }, 0),
  );
}

const entry = fc.constantFrom(-2, -1, 0, 0, 1, 1, 3);
const row = fc.array(entry, { minLength: COLUMNS, maxLength: COLUMNS });
/** Some rows and sums of them with another: they often say one thing twice but for one figure. */
const rowsDrawn = fc
  .record({
    rows: fc.array(row, { minLength: 2, maxLength: 4 }),
    mixes: fc.array(
      fc.record({
        one: fc.nat(),
        other: fc.nat(),
        share: fc.constantFrom(-1, 1, 2),
        at: fc.nat(COLUMNS - 1),
        off: fc.constantFrom(0, 1, 1, 3),
      }),
      { minLength: 0, maxLength: 3 },
    ),
  })
  .map(({ rows, mixes }) => [
    ...rows,
    ...mixes.map(({ one, other, share, at, off }) =>
      rows[one % rows.length]!.map(
        (each, column) =>
          each + share * rows[other % rows.length]![column]! + (column === at ? off : 0),
      ),
    ),
  ])
  .map((rows) => rows.filter((each) => each.some((one) => one !== 0)));

test("what rows of numbers fix is given, and nothing else, whatever their structure", () => {
  const met = { fixed: 0, beyondStructure: 0, open: 0 };
  const answers = fc.array(fc.integer({ min: -9, max: 9 }), {
    minLength: COLUMNS,
    maxLength: COLUMNS,
  });
  fc.assert(
    fc.property(rowsDrawn, answers, (rows, answer) => {
      fc.pre(rows.length > 0);
      const builder = new SystemBuilder();
      for (let column = 0; column < COLUMNS; column++) builder.variable(`x${column}`);
      rows.forEach((entries, at) => {
        const terms = entries.flatMap((each, column) =>
          each === 0 ? [] : [mul(each, `x${column}`)],
        );
        const right = entries.reduce((sum, each, column) => sum + each * answer[column]!, 0);
        builder.equation(`row ${at}`, add(...terms), right);
      });
      const solution = solve(builder.system());
      expect(solution.conflicts).toEqual([]);
      expect(solution.failures).toEqual([]);
      inNullSpace(rows).forEach((length, column) => {
        const determination = solution.determinations[column]!;
        if (length > 1e-9) {
          met.open++;
          expect(determination.how).toBe("open");
          return;
        }
        met.fixed++;
        expect(determination.how).toBe("solved");
        expect(solution.values[column]).toBeCloseTo(answer[column]!, 8);
        if ("whatever" in determination && determination.whatever !== undefined)
          met.beyondStructure++;
      });
    }),
    { numRuns: 1_500, seed: 13 },
  );
  expect(met.fixed).toBeGreaterThan(500);
  expect(met.beyondStructure).toBeGreaterThan(200);
  expect(met.open).toBeGreaterThan(500);
});

const sumAndDifference = (): SystemBuilder =>
  new SystemBuilder()
    .equation("sum", add("x", "y", "z"), 6)
    .equation("difference", sub(add("x", "y"), "z"), 0);

test("a third equation that says one thing twice takes nothing from what the others fix", () => {
  const builder = sumAndDifference().equation(
    "both",
    add(mul(2, "x"), mul(2, "y"), mul(5, "z")),
    21,
  );
  const solution = solve(builder.system());
  expect(valueNamed(solution, "z")).toBe(3);
  expect(determinationNamed(solution, "z")).toMatchObject({ how: "solved", whatever: "proved" });
  expect(determinationNamed(solution, "x").how).toBe("open");
  // Once one of them is known so is the other.
  expect(missingFor(solution, builder.index("x"))).toEqual([[builder.index("y")]]);
  const contradicted = sumAndDifference().equation("third", add("x", "y", mul(4, "z")), 16);
  expect(solve(contradicted.system()).conflicts).toHaveLength(1);
});

test("what is fixed goes on, and a default gives way to it", () => {
  const builder = sumAndDifference()
    .equation("next", "w", add("z", 1))
    .equation("default of z", "z", 5, "default");
  const solution = solve(builder.system());
  expect(valueNamed(solution, "z")).toBe(3);
  expect(valueNamed(solution, "w")).toBe(4);
  expect(solution.conflicts).toEqual([]);
});

test("± goes through: half of what was given, and as much as its factors make of it", () => {
  const builder = new SystemBuilder()
    .given({ k: within(6, 0.5), a: within(2, 0.1) })
    .equation("sum", add(mul("a", add("x", "y")), "z"), "k")
    .equation("difference", sub(mul("a", add("x", "y")), "z"), 0)
    .equation("share", mul("a", "u"), "z");
  const solution = solve(builder.system());
  // Bounds are tightened to a thousandth of their width.
  const { worstBelow, worstAbove } = spreadOf(solution, builder.quantity("z"))!;
  for (const side of [worstBelow, worstAbove]) {
    expect(side).toBeGreaterThanOrEqual(0.25);
    expect(side).toBeLessThan(0.2505);
  }
  // 3.25 / 1.9 and 2.75 / 2.1
  const share = spreadOf(solution, builder.quantity("u"))!;
  expect(share.worstAbove).toBeCloseTo(3.25 / 1.9 - 1.5, 3);
  expect(share.worstBelow).toBeCloseTo(1.5 - 2.75 / 2.1, 3);
});

test("figures that cancel only at one number of a tolerance are not fixed", () => {
  const builder = new SystemBuilder()
    .given({ a: within(2, 0.1) })
    .equation("sum", add(mul("a", "x"), "y", "z"), 6)
    .equation("difference", sub(add(mul(2, "x"), "y"), "z"), 0);
  expect(determinationNamed(solve(builder.system()), "z").how).toBe("open");
});

test("factors that hang on a tolerance count: z (a / b + 1) = 6", () => {
  const builder = new SystemBuilder()
    .given({ a: within(2, 0.1), b: exactly(4) })
    .equation("sum", add(mul("a", add("x", "y")), "z"), 6)
    .equation("share", mul("b", add("x", "y")), "z");
  const solution = solve(builder.system());
  expect(valueNamed(solution, "z")).toBeCloseTo(4, 12);
  const { worstAbove } = spreadOf(solution, builder.quantity("z"))!;
  expect(worstAbove).toBeCloseTo(6 / (1.9 / 4 + 1) - 4, 4);
});

test("curves that run alongside each other fix what they differ by, and it is told as found", () => {
  const curved = new SystemBuilder()
    .variable("x", { range: [0.1, 9] })
    .variable("y", { range: [0.1, 9] })
    .equation("area", add(mul("x", "y"), call("exp", "x"), "z"), 12)
    .equation("again", sub(add(mul("x", "y"), call("exp", "x")), mul(2, "z")), 3);
  const solution = solve(curved.system());
  expect(valueNamed(solution, "z")).toBeCloseTo(3, 9);
  expect(determinationNamed(solution, "z")).toMatchObject({ how: "solved", whatever: "found" });
  expect(determinationNamed(solution, "x").how).toBe("open");
  // These cross: nothing is fixed.
  const crossing = new SystemBuilder()
    .equation("circle", add(pow("x", 2), pow("y", 2), "z"), 12)
    .equation("line", sub(add("x", "y"), "z"), 0);
  expect(determinationNamed(solve(crossing.system()), "z").how).toBe("open");
});

test("a fixed figure beyond its range fails by the equations that fix it", () => {
  const builder = sumAndDifference().variable("z", { range: [0, 2] });
  const { failures } = solve(builder.system());
  expect(failures).toMatchObject([{ why: "no-root", variables: [builder.index("z")] }]);
});

test("what is laid over it is solved anew", () => {
  const builder = sumAndDifference();
  const solution = solve(builder.system());
  const without = solveOverlay(solution, { without: new Set([1]) });
  expect(determinationNamed(without, "z").how).toBe("open");
  const more = solveOverlay(solution, { givens: new Map([[builder.index("x"), exactly(1)]]) });
  expect(valueNamed(more, "y")).toBe(2);
});
