/**
 * Equations solved together, asked of what solves them: linear ones by Cramer's rule, curved ones made
 * from their answers, and those that say a thing twice, have no answer or a whole stretch of them.
 */
import { describe, expect, test } from "vitest";
import type { Block } from "../../server/solve/block";
import { type BlockAnswer, linearize, solveBlock } from "../../server/solve/newton";
import { blockOf } from "./answers-of";
import { add, call, mul, pow, sub, type Term } from "./build";

type Found = readonly [answer: BlockAnswer, values: readonly number[]];

function solved(block: Block, start?: readonly number[]): Found {
  const values = new Float64Array(block.unknowns.length);
  const answer = solveBlock(block, values, start);
  return [answer, [...values]];
}

const xy = ["x", "y"];
const wide = [-100, 100] as const;
/** 3 x + 2 y = 8 and x − y = 1: by Cramer's rule 2 and 1. */
const lines: readonly Term[] = [sub(add(mul(3, "x"), mul(2, "y")), 8), sub("x", "y", 1)];

/** x is what `first` says, and each of the others what the one before it is. */
function chain(count: number, first: Term): [names: string[], terms: Term[]] {
  const names = ["x", ...Array.from({ length: count - 1 }, (_, at) => `x${at}`)];
  return [names, [first, ...names.slice(1).map((name, at) => sub(name, names[at]!))]];
}

describe("linear equations", () => {
  test("have their one answer, to the last digits", () => {
    for (const limits of [wide, [-Infinity, Infinity], [0, Infinity], [-Infinity, 2]] as const) {
      const [answer, values] = solved(blockOf(xy, lines, limits));
      expect(answer).toEqual({ kind: "solved" });
      expect(values[0]).toBeCloseTo(2, 14);
      expect(values[1]).toBeCloseTo(1, 14);
    }
  });

  test("have none where it lies outside of a range, at either end of either", () => {
    const none = { kind: "failed", why: "no-root" };
    const near = 1e-7;
    for (const [limits, outcome] of [
      [
        [
          [2, 9],
          [1, 9],
        ],
        { kind: "solved" },
      ],
      [
        [
          [-9, 2],
          [-9, 1],
        ],
        { kind: "solved" },
      ],
      // What rounding explains is in range: a thousand millionth.
      [
        [
          [2 + 1e-9, 9],
          [-9, 1 - 1e-9],
        ],
        { kind: "solved" },
      ],
      [
        [
          [2 + near, 9],
          [-9, 9],
        ],
        none,
      ],
      [
        [
          [-9, 2 - near],
          [-9, 9],
        ],
        none,
      ],
      [
        [
          [-9, 9],
          [1 + near, 9],
        ],
        none,
      ],
      [
        [
          [-9, 9],
          [-9, 1 - near],
        ],
        none,
      ],
    ] as const) {
      const [answer, values] = solved(blockOf(xy, lines, limits));
      expect(answer, String(limits)).toEqual(outcome);
      // What failed leaves no number behind.
      expect(values.every(Number.isNaN)).toBe(answer.kind === "failed");
    }
  });

  test("have none either where they are too many to search through", () => {
    const [names, terms] = chain(17, sub("x", 3));
    expect(solved(blockOf(names, terms, [-10, 10]))[0]).toEqual({ kind: "solved" });
    expect(solved(blockOf(names, terms, [-10, 2]))[0]).toEqual({ kind: "failed", why: "no-root" });
  });

  test("beyond all numbers have none", () => {
    const [answer] = solved(blockOf(["x"], [sub(mul(1e-200, "x"), 1e200)], [-Infinity, Infinity]));
    expect(answer).toEqual({ kind: "failed", why: "not-defined" });
  });

  test("of another size are solved as well: a millionth, a million", () => {
    for (const size of [1e-6, 1e6]) {
      const terms = [sub(add(mul(3, "x"), mul(2, "y")), 8 * size), sub("x", "y", size)];
      const [answer, values] = solved(blockOf(xy, terms, [-100 * size, 100 * size], size));
      expect(answer).toEqual({ kind: "solved" });
      expect(values[0]! / size).toBeCloseTo(2, 12);
      expect(values[1]! / size).toBeCloseTo(1, 12);
    }
  });

  test("that say a thing twice name the later one in order of preference, with what it is made of", () => {
    const block = blockOf(xy, [sub(add("x", "y"), 3), sub(add(mul(2, "x"), mul(2, "y")), 6)], wide);
    const [answer, values] = solved(block);
    // Half the second is the first.
    expect(answer).toEqual({
      kind: "dependent",
      rows: [{ row: 1, weights: new Float64Array([-1, 0.5]) }],
    });
    expect(values.every(Number.isNaN)).toBe(true);
    expect(solved({ ...block, preference: [1, 0] })[0]).toEqual({
      kind: "dependent",
      rows: [{ row: 0, weights: new Float64Array([1, -0.5]) }],
    });
  });
});

describe("curved equations", () => {
  const circle = sub(add(pow("x", 2), pow("y", 2)), 25);
  const line = sub("y", "x", 1);

  test("have the one answer in their range, or all of them where there are several", () => {
    // x² + y² = 25 and y = x + 1: 3, 4 and −4, −3.
    expect(solved(blockOf(xy, [circle, line], [0, 10]))[1]).toEqual([
      expect.closeTo(3, 12),
      expect.closeTo(4, 12),
    ]);
    expect(solved(blockOf(xy, [circle, line], [-10, 10]))[0]).toMatchObject({
      kind: "failed",
      why: "several-roots",
      complete: true,
      answers: [
        [expect.closeTo(-4, 9), expect.closeTo(-3, 9)],
        [expect.closeTo(3, 9), expect.closeTo(4, 9)],
      ].map((each) => expect.objectContaining(each)),
    });
    expect(solved(blockOf(xy, [circle, line], [5, 10]))[0]).toEqual({
      kind: "failed",
      why: "no-root",
    });
  });

  test("from a place that is told lead to the answer near it, or to none", () => {
    const from = (start: readonly number[]) =>
      solved(blockOf(xy, [circle, line], [-10, 10]), start);
    expect(from([2, 5])[1]).toEqual([expect.closeTo(3, 12), expect.closeTo(4, 12)]);
    expect(from([-2, -5])[1]).toEqual([expect.closeTo(-4, 12), expect.closeTo(-3, 12)]);
    const root = blockOf(["x"], [sub(call("sqrt", "x"), 2)], wide);
    expect(solved(root, [1])).toEqual([{ kind: "solved" }, [expect.closeTo(4, 12)]]);
    expect(solved(root, [-1])[0]).toEqual({ kind: "failed", why: "not-defined" });
    expect(solved(blockOf(["x"], [add(pow("x", 2), 1)], wide), [3])[0]).toEqual({
      kind: "failed",
      why: "no-root",
    });
  });

  test("with a stretch of answers name what adds nothing on it", () => {
    // Both hold wherever x is 0, and cross everywhere else.
    const block = blockOf(xy, [mul("x", sub("y", 1)), mul("x", sub("y", 2))], [-10, 10]);
    const [answer] = solved(block);
    expect(answer.kind).toBe("dependent");
    expect(answer.kind === "dependent" && answer.rows.map(({ row }) => row)).toEqual([1]);
    const turned = solved({ ...block, preference: [1, 0] })[0];
    expect(turned.kind === "dependent" && turned.rows.map(({ row }) => row)).toEqual([0]);
    // Of a size of its own, and where the stretch lies at the end of a range.
    for (const limits of [
      [-10, 0],
      [0, 10],
    ] as const) {
      expect(
        solved(blockOf(xy, [mul("x", sub("y", 1)), mul("x", sub("y", 2))], [limits, [-10, 10]]))[0]
          .kind,
      ).toBe("dependent");
    }
  });

  test("with a value in a part of the range are solved wherever they are first tried", () => {
    // Tried at −25 and −74 first: one has a value there, the other here.
    for (const [under, answer] of [
      [sub(-50, "x"), -66],
      [add("x", 50), -34],
    ] as const) {
      const [, values] = solved(blockOf(["x"], [sub(call("sqrt", under), 4)], wide));
      expect(values).toEqual([expect.closeTo(answer, 10)]);
    }
  });

  test("straight but for a bend have an answer on each side of it", () => {
    // Beyond 50: 1.5 (x − 50) = 15; before it: −0.5 (x − 50) = 15.
    const bent = sub(add(call("abs", sub("x", 50)), mul(0.5, sub("x", 50))), 15);
    const [answer] = solved(blockOf(["x"], [bent], wide));
    const answers = answer.kind === "failed" ? (answer.answers ?? []) : [];
    expect(answers.map(([x]) => x)).toEqual([expect.closeTo(20, 9), expect.closeTo(60, 9)]);
  });

  test("alongside one another on one side of a bend and across on the other have the one answer", () => {
    // |x + 50| + y = 60 and x + y = −30: the same directions beyond −50, at −70 and 40 before it.
    const block = blockOf(
      xy,
      [sub(add(call("abs", add("x", 50)), "y"), 60), add("x", "y", 30)],
      wide,
    );
    expect(solved(block)[1]).toEqual([expect.closeTo(-70, 9), expect.closeTo(40, 9)]);
  });

  test("that say a thing twice, and not the same, add nothing all the same", () => {
    const square = add(call("abs", "x"), call("abs", "y"));
    const block = blockOf(xy, [sub(square, 4), sub(mul(2, square), 6)], [-10, 10]);
    expect(solved(block)[0].kind).toBe("dependent");
  });

  test("that touch are come to from where neither leads on by itself", () => {
    // x y = 1 and x + y = 2 run side by side wherever x is y.
    const block = blockOf(xy, [sub(mul("x", "y"), 1), sub(add("x", "y"), 2)], [0, 10]);
    const [answer, values] = solved(block, [3, 3]);
    expect(answer).toEqual({ kind: "solved" });
    for (const value of values) expect(value).toBeCloseTo(1, 4);
  });

  test("twice the same circle adds nothing, a square on its corner twice no more", () => {
    const square = sub(add(call("abs", "x"), call("abs", "y")), 4);
    expect(solved(blockOf(xy, [circle, mul(2, circle)], [-10, 10]))[0].kind).toBe("dependent");
    expect(solved(blockOf(xy, [square, mul(2, square)], [-10, 10]))[0].kind).toBe("dependent");
    // Beside a line that runs along one of its sides and crosses another.
    expect(
      solved(
        blockOf(
          xy,
          [square, sub("y", "x", 2)],
          [
            [0, 10],
            [-10, 10],
          ],
        ),
      )[1],
    ).toEqual([expect.closeTo(1, 9), expect.closeTo(3, 9)]);
  });

  test("that touch have the one answer where they do", () => {
    const [answer, values] = solved(blockOf(["x"], [pow(sub("x", 1), 2)], [-3, 4]));
    expect(answer).toEqual({ kind: "solved" });
    expect(values[0]).toBeCloseTo(1, 5);
  });
});

describe("more than are searched through", () => {
  const of = (count: number, first: Term, limits: readonly [number, number] = [-50, 50]): Found =>
    solved(blockOf(...chain(count, first), limits));

  test.each([17, 40, 63, 70])(
    "%i: answers that are found from several places, in order",
    (count) => {
      const [answer] = of(count, sub(pow("x", 2), 4));
      if (count <= 64) {
        expect(answer).toMatchObject({ kind: "failed", why: "several-roots", complete: false });
        const answers = answer.kind === "failed" ? answer.answers! : [];
        expect(answers.map(([x]) => x)).toEqual([expect.closeTo(-2, 9), expect.closeTo(2, 9)]);
      }
      const [one, values] = of(count, sub(pow("x", 2), 4), [0, 50]);
      expect(one).toEqual({ kind: "solved" });
      for (const value of values) expect(value).toBeCloseTo(2, 10);
    },
  );

  test("none that is found is not none that is proved", () => {
    expect(of(17, add(pow("x", 2), 1))[0]).toEqual({ kind: "failed", why: "no-convergence" });
    expect(of(17, call("sqrt", sub(-1, pow("x", 2))))[0]).toEqual({
      kind: "failed",
      why: "not-defined",
    });
    expect(of(70, add(pow("x", 2), 1))[0].kind).toBe("failed");
  });

  test("that touch have one, though steps end to both sides of it", () => {
    const [answer, values] = of(17, pow(sub("x", 1), 2));
    expect(answer).toEqual({ kind: "solved" });
    expect(values[0]).toBeCloseTo(1, 4);
  });

  test("that touch where they are first tried have that answer, and no stretch of them", () => {
    const block = blockOf(...chain(17, pow("x", 2)), [-50, 50]);
    const guesses = block.guesses.map(() => 0);
    const [answer, values] = solved({ ...block, guesses });
    expect(answer).toEqual({ kind: "solved" });
    expect(values.every((value) => value === 0)).toBe(true);
  });

  test("that say a thing twice", () => {
    const [names, terms] = chain(17, sub("x", 3));
    const twice = [...terms.slice(0, -1), mul(2, terms[0]!)];
    const [answer] = solved(blockOf(names, twice, wide));
    expect(answer.kind === "dependent" && answer.rows.map(({ row }) => row)).toEqual([16]);
  });

  test("too many to work on as a whole are left, and said to be", () => {
    const [names, terms] = chain(701, sub("x", 3));
    expect(solved(blockOf(names, terms, wide))[0]).toEqual({ kind: "solved" });
    const twice = [...terms.slice(0, -1), mul(2, terms[0]!)];
    expect(solved(blockOf(names, twice, wide))).toEqual([
      { kind: "failed", why: "no-convergence" },
      names.map(() => Number.NaN),
    ]);
    const none = [add(pow("x", 2), 1), ...terms.slice(1)];
    expect(solved(blockOf(names, none, wide))[0].kind).toBe("failed");
    const undefinedAll = [call("sqrt", sub(-1, pow("x", 2))), ...terms.slice(1)];
    expect(solved(blockOf(names, undefinedAll, wide))[0]).toEqual({
      kind: "failed",
      why: "not-defined",
    });
  });
});

describe("how figures that are solved together move with what each equation misses by", () => {
  test.each([2, 70])("%i of them", (count) => {
    // x² = 4 and the rest what the one before is: all move by a quarter of what the square misses by.
    const [names, terms] = chain(count, sub(pow("x", 2), 4));
    const block = blockOf(names, terms, wide);
    const values = new Float64Array(count).fill(2);
    const { solver, rowSizes, scales } = linearize(block, values);
    const miss = new Float64Array(count);
    miss[0] = 1 / rowSizes[0]!;
    const moved = solver.solve(miss);
    for (let at = 0; at < count; at++) expect(moved[at]! * scales[at]!).toBeCloseTo(1 / 4, 12);
    expect(solver.smallestPivot).toBeGreaterThan(0);
    expect([...rowSizes]).toEqual([4, ...names.slice(1).map(() => 1)]);
    expect([...values]).toEqual(names.map(() => 2));
  });
});
