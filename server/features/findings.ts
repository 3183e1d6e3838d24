/**
 * Findings as an editor lists them: headline first, what to do and what to watch out for below it,
 * the other places of the same matter as related information.
 *
 *     diagnostics(analysis, uri)   →   [{ range, severity, code: "clearance/inner-gap", message, … }]
 *
 * A finding in a file that this one uses is told at the line that uses it: the file itself may not
 * be open, and what is wrong there spoils figures here.
 *
 * Must not know: how findings come about, how answers travel.
 */
import {
  type Diagnostic,
  type DiagnosticRelatedInformation,
  DiagnosticSeverity,
} from "vscode-languageserver";
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import { libraryScheme } from "../analysis/library";
import type { OwnCode } from "../findings/codes";
import type { Finding, Severity } from "../findings/finding";
import { ofUsedFiles } from "../findings/worded";
import type { Vocabulary } from "../model/definition";
import { placeOfCode } from "../report/findings-page";
import { fileName, locationOf, rangeIn, rangeOf } from "./place";

/** What travels with a diagnostic and back: which of the finding's fixes there are. */
export interface DiagnosticData {
  readonly fixes: readonly string[];
}

const mostDiagnostics = 1_000;
const mostRelated = 20;

export function diagnostics(analysis: Analysis, uri: string): Diagnostic[] {
  const found: Diagnostic[] = [];
  for (const finding of analysis.findingsSoFar) {
    if (finding.anchor.uri !== uri) continue;
    const diagnostic = diagnosticOf(analysis, finding);
    if (diagnostic !== undefined) found.push(diagnostic);
    if (found.length >= mostDiagnostics) break;
  }
  return [...found, ...fromUsedFiles(analysis, uri)];
}

export function diagnosticOf(analysis: Analysis, finding: Finding): Diagnostic | undefined {
  const range = rangeOf(analysis, finding.anchor);
  if (range === undefined) return undefined;
  const related = relatedInformation(analysis, finding);
  return {
    range,
    ...wordsOf(analysis, finding),
    ...(related.length === 0 ? {} : { relatedInformation: related }),
  };
}

type Words = Omit<Diagnostic, "range" | "relatedInformation">;

const told = new WeakMap<Finding, { readonly vocabulary: Vocabulary; readonly words: Words }>();

/** All of it but places, which move with the text. */
function wordsOf({ vocabulary }: Analysis, finding: Finding): Words {
  const before = told.get(finding);
  if (before?.vocabulary === vocabulary) return before.words;
  const fixes = (finding.fixes ?? []).map((fix) => fix.title);
  const data: DiagnosticData = { fixes };
  const words: Words = {
    severity: severityOf(finding.severity),
    code: finding.code,
    codeDescription: { href: placeOfCode(finding.code, vocabulary) },
    source: "trammel",
    message: messageOf(finding),
    ...(fixes.length === 0 ? {} : { data }),
  };
  told.set(finding, { vocabulary, words });
  return words;
}

/** In place of all findings of a build that ended the server before. */
export function leftAloneFinding(
  why: "time" | "memory" | "fault",
  vocabulary: Vocabulary,
): Diagnostic {
  const code: OwnCode = "build/left-alone";
  const what = {
    time: "took longer to read than can be waited for",
    memory: "needed more memory than there is",
    fault: "could not be read to its end",
  };
  const start = { line: 0, character: 0 };
  return {
    range: { start, end: start },
    severity: DiagnosticSeverity.Error,
    code,
    codeDescription: { href: placeOfCode(code, vocabulary) },
    source: "trammel",
    message: `this build ${what[why]}, and is left alone until it is edited\nlook for what multiplies: \`each\` in \`each\`, lists of lists, figures that hang together by the hundred`,
  };
}

/** Headline, what to do, caution; a line each. */
export function messageOf(finding: Finding): string {
  const caution = finding.caution === undefined ? undefined : `caution: ${finding.caution}`;
  return [finding.message, finding.hint, caution].filter((line) => line !== undefined).join("\n");
}

export function severityOf(severity: Severity): DiagnosticSeverity {
  switch (severity) {
    case "error":
      return DiagnosticSeverity.Error;
    case "warning":
      return DiagnosticSeverity.Warning;
    case "note":
      return DiagnosticSeverity.Information;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function relatedInformation(analysis: Analysis, finding: Finding): DiagnosticRelatedInformation[] {
  return (finding.related ?? []).slice(0, mostRelated).flatMap(({ anchor, message }) => {
    const location = locationOf(analysis, anchor);
    return location === undefined ? [] : [{ location, message }];
  });
}

const usedErrors: OwnCode = "use/has-errors";

/** One diagnostic for each `use` through which files with errors come in. */
function fromUsedFiles(analysis: Analysis, uri: string): Diagnostic[] {
  const file = analysis.files.get(uri);
  if (file === undefined) return [];
  const errors = new Map<string, Finding[]>();
  for (const finding of analysis.findingsSoFar) {
    const at = finding.anchor.uri;
    if (finding.severity !== "error" || at === uri || !analysis.files.has(at)) continue;
    errors.set(at, [...(errors.get(at) ?? []), finding]);
  }
  if (errors.size === 0) return [];
  const told = new Set<string>();
  return usesOf(analysis, uri).flatMap(({ item, node, target }) => {
    const reached = reachedFrom(analysis, target).filter((at) => errors.has(at) && !told.has(at));
    for (const at of reached) told.add(at);
    const findings = reached.flatMap((at) => errors.get(at) ?? []);
    const [first] = findings;
    if (first === undefined) return [];
    return [
      {
        range: rangeIn(file.source, item, node.path.span),
        severity: DiagnosticSeverity.Error,
        code: usedErrors,
        codeDescription: { href: placeOfCode(usedErrors, analysis.vocabulary) },
        source: "trammel",
        message: ofUsedFiles(reached.map(fileName), findings),
        relatedInformation: findings.slice(0, mostRelated).flatMap((finding) => {
          const location = locationOf(analysis, finding.anchor);
          return location === undefined ? [] : [{ location, message: finding.message }];
        }),
      },
    ];
  });
}

export interface UseOfFile {
  readonly item: Item;
  readonly node: syntax.Use;
  /** The URI its path leads to, whether or not there is such a file. */
  readonly target: string;
}

/** The `use` lines of a file whose paths can be followed. */
export function usesOf(analysis: Pick<Analysis, "sourceOf">, uri: string): UseOfFile[] {
  const source = analysis.sourceOf(uri);
  if (source === undefined) return [];
  return source.items.flatMap((item) => {
    if (item.node.type !== "use") return [];
    const target = usedUri(uri, item.node.path.value);
    return target === undefined ? [] : [{ item, node: item.node, target }];
  });
}

function usedUri(base: string, path: string): string | undefined {
  if (path.startsWith(libraryScheme)) {
    return `${libraryScheme}/${path.slice(libraryScheme.length).replace(/^\/+/, "")}`;
  }
  if (path === "" || /^[a-z][a-z0-9+.-]*:/i.test(path) || path.includes("\0")) return undefined;
  try {
    const encoded = path.replaceAll("\\", "/").split("/").map(encodeURIComponent).join("/");
    return new URL(encoded, base).href;
  } catch {
    return undefined;
  }
}

function reachedFrom(analysis: Analysis, first: string): string[] {
  const reached = new Set<string>();
  const waiting = [first];
  for (let uri = waiting.pop(); uri !== undefined; uri = waiting.pop()) {
    if (reached.has(uri) || !analysis.files.has(uri)) continue;
    reached.add(uri);
    waiting.push(...usesOf(analysis, uri).map((use) => use.target));
  }
  return [...reached];
}
