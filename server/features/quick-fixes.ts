/**
 * Quick fixes: the changes that findings come with, the single givens that would make a failing
 * check hold, and writing a solved value in where it was asked for.
 *
 *     quickFixes(analysis, uri, range)   →   [{ title: "set rear.left.inner_gap to 3/4 in", edit }]
 *
 * Must not know: how answers travel.
 */
import {
  type CodeAction,
  CodeActionKind,
  type Diagnostic,
  type Range,
  type TextEdit,
  type WorkspaceEdit,
} from "vscode-languageserver";
import type { Analysis, CheckResult } from "../analysis/analysis";
import type { Anchor } from "../model/anchor";
import type { Finding, Fix } from "../model/finding";
import { decimalOf } from "./figures";
import { diagnosticOf } from "./findings";
import { overlaps, rangeOf } from "./place";

const mostFits = 6;

/** `diagnostics`: those the editor shows in the range, to say which of them a fix is for. */
export function quickFixes(
  analysis: Analysis,
  uri: string,
  range: Range,
  diagnostics: readonly Diagnostic[] = [],
): CodeAction[] {
  const actions: CodeAction[] = [];
  for (const finding of findingsIn(analysis, uri, range)) {
    const shown = shownAs(analysis, finding, diagnostics);
    for (const fix of finding.fixes ?? []) {
      const edit = editOf(analysis, fix.edits);
      if (edit === undefined) continue;
      actions.push({
        title: fix.title,
        kind: CodeActionKind.QuickFix,
        diagnostics: shown,
        isPreferred: isPreferred(finding, fix),
        edit,
      });
    }
    actions.push(...fitsOf(analysis, finding, shown));
  }
  return unique([...actions, ...writeIns(analysis, uri, range)]);
}

// ───────────────────────────── helpers ─────────────────────────────

/** Findings of the range, and those of elsewhere that a change in the range would mend. */
function findingsIn(analysis: Analysis, uri: string, range: Range): Finding[] {
  const within = (anchor: Anchor): boolean => {
    if (anchor.uri !== uri) return false;
    const place = rangeOf(analysis, anchor);
    return place !== undefined && overlaps(place, range);
  };
  return analysis.findings.filter(
    ({ anchor, fixes = [] }) =>
      within(anchor) || fixes.some(({ edits }) => edits.some((edit) => within(edit.anchor))),
  );
}

function shownAs(
  analysis: Analysis,
  finding: Finding,
  diagnostics: readonly Diagnostic[],
): Diagnostic[] {
  const own = diagnosticOf(analysis, finding);
  return diagnostics.filter((each) => each.code === own?.code && each.message === own?.message);
}

function isPreferred(finding: Finding, fix: Fix): boolean {
  return fix.preferred === true || finding.fixes?.length === 1;
}

/** Single givens that would make a failing check hold, gentlest first, each solved again before. */
function fitsOf(analysis: Analysis, finding: Finding, shown: Diagnostic[]): CodeAction[] {
  const check = checkOf(analysis, finding);
  if (check === undefined) return [];
  const actions: CodeAction[] = [];
  for (const fit of check.fits().slice(0, mostFits)) {
    const given = analysis.valueAt(fit.path);
    if (given?.anchor === undefined || given.standing !== "given") continue;
    const edit = editOf(analysis, [{ anchor: nominalPlace(given.anchor), text: fit.shown }]);
    if (edit === undefined) continue;
    actions.push({
      title: `make it fit: set ${fit.path} to ${fit.shown} (now ${analysis.write(given)})`,
      kind: CodeActionKind.QuickFix,
      diagnostics: shown,
      edit,
    });
  }
  return actions;
}

function checkOf(analysis: Analysis, finding: Finding): CheckResult | undefined {
  return analysis.checks.find(
    ({ verdict, code, place }) =>
      verdict.nominal === "fails" &&
      code === finding.code &&
      place.item === finding.anchor.item &&
      place.span.start === finding.anchor.span.start,
  );
}

/** `24 in ± 1/16 in` keeps its tolerance: only what stands before it is replaced. */
function nominalPlace(anchor: Anchor): Anchor {
  const text = anchor.item.text.slice(anchor.span.start, anchor.span.end);
  const found = /\s*(?:±|\+-)/.exec(text);
  if (found === null) return anchor;
  return { ...anchor, span: { ...anchor.span, end: anchor.span.start + found.index } };
}

/** At a `?`: the solved value as a given, as it is read off a tape and in decimals. */
function writeIns(analysis: Analysis, uri: string, range: Range): CodeAction[] {
  return analysis.asked.flatMap(({ anchor, value }) => {
    if (anchor.uri !== uri || value.si === undefined) return [];
    const place = rangeOf(analysis, anchor);
    if (place === undefined || !overlaps(place, range)) return [];
    const texts = [analysis.write(value), decimalOf(analysis, value)].filter(
      (text) => text !== undefined,
    );
    return texts.flatMap((text) => {
      const edit = editOf(analysis, [{ anchor, text }]);
      if (edit === undefined) return [];
      return [
        { title: `write ${text} in place of "?"`, kind: CodeActionKind.RefactorRewrite, edit },
      ];
    });
  });
}

/** `undefined` where a place is not in the files any more, or in one that only can be read. */
function editOf(analysis: Analysis, edits: Fix["edits"]): WorkspaceEdit | undefined {
  const changes: Record<string, TextEdit[]> = {};
  for (const { anchor, text } of edits) {
    const range = rangeOf(analysis, anchor);
    if (range === undefined || analysis.files.get(anchor.uri)?.library !== false) return undefined;
    const list = changes[anchor.uri] ?? [];
    changes[anchor.uri] = [...list, { range, newText: text }];
  }
  return Object.keys(changes).length === 0 ? undefined : { changes };
}

function unique(actions: readonly CodeAction[]): CodeAction[] {
  const seen = new Set<string>();
  return actions.filter((action) => {
    const key = `${action.title} ${JSON.stringify(action.edit)}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
