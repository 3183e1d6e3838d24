/**
 * A builder's file for each way in which what holds nearby may not hold at large: invented figures, each
 * judged by a computation that knows nothing of the engine (dense sampling, closed forms, trying all).
 */
import { describe, expect, test } from "vitest";
import { analyzed } from "../model/build";

const inMillimeters = (si: number | undefined): number => (si ?? Number.NaN) * 1000;

describe("worst cases enclose all that is sampled, and are no wider than need be", () => {
  /** Formulas in `x` and `y`, in the language and as a function of numbers in millimeters. */
  const formulas: readonly [string, string, string, (x: number, y: number) => number][] = [
    ["a square about nothing", "0 mm ± 3 mm", "2 mm ± 1 mm", (x, y) => (x * x) / 1 + y * 0],
    ["a square off center", "1 mm ± 4 mm", "2 mm ± 1 mm", (x) => x * x],
    ["a product about nothing", "0 mm ± 2 mm", "0 mm ± 5 mm", (x, y) => x * y],
    ["a lopsided product", "3 mm within -1..4 mm", "7 mm ± 2 mm", (x, y) => x * y],
    ["a lopsided square", "1 mm within -3..2 mm", "0 mm ± 1 mm", (x, y) => x * x + y],
    ["a lopsided kink", "2 mm within 0..9 mm", "4 mm within 1..5 mm", (x, y) => Math.abs(x - y)],
    ["a difference of squares", "4 mm ± 1 mm", "4 mm ± 1 mm", (x, y) => x * x - y * y],
    ["a distance", "0 mm ± 6 mm", "8 mm ± 1 mm", (x, y) => Math.hypot(x, y)],
    ["a distance near its corner", "0 mm ± 1 mm", "0 mm ± 2 mm", (x, y) => Math.hypot(x, y)],
    ["a reciprocal", "0.7 mm ± 0.5 mm", "2 mm ± 1 mm", (x) => 1 / x],
    ["a quotient", "5 mm ± 2 mm", "-3 mm ± 1 mm", (x, y) => x / y],
    ["a bend to the other side", "2 mm ± 3 mm", "1 mm ± 1 mm", (x, y) => x * x * x - 3 * x * y],
    ["a kink", "1 mm ± 2 mm", "0 mm ± 3 mm", (x, y) => Math.abs(x - y)],
    ["the greater of two", "4 mm ± 2 mm", "5 mm ± 1 mm", (x, y) => Math.max(x * x, 4 * y)],
    ["a root near its edge", "4 mm ± 4 mm", "1 mm ± 0 mm", (x) => Math.sqrt(x)],
    ["an exponential", "1 mm ± 2 mm", "1 mm ± 1 mm", (x, y) => Math.exp(x) - y],
    ["a sum that cancels", "6 mm ± 2 mm", "3 mm ± 1 mm", (x, y) => x + y - (x - y)],
    ["a ratio of sums", "6 mm ± 2 mm", "3 mm ± 1 mm", (x, y) => (x - y) / (x + y)],
  ];
  const written = [
    "(f.x / 1 mm) ^ 2",
    "(f.x / 1 mm) ^ 2",
    "(f.x / 1 mm) * (f.y / 1 mm)",
    "(f.x / 1 mm) * (f.y / 1 mm)",
    "(f.x / 1 mm) ^ 2 + f.y / 1 mm",
    "abs(f.x - f.y) / 1 mm",
    "(f.x / 1 mm) ^ 2 - (f.y / 1 mm) ^ 2",
    "sqrt((f.x / 1 mm) ^ 2 + (f.y / 1 mm) ^ 2)",
    "sqrt((f.x / 1 mm) ^ 2 + (f.y / 1 mm) ^ 2)",
    "1 mm / f.x",
    "f.x / f.y",
    "(f.x / 1 mm) ^ 3 - 3 * (f.x / 1 mm) * (f.y / 1 mm)",
    "abs(f.x - f.y) / 1 mm",
    "max((f.x / 1 mm) ^ 2, 4 * f.y / 1 mm)",
    "sqrt(f.x / 1 mm)",
    "exp(f.x / 1 mm) - f.y / 1 mm",
    "((f.x + f.y) - (f.x - f.y)) / 1 mm",
    "(f.x - f.y) / (f.x + f.y)",
  ];

  const limits = (text: string): readonly [number, number] => {
    const even = /^(-?[\d.]+) mm ± ([\d.]+) mm$/.exec(text);
    if (even !== null)
      return [Number(even[1]) - Number(even[2]), Number(even[1]) + Number(even[2])];
    const [, low, high] = /within (-?[\d.]+)\.\.(-?[\d.]+) mm$/.exec(text) ?? [];
    return [Number(low), Number(high)];
  };

  test.each(formulas.map((each, at) => [...each, written[at] ?? ""] as const))(
    "%s",
    (_, x, y, formula, text) => {
      const analysis = analyzed(`kind case { x: length  y: length  out: number }
case f { x: ${x}  y: ${y.replace(" ± 0 mm", "")}  out: ${text.replaceAll("f.", "")} }`);
      const value = analysis.valueAt("f.out");
      const [xLow, xHigh] = limits(x);
      const [yLow, yHigh] = limits(y);
      let least = Number.POSITIVE_INFINITY;
      let most = Number.NEGATIVE_INFINITY;
      for (let i = 0; i <= 400; i++) {
        for (let j = 0; j <= 40; j++) {
          const out = formula(xLow + (i / 400) * (xHigh - xLow), yLow + (j / 40) * (yHigh - yLow));
          least = Math.min(least, out);
          most = Math.max(most, out);
        }
      }
      const si = value?.si ?? Number.NaN;
      const spread = value?.spread();
      const low = si - (spread?.worstBelow ?? Number.NaN);
      const high = si + (spread?.worstAbove ?? Number.NaN);
      const room = 2e-3 * (most - least) + 1e-9;
      expect(low).toBeLessThanOrEqual(least + 1e-9);
      expect(high).toBeGreaterThanOrEqual(most - 1e-9);
      expect(low).toBeGreaterThan(least - room);
      expect(high).toBeLessThan(most + room);
      // What is likely lies within it.
      expect((spread?.rss ?? 0) * 2).toBeLessThanOrEqual(high - low + 1e-9);
    },
  );
});

describe("conditions with numbers decide with the figures they speak of", () => {
  test.each([2, 4.9, 5, 5.1, 7, 12])("a bush with a wall of %d mm is pressed or glued", (wall) => {
    const analysis = analyzed(`kind bush {
  wall: length
  over: length
  relation "pressed" when wall >= 5 mm: over = wall / 100
  relation "glued" when wall < 5 mm: over = 0 mm - 0.2 mm
}
bush b { wall: ${wall} mm  over: ? }`);
    expect(inMillimeters(analysis.valueAt("b.over")?.si)).toBeCloseTo(
      wall >= 5 ? wall / 100 : -0.2,
      9,
    );
  });
});

describe("exact decimals add up as on paper", () => {
  test.each([
    [30.1, 20.04, 10.06],
    [0.3, 0.1, 0.2],
    [70.7, 70.63, 0.07],
    [1.1, 0.37, 0.73],
    [99.99, 33.33, 66.66],
    [4.35, 4.2, 0.15],
    [2.675, 2.6, 0.075],
    [1000.1, 999.9, 0.2],
    [5.7, 1.9, 3.8],
    [8.41, 8.4, 0.01],
  ])("%d - %d - %d is nothing, and a ten thousandth short is short", (a, b, c) => {
    const held = (last: number): boolean =>
      analyzed(`kind stack { a: length  b: length  c: length }
stack s { a: ${a} mm  b: ${b} mm  c: ${last} mm }
check "room": s.a - s.b - s.c >= 0 mm`).findings.length === 0;
    expect(held(c)).toBe(true);
    expect(held(Number((c + 1e-4).toFixed(6)))).toBe(false);
  });
});

describe("all answers in a range are found, and one is picked by nearness", () => {
  test.each([
    [4, 3],
    [10, 21],
    [7, 12],
    [9, 14],
    [6, 5.75],
  ])("a strip of half girth %d mm and %d mm² has two widths", (half, area) => {
    const root = Math.sqrt(half * half - 4 * area);
    const roots = [(half - root) / 2, (half + root) / 2];
    const text = (near: string) => `kind strip {
  wide: length range 0 mm..100 mm
  high: length range 0 mm..100 mm
  half: length
  area: area
  relation "half girth": wide + high = half
  relation "area": wide * high = area
}
strip s { half: ${half} mm  area: ${area} mm^2  wide: ? ${near} }`;
    const open = analyzed(text(""));
    expect(open.valueAt("s.wide")?.si).toBeUndefined();
    expect(open.findings.length).toBeGreaterThan(0);
    for (const expected of roots) {
      const picked = analyzed(text(`near ${(expected * 1.02).toFixed(3)} mm`));
      expect(inMillimeters(picked.valueAt("s.wide")?.si)).toBeCloseTo(expected, 6);
    }
  });
});

describe("whole numbers are searched, not rounded", () => {
  test.each([
    ["3.45", 9, 31],
    ["2.846", 7, 19],
    ["4.1", 10, 19],
    ["3.727", 7, 19],
    ["5.375", 7, 12],
  ])("a ratio of %s of at most 60 by %d to %d teeth", (ratio, from, to) => {
    const half = 0.5 / 10 ** (ratio.split(".")[1] ?? "").length;
    const pairs: string[] = [];
    for (let driven = 30; driven <= 60; driven++) {
      for (let driving = from; driving <= to; driving++) {
        if (Math.abs(driven / driving - Number(ratio)) <= half + 1e-12)
          pairs.push(`${driven} ${driving}`);
      }
    }
    const analysis = analyzed(`kind pair {
  driven: count range 30..60
  driving: count range ${from}..${to}
  ratio: number
  relation "ratio": ratio = driven / driving
}
pair p { ratio: ${ratio}  driven: ?  driving: ? }`);
    const [driven, driving] = ["p.driven", "p.driving"].map((path) => analysis.valueAt(path)?.si);
    if (pairs.length === 1) expect(`${driven} ${driving}`).toBe(pairs[0]);
    else {
      expect(driven).toBeUndefined();
      expect(analysis.findings.length).toBeGreaterThan(0);
    }
  });
});

describe("what is fixed while others stay open", () => {
  test.each([
    [60, 30],
    [47, 23.5],
    [12.5, 6.25],
    [101, 50.5],
  ])("sides that add up to the offset, %d mm wide over all", (wide, offset) => {
    const analysis = analyzed(`kind frame {
  left: length
  right: length
  offset: length
  wide: length
  relation "over all": left + right + offset = wide
  relation "between": left + right = offset
}
frame f { wide: ${wide} mm ± 1 mm  offset: ? }`);
    expect(inMillimeters(analysis.valueAt("f.offset")?.si)).toBeCloseTo(offset, 9);
    expect(inMillimeters(analysis.valueAt("f.offset")?.spread()?.worstAbove)).toBeCloseTo(0.5, 3);
    expect(analysis.valueAt("f.left")?.si).toBeUndefined();
  });
});

describe("make it fit: the change that is offered holds, and no smaller one of that figure does", () => {
  test.each([
    [20, 4, 30],
    [18, 7, 40],
    [11, 3, 25],
    [50, 2, 61],
  ])("%d mm and %d spacers of 1.5 mm are to reach %d mm", (base, count, reach) => {
    const text = (b: number, c: number) => `kind pile {
  base: length made
  count: count made range 0..40
  high: length
  relation "high": high = base + count * 1.5 mm
}
pile p { base: ${b} mm  count: ${c} }
check "reaches": p.high >= ${reach} mm`;
    expect(analyzed(text(base, count)).findings.length).toBeGreaterThan(0);
    const needed = Math.ceil((reach - base) / 1.5 - 1e-9);
    expect(analyzed(text(base, needed)).findings).toEqual([]);
    expect(analyzed(text(base, needed - 1)).findings.length).toBeGreaterThan(0);
    const offers = analyzed(text(base, count)).findings.flatMap((finding) => [
      ...(finding.fixes ?? []),
      ...(finding.furtherFixes?.() ?? []),
    ]);
    const written = offers.flatMap(({ edits }) => edits.map(({ text: each }) => each));
    expect(written.some((each) => each.includes(String(needed)))).toBe(true);
  });
});

describe("readings contradict each other where no ± and no rounding makes them agree", () => {
  // A tenth is good to half of one: 0.05 mm for each of the three.
  const by = 0.2;
  test.each([
    [20.1, 30.4, 50.5],
    [20.1, 30.4, 51.2],
    [20.1, 30.4, 51.3],
    [12.3, 45.6, 57.2],
    [12.3, 45.6, 57.1],
    [70.2, 8.8, 79.7],
    [70.2, 8.8, 79.8],
    [5.5, 5.6, 10.3],
  ])("%d mm and %d mm against %d mm", (left, right, whole) => {
    const off = Math.abs(left + right - whole);
    const room = 3 * (by + 0.05);
    const analysis = analyzed(`kind bar {
  left: length
  right: length
  whole: length
  relation "halves": whole = left + right
}
bar b { left: ${left.toFixed(1)} mm ± ${by} mm  right: ${right.toFixed(1)} mm ± ${by} mm  whole: ${whole.toFixed(1)} mm ± ${by} mm }`);
    const told = analysis.findings.some(({ code }) => code.startsWith("conflict"));
    expect(told).toBe(off > room + 1e-9);
  });
});
