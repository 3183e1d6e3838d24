import { describe, expect, test } from "vitest";
import { format } from "../../grammar/format";
import { parseFile } from "../../grammar/source-file";
import { walk } from "../../grammar/walk";
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
      for (const { message } of item.problems) expect(message).not.toContain("something else");
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
