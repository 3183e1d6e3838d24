import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { createOnigScanner, createOnigString, loadWASM } from "vscode-oniguruma";
import { type IGrammar, INITIAL, parseRawGrammar, Registry } from "vscode-textmate";
import { editorFiles } from "../../grammar/editor-grammar";
import { unitSymbols } from "../../server/units";
import { designExample } from "./helper";

const folder = join(import.meta.dirname, "..", "..", "grammar");

test.each([...editorFiles().keys()])("%s is up to date", (file) => {
  const wanted = editorFiles().get(file)!;
  const place = join(folder, file);
  let found = "";
  try {
    found = readFileSync(place, "utf8").replaceAll("\r\n", "\n");
  } catch {
    // Not made yet: it is made below.
  }
  if (found !== wanted) writeFileSync(place, wanted);
  expect(found, "the file was out of date and has been written anew").toBe(wanted);
});

test("the word pattern is one the editor can use", () => {
  const settings = JSON.parse(editorFiles().get("language-configuration.json")!);
  const words = (text: string): string[] | null =>
    text.match(new RegExp(settings.wordPattern, "g"));
  expect(words("rear.left.inner_gap >= 5/8 in")).toEqual([
    "rear",
    "left",
    "inner_gap",
    "5/8",
    "in",
  ]);
  expect(words("size: 275/50R17")).toEqual(["size", "275/50R17"]);
  const opens = new RegExp(settings.indentationRules.increaseIndentPattern);
  expect(opens.test('axle rear "the {" { # note')).toBe(true);
  expect(opens.test("left { a: 1 in }")).toBe(false);
});

describe("colors", () => {
  let grammar: IGrammar;

  beforeAll(async () => {
    const wasm = createRequire(import.meta.url).resolve("vscode-oniguruma/release/onig.wasm");
    await loadWASM(new Uint8Array(readFileSync(wasm)).buffer);
    const registry = new Registry({
      onigLib: Promise.resolve({ createOnigScanner, createOnigString }),
      loadGrammar: async () =>
        parseRawGrammar(editorFiles().get("trammel.tmLanguage.json")!, "grammar.json"),
    });
    grammar = (await registry.loadGrammar("source.trammel"))!;
  });

  /** Each colored piece as `text scope`, without the language's own name. */
  function colors(text: string): string[] {
    const pieces: string[] = [];
    let state = INITIAL;
    for (const line of text.split("\n")) {
      const result = grammar.tokenizeLine(line, state);
      state = result.ruleStack;
      for (const { startIndex, endIndex, scopes } of result.tokens) {
        const scope = scopes.at(-1)!;
        const piece = line.slice(startIndex, endIndex).trim();
        if (piece === "" || scope === "source.trammel") continue;
        if (!scope.startsWith("punctuation"))
          pieces.push(`${piece} ${scope.replace(".trammel", "")}`);
      }
    }
    return pieces;
  }

  test("of the design's example", () => {
    expect(colors(designExample)).toMatchInlineSnapshot(`
      [
        "use keyword.declaration",
        "" string.quoted.double",
        "parts/wheels.trammel string.quoted.double",
        "" string.quoted.double",
        "use keyword.declaration",
        "" string.quoted.double",
        "parts/brakes.trammel string.quoted.double",
        "" string.quoted.double",
        "as keyword.other",
        "brakes entity.name.namespace",
        "display keyword.declaration",
        "length variable.other.property",
        "in keyword.other.unit",
        "1/32 constant.numeric",
        "torque variable.other.property",
        "lb-ft keyword.other.unit",
        "vehicle entity.name.type.class",
        "van entity.name.variable",
        "" string.quoted.double",
        "Harbor delivery van string.quoted.double",
        "" string.quoted.double",
        "wheelbase variable.other.property",
        "114 constant.numeric",
        "in keyword.other.unit",
        "mass variable.other.property",
        "3640 constant.numeric",
        "lb keyword.other.unit",
        "tire entity.name.type.class",
        "rear_tire entity.name.variable",
        "size variable.other.property",
        "275/50R17 constant.other.designation",
        "wheel entity.name.type.class",
        "rear_wheel entity.name.variable",
        "size variable.other.property",
        "17x9 constant.other.designation",
        "offset variable.other.property",
        "18 constant.numeric",
        "mm keyword.other.unit",
        "stud_circle variable.other.property",
        "5x5 constant.other.designation",
        "in keyword.other.unit",
        "housing entity.name.type.class",
        "rear_housing entity.name.variable",
        "tube_diameter variable.other.property",
        "3 1/4 constant.numeric",
        "in keyword.other.unit",
        "tube_wall variable.other.property",
        "0.188 constant.numeric",
        "in keyword.other.unit",
        "standoff variable.other.property",
        "2.500 constant.numeric",
        "in keyword.other.unit",
        "± keyword.operator",
        "0.010 constant.numeric",
        "in keyword.other.unit",
        "# housing end face to shaft flange face comment.line.number-sign",
        "end_length variable.other.property",
        "2.0 constant.numeric",
        "in keyword.other.unit",
        "face_to_face variable.other.property",
        "? constant.language.ask",
        "# solved; shown here as an inline value comment.line.number-sign",
        "axle entity.name.type.class",
        "rear entity.name.variable",
        "wheel variable.other.property",
        "rear_wheel variable.other",
        "tire variable.other.property",
        "rear_tire variable.other",
        "brake variable.other.property",
        "brakes.rear_disc variable.other",
        "housing variable.other.property",
        "rear_housing variable.other",
        "left variable.other.property",
        "inner_limit variable.other.property",
        "23 1/2 constant.numeric",
        "in keyword.other.unit",
        "inner_gap variable.other.property",
        "7/8 constant.numeric",
        "in keyword.other.unit",
        "right variable.other.property",
        "inner_limit variable.other.property",
        "24 11/16 constant.numeric",
        "in keyword.other.unit",
        "inner_gap variable.other.property",
        "7/8 constant.numeric",
        "in keyword.other.unit",
        "mount_width variable.other.property",
        "? constant.language.ask",
        "check keyword.declaration",
        "" string.quoted.double",
        "Leaf spring clears the sidewall string.quoted.double",
        "" string.quoted.double",
        "rear.left.inner_gap variable.other",
        ">= keyword.operator",
        "5/8 constant.numeric",
        "in keyword.other.unit",
        "option keyword.declaration",
        "bolt_in entity.name.variable",
        "" string.quoted.double",
        "Bolt-in axle, other wheels string.quoted.double",
        "" string.quoted.double",
        "rear.housing.face_to_face variable.other.property",
        "57 1/4 constant.numeric",
        "in keyword.other.unit",
        "rear.wheel.offset variable.other.property",
        "? constant.language.ask",
        "record keyword.declaration",
        "" string.quoted.double",
        "after welding string.quoted.double",
        "" string.quoted.double",
        "2026-03-14 constant.other.date",
        "rear.housing.face_to_face variable.other.property",
        "58 1/8 constant.numeric",
        "in keyword.other.unit",
        "± keyword.operator",
        "1/32 constant.numeric",
        "in keyword.other.unit",
      ]
    `);
  });

  test.each([
    ["a: 61 3/8 in", "61 3/8 constant.numeric", "in keyword.other.unit"],
    ["a: 5 ft 1 3/8 in", "1 3/8 constant.numeric", "ft keyword.other.unit"],
    ["a: 3/8-24", "3/8-24 constant.other.designation"],
    ["a: LT235/75R15", "LT235/75R15 constant.other.designation"],
    [
      "a: 0.005..0.008 in",
      "0.005 constant.numeric",
      "0.008 constant.numeric",
      "in keyword.other.unit",
    ],
    ["a: 2 in within 1.9..2.1 in", "2.1 constant.numeric", "in keyword.other.unit"],
    ["a: 31x10.50R15LT 109S", "31x10.50R15LT 109S constant.other.designation"],
    ["a: 200 deg F", "deg F keyword.other.unit"],
    ["a: 21 lbs", "lbs keyword.other.unit"],
    ["a: 39:11", "39:11 constant.other.designation"],
    ["a: yes", "yes constant.language.boolean"],
    ["a: 60 lb-ft", "lb-ft keyword.other.unit"],
    ["kind wheel is part {", "part entity.name.type.class", "kind keyword.declaration"],
    ['  source "x"', "source keyword.other.clause"],
    ["  m: 5 in: 3", "in variable.other.property"],
    ["  b: list of step shown", "list of keyword.other", "shown storage.modifier"],
    ["  x: abs(y)", "abs entity.name.function"],
    ["<<<<<<< ours", "<<<<<<< ours invalid.illegal.conflict-marker"],
    ['check "a # b": c', "check keyword.declaration", "a # b string.quoted.double"],
  ])("of %s", (text, ...wanted) => {
    expect(colors(text)).toEqual(expect.arrayContaining(wanted));
  });

  test("an unfinished text colors its own line only", () => {
    expect(colors('a: "open\nb: 3')).toContain("b variable.other.property");
  });

  test("of every unit", () => {
    for (const symbol of unitSymbols) {
      if (/^\d/.test(symbol)) continue;
      expect(colors(`a: 3 ${symbol}`)).toContain(`${symbol} keyword.other.unit`);
    }
  });
});
