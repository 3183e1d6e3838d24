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
import * as z from "zod";
import type { Anchor } from "../../grammar/anchor";
import type { Item, SourceFile } from "../../grammar/syntax";
import type { Analysis, AskedValue, Value } from "../analysis/analysis";
import { type Measurement, measurementsOf } from "../analysis/records";
import type { Thing } from "../model/thing";
import { builtBeside } from "../report/as-built";
import { told } from "../report/comes-out";
import { forMarkdown } from "../text/untrusted-text";
import { displayOf, type Measure, measureNamed, readUnit } from "../units";
import { headlines, inWords, needInWords, shortPath, toleranceOf } from "./figures";
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

/** The editor cuts all hints of a line at this many characters together. */
export const longestHints = 43;

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
  const page: Page = { analysis, uri, source, range, items, last };
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

/** `undefined` for what did not come from here. */
export function readHintData(sent: unknown): HintData | undefined {
  return hintDataShape.safeParse(sent).data;
}

/** What an asked figure may say, fullest first: `= 54 11/16 in ± 3/32, spacer assumed`. */
export function askedLabels(analysis: Analysis, asked: AskedValue): readonly string[] {
  const { value } = asked;
  if (value.standing !== "missing") {
    const figure = `= ${told(value, analysis).text}`;
    const sure = `${figure}${tolerance(analysis, value)}`;
    // What was built was not built under an option.
    const built = asked.option === undefined ? builtMark(analysis, value) : "";
    const whole = `${sure}${built}`;
    const marked = marks(value).map((mark) => `${whole}${mark}`);
    return unlike([...marked, whole, `${figure}${built}`, figure]);
  }
  // Advice that nobody worked out yet is not waited for.
  const [set] = asked.advised ? asked.needs : [];
  if (set === undefined) return ["missing"];
  const names = set.map((need) => shortPath(need.path, value.thing)).join(" and ");
  const shorter =
    set.length === 1 ? "missing: see below" : `missing: ${set.length} further figures`;
  return [`missing: give ${names}`, shorter, "missing"];
}

// ───────────────────────────── helpers ─────────────────────────────

interface Page {
  readonly analysis: Analysis;
  readonly uri: string;
  readonly source: SourceFile;
  readonly range: Range;
  readonly items: ReadonlySet<Item>;
  readonly last: LastWhole;
}

/** A hint before it is known how much room its line has. */
interface Draft {
  readonly hint: InlayHint;
  readonly about: HintData["about"];
  /** What it may say, fullest first; the shortest still says its figure whole. */
  readonly labels: readonly string[];
  /** What is given up first: of labels, and of whole hints. */
  readonly rank: (typeof ranks)[number];
}

/** What is written once for several parts may come out otherwise in each: then each says which it is. */
function toldApart(drafts: readonly Draft[]): Draft[] {
  const places = new Map<string, Draft[]>();
  for (const each of drafts) {
    const { line, character } = each.hint.position;
    const place = `${line} ${character} ${each.rank}`;
    places.set(place, [...(places.get(place) ?? []), each]);
  }
  return [...places.values()].flatMap((alike) => {
    const [first] = alike;
    if (first === undefined || alike.length === 1) return alike;
    const said = new Set(alike.map(({ labels }) => labels.join("\n")));
    if (said.size === 1) return [first];
    const names = alike.map(({ about }) => (about.path ?? about.thing ?? "").split("."));
    const at = names[0]?.findIndex((name, index) => names.some((other) => other[index] !== name));
    return alike.map((each, index) => {
      const name = names[index]?.[at ?? 0] ?? "";
      return { ...each, labels: each.labels.map((label) => `${name} ${label}`) };
    });
  });
}

/** Least wanted first. */
const ranks = ["headline", "wish", "step", "record", "asked"] as const;

/**
 * Makes the hints of each line fit the room the editor gives them together: what is assumed goes
 * first, then the units of headline figures, then whole hints, the asked figures last. No figure is
 * ever cut.
 */
function fitted(drafts: readonly Draft[]): InlayHint[] {
  const lines = new Map<number, Draft[]>();
  for (const draft of drafts) {
    const { line } = draft.hint.position;
    lines.set(line, [...(lines.get(line) ?? []), draft]);
  }
  return [...lines.values()].flatMap(fittedLine);
}

function fittedLine(drafts: readonly Draft[]): InlayHint[] {
  let left = drafts.map((draft) => ({ draft, at: 0 }));
  const length = (): number =>
    left.reduce((sum, { draft, at }) => sum + (draft.labels[at]?.length ?? 0), 0);
  const shorten = (rank: Draft["rank"]): boolean => {
    const one = left.findLast(
      ({ draft, at }) => draft.rank === rank && at < draft.labels.length - 1,
    );
    if (one !== undefined) one.at++;
    return one !== undefined;
  };
  const drop = (rank: Draft["rank"]): boolean => {
    const one = left.findLast(({ draft }) => draft.rank === rank);
    left = left.filter((each) => each !== one);
    return one !== undefined;
  };
  while (length() > longestHints) {
    if (
      shorten("asked") ||
      shorten("wish") ||
      shorten("headline") ||
      shorten("step") ||
      shorten("record")
    )
      continue;
    if (!ranks.some((rank) => drop(rank))) break;
  }
  return left.map(({ draft: { hint, labels }, at }) => ({ ...hint, label: labels[at] ?? "" }));
}

function unlike(labels: readonly string[]): string[] {
  return [...new Set(labels)];
}

/** ` ± 3/32`, where it is more than half of the step the figure is shown in. */
function tolerance(analysis: Analysis, value: Value, likely = false): string {
  const { measure } = value;
  const outcome = measure === undefined ? undefined : value.outcome();
  if (measure === undefined || outcome === undefined) return "";
  // The larger side of either.
  const by = likely
    ? Math.min(outcome.worst, outcome.rss + Math.abs(outcome.shift))
    : outcome.worst;
  if (!Number.isFinite(by) || by <= stepShown(analysis, value, measure) / 2) return "";
  const text = toleranceOf(by, measure, analysis);
  // The unit stands behind the figure already.
  return text === undefined ? "" : ` ${text.replace(/\s*[^\d\s/.]+$/u, "")}`;
}

/** In SI: the increment of its measure, else one of the last digit that is written. */
function stepShown(analysis: Analysis, value: Value, measure: Measure): number {
  const display = displayOf(measure, analysis.style);
  const unit = readUnit(display.unit, measure)?.factor ?? 1;
  if (display.increment !== undefined) return display.increment.step * unit;
  const digits = /\.(\d+)/.exec(analysis.write(value))?.[1]?.length ?? 0;
  return 10 ** -digits * unit;
}

/** What is only assumed says so, and what rests on that names it, as many as there is room for. */
function marks(value: Value): string[] {
  if (value.standing === "assumed") return [", assumed"];
  const names = unlike(value.restsOn.map((title) => defaultOf(title) ?? title));
  const [first] = names;
  if (first === undefined) return [];
  const and = (some: readonly string[]): string =>
    some.length < 2 ? some.join("") : `${some.slice(0, -1).join(", ")} and ${some.at(-1)}`;
  const whole = `, ${and(names)} assumed`;
  return names.length < 2 ? [whole] : [whole, `, ${first} and ${names.length - 1} more assumed`];
}

/** `spacer` of `rear.left.spacer is 0 in`; nothing for the title of a relation. */
function defaultOf(title: string): string | undefined {
  const path = /^([\p{L}_][\p{L}\p{N}_]*(?:\.[\p{L}\p{N}_]+)+) is /u.exec(title)?.[1];
  return path === undefined ? undefined : inWords(path.slice(path.lastIndexOf(".") + 1));
}

// ── at each `?` ──

function askedHints(page: Page): Draft[] {
  return page.analysis.asked.flatMap((asked) => {
    const { anchor, value, option } = asked;
    if (!page.items.has(anchor.item)) return [];
    const position = positionOf(page, anchor.item, anchor.span.end);
    if (position === undefined) return [];
    const was = page.last.asked(asked);
    const labels =
      was === undefined
        ? askedLabels(page.analysis, asked)
        : askedLabels(was.analysis, was.asked).map((label) => label.replace(/^= /, "was "));
    return [draft(page, "asked", position, labels, { path: value.path, option })];
  });
}

// ── at each wish ──

/** How it comes out what is wanted of a figure: `→ 0.885 in ± 0.09 likely`. */
function wishHints(page: Page): Draft[] {
  const { analysis, items } = page;
  const wishes = analysis.things.flatMap((thing) =>
    [...thing.entries].flatMap(([field, { anchor }]) => {
      const value = items.has(anchor.item) ? analysis.valueAt(`${thing.path}.${field}`) : undefined;
      return value?.wanted === undefined ? [] : [{ value, anchor }];
    }),
  );
  return wishes.flatMap(({ value, anchor }) => {
    const position = positionOf(page, anchor.item, anchor.span.end);
    const labels = wishLabels(analysis, value);
    return position === undefined || labels.length === 0
      ? []
      : [draft(page, "wish", position, labels, { path: value.path })];
  });
}

function wishLabels(analysis: Analysis, value: Value): string[] {
  const { text } = told(value, analysis);
  const by = tolerance(analysis, value, true);
  const quiet = value.wanted?.held === true && by === "" && builtMark(analysis, value) === "";
  if (value.standing === "missing" || quiet) return [];
  const sure = `→ ${text}${by === "" ? "" : `${by} likely`}`;
  const built = builtMark(analysis, value);
  return unlike([`${sure}${built}`, `→ ${text}${built}`, `→ ${text}`]);
}

/** `, built 0.879 in`, where the records make another figure of it. */
function builtMark(analysis: Analysis, value: Value): string {
  const built = builtBeside(value, analysis);
  return built === undefined ? "" : `, built ${built.text}`;
}

// ── at opening lines ──

function headlineHints(page: Page): Draft[] {
  const { analysis } = page;
  const asked = new Set(analysis.asked.map((each) => each.value.path));
  return analysis.things.flatMap((thing) => {
    const { anchor } = thing;
    if (anchor === undefined || !page.items.has(anchor.item)) return [];
    const end = endOfLine(anchor.item, anchor.span.end);
    const position = positionOf(page, anchor.item, end);
    if (position === undefined) return [];
    const values = headlines(thing, (path) => analysis.valueAt(path)).filter(
      (value) => !asked.has(value.path),
    );
    const was = values.length === 0 ? page.last.headlines(thing, asked) : undefined;
    const labels =
      was === undefined
        ? headlineLabels(analysis, values)
        : headlineLabels(was.analysis, was.values).map((label) => `was ${label}`);
    if (labels.length === 0) return [];
    return [draft(page, "headline", position, labels, { thing: thing.path })];
  });
}

/** All of the figures, all without their units, then ever fewer of them. */
function headlineLabels(analysis: Analysis, values: readonly Value[]): string[] {
  const [most] = counted(values.length);
  if (most === undefined) return [];
  const words = (value: Value, units: boolean): string => {
    const { text } = told(value, analysis);
    const figure = units ? text : text.replace(/(?<=\d)\s+\D+$/u, "");
    return `${inWords(value.field.name)} ${figure}${value.standing === "assumed" ? " assumed" : ""}`;
  };
  return counted(values.length).flatMap((count) =>
    [true, false].map((units) =>
      values
        .slice(0, count)
        .map((value) => words(value, units))
        .join(", "),
    ),
  );
}

/** 3, 2, 1 */
function counted(count: number): number[] {
  return Array.from({ length: count }, (_, index) => count - index);
}

function headlineLines(analysis: Analysis, thing: Thing): string[] {
  const lines = headlines(thing, (path) => analysis.valueAt(path)).map(
    (value) =>
      `- ${inWords(value.field.name)}: ${forMarkdown(told(value, analysis).text)}, ${told(value, analysis).standing}`,
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
function stepHints(page: Page): Draft[] {
  const { analysis } = page;
  const labels = stepLabels(analysis, longestHints);
  if (labels.size === 0) return [];
  return analysis.things.flatMap((thing) => {
    const label = labels.get(thing.path);
    // What a step waits for is told where it is pointed at: most of a plan waits most of the time.
    if (label === undefined || label.startsWith("waits")) return [];
    const anchor = placeOnPage(page, thing);
    const position =
      anchor && positionOf(page, anchor.item, endOfLine(anchor.item, anchor.span.end));
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
  const offset = (at: Anchor): number => page.source.offsetOf(at.item) + at.span.start;
  const [first] = written.sort((one, other) => offset(one) - offset(other));
  return first !== undefined && page.items.has(first.item) ? first : undefined;
}

// ── in records ──

function recordHints(page: Page): Draft[] {
  const { analysis, items } = page;
  if (![...items].some((item) => item.node.type === "record")) return [];
  return measurementsOf(analysis).flatMap((measurement) => {
    const { anchor, value } = measurement;
    if (!items.has(anchor.item)) return [];
    const position = positionOf(page, anchor.item, anchor.span.end);
    if (position === undefined) return [];
    const label = recordLabel(analysis, measurement);
    return label === undefined
      ? []
      : [draft(page, "record", position, [label], { path: value.path })];
  });
}

/** `as specified`, `within tolerance, 1/32 in over`, `spec 24 11/16 in, 1/32 in over`. */
function recordLabel(analysis: Analysis, measurement: Measurement): string | undefined {
  const { value, si, acceptance, low = 0, high = 0 } = measurement;
  const { measure } = value;
  const spec = value.outcome()?.si ?? value.si;
  if (spec === undefined || measure === undefined) return undefined;
  const off = Math.abs(si - spec);
  if (off < measure.scale * 1e-6) return "as specified";
  const far = toleranceOf(off, asWritten(value, measure), analysis)?.replace(/^±\s*/, "");
  const side = `${far} ${si > spec ? "over" : "under"}`;
  if (acceptance === undefined || acceptance === "outside" || high <= low)
    return `spec ${told(value, analysis).text}, ${side}`;
  if (acceptance === "unclear" && (si < low || si > high)) return `too close to call, ${side}`;
  // Of limits that are written, the middle means nothing.
  const written = value.thing.entries.get(value.field.name)?.value;
  return written?.type === "limits" ? "within tolerance" : `within tolerance, ${side}`;
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

function draft(
  page: Page,
  rank: Draft["rank"],
  position: Position,
  labels: readonly string[],
  about: HintData["about"],
): Draft {
  const data: HintData = { uri: page.uri, about };
  const kind: InlayHintKind = InlayHintKind.Type;
  const hint: InlayHint = { position, label: "", kind, paddingLeft: true, data };
  return { hint, about, labels, rank };
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
