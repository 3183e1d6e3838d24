/** The library's words: angles by their positive direction, sources by what was read, one word for one thing. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { libraryFiles } from "../../server/library-files";
import { readRange } from "../../server/model/kind-environment";
import { library } from "./part-two-solve-text";

const { kinds } = library.vocabulary;

test("every angle that can have either sign says which way is positive", () => {
  const without: string[] = [];
  for (const kind of kinds.values()) {
    for (const field of kind.fields.values()) {
      if (field.type.form !== "measure" || field.type.measure.name !== "angle") continue;
      const [low = -1] = readRange(field) ?? [];
      if (low >= 0) continue;
      const says = field.description ?? "";
      if (!/positive|negative/.test(says) || !/seen from|on paper/.test(says))
        without.push(`${kind.name}.${field.name}: ${field.description}`);
    }
  }
  expect(without).toEqual([]);
});

test("a builder reads grip and g, the regulations' words stand in sources", () => {
  const found: string[] = [];
  for (const kind of kinds.values()) {
    const texts = [...kind.fields.values()].map(({ name, description }) => [name, description]);
    for (const { title, remarks } of kind.checks)
      texts.push([title, title], [title, remarks.message], [title, remarks.advise]);
    for (const { title } of kind.relations) texts.push([title, title]);
    for (const [name, text = ""] of texts)
      if (
        /\b(adhesion|braking rate|tyre|centr(?:e|ing)|colour|grey|mould\w*|labour\w*)\b/i.test(text)
      )
        found.push(`${kind.name}.${name}: ${text}`);
  }
  expect(found).toEqual([]);
});

const publication =
  /\b(?:ISO|SAE|UN R|UN Reg|EN \d|AWS|ASME|ANSI|Shigley|Directive|71\/320|CFR|VDI|DIN|ETRTO|Tire and Rim|Spraragen|Jazar|Milliken|US Army|US Navy|VSB|VSI|MOT)/;

test("each clause that names a publication says whether it was read, quoted or remembered", () => {
  const without: string[] = [];
  for (const { path, text } of libraryFiles())
    for (const [, source = ""] of text.matchAll(/\bsource "([^"]*)"/g))
      for (const clause of source.split("; "))
        if (publication.test(clause) && !/\bread\b|from memory|quoted|restated/.test(clause))
          without.push(`${path}: ${clause}`);
  expect(without).toEqual([]);
});

/** What stands in the examples of the library and in the samples, as one text. */
function used(): string {
  const folder = join(import.meta.dirname, "../../samples");
  const samples = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".trammel"))
    .map((name) => readFileSync(join(folder, name), "utf8"));
  const examples = libraryFiles().map(({ text }) =>
    [...text.matchAll(/^# Example: .*\n((?:#(?: {3}.*)?\n?)+)/gm)]
      .map(([, lines]) => lines)
      .join("\n"),
  );
  return [...samples, ...examples].join("\n");
}

test("every kind is used by a sample or an example, and by a test", () => {
  const folder = join(import.meta.dirname, "..");
  const tests = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".test.ts"))
    .map((name) => readFileSync(join(folder, name), "utf8"))
    .join("\n");
  const inBuilds = used();
  // A part comes with the thing it is part of, and is used with it.
  const parts = new Set(
    [...kinds.values()].flatMap((kind) =>
      [...kind.fields.values()].flatMap(({ type }) => (type.form === "part" ? [type.kind] : [])),
    ),
  );
  const missing = [...kinds.keys()].flatMap((name) => {
    if (parts.has(name) || /^(?:part|step|procedure|instrument)$/.test(name)) return [];
    const word = new RegExp(`\\b${name}\\b (?:\\w+|\\$\\{)`);
    return [
      ...(word.test(inBuilds) ? [] : [`${name}: no sample or example`]),
      ...(new RegExp(`\\b${name}\\b`).test(tests) ? [] : [`${name}: no reference test`]),
    ];
  });
  expect(missing).toEqual([]);
});
