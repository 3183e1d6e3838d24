/** The grammar of the language's page and the parser, held to each other. */

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { format } from "../../grammar/format";
import { readTokens } from "../../grammar/lexer";
import { readLines } from "../../grammar/line-structure";
import { parseFile } from "../../grammar/source-file";
import { textProblemInWords } from "../../server/findings/worded";
import { accepts, readGrammar, sentence, undeclared } from "./ebnf";

/** More with SENTENCES=20000 in the environment. */
const sentences = Number(process.env.SENTENCES ?? 2000);
const root = join(import.meta.dirname, "..", "..");
const page = readFileSync(join(root, "grammar/LANGUAGE.md"), "utf8");
const grammar = readGrammar(/```ebnf\n([\s\S]*?)```/.exec(page)?.[1] ?? "");

/** Whether the grammar takes every item of a text for a sentence; else where it stops. */
function refused(text: string): string[] {
  return parseFile(text).items.flatMap(({ text: item, problems }) => {
    if (problems.length > 0) return [];
    const tokens = readLines(readTokens(item).tokens);
    while (tokens.at(-1)?.tokenType.name === "End") tokens.pop();
    while (tokens[0]?.tokenType.name === "End") tokens.shift();
    const { accepted, reached } = accepts(grammar, "item", tokens);
    const at = tokens[reached]?.startOffset ?? item.length;
    return accepted
      ? []
      : [`${item.slice(Math.max(0, at - 60), at)}⟨here⟩${item.slice(at, at + 40)}`];
  });
}

function filesBelow(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".trammel"))
    .map((name) => join(root, folder, name));
}

test("it is whole: every rule is there, and each is used", () => {
  expect(grammar.size).toBeGreaterThan(40);
  expect(undeclared(grammar)).toEqual([]);
  const text = /```ebnf\n([\s\S]*?)```/.exec(page)?.[1] ?? "";
  for (const name of grammar.keys())
    if (name !== "file")
      expect(text.match(new RegExp(`\\b${name}\\b`, "g"))?.length, name).toBeGreaterThan(1);
});

describe("what the parser reads is a sentence of it", () => {
  const texts = [...filesBelow("samples"), ...filesBelow("server/library")];
  test.each(texts.map((path) => [path.slice(root.length + 1), path]))("%s", (_, path) => {
    expect(refused(format(readFileSync(path, "utf8")).text)).toEqual([]);
  });

  test("every example of the page", () => {
    for (const [, text = ""] of page.matchAll(/```trammel\n([\s\S]*?)```/g))
      expect(refused(text)).toEqual([]);
  });
});

test("what it does not take the parser does not read either", () => {
  for (const text of [
    "wheel w { size: }",
    "wheel w like { }",
    "kind k { relation: x }\ncheck a: b",
    "axle a { left like right }",
    "curve c: x over y from 1",
    'order "o": a after b',
  ])
    expect(
      parseFile(`${text}\n`).items.some(({ problems }) => problems.length > 0),
      text,
    ).toBe(true);
});

test("every sentence of it is read without a problem", () => {
  const draws = randomGenerator();
  for (let number = 0; number < sentences; number++) {
    const text = `${sentence(grammar, "item", draws)}\n`;
    const problems = parseFile(text).items.flatMap((item) => item.problems);
    // That a word behind a type or value stands there once is said beside the grammar.
    const messages = problems.map(textProblemInWords);
    expect(
      messages.filter((message) => !message.includes("is already written")),
      text,
    ).toEqual([]);
  }
});

/** The same numbers each time. */
function randomGenerator(): (count: number) => number {
  let state = 12;
  return (count) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * count);
  };
}
