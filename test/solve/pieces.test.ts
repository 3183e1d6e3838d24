/** Small numerical pieces against closed forms, tables and enumeration. */
import { erf } from "mathjs";
import { describe, expect, test } from "vitest";
import { closeIn } from "../../server/solve/close-in";
import { DRAWS, drawsOf, normalShareBelow } from "../../server/solve/draws";
import { byRank, type Choice, Ranking } from "../../server/solve/ranking";
import { sizeOf } from "../../server/solve/rounding-noise";
import * as op from "../../server/solve/tape";

describe("where a function changes sign", () => {
  // Roots in closed form. R. P. Brent (1973): some ten steps where bisection takes fifty.
  test.each([
    ["a square", (x: number) => x * x - 2, 0, 10, Math.SQRT2, 14],
    ["falling", (x: number) => 2 - x * x, 0, 10, Math.SQRT2, 14],
    ["from above", (x: number) => x * x - 2, 10, 0, Math.SQRT2, 14],
    ["a logarithm", (x: number) => Math.log(x) - 1, 1, 20, Math.E, 12],
    ["a sine", (x: number) => Math.sin(x), 2, 4.5, Math.PI, 9],
    ["a straight line", (x: number) => 3 * x - 1, 0, 50, 1 / 3, 5],
    ["below nothing", (x: number) => Math.exp(x) - 0.1, -9, 3, Math.log(0.1), 14],
    ["a ninth power", (x: number) => (x - 1) ** 9 + (x - 1) / 1e3, 0, 5, 1, 40],
    ["an odd one", (x: number) => Math.cbrt(x - 0.3), -1, 4, 0.3, 70],
  ] as const)("of %s", (_, of, low, high, root, most) => {
    let asked = 0;
    const counted = (x: number): number => {
      asked++;
      return of(x);
    };
    const found = closeIn(counted, low, high, of(low), of(high));
    expect(Math.abs(found - root)).toBeLessThanOrEqual(4e-15 * Math.max(1, Math.abs(root)));
    expect(asked).toBeLessThanOrEqual(most);
  });

  test("where there is a jump it is the jump, at an end it is the end", () => {
    const jump = (x: number): number => (x < 0.7 ? -1 : 1);
    expect(closeIn(jump, 0, 1, -1, 1)).toBeCloseTo(0.7, 14);
    expect(closeIn((x) => x, 0, 1, 0, 1)).toBe(0);
    expect(closeIn((x) => x - 1, 0, 1, -1, 0)).toBe(1);
  });
});

describe("draws", () => {
  const given = (distribution?: "normal" | "uniform" | "triangular", together?: string) => ({
    value: 2,
    low: 1,
    high: 3,
    rounding: 0,
    ...(distribution === undefined ? {} : { distribution }),
    ...(together === undefined ? {} : { together }),
  });
  const mean = (values: ArrayLike<number>): number =>
    Array.from(values).reduce((sum, each) => sum + each, 0) / values.length;
  const spread = (values: ArrayLike<number>): number =>
    Math.sqrt(mean(Array.from(values, (each) => (each - 2) ** 2)));

  // Standard deviations over half the range: 1/√3 even, 1/√6 triangular; the normal one's third,
  // cut off at three deviations, by the variance of a truncated normal, 1 − 6φ(3)/(2Φ(3) − 1).
  const cut = Math.sqrt(1 - (6 * Math.exp(-4.5)) / Math.sqrt(2 * Math.PI) / 0.9973002039367398) / 3;
  test.each([
    ["uniform", 1 / Math.sqrt(3)],
    ["triangular", 1 / Math.sqrt(6)],
    ["normal", cut],
    [undefined, cut],
  ] as const)("%s: middle, spread and ends", (distribution, wanted) => {
    const values = drawsOf("a", given(distribution));
    expect(values.length).toBe(DRAWS);
    expect(mean(values)).toBeCloseTo(2, 4);
    expect(spread(values)).toBeCloseTo(wanted, 3);
    expect(Math.min(...values)).toBeGreaterThanOrEqual(1);
    expect(Math.max(...values)).toBeLessThanOrEqual(3);
  });

  test("one falls into each slice, in an order of the name's own", () => {
    const slices = (name: string) =>
      Array.from(drawsOf(name, given("uniform")), (each) => Math.floor(((each - 1) / 2) * DRAWS));
    const sorted = [...slices("a")].sort((one, other) => one - other);
    expect(sorted).toEqual(Array.from({ length: DRAWS }, (_, at) => at));
    expect(slices("a")).not.toEqual(sorted);
    expect(slices("a")).toEqual(slices("a"));
    // Two names have nothing to do with each other: correlation within three deviations, 3/√4096.
    for (const [one, other] of [
      ["a", "b"],
      ["rear.left.width", "rear.right.width"],
      ["", "a"],
    ] as const) {
      const [left, right] = [slices(one), slices(other)];
      const middle = (DRAWS - 1) / 2;
      const sum = left.reduce((all, each, at) => all + (each - middle) * (right[at]! - middle), 0);
      const whole = left.reduce((all, each) => all + (each - middle) ** 2, 0);
      expect(Math.abs(sum / whole), `${one} and ${other}`).toBeLessThan(3 / 64);
    }
  });

  test("givens that move together share theirs, whatever they are called", () => {
    const [one, other] = [drawsOf("a", given("uniform", "t")), drawsOf("b", given("uniform", "t"))];
    expect([...one]).toEqual([...other]);
    expect([...one]).not.toEqual([...drawsOf("a", given("uniform", "u"))]);
    expect([...one]).not.toEqual([...drawsOf("t", given("uniform"))]);
  });

  // By an algebra library's error function, cut off at three deviations.
  test.each([-5, -1, -0.7, -1 / 3, 0, 0.1234567, 1 / 3, 2 / 3, 0.99, 1, 5])(
    "the share of normal ones below %d",
    (place) => {
      const below = (deviations: number): number => (1 + erf(deviations / Math.SQRT2)) / 2;
      const at = 3 * Math.min(1, Math.max(-1, place));
      const share = (below(at) - below(-3)) / (below(3) - below(-3));
      expect(normalShareBelow(place)).toBeCloseTo(share, 6);
    },
  );
});

describe("how much rounding can gather", () => {
  // First order: the size of what flows in times the slope, by differences.
  test.each([
    ["add", op.ADD, (a: number, b: number) => a + b],
    ["subtract", op.SUBTRACT, (a: number, b: number) => a - b],
    ["multiply", op.MULTIPLY, (a: number, b: number) => a * b],
    ["divide", op.DIVIDE, (a: number, b: number) => a / b],
    ["power", op.POWER, (a: number, b: number) => a ** b],
    ["negate", op.NEGATE, (a: number) => -a],
    ["sqrt", op.SQRT, (a: number) => Math.sqrt(a)],
    ["exp", op.EXP, (a: number) => Math.exp(a)],
    ["log", op.LOG, (a: number) => Math.log(a)],
    ["tan", op.TAN, (a: number) => Math.tan(a)],
    ["asin", op.ASIN, (a: number) => Math.asin(a)],
    ["acos", op.ACOS, (a: number) => Math.acos(a)],
    ["atan2", op.ATAN2, (a: number, b: number) => Math.atan2(a, b)],
  ] as const)("of %s", (_, code, of) => {
    const [a, b, sizeA, sizeB, h] = [0.3, 0.7, 50, 20, 1e-6];
    const byA = (of(a + h, b) - of(a - h, b)) / (2 * h);
    const byB = (of(a, b + h) - of(a, b - h)) / (2 * h);
    const wanted = Math.abs(byA) * sizeA + Math.abs(byB) * sizeB;
    expect(sizeOf(code, a, b, of(a, b), sizeA, sizeB) / wanted).toBeCloseTo(1, 6);
  });

  test("of what keeps or forgets it", () => {
    for (const code of [op.ABS, op.SIN, op.COS, op.ATAN])
      expect(sizeOf(code, 0.3, 0, 0.2, 50, 0)).toBe(50);
    for (const code of [op.MIN, op.MAX]) {
      expect(sizeOf(code, 1, 2, 1, 50, 20)).toBe(50);
      expect(sizeOf(code, 1, 2, 1, 20, 50)).toBe(50);
    }
    expect(sizeOf(op.LOOKUP, 2, 0, 6, 50, 0)).toBe(150);
    for (const code of [op.ROUND, op.FLOOR, op.AT_LEAST, op.AND])
      expect(sizeOf(code, 3, 1, 3, 50, 20)).toBe(3);
    expect(sizeOf(op.ROUND, 3, 1, -3, 50, 20)).toBe(3);
  });

  test("never less than the value, and a number where the slope has none", () => {
    expect(sizeOf(op.ADD, 3, 4, 7, 1, 1)).toBe(7);
    expect(sizeOf(op.ADD, 3, -4, -7, 1, 1)).toBe(7);
    expect(sizeOf(op.SQRT, 0, 0, 0, 5, 0)).toBe(0);
    expect(sizeOf(op.POWER, 0, 2, 0, 5, 1)).toBe(0);
    expect(sizeOf(op.POWER, -2, 3, -8, 5, 1)).toBe(8 * ((3 * 5) / 2));
    expect(sizeOf(op.ASIN, 1, 0, Math.PI / 2, 5, 0)).toBe(Math.PI / 2);
    expect(sizeOf(op.LOOKUP, 0, 0, 6, 5, 0)).toBe(6);
    expect(sizeOf(op.DIVIDE, 0, 0, Number.NaN, 1, 1)).toBeNaN();
    expect(sizeOf(op.ADD, 1, 1, 2, Number.NaN, 1)).toBe(2);
  });
});

describe("the best combinations", () => {
  const choice = (
    picks: number[],
    aims: (number | undefined)[],
    unjudged: number[] = [],
  ): Choice => ({ picks, aims, unjudged });
  const first = (): number => 0;
  const picksOf = (ranking: Ranking) => ranking.found.map(({ picks }) => picks.join());

  test("by one aim: the least, then by the order of the candidates", () => {
    const ranking = new Ranking(1, 3);
    for (const [pick, aim] of [
      [4, 7],
      [1, 9],
      [3, 2],
      [2, 9],
      [0, 5],
      [5, 2],
    ] as const)
      ranking.add(choice([pick], [aim]));
    expect(picksOf(ranking)).toEqual(["3", "5", "0"]);
    expect(ranking.admits([5], first)).toBe(true);
    expect(ranking.admits([5.1], first)).toBe(false);
    expect(ranking.admits([Number.NaN], first)).toBe(false);
    expect(ranking.admits([4], first)).toBe(true);
  });

  test("without an aim those that stand first", () => {
    const ranking = new Ranking(0, 2);
    for (const picks of [
      [1, 1],
      [0, 2],
      [1, 0],
      [0, 1],
    ])
      ranking.add(choice(picks, []));
    expect(picksOf(ranking)).toEqual(["0,1", "0,2"]);
    expect(ranking.admits([], (slot) => [0, 1][slot]!)).toBe(true);
    expect(ranking.admits([], (slot) => [0, 2][slot]!)).toBe(false);
    expect(ranking.admits([], (slot) => [1, 0][slot]!)).toBe(false);
    expect(new Ranking(0, 2).admits([], first)).toBe(true);
  });

  test("what was judged in part stands behind what was judged whole", () => {
    const ranking = new Ranking(1, 2);
    ranking.add(choice([0], [1], [7]));
    ranking.add(choice([1], [undefined]));
    expect(ranking.admits([100], first)).toBe(true);
    ranking.add(choice([2], [9]));
    expect(picksOf(ranking)[0]).toBe("2");
    expect(ranking.admits([100], first)).toBe(true);
    ranking.add(choice([3], [8]));
    expect(picksOf(ranking)).toEqual(["3", "2"]);
    expect(byRank(choice([0], [1], [1, 2]), choice([1], [9], [1]))).toBeGreaterThan(0);
    // Equal but for rounding: the order of the candidates decides.
    expect(byRank(choice([1], [1]), choice([0], [1 + 1e-12]))).toBeGreaterThan(0);
    expect(byRank(choice([1], [1]), choice([0], [1 + 1e-6]))).toBeLessThan(0);
    expect(byRank(choice([1, 2], [1]), choice([1, 2], [1]))).toBe(0);
  });

  test("by several aims those that no other one beats, by enumeration", () => {
    let state = 17;
    const random = (): number => {
      state = (state * 48271) % 2147483647;
      return state % 6;
    };
    for (let round = 0; round < 40; round++) {
      const all = Array.from({ length: 25 }, (_, at) =>
        choice([at], [random(), random(), random()]),
      );
      const ranking = new Ranking(3, 2);
      for (const each of all) ranking.add(each);
      const beats = (one: Choice, other: Choice): boolean =>
        one.aims.every((aim, at) => aim! <= other.aims[at]!) &&
        one.aims.some((aim, at) => aim! < other.aims[at]!);
      const front = all.filter((each) => !all.some((other) => beats(other, each)));
      // Of those that come to the same in all aims one is kept.
      const wanted = new Set(front.map(({ aims }) => aims.join()));
      expect(new Set(ranking.found.map(({ aims }) => aims.join()))).toEqual(wanted);
      expect(ranking.found.length).toBe(wanted.size);
      for (const { aims } of all) {
        const beaten = front.some((each) => beats(each, choice([], [...aims])));
        expect(ranking.admits(aims as number[], first)).toBe(!beaten);
      }
    }
  });
});
