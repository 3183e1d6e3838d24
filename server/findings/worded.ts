/**
 * Findings as data, and their words: the union of all that can be found, and the one place that
 * words it, when it is given out.
 *
 *     worded({ is: "name/unknown-kind", name: "weel", near: "wheel", anchor }, writer)
 *       // there is no kind of thing called `weel`   did you mean `wheel`?
 *
 * To add a finding: one line in the table of its family, under its code; whoever finds it raises
 * `{ is: code, …facts, anchor }`.
 */

import type { Anchor } from "../../grammar/anchor";
import type { SyntaxProblem } from "../../grammar/problems";
import type { Span } from "../../grammar/syntax";
import { type DisplayStyle, defaultStyle } from "../units";
import { checkFindings } from "./checks";
import type { Code, OwnCode } from "./codes";
import { conflicts } from "./conflicts";
import { declarationFindings } from "./declarations";
import { displayFindings } from "./display";
import { failures } from "./failures";
import { unitFindings, valueFindings } from "./figures";
import { fileFindings } from "./files";
import type { Finding, Fix } from "./finding";
import { formulaFindings } from "./formulas";
import { limitFindings } from "./limits";
import { looks } from "./looks";
import { names, type unknownNames } from "./names";
import { outcomes } from "./outcomes";
import type { FactsOf, Said } from "./said";
import { textFamily } from "./text";
import { doneFamily } from "./work-done";
import { entryFamily } from "./work-entries";
import { jointFamily } from "./work-joints";
import { planFamily } from "./work-plan";
import { readingFamily } from "./work-readings";
import { defaultLevels, type Levels, Writer } from "./writer";

const families = {
  ...names,
  ...limitFindings,
  ...unitFindings,
  ...valueFindings,
  ...declarationFindings,
  ...formulaFindings,
  ...fileFindings,
  ...displayFindings,
  ...conflicts,
  ...failures,
  ...checkFindings,
  ...looks,
  ...outcomes,
  ...planFamily,
  ...entryFamily,
  ...doneFamily,
  ...jointFamily,
  ...readingFamily,
  ...textFamily,
};

/** What can be found: a code, and a word after it where one code has several sentences. */
export type SentenceId = keyof typeof families;

/** What is known of a finding, wherever it stands: plain data, figures in SI. */
export type Fact<K extends SentenceId = SentenceId> = {
  [Each in K]: { readonly is: Each } & FactsOf<(typeof families)[Each]>;
}[K];

/** A fact at its place in a build. */
export type Found<K extends SentenceId = SentenceId> = Fact<K> & {
  readonly anchor: Anchor;
  /** Changes that take some solving to find: what would make a failing check hold. */
  readonly furtherFixes?: () => readonly Fix[];
};

/** A fact at its place within the formula or value it was found in. */
export type Problem<K extends SentenceId = SentenceId> = Fact<K> & {
  readonly span: Span;
  /** The unit of a figure it goes with. */
  readonly like?: string;
};

/** A name that leads nowhere. */
export type UnknownName = Fact<keyof typeof unknownNames>;

/** All there is to be found. */
export const kinds = Object.keys(families) as readonly SentenceId[];

/** `name/unknown`; of a check its own. */
export function codeOf(found: Fact): Code {
  return "code" in found ? found.code : (found.is.split(" ")[0] as OwnCode);
}

/** A finding in words; nothing where the reader wants none of its kind. */
export function worded(found: Found, writer: Writer): Finding | undefined {
  return writer.once(found, () => {
    const { severity = "error", ...said } = say(found, writer, found.anchor);
    if (severity === "off") return undefined;
    const { anchor, furtherFixes } = found;
    const further = furtherFixes === undefined ? {} : { furtherFixes };
    return { code: codeOf(found), severity, anchor, ...said, ...further };
  });
}

/** Who words what is found for one reader. */
export function writerFor(style: DisplayStyle, levels: Levels): Writer {
  return new Writer(style, levels, (found, writer) => say(found as Found, writer, nowhere).message);
}

/** What is wrong with an option: it is there to be tried, and does not make the build wrong. */
export function ofOption(
  finding: Finding,
  option: { readonly name: string; readonly anchor: Anchor },
): Finding {
  const inside = finding.anchor.item === option.anchor.item;
  const place = { anchor: finding.anchor, message: "this is the place in the spec" };
  return {
    ...finding,
    severity: finding.severity === "error" ? "warning" : finding.severity,
    message: `with option ${option.name}: ${finding.message}`,
    anchor: inside ? finding.anchor : option.anchor,
    related: inside ? finding.related : [place, ...(finding.related ?? [])],
  };
}

/** Errors of used files, told at the line that uses them. */
export function ofUsedFiles(files: readonly string[], findings: readonly Finding[]): string {
  const count = findings.length === 1 ? "" : ` and ${findings.length - 1} more`;
  return `in ${files.join(", ")}: ${findings[0]?.message ?? ""}${count}`;
}

/** What is wrong with a text, in one sentence: for who has no build to tell it of. */
export function textProblemInWords({ span: _, ...fact }: SyntaxProblem): string {
  return plainWriter.message(fact);
}

// ───────────────────────────── helpers ─────────────────────────────

type Say = (facts: Fact, writer: Writer, anchor: Anchor) => Said;

function say(found: Fact, writer: Writer, anchor: Anchor): Said {
  return (families[found.is] as unknown as Say)(found, writer, anchor);
}

/** Nothing about a text depends on units. */
const plainWriter = writerFor(defaultStyle("inch"), defaultLevels);

/** For a sentence that is told within another: its own fixes are not offered. */
const nowhere = { uri: "", item: undefined, span: { start: 0, end: 0 } } as unknown as Anchor;
