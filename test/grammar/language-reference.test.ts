import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { format } from "../../grammar/format";
import {
  clauseWords,
  fieldWords,
  namedWords,
  severities,
  titledWords,
  waysToLookUp,
} from "../../grammar/words";
import { functionNames } from "../../server/model/calls";
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
  const table = page.slice(page.indexOf("## Values"), page.indexOf("Units may be spelled out"));
  const values = [...table.matchAll(/`([^`]+)`/g)].map((match) => match[1]!);
  expect(values.length).toBeGreaterThan(25);
  for (const value of values) {
    if (/^(\+\/?-|\\.*|.\\.)$/.test(value)) continue;
    expect(valueShape(value), value).not.toContain("!");
  }
});

test("every word of the language is on the page", () => {
  for (const word of [...clauseWords, ...fieldWords, ...titledWords, ...namedWords]) {
    expect(page, word).toMatch(new RegExp(`\\b${word}\\b`));
  }
});

describe("its tables of words are the words the code knows, no more and no fewer", () => {
  /** The words in backticks of a part of the page, a call by its name alone. */
  const wordsIn = (text: string): string[] =>
    // `found out` is known to the code by its first word.
    [...text.matchAll(/`([a-z_0-9]+)(?:\([^`]*\)| [a-z]+)?`/g)].map((match) => match[1]!);
  const rowsAfter = (heading: string): string[][] => {
    const from = page.indexOf(heading);
    expect(from, heading).toBeGreaterThan(0);
    const [table = ""] = page.slice(from + heading.length).match(/(?:^\|.*\n)+/m) ?? [];
    return table
      .split("\n")
      .slice(2)
      .map((row) => row.split("|").slice(1, -1));
  };
  const firstCells = (heading: string): string[] =>
    rowsAfter(heading).flatMap(([first = ""]) => wordsIn(first));

  test("functions", () => {
    expect(firstCells("| `name(…)`, `a.b`").toSorted()).toEqual([...functionNames].toSorted());
    expect(page).toContain("`pi` is the number");
    expect(page).toContain("`owner` is the thing");
  });

  test("clauses", () => {
    expect(firstCells("## Clauses").toSorted()).toEqual([...clauseWords].toSorted());
  });

  test.each([
    ["severity", severities],
    ["lookup", waysToLookUp],
  ])("what stands after %s", (clause, names) => {
    const [, says = ""] =
      rowsAfter("## Clauses").find(([word = ""]) => word.includes(`\`${clause}\``)) ?? [];
    expect(wordsIn(says)).toEqual(names);
  });

  test("words of fields", () => {
    const from = page.indexOf("A field's **type** is");
    const [said = ""] = /After the type, in any order:[^\n]*/.exec(page.slice(from)) ?? [];
    const words = [...said.matchAll(/`([a-z]+)[^`]*`/g)].map((match) => match[1]!);
    expect([...words, ...firstCells("A field's **type** is")].toSorted()).toEqual(
      [...fieldWords].toSorted(),
    );
  });
});
