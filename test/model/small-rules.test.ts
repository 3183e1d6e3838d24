/** Small rules of how a build is read, each by hand. */
import { describe, expect, test } from "vitest";
import { analyzed } from "./build";

const codes = (text: string) => analyzed(text).findings.map(({ code }) => code);
const mm = (text: string, path: string) => (analyzed(text).valueAt(path)?.si ?? Number.NaN) * 1000;

describe("what is asked", () => {
  test("of a part of a designation is answered with it", () => {
    const analysis = analyzed("tire t { size: 205/55R16 }\nt.size.width: ?");
    const [asked] = analysis.asked;
    expect(asked?.value.path).toBe("t.size.width");
    expect((asked?.value.si ?? 0) * 1000).toBeCloseTo(205, 9);
  });

  test("goes over to what is like it, unless that says more", () => {
    const asked = (more: string) =>
      analyzed(`kind box "Box" { a: length  b: length  relation "twice": b = 2 * a }
box one { a: 10 mm  b: ? }
box two like one { ${more} }`).asked.map(({ value }) => [value.path, (value.si ?? 0) * 1000]);
    expect(asked("a: 30 mm")).toEqual([
      ["one.b", expect.closeTo(20, 9)],
      ["two.b", expect.closeTo(60, 9)],
    ]);
    expect(asked("a: 30 mm  b: 60 mm").map(([path]) => path)).toEqual(["one.b"]);
  });
});

test("what is asked once more, or under an option, stays what it was said to be", () => {
  const text = `kind beam "Beam" { a: length measured; b: length\n  relation "twice": b = 2 * a }
beam b { a: 10.3 mm; b: ? made to 1 mm ± 0.5 mm }
`;
  const told = (more: string) => {
    const analysis = analyzed(text + more);
    const value = (more.includes("option") ? analysis.under("o") : analysis)?.valueAt("b.b");
    return [value?.role, (value?.outcome()?.si ?? 0) * 1000];
  };
  // 20.6 mm, on a step of 1 mm.
  for (const more of ["", "b.b: ?", "option o { b.b: ? }"])
    expect(told(more)).toEqual(["made", expect.closeTo(21, 9)]);
  expect(told("b.b: ? wanted")[0]).toBe("wanted");
});

describe("names in a kind's formulas", () => {
  const kind = (formula: string) =>
    codes(`kind box "Box" { tire: tire  a: length  relation "a": a = ${formula} }`);

  test("lead through things to fields and to parts of designations", () => {
    expect(kind("tire.size.width")).toEqual([]);
    expect(kind("tire.size.girth")).toEqual(["name/unknown-field"]);
    expect(kind("tire.sise.width")).toEqual(["name/unknown-field"]);
    expect(kind("tyre.size.width")).toEqual(["name/unknown-field"]);
    expect(kind("a.b")).toEqual(["name/unknown-field"]);
    expect(
      mm(
        `kind box "Box" { tire: tire  a: length  relation "a": a = 2 * tire.size.width }
tire t { size: 205/55R16 }
box x { tire: t  a: ? }`,
        "x.a",
      ),
    ).toBeCloseTo(410, 9);
  });
});

describe("conditions", () => {
  const build = (when: string, a = "10 mm") =>
    `kind box "Box" {
  a: length
  b: length
  how: one_of(once, twice)
  relation "once" when ${when}: b = a
  relation "twice" when not (${when}): b = 2 * a
}
box x { a: ${a}  b: ?  how: twice }`;

  test.each([
    ["how == once", 20],
    ["how == twice", 10],
    ["how != twice", 20],
    ["how == once or how == twice", 10],
    ["how == once and how == twice", 20],
    ["a > 5 mm", 10],
    ["a > 10 mm", 20],
    ["a >= 10 mm", 10],
    ["a < 10 mm", 20],
    ["a <= 10 mm", 10],
    ["a > 5 mm and how == twice", 10],
    ["a > 5 mm and how == once", 20],
    ["a > 50 mm or how == twice", 10],
    ["given(a)", 10],
    ["given(b)", 20],
  ])("when %s", (when, wanted) => {
    expect(mm(build(when), "x.b")).toBeCloseTo(wanted, 9);
  });

  test("on what is not known leave the figure open", () => {
    expect(analyzed(build("a > 5 mm", "?")).valueAt("x.b")?.si).toBeUndefined();
  });
});

describe("lines written into things from outside", () => {
  test("count as if they stood inside, in a part of a part, too", () => {
    const analysis = analyzed(`kind pin "Pin" { long: length }
kind frame "Frame" { pin: part pin  wide: length  relation "wide": wide = 3 * pin.long }
kind cart "Cart" { frame: part frame }
cart c {}
c.frame.pin.long: 20 mm
c.frame.wide: ?`);
    expect((analysis.valueAt("c.frame.wide")?.si ?? 0) * 1000).toBeCloseTo(60, 9);
    expect(analysis.findings).toEqual([]);
  });

  test("a second line about the same figure is told", () => {
    expect(
      codes(`kind pin "Pin" { long: length }
pin p { long: 20 mm }
p.long: 30 mm`),
    ).toContain("given/twice");
  });
});
