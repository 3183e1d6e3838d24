import { describe, expect, test } from "vitest";
import { format } from "../../grammar/format";
import { parseFile } from "../../grammar/source-file";
import { walk } from "../../grammar/walk";
import { textProblemInWords } from "../../server/findings/worded";
import { designExample, problemsOf, visible } from "./helper";

/** Reads a text in every way there is, and counts its problems. */
function survives(text: string): number {
  const file = parseFile(text);
  const again = parseFile(`${text} `, file);
  format(text);
  for (const item of again.items) walk(item.node, () => undefined);
  return file.items.reduce((count, { problems }) => count + problems.length, 0);
}

describe("deep texts do not overflow", () => {
  const many = 10_000;
  test.each([
    ["parentheses", `a: ${"(".repeat(many)}`],
    ["closed parentheses", `a: ${"(".repeat(many)}1${")".repeat(many)}`],
    ["lists", `a: ${"[".repeat(many)}`],
    ["calls", `a: ${"f(".repeat(many)}`],
    ["braces", `a x ${"{ b ".repeat(many)}`],
    ["closed braces", `a x { ${"b { ".repeat(many)}${"}".repeat(many)} }`],
    ["lines of braces", `a x {\n${"b {\n".repeat(many)}`],
    ["signs", `a: ${"- ".repeat(many)}1`],
    ["denials", `a: ${"not ".repeat(many)}b`],
    ["powers", `a: 1${" ^ 1".repeat(many)}`],
    ["sums", `a: 1${" + 1".repeat(many)}`],
    ["tolerances", `a: 1${" ± 1".repeat(many)}`],
    ["limits", `a: 1${" within 1..1".repeat(many)}`],
    ["choices", `a: ${"if b then c else ".repeat(many)}d`],
    ["choices in choices", `a: ${"if ".repeat(many)}d`],
    ["sums in parentheses", `a: ${"(1 + ".repeat(40)}1${" + 1)".repeat(40)}${" + 1".repeat(390)}`],
  ])("%s", (name, text) => {
    const problems = survives(text);
    expect(problems).toBeGreaterThan(name === "sums in parentheses" ? -1 : 0);
    expect(problems).toBeLessThanOrEqual(100);
    for (const item of parseFile(text).items) {
      for (const each of item.problems)
        expect(textProblemInWords(each)).not.toContain("something else");
    }
  });

  test("the limits are named", () => {
    expect(problemsOf(`a: ${"(".repeat(many)}`).join()).toContain("expected at most 48 levels");
    expect(problemsOf(`a: 1${" + 1".repeat(many)}`).join()).toContain("too many steps in a row");
    expect(problemsOf(`a x { ${"b { ".repeat(many)}${"}".repeat(many)} }`).join()).toContain(
      "braces lie too deep in one another: expected at most 32 levels",
    );
  });

  test("and what is not deep is read", () => {
    expect(problemsOf(`a: ${"(".repeat(40)}1${")".repeat(40)}`)).toEqual([]);
    expect(problemsOf(`a: 1${" + 1".repeat(300)}`)).toEqual([]);
    expect(problemsOf(`a x { ${"b { ".repeat(30)}${"}".repeat(30)} }`)).toEqual([]);
  });
});

describe("large texts are read in one go", () => {
  const megabytes = 5 * 1024 * 1024;
  const times = (text: string): string => text.repeat(Math.ceil(megabytes / text.length));
  test.each([
    ["a build", times(designExample)],
    ["one line of words", times("word ")],
    ["one line of signs", times("+-*/")],
    ["braces", times("{")],
    ["closing braces", times("}\n")],
    ["open things", times("axle rear {\n  left {\n\n")],
    ["quotes", times('"')],
    ["one open text", `a: "${times("x")}`],
    ["one comment", `# ${times("x")}`],
    ["blanks", times(" ")],
    ["newlines", times("\r\n")],
    ["strange characters", times("\u{1f600}€")],
    ["nothing but NUL", times("\0")],
    ["fractions", times("3/8 ")],
    ["one number", `a: ${times("9")}`],
    ["dots", times("a.")],
  ])("%s", (_name, text) => {
    const file = parseFile(text);
    expect(file.items.reduce((sum, item) => sum + item.text.length, 0)).toBeLessThanOrEqual(
      text.length,
    );
    expect(parseFile(`${text}#`, file).text.length).toBe(text.length + 1);
  });
});

describe("one long declaration is read in one go", () => {
  const times = (text: string): string => text.repeat(Math.ceil(400_000 / text.length));
  test.each([
    ["half-typed paths", `a x { ${times("b. ")} }`],
    ["a path", `a: ${times("a.")}b`],
    ["a path after a mistake", `a: ) ${times("a.")}b`],
    ["open parentheses", `a x { ${times("b: (c ")} }`],
    ["open parentheses on lines", `a x { ${times("b: (c\n")} }`],
    ["kinds without braces", times("kind a ")],
    ["members of an open block", `a x { ${times("b: 1 ")}`],
    ["blocks of an open block", `a x { ${times("b { } ")}`],
    ["lines of an open block", `a x {\n${times("  b { c: 1\n")}`],
    ["backslashes", `a: "${times("\\")}"`],
    ["a unit far from what follows", `a: 5 in${times(" ")}b`],
    ["a word far from what follows", `a: 5 words${times(" ")}b`],
    ["a number far from its fraction", `a: 5${times(" ")}b`],
    ["words after numbers", `a: ${times("5 b ")}`],
    ["conditions", `check "a" when ${times("5 in ")}: b`],
    ["texts", `a: ${times('"b" ')}`],
    ["open texts after words", `a: ${times('b "c ')}`],
    ["markers", times("<<<<<<< a\n")],
    ["clauses", `a: 1 ${times('source "b" ')}`],
    ["unknown clauses", `a: 1 ${times('sorce "b" ')}`],
    ["members far to the right", `a x {\n${" ".repeat(100_000)}${"b { } ".repeat(20_000)}`],
    ["a list", `a: [${times("1, ")}]`],
    ["a table", `table t {\n  key a: number\n${times("  row 1, 2\n")}}`],
    ["rows on a line", `table t { key a: number ${times("row 1, 2 ")}}`],
    ["comments", `a x {\n${times("# b\n")}}`],
    ["tight values", `a x {\n${times("b: 8-18 c: G1/2\n")}}`],
    ["semicolons", `a x {${times(";")}}`],
    ["junk", `a x {${times(")")}}`],
  ])("%s", (_name, text) => {
    expect(survives(text)).toBeGreaterThanOrEqual(0);
    expect(parseFile(text).items.every(({ problems }) => problems.length <= 100)).toBe(true);
  });
});

describe("other line ends and marks", () => {
  const meaning = (text: string): string =>
    JSON.stringify(
      parseFile(text).items.map(({ node, problems }) => [node, problems]),
      (key, value: unknown) => (key === "span" || key === "body" ? undefined : value),
    );

  test.each([
    ["\r\n", "\r\n"],
    ["\r", "\r"],
  ])("a file with %j says the same", (newline) => {
    expect(meaning(designExample.replaceAll("\n", newline))).toBe(meaning(designExample));
  });

  test("a byte order mark counts as one character and says nothing", () => {
    const file = parseFile(`\ufeff${designExample}`);
    expect(meaning(`\ufeff${designExample}`)).toBe(meaning(designExample));
    expect(file.items[0]?.node.span.start).toBe(1);
    expect(problemsOf("\ufeffwheel w {\n  offset:\n}")).toEqual([
      "2:10 expected a value after `offset:`, found the end of the line",
    ]);
  });

  test("nothing is nothing", () => {
    for (const text of ["", "\ufeff", "\n\n", "# note", "; ;\n"]) {
      expect(parseFile(text).items).toEqual([]);
      expect(problemsOf(text)).toEqual([]);
      expect(visible(parseFile(text, parseFile("wheel w { }")))).toEqual([]);
    }
  });

  test("a text becomes binary and text again", () => {
    const text = parseFile(designExample);
    const binary = parseFile(`${designExample}\0`, text);
    expect(binary.items.length).toBe(1);
    expect(visible(parseFile(designExample, binary))).toEqual(visible(text));
  });
});
