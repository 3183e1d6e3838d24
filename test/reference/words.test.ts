/** The library's words: angles by their positive direction, sources by what was read, one word for one thing. */
import { expect, test } from "vitest";
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
