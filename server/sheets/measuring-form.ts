/**
 * A form for what is still to be measured, and what was filled in put back into a build.
 *
 * The form is a text of the language that uses the build, so that an editor looks at each figure
 * while it is typed: a `?` for each figure that is open, a record for each that is read again. What
 * was open goes where it belongs in the build, what was read again becomes an entry of a log.
 *
 *     formOf(measuring, { uses: "build.trammel", … })   →   'rear.left.inner_limit: ?  # measure …'
 *     filledIn(form, analysis)                          →   edits of the build's files, entries
 *
 * Must not know: files, terminals, editors.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import { parseFile } from "../../grammar/source-file";
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import { andList } from "../findings/phrases";
import type { Entry, Thing } from "../model/thing";
import type { Measuring, ToMeasure } from "./measuring";

export interface FormHead {
  /** The build as the form uses it: `build.trammel`. */
  readonly uses: string;
  readonly title: string;
  readonly date: string;
  readonly by: string;
  /** What to do with it when it is filled in. */
  readonly then: string;
}

export function formOf({ readings }: Measuring, { uses, title, date, by, then }: FormHead): string {
  const lines = [
    `# Still to be measured: ${plain(title)}`,
    "# Put each figure, and its ± where you know it, in place of its `?`; leave the rest as it is.",
    `# Then: ${plain(then)}`,
    "",
    `use "${uses}"`,
  ];
  let place = "";
  for (const reading of readings) {
    if (reading.place.path !== place)
      lines.push("", `# ${plain(`${reading.place.path}: ${reading.place.title}`)}`);
    place = reading.place.path;
    const says = `  # ${plain(remarkOf(reading))}`;
    if (reading.why === "open") lines.push(`${reading.path}: ?${says}`);
    else {
      const tool = reading.instrument === undefined ? "" : ` with ${quoted(reading.instrument)}`;
      lines.push(`record ${date} by ${quoted(by)}${tool} { ${reading.path}: ? }${says}`);
    }
  }
  return `${lines.join("\n")}\n`;
}

/** What there is to know with the tape in hand: how, how exactly, with what, for what. */
export function remarkOf(reading: ToMeasure): string {
  const { how, checks, step } = reading;
  const told = [
    how,
    ...howExactly(reading),
    step === undefined ? "" : `asked for by “${step}”`,
    checks[0] === undefined
      ? ""
      : `decides “${checks[0]}”${askedBy(reading, checks[0])}${more(checks.length - 1)}`,
  ];
  return told.filter((text) => text !== "").join("; ");
}

/** What it is now, how exactly it is needed and with what it is read: `now 24 in`, `tape will do`. */
export function howExactly({
  now,
  why,
  within,
  withinBy,
  instrument,
  instead,
}: Pick<ToMeasure, "now" | "why" | "within" | "withinBy" | "instrument" | "instead">): string[] {
  const unsaid = why === "no ± is written" ? ", no ± written" : "";
  const told = [
    now === undefined ? "" : `now ${now}${unsaid}`,
    within === undefined || withinBy === "its tool" ? "" : `needed to ${within.text}`,
    instrument === undefined
      ? ""
      : withinBy === "what hangs on it"
        ? `${instrument} will do`
        : within === undefined
          ? `with: ${instrument}`
          : `with: ${instrument}, as exactly as it shows: ${within.text}`,
    instead === undefined ? "" : "no tool of the shop reads it so exactly",
    instead === undefined || instead.length === 0
      ? ""
      : `read ${andList(instead)} instead: it follows from them`,
  ];
  return told.filter((text) => text !== "");
}

/** `, to ± 1/8 in`, `, from 33 5/8 in on`: what a check asks of a reading that is open. */
export function askedBy({ decides = [] }: ToMeasure, check: string): string {
  const { within, from, upTo, once = [] } = decides.find((each) => each.check === check) ?? {};
  if (within !== undefined) return `, to ${within.text}`;
  if (from !== undefined) return `, from ${from.text} on`;
  if (upTo !== undefined) return `, up to ${upTo.text}`;
  if (once.length === 0) return "";
  const more = once.length - mostNamed;
  const named = more > 1 ? [...once.slice(0, mostNamed), `${more} more`] : once;
  return `; how exactly once ${andList(named)} ${named.length > 1 ? "are" : "is"} known`;
}

/** So many figures are named that have to be known first. */
const mostNamed = 3;

/** A change of one file of the build. */
export interface FileEdit {
  readonly uri: string;
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

export interface FilledIn {
  /** Later places of a file first. */
  readonly edits: readonly FileEdit[];
  /** Entries for a log, one a line. */
  readonly entries: readonly string[];
  /** Paths as they are called in the form. */
  readonly written: readonly string[];
  /** Already in the build as they stand in the form. */
  readonly there: readonly string[];
  /** Still a `?`. */
  readonly open: readonly string[];
}

export interface EntryBy {
  readonly date: string;
  readonly by: string;
}

/** What a form says, as changes of the build it was made for. */
export function filledIn(form: string, analysis: Analysis, { date, by }: EntryBy): FilledIn {
  const edits: FileEdit[] = [];
  const entries: string[] = [];
  const written: string[] = [];
  const there: string[] = [];
  const open: string[] = [];
  for (const item of parseFile(form).items) {
    for (const { path, node, figure } of figuresIn(item)) {
      if (node.value.type === "ask" || node.value.type === "missing") {
        open.push(path);
        continue;
      }
      if (item.node.type === "record") {
        const entry = entryWith(item, node);
        if (isThere(analysis, entry)) there.push(path);
        else {
          entries.push(entry);
          written.push(path);
        }
        continue;
      }
      const place = placeFor(analysis, path);
      if (place === undefined) continue;
      if (place.is === "given") {
        if (sameText(place.text, figure)) there.push(path);
        else {
          const entry = `record ${date} by ${quoted(by)} { ${path}: ${figure} }`;
          if (isThere(analysis, entry)) there.push(path);
          else {
            entries.push(entry);
            written.push(path);
          }
        }
        continue;
      }
      edits.push(place.edit(figure));
      written.push(path);
    }
  }
  edits.sort((one, other) => other.start - one.start);
  return { edits, entries, written, there, open };
}

/** A text with the edits of one file done. */
export function withEdits(text: string, edits: readonly FileEdit[]): string {
  let done = text;
  for (const { start, end, text: put } of [...edits].sort((one, other) => other.start - one.start))
    done = `${done.slice(0, start)}${put}${done.slice(end)}`;
  return done;
}

// ───────────────────────────── helpers ─────────────────────────────

interface FormFigure {
  readonly path: string;
  readonly node: syntax.Given;
  /** As typed behind the `:`. */
  readonly figure: string;
}

function figuresIn({ node, text }: Item): FormFigure[] {
  const given = (each: syntax.Member): FormFigure[] =>
    each.type !== "given"
      ? []
      : [
          {
            path: each.path.names.map((name) => name.text).join("."),
            node: each,
            figure: oneLine(text.slice(each.value.span.start, each.span.end)),
          },
        ];
  if (node.type === "given") return given(node);
  return node.type === "record" ? node.members.flatMap(given) : [];
}

/** Of a record with several figures, the one. */
function entryWith({ node, text }: Item, given: syntax.Given): string {
  if (node.type !== "record") return "";
  const head = oneLine(text.slice(node.span.start, node.body.start));
  return `${head} { ${oneLine(text.slice(given.span.start, given.span.end))} }`;
}

/** Whether the logs that are read with the build have that very entry. */
function isThere(analysis: Analysis, entry: string): boolean {
  return analysis.records.some(({ node, anchor }) => {
    return oneLine(textAt({ ...anchor, span: node.span })) === entry;
  });
}

type Place =
  | { readonly is: "given"; readonly text: string }
  | { readonly is: "open"; edit(figure: string): FileEdit };

/** Where a figure goes in a build: in place of its `?`, into the block of its thing, else at the end. */
function placeFor(analysis: Analysis, path: string): Place | undefined {
  const value = analysis.valueAt(path);
  if (value === undefined) return undefined;
  const { thing, field } = value;
  const entry = thing.entries.get(field.name);
  if (entry !== undefined) return { is: "given", text: textOf(entry) };
  const asked = thing.asked.get(field.name);
  const own = (each: Entry): boolean => each.layer === "spec" && !each.shared && !each.inherited;
  if (asked !== undefined && own(asked) && isOwnFile(analysis, asked.anchor.uri))
    return { is: "open", edit: (figure) => editAt(analysis, asked.anchor, figure) };
  const block = blockOf(analysis, thing);
  if (block !== undefined)
    return { is: "open", edit: (figure) => lineInto(analysis, block, `${field.name}: ${figure}`) };
  return {
    is: "open",
    edit: (figure) => {
      const text = analysis.sourceOf(analysis.rootUri)?.text ?? "";
      const gap = text === "" || text.endsWith("\n") ? "" : "\n";
      const at = text.length;
      return { uri: analysis.rootUri, start: at, end: at, text: `${gap}${path}: ${figure}\n` };
    },
  };
}

function isOwnFile(analysis: Analysis, uri: string): boolean {
  return analysis.files.get(uri)?.library === false;
}

function textOf({ anchor }: Entry): string {
  return oneLine(textAt(anchor));
}

function editAt(analysis: Analysis, { uri, item, span }: Anchor, text: string): FileEdit {
  const source = analysis.sourceOf(uri);
  const at = (inside: number): number => source?.offsetOf(item, inside) ?? inside;
  return { uri, start: at(span.start), end: at(span.end), text };
}

interface Block {
  readonly anchor: Anchor;
  readonly body: syntax.Span;
}

/** The braces in which a thing was opened, where what stands in them is said of it alone. */
function blockOf(analysis: Analysis, { anchor, name }: Thing): Block | undefined {
  if (anchor === undefined || !isOwnFile(analysis, anchor.uri)) return undefined;
  const found = blockAt(anchor.item.node, anchor.span.start);
  const called = found?.type === "thing" ? found.name.text : found?.path.names.at(-1)?.text;
  return found === undefined || called !== name ? undefined : { anchor, body: found.body };
}

function blockAt(
  node: syntax.ItemNode | syntax.Member,
  start: number,
): syntax.Thing | syntax.Part | undefined {
  if (node.type !== "thing" && node.type !== "part") return undefined;
  if (node.span.start === start) return node;
  for (const member of node.members) {
    const found = blockAt(member, start);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** A further line before the closing brace; on the line of a block that has but one. */
function lineInto(analysis: Analysis, { anchor, body }: Block, line: string): FileEdit {
  const { item, uri } = anchor;
  const source = analysis.sourceOf(uri);
  const offset = (inside: number): number => source?.offsetOf(item, inside) ?? inside;
  const whole = source?.text ?? "";
  const from = offset(body.start + 1);
  const inside = whole.slice(from, offset(body.end - 1));
  const kept = inside.trimEnd();
  const at = from + kept.length;
  const empty = kept.trim() === "";
  const broken = /[\n\r]/.test(inside);
  // Behind a remark the rest of its line is remark.
  const margin = /^[ \t]*/.exec(lineOf(whole, offset(anchor.span.start)))?.[0] ?? "";
  const text = broken ? `\n${margin}  ${line}` : empty ? ` ${line}` : `; ${line}`;
  return { uri, start: at, end: at, text };
}

function lineOf(text: string, at: number): string {
  return text.slice(text.lastIndexOf("\n", at - 1) + 1);
}

function sameText(one: string, other: string): boolean {
  return one.replaceAll(/\s+/g, " ").trim() === other.replaceAll(/\s+/g, " ").trim();
}

function oneLine(text: string): string {
  return text.replaceAll(/\s+/g, " ").trim();
}

function plain(text: string): string {
  return oneLine(text);
}

function quoted(text: string): string {
  return `"${plain(text).replaceAll("\\", "\\\\").replaceAll('"', '\\"')}"`;
}

function more(count: number): string {
  return count === 0 ? "" : ` and ${count} more`;
}
