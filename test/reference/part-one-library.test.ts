/** The library itself: reads without a finding, every formula makes sense, every word is explained. */

import { describe, expect, test } from "vitest";
import { loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { compileCondition, compileEquation } from "../../server/model/compile";
import { kindEnvironment } from "../../server/model/kind-environment";
import { sentence } from "../findings/sentence";

const library = loadLibrary(libraryFiles());
const { kinds, tables, designations } = library.vocabulary;
const ofPartOne = [
  "part",
  "bill",
  "tire",
  "wheel",
  "hub",
  "wheel_fit",
  "axle",
  "corner",
  "body_fit",
  "body_limit",
  "housing",
  "carrier",
  "lubricant",
  "shaft",
  "steel_grade",
  "bearing",
  "axle_strength",
  "vehicle",
  "weld",
  "welder",
  "coupon",
];

test("the library reads without a finding", () => {
  const problems = [...library.files].flatMap(([uri, { source }]) =>
    source.items.flatMap((item) =>
      item.problems.map(({ message, span }) => {
        const { line, character } = source.positionAt(source.offsetOf(item) + span.start);
        return `${uri}:${line + 1}:${character + 1} ${message}`;
      }),
    ),
  );
  expect(problems).toEqual([]);
  expect(library.findings.map((found) => `${found.anchor.uri} ${sentence(found)}`)).toEqual([]);
});

describe.each(ofPartOne)("kind %s", (name) => {
  const kind = kinds.get(name);
  if (kind === undefined) throw new Error(`there is no kind ${name}`);
  const environment = kindEnvironment(kind, library.vocabulary);

  test("every formula makes sense for it", () => {
    const problems: string[] = [];
    for (const { node, title } of kind.relations) {
      const { problems: found } = compileEquation(node.left, node.right, environment);
      const when = node.when === undefined ? [] : compileCondition(node.when, environment).problems;
      problems.push(...[...found, ...when].map((problem) => `${title}: ${sentence(problem)}`));
    }
    for (const { node, title } of kind.checks) {
      for (const condition of [node.when, node.condition]) {
        if (condition === undefined) continue;
        const { problems: found } = compileCondition(condition, environment);
        problems.push(...found.map((problem) => `${title}: ${sentence(problem)}`));
      }
    }
    expect(problems).toEqual([]);
  });

  test("every relation, check and default names its source", () => {
    const without: string[] = [];
    for (const { title, remarks } of [...kind.relations, ...kind.checks]) {
      if (!remarks.source) without.push(title);
    }
    for (const field of kind.fields.values()) {
      if (field.default !== undefined && !field.source) without.push(field.name);
    }
    expect(without).toEqual([]);
  });

  test("every check says what to do and has a code", () => {
    const without = kind.checks
      .filter(({ remarks }) => !remarks.advise || !/^[a-z]+\/[a-z-]+$/.test(remarks.code ?? ""))
      .map(({ title }) => title);
    expect(without).toEqual([]);
  });

  test("every field says what it means", () => {
    const without = [...kind.fields.values()]
      .filter((field) => !field.description)
      .map((field) => field.name);
    expect(without).toEqual([]);
  });

  test("few headline figures", () => {
    const shown = [...kind.fields.values()].filter((field) => field.shown);
    expect(shown.length).toBeLessThanOrEqual(4);
  });
});

test("every table and designation names its source and explains its columns", () => {
  const without: string[] = [];
  for (const table of tables.values()) {
    if (!table.remarks.source) without.push(table.name);
    for (const column of table.columns)
      if (!column.description) without.push(`${table.name}.${column.name}`);
  }
  for (const designation of designations.values()) {
    if (!designation.remarks.source) without.push(designation.name);
    for (const part of designation.parts.values())
      if (!part.description) without.push(`${designation.name}.${part.name}`);
  }
  expect(without).toEqual([]);
});
