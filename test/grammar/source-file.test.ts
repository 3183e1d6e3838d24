import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { TextDocument } from "vscode-languageserver-textdocument";
import { splitItems } from "../../grammar/items";
import { parseFile } from "../../grammar/source-file";
import { designExample, libraryExample, visible } from "./helper";

describe("splitting", () => {
  test.each([
    ["one a line", 'use "a"\nuse "b"\n', ['use "a"\n', 'use "b"\n']],
    [
      "blanks and comments go with what follows",
      "a x { }\n\n# n\nb y { }\n",
      ["a x { }\n", "\n# n\nb y { }\n"],
    ],
    ["what is behind the last goes with it", "a x { }\n# end\n", ["a x { }\n# end\n"]],
    ["a comment on the line goes with it", "a x { } # n\nb y { }", ["a x { } # n\n", "b y { }"]],
    [
      "several on a line",
      "a x { } b y { }; c: 3; d: 4",
      ["a x { } ", "b y { }; ", "c: 3; ", "d: 4"],
    ],
    [
      "braces in texts and comments",
      'a x { b: "}" # }\n}\nc: 3',
      ['a x { b: "}" # }\n}\n', "c: 3"],
    ],
    [
      "clauses below",
      'check "a": b\n\n  source "c"\nd: 3',
      ['check "a": b\n\n  source "c"\n', "d: 3"],
    ],
    [
      "unfinished lines",
      "a: b +\n  c\nd: (1\n + 2)\ne: 3",
      ["a: b +\n  c\n", "d: (1\n + 2)\n", "e: 3"],
    ],
    ["an unfinished line before a declaration", "a:\nb: 3", ["a:\n", "b: 3"]],
    ["an open parenthesis before a declaration", "a: (b\nc d { }", ["a: (b\n", "c d { }"]],
    ["a brace on the next line", "a x\n{ b: 3 }\nc: 4", ["a x\n{ b: 3 }\n", "c: 4"]],
    ["stray braces", "}\na: 3\n} }\n", ["}\n", "a: 3\n", "} ", "}\n"]],
    ["an open text", 'a: "b {\nc: 3', ['a: "b {\n', "c: 3"]],
    [
      "things at the first column inside braces",
      "a x {\nb y { c: 3 }\n}\nd: 4",
      ["a x {\nb y { c: 3 }\n}\n", "d: 4"],
    ],
    ["an open brace", "a x {\n  b: 3\n\nc y {\n}\n", ["a x {\n  b: 3\n", "\nc y {\n}\n"]],
  ])("%s", (_name, text, wanted) => {
    const { starts } = splitItems(text);
    expect(starts.map((start, index) => text.slice(start, starts[index + 1]))).toEqual(wanted);
  });
});

describe("reading again", () => {
  const file = parseFile(designExample);
  const kept = (text: string): number => {
    const again = parseFile(text, file);
    return again.items.filter((item) => file.items.includes(item)).length;
  };

  test("the same text is the same file", () => {
    expect(parseFile(designExample, file)).toBe(file);
  });

  test("an edit makes one new item", () => {
    expect(kept(designExample.replace("18 mm", "20 mm"))).toBe(file.items.length - 1);
    expect(kept(designExample.replace("axle rear {", "axle rear {{"))).toBe(file.items.length - 1);
  });

  const remarks: readonly (readonly [string, (text: string) => string])[] = [
    ["before all", (text) => `# head\n${text}`],
    ["behind all", (text) => `${text}# tail`],
    ["behind a figure", (text) => text.replace("18 mm", "18 mm # by caliper")],
    [
      "below a brace",
      (text) => text.replace("axle rear {", "axle rear {  # the live one\n\n # two"),
    ],
    ["gone", (text) => text.replaceAll(/ *#.*/g, "")],
    ["in other words", (text) => text.replaceAll(/# \w+/g, '# "{ or } otherwise')],
    ["with other line ends", (text) => text.replaceAll("\n", "\r\n")],
  ];

  test.each(remarks)("remarks %s leave every declaration what it is", (_name, edit) => {
    const text = edit(designExample);
    expect(text).not.toBe(designExample);
    expect(kept(text)).toBe(file.items.length);
    const again = parseFile(text, file);
    expect(visible(again)).toEqual(visible(parseFile(text)));
    for (const item of again.items) {
      const start = item.node.span.start;
      expect(again.insideOf(item, again.offsetOf(item, start))).toBe(start);
    }
    const back = parseFile(designExample, again);
    expect(back.items).toEqual(file.items);
    expect(visible(back)).toEqual(visible(file));
  });

  test.each([
    ["a remark that takes a value away", "offset: 18 mm }", "offset: # 18 mm }\n}"],
    ["an empty line within a text", 'check "a": b >= 1', 'check "a\n": b >= 1'],
    ["a line broken in two", "a: 1 in + 2 in", "a: 1 in +\n 2 in"],
    ["a line that goes on", "a: b\nc: 2", "a: b + # more\nc: 2"],
    ["a mark within quotes", 'check "a # b": c >= 1', 'check "a # d": c >= 1'],
  ])("%s is another declaration", (_name, before, after) => {
    const old = parseFile(`wheel w { flange: 3 mm }\n${before}\n`);
    const again = parseFile(`wheel w { flange: 3 mm }\n${after}\n`, old);
    expect(again.items[1]).not.toBe(old.items[1]);
    expect(visible(again)).toEqual(visible(parseFile(again.text)));
  });

  test("a new declaration leaves all others as they are", () => {
    const text = designExample.replace(
      "housing rear_housing",
      "wheel w { }\n\nhousing rear_housing",
    );
    expect(kept(text)).toBe(file.items.length);
    const twice = designExample + designExample;
    expect(kept(twice)).toBe(file.items.length);
    expect(new Set(parseFile(twice, file).items).size).toBe(file.items.length * 2);
  });

  test("closing a brace gives back the items it had swallowed", () => {
    const open = parseFile(
      designExample.replace("inner_gap: 7/8 in }\n  right", "inner_gap: 7/8 in\n  right"),
      file,
    );
    expect(open.items.some(({ problems }) => problems.length > 0)).toBe(true);
    expect(visible(parseFile(designExample, open))).toEqual(visible(file));
  });

  test("new items do not hold on to the whole text", () => {
    // Item texts are equal to the places they were cut from, whoever owns their memory.
    const again = parseFile(designExample.replace("18 mm", "20 mm"), file);
    for (const item of again.items) {
      const offset = again.offsetOf(item);
      const { text } = again.standing(item);
      expect(again.text.slice(offset, offset + text.length)).toBe(text);
    }
  });
});

describe("places", () => {
  // The same figures as a general text library gives.
  test.each([
    designExample,
    designExample.replaceAll("\n", "\r\n"),
    "a\rb\r\nc\n\nd",
    "",
    "Ø😀\né",
    "\n",
  ])("in text %#", (text) => {
    const document = TextDocument.create("file:///a", "trammel", 1, text);
    const file = parseFile(text);
    for (let offset = 0; offset <= text.length; offset++) {
      // Between the two characters of a line end there is no place of its own.
      if (text[offset - 1] === "\r" && text[offset] === "\n") continue;
      expect(file.positionAt(offset)).toEqual(document.positionAt(offset));
    }
    for (let line = 0; line <= document.lineCount; line++) {
      for (const character of [0, 1, 5, 1000]) {
        expect(file.offsetAt({ line, character })).toBe(document.offsetAt({ line, character }));
      }
    }
  });

  const places = (file: ReturnType<typeof parseFile>): string[] =>
    Array.from(`${file.text}.`, (_, at) => Object.values(file.positionAt(at)).join(":"));

  test("are those of the text after every edit, whatever line ends come and go", () => {
    const bits = ["\r", "\n", "\r\n", "a: 3\n", "w x { }", " "];
    const edit = fc.tuple(
      fc.nat(200),
      fc.nat(6),
      fc.array(fc.constantFrom(...bits), { maxLength: 4 }),
    );
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 12 }), (edits) => {
        let file = parseFile("a: 1\rwheel w { }\r\nb: 2\n\nwheel v { c: 3 }\n\r\nd: 4\n");
        for (const [at, gone, come] of edits) {
          file.positionAt(0);
          const { text } = file;
          const from = at % (text.length + 1);
          file = parseFile(text.slice(0, from) + come.join("") + text.slice(from + gone), file);
          expect(places(file)).toEqual(places(parseFile(file.text)));
        }
      }),
      { numRuns: 300 },
    );
  });

  test("outside the text are moved into it", () => {
    const file = parseFile(libraryExample);
    expect(file.positionAt(-5)).toEqual({ line: 0, character: 0 });
    expect(file.positionAt(Number.NaN)).toEqual({ line: 0, character: 0 });
    expect(file.offsetAt({ line: -1, character: 4 })).toBe(0);
    expect(file.offsetAt({ line: 0, character: -4 })).toBe(0);
    expect(file.offsetAt({ line: 1e9, character: 0 })).toBe(libraryExample.length);
    expect(file.positionAt(1e9)).toEqual(file.positionAt(libraryExample.length));
    expect(file.itemAt(-1)).toBeUndefined();
  });

  test("belong to items", () => {
    const file = parseFile(designExample);
    for (const item of file.items) {
      const offset = file.offsetOf(item);
      expect(file.itemAt(offset)).toBe(item);
      expect(file.itemAt(offset + item.text.length - 1)).toBe(item);
    }
    expect(file.offsetOf(parseFile("a: 3").items[0]!)).toBe(-1);
  });
});
