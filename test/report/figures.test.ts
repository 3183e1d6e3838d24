/** Figures as a person reads them, tables that line up, assumptions told once. */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { Assumptions } from "../../server/report/assumptions";
import { figureOf, plainFigure, toleranceOf } from "../../server/report/figure";
import { markdownTable, textTable, widthOf, wrapped } from "../../server/report/table";

const library = loadLibrary([
  {
    path: "box.trammel",
    text: `kind box "Box" {
  width: length "Width" source "geometry"
  wall: length default 1/8 in "Wall" source "common practice"
  inside: length shown "Between the walls"
  price: money "Price"
  finish: text "Finish"
  relation "inside": inside = width - 2 * wall
    source "geometry"
}
`,
  },
]);

function analysisOf(text: string): Analysis {
  const uri = "file:///shop/build.trammel";
  const analysis = new Analyzer(memoryHost(new Map([[uri, text]])), library).analyze(uri);
  if (analysis === undefined) throw new Error("the build could not be read");
  return analysis;
}

function figure(text: string, path: string) {
  const analysis = analysisOf(`display { length: in 1/32 }\n${text}`);
  const value = analysis.valueAt(path);
  if (value === undefined) throw new Error(`there is no ${path}`);
  return {
    ...figureOf(value, analysis),
    plain: plainFigure(value, analysis),
    tolerance: toleranceOf(value, analysis),
  };
}

describe("a figure", () => {
  test("says what it was rounded from", () => {
    // 2.1 in less two walls of 1/8 in is 1.85 in, nearest 1/32 in: 1 27/32 in = 1.84375 in.
    expect(figure("box b { width: 2.1 in }", "b.inside")).toMatchObject({
      text: "1 27/32 in",
      full: "1 27/32 in, rounded from 1.850 in",
      rounded: true,
      plain: "1.850 in",
    });
  });

  test("has its decimals beside it where it is exact", () => {
    expect(figure("box b { width: 2 in }", "b.inside")).toMatchObject({
      full: "1 3/4 in = 1.750 in",
      rounded: false,
    });
  });

  test("in steps of millimeters says what it was rounded from too", () => {
    const analysis = analysisOf("display { length: mm 0.5 }\nbox b { width: 50.3 mm  wall: 2 mm }");
    const value = analysis.valueAt("b.inside");
    expect(value && figureOf(value, analysis).full).toBe("46.5 mm, rounded from 46.3 mm");
  });

  test("that was given stands as it was written", () => {
    expect(figure("box b { width: 2.50 in }", "b.width").full).toBe("2.50 in");
    expect(figure("box b { width: 63-1/2 in }", "b.width").full).toBe("63-1/2 in = 63.500 in");
    // 50 mm is 1.968503937… in: what stands beside is not the whole of it.
    expect(figure("box b { width: 50 mm }", "b.width").full).toBe("50 mm, about 1.969 in");
    // 50.8 mm is 2 in exactly.
    expect(figure("box b { width: 50.8 mm }", "b.width").full).toBe("50.8 mm = 2 in");
  });

  test("keeps words, money and what is missing readable", () => {
    expect(figure('box b { width: 2 in  finish: "black" }', "b.finish").full).toBe("black");
    expect(figure("box b { price: 12.5 eur }", "b.price").full).toContain("12.5");
    expect(figure("box b { inside: ? }", "b.inside").full).toBe("missing");
  });

  test("shows both sides of a tolerance where they differ", () => {
    expect(figure("box b { width: 2 in ± 1/16 in }", "b.inside").tolerance?.worst).toBe(
      "± 1/16 in",
    );
    expect(
      figure("box b { width: 2 in within 1.990..2.030 in }", "b.inside").tolerance?.worst,
    ).toBe("+0.030 in -0.010 in");
    // A twentieth apart is one figure, the larger; beside a 0 the other keeps its digits.
    expect(
      figure("box b { width: 2 in within 1.9800..2.0204 in }", "b.inside").tolerance?.worst,
    ).toBe("± 0.0204 in");
    expect(
      figure("box b { width: 2 in within 1.979..2.000 in }", "b.inside").tolerance?.worst,
    ).toBe("+0 in -0.021 in");
    expect(figure("box b { width: 2 in }", "b.inside").tolerance).toBeUndefined();
  });

  test("what is likely of a figure that only goes one way is told by its sides", () => {
    // |a − b| of two normal ones: no less than 0, and 99.865 of 100 within 3.2 of σ = 0.1 · √2 / 3.
    const text = `kind offset_of "Offset" { a: length in mm; b: length in mm; apart: length in mm
  relation "apart": apart = abs(a - b) }
offset_of o { a: 10 mm ± 0.1 mm; b: 10 mm ± 0.1 mm }`;
    const likely = figure(text, "o.apart").tolerance?.rss ?? "";
    const [, above] = /^\+([\d.]+) mm -0 mm$/.exec(likely) ?? [];
    expect(Number(above)).toBeGreaterThan(0.14);
    expect(Number(above)).toBeLessThan(3.2 * 0.0472);
  });
});

test("the same default of several things is one assumption", () => {
  const analysis = analysisOf(
    "box a { width: 2 in }\nbox b { width: 3 in }\nbox c { width: 4 in  wall: 1/4 in }\n",
  );
  const notes = new Assumptions(analysis);
  const marks = ["a", "b", "c"].map((name) =>
    notes.marks(analysis.valueAt(`${name}.inside`)?.restsOn ?? []),
  );
  expect(marks).toEqual([" [1]", " [1]", ""]);
  expect(notes.entries()).toEqual(["wall is 1/8 in: a, b (common practice)"]);
});

describe("tables", () => {
  test("line up, without columns nobody fills and without space at the end", () => {
    const rows = [
      ["a", "", "± 1"],
      [{ text: "bbb", right: true }, "", "2"],
      [{ text: "c", paint: (text: string) => `<${text}>` }, "", ""],
    ];
    expect(textTable(rows, "  ")).toEqual(["  a    ± 1", "  bbb  2", "  <c>"]);
    expect(textTable([])).toEqual([]);
  });

  test("keep Markdown whole", () => {
    expect(markdownTable(["a", "b"], [["x | y", "two\nlines"]])).toEqual([
      "| a | b |",
      "| --- | --- |",
      "| x \\| y | two lines |",
    ]);
  });

  test("count marks that join as nothing and break at spaces only", () => {
    expect(widthOf("e\u0301±")).toBe(2);
    expect(wrapped("one two three", 7)).toEqual(["one two", "three"]);
    expect(wrapped("unbreakable", 3)).toEqual(["unbreakable"]);
    expect(wrapped("", 3)).toEqual([]);
  });
});
