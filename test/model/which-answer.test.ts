/** What stands behind a `?` or a ±: which answer is meant, how a tolerance lies, what moves together. */
import { expect, test } from "vitest";
import { analyzed } from "./build";

const kinds = `kind arm {
  tilt: angle
  reach: length
  rise: length
  one: length
  other: length
  whole: length
  relation "rise": rise = reach * sin(tilt)
  relation "whole": whole = one + other
}
`;

const tilt = (asked: string): number | undefined =>
  analyzed(`${kinds}arm a { reach: 2 in; rise: 1 in; tilt: ${asked} }`).valueAt("a.tilt")?.si;
const degrees = (angle: number | undefined): number => ((angle ?? Number.NaN) * 180) / Math.PI;

test("of two angles with one sine, the one that is meant", () => {
  expect(tilt("?")).toBeUndefined();
  expect(degrees(tilt("? near 20 deg"))).toBeCloseTo(30, 9);
  expect(degrees(tilt("? near 140 deg"))).toBeCloseTo(150, 9);
  expect(degrees(tilt("? near 90..180 deg"))).toBeCloseTo(150, 9);
  // Beyond a half turn only where that is what is asked for.
  expect(degrees(tilt("? near 400 deg"))).toBeCloseTo(390, 9);
});

test("what is no figure behind near is told", () => {
  const codes = (asked: string): readonly string[] =>
    analyzed(`${kinds}arm a { reach: 2 in; rise: 1 in; tilt: ${asked} }`).findings.map(
      ({ code }) => code,
    );
  expect(codes("? near 3 in").filter((code) => code.startsWith("unit/"))).toHaveLength(1);
  expect(codes("? near reach")).toContain("value/not-a-number");
});

test("how tolerances lie, and what moves together", () => {
  const spread = (behind: string, beside = behind) => {
    const text = `arm a { one: 1 in ± 0.1 in ${behind}; other: 2 in ± 0.1 in ${beside}; whole: ? }`;
    const inches = (by: number | undefined): number => (by ?? Number.NaN) / 0.0254;
    const found = analyzed(kinds + text)
      .valueAt("a.whole")
      ?.spread();
    return { worst: inches(found?.worstAbove), likely: inches(found?.rss), draws: found?.draws };
  };
  expect(spread("")).toMatchObject({ worst: expect.closeTo(0.2, 9), draws: 0 });
  expect(spread("").likely).toBeCloseTo(0.1 * Math.SQRT2, 9);
  expect(spread('together "the jig"').likely).toBeCloseTo(0.2, 9);
  expect(spread("uniform").likely).toBeGreaterThan(0.17);
  expect(spread("uniform").draws).toBe(4096);
  expect(spread("triangular").likely).toBeLessThan(spread("uniform").likely);
  expect(spread('uniform together "the jig"').likely).toBeCloseTo(0.2 * 0.9973, 3);
});
