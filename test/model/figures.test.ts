/** Figures as written: units, compounds, tolerances, limits; standings; what rests on assumptions. */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { analyzed, findingsOf } from "./build";
import { flawsOf } from "./everything";
import { golden } from "./golden";

function reading(text: string, path: string): [si: number, below: number, above: number] {
  const analysis = analyzed(text);
  expect(flawsOf(analysis)).toEqual([]);
  const value = analysis.valueAt(path);
  const spread = value?.spread();
  const round = (figure = Number.NaN): number => Number(figure.toPrecision(9));
  return [round(value?.si), round(spread?.worstBelow), round(spread?.worstAbove)];
}

// An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
describe("a figure as written", () => {
  test.each([
    ["61 3/8 in", [1.558925, 0, 0]],
    ["61-3/8 in", [1.558925, 0, 0]],
    ["5 ft 1 3/8 in", [1.558925, 0, 0]],
    ["1558.925 mm", [1.558925, 0, 0]],
    ["-1/2 in", [-0.0127, 0, 0]],
    ["2.500 in ± 0.010 in", [0.0635, 0.000254, 0.000254]],
    ["2.500 in +- 1/4 mm", [0.0635, 0.00025, 0.00025]],
    ["100 mm ± 2 %", [0.1, 0.002, 0.002]],
    ["0.008..0.012 in", [0.000254, 0.0000508, 0.0000508]],
    ["2.500 in within 2.495..2.510 in", [0.0635, 0.000127, 0.000254]],
    ["(2 in)", [0.0508, 0, 0]],
    ["1 in + 10 mm", [0.0354, 0, 0]],
    ["sqrt(9 mm * 16 mm)", [0.012, 0, 0]],
    ["max(1 in, 2 in, 5 mm) - min(1 in, 5 mm)", [0.0458, 0, 0]],
    ["if 1 > 2 then 1 in else 2 in", [0.0508, 0, 0]],
    ["round(17.4 mm, 0.5 mm)", [0.0175, 0, 0]],
    ["2 ^ 3 * 1 mm", [0.008, 0, 0]],
  ] as const)("%s", (written, expected) => {
    expect(reading(`kind bar { x: length }\nbar b { x: ${written} }`, "b.x")).toEqual(expected);
  });

  test("tolerances go through what is solved", () => {
    // Worst case of a sum is the sum; root sum square of 3 and 4 is 5.
    const text =
      'kind bar { a: length b: length c: length relation "sum": c = a + b }\nbar b { a: 100 mm ± 3 mm b: 50 mm ± 4 mm c: ? }';
    expect(reading(text, "b.c")).toEqual([0.15, 0.007, 0.007]);
    const value = analyzed(text).valueAt("b.c");
    expect(value?.spread()?.rss).toBeCloseTo(0.005, 12);
    expect(
      value?.contributors().map(({ path, share }) => [path, Number(share.toFixed(6))]),
    ).toEqual([
      ["b.b", 0.64],
      ["b.a", 0.36],
    ]);
  });

  test("lopsided limits stay lopsided", () => {
    const text =
      'kind bar { a: length b: length relation "double": b = 10 mm - 2 * a }\nbar b { a: 2.0 mm within 1.9..2.3 mm b: ? }';
    expect(reading(text, "b.b")).toEqual([0.006, 0.0006, 0.0002]);
  });
});

describe("a written number stands for what rounds to it", () => {
  const halves = (whole: string, half: string): string =>
    golden(
      `kind bar { whole: length half: length relation "half": half = whole / 2 }\nbar b { whole: ${whole} half: ${half} }`,
      { only: "conflict" },
    );

  test.each([
    // A decimal is good to half of its last place, a tape to half of 1/32 in, whole millimeters to half of one.
    ["4.13 in", "2.063 in"],
    ["54.349 in", "27.17 in"],
    ["54 11/32 in", "690.3 mm"],
    ["1495 mm", "747 mm"],
    ["2 in", "25 mm"],
  ])("%s and %s agree", (whole, half) => {
    expect(halves(whole, half)).toBe("");
  });

  test.each([
    ["4.13 in", "2.08 in"],
    ["54.349 in", "27.20 in"],
    ["1495 mm", "749 mm"],
    ["2.0000 in", "25.3 mm"],
  ])("%s and %s do not", (whole, half) => {
    expect(halves(whole, half)).toContain("conflict/givens");
  });

  test("counts are exact", () => {
    expect(
      golden(
        'kind box { pairs: count parts: count relation "two": parts = 2 * pairs }\nbox b { pairs: 3 parts: 7 }',
        { only: "conflict" },
      ),
    ).toContain("they miss by 1");
  });
});

describe("standings are told apart", () => {
  const text = `kind bar "Bar" {
  a: length bought
  b: length default 5 mm
  c: length
  d: length
  e: length
  word: text
  form: one_of(round, square) default round
  relation "sum": c = a + b
  relation "twice": d = 2 * a
  assume "usual": e = 3 mm
}
`;
  const standings = (analysis: Analysis): Record<string, string> =>
    Object.fromEntries([...analysis.values].map(([path, { standing }]) => [path, standing]));

  test("given, assumed, solved, missing", () => {
    expect(standings(analyzed(`${text}bar b { a: 1 mm c: ? d: ? }`))).toEqual({
      "b.a": "given",
      "b.b": "assumed",
      "b.c": "solved",
      "b.d": "solved",
      "b.e": "assumed",
    });
    expect(standings(analyzed(`${text}bar b { c: ? word: "x" form: square }`))).toEqual({
      "b.a": "missing",
      "b.b": "assumed",
      "b.c": "missing",
      "b.d": "missing",
      "b.e": "assumed",
      "b.word": "given",
      "b.form": "given",
    });
  });

  test("what rests on an assumption says on which", () => {
    const analysis = analyzed(`${text}bar b { a: 1 mm c: ? d: ? }`);
    expect(analysis.valueAt("b.b")?.restsOn).toEqual(["b.b is 5 mm"]);
    expect(analysis.valueAt("b.c")?.restsOn).toEqual(["b.b is 5 mm"]);
    expect(analysis.valueAt("b.d")?.restsOn).toEqual([]);
    expect(analysis.valueAt("b.e")?.restsOn).toEqual(["usual"]);
    expect(analysis.valueAt("b.a")?.restsOn).toEqual([]);
  });

  test("an assumption gives way to what is given", () => {
    const analysis = analyzed(`${text}bar b { a: 1 mm c: 4 mm e: 9 mm }`);
    expect(analysis.valueAt("b.b")?.si).toBeCloseTo(0.003, 12);
    expect(analysis.valueAt("b.b")?.standing).toBe("solved");
    expect(analysis.valueAt("b.b")?.restsOn).toEqual([]);
    expect(analysis.valueAt("b.e")?.si).toBeCloseTo(0.009, 12);
    // It gives way, and that is told.
    expect(analysis.findings.map(({ code }) => code)).toEqual(["given/against-default"]);
  });

  test("measured, as built", () => {
    const built = analyzed(
      `${text}bar b { a: 1 mm c: ? }\nrecord 2026-03-14 { b.a: 2 mm }`,
    ).asBuilt();
    expect(standings(built)["b.a"]).toBe("measured");
    expect(built.valueAt("b.c")?.si).toBeCloseTo(0.007, 12);
  });

  test("every solved figure says why", () => {
    const value = analyzed(`${text}bar b { a: 1 mm c: ? }`).valueAt("b.c");
    expect(value?.reason).toMatchObject({
      title: "sum",
      kind: "relation",
      formula: "c = a + b",
      inputs: ["b.a", "b.b"],
    });
  });
});

test("a field is shown in units of its own where its kind says so", () => {
  const kinds = `kind ramp { run: length in ft or m  lift: length in mm  rise: length
    relation "run": run = 40 * rise
    relation "lift": lift = rise / 2 }`;
  const shown = (text: string, path: string): string => {
    const analysis = analyzed(`${kinds}\n${text}`);
    const value = analysis.valueAt(path);
    return value === undefined ? "" : analysis.write(value);
  };
  expect(shown("display { length: in 1/32 }\nramp r { rise: 3 in }", "r.run")).toBe("10 ft");
  expect(shown("ramp r { rise: 3 in }", "r.lift")).toBe("38.1 mm");
  expect(shown("ramp r { rise: 100 mm }", "r.run")).toBe("4 m");
  expect(findingsOf(analyzed("kind ramp { run: length in kg }"))).toEqual([
    "1:28 error unit/wrong: `kg` is not a unit of length",
  ]);
});
