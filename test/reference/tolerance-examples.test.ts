/**
 * Tolerances through a formula, against published worked examples, written in the language.
 *
 * - Shigley's Mechanical Engineering Design, 9th edition, example 1-7 (figures from memory): the gap
 *   beside three stacked parts in a shouldered screw.
 * - JCGM 100:2008 (GUM), H.1, calibration of an end gauge (figures from memory): 50.000 838 mm with a
 *   standard uncertainty of 32 nm.
 */
import { describe, expect, test } from "vitest";
import { solved } from "./solve-text";

const inch = 0.0254;

describe("the stack of the handbook", () => {
  // w = a - b - c - d = 1.750 - 0.750 - 0.120 - 0.875 = 0.005 in, ± (0.003 + 0.001 + 0.005 + 0.001).
  const build = `kind stack {
  a: length
  b: length
  c: length
  d: length
  gap: length range -1 in..1 in
  relation "gap": gap = a - b - c - d
}
stack screw {
  a: 1.750 in ± 0.003 in
  b: 0.750 in ± 0.001 in
  c: 0.120 in ± 0.005 in
  d: 0.875 in ± 0.001 in
  gap: ?
}
check "there is a gap": screw.gap >= 0 in
`;

  test("comes to 0.005 in ± 0.010 in at worst", () => {
    const { figure, worst } = solved(build);
    expect(figure("screw.gap") / inch).toBeCloseTo(0.005, 12);
    expect(worst("screw.gap") / inch).toBeCloseTo(0.01, 12);
  });

  test("comes to ± 0.006 in as a root sum square, the thick part most of it", () => {
    const { analysis } = solved(build);
    const gap = analysis.valueAt("screw.gap");
    // √(3² + 1² + 5² + 1²) thousandths.
    expect((gap?.spread()?.rss ?? 0) / inch).toBeCloseTo(0.006, 12);
    const [first] = gap?.contributors() ?? [];
    expect(first).toMatchObject({ path: "screw.c" });
    expect(first?.share).toBeCloseTo(25 / 36, 9);
  });

  test("may close at worst, and how often is told", () => {
    const { analysis } = solved(build);
    const [check] = analysis.checks;
    expect(check?.verdict).toMatchObject({ nominal: "holds", worst: "fails" });
    // 0.005 in is 2.5 of the standard deviations of 0.002 in: Φ(2.5) = 0.9938, and a little more
    // since no part lies beyond its limits.
    expect(Math.abs((check?.chance()?.share ?? 0) - 0.9938)).toBeLessThan(0.002);
  });
});

describe("the end gauge of the GUM", () => {
  // Limits are three standard uncertainties: 25 nm, 9.7 nm, 0.58e-6 and 0.029.
  const build = `kind end_gauge {
  standard: length
  difference: length
  expansion_apart: number
  off_reference: number
  expansion: number
  warmer: number
  measured: length
  relation "calibration": measured = standard + difference - standard * (expansion_apart * off_reference + expansion * warmer)
}
end_gauge gauge {
  standard: 50.000623 mm ± 0.000075 mm
  difference: 0.000215 mm ± 0.0000291 mm
  expansion_apart: 0 ± 0.00000174
  off_reference: -0.1
  expansion: 0.0000115
  warmer: 0 ± 0.087
  measured: ?
}
`;

  test("comes to its length and its standard uncertainty", () => {
    const { analysis, figure } = solved(build);
    expect(figure("gauge.measured")).toBeCloseTo(0.050000838, 12);
    const standard = (analysis.valueAt("gauge.measured")?.spread()?.rss ?? 0) / 3;
    expect(Math.round(standard * 1e9)).toBe(32);
    // (25² + 9.7² + 2.9² + 16.7²) nm², by the parts in the example's table.
    const share = Object.fromEntries(
      (analysis.valueAt("gauge.measured")?.contributors() ?? []).map((each) => [
        each.path,
        each.share,
      ]),
    );
    const whole = 25 ** 2 + 9.7 ** 2 + 2.9 ** 2 + 16.675 ** 2;
    expect(share["gauge.standard"]).toBeCloseTo(25 ** 2 / whole, 3);
    expect(share["gauge.warmer"]).toBeCloseTo(16.675 ** 2 / whole, 3);
  });
});
