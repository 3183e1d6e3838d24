/**
 * Solved values beside the lines: at each `?`, at the line that opens a thing its headline figures,
 * in a record how far a measurement is from the spec, at each step of the work how it stands. Only
 * what is not on the page anyway.
 *
 *     face_to_face: ?  = 58 3/32 in, built 58 1/16 in
 *
 * Answers only for the range asked for. While a text cannot be read as it stands (half-typed), a
 * value that was there before stays and says so, `was 58 3/32 in`: see `last-whole.ts`.
 *
 * Must not know: how answers travel, how values come about.
 */
import {
  type InlayHint,
  InlayHintKind,
  type MarkupContent,
  MarkupKind,
  type Position,
  type Range,
} from "vscode-languageserver";
import type { Anchor } from "../../grammar/anchor";
import type { Item, SourceFile } from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import { measurementsOf } from "../analysis/records";
import type { Thing } from "../model/thing";
import { isStep } from "../sequence";
import { headlines } from "./figures";
import { fitted, type HintData, type HintDraft, longestHints, toldApart } from "./hint-fitting";
import {
  askedLabels,
  headlineLabels,
  headlineLines,
  needLines,
  recordLabel,
  wishLabels,
} from "./hint-labels";
import { thingInMarkdown, valueInMarkdown } from "./hover";
import { LastWhole } from "./last-whole";
import { stepLabels } from "./steps";

export interface HintSettings {
  readonly enabled: boolean;
  /** At each `?`. */
  readonly asked: boolean;
  /** At opening lines. */
  readonly headlines: boolean;
  /** In records. */
  readonly records: boolean;
  /** At steps of the work. */
  readonly steps: boolean;
}

export function inlayHints(
  analysis: Analysis,
  uri: string,
  range: Range,
  settings: HintSettings,
  last = new LastWhole(),
): InlayHint[] {
  const source = analysis.files.get(uri)?.source;
  if (!settings.enabled || source === undefined) return [];
  const items = itemsIn(source, range);
  last.note(analysis, source);
  const things = analysis.writtenIn(items);
  const page: Page = { analysis, uri, source, range, items, things, last };
  return fitted(
    toldApart([
      ...(settings.asked ? [...askedHints(page), ...wishHints(page)] : []),
      ...(settings.records ? recordHints(page) : []),
      ...(settings.steps ? stepHints(page) : []),
      ...(settings.headlines ? headlineHints(page) : []),
    ]),
  );
}

/**
 * What is told when a hint is pointed at; worked out only then. `ahead`: nobody points at it yet, and
 * advice is not waited for.
 */
export function hintTooltip(
  analysis: Analysis,
  { about }: HintData,
  last?: LastWhole,
  ahead = false,
): MarkupContent | undefined {
  if (about.thing !== undefined) {
    const thing = analysis.thingAt(about.thing);
    return thing === undefined ? undefined : markdown(headlineLines(analysis, thing));
  }
  if (about.step !== undefined) {
    const step = analysis.thingAt(about.step);
    return step === undefined ? undefined : markdown([thingInMarkdown(analysis, step.kind, step)]);
  }
  const under = about.option === undefined ? analysis : analysis.under(about.option);
  const value = under?.valueAt(about.path ?? "");
  if (under === undefined || value === undefined) return undefined;
  if (value.standing !== "missing") return markdown([valueInMarkdown(under, value)]);
  const asked = analysis.asked.find(
    (each) => each.value.path === value.path && each.option === about.option,
  );
  const was = asked && last?.asked(asked);
  if (was !== undefined) {
    const before = valueInMarkdown(was.analysis, was.asked.value);
    return markdown([before, "", "As it was before the text could no longer be read."]);
  }
  const waited = asked !== undefined && (asked.advised || !ahead);
  return markdown(needLines(value, waited ? asked.needs : []));
}

// ───────────────────────────── helpers ─────────────────────────────

interface Page {
  readonly analysis: Analysis;
  readonly uri: string;
  readonly source: SourceFile;
  readonly range: Range;
  readonly items: ReadonlySet<Item>;
  /** What something is written into by these. */
  readonly things: readonly Thing[];
  readonly last: LastWhole;
}

// ── at each `?` ──

function askedHints(page: Page): HintDraft[] {
  return page.analysis.askedIn(page.items).flatMap((asked) => {
    const { anchor, value, option } = asked;
    const position = positionBehind(page, anchor);
    if (position === undefined) return [];
    const was = page.last.asked(asked);
    const labels =
      was === undefined
        ? askedLabels(page.analysis, asked)
        : askedLabels(was.analysis, was.asked).map((label) => label.replace(/^(= )?/, "was "));
    return [draft(page, "asked", position, labels, { path: value.path, option })];
  });
}

// ── at each wish ──

/** How it comes out what is wanted of a figure: `→ 0.885 in ± 0.09 likely`. */
function wishHints(page: Page): HintDraft[] {
  const { analysis, items } = page;
  const wishes = page.things.flatMap((thing) =>
    [...thing.entries].flatMap(([field, { anchor }]) => {
      const value = items.has(anchor.item) ? analysis.valueAt(`${thing.path}.${field}`) : undefined;
      return value?.wanted === undefined ? [] : [{ value, anchor }];
    }),
  );
  return wishes.flatMap(({ value, anchor }) => {
    const position = positionBehind(page, anchor);
    const labels = wishLabels(analysis, value);
    return position === undefined || labels.length === 0
      ? []
      : [draft(page, "wish", position, labels, { path: value.path })];
  });
}

// ── at opening lines ──

function headlineHints(page: Page): HintDraft[] {
  const { analysis } = page;
  return page.things.flatMap((thing) => {
    const { anchor } = thing;
    if (anchor === undefined || !page.items.has(anchor.item)) return [];
    const position = endOfLine(page, anchor);
    if (position === undefined) return [];
    const values = headlines(thing, (path) => analysis.valueAt(path)).filter(
      (value) => !analysis.isAskedFor(value),
    );
    const was = values.length === 0 ? page.last.headlines(thing) : undefined;
    const labels =
      was === undefined
        ? headlineLabels(analysis, values)
        : headlineLabels(was.analysis, was.values).map((label) => `was ${label}`);
    if (labels.length === 0) return [];
    return [draft(page, "headline", position, labels, { thing: thing.path })];
  });
}

/** The end of the line on which a thing is opened, before a comment. */
function endOfLine(page: Page, { item, span }: Anchor): Position | undefined {
  const { source } = page;
  const { text, comments } = source.standing(item);
  const start = source.offsetOf(item);
  const from = source.offsetOf(item, span.end) - start;
  const newline = text.slice(from).search(/\r|\n/);
  const end = newline < 0 ? text.length : from + newline;
  const comment = comments.find((each) => each.start >= from && each.start < end);
  return positionOf(page, start + from + text.slice(from, comment?.start ?? end).trimEnd().length);
}

// ── at steps ──

/**
 * How a step stands: at the line that opens it, or where it is the library's, at the first line
 * that writes something into it.
 */
function stepHints(page: Page): HintDraft[] {
  const { analysis } = page;
  if (!page.things.some(isStep)) return [];
  const labels = stepLabels(analysis, longestHints);
  if (labels.size === 0) return [];
  return page.things.flatMap((thing) => {
    const label = labels.get(thing.path);
    // What a step waits for is told where it is pointed at: most of a plan waits most of the time.
    if (label === undefined || label.startsWith("waits")) return [];
    const anchor = placeOnPage(page, thing);
    const position = anchor && endOfLine(page, anchor);
    return position === undefined
      ? []
      : [draft(page, "step", position, [label], { step: thing.path })];
  });
}

function placeOnPage(page: Page, thing: Thing): Anchor | undefined {
  const { anchor } = thing;
  if (anchor !== undefined && anchor.uri === page.uri)
    return page.items.has(anchor.item) ? anchor : undefined;
  const written = [...thing.entries.values()]
    .filter(({ layer, anchor: { uri } }) => layer === "spec" && uri === page.uri)
    .map((entry) => entry.anchor);
  const offset = (at: Anchor): number => page.source.offsetOf(at.item, at.span.start);
  const [first] = written.sort((one, other) => offset(one) - offset(other));
  return first !== undefined && page.items.has(first.item) ? first : undefined;
}

// ── in records ──

function recordHints(page: Page): HintDraft[] {
  const { analysis, items } = page;
  if (![...items].some((item) => item.node.type === "record")) return [];
  return measurementsOf(analysis).flatMap((measurement) => {
    const { anchor, value } = measurement;
    if (!items.has(anchor.item)) return [];
    const position = positionBehind(page, anchor);
    if (position === undefined) return [];
    const label = recordLabel(analysis, measurement);
    return label === undefined
      ? []
      : [draft(page, "record", position, [label], { path: value.path })];
  });
}

// ── places ──

/** The declarations that have a line among those asked for. */
function itemsIn(source: SourceFile, range: Range): ReadonlySet<Item> {
  const first = source.itemAt(source.offsetAt({ line: range.start.line, character: 0 }));
  const end = source.offsetAt({ line: range.end.line + 1, character: 0 });
  const items = new Set<Item>();
  const { items: all } = source;
  for (let index = first === undefined ? 0 : all.indexOf(first); index < all.length; index++) {
    const item = all[index];
    if (item === undefined || source.offsetOf(item) > end) break;
    items.add(item);
  }
  return items;
}

/** Behind what an anchor covers, if that is within the lines asked for. */
function positionBehind(page: Page, { item, span }: Anchor): Position | undefined {
  return positionOf(page, page.source.offsetOf(item, span.end));
}

/** A place of the file, if it is within the lines asked for. */
function positionOf({ source, range }: Page, offset: number): Position | undefined {
  const position = source.positionAt(offset);
  return position.line < range.start.line || position.line > range.end.line ? undefined : position;
}

function draft(
  page: Page,
  rank: HintDraft["rank"],
  position: Position,
  labels: readonly string[],
  about: HintData["about"],
): HintDraft {
  const data: HintData = { uri: page.uri, about };
  const kind: InlayHintKind = InlayHintKind.Type;
  const hint: InlayHint = { position, label: "", kind, paddingLeft: true, data };
  return { hint, about, labels, rank };
}

function markdown(lines: readonly string[]): MarkupContent {
  return { kind: MarkupKind.Markdown, value: lines.join("\n") };
}
