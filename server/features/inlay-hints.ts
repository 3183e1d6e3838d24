/**
 * Solved values beside the lines: at each `?`, at the line that opens a thing its headline figures,
 * in a record how far a measurement is from the spec. Only what is not on the page anyway.
 *
 *     face_to_face: ?  = 58 3/32 in
 *
 * Answers only for the range asked for. While a text cannot be read as it stands (half-typed), a
 * value that was there before stays, so that nothing jumps.
 *
 * Must not know: how answers travel, how values come about.
 */
import { type InlayHint, InlayHintKind, MarkupKind, type Range } from "vscode-languageserver";
import type { Item, SourceFile } from "../../grammar/syntax";
import type { Analysis, AskedValue, Value } from "../analysis/analysis";
import { measurementsOf } from "../analysis/records";
import type { Thing } from "../model/thing";
import { headlines, inWords, shortPath, toleranceOf } from "./figures";
import { valueInMarkdown } from "./hover";

export interface HintSettings {
  readonly enabled: boolean;
  /** At each `?`. */
  readonly asked: boolean;
  /** At opening lines. */
  readonly headlines: boolean;
  /** In records. */
  readonly records: boolean;
}

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
  const page: Page = { analysis, uri, source, range, broken: isBroken(source), last };
  if (!page.broken) last.clear();
  const hints = [
    ...(settings.asked ? askedHints(page) : []),
    ...(settings.records ? recordHints(page) : []),
  ];
  return settings.headlines ? [...hints, ...headlineHints(page, hints)] : hints;
}

/** `= 58 27/32 in`, `= 0 in, assumed`, `missing: give rear_wheel.offset`. */
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
  const { analysis } = page;
  const hints = analysis.asked.flatMap((asked) => askedHint(page, analysis, asked, ""));
  for (const option of analysis.options) {
    if (option.anchor.uri !== page.uri || !inRange(page, option.anchor.item)) continue;
    const under = analysis.under(option.name);
    for (const asked of under?.asked ?? []) {
      if (under === undefined || asked.anchor.item !== option.anchor.item) continue;
      hints.push(...askedHint(page, under, asked, `${option.name} `));
    }
  }
  return hints;
}

function askedHint(page: Page, analysis: Analysis, asked: AskedValue, under: string): InlayHint[] {
  const { anchor, value } = asked;
  if (anchor.uri !== page.uri) return [];
  const position = positionOf(page, anchor.item, anchor.span.end);
  if (position === undefined) return [];
  const key = `${under}${value.path}`;
  const before = page.broken && value.standing === "missing" ? page.last.get(key) : undefined;
  const label = before ?? askedLabel(analysis, asked);
  page.last.set(key, label);
  return [
    hint(
      position,
      label,
      value.standing === "missing" ? needsTooltip(asked) : tooltip(analysis, value),
    ),
  ];
}

function needsTooltip({ value, needs }: AskedValue): InlayHint["tooltip"] {
  const sets = needs.slice(0, 5).map((set) => {
    const names = set.map((need) =>
      need.advice === undefined ? `\`${need.path}\`` : `\`${need.path}\` (${need.advice})`,
    );
    return `- ${names.join(" and ")}`;
  });
  const lead =
    sets.length === 0
      ? `\`${value.path}\` cannot be worked out: nothing in the build leads to it`
      : `\`${value.path}\` cannot be worked out yet. Any of these would settle it:`;
  return { kind: MarkupKind.Markdown, value: [lead, "", ...sets].join("\n") };
}

// ── at opening lines ──

function headlineHints(page: Page, others: readonly InlayHint[]): InlayHint[] {
  const { analysis, uri, source } = page;
  const asked = new Set(analysis.asked.map((each) => each.value.path));
  return analysis.things.flatMap((thing) => {
    const { anchor } = thing;
    if (anchor === undefined || anchor.uri !== uri || !inRange(page, anchor.item)) return [];
    const end = endOfLine(anchor.item, anchor.span.end);
    const position = positionOf(page, anchor.item, end);
    if (position === undefined) return [];
    const beside = others
      .filter((other) => other.position.line === position.line)
      .reduce((sum, other) => sum + labelLength(other), 0);
    const values = headlines(analysis, thing).filter((value) => !asked.has(value.path));
    const label = headlineLabel(analysis, values, longestHints - beside);
    const last = label === undefined && page.broken ? page.last.get(thing.path) : undefined;
    const shown = label ?? last;
    if (shown === undefined) return [];
    page.last.set(thing.path, shown);
    return [
      hint(
        source.positionAt(source.offsetOf(anchor.item) + end),
        shown,
        headlineTooltip(analysis, thing, values),
      ),
    ];
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

function headlineTooltip(
  analysis: Analysis,
  thing: Thing,
  values: readonly Value[],
): InlayHint["tooltip"] {
  const lines = values.map(
    (value) => `- ${inWords(value.field.name)}: ${analysis.write(value)}, ${value.standing}`,
  );
  const title = thing.title ?? thing.kind.title;
  return { kind: MarkupKind.Markdown, value: [`**${title}**`, "", ...lines].join("\n") };
}

/** The end of the line on which a thing is opened, before a comment. */
function endOfLine(item: Item, from: number): number {
  const newline = item.text.slice(from).search(/\r|\n/);
  const end = newline < 0 ? item.text.length : from + newline;
  const comment = item.comments.find((each) => each.start >= from && each.start < end);
  return from + item.text.slice(from, comment?.start ?? end).trimEnd().length;
}

// ── in records ──

function recordHints(page: Page): InlayHint[] {
  const { analysis, uri, source } = page;
  const lines = source.items.some((item) => item.node.type === "record" && inRange(page, item));
  if (!lines) return [];
  return measurementsOf(analysis).flatMap(({ anchor, value, si }) => {
    const position =
      anchor.uri === uri ? positionOf(page, anchor.item, anchor.span.end) : undefined;
    if (position === undefined || value.si === undefined || value.measure === undefined) return [];
    const far = toleranceOf(Math.abs(si - value.si), value.measure, analysis)?.replace(/^±\s*/, "");
    const same = Math.abs(si - value.si) < value.measure.scale * 1e-6;
    const side = si > value.si ? "over" : "under";
    const label = same ? "as specified" : `spec ${analysis.write(value)}, ${far} ${side}`;
    return [hint(position, label, tooltip(analysis, value))];
  });
}

// ── places ──

function inRange({ source, range }: Page, item: Item): boolean {
  const offset = source.offsetOf(item);
  if (source.positionAt(offset).line > range.end.line) return false;
  return source.positionAt(offset + item.text.length).line >= range.start.line;
}

/** A place of the file, if it is within the lines asked for. */
function positionOf(page: Page, item: Item, at: number): InlayHint["position"] | undefined {
  const { source, range } = page;
  const position = source.positionAt(source.offsetOf(item) + at);
  return position.line < range.start.line || position.line > range.end.line ? undefined : position;
}

function hint(
  position: InlayHint["position"],
  label: string,
  tooltipText: InlayHint["tooltip"],
): InlayHint {
  return { position, label, kind: InlayHintKind.Type, paddingLeft: true, tooltip: tooltipText };
}

function tooltip(analysis: Analysis, value: Value): InlayHint["tooltip"] {
  return { kind: MarkupKind.Markdown, value: valueInMarkdown(analysis, value) };
}

function labelLength({ label }: InlayHint): number {
  return typeof label === "string" ? label.length : 0;
}
