/**
 * Facts for every sentence there is; one without an example does not compile. Names and figures are
 * made up for the sentence alone.
 */

import type { Anchor } from "../../grammar/anchor";
import { parseFile } from "../../grammar/source-file";
import type { ContradictedFigure } from "../../server/findings/conflicts";
import type { Fact, SentenceId } from "../../server/findings/worded";
import type { Lacking } from "../../server/findings/work-phrases";
import type { Shown } from "../../server/findings/writer";
import { type Measure, measureNamed } from "../../server/units";

export type Examples = { readonly [K in SentenceId]: readonly Facts<K>[] };
type Facts<K extends SentenceId> = K extends SentenceId ? Omit<Fact<K>, "is"> : never;

const file = "file:///shop/build.trammel";
const source = parseFile("wheel spare { offset: 18 mm }\n");

/** Where each of them stands: `18 mm`. */
export const here: Anchor = anchorOf("18 mm");
const there: Anchor = anchorOf("spare");
const elsewhere: Anchor = { ...here, uri: "file:///shop/wheels.trammel" };

function anchorOf(text: string): Anchor {
  const [item] = source.items;
  if (item === undefined) throw new Error("the text has an item");
  const start = item.text.indexOf(text);
  return { uri: file, item, span: { start, end: start + text.length } };
}

function measure(name: string): Measure {
  const found = measureNamed(name);
  if (found === undefined) throw new Error(`there is no measure ${name}`);
  return found;
}

const length = measure("length");
const heat = measure("temperature");
const inch = 0.0254;

const offset: Shown = { path: "spare.offset", measure: length, si: 0.018, figure: { unit: "mm" } };
const gap: Shown = { path: "rear.left.inner_gap", measure: length, si: 1.25 * inch };
const given: ContradictedFigure = { ...offset, assumed: false, measured: false, bought: false };
const failed = {
  figures: [gap],
  by: ["rim halves"],
  inputs: [offset],
  elsewhere: [{ path: "spare.offset", anchor: here }],
};
const cases = {
  cases: [
    { title: "short link", when: "reach <= 4 in" },
    { title: "long link", when: "reach >= 3 in" },
  ],
};
const unit = { unit: "kg", measure: length, near: ["in", "mm"] };
const choice = { field: "side", text: "lfet", choices: ["left", "right"], near: "left" };
const forms = { text: "17y9", designation: "wheel_size", forms: "17x9" };
const misnamed = { name: "whel", near: "wheel", known: ["wheel", "axle"] };
const unknown = { name: "spindle", known: ["wheel", "axle"] };
const titled = { title: "Tack the left end", at: there };
const because = {
  is: "rule",
  title: "ends are tacked before welding",
  because: "heat pulls",
} as const;
const broken = {
  before: "tack",
  after: "weld",
  why: because,
  way: ["grind"],
  onOpen: true,
  there: titled,
  rule: there,
};
const early = {
  more: [],
  deed: { step: "weld" },
  before: "tack",
  day: { date: "2026-03-14", clock: 870 },
  why: because,
  there: titled,
};
const day = { date: "2026-03-14" };
const unread = { field: "done", text: "perhaps" };
const joint = "cover_bolts";
const compared = {
  is: "sides",
  left: "inner_gap",
  right: "inner_limit",
  found: 1.25 * inch,
  wanted: 1.5 * inch,
  literal: false,
  relation: ">=",
  dimension: length.dimension,
  measure: length,
} as const;
const check = {
  code: "clearance/inner-gap",
  title: "room inside",
  path: "rear.left",
  severity: "error",
  advise: { text: "move it by {miss}", values: { miss: { si: 0.25 * inch, measure: length } } },
  caution: { text: "a tire that touches wears through", values: {} },
  compared,
} as unknown as Omit<Fact<"check/fails">, "is">;
const strained = {
  ...check,
  rss: "fails",
  worst: "fails",
  reach: { is: "up to", by: 0.3 * inch, found: 0.28 * inch },
  witness: [gap],
  chance: () => ({ share: 0.974, low: 0.96, high: 0.98 }),
} as const;
const off = {
  path: "rear.width",
  measure: length,
  date: "2026-03-14",
  found: 55.75 * inch,
  spec: 55 * inch,
  allowed: { low: 54.9 * inch, high: 55.1 * inch },
  isSpec: true,
  asBuilt: {
    wishes: [
      { path: "rear.left.inner_gap", measure: length, si: 1.625 * inch, miss: 0.375 * inch },
    ],
    fails: [{ path: "rear.left", title: "room inside" }],
  },
  written: there,
};
const accepts = {
  by: "Ida Foreman",
  until: "2027-01-31",
  because: "spacer behind the left flange.",
  follows: undefined,
};
const lacking = (...each: readonly Lacking[]) => [{ day: { date: "2026-03-14" }, lacking: each }];
const step = "close_up";
const length1 = length.dimension;
const plain = measure("number").dimension;

export const examples: Examples = {
  "name/unknown": [misnamed, unknown, { ...unknown, known: [], wanted: "brake_disc" }],
  "name/unknown missing": [{ name: "" }],
  "name/unknown no-part": [{ ...misnamed, field: "size" }],
  "name/unknown single": [{ ...unknown, path: "offset" }],
  "name/unknown not-there": [{ ...unknown, path: "rear.spindle" }],
  "name/unknown several": [{ ...unknown, path: "wheels" }],
  "name/unknown stands-alone": [
    { ...unknown, owners: [] },
    { ...unknown, owners: ["rear", "front"] },
  ],
  "name/unknown-field": [{ ...misnamed, kind: "axle" }],
  "name/unknown-field both": [
    { ...unknown, kind: "wheel", twins: [] },
    { ...unknown, kind: "axle", twins: ["left", "right"] },
  ],
  "name/unknown part": [{ ...misnamed, path: "rear" }],
  "name/unknown-kind": [misnamed],
  "name/unknown-kind declared": [unknown],
  "name/unknown-kind called": [misnamed],
  "name/unknown-type": [misnamed],
  "name/unknown-word": [misnamed],
  "name/unknown-word lookup": [misnamed],
  "name/unknown-function": [
    { ...misnamed, functions: [] },
    { name: "spindle", functions: ["max", "min"] },
  ],
  "name/not-a-thing": [
    { wanted: "wheel", known: ["spare"], single: true },
    { wanted: "wheel", known: [], single: false },
  ],
  "name/wrong-kind": [
    { wanted: "wheel", known: ["spare"], path: "rear", kind: "axle", declared: there },
  ],
  "reference/itself": [
    { path: "rear", field: "next_to", wanted: "axle", part: false },
    { path: "rear.left", field: "next_to", wanted: "axle", part: true },
  ],
  "reference/itself formula": [{ field: "width", path: "rear" }],
  "like/other-kind": [{ path: "rear", kind: "axle", other: "spare", otherKind: "wheel" }],
  "like/itself": [
    { path: "rear", by: [] },
    { path: "rear", by: ["front"] },
  ],
  "name/duplicate": [{ name: "rear", before: there }],
  "name/duplicate option": [{ name: "wide", before: there }],
  "name/duplicate field": [{ name: "width", kind: "axle" }],
  "name/duplicate inside": [{ name: "left", path: "rear", before: there }],
  "name/duplicate declaration": [{ what: "table", name: "loads" }],
  "name/duplicate kind-field": [{ name: "width", kind: "axle" }],
  "name/circular base": [{ name: "axle", by: ["beam"] }],
  "name/circular owner": [{ name: "axle", by: [] }],
  "name/circular": [
    {
      name: "axle",
      steps: [
        { kind: "axle", field: "end", to: "corner" },
        { kind: "corner", field: "of", to: "axle" },
      ],
      closing: "corner.of",
    },
  ],
  "field/two-roles": [{ first: "measured", second: "bought" }],
  "given/twice": [{ path: "spare.offset", before: there }],
  "given/twice clause": [{ word: "by", before: there }],
  "given/twice opened": [{ path: "rear.left" }],
  "given/twice named": [{ path: "rear.left", before: there }],
  "given/not-a-part": [{ path: "spare.offset", name: "offset" }],
  "missing/not-a-figure": [
    { field: "side", choices: ["left", "right"] },
    { field: "wheel", kind: "wheel" },
    { field: "note" },
  ],
  "build/too-much parts": [{ path: "rear", most: 2000, from: "rear.left" }],
  "build/too-much terms": [
    { most: 2000, here: true },
    { most: 2000, here: false },
  ],
  "build/too-much things": [{ most: 25_000, from: "spare" }],
  "build/too-much likes": [{ path: "winter", most: 40 }],
  "build/too-much time": [
    { seconds: 60, left: [{ part: "things", name: "rear", count: 1200, anchor: here }] },
    {
      seconds: 60,
      left: [
        { part: "objections", name: "rear", count: 1, anchor: here },
        { part: "options", name: "narrow", count: 3, anchor: there },
        { part: "order of work", name: "rear", count: 1, anchor: here },
        { part: "advice", name: "rear", count: 2, anchor: here },
        { part: "fits", name: "gap", count: 1, anchor: here },
      ],
    },
  ],
  "build/too-much base": [{ name: "axle", most: 2000, levels: 40 }],

  "unit/missing": [
    { text: "18", measure: length },
    { text: "18", measure: length, like: "mm" },
  ],
  "unit/missing column": [{ text: "18", measure: length, column: "width" }],
  "unit/missing designation": [{ text: "17", units: ["in", "mm"] }],
  "unit/unknown": [
    { unit: "imch", measure: length, near: ["in"] },
    { unit: "kludge", measure: length, near: [] },
  ],
  "unit/unknown in-formula": [{ unit: "imch", near: ["in"] }],
  "unit/unknown column": [
    { unit: "imch", near: "in" },
    { unit: "kludge", known: ["in", "mm"] },
  ],
  "unit/wrong plain": [{ unit: "mm", dimension: length1 }],
  "unit/wrong": [
    { ...unit, at: here.span, dimension: measure("mass").dimension },
    { ...unit, at: here.span, dimension: measure("mass").dimension, meant: "in" },
  ],
  "unit/wrong column": [
    { column: "width", unit: "kg", measure: length, dimension: measure("mass").dimension },
  ],
  "unit/wrong cell": [{ unit: "kg", measure: length }],
  "unit/wrong shown": [{ unit: "kg", measure: length }],
  "unit/wrong no-figure": [{}],
  "unit/clash parts": [{}],
  "unit/clash sides": [
    { sign: "+", left: length1, right: plain },
    { sign: "max", left: length1, right: measure("mass").dimension },
  ],
  "unit/clash exponent": [{ dimension: length1 }],
  "unit/clash power": [{ dimension: length1 }],
  "unit/clash argument": [
    { name: "sin", angle: true, dimension: length1 },
    { name: "log", angle: false, dimension: length1 },
  ],
  "unit/clash": [{ field: "width", measure: length, dimension: measure("mass").dimension }],
  "unit/clash default": [{ field: "width", measure: length, dimension: measure("mass").dimension }],

  "value/not-a-number": [
    { measure: length, found: "a text" },
    { measure: measure("number"), found: { written: "rear" } },
  ],
  "value/not-a-number result": [{ measure: length, word: "fixed" }],
  "value/not-a-number in-list": [{ measure: length }],
  "value/not-a-number near": [{}],
  "value/not-a-number word": [{}],
  "value/not-a-number function": [{ name: "max" }],
  "value/not-whole": [{ text: "2.5" }],
  "value/list": [{}],
  "value/list several": [{}],
  "value/list key": [{}],
  "value/limits order": [{}],
  "value/limits outside": [{}],
  "value/limits negative": [{}],
  "value/limits formula": [{}],
  "value/not-a-text": [{ field: "note", text: "spare" }],
  "value/wrong yes-no": [{ field: "painted", text: "maybe" }],
  "value/wrong date": [{ field: "bought_on", text: "spring" }],
  "value/wrong": [forms],
  "value/wrong default": [forms],
  "value/not-a-choice": [choice],
  "value/not-a-choice default": [choice],
  "value/tolerance-in-formula": [{}],
  "value/ask-in-formula": [{}],
  "value/condition-in-formula": [{ operator: "not" }, { operator: ">=" }],
  "value/not-a-condition": [{}],
  "value/clash": [
    { left: { word: "fixed" }, right: { dimension: length1 } },
    { left: { dimension: length1 }, right: { word: true } },
  ],
  "value/thing-in-formula": [{ title: "rear.left" }],
  "value/arguments": [
    { name: "abs", least: 1, most: 1, count: 0 },
    { name: "atan", least: 1, most: 2, count: 3 },
    { name: "max", least: 1, most: 99, count: 0 },
  ],
  "value/arguments step": [{ name: "round" }],
  "value/arguments item": [{}],
  "value/arguments stack": [{ name: "stack" }],
  "value/arguments given": [{}],
  "value/arguments each": [{}],
  "table/row": [{ values: 1, columns: 3 }],
  "table/row cell": [{ column: "load", measure: measure("mass") }],
  "table/use columns": [
    { table: "loads", columns: ["mass", "speed"] },
    { table: "loads", column: "weight", columns: ["mass", "speed"] },
  ],
  "table/use keys": [{ table: "loads", keys: ["index", "ply"], count: 1 }],
  "table/use no-key": [{ table: "loads" }],
  "table/use measure": [
    { table: "loads", column: "index", measure: length },
    { table: "loads", column: "index", measure: length, found: plain },
  ],
  "table/use word": [{ table: "loads", column: "index" }],
  "table/no-row": [
    { table: "loads", missed: { is: "values" } },
    { table: "loads", missed: { is: "value" }, path: "rear" },
    { table: "loads", missed: { is: "word", word: "heavy" } },
    { table: "loads", missed: { is: "number", number: 211, from: 60, to: 130 } },
    { table: "loads", missed: { is: "empty", column: "mass" } },
  ],
  "designation/form": [
    { problem: { is: "empty" } },
    { problem: { is: "deep" } },
    { problem: { is: "long", most: 200 } },
    { problem: { is: "unmatched", sign: "[", other: "]" } },
    { problem: { is: "not-a-part", text: "17" } },
    { problem: { is: "unknown-part", part: "rim" } },
    { problem: { is: "twice", part: "rim" } },
    { problem: { is: "text-with-unit", part: "maker" } },
    { problem: { is: "not-a-text", part: "rim", measure: length } },
    { problem: { is: "no-unit", part: "rim", measure: length } },
    { problem: { is: "wrong-unit", part: "rim", measure: length, unit: "kg" } },
    { problem: { is: "unknown-unit", part: "rim", measure: length, unit: "imch" } },
  ],

  "syntax/missing-value": [
    { after: "`offset:`", found: "the end of the line" },
    { after: "`max(`", found: "`)`" },
  ],
  "syntax/missing-value operand": [{ after: "`+`", found: "the end of the line" }],
  "syntax/missing-part": [{ what: "a unit", after: "`18`", found: "the end of the line" }],
  "syntax/missing-name": [{ after: "`wheel`", found: "`{`" }],
  "syntax/missing-title": [{ what: "a title in quotes", after: "`check`", found: "`{`" }],
  "syntax/missing-colon": [{ after: "`offset`", found: "`18`", at: 20 }],
  "syntax/missing-colon equals": [{ name: "offset" }],
  "syntax/missing-colon lone": [{ name: "offset", found: "`}`" }],
  "syntax/missing-brace": [{ after: "`wheel spare`", found: "the end of the line", at: 11 }],
  "syntax/unclosed-brace": [{ head: "wheel spare {", closing: "\n}", at: 29 }],
  "syntax/unclosed-bracket": [{ open: "(", close: ")", at: 29 }],
  "syntax/unclosed-text": [{}],
  "syntax/stray-brace": [{}],
  "syntax/unexpected": [{ expected: "a value", found: "`}`" }],
  "syntax/unexpected plus": [{}],
  "syntax/spelling-of-sign": [{ sign: "≥", spelling: ">=" }],
  "syntax/spelling-of-sign quotes": [{ value: 'the "old" one' }],
  "syntax/inch-mark": [{ number: "17" }],
  "syntax/inch-mark foot": [{ number: "5" }],
  "syntax/number": [{ text: "1/0" }, { text: "1".repeat(40) }],
  "syntax/date": [{ text: "2026-02-30" }],
  "syntax/split-fraction": [{ fraction: "3/4 in", before: "/" }],
  "syntax/comparison": [{ first: "0 in < x", second: "x < 2 in" }],
  "syntax/unknown-word": [
    { word: "sorce", near: "source" },
    { word: "moreover", near: undefined },
  ],
  "syntax/unknown-word severity": [
    { word: "info", near: "note" },
    { word: "loud", near: undefined },
  ],
  "syntax/misplaced": [{ what: "a record", where: "inside of a thing" }],
  "syntax/misplaced clause": [{ word: "source" }],
  "syntax/misplaced repeated": [{ what: "the description" }],
  "syntax/too-deep": [{ what: "braces", levels: 48 }],
  "syntax/too-deep steps": [{ steps: 500 }],
  "syntax/too-long": [{ characters: 1000000 }],
  "syntax/conflict-marker": [{}],
  "syntax/not-text": [{}],
  "use/not-a-path": [
    { path: "", why: "empty" },
    { path: "/parts.trammel", why: "top-of-disk" },
    { path: "a\\0b", why: "no-path" },
  ],
  "use/none": [{ path: "parts/*.trammel" }],
  "use/outside": [{ path: "../../parts.trammel" }],
  "use/not-a-build": [{ path: "parts.txt", ending: ".trammel" }],
  "use/circular": [{ files: ["a.trammel", "b.trammel", "a.trammel"] }],
  "use/too-many text": [{ most: 16 * 1024 * 1024 }],
  "use/too-many": [{ most: 500 }],
  "use/unreadable": [{ path: "parts.trammel" }, { path: "parts.trammel", why: "it is a folder" }],
  "use/missing": [{ path: "parts.trammel" }],
  "use/missing library": [{ path: "trammel:weel", near: "trammel:wheel" }],
  "build/fault": [{ why: "out of memory" }],
  "display/unknown-measure": [{ text: "lenght", near: ["length"] }],
  "display/unknown-unit": [{ text: "imch", near: [] }],
  "display/wrong-unit": [
    { text: "kg", near: ["in", "mm"], of: length },
    { text: "", near: [], of: measure("count") },
  ],
  "display/bad-increment": [{ text: "a hair", near: ["1/32"] }],

  "record/misclosure": [
    {
      parties: [offset, gap],
      gap: { si: 0.006, measure: length },
      explained: 0.001,
      again: gap,
      best: [offset],
      elsewhere: [{ path: "spare.offset", anchor: there }],
    },
    {
      parties: [offset, gap],
      gap: { si: 0.006, measure: length },
      explained: 0.001,
      suspect: gap,
      best: [],
      elsewhere: [],
    },
  ],
  "conflict/givens": [
    {
      givens: [
        { ...given, needed: 0.02 },
        { ...given, ...gap, assumed: true, elsewhere },
      ],
      formulas: ["rear.width: 2 * half"],
      title: "rim halves",
      gap: { si: 0.002, measure: length },
      held: [{ ...gap, path: "rear.left.allowance", constant: false }],
      clashes: 2,
      repairs: [[offset], [{ ...gap, si: undefined }]],
    },
    {
      givens: [{ ...given, measured: true, bought: true, needed: 0.02 }],
      formulas: [],
      held: [],
      clashes: 1,
      repairs: [],
    },
    { givens: [given, { ...given, ...gap }], formulas: [], held: [], clashes: 1, repairs: [] },
  ],
  "solve/several-answers": [
    { ...failed, askedAt: 0, roots: [1, 2, 3, 4, 5, 6, 7, 8], answers: [], complete: true },
    { ...failed, askedAt: 0, roots: [0.01, 0.02], answers: [], complete: true },
    { ...failed, askedAt: 0, roots: [0.1, 0.2, 0.3], answers: [], complete: true, halfTurn: true },
    {
      ...failed,
      figures: [gap, offset],
      roots: [],
      answers: [
        [0.01, 0.02],
        [0.02, 0.01],
      ],
      complete: false,
    },
  ],
  "solve/no-answer": [
    { ...failed, figures: [gap], nearest: [0.02, 0.01, 0.03] },
    { ...failed, figures: [gap, offset], inWholes: true },
    { ...failed, figures: [{ ...gap, range: [0, 0.5] }], outside: -0.01 },
    { ...failed, figures: [gap, offset], inputs: [] },
  ],
  "solve/no-answer together": [{ ...failed, figures: [gap, offset] }],
  "solve/not-defined": [failed, { ...failed, inputs: [] }],
  "solve/several-cases": [{ ...failed, ...cases }],
  "solve/no-case": [{ ...failed, ...cases }],
  "solve/others-not-excluded": [
    { path: "link.angle", together: 1 },
    { path: "link.angle", together: 3 },
  ],
  "solve/not-whole": [{ path: "leaves.count", si: 3.333333 }],
  "check/fails": [
    check,
    {
      ...check,
      message: { text: "too little room", values: {} },
      limit: { path: "rear.inner_limit", given: false, at: there },
    },
    { ...check, compared: { is: "figures", figures: [gap, offset] } },
  ],
  "check/strained": [
    strained,
    { ...strained, rss: "holds", worst: "unknown", reach: { is: "unlimited" } },
    { ...strained, rss: "holds", witness: [], chance: () => undefined },
  ],
  "check/cannot-judge": [
    { title: "room inside", open: [] },
    { title: "room inside", open: ["rear.left.inner_gap"] },
  ],
  "check/cannot-judge of-thing": [
    {
      path: "rear.left",
      titles: ["a", "b", "c", "d"],
      needs: ["measure the gap"],
      missing: ["inner_gap"],
      unanswered: true,
    },
    { titles: ["room inside"], needs: [], missing: [], unanswered: false },
  ],
  "value/out-of-range": [
    {
      figure: { ...offset, si: 1.8, written: "1800 mm" },
      range: [-0.1, 0.1],
      ofPart: false,
      failing: false,
      slip: { text: "18 mm", anchor: here },
    },
    { figure: { ...offset, si: -0.3 }, range: [-0.1, 0.1], ofPart: true, failing: true },
  ],
  "value/out-of-range tolerance": [{ figure: { ...offset, si: 0.018, written: "18 mm" }, by: 0.2 }],
  "value/unlike-twin": [
    {
      one: { ...offset, si: 0.018 },
      other: { ...offset, path: "other.offset", si: 0.81 },
      first: { text: "81 mm", anchor: here },
      second: { text: "18 mm", anchor: there },
    },
    {
      one: { ...offset, si: 0.018 },
      other: { ...offset, path: "other.offset", si: 0.81 },
      first: { text: "81 mm", anchor: here },
    },
  ],
  "given/against-default": [
    { figure: gap, field: "inner_gap", usual: inch, givens: [{ path: "spare.offset", elsewhere }] },
  ],
  "missing/value": [
    {
      missing: [
        {
          path: "rear.width",
          needs: [],
          spokenOf: true,
          followsFrom: { paths: ["rear.half", "rear.reach"], asked: ["rear.half"] },
          asked: here,
        },
      ],
    },
    { missing: [{ path: "rear.width", needs: [], spokenOf: false, asked: here }] },
    {
      missing: [
        { path: "rear.width", needs: [], spokenOf: true, advice: "read it off", asked: here },
      ],
    },
    {
      missing: [
        {
          path: "rear.width",
          needs: [[{ path: "spare.offset", advice: "read the stamp" }], [{ path: "rear.half" }]],
          spokenOf: true,
          asked: here,
        },
        { path: "rear.half", needs: [], spokenOf: true, asked: there },
      ],
    },
    {
      missing: [
        {
          path: "rear.width",
          needs: [],
          spokenOf: true,
          asked: here,
          failed: { is: "value/not-a-condition" },
        },
      ],
    },
  ],
  "wanted/missed": [
    { figure: gap, wanted: 1.5 * inch, comes: 1.25 * inch },
    { figure: { path: "hub.heat", measure: heat, si: 303.15 }, wanted: 293.15, comes: 303.15 },
    {
      figure: gap,
      wanted: 1.5 * inch,
      comes: 1.25 * inch,
      accepted: { low: 1.4 * inch, high: 1.6 * inch },
      against: { ...offset, role: "bought", needed: 0.024 },
    },
    {
      figure: gap,
      wanted: 1.5 * inch,
      comes: 1.25 * inch,
      shares: { made: offset, wishes: ["right.gap"] },
    },
  ],
  "kit/shared": [
    {
      path: "left.shims",
      kit: "shim_kit",
      others: ["right.shims"],
      pieces: [0.018 * inch, 0.007 * inch],
      measure: length,
    },
  ],
  "kit/short": [
    {
      path: "left.shims",
      kit: "shim_kit",
      residual: 0.003 * inch,
      pieces: [0.018 * inch],
      measure: length,
    },
    {
      path: "left.shims",
      kit: "shim_kit",
      residual: -0.003 * inch,
      pieces: [],
      measure: length,
    },
  ],
  "unit/two-currencies": [
    {
      first: { path: "spare.price", currency: "USD", anchor: there },
      other: { path: "rear.price", currency: "EUR", anchor: here },
    },
  ],

  "step/loop": [
    { loop: ["tack"], behind: ["weld"], others: [] },
    { loop: ["tack", "weld"], behind: ["a", "b", "c", "d", "e"], others: [titled] },
  ],
  "order/broken": [broken],
  "joint/before-final": [
    { ...broken, why: { is: "final", joint }, way: [], onOpen: false, rule: undefined },
  ],
  "joint/order": [
    { ...broken, why: { is: "climb", joint }, way: [], onOpen: false, rule: undefined },
  ],
  "order/missing-step": [
    {
      steps: ["weld"],
      rule: because,
      needs: "a step that tacks",
      on: ["rear"],
      ruleAt: there,
      others: [titled],
    },
    {
      steps: ["weld", "grind"],
      rule: { is: "rule", title: "tack first" },
      needs: "a step that tacks",
      on: ["rear", "front"],
      ruleAt: there,
      others: [],
    },
  ],
  "step/no-figure": [{ step: "mark_left", path: "rear.lfet.reading" }],
  "joint/never-tightened": [{ joint }],
  "joint/not-full": [{ joint, step, share: 0.7 }],
  "joint/no-torque": [{ joint, step }],
  "joint/adapter": [{ joint }],
  "joint/no-recheck": [
    { joint, adjustable: true },
    { joint, adjustable: false },
  ],
  "joint/passes": [
    { joint, problem: { is: "none" }, mended: undefined },
    { joint, problem: { is: "falls", pass: 2 }, mended: "[30 %, 70 %, 100 %]" },
    { joint, problem: { is: "not-full", share: 0.9 }, mended: undefined },
    { joint, problem: { is: "beyond", pass: 3, share: 1.1 }, mended: undefined },
  ],
  "joint/columns": [{ joint, each: 11, columns: 4 }],
  "joint/places": [{ joint, count: 10, places: 9 }],
  "joint/groups": [{ joint, count: 10, groups: 4 }],
  "joint/sequence": [
    { joint, better: [1, 3, 2, 4], count: 4, missing: [2], twice: [3], unknown: [7] },
  ],
  "joint/neighbours": [
    {
      joint,
      better: [1, 4, 2, 5, 3, 6],
      pairs: [
        [1, 2],
        [2, 3],
      ],
      across: true,
    },
    { joint, better: [5, 6, 4, 7], pairs: [[1, 2]], across: false },
  ],

  "record/no-date": [{}],
  "record/future": [{ date: "2027-03-14", today: "2026-11-27" }],
  "record/duplicate": [{ same: there }],
  "record/no-photo": [{ path: "photos/left.jpg" }],
  "record/not-yes-no": [unread],
  "record/not-a-count": [
    { field: "bolts", text: "all" },
    { field: "pass", text: "last" },
  ],
  "record/not-a-figure": [{ field: "tightened", text: "torque" }],
  "record/not-a-day": [{ field: "until", text: "spring" }],
  "record/not-a-text": [
    { field: "photos", text: "12" },
    { field: "remark", text: "12" },
  ],
  "record/blank": [{ field: "face_to_face" }],
  "record/no-time": [{ text: "noonish" }],
  "record/spec-field": [{ joint }],
  "record/out-of-order": [
    { ...early, first: { date: "2026-03-15" }, caution: "mind the fumes" },
    { ...early, deed: { step: "weld", joint }, day: {}, first: day, caution: undefined },
  ],
  "record/before-prerequisite": [
    { ...early, why: { is: "written" } },
    { ...early, why: { is: "inside" } },
    { ...early, more: [{ deed: { step: "cool" }, at: there }] },
    {
      ...early,
      more: ["cool", "width", "carrier", "shafts"].map((step) => ({ deed: { step }, at: there })),
    },
  ],
  "record/hold": [
    { deed: { step }, before: "weld", hold: "until_cool", time: undefined },
    { deed: { step }, before: "weld", hold: "until_cured", time: "24 h" },
    { deed: { step }, before: "weld", hold: "until_cured", time: undefined },
    { deed: { step }, before: "weld", hold: "for_time", time: "2 h" },
    { deed: { step }, before: "weld", hold: "for_time", time: undefined },
    { deed: { step }, before: "weld", hold: "until_dry", time: undefined },
  ],
  "record/cure": [{ deed: { step }, joint, time: "24 h" }],
  "record/again": [
    {
      before: "tack",
      why: because,
      cause: "redone",
      day,
      deeds: [
        { deed: { step: "weld" }, date: "2026-03-10", at: there },
        { deed: { step: "weld", joint }, date: "2026-03-11", at: there },
      ],
      behind: 2,
    },
    {
      before: "close_up",
      why: { is: "recheck", joint },
      cause: "redone",
      day,
      deeds: [{ deed: { step: "look_over" }, date: "2026-03-10", at: there }],
      behind: 1,
    },
    {
      before: "tack",
      why: because,
      cause: "undone",
      day,
      deeds: [{ deed: { step: "weld" }, at: there }],
      behind: 0,
    },
  ],
  "record/not-tight": lacking(
    { is: "joint", step, joint, torque: 101.7, lacks: [{ is: "nothing" }] },
    { is: "joint", step, joint, torque: undefined, lacks: [{ is: "passes", passes: [3, 4] }] },
    {
      is: "joint",
      step: "look_over",
      joint,
      torque: 101.7,
      lacks: [{ is: "bolts", bolts: [3] }, { is: "torque" }, { is: "held" }, { is: "turn" }],
    },
    { is: "joint", step, joint, torque: 101.7, lacks: [{ is: "loosened" }, { is: "moved" }] },
  ),
  "record/not-rechecked": lacking({ is: "recheck", step, joint }),
  "record/not-measured": lacking({ is: "measure", step, text: "rear.width" }),
  "record/open-figure": lacking(
    { is: "figure", step, text: "rear.width", advice: "tape it" },
    { is: "figure", step, text: "rear.half", advice: undefined },
  ),
  "record/part-not-here": lacking(
    { is: "part", step, part: "hoses", title: "Brake hoses", came: undefined },
    { is: "part", step, part: "hoses", title: "Brake hoses", came: { date: "2026-03-20" } },
  ),
  "record/out-of-limits": lacking(
    { is: "check", step, title: "run-out", known: true, ranOut: "2026-03-01" },
    { is: "check", step, title: "play", known: false, ranOut: undefined },
  ),
  "record/second-person": lacking(
    { is: "second", step, of: "weld", by: "R. Calder", alike: undefined },
    { is: "second", step, of: "weld", by: "R. Calder", alike: "Calder" },
    { is: "second", step, of: "weld", by: undefined, alike: undefined },
  ),
  "record/not-signed": lacking(
    { is: "sign", step, who: "the foreman", by: undefined, alike: undefined, early: undefined },
    { is: "sign", step, who: "the foreman", by: "R. Calder", alike: undefined, early: undefined },
    { is: "sign", step, who: "the foreman", by: "Calder", alike: "R. Calder", early: undefined },
    { is: "sign", step, who: "the foreman", by: "M. Ito", alike: undefined, early: day },
  ),
  "record/not-anew": lacking({ is: "anew", step, before: "clean", why: because }),
  "record/done-too-soon": [
    { step, day, path: joint, was: "tightened", later: { date: "2026-03-15" }, there },
    { step, day, path: joint, was: "tightened", later: day, there },
    { step, day, path: "rear.width", was: "measured", later: { date: "2026-03-15" }, there },
  ],
  "record/left-out": [{ step, because: "the axle comes without a cover" }],
  "record/recheck-missing": [
    { joints: [joint], step, since: "2026-03-14" },
    { joints: [joint, "u_bolts"], step, since: "2026-03-14" },
  ],
  "record/recheck-due": [{ joint, driven: 160934, wanted: 80467 }],
  "record/recheck-early": [{ joint, driven: 16093, wanted: 80467 }],
  "record/recheck-early unread": [{ joint, driven: 16093, wanted: 80467 }],
  "record/odometer": [{ found: 16093, before: 80467, there }],
  "record/no-such-pass": [{ joint, pass: 5, passes: 1 }],
  "record/no-such-bolt": [{ joint, count: 10, unknown: [11] }],
  "record/bolt-twice": [{ joint, pass: 2, twice: [3, 4] }],
  "record/bolt-order": [
    { joint, pairs: [[1, 2]], across: true, better: [1, 3, 5, 2, 4] },
    { joint, pairs: [[1, 2]], across: false, better: [5, 6, 4, 7] },
  ],
  "record/bolts": [
    { joint, pass: undefined, missing: [7], count: 10 },
    { joint, pass: 2, missing: [7, 8], count: 10 },
  ],
  "record/pass-skipped": [
    { joint, pass: 4, skipped: [3] },
    { joint, pass: 4, skipped: [2, 3] },
  ],
  "record/falling-pass": [{ joint, pass: 1, from: 3 }],
  "record/torque-off": [
    { joint, pass: undefined, share: 1, found: 120, wanted: 101.7, allowed: 4 },
    { joint, pass: 2, share: 0.7, found: 120, wanted: 71.2, allowed: 10 },
  ],
  "record/torque-unsure": [{ joint, found: 115, own: 40, allowed: 4.6 }],
  "record/turn-off": [{ joint, found: Math.PI / 6, wanted: Math.PI / 2 }],
  "record/turn-off none": [{ joint, found: Math.PI / 2 }],
  "record/running-off": [{ joint, found: 9, planned: 4, allowed: 1 }],
  "record/wrench-reading": [{ joint, found: 90, wanted: 101.7 }],
  "record/wrench-range": [
    { joint, instrument: "the small wrench", torque: 101.7, least: 5, most: 25 },
  ],
  "record/wrong-instrument gauge": [{ joint, instrument: "steel tape" }],
  "record/wrong-instrument wrench": [{ path: "rear.width", instrument: "the small wrench" }],
  "record/finer-than-read": [
    { path: joint, instrument: "the small wrench", measure: "torque", found: 101.73, step: 1 },
    { path: "rear.width", instrument: "steel tape", measure: length, found: inch, step: inch / 32 },
    { path: "hub.heat", instrument: "the probe", measure: heat, found: 303.15, step: 1 },
  ],
  "record/not-held": [{ joint }],
  "record/second-click": [{ joint }],
  "record/moved": [{ joint }],
  "record/not-renewed": [{ joint }],
  "record/out-of-tolerance": [
    { ...off, accepted: undefined },
    {
      ...off,
      path: "hub.heat",
      measure: heat,
      found: 303.15,
      spec: 293.15,
      allowed: { low: 288.15, high: 298.15 },
      asBuilt: { wishes: [{ path: "hub.core", measure: heat, si: 303.15, miss: 10 }], fails: [] },
      accepted: undefined,
    },
    {
      ...off,
      date: undefined,
      found: 54 * inch,
      allowed: undefined,
      isSpec: false,
      asBuilt: { wishes: [], fails: [] },
      accepted: {
        standing: "ran out",
        by: "Ida Foreman",
        until: "2026-03-01",
        reading: 55.75 * inch,
        entry: there,
      },
    },
    {
      ...off,
      accepted: {
        standing: "in force",
        by: "Ida Foreman",
        until: undefined,
        reading: 55.5 * inch,
        entry: there,
      },
    },
  ],
  "concession/accepted figure": [{ ...off, accepted: { ...accepts, entry: there } }],
  "concession/accepted limits": [
    { ...accepts, step, titles: ["run-out", "play"] },
    {
      by: undefined,
      until: undefined,
      because: undefined,
      follows: "look again",
      step,
      titles: ["play"],
    },
  ],
  "concession/nobody": [
    { text: "rear.width", by: "" },
    { text: "rear.width", by: "Ida Foreman" },
  ],
  "concession/of-nothing joint": [{ joint }],
  "concession/of-nothing unmeasured": [{ text: "rear.width" }],
  "concession/of-nothing": [{ text: "rear.paint" }],
  "concession/not-needed": [{ text: "close_up" }],
  "record/too-close": [
    {
      path: "rear.width",
      measure: length,
      found: 55.11 * inch,
      sure: inch / 32,
      low: 54.9 * inch,
      high: 55.1 * inch,
      written: there,
    },
  ],
  "record/contradiction": [
    {
      path: "rear.width",
      measure: length,
      one: 55 * inch,
      other: 55.25 * inch,
      date: "2026-03-14",
      there,
    },
  ],
  "record/instrument own": [
    {
      path: "rear.width",
      measure: length,
      found: 1.3,
      reads: inch / 4,
      band: inch / 8,
      wanted: inch / 80,
      severity: "warning",
    },
  ],
  "record/instrument": [
    {
      path: "rear.width",
      measure: length,
      instrument: "steel tape",
      reads: inch / 32,
      band: 0.04 * inch,
      wanted: 0.004 * inch,
      severity: "warning",
    },
  ],
  "record/instrument-range": [
    {
      path: "rear.width",
      measure: length,
      instrument: "the small caliper",
      found: 55 * inch,
      least: 0,
      most: 6 * inch,
    },
    {
      path: "spare.offset",
      measure: length,
      instrument: "the long rule",
      found: inch,
      least: 24 * inch,
      most: undefined,
    },
  ],
  "record/person": [{ name: "R. Caldre", near: "R. Calder" }],
  "record/unknown-instrument": [{ name: "old gauge" }],
  "record/unknown-instrument near": [{ name: "old guage", near: "old gauge" }],
  "record/unknown-instrument wrench": [{ name: "the long bar" }],
  "record/no-instrument": [
    { path: "rear.width", measure: length, band: inch / 4, wanted: inch / 40 },
  ],
  "record/calibration": [
    { name: "the small wrench", calibrated: "2025-01-10", due: "2026-01-10", date: "2026-03-14" },
  ],
};
