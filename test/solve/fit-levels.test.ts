/**
 * What makes a check hold at the level at which it fails: the nearest whole step of each figure, by
 * trying every one against the sum and the root sum square of its tolerances.
 */
import { describe, expect, test } from "vitest";
import { fitFor, solve, tightenFor, verdictOf } from "../../server/solve";
import type { FitLevel } from "../../server/solve/system";
import { add, compare, mul, of, SystemBuilder, within } from "./build";
import { randoms } from "./random-systems";

const step = 0.25;

/** y = 3a − 2b + c, each with its own ±; the check is y ≥ limit. */
function build(values: readonly number[], offs: readonly number[], ranges: readonly number[]) {
  const builder = new SystemBuilder();
  for (const [at, name] of ["a", "b", "c"].entries())
    builder.variable(name, {
      given: within(values[at]!, offs[at]!),
      role: "made",
      range: [0, ranges[at]!],
    });
  return builder.equation("y", "y", add(mul(3, "a"), mul(-2, "b"), "c"));
}
const slopes = [3, -2, 1];

describe("one figure in whole steps", () => {
  test.each(["nominal", "rss", "worst"] as const)("%s", (level: FitLevel) => {
    const random = randoms(level.length * 7);
    let [tried, none] = [0, 0];
    for (let round = 0; round < 60; round++) {
      const values = [1, 2, 3].map(() => 2 + step * Math.floor(random() * 24));
      const offs = [1, 2, 3].map(() => Math.floor(random() * 5) / 16);
      const ranges = values.map((value) => value + 0.5 + random() * 4);
      const taken = {
        nominal: 0,
        rss: Math.hypot(...offs.map((off, at) => off * slopes[at]!)),
        worst: offs.reduce((sum, off, at) => sum + off * Math.abs(slopes[at]!), 0),
      }[level];
      const at = (own: readonly number[]) =>
        own.reduce((sum, value, k) => sum + value * slopes[k]!, 0) - taken;
      const limit = at(values) + 0.07 + random() * 6;
      const builder = build(values, offs, ranges);
      const claim = builder.claim(compare("y", ">=", limit));
      const solution = solve(builder.system());
      expect(verdictOf(solution, claim)[level]).toBe("fails");
      const fits = fitFor(solution, claim, () => step, level).filter(
        ({ also }) => also === undefined,
      );
      for (const k of [0, 1, 2]) {
        const steps = Array.from({ length: 120 }, (_, n) => n * step)
          .filter((value) => value <= ranges[k]!)
          .filter((value) => at(values.map((old, j) => (j === k ? value : old))) >= limit - 1e-9)
          .sort((one, other) => Math.abs(one - values[k]!) - Math.abs(other - values[k]!));
        const fit = fits.find(({ variable }) => variable === k);
        expect(fit?.value, `${round} ${k}`).toEqual(
          steps[0] === undefined ? undefined : expect.closeTo(steps[0], 9),
        );
        if (fit === undefined) none++;
        else {
          tried++;
          expect(fit.effort).toBeCloseTo(Math.abs(fit.value - values[k]!), 9);
        }
      }
    }
    expect(Math.min(tried, none)).toBeGreaterThan(15);
  });

  test("the gentlest first", () => {
    const builder = build([4, 4, 4], [0, 0, 0], [40, 40, 40]);
    const claim = builder.claim(compare("y", ">=", 11));
    const found = fitFor(solve(builder.system()), claim, () => step);
    // 3 are missing: a by 1, b by 1.5, c by 3.
    expect(found.map(({ variable, value }) => [variable, value])).toEqual([
      [0, 5],
      [1, 2.5],
      [2, 7],
    ]);
  });

  test("to an exact figure, on a step or off it", () => {
    const builder = build([4, 4, 4], [0, 0, 0], [40, 40, 40]);
    const fits = (limit: number) =>
      fitFor(solve(builder.system()), builder.claim(compare("y", "==", limit)), () => step).map(
        ({ variable, value }) => [variable, value],
      );
    expect(fits(11)).toEqual([
      [0, 5],
      [1, 2.5],
      [2, 7],
    ]);
    // 8.1: no step of any; each just so.
    expect(fits(8.1)).toEqual([
      [0, expect.closeTo(4 + 0.1 / 3, 9)],
      [1, expect.closeTo(3.95, 9)],
      [2, expect.closeTo(4.1, 9)],
    ]);
  });
});

describe("tolerances to tighten", () => {
  test("one that holds as drawn at both levels, by sum and root sum square", () => {
    const builder = build([4, 4, 4], [0.25, 0.125, 0.5], [40, 40, 40]);
    const solution = solve(builder.system());
    // y = 8; the sum takes 0.75 + 0.25 + 0.5, the root sum square 0.935….
    const at = (limit: number) =>
      tightenFor(solution, builder.claim(compare("y", ">=", limit)), () => true);
    expect(at(6.5)).toEqual([]);
    expect(at(8.5)).toEqual([]);
    const worst = at(6.75);
    expect(worst.map(({ level }) => level)).toEqual(worst.map(() => "worst"));
    // 0.25 too much: of a's 0.75 two thirds may stay, of c's 0.5 a half, of b's 0.25 none.
    expect(worst.map(({ variables, share }) => [variables[0], Math.round(share * 100)])).toEqual([
      [0, expect.closeTo(66, -1)],
      [2, expect.closeTo(50, -1)],
    ]);
    const likely = at(7.2);
    expect(likely.length).toBeGreaterThan(0);
    for (const { level } of likely) expect(level).toBe("rss");
  });
});

describe("a figure by which a list is read", () => {
  const drills = {
    name: "drills",
    method: "exact",
    keys: [1, 2, 4, 5, 9, 12],
    values: [10, 30, 20, 40, 25, 90],
  } as const;
  const build = (range: readonly [number, number], given?: number) => {
    const builder = new SystemBuilder().variable("number", {
      role: "made",
      range,
      ...(given === undefined ? {} : { given }),
    });
    return builder.equation("bore", "bore", { op: "lookup", curve: drills, of: of("number") });
  };

  test("is offered as the nearest row that does, whatever the step", () => {
    const nearest = (number: number, limit: number) => {
      const builder = build([0, 20], number);
      const claim = builder.claim(compare("bore", ">=", limit));
      return fitFor(solve(builder.system()), claim, () => 0.5).map(({ value }) => value);
    };
    expect(nearest(4, 28)).toEqual([5]);
    expect(nearest(1, 28)).toEqual([2]);
    expect(nearest(9, 28)).toEqual([12]);
    expect(nearest(4, 80)).toEqual([12]);
    expect(nearest(4, 95)).toEqual([]);
  });

  test("where no row does, those next to it that are in range are told", () => {
    const { failures } = solve(build([0, 10]).given({ bore: 28 }).system());
    expect(failures[0]).toMatchObject({ why: "no-root" });
    // 30 misses by 2, 25 by 3, 20 by 8, 40 by 12, 10 by 18; 12 is out of range.
    expect(failures[0]!.nearest).toEqual([2, 9, 4, 5, 1]);
  });
});
