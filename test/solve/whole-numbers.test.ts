/**
 * Counts that equations leave open, held to every combination of whole numbers tried one by one, in
 * exact integers.
 */
import { describe, expect, test } from "vitest";
import { solve, solveOverlay } from "../../server/solve/solve";
import type { GivenNumber, Solution } from "../../server/solve/system";
import { add, div, exactly, mul, of, pow, SystemBuilder, sub, valueNamed, within } from "./build";

/** Pairs in a ring of whole numbers. */
function pairsOf(
  [fromX, toX]: readonly [number, number],
  [fromY, toY]: readonly [number, number],
  fits: (x: number, y: number) => boolean,
): (readonly [number, number])[] {
  const found: (readonly [number, number])[] = [];
  for (let x = fromX; x <= toX; x++) {
    for (let y = fromY; y <= toY; y++) if (fits(x, y)) found.push([x, y]);
  }
  return found;
}

function counted(x: readonly [number, number], y: readonly [number, number]): SystemBuilder {
  return new SystemBuilder()
    .variable("x", { range: x, whole: "sought" })
    .variable("y", { range: y, whole: "sought" });
}

/** What the solver answers: the pairs it knows of, and whether they are all. */
function toldOf(solution: Solution): { pairs: number[][]; complete: boolean } {
  const failure = solution.failures.find(({ inWholes }) => inWholes === true);
  if (failure === undefined) {
    const pair = [valueNamed(solution, "x"), valueNamed(solution, "y")];
    return { pairs: pair.some(Number.isNaN) ? [] : [pair], complete: !pair.some(Number.isNaN) };
  }
  const pairs = (failure.answers ?? []).map((each) => [...each]);
  return { pairs, complete: failure.complete ?? failure.why === "no-root" };
}

const sorted = (pairs: readonly (readonly number[])[]) =>
  pairs.map((pair) => [...pair]).sort((one, other) => one[0]! - other[0]! || one[1]! - other[1]!);

describe("one equation for two counts", () => {
  test("sums: every solution in the ranges, none, or the one", () => {
    const kinds = { none: 0, one: 0, several: 0 };
    for (let a = 1; a <= 7; a++) {
      for (let b = 2; b <= 9; b += 2) {
        for (let total = 1; total <= 46; total += 5) {
          const expected = pairsOf([0, 12], [0, 9], (x, y) => a * x + b * y === total);
          const system = counted([0, 12], [0, 9])
            .given({ total })
            .equation("sum", add(mul(a, "x"), mul(b, "y")), "total")
            .system();
          const { pairs, complete } = toldOf(solve(system));
          expect(complete, `${a} ${b} ${total}`).toBe(true);
          expect(sorted(pairs), `${a} ${b} ${total}`).toEqual(expected.map((pair) => [...pair]));
          kinds[expected.length === 0 ? "none" : expected.length === 1 ? "one" : "several"]++;
        }
      }
    }
    expect(Object.values(kinds).every((count) => count > 10)).toBe(true);
  });

  test("ratios by exact fractions, as finely as they are written", () => {
    for (const [ratio, rounding] of [
      [4.1, 0.05],
      [4.1, 0.005],
      [3.73, 0.005],
      [3.545, 0.0005],
      [4.444, 0.0005],
      [2.5, 0],
    ] as const) {
      const thousandths = Math.round(ratio * 10_000);
      const room = Math.round(rounding * 10_000);
      const expected = pairsOf(
        [8, 15],
        [30, 50],
        (x, y) => Math.abs(10_000 * y - thousandths * x) <= room * x,
      );
      const system = counted([8, 15], [30, 50])
        .given({ ratio: { value: ratio, low: ratio, high: ratio, rounding } })
        .equation("ratio", "ratio", div("y", "x"))
        .system();
      const { pairs } = toldOf(solve(system));
      expect(sorted(pairs), String(ratio)).toEqual(expected.map((pair) => [...pair]));
    }
  });

  test("products, squares and differences", () => {
    for (const [total, fits, left] of [
      [60, (x: number, y: number) => x * y === 60, mul("x", "y")],
      [61, (x: number, y: number) => x * y === 61, mul("x", "y")],
      [65, (x: number, y: number) => x ** 2 + y ** 2 === 65, add(pow("x", 2), pow("y", 2))],
      [21, (x: number, y: number) => x ** 2 - y ** 2 === 21, sub(pow("x", 2), pow("y", 2))],
      [
        7,
        (x: number, y: number) => x ** 2 - 2 * y ** 2 === 7,
        sub(pow("x", 2), mul(2, pow("y", 2))),
      ],
    ] as const) {
      const expected = pairsOf([1, 30], [1, 30], fits);
      const system = counted([1, 30], [1, 30])
        .given({ total })
        .equation("e", left, "total")
        .system();
      const { pairs, complete } = toldOf(solve(system));
      expect(complete, String(total)).toBe(true);
      expect(sorted(pairs), String(total)).toEqual(expected.map((pair) => [...pair]));
    }
  });
});

describe("with what they lead to", () => {
  const plates = (total: number, by: number) =>
    counted([0, 20], [0, 20])
      .given({ total: within(total, by), thick: exactly(3), thin: exactly(0.7) })
      .equation("stack", "height", add(mul("x", "thick"), mul("y", "thin")))
      .equation("whole", "total", add("height", 1))
      .equation("weight", "weight", mul(2, add("x", mul(3, "y"))));

  test("a ± of what is given is room for other counts, and what follows is solved with them", () => {
    for (const [total, by] of [
      [9.1, 0],
      [9.1, 0.06],
      [9.13, 0.02],
      [9.13, 0.04],
      [12.2, 0],
      [11.7, 0.1],
    ] as const) {
      const expected = pairsOf(
        [0, 20],
        [0, 20],
        (x, y) => Math.abs(30 * x + 7 * y + 10 - total * 10) <= by * 10 + 1e-9,
      );
      const solution = solve(plates(total, by).system());
      const { pairs } = toldOf(solution);
      expect(sorted(pairs), `${total} ${by}`).toEqual(expected.map((pair) => [...pair]));
      if (expected.length !== 1) continue;
      const [[x, y]] = expected as [readonly [number, number]];
      expect(valueNamed(solution, "weight")).toBeCloseTo(2 * (x + 3 * y), 12);
      expect(valueNamed(solution, "height")).toBeCloseTo(3 * x + 0.7 * y, 12);
      expect(solution.determinations.map(({ how }) => how)).not.toContain("open");
    }
  });

  test("an overlay looks again, and one that is meant is taken", () => {
    const system = plates(9.1, 0).system();
    const base = solve(system);
    expect([valueNamed(base, "x"), valueNamed(base, "y")]).toEqual([2, 3]);
    const total = system.variables.findIndex(({ name }) => name === "total");
    const over = solveOverlay(base, { givens: new Map([[total, exactly(4.7)]]) });
    expect([valueNamed(over, "x"), valueNamed(over, "y")]).toEqual([1, 1]);
    const meant = plates(22, 0).variable("y", { range: [0, 20], whole: "sought", near: 25 });
    // 21 = 3 × 7 and 3 × 0 + 0.7 × 30, the latter out of range.
    expect([valueNamed(solve(meant.system()), "x")]).toEqual([7]);
    const two = counted([0, 12], [0, 9])
      .given({ total: 12 })
      .variable("y", { range: [0, 9], whole: "sought", near: 5 })
      .equation("sum", add("x", mul(2, "y")), "total")
      .system();
    const solution = solve(two);
    expect([valueNamed(solution, "x"), valueNamed(solution, "y")]).toEqual([2, 5]);
  });

  test("counts nobody asks for stay open, and so do those without limits", () => {
    const unasked = new SystemBuilder()
      .variable("x", { range: [0, 5], whole: "counted" })
      .variable("y", { range: [0, 5], whole: "counted" })
      .given({ total: 4 })
      .equation("sum", add("x", "y"), "total");
    expect(solve(unasked.system()).failures).toEqual([]);
    const endless = new SystemBuilder()
      .variable("x", { whole: "sought" })
      .variable("y", { whole: "sought" })
      .given({ total: 4 })
      .equation("difference", sub("x", "y"), "total");
    expect(solve(endless.system()).failures).toEqual([]);
  });

  test("three counts in two equations", () => {
    // Chickens at 3, cocks at 5, three chicks for 1: a hundred birds for a hundred coins (Zhang Qiujian, 5th century).
    const system = new SystemBuilder()
      .variable("cocks", { range: [0, 100], whole: "sought" })
      .variable("hens", { range: [0, 100], whole: "counted" })
      .variable("chicks", { range: [0, 100], whole: "counted" })
      .equation("birds", add("cocks", "hens", "chicks"), 100)
      .equation("coins", add(mul(5, "cocks"), mul(3, "hens"), div("chicks", 3)), 100)
      .system();
    const [failure] = solve(system).failures;
    expect(failure?.complete).toBe(true);
    expect(sorted(failure?.answers ?? [])).toEqual([
      [0, 25, 75],
      [4, 18, 78],
      [8, 11, 81],
      [12, 4, 84],
    ]);
  });
});

describe("a row of a list", () => {
  // Published: ISO 261 coarse threads, tensile stress area by nominal diameter (from memory).
  const curve = {
    name: "area",
    method: "exact",
    keys: [5, 6, 8, 10, 12, 16, 20],
    values: [14.2, 20.1, 36.6, 58, 84.3, 157, 245],
  } as const;
  const read = (given: GivenNumber) =>
    solve(
      new SystemBuilder()
        .given({ load: given })
        .equation("area", "area", { op: "lookup", curve, of: of("size") })
        .equation("load", "load", mul(2, "area"))
        .system(),
    );

  test("is found within what was written, by trying every row", () => {
    let found = 0;
    for (const load of [28.4, 41, 73, 73.2, 115.5, 117, 160, 314, 490]) {
      for (const room of [0, 0.05, 0.5, 5, 45]) {
        const solution = read({ value: load, low: load, high: load, rounding: room });
        const rows = curve.keys.filter(
          (_, at) => Math.abs(2 * curve.values[at]! - load) <= room + 1e-9,
        );
        const exact = curve.keys.filter((_, at) => 2 * curve.values[at]! === load);
        const size = valueNamed(solution, "size");
        const [failure] = solution.failures;
        const name = `${load} ${room}`;
        if (exact.length === 1) expect(size, name).toBe(exact[0]);
        else if (rows.length === 1) {
          found++;
          expect(size, name).toBe(rows[0]);
          expect(solution.conflicts, name).toEqual([]);
        } else if (rows.length === 0) expect(failure?.why, name).toBe("no-root");
        else expect(failure?.roots, name).toEqual(rows);
      }
    }
    expect(found).toBeGreaterThan(5);
  });
});

test("a count that any other figure can go along with is not searched for: that figure is missing", () => {
  const system = new SystemBuilder()
    .given({ length: 300, edge: 12 })
    .variable("holes", { range: [1, 20], whole: "sought" })
    .equation("row", "length", add(mul(sub("holes", 1), "pitch"), mul(2, "edge")));
  const solution = solve(system.system());
  expect(solution.failures).toEqual([]);
  expect(solution.determinations.map(({ how }) => how)).toEqual(
    solution.system.variables.map(({ given }) => (given === undefined ? "open" : "given")),
  );
  // With a range for the pitch that one count alone leaves, that one is it: 276 / 9 = 30.67.
  const narrow = solve(system.variable("pitch", { range: [29, 32] }).system());
  expect(valueNamed(narrow, "holes")).toBe(10);
  expect(valueNamed(narrow, "pitch")).toBeCloseTo(276 / 9, 12);
});

test("a count between two whole ones is the whole one that what was written leaves room for, by trying each", () => {
  const kinds = { one: 0, other: 0 };
  for (const length of [40, 41.5, 55, 60]) {
    for (const gap of [6.6, 7, 8.25, 9.1]) {
      for (const [by, off] of [
        [0, 0],
        [1, 0.2],
        [2, 0.4],
        [0.2, 0.05],
      ] as const) {
        const system = new SystemBuilder()
          .given({ length: within(length, by), gap: within(gap, off) })
          .variable("n", { range: [0, 1000], whole: "counted" })
          .equation("row", "length", mul("n", "gap"))
          .equation("twice", "m", mul(2, "n"))
          .system();
        const fitting = Array.from({ length: 20 }, (_, at) => at + 1).filter(
          (n) => n * (gap - off) <= length + by + 1e-9 && n * (gap + off) >= length - by - 1e-9,
        );
        const solution = solve(system);
        const n = valueNamed(solution, "n");
        const name = `${length} ${by} ${gap} ${off}`;
        const plain = length / gap;
        if (fitting.length === 1) {
          kinds.one++;
          expect(n, name).toBeCloseTo(fitting[0]!, 9);
          expect(valueNamed(solution, "m"), name).toBeCloseTo(2 * fitting[0]!, 9);
        } else {
          kinds.other++;
          expect(n, name).toBeCloseTo(plain, 9);
        }
        expect(solution.conflicts, name).toEqual([]);
      }
    }
  }
  expect(Math.min(kinds.one, kinds.other)).toBeGreaterThan(10);
});

describe("as many as are told", () => {
  const sum = (most: number) =>
    solve(
      counted([0, most], [0, most])
        .given({ total: most })
        .equation("sum", add("x", "y"), "total")
        .system(),
    );

  test("two dozen are listed, and proved to be all; of more the counts are open", () => {
    const { pairs, complete } = toldOf(sum(23));
    expect(sorted(pairs)).toEqual(Array.from({ length: 24 }, (_, x) => [x, 23 - x]));
    expect(complete).toBe(true);
    const many = sum(60);
    expect(many.failures).toEqual([]);
    expect(many.determinations.map(({ how }) => how)).toEqual(
      many.system.variables.map(({ given }) => (given === undefined ? "open" : "given")),
    );
  });

  test("where none goes along with another figure in its range, both equations are named", () => {
    // 276 in one, two or three pitches of 200 to 210, in which a pitch is twice a half.
    const builder = new SystemBuilder()
      .given({ length: 300, edge: 12 })
      .variable("holes", { range: [1, 4], whole: "sought" })
      .variable("pitch", { range: [200, 210] })
      .equation("row", "length", add(mul(sub("holes", 1), "pitch"), mul(2, "edge")))
      .equation("half", "pitch", mul(2, "half"))
      .equation("apart", "weight", mul(3, "edge"));
    const { failures, system } = solve(builder.system());
    expect(failures).toHaveLength(1);
    const [failure] = failures;
    expect(failure?.why).toBe("no-root");
    expect(failure?.equations.map((each) => system.equations[each]!.name).sort()).toEqual([
      "half",
      "row",
    ]);
    expect(failure?.variables.map((each) => system.variables[each]!.name)).toEqual(["holes"]);
    expect(failure?.answers).toBeUndefined();
  });
});
