/**
 * Quick fixes: the changes that findings come with, the single givens that would make a failing
 * check hold, and writing a solved value in where it was asked for.
 *
 *     quickFixes(analysis, uri, range)   →   [{ title: "set rear.left.inner_gap to 13/16 in", edit }]
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
import type { Analysis } from "../analysis/analysis";
import type { Anchor } from "../model/anchor";
import type { Finding, Fix } from "../model/finding";
import { decimalOf } from "./figures";
import { diagnosticOf } from "./findings";
import { overlaps, rangeOf } from "./place";

/** Of those that take solving to find, the gentlest. */
const mostFurther = 6;

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
    const further = finding.furtherFixes?.().slice(0, mostFurther) ?? [];
    for (const fix of [...(finding.fixes ?? []), ...further]) {
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
  return fix.preferred === true || (finding.fixes?.length === 1 && finding.fixes[0] === fix);
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
