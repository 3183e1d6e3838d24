/** Definition, references, highlights, rename, outline, folding, selection, links, colors, layout. */

import { expect, test } from "vitest";
import { SemanticTokensBuilder } from "vscode-languageserver";
import { parseFile } from "../../grammar/source-file";
import { definition } from "../../server/features/definition";
import { documentLinks } from "../../server/features/document-links";
import { editsForMoves } from "../../server/features/file-renames";
import { foldingRanges } from "../../server/features/folding";
import { minimalEdits } from "../../server/features/formatting";
import { highlights, references } from "../../server/features/references";
import { rename, renameAt } from "../../server/features/rename";
import { selectionRanges } from "../../server/features/selection-ranges";
import { semanticTokens, tokenTypes } from "../../server/features/semantic-tokens";
import { documentSymbols, matches, matchingSymbols } from "../../server/features/symbols";
import { cursor, edited, folder } from "./world";

/** Where the name at the cursor comes from, as `file:line text`. */
function definitions(snippet: string): string[] {
  const { analysis, uri, offset } = cursor(snippet);
  return definition(analysis, uri, offset).map(({ targetUri, targetRange }) => {
    const source = analysis.sourceOf(targetUri);
    if (source === undefined) throw new Error("a place in a file that is not there");
    const text = source.text.slice(
      source.offsetAt(targetRange.start),
      source.offsetAt(targetRange.end),
    );
    return `${targetUri.replace(folder, "")}:${targetRange.start.line + 1} ${text}`;
  });
}

test("a thing is found in the file it is declared in, by prefix too", () => {
  expect(
    definitions(`
      //- build.trammel
      use "parts.trammel" as parts
      axle rear { wheel: parts.rear_$0wheel }
      //- parts.trammel
      wheel rear_wheel { size: 17x9 }
    `),
  ).toEqual(["parts.trammel:1 rear_wheel"]);
});

test("a field is found in the library, and first where its value is written", () => {
  const [written, declared] = definitions(`
    wheel w { size: 17x9; offset: 18 mm }
    check "shallow": w.off$0set <= 20 mm
  `);
  expect(written).toBe("build.trammel:1 18 mm");
  expect(declared).toMatch(/^library:\/wheel\.trammel:\d+ offset$/);
});

test("a kind and a used file are found", () => {
  expect(definitions("whe$0el w { }\n")[0]).toMatch(/^library:\/wheel\.trammel:\d+ wheel$/);
  expect(
    definitions(`
      //- build.trammel
      use "pa$0rts.trammel"
      //- parts.trammel
      wheel w { }
    `),
  ).toEqual(["parts.trammel:1 "]);
});

test("where there is no name there is no place", () => {
  expect(definitions("wheel w { offset: 18 m$0m }\n")).toEqual([]);
  expect(definitions("# whe$0el\n")).toEqual([]);
  expect(definitions("wheel w { offset: nowh$0ere }\n")).toEqual([]);
});

const axle = `
  //- build.trammel
  use "parts.trammel"
  axle rear {
    wheel: rear_wh$0eel
  }
  check "shallow": rear_wheel.offset <= 20 mm and rear.wheel.offset >= 0 mm
  //- parts.trammel
  wheel rear_wheel { size: 17x9; offset: 18 mm }
`;

test("references are the places that mean the same, in all files of the build", () => {
  const { analysis, uri, offset } = cursor(axle);
  const places = references(analysis, uri, offset, true).map(
    ({ uri: at, range }) =>
      `${at.replace(folder, "")}:${range.start.line + 1}:${range.start.character}`,
  );
  expect(places.sort()).toEqual(["build.trammel:3:9", "build.trammel:5:17", "parts.trammel:1:6"]);
  expect(references(analysis, uri, offset, false)).toHaveLength(2);
});

test("a value is the same by whichever path", () => {
  const { analysis, uri, offset } = cursor(
    axle.replace("$0", "").replace("rear_wheel.offset", "rear_wheel.off$0set"),
  );
  const places = highlights(analysis, uri, offset).map(({ range }) => range.start.character);
  expect(places).toHaveLength(2);
});

test("renaming a thing changes every place that means it, and nothing else", () => {
  const { analysis, uri, offset, texts } = cursor(axle);
  const place = renameAt(analysis, uri, offset);
  if ("refusal" in place) throw new Error(place.refusal);
  expect(place.placeholder).toBe("rear_wheel");
  const edits = rename(analysis, place.named, "wide_wheel");
  if ("refusal" in edits) throw new Error(edits.refusal);
  const after = [...texts].map(([at, text]) => edited(text, edits.get(at) ?? [])).join("");
  expect(after).not.toContain("rear_wheel");
  expect(after).toContain("wheel: wide_wheel");
  expect(after).toContain("rear.wheel.offset");
  expect(after).toContain("wheel wide_wheel { size: 17x9");
});

test("renaming is refused with a reason", () => {
  const { analysis, uri, offset } = cursor("wheel w { off$0set: 18 mm }\n");
  expect(renameAt(analysis, uri, offset)).toMatchObject({
    refusal: expect.stringContaining("offset"),
  });
  const thing = cursor("wheel w$0 { }\nwheel v { }\n");
  const place = renameAt(thing.analysis, thing.uri, thing.offset);
  if ("refusal" in place) throw new Error(place.refusal);
  expect(rename(thing.analysis, place.named, "v")).toMatchObject({
    refusal: expect.stringContaining("already"),
  });
  expect(rename(thing.analysis, place.named, "2 w")).toMatchObject({
    refusal: expect.stringContaining("letters"),
  });
});

test("the prefix a file is used by can be renamed", () => {
  const { analysis, uri, offset, texts } = cursor(`
    //- build.trammel
    use "parts.trammel" as pa$0rts
    axle rear { wheel: parts.w }
    //- parts.trammel
    wheel w { size: 17x9 }
  `);
  const place = renameAt(analysis, uri, offset);
  if ("refusal" in place) throw new Error(place.refusal);
  const edits = rename(analysis, place.named, "stock");
  if ("refusal" in edits) throw new Error(edits.refusal);
  expect(edited(texts.get(uri) ?? "", edits.get(uri) ?? [])).toBe(
    'use "parts.trammel" as stock\naxle rear { wheel: stock.w }\n',
  );
});

test("the outline has things, their parts and their figures", () => {
  const { analysis, uri } = cursor(`
    wheel w "Deep" { size: 17x9; offset: 1 in }
    axle rear {
      wheel: w
      left { inner_limit: 24 in }
    }
    check "it fits": w.offset <= 2 in
  `);
  const outline = documentSymbols(analysis, uri).map(({ name, detail, children }) => ({
    name,
    detail,
    inside: children?.map((child) => child.name),
  }));
  expect(outline).toEqual([
    { name: "w", detail: "backspace 6 in", inside: [] },
    { name: "rear", detail: "axle", inside: ["left"] },
    { name: "it fits", detail: "w.offset <= 2 in", inside: [] },
  ]);
});

test("every name of an outline lies within its range", () => {
  for (const text of [
    "wheel",
    "wheel w",
    "wheel w {",
    'check "',
    "option {",
    "kind k is {",
    "record {}",
    "{}",
  ]) {
    const { analysis, uri } = cursor(text);
    for (const { range, selectionRange } of documentSymbols(analysis, uri)) {
      const inside = (one: typeof range.start, other: typeof range.start) =>
        one.line < other.line || (one.line === other.line && one.character <= other.character);
      expect(
        inside(range.start, selectionRange.start) && inside(selectionRange.end, range.end),
      ).toBe(true);
    }
  }
});

test("names are found by letters in their order", () => {
  expect(matches("rear_housing", "rhou")).toBe(true);
  expect(matches("rear_housing", "hr")).toBe(false);
  const source = parseFile("wheel w { }\noption deep { }\n");
  expect(matchingSymbols(source, "file:///a", "").map((symbol) => symbol.name)).toEqual([
    "w",
    "deep",
  ]);
});

test("blocks, rows of comments and of used files fold", () => {
  const source = parseFile(
    '# one\n# two\n\nuse "a"\nuse "b"\n\naxle rear {\n  left {\n    a: 1\n  }\n}\n',
  );
  expect(
    foldingRanges(source).map(({ startLine, endLine, kind }) => [startLine, endLine, kind]),
  ).toEqual([
    [6, 9, undefined],
    [7, 8, undefined],
    [0, 1, "comment"],
    [3, 4, "imports"],
  ]);
});

test("a selection grows from the word to the file", () => {
  const text = "axle rear {\n  left { inner_gap: 7/8 in }\n}\n";
  const source = parseFile(text);
  const grown: string[] = [];
  for (
    let selection = selectionRanges(source, [{ line: 1, character: 12 }])[0];
    selection !== undefined;
    selection = selection.parent
  ) {
    const { start, end } = selection.range;
    grown.push(text.slice(source.offsetAt(start), source.offsetAt(end)));
  }
  expect(grown[0]).toBe("inner_gap");
  expect(grown).toContain("inner_gap: 7/8 in");
  expect(grown).toContain("left { inner_gap: 7/8 in }");
  expect(grown.at(-1)).toBe(text);
  for (const [index, each] of grown.entries())
    expect(index === 0 || each.includes(grown[index - 1] ?? "")).toBe(true);
});

test("the path of a used file is a link, if the file is there", () => {
  const { analysis, uri } = cursor(
    '//- build.trammel\nuse "a b.trammel"\nuse "gone.trammel"\n//- a%20b.trammel\nwheel w { }\n',
  );
  expect(documentLinks(analysis, uri).map((link) => link.target)).toEqual([
    `${folder}a%20b.trammel`,
  ]);
});

test("names have the color of what they mean", () => {
  const { analysis, uri } = cursor(`
    wheel w { offset: 18 mm }
    axle rear { wheel: w }
    check "c": abs(w.offset) <= 1 in
  `);
  const builder = new SemanticTokensBuilder();
  semanticTokens(analysis, uri, builder);
  const { data } = builder.build();
  const lines = analysis.sourceOf(uri)?.text.split("\n") ?? [];
  const found: string[] = [];
  let line = 0;
  let character = 0;
  for (let index = 0; index < data.length; index += 5) {
    const [down = 0, across = 0, length = 0, type = 0] = data.slice(index, index + 4);
    line += down;
    character = down === 0 ? character + across : across;
    found.push(`${lines[line]?.slice(character, character + length)} ${tokenTypes[type]}`);
  }
  expect(found).toEqual([
    "wheel class",
    "w variable",
    "offset property",
    "axle class",
    "rear variable",
    "wheel property",
    "w variable",
    "abs function",
    "w variable",
    "offset property",
  ]);
});

test("layout is done in the fewest edits", () => {
  const before = "wheel   w {\n offset:18 mm\n\n\n\n  size: 17x9 }\n";
  const after = "wheel w {\n  offset: 18 mm\n\n  size: 17x9\n}\n";
  const edits = minimalEdits(parseFile(before), after);
  expect(edited(before, edits)).toBe(after);
  for (const edit of edits) expect(edit.newText.trim()).toBe("");
  expect(minimalEdits(parseFile(after), after)).toEqual([]);
  // Words that differ are replaced too, at the end and in the midst.
  for (const [one, other] of [
    ["a +- b", "a ± b"],
    ["a b", "ab"],
    ["", "x\n"],
    ["x\n\n", "x\n"],
    ["a\nb", "c"],
  ] as const) {
    expect(edited(one, minimalEdits(parseFile(one), other))).toBe(other);
  }
});

test("moving files mends the paths that lead to them and from them", () => {
  const files = new Map([
    [`${folder}build.trammel`, parseFile('use "parts/wheels.trammel"\n')],
    [`${folder}parts/wheels.trammel`, parseFile('use "tires.trammel"\n')],
    [`${folder}parts/tires.trammel`, parseFile("")],
  ]);
  const one = editsForMoves(files, [
    { from: `${folder}parts/wheels.trammel`, to: `${folder}wheels.trammel` },
  ]);
  expect(one.get(`${folder}build.trammel`)?.map((edit) => edit.newText)).toEqual([
    '"wheels.trammel"',
  ]);
  expect(one.get(`${folder}parts/wheels.trammel`)?.map((edit) => edit.newText)).toEqual([
    '"parts/tires.trammel"',
  ]);
  const all = editsForMoves(files, [{ from: `${folder}parts`, to: `${folder}stock` }]);
  expect([...all].map(([uri, edits]) => [uri, edits.map((edit) => edit.newText)])).toEqual([
    [`${folder}build.trammel`, ['"stock/wheels.trammel"']],
  ]);
});
