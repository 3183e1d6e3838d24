/**
 * Solved values beside the lines: at each `?`, at the line that opens a thing its headline figures,
 * in a record how far a measurement is from the spec, at each step of the work how it stands. Only
 * what is not on the page anyway.
 *
 *     face_to_face: ?  = 58 3/32 in
 *
 * Answers only for the range asked for. While a text cannot be read as it stands (half-typed), a
 * value that was there before stays, so that nothing jumps.
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
import * as z from "zod";
import type { Item, SourceFile } from "../../grammar/syntax";
import type { Analysis, AskedValue, Value } from "../analysis/analysis";
import { type Measurement, measurementsOf } from "../analysis/records";
import type { Anchor } from "../model/anchor";
import type { Thing } from "../model/thing";
import { forMarkdown } from "../text/untrusted-text";
import { type Measure, measureNamed } from "../units";
import { headlines, inWords, needInWords, shortPath, toleranceOf } from "./figures";
import { thingInMarkdown, valueInMarkdown } from "./hover";
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

const hintDataShape = z.object({
  uri: z.string(),
  about: z.object({
    path: z.string().optional(),
    /** Set where the value is that under an option. */
    option: z.string().optional(),
    thing: z.string().optional(),
    step: z.string().optional(),
  }),
});

/** What a hint carries, so that its tooltip can be asked for later. */
export type HintData = z.infer<typeof hintDataShape>;

/** Labels by path from when the text could last be read; the caller keeps it for one file. */
export type LastHints = Map<string, string>;

/** The editor cuts all hints of a line at this many characters together. */
export const longestHints = 43;

export function inlayHints(
  analysis: Analysis,
  uri: string,
  range: Range,
  settings: HintSettings,
  last: LastHints = new Map(),
): InlayHint[] {
  const source = analysis.files.get(uri)?.source;
  if (!settings.enabled || source === undefined) return [];
  const items = itemsIn(source, range);
  const page: Page = { analysis, uri, source, range, items, broken: isBroken(source), last };
  if (!page.broken) last.clear();
  const values = [
    ...(settings.asked ? askedHints(page) : []),
    ...(settings.records ? recordHints(page) : []),
  ];
  const hints = settings.steps ? [...values, ...stepHints(page, values)] : values;
  return settings.headlines ? [...hints, ...headlineHints(page, hints)] : hints;
}

/** What is told when a hint is pointed at; worked out only then. */
export function hintTooltip(analysis: Analysis, { about }: HintData): MarkupContent | undefined {
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
  return markdown(needLines(value, asked?.needs ?? []));
}

/** `undefined` for what did not come from here. */
export function readHintData(sent: unknown): HintData | undefined {
  return hintDataShape.safeParse(sent).data;
}

/** `= 54 11/16 in`, `= 0 in, assumed`, `missing: give rear_wheel.offset`. */
export function askedLabel(analysis: Analysis, asked: AskedValue): string {
  const { value, needs } = asked;
  if (value.standing !== "missing") return `= ${figure(analysis, value)}`;
  const [set] = needs;
  if (set === undefined) return "missing";
  const names = set.map((need) => shortPath(need.path, value.thing)).join(" and ");
  const label = `missing: give ${names}`;
  if (label.length <= longestHints) return label;
  return set.length === 1 ? "missing: see below" : `missing: ${set.length} further figures`;
}

// ───────────────────────────── helpers ─────────────────────────────

interface Page {
  readonly analysis: Analysis;
  readonly uri: string;
  readonly source: SourceFile;
  readonly range: Range;
  readonly items: ReadonlySet<Item>;
  readonly broken: boolean;
  readonly last: LastHints;
}

function figure(analysis: Analysis, value: Value): string {
  return `${analysis.write(value)}${mark(value)}`;
}

/** What is only assumed says so, and what rests on that names it: `, spacer assumed`. */
function mark(value: Value): string {
  if (value.standing === "assumed") return ", assumed";
  const assumed = new Set(value.restsOn.map((title) => defaultOf(title) ?? title));
  const [first] = assumed;
  if (first === undefined) return "";
  if (assumed.size > 1) return `, ${assumed.size} things assumed`;
  return defaultOf(value.restsOn[0] ?? "") === undefined
    ? ", 1 thing assumed"
    : `, ${first} assumed`;
}

/** `spacer` of `rear.left.spacer is 0 in`; nothing for the title of a relation. */
function defaultOf(title: string): string | undefined {
  const path = /^([\p{L}_][\p{L}\p{N}_]*(?:\.[\p{L}\p{N}_]+)+) is /u.exec(title)?.[1];
  return path === undefined ? undefined : inWords(path.slice(path.lastIndexOf(".") + 1));
}

function isBroken(source: SourceFile): boolean {
  return source.items.some((item) => item.problems.length > 0);
}

// ── at each `?` ──

function askedHints(page: Page): InlayHint[] {
  return page.analysis.asked.flatMap((asked) => {
    const { anchor, value, option } = asked;
    if (!page.items.has(anchor.item)) return [];
    const position = positionOf(page, anchor.item, anchor.span.end);
    if (position === undefined) return [];
    const key = `${option ?? ""} ${value.path}`;
    const before = page.broken && value.standing === "missing" ? page.last.get(key) : undefined;
    const label = before ?? askedLabel(page.analysis, asked);
    page.last.set(key, label);
    return [hint(page, position, label, { path: value.path, option })];
  });
}

// ── at opening lines ──

function headlineHints(page: Page, others: readonly InlayHint[]): InlayHint[] {
  const { analysis } = page;
  const asked = new Set(analysis.asked.map((each) => each.value.path));
  return analysis.things.flatMap((thing) => {
    const { anchor } = thing;
    if (anchor === undefined || !page.items.has(anchor.item)) return [];
    const end = endOfLine(anchor.item, anchor.span.end);
    const position = positionOf(page, anchor.item, end);
    if (position === undefined) return [];
    const beside = lengthBeside(others, position);
    const values = headlines(thing, (path) => analysis.valueAt(path)).filter(
      (value) => !asked.has(value.path),
    );
    const label = headlineLabel(analysis, values, longestHints - beside);
    const last = label === undefined && page.broken ? page.last.get(thing.path) : undefined;
    const shown = label ?? last;
    if (shown === undefined) return [];
    page.last.set(thing.path, shown);
    return [hint(page, position, shown, { thing: thing.path })];
  });
}

/** As many of the figures as the line has room for; nothing where there is no room for one. */
function headlineLabel(
  analysis: Analysis,
  values: readonly Value[],
  room: number,
): string | undefined {
  let label = "";
  for (const value of values) {
    const words = `${inWords(value.field.name)} ${analysis.write(value)}${value.standing === "assumed" ? " assumed" : ""}`;
    const next = label === "" ? words : `${label}, ${words}`;
    if (next.length > room) break;
    label = next;
  }
  return label === "" ? undefined : label;
}

function headlineLines(analysis: Analysis, thing: Thing): string[] {
  const lines = headlines(thing, (path) => analysis.valueAt(path)).map(
    (value) =>
      `- ${inWords(value.field.name)}: ${forMarkdown(analysis.write(value))}, ${value.standing}`,
  );
  return [`**${forMarkdown(thing.title ?? thing.kind.title)}**`, "", ...lines];
}

/** The end of the line on which a thing is opened, before a comment. */
function endOfLine(item: Item, from: number): number {
  const newline = item.text.slice(from).search(/\r|\n/);
  const end = newline < 0 ? item.text.length : from + newline;
  const comment = item.comments.find((each) => each.start >= from && each.start < end);
  return from + item.text.slice(from, comment?.start ?? end).trimEnd().length;
}

// ── at steps ──

/**
 * How a step stands: at the line that opens it, or where it is the library's, at the first line
 * that writes something into it.
 */
function stepHints(page: Page, others: readonly InlayHint[]): InlayHint[] {
  const { analysis } = page;
  const labels = stepLabels(analysis, longestHints);
  if (labels.size === 0) return [];
  return analysis.things.flatMap((thing) => {
    const label = labels.get(thing.path);
    const anchor = label === undefined ? undefined : placeOnPage(page, thing);
    if (label === undefined || anchor === undefined) return [];
    const position = positionOf(page, anchor.item, endOfLine(anchor.item, anchor.span.end));
    if (position === undefined || label.length > longestHints - lengthBeside(others, position)) {
      return [];
    }
    return [hint(page, position, label, { step: thing.path })];
  });
}

function placeOnPage(page: Page, thing: Thing): Anchor | undefined {
  const { anchor } = thing;
  if (anchor !== undefined && anchor.uri === page.uri)
    return page.items.has(anchor.item) ? anchor : undefined;
  const written = [...thing.entries.values()]
    .filter(({ layer, anchor: { uri } }) => layer === "spec" && uri === page.uri)
    .map((entry) => entry.anchor);
  const offset = (at: Anchor): number => page.source.offsetOf(at.item) + at.span.start;
  const [first] = written.sort((one, other) => offset(one) - offset(other));
  return first !== undefined && page.items.has(first.item) ? first : undefined;
}

// ── in records ──

function recordHints(page: Page): InlayHint[] {
  const { analysis, items } = page;
  if (![...items].some((item) => item.node.type === "record")) return [];
  return measurementsOf(analysis).flatMap((measurement) => {
    const { anchor, value } = measurement;
    if (!items.has(anchor.item)) return [];
    const position = positionOf(page, anchor.item, anchor.span.end);
    if (position === undefined) return [];
    const label = recordLabel(analysis, measurement);
    return label === undefined ? [] : [hint(page, position, label, { path: value.path })];
  });
}

/** `as specified`, `within tolerance, 1/32 in over`, `spec 24 11/16 in, 1/32 in over`. */
function recordLabel(analysis: Analysis, measurement: Measurement): string | undefined {
  const { value, si, within, low = 0, high = 0 } = measurement;
  if (value.si === undefined || value.measure === undefined) return undefined;
  const off = Math.abs(si - value.si);
  if (off < value.measure.scale * 1e-6) return "as specified";
  const far = toleranceOf(off, asWritten(value, value.measure), analysis)?.replace(/^±\s*/, "");
  const side = `${far} ${si > value.si ? "over" : "under"}`;
  if (within === true && high > low) {
    // Of limits that are written, the middle means nothing.
    const written = value.thing.entries.get(value.field.name)?.value;
    return written?.type === "limits" ? "within tolerance" : `within tolerance, ${side}`;
  }
  return `spec ${analysis.write(value)}, ${side}`;
}

/** A spec written in other units than its field is shown in by itself is compared in the build's. */
function asWritten({ written }: Value, measure: Measure): Measure {
  const own = [measure.inch.unit, measure.metric.unit].some((unit) => written?.endsWith(unit));
  return measure.own && !own ? (measureNamed(measure.name) ?? measure) : measure;
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

/** A place of the file, if it is within the lines asked for. */
function positionOf(page: Page, item: Item, at: number): Position | undefined {
  const { source, range } = page;
  const position = source.positionAt(source.offsetOf(item) + at);
  return position.line < range.start.line || position.line > range.end.line ? undefined : position;
}

function hint(page: Page, position: Position, label: string, about: HintData["about"]): InlayHint {
  const data: HintData = { uri: page.uri, about };
  return { position, label, kind: InlayHintKind.Type, paddingLeft: true, data };
}

function needLines(value: Value, needs: AskedValue["needs"]): string[] {
  const sets = needs.slice(0, 5).map((set) => `- ${set.map(needInWords).join(" and ")}`);
  const lead =
    sets.length === 0
      ? `\`${value.path}\` cannot be worked out: nothing in the build leads to it`
      : `\`${value.path}\` cannot be worked out yet. Any of these would settle it:`;
  return [lead, "", ...sets];
}

function markdown(lines: readonly string[]): MarkupContent {
  return { kind: MarkupKind.Markdown, value: lines.join("\n") };
}

/** What other hints of the line take up. */
function lengthBeside(others: readonly InlayHint[], { line }: Position): number {
  return others
    .filter((other) => other.position.line === line)
    .reduce((sum, other) => sum + labelLength(other), 0);
}

function labelLength({ label }: InlayHint): number {
  return typeof label === "string" ? label.length : 0;
}
