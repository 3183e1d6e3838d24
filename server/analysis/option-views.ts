/**
 * What each option of a build says by itself: what is asked for in it, and what goes wrong with it
 * and not without it. Worked out under the option, and kept over edits that have nothing to do with it.
 *
 * Must not know: what options are about, how findings are shown.
 */
import type { Item } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import type { OptionInfo } from "./analysis";
import type { Asked } from "./asked";
import type { BuildAnalysis } from "./build-analysis";
import { type Footprint, footprintOf, independent } from "./footprint";
import type { Reading } from "./reading";
import { differing } from "./results-kept";
import { findingsIn } from "./row-findings";

/** What an option says. */
export interface OptionView {
  readonly option: OptionInfo;
  readonly asked: readonly Asked[];
  /** Of all it changes; what is said without it too is among them. */
  readonly findings: readonly Found[];
  /** What is missing, and the findings of it, with the advice there is by now. */
  readonly open: readonly Asked[];
  missing(): readonly Found[];
  /** Where it is written, and what it rests on. */
  readonly items: readonly Item[];
  readonly footprint: Footprint;
}

/** By name; `undefined` for options that say nothing. */
export type OptionViews = ReadonlyMap<string, OptionView | undefined>;

/** Nothing where the option says nothing. */
export function optionView(spec: BuildAnalysis, option: OptionInfo): OptionView | undefined {
  const over = spec.under(option.name);
  if (over === undefined || over === spec) return undefined;
  const results = differing(spec, over);
  const footprint = footprintOf(spec.reading, over.reading, results);
  const lines = over.reading.findingsLaidOver;
  const { list, open, missing } = findingsIn(over, results.come, lines, footprint.currencies);
  return {
    option,
    asked: askedInside(over.askedOf(results.come), option),
    findings: list,
    open,
    missing,
    items: itemsOf(over.reading, option.name),
    footprint,
  };
}

/** Those that an edit has nothing to do with. */
export function viewsKept(
  views: OptionViews,
  edit: ReturnType<typeof differing>,
  [before, after]: readonly [BuildAnalysis, BuildAnalysis],
): Map<string, OptionView> {
  const kept = new Map<string, OptionView>();
  if (views.size === 0 || before.vocabulary !== after.vocabulary) return kept;
  const footprint = footprintOf(before.reading, after.reading, edit);
  for (const [name, view] of views) {
    if (view === undefined) continue;
    const items = itemsOf(after.reading, name);
    const same =
      items.length === view.items.length && items.every((item, at) => item === view.items[at]);
    if (same && independent(footprint, view.footprint)) kept.set(name, view);
  }
  return kept;
}

// ───────────────────────────── helpers ─────────────────────────────

const optionItems = new WeakMap<Reading["placed"], ReadonlyMap<string, readonly Item[]>>();

/** Where an option is written. */
function itemsOf({ placed }: Reading, name: string): readonly Item[] {
  let known = optionItems.get(placed);
  if (known === undefined) {
    const found = new Map<string, Item[]>();
    for (const { item } of placed) {
      if (item.node.type !== "option") continue;
      const { text } = item.node.name;
      found.set(text, [...(found.get(text) ?? []), item]);
    }
    known = found;
    optionItems.set(placed, known);
  }
  return known.get(name) ?? [];
}

function askedInside(asked: readonly Asked[], option: OptionInfo): Asked[] {
  return asked
    .filter(({ anchor }) => anchor.item === option.anchor.item)
    .map((each) => each.inside(option.name));
}
