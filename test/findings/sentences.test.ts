/**
 * Golden texts of every sentence there is, from its facts. A stale file is written anew and the test
 * fails once: read it before it goes in.
 */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { rowOf } from "../../server/findings/codes";
import {
  codeOf,
  type Fact,
  type Found,
  kinds,
  worded,
  writerFor,
} from "../../server/findings/worded";
import { defaultLevels } from "../../server/findings/writer";
import { defaultStyle } from "../../server/units";
import { examples, here } from "./examples";

const path = join(import.meta.dirname, "sentences.txt");
const writer = writerFor(defaultStyle("inch"), defaultLevels);

/** As a reader meets it: how loud, what is wrong, what to do, what else is shown and offered. */
function told(fact: Fact): string {
  const finding = worded({ ...fact, anchor: here } as Found, writer);
  if (finding === undefined) return "  nothing";
  const { severity, message, hint, caution, related = [], fixes = [] } = finding;
  return [
    `  ${severity}: ${message}`,
    ...(hint === undefined ? [] : [`    to do: ${hint}`]),
    ...(caution === undefined ? [] : [`    caution: ${caution}`]),
    ...related.map((each) => `    see: ${each.message}`),
    ...fixes.map(
      ({ title, edits, preferred }) =>
        `    fix${preferred === true ? " first" : ""}: ${title} (${edits.map(({ text }) => text).join("; ")})`,
    ),
  ].join("\n");
}

const all = kinds.map((kind) => ({
  kind,
  facts: examples[kind].map((facts) => ({ ...facts, is: kind }) as Fact),
}));

test("every sentence reads as it did", () => {
  const text = all.map(({ kind, facts }) => `${kind}\n${facts.map(told).join("\n")}\n`).join("\n");
  const before = existsSync(path) ? readFileSync(path, "utf8") : "";
  if (text !== before) writeFileSync(path, text);
  expect(text).toBe(before);
});

test("every sentence has an example that words it, and no two examples say the same", () => {
  for (const { kind, facts } of all) {
    expect(facts.length, kind).toBeGreaterThan(0);
    expect(new Set(facts.map(told)).size, kind).toBe(facts.length);
  }
});

test("no sentence leaves a gap where a fact belongs", () => {
  const odd = all.flatMap(({ facts }) =>
    facts.filter((fact) =>
      /undefined|NaN|\[object|\$\{| {2}\S/.test(told(fact).trim().replaceAll(/\n +/g, "\n")),
    ),
  );
  expect(odd.map(told)).toEqual([]);
});

test("the code of every sentence stands before its word, and has its row", () => {
  for (const { kind, facts } of all)
    if (!kind.startsWith("check/fails") && !kind.startsWith("check/strained"))
      for (const fact of facts) {
        expect(codeOf(fact)).toBe(kind.split(" ")[0]);
        expect(rowOf(codeOf(fact)), kind).toBeDefined();
      }
});
