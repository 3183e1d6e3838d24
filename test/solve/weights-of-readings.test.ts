/**
 * Readings that disagree give way by their variances (least squares: JCGM 100:2008, 4.3 for what limits of
 * each distribution are worth), and places at which a claim fails are cut down to those it takes.
 */
import { describe, expect, test } from "vitest";
import { adjusted, fewestPlaces, solve, verdictOf } from "../../server/solve";
import type { GivenNumber } from "../../server/solve/system";
import { add, compare, exactly, SystemBuilder, type Term, within } from "./build";

const three = (value: number, distribution?: GivenNumber["distribution"]): GivenNumber => ({
  ...within(value, 3),
  ...(distribution === undefined ? {} : { distribution }),
});
const rounded = (value: number): GivenNumber => ({ ...exactly(value), rounding: 3 });
/** Given to ± 3: three standard deviations, all over alike, a triangle, or rounded by so much. */
const readings: readonly (readonly [
  name: string,
  read: (value: number) => GivenNumber,
  variance: number,
])[] = [
  ["normal", (value) => three(value), 1],
  ["normal, said", (value) => three(value, "normal"), 1],
  ["uniform", (value) => three(value, "uniform"), 3],
  ["triangular", (value) => three(value, "triangular"), 1.5],
  ["rounded", rounded, 3],
  ["exact", exactly, 0],
];

describe("two readings of one thing", () => {
  const all = readings.flatMap((one) => readings.map((other) => [one, other] as const));
  test.each(all.map(([one, other]) => [one[0], other[0], one, other] as const))(
    "%s and %s",
    (_, __, [, first, mine], [, second, theirs]) => {
      const builder = new SystemBuilder()
        .given({ a: first(10), b: second(14) })
        .equation("same", "a", "b");
      const found = adjusted(solve(builder.system()), [0]);
      if (mine + theirs === 0) {
        expect(found).toBeUndefined();
        return;
      }
      expect(found!.redundancy).toBe(1);
      const moved = [mine, theirs].filter((variance) => variance > 0).length;
      expect(found!.readings).toHaveLength(moved);
      for (const { variable, read, adjusted: value, byOthers, standardized } of found!.readings) {
        const isFirst = variable === builder.index("a");
        expect(read).toBe(isFirst ? 10 : 14);
        expect(value).toBeCloseTo(10 + (4 * mine) / (mine + theirs), 12);
        // The others make of it what the other one says.
        expect(byOthers).toBeCloseTo(isFirst ? 14 : 10, 12);
        expect(standardized).toBeCloseTo(4 / Math.sqrt(mine + theirs), 12);
      }
    },
  );

  test("of which one may not move, the other moves all the way", () => {
    const builder = new SystemBuilder()
      .given({ a: three(10), b: three(14) })
      .equation("same", "a", "b");
    const solution = solve(builder.system());
    const found = adjusted(solution, [0], (variable) => variable === builder.index("b"));
    expect(found!.readings.map(({ variable, adjusted: value }) => [variable, value])).toEqual([
      [builder.index("b"), expect.closeTo(10, 12)],
    ]);
    expect(adjusted(solution, [0], () => false)).toBeUndefined();
    expect(adjusted(solution, [])).toBeUndefined();
  });

  test("said to be the same twice are weighed once", () => {
    const builder = new SystemBuilder()
      .given({ a: three(10), b: three(14) })
      .equation("same", "a", "b")
      .equation("again", add("a", 1), add("b", 1));
    const found = adjusted(solve(builder.system()), [0, 1]);
    expect(found!.redundancy).toBe(1);
    for (const { adjusted: value } of found!.readings) expect(value).toBeCloseTo(12, 12);
  });
});

describe("places at which a sum is too much", () => {
  /** Figures of 1 each, to ± their own. */
  const summed = (ends: readonly number[], together?: string) => {
    const builder = new SystemBuilder();
    ends.forEach((by, at) => {
      const given = within(1, by);
      builder.given({ [`x${at}`]: together === undefined ? given : { ...given, together } });
    });
    const claim = builder.claim(
      compare(add(...ends.map((_, at): Term => `x${at}`), 0), "<=", ends.length + 0.5),
    );
    const solution = solve(builder.system());
    const { worst, witness } = verdictOf(solution, claim);
    expect(worst).toBe("fails");
    const fewest = fewestPlaces(solution, claim, witness!);
    return { witness: witness!, fewest, at: (name: string) => builder.index(name) };
  };

  test("are those that matter most, as few as it takes", () => {
    const { fewest, at } = summed([0.1, 0.4, 0.2, 0.3]);
    expect([...fewest.keys()].sort()).toEqual([at("x1"), at("x3")].sort());
    expect([...fewest.values()].map((value) => value.toFixed(6)).sort()).toEqual([
      "1.300000",
      "1.400000",
    ]);
    expect(summed([0.6, 0.1]).fewest.size).toBe(1);
    expect(summed([0.6]).fewest.size).toBe(1);
    expect(summed([0.2, 0.2, 0.2, 0.2]).fewest.size).toBe(3);
  });

  test("stay as found where they move together, or are too many to look through", () => {
    const joined = summed([0.1, 0.4, 0.2, 0.3], "batch");
    expect(joined.fewest).toBe(joined.witness);
    const many = summed(Array.from({ length: 25 }, () => 0.1));
    expect(many.fewest).toBe(many.witness);
    expect(many.witness.size).toBe(25);
    const some = summed(Array.from({ length: 24 }, () => 0.1));
    expect(some.witness.size).toBe(24);
    expect(some.fewest.size).toBe(6);
  });
});
