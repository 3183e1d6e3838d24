/**
 * Equations that have to be solved together, few and many: answers by closed forms, and what is told
 * where there is none, several, a whole stretch or no value.
 */
import { lusolve } from "mathjs";
import { describe, expect, test } from "vitest";
import { sensitivities, solve, solveOverlay, withGivens } from "../../server/solve";
import { factorSparse } from "../../server/solve/sparse-lu";
import type { Solution } from "../../server/solve/system";
import {
  add,
  call,
  div,
  exactly,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  valueNamed,
} from "./build";
import { randoms } from "./random-systems";

const name = (i: number): string => `v${i}`;

interface Ring {
  readonly count: number;
  /** What stands left of `= right` for the ith figure and the next one. */
  readonly left: (own: string, next: string, i: number) => Term;
  readonly right: (i: number) => Term;
  readonly range?: readonly [number, number];
  readonly scale?: number;
}

/** Each figure hangs together with the next, the last with the first. */
function ring({ count, left, right, range, scale = 1 }: Ring): SystemBuilder {
  const builder = new SystemBuilder();
  for (let i = 0; i < count; i++)
    builder.variable(name(i), { scale, ...(range === undefined ? {} : { range }) });
  for (let i = 0; i < count; i++)
    builder.equation(
      `e${String(i).padStart(3, "0")}`,
      left(name(i), name((i + 1) % count), i),
      right(i),
    );
  return builder;
}

const values = (solution: Solution, count: number): number[] =>
  Array.from({ length: count }, (_, i) => valueNamed(solution, name(i)));

const counts = [2, 3, 9, 14, 17, 40, 63, 70, 90];

describe("straight ones", () => {
  test.each(counts)("%d in a ring, against an algebra library", (count) => {
    const system = ring({
      count,
      left: (own, next, i) => add(mul(3 + (i % 4), own), mul(i % 2 === 0 ? -1 : 1.5, next)),
      right: (i) => (i % 5) - 1,
      scale: 1e-3,
    }).system();
    const rows = Array.from({ length: count }, (_, i) => {
      const row = new Array<number>(count).fill(0);
      row[i]! += 3 + (i % 4);
      row[(i + 1) % count]! += i % 2 === 0 ? -1 : 1.5;
      return row;
    });
    const wanted = lusolve(
      rows,
      rows.map((_, i) => (i % 5) - 1),
    ) as number[][];
    expect(values(solve(system), count)).toEqual(wanted.map(([x]) => expect.closeTo(x!, 10)));
  });

  test("an answer outside of a range is none, at its end it is one", () => {
    const within = (high: number) =>
      solve(
        new SystemBuilder()
          .variable("x", { range: [0, high] })
          .variable("y", { range: [-3, 3] })
          .equation("sum", add("x", "y"), 4)
          .equation("apart", sub("x", "y"), 6)
          .system(),
      );
    // x = 5, y = −1.
    expect(valueNamed(within(5), "x")).toBeCloseTo(5, 12);
    expect(within(4.99).failures.map(({ why }) => why)).toEqual(["no-root"]);
    expect(valueNamed(within(4.99), "y")).toBeNaN();
  });
});

describe("bent ones", () => {
  test.each(counts)("%d in a ring, all at one place", (count) => {
    // x³ + x + next/2 is 12.5 ... at 2: 8 + 2 + 1 = 11.
    const system = ring({
      count,
      left: (own, next) => add(pow(own, 3), own, mul(0.5, next)),
      right: () => 11,
      range: [0, 10],
    }).system();
    const solution = solve(system);
    expect(solution.failures).toEqual([]);
    for (const value of values(solution, count)) expect(value).toBeCloseTo(2, 9);
  });

  test.each([3, 17, 70])("%d that follow a given, by its slope", (count) => {
    const builder = ring({
      count,
      left: (own, next) => add(mul(own, own), mul(3, own), mul(0.5, next)),
      right: () => "load",
      range: [0, 50],
    }).given({ load: 17 });
    const solution = solve(builder.system());
    // At x everywhere: x² + 3.5 x = load, so that dx/dload is 1/(2x + 3.5).
    const at = (load: number) => (-3.5 + Math.sqrt(3.5 ** 2 + 4 * load)) / 2;
    for (const value of values(solution, count)) expect(value).toBeCloseTo(at(17), 9);
    const slope = sensitivities(solution, builder.quantity(name(1))).get(builder.index("load"))!;
    expect(slope).toBeCloseTo(1 / (2 * at(17) + 3.5), 9);
    for (const load of [0.5, 30, 400]) {
      const moved = solveOverlay(solution, {
        givens: new Map([[builder.index("load"), exactly(load)]]),
      });
      for (const value of values(moved, count)) expect(value).toBeCloseTo(at(load), 8);
    }
  });

  test.each([2, 3, 17, 40])("%d without an answer", (count) => {
    const solution = solve(
      ring({
        count,
        left: (own, next) => add(pow(own, 2), mul(2, pow(next, 2))),
        right: () => -1,
        range: [-5, 5],
      }).system(),
    );
    expect(solution.failures).toHaveLength(1);
    // Of a few it is proved, of many none was found.
    expect(solution.failures[0]!.why).toBe(count <= 16 ? "no-root" : "no-convergence");
    for (const value of values(solution, count)) expect(value).toBeNaN();
  });

  test.each([2, 3, 17, 40])("%d without a value", (count) => {
    const solution = solve(
      ring({
        count,
        left: (own, next) => add(call("sqrt", sub(-9, pow(own, 2))), next),
        right: () => 1,
        range: [-2, 2],
      }).system(),
    );
    expect(solution.failures).toHaveLength(1);
    expect(["not-defined", "no-root"]).toContain(solution.failures[0]!.why);
    if (count > 16) expect(solution.failures[0]!.why).toBe("not-defined");
  });

  test("two answers of two, of three, told in order and proved to be all", () => {
    const two = solve(
      ring({
        count: 2,
        left: (own, next) => sub(mul(own, own), next),
        right: () => 0,
        range: [-4, 4],
      }).system(),
    );
    // x = y², y = x²: at 0 and at 1.
    expect(two.failures[0]).toMatchObject({ why: "several-roots", complete: true });
    expect(two.failures[0]!.answers).toEqual([
      [expect.closeTo(0, 6), expect.closeTo(0, 6)],
      [expect.closeTo(1, 9), expect.closeTo(1, 9)],
    ]);
    const three = solve(
      ring({
        count: 3,
        left: (own, next) => sub(mul(own, own), next),
        right: () => 2,
        range: [-1.7, 4],
      }).system(),
    );
    // All at x² − x = 2: 2 or −1, or the three that go round in turn.
    const { answers = [], why, complete } = three.failures[0]!;
    expect([why, complete]).toEqual(["several-roots", true]);
    for (const each of answers)
      for (const [i, x] of each.entries()) expect(x * x - each[(i + 1) % 3]!).toBeCloseTo(2, 7);
    for (const known of [2, -1])
      expect(answers.some((each) => each.every((x) => Math.abs(x - known) < 1e-7))).toBe(true);
    const firsts = answers.map(([x]) => x!);
    expect([...firsts].sort((one, other) => one - other)).toEqual(firsts);
  });

  test("many with two answers are told as several, or given as one where a range leaves one", () => {
    // x² + next/10: both at one place: x² + x/10 = 4.2 has 2 and −2.1.
    const many = (range: readonly [number, number]) =>
      solve(
        ring({
          count: 20,
          left: (own, next) => add(pow(own, 2), mul(0.1, next)),
          right: () => 4.2,
          range,
        }).system(),
      );
    for (const value of values(many([0, 9]), 20)) expect(value).toBeCloseTo(2, 9);
    for (const value of values(many([-9, -1]), 20)) expect(value).toBeCloseTo(-2.1, 9);
    const [failure] = many([-9, 9]).failures;
    expect(failure?.why).toBe("several-roots");
    expect(failure?.complete).toBe(false);
  });

  test("where curves touch there is one answer", () => {
    const touching = solve(
      new SystemBuilder()
        .variable("x", { range: [-9, 9] })
        .variable("y", { range: [-9, 9] })
        .equation("parabola", "y", pow("x", 2))
        .equation("tangent", "y", sub(mul(2, "x"), 1))
        .system(),
    );
    expect(touching.failures.filter(({ why }) => why !== "several-roots")).toEqual([]);
    if (touching.failures.length === 0) expect(valueNamed(touching, "x")).toBeCloseTo(1, 5);
  });

  test("a whole stretch of answers is no answer", () => {
    const solution = solve(
      new SystemBuilder()
        .variable("x", { range: [0, 9] })
        .variable("y", { range: [0, 9] })
        .equation("circle", add(pow("x", 2), pow("y", 2)), 25)
        .equation("again", mul(2, call("sqrt", add(pow("x", 2), pow("y", 2)))), 10)
        .system(),
    );
    expect(valueNamed(solution, "x")).toBeNaN();
    expect(solution.conflicts).toEqual([]);
    expect(solution.failures).toEqual([]);
  });

  test("starting far from the answer, in figures of very different sizes", () => {
    const solution = solve(
      new SystemBuilder()
        .variable("small", { scale: 1e-6, range: [0, 1e-3] })
        .variable("large", { scale: 1e6, range: [0, 1e9] })
        .equation("product", mul("small", "large"), 84)
        .equation("ratio", div("large", "small"), 3.36e12 / 7)
        .system(),
    );
    // large² is 84 × 4.8e11.
    const large = Math.sqrt(84 * 4.8e11);
    expect(valueNamed(solution, "large") / large).toBeCloseTo(1, 9);
    expect((valueNamed(solution, "small") * large) / 84).toBeCloseTo(1, 9);
  });

  test("givens that are moved: solved again it is what it is from nothing", () => {
    const builder = new SystemBuilder()
      .given({ a: 4, b: 9 })
      .variable("x", { range: [0, 40] })
      .variable("y", { range: [0, 40] })
      .variable("z", { range: [0, 40] })
      .equation("one", add(mul("x", "y"), "z"), "a")
      .equation("two", add("x", mul(2, "y")), "b")
      .equation("three", sub("z", mul(0.25, "x")), 1);
    const base = solve(builder.system());
    for (const [a, b] of [
      [4, 9],
      [5, 9.5],
      [8, 14],
      [3, 6],
    ] as const) {
      const givens = new Map([
        [builder.index("a"), exactly(a)],
        [builder.index("b"), exactly(b)],
      ]);
      const fresh = solve(withGivens(base.system, givens));
      const moved = solveOverlay(base, { givens });
      expect(moved.failures.map(({ why }) => why)).toEqual(fresh.failures.map(({ why }) => why));
      for (const each of ["x", "y", "z"])
        if (!Number.isNaN(valueNamed(fresh, each)))
          expect(valueNamed(moved, each)).toBeCloseTo(valueNamed(fresh, each), 9);
    }
  });
});

describe("factors of a sparse matrix", () => {
  const rowsOf = (full: readonly (readonly number[])[]) =>
    full.map((row) => {
      const columns = [...row.keys()].filter((j) => row[j] !== 0);
      return { columns, entries: columns.map((j) => row[j]!) };
    });

  test("do not begin with an entry that is next to nothing", () => {
    // Begun with 1e-18 the second unknown would come out as 0 (Golub and Van Loan, Matrix Computations, 3.3).
    const full = [
      [1e-18, 1, 0],
      [1, 1, 0],
      [0, 3, 2],
    ];
    const found = factorSparse(rowsOf(full)).solve([1, 2, 5]);
    expect([...found]).toEqual([1, 1, 1].map((x) => expect.closeTo(x, 12)));
    const turned = factorSparse(rowsOf(full)).solveTransposed([1, 4, 2]);
    // Aᵀ y: y2 + …: by substitution y3 = 1, then y2 = 1, y1 = 4 − 1 − 3 = 0.
    expect([...turned]).toEqual([0, 1, 1].map((x) => expect.closeTo(x, 12)));
  });

  test("arrows, bands and stars of many sizes of entries, against an algebra library", () => {
    const random = randoms(3);
    const shapes: readonly ((i: number, j: number, size: number) => boolean)[] = [
      (i, j) => i === 0 || j === 0 || i === j,
      (i, j) => Math.abs(i - j) <= 2,
      (i, j, size) => i === size - 1 || j === (i + 1) % size || i === j,
      (i, j) => (i * 5 + j * 3) % 7 === 0 || i === j,
    ];
    for (const shape of shapes) {
      for (const size of [6, 15, 25]) {
        const full = Array.from({ length: size }, (_, i) =>
          Array.from({ length: size }, (_, j) =>
            shape(i, j, size) ? (random() - 0.5) * 10 ** Math.floor(random() * 6 - 5) : 0,
          ),
        );
        for (let i = 0; i < size; i++) full[i]![(i + 2) % size] = 1 + random();
        const right = full.map(() => random());
        const solver = factorSparse(rowsOf(full));
        expect(solver.smallestPivot).toBeGreaterThan(0);
        const residual = (matrix: readonly (readonly number[])[], x: ArrayLike<number>): number =>
          Math.max(
            ...matrix.map((row, i) =>
              Math.abs(row.reduce((sum, entry, j) => sum + entry * x[j]!, -right[i]!)),
            ),
          );
        const turned = full.map((_, j) => full.map((row) => row[j]!));
        expect(residual(full, solver.solve(right))).toBeLessThan(1e-8);
        expect(residual(turned, solver.solveTransposed(right))).toBeLessThan(1e-8);
      }
    }
  });

  test("of one row, of none, of rows that are empty or the same", () => {
    expect([...factorSparse([{ columns: [0], entries: [4] }]).solve([6])]).toEqual([1.5]);
    expect(factorSparse([]).smallestPivot).toBe(1);
    expect(factorSparse([{ columns: [], entries: [] }]).smallestPivot).toBe(0);
    expect(
      factorSparse(
        rowsOf([
          [1, 0],
          [2, 0],
        ]),
      ).smallestPivot,
    ).toBe(0);
  });
});
