import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { format } from "../../grammar/format";
import { clauseWords, fieldWords, namedWords, titledWords } from "../../grammar/words";
import { problemsOf, valueShape } from "./helper";

const page = readFileSync(join(import.meta.dirname, "../../grammar/LANGUAGE.md"), "utf8");
const examples = [...page.matchAll(/```trammel\n([\s\S]*?)```/g)].map((match) => match[1]!);

test("the page has examples", () => expect(examples.length).toBeGreaterThan(15));

describe.each(examples.map((text) => [text.split("\n")[0]!, text]))("the example %s", (_, text) => {
  test("is read without a problem", () => expect(problemsOf(text)).toEqual([]));

  test("is laid out as the formatter lays it out", () => {
    // Two blanks before a comment, whatever the page's own look.
    expect(format(text).text).toBe(text.replace(/ {2,}#/g, "  #"));
  });
});

test("every value in the table of values is read without a problem", () => {
  const table = page.slice(page.indexOf("## Values"), page.indexOf("`61-5/16` without"));
  const values = [...table.matchAll(/`([^`]+)`/g)].map((match) => match[1]!);
  expect(values.length).toBeGreaterThan(25);
  for (const value of values) {
    if (/^(\+-|\\.*|.\\.)$/.test(value)) continue;
    expect(valueShape(value), value).not.toContain("!");
  }
});

test("every word of the language is on the page", () => {
  for (const word of [...clauseWords, ...fieldWords, ...titledWords, ...namedWords]) {
    expect(page, word).toMatch(new RegExp(`\\b${word}\\b`));
  }
});
