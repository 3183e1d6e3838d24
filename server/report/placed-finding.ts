/**
 * Findings as plain data: places as lines and columns, files by the name they go by in output.
 *
 * Must not know: how they are written.
 */

import { type Anchor, type LinePlace, placeOf } from "../../grammar/anchor";
import type { Analysis } from "../analysis/analysis";
import type { Code } from "../findings/codes";
import type { Finding, Severity } from "../findings/finding";

export interface PlacedFinding {
  readonly code: Code;
  readonly severity: Severity;
  readonly message: string;
  readonly hint?: string;
  readonly caution?: string;
  readonly file: string;
  readonly place: LinePlace;
  readonly related: readonly {
    readonly message: string;
    readonly file: string;
    readonly place: LinePlace;
  }[];
  readonly fixes: readonly PlacedFix[];
  /** The text of the line it stands in, without space around. */
  readonly line: string;
}

export interface PlacedFix {
  readonly title: string;
  readonly edits: readonly {
    readonly file: string;
    readonly place: LinePlace;
    readonly text: string;
  }[];
}

export type NameOf = (uri: string) => string;

/** All findings of a build, or only some, by file and place. */
export function placedFindings(
  analysis: Analysis,
  nameOf: NameOf,
  findings: readonly Finding[] = analysis.findings,
): PlacedFinding[] {
  return sortedFindings(findings.flatMap((finding) => placed(finding, analysis, nameOf) ?? []));
}

export function placedAnchor(
  anchor: Anchor,
  analysis: Analysis,
  nameOf: NameOf,
): { file: string; place: LinePlace } | undefined {
  const source = analysis.sourceOf(anchor.uri);
  return source === undefined
    ? undefined
    : { file: nameOf(anchor.uri), place: placeOf(source, anchor) };
}

/** By file, place, severity and code; the same words at the same place once. */
export function sortedFindings(findings: readonly PlacedFinding[]): PlacedFinding[] {
  const seen = new Set<string>();
  return [...findings].sort(compareFindings).filter((finding) => {
    const { start, end } = finding.place;
    const key = [
      finding.file,
      start.line,
      start.character,
      end.line,
      end.character,
      finding.code,
      finding.message,
    ].join("\0");
    return !seen.has(key) && seen.add(key);
  });
}

export interface Counts {
  readonly errors: number;
  readonly warnings: number;
  readonly notes: number;
}

export function countsOf(findings: readonly { readonly severity: Severity }[]): Counts {
  const count = (severity: Severity): number =>
    findings.filter((each) => each.severity === severity).length;
  return { errors: count("error"), warnings: count("warning"), notes: count("note") };
}

// ───────────────────────────── helpers ─────────────────────────────

function placed(finding: Finding, analysis: Analysis, nameOf: NameOf): PlacedFinding | undefined {
  const at = (anchor: Anchor) => placedAnchor(anchor, analysis, nameOf);
  const where = at(finding.anchor);
  if (where === undefined) return undefined;
  return {
    code: finding.code,
    severity: finding.severity,
    message: finding.message,
    hint: finding.hint,
    caution: finding.caution,
    ...where,
    related: (finding.related ?? []).flatMap(({ anchor, message }) => {
      const place = at(anchor);
      return place === undefined ? [] : [{ message, ...place }];
    }),
    fixes: (finding.fixes ?? []).flatMap(({ title, edits }) => {
      const placedEdits = edits.flatMap(({ anchor, text }) => {
        const place = at(anchor);
        return place === undefined ? [] : [{ ...place, text }];
      });
      return placedEdits.length === edits.length ? [{ title, edits: placedEdits }] : [];
    }),
    line: lineOf(finding.anchor, analysis),
  };
}

function lineOf(anchor: Anchor, analysis: Analysis): string {
  const source = analysis.sourceOf(anchor.uri);
  if (source === undefined) return "";
  const offset = source.offsetOf(anchor.item, anchor.span.start);
  const from = source.text.lastIndexOf("\n", offset - 1) + 1;
  const to = source.text.indexOf("\n", offset);
  return source.text.slice(from, to < 0 ? undefined : to).trim();
}

function compareFindings(one: PlacedFinding, other: PlacedFinding): number {
  return (
    compare(one.file, other.file) ||
    one.place.start.line - other.place.start.line ||
    one.place.start.character - other.place.start.character ||
    compare(one.code, other.code) ||
    compare(one.message, other.message)
  );
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
