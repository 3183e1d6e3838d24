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
import { type Anchor, textAt } from "../../grammar/anchor";
import type { Analysis } from "../analysis/analysis";
import type { Finding, Fix } from "../findings/finding";
import { nearest } from "../model/spelling";
import { told } from "../report/comes-out";
import { decimalOf } from "./figures";
import { pathBetween } from "./file-renames";
import { diagnosticOf } from "./findings";
import { overlaps, rangeOf } from "./place";

/** Of those that take solving to find, the gentlest. */
const mostFurther = 6;
const mostNear = 3;
const mostNeeds = 4;

export interface FixContext {
  /** Those the editor shows in the range, to say which of them a fix is for. */
  readonly diagnostics?: readonly Diagnostic[];
  /** URIs of the files that could be used, as far as they are known. */
  readonly files?: readonly string[];
  /** Whether the editor shows what there is to know of a change before it is done; else its title says all. */
  readonly annotated?: boolean;
}

export function quickFixes(
  analysis: Analysis,
  uri: string,
  range: Range,
  { diagnostics = [], files = [], annotated = false }: FixContext = {},
): CodeAction[] {
  const actions: CodeAction[] = [];
  for (const finding of findingsIn(analysis, uri, range)) {
    const shown = shownAs(analysis, finding, diagnostics);
    const further = finding.furtherFixes?.().slice(0, mostFurther) ?? [];
    const others = finding.code === "use/missing" ? nearUses(uri, finding, files) : [];
    for (const fix of [...(finding.fixes ?? []), ...others, ...further]) {
      const { title, detail } = fix;
      const plain = editOf(analysis, fix.edits);
      if (plain === undefined) continue;
      const edit = annotated ? annotatedEdit(plain, fix) : plain;
      actions.push({
        title: annotated || detail === undefined ? title : `${title} (${detail})`,
        kind: CodeActionKind.QuickFix,
        diagnostics: shown,
        isPreferred: isPreferred(finding, fix),
        edit,
      });
    }
  }
  return unique([
    ...actions,
    ...missingFigures(analysis, uri, range),
    ...writeIns(analysis, uri, range),
  ]);
}

// ───────────────────────────── helpers ─────────────────────────────

/** The same with what there is to know before it is done, the builder asked first where it wants that. */
function annotatedEdit(edit: WorkspaceEdit, { title, detail, ask = false }: Fix): WorkspaceEdit {
  if (detail === undefined || edit.changes === undefined) return edit;
  const annotationId = "change";
  return {
    changeAnnotations: {
      [annotationId]: { label: title, description: detail, needsConfirmation: ask },
    },
    documentChanges: Object.entries(edit.changes).map(([uri, edits]) => ({
      textDocument: { uri, version: null },
      edits: edits.map((each) => ({ ...each, annotationId })),
    })),
  };
}

/** Findings of the range, and those of elsewhere that a change in the range would mend. */
function findingsIn(analysis: Analysis, uri: string, range: Range): Finding[] {
  const within = (anchor: Anchor): boolean => {
    if (anchor.uri !== uri) return false;
    const place = rangeOf(analysis, anchor);
    return place !== undefined && overlaps(place, range);
  };
  return analysis.findingsSoFar.filter(
    ({ anchor, fixes = [], furtherFixes, related = [] }) =>
      within(anchor) ||
      fixes.some(({ edits }) => edits.some((edit) => within(edit.anchor))) ||
      (furtherFixes !== undefined && related.some((each) => within(each.anchor))),
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

/** For a `use` that leads nowhere: files of nearly that name, wherever they lie. */
function nearUses(uri: string, { anchor }: Finding, files: readonly string[]): Fix[] {
  const written = textAt(anchor).replaceAll('"', "");
  const paths = files.flatMap((file) => (file === uri ? [] : (pathBetween(uri, file) ?? [])));
  const name = (path: string): string => path.slice(path.lastIndexOf("/") + 1);
  const near = new Set([
    nearest(written, paths),
    ...paths.filter((path) => name(path) === name(written)),
    ...paths.filter((path) => name(path) === nearest(name(written), paths.map(name))),
  ]);
  return [...near]
    .filter((path) => path !== undefined)
    .slice(0, mostNear)
    .map((path) => ({ title: `use "${path}"`, edits: [{ anchor, text: `"${path}"` }] }));
}

/** At a `?` that stays open: the figures that would settle it, each with how it is measured. */
function missingFigures(analysis: Analysis, uri: string, range: Range): CodeAction[] {
  return analysis.asked.flatMap((asked) => {
    const { anchor, value, option } = asked;
    if (anchor.uri !== uri || value.si !== undefined || option !== undefined) return [];
    const place = rangeOf(analysis, anchor);
    const source = analysis.sourceOf(uri);
    if (place === undefined || source === undefined || !overlaps(place, range)) return [];
    return asked.needs.slice(0, mostNeeds).flatMap((set) => {
      const at = source.offsetOf(anchor.item) + source.standing(anchor.item).text.trimEnd().length;
      const end = source.positionAt(at);
      const lines = set.map(
        ({ path, advice }) => `${path}: ?${advice === undefined ? "" : `  # ${advice}`}`,
      );
      if (set.some(({ path }) => analysis.asked.some((each) => each.value.path === path)))
        return [];
      const names = set.map(({ path }) => path).join(" and ");
      const told = set.length === 1 ? set[0]?.advice : undefined;
      return [
        {
          title: `add ${names}${told === undefined ? "" : `: ${told}`}`,
          kind: CodeActionKind.QuickFix,
          edit: {
            changes: {
              [uri]: [{ range: { start: end, end }, newText: `\n\n${lines.join("\n")}` }],
            },
          },
        },
      ];
    });
  });
}

/** At a `?`: how it comes out, as a given, as it is read off a tape and in decimals. */
function writeIns(analysis: Analysis, uri: string, range: Range): CodeAction[] {
  return analysis.asked.flatMap(({ anchor, value }) => {
    if (anchor.uri !== uri || value.si === undefined) return [];
    const place = rangeOf(analysis, anchor);
    if (place === undefined || !overlaps(place, range)) return [];
    const out = { measure: value.measure, si: value.outcome()?.si ?? value.si };
    const texts = [told(value, analysis).text, decimalOf(analysis, out)].filter(
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
