/** What formulas come to in a build, each beside what arithmetic says. */
import { describe, expect, test } from "vitest";
import { analyzed } from "./build";

/** The value of a formula over a kit of plain figures, by a check that holds it to what is expected. */
function comes(formula: string, to: string, more = ""): string[] {
  const text = `kind box "Box" {
  a: length
  b: length
  n: count
  k: number
  sizes: list of length
  words: list of text
  angle: angle
}
box x { a: 3 in  b: 5 in  n: 2  k: 4  sizes: [1 in, 2 in, 4 in]  angle: 30 deg ${more} }
check "comes": ${formula} == ${to}
`;
  return analyzed(text).findings.map(
    ({ severity, code, message }) => `${severity} ${code} ${message}`,
  );
}

describe("what puts several together", () => {
  test.each([
    ["sum(x.a, x.b)", "8 in"],
    ["mean(x.a, x.b)", "4 in"],
    ["count(x.a, x.b)", "2"],
    ["min(x.a, x.b)", "3 in"],
    ["max(x.a, x.b)", "5 in"],
    ["sum(x.sizes)", "7 in"],
    ["mean(x.sizes)", "7/3 in"],
    ["count(x.sizes)", "3"],
    ["min(x.sizes)", "1 in"],
    ["max(x.sizes)", "4 in"],
    ["sum(x.sizes, x.a)", "10 in"],
    ["item(x.sizes, 1)", "1 in"],
    ["item(x.sizes, 3)", "4 in"],
    ["item(x.sizes, x.n)", "2 in"],
    ["item(x.sizes, x.n + 1)", "4 in"],
    ["item(x.sizes, 3 - x.n)", "1 in"],
    ["item(x.sizes, x.k / x.n)", "2 in"],
    ["item(x.sizes, -1 + x.k)", "4 in"],
    ["item(x.sizes, -(-x.n))", "2 in"],
    ["stack(x.sizes, 6 in, 0.1 in)", "6 in"],
    ["stack_count(x.sizes, 6 in, 0.1 in)", "2"],
  ])("%s is %s", (formula, to) => {
    expect(comes(formula, to)).toEqual([]);
  });

  test("a wrong answer is told, so that the right ones above say something", () => {
    expect(comes("mean(x.a, x.b)", "5 in")[0]).toContain("check/own");
    expect(comes("item(x.sizes, 2)", "1 in")[0]).toContain("check/own");
  });

  test.each([
    ["item(x.sizes)", "value/arguments item"],
    ["item(x.sizes, 1, 2)", "value/arguments item"],
    ["item(x.a, 1)", "value/arguments item"],
    ["stack(x.sizes, 6 in)", "value/arguments"],
    ["stack(x.a, 6 in, 1 in)", "value/arguments"],
    ["stack(x.sizes, 6 in, 1 in, x.sizes, 1)", "value/arguments"],
    ["atan2(x.a)", "value/arguments"],
    ["abs(x.a, x.b)", "value/arguments"],
    ["min()", "value/arguments"],
    ["hypot(x.a)", "name/unknown-function"],
    ["sum(x.a, x.k)", "unit/clash"],
    ["mean(x.a, 3 deg)", "unit/clash"],
  ])("%s is refused", (formula, code) => {
    const [found = ""] = comes(formula, "1 in").map((each) => each.split(" ")[1]);
    expect(found).toBe(code.split(" ")[0]);
  });

  test("one that is not there leaves what asks for it unjudged", () => {
    for (const formula of ["item(x.sizes, 4)", "item(x.sizes, 0)", "item(x.sizes, 1.5)"])
      expect(
        comes(formula, "1 in").some((each) => each.includes("check/own")),
        formula,
      ).toBe(false);
  });
});

describe("functions", () => {
  test.each([
    ["sqrt(16 in^2)", "4 in"],
    ["abs(x.a - x.b)", "2 in"],
    ["sin(x.angle)", "0.5"],
    ["atan2(1 in, 1 in)", "45 deg"],
    ["asin(0.5)", "30 deg"],
    ["round(x.a / x.b, 0.25)", "0.5"],
    ["round(2.6 in, 1 in)", "3 in"],
    ["floor(2.6 in, 1 in)", "2 in"],
    ["ceil(2.4 in, 1 in)", "3 in"],
    ["x.a ^ 2", "9 in^2"],
    ["x.a * x.b", "15 in^2"],
    ["x.b / x.a", "5/3"],
    ["-x.a + x.b", "2 in"],
    ["pi * x.a", "9.42477796076938 in"],
    ["(if x.a > x.b then x.a else x.b)", "5 in"],
    ["(if x.n == 2 then x.a else x.b)", "3 in"],
  ])("%s is %s", (formula, to) => {
    expect(comes(formula, to)).toEqual([]);
  });

  test("what does not measure the same is told", () => {
    for (const formula of [
      "x.a + x.k",
      "x.a - 1",
      "sin(x.a)",
      "exp(x.a)",
      "if x.a > x.k then x.a else x.b",
    ])
      expect(
        comes(formula, "1 in").some((each) => each.includes("unit/")),
        formula,
      ).toBe(true);
  });
});

describe("tables", () => {
  const table = `table grade "Grades" {
  key name: text
  key size: length in mm
  load: mass in kg
  word: text
  row "a", 10, 100, "soft"
  row "a", 20, 200, "hard"
  row "b", 10, 300, "soft"
}
table curve "Curve" {
  key at: length in mm
  load: mass in kg
  lookup linear
  row 0, 0
  row 10, 100
  row 20, 400
}
`;
  const looked = (formula: string, to: string) =>
    analyzed(`${table}kind box "Box" { a: length  name: text }
box x { a: 20 mm  name: "a" }
check "looked": ${formula} == ${to}`).findings.map(({ code }) => code);

  test.each([
    ['grade.load("a", 10 mm)', "100 kg"],
    ['grade.load("a", x.a)', "200 kg"],
    ["grade.load(x.name, x.a)", "200 kg"],
    ['grade.load("b", 10 mm)', "300 kg"],
    ['grade.load("b", 10 mm + 0 mm)', "300 kg"],
    ["curve(5 mm)", "50 kg"],
    ["curve(x.a - 5 mm)", "250 kg"],
  ])("%s is %s", (formula, to) => {
    expect(looked(formula, to)).toEqual([]);
  });

  test.each([
    ['grade.load("a")', "100 kg"],
    ["grade.load(10 mm, 10 mm)", "100 kg"],
    ['grade.load("a", "b")', "100 kg"],
    ['grade.load("a", 10 kg)', "100 kg"],
    ['grade.weight("a", 10 mm)', "100 kg"],
  ])("%s is misused", (formula, to) => {
    expect(looked(formula, to)[0]).toMatch(/^(table|value|name)\//);
  });

  test("a way to look up that is none is told where it stands", () => {
    const { findings } = analyzed(`table wrong "Wrong" {
  key at: number
  load: mass in kg
  source "a handbook"
  lookup wobbly
  row 1, 2
}`);
    expect(findings.map(({ code }) => code)).toEqual(["name/unknown-word"]);
    const [{ anchor } = { anchor: undefined }] = findings;
    expect(anchor?.item.text.slice(anchor.span.start, anchor.span.end)).toContain("wobbly");
  });

  test("what a table does not hold is not judged, and told by nobody else", () => {
    expect(looked('grade.load("c", 10 mm)', "100 kg")).not.toContain("check/own");
    expect(looked('grade.load("a", 15 mm)', "100 kg")).not.toContain("check/own");
    expect(looked("curve(25 mm)", "100 kg")).not.toContain("check/own");
  });
});

describe("kinds that are wrong say so", () => {
  const codes = (text: string) => analyzed(text).findings.map(({ code }) => code);
  const kind = (member: string) => codes(`kind box "Box" { ${member} }`);

  test.each([
    ["a: yes_no default 5", "value/wrong"],
    ["a: yes_no default yes", undefined],
    ["a: text default 5", "value/not-a-text"],
    ['a: text default "5"', undefined],
    ["a: one_of(left, right) default up", "value/not-a-choice"],
    ["a: one_of(left, right) default left", undefined],
    ["a: length default 5 lb", "unit/wrong"],
    ["a: length default 5 in", undefined],
    ["b: mass  a: length default b", "unit/clash"],
    ["b: length  a: length default b", undefined],
    ["a: length range 5 in .. 3 in", "value/limits"],
    ["a: length range 3 in .. 5 in", undefined],
    ["a: length range 3 lb .. 5 in", "unit/wrong"],
    ["a: length measured bought", "field/two-roles"],
    ["a: length measured", undefined],
    ["a: count default 2.5", "value/not-whole"],
  ])("%s: %s", (member, code) => {
    expect(kind(member)).toEqual(code === undefined ? [] : [code]);
  });

  test("a kind of itself", () => {
    expect(codes('kind box is box "Box" { a: length }')).toEqual(["name/circular"]);
    expect(codes('kind a is b "A" {}\nkind b is a "B" {}')[0]).toBe("name/circular");
  });

  test("a range bounds what the solver looks for, one that is none does not", () => {
    // x² = 9 in²: the range says which of the two.
    const root = (range: string) =>
      analyzed(`kind box "Box" { a: length ${range}  relation "square": a ^ 2 = 9 in^2 }
box x { a: ? }`).valueAt("x.a")?.si;
    expect(root("range 0 in .. 5 in")).toBeCloseTo(3 * 0.0254, 9);
    expect(root("range -5 in .. 0 in")).toBeCloseTo(-3 * 0.0254, 9);
  });
});

test("a default by a formula keeps the ± behind it", () => {
  const analysis = analyzed(`kind bar "Bar" {
  a: length measured
  b: length made default 2 * a ± 1/16 in
  c: length
  relation "c": c = b - a
}
bar x { a: 3 in ± 1/32 in; c: ?; b: ? }`);
  expect(analysis.findings).toEqual([]);
  const worst = (path: string) => (analysis.valueAt(path)?.outcome()?.worst ?? 0) / 0.0254;
  // By hand: twice 1/32 in and 1/16 in; a itself once less.
  expect(worst("x.b")).toBeCloseTo(1 / 8, 9);
  expect(worst("x.c")).toBeCloseTo(3 / 32, 9);
  expect(analysis.valueAt("x.b")?.si).toBeCloseTo(6 * 0.0254, 12);
});

test("a share is no ± of what a formula comes to", () => {
  const { findings } = analyzed(
    'kind bar "Bar" { a: length; b: length default 2 * a ± 5 % }\nbar x { a: 1 in }',
  );
  expect(findings.map(({ code }) => code)).toContain("value/tolerance-in-formula");
});
