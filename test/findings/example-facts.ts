/**
 * Figures, places and turns that the examples of sentences have in common, and what an example is. Made
 * up for the sentences alone.
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

export const file = "file:///shop/build.trammel";
export const source = parseFile("wheel spare { offset: 18 mm }\n");

/** Where each of them stands: `18 mm`. */
export const here: Anchor = anchorOf("18 mm");
export const there: Anchor = anchorOf("spare");
export const elsewhere: Anchor = { ...here, uri: "file:///shop/wheels.trammel" };

export function anchorOf(text: string): Anchor {
  const [item] = source.items;
  if (item === undefined) throw new Error("the text has an item");
  const start = item.text.indexOf(text);
  return { uri: file, item, span: { start, end: start + text.length } };
}

export function measure(name: string): Measure {
  const found = measureNamed(name);
  if (found === undefined) throw new Error(`there is no measure ${name}`);
  return found;
}

export const length = measure("length");
export const heat = measure("temperature");
export const inch = 0.0254;

export const offset: Shown = {
  path: "spare.offset",
  measure: length,
  si: 0.018,
  figure: { unit: "mm" },
};
export const gap: Shown = { path: "rear.left.inner_gap", measure: length, si: 1.25 * inch };
export const given: ContradictedFigure = {
  ...offset,
  assumed: false,
  measured: false,
  bought: false,
};
export const failed = {
  figures: [gap],
  by: ["rim halves"],
  inputs: [offset],
  elsewhere: [{ path: "spare.offset", anchor: here }],
};
export const cases = {
  cases: [
    { title: "short link", when: "reach <= 4 in" },
    { title: "long link", when: "reach >= 3 in" },
  ],
};
export const unit = { unit: "kg", measure: length, near: ["in", "mm"] };
export const choice = { field: "side", text: "lfet", choices: ["left", "right"], near: "left" };
export const forms = { text: "17y9", designation: "wheel_size", forms: "17x9" };
export const misnamed = { name: "whel", near: "wheel", known: ["wheel", "axle"] };
export const unknown = { name: "spindle", known: ["wheel", "axle"] };
export const titled = { title: "Tack the left end", at: there };
export const because = {
  is: "rule",
  title: "ends are tacked before welding",
  because: "heat pulls",
} as const;
export const broken = {
  before: "tack",
  after: "weld",
  why: because,
  way: ["grind"],
  onOpen: true,
  there: titled,
  rule: there,
};
export const early = {
  more: [],
  deed: { step: "weld" },
  before: "tack",
  day: { date: "2026-03-14", clock: 870 },
  why: because,
  there: titled,
};
export const day = { date: "2026-03-14" };
export const unread = { field: "done", text: "perhaps" };
export const joint = "cover_bolts";
export const compared = {
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
export const check = {
  code: "clearance/inner-gap",
  title: "room inside",
  path: "rear.left",
  severity: "error",
  advise: { text: "move it by {miss}", values: { miss: { si: 0.25 * inch, measure: length } } },
  caution: { text: "a tire that touches wears through", values: {} },
  compared,
} as unknown as Omit<Fact<"check/fails">, "is">;
export const strained = {
  ...check,
  rss: "fails",
  worst: "fails",
  reach: { is: "up to", by: 0.3 * inch, found: 0.28 * inch },
  witness: [gap],
  chance: () => ({ share: 0.974, low: 0.96, high: 0.98 }),
} as const;
export const off = {
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
  twin: undefined,
  written: there,
};
export const accepts = {
  by: "Ida Foreman",
  until: "2027-01-31",
  because: "spacer behind the left flange.",
  follows: undefined,
};
export const lacking = (...each: readonly Lacking[]) => [
  { day: { date: "2026-03-14" }, lacking: each },
];
export const step = "close_up";
export const length1 = length.dimension;
export const plain = measure("number").dimension;
