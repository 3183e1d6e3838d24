/**
 * The form of what is still to be measured, from the editor: made beside a build, and written back
 * into it once it is filled in. The same as `trammel measure` does.
 *
 *     formActions(analysis, uri, range, recorder)       in a build
 *     takeInActions(form, uri, build, recorder)         in `measured.trammel`
 *
 * Must not know: how answers travel, what day it is.
 */
import { type CodeAction, CodeActionKind, type Range, type TextEdit } from "vscode-languageserver";
import type { Analysis } from "../analysis/analysis";
import { filledIn, formOf, measuringOf } from "../sheets";
import { usesOf } from "./findings";
import { overlaps, rangeOf } from "./place";
import { editOf, logOf, type Recorder } from "./record-step";

/** What a form is called, so that it is known by its name. */
const formPattern = /^measured(?:-\d+)?\.trammel$/;
const mostForms = 99;

/** The build a form uses; nothing for a file that is no form. */
export function buildOfForm(analysis: Analysis, uri: string): string | undefined {
  return formPattern.test(nameOf(uri)) ? usesOf(analysis, uri)[0]?.target : undefined;
}

/** Where something of a thing is still to be measured: a form beside the build, to be filled in. */
export function formActions(
  analysis: Analysis,
  uri: string,
  range: Range,
  recorder: Recorder,
): CodeAction[] {
  const measuring = measuringOf(analysis);
  const here = measuring.readings.some(({ place }) => {
    const top = analysis.thingAt(place.path)?.top.anchor;
    const from =
      top?.uri === uri ? rangeOf(analysis, { ...top, span: top.item.node.span }) : undefined;
    return from !== undefined && overlaps(from, range);
  });
  const root = analysis.rootUri;
  if (!here || !/^[a-z][a-z0-9+.-]*:\/\//i.test(root)) return [];
  const folder = root.slice(0, root.lastIndexOf("/") + 1);
  const name = freeName((each) => recorder.textOf(folder + each) === undefined);
  const count = measuring.readings.length;
  const form = formOf(measuring, {
    uses: nameOf(root),
    title: nameOf(root),
    date: recorder.date,
    by: recorder.by,
    then: `write it into the build with the light bulb, or trammel measure ${nameOf(root)} --from ${name}`,
  });
  const target = `${folder}${name}`;
  const start = { line: 0, character: 0 };
  return [
    {
      title: `list what is still to be measured (${count}) in ${name}`,
      kind: CodeActionKind.RefactorRewrite,
      edit: {
        documentChanges: [
          { kind: "create", uri: target, options: { ignoreIfExists: true } },
          {
            textDocument: { uri: target, version: null },
            edits: [{ range: { start, end: start }, newText: form }],
          },
        ],
      },
    },
  ];
}

/** In a form: its figures into the build, and into the log what was read again. */
export function takeInActions(
  form: Analysis,
  uri: string,
  build: Analysis,
  recorder: Recorder,
): CodeAction[] {
  const text = form.sourceOf(uri)?.text;
  if (text === undefined) return [];
  const { edits, entries, written } = filledIn(text, build, recorder);
  if (written.length === 0) return [];
  const figures = written.length === 1 ? "measured figure" : `${written.length} measured figures`;
  const title = `write the ${figures} into ${nameOf(build.rootUri)}`;
  const kind = CodeActionKind.RefactorRewrite;
  const wrong = form.findingsSoFar.find(
    ({ anchor, severity, code }) =>
      severity === "error" && anchor.uri === uri && code !== "given/twice",
  );
  if (wrong !== undefined)
    return [{ title, kind, disabled: { reason: `first mend this form: ${wrong.message}` } }];
  const changes = new Map<string, TextEdit[]>();
  for (const { uri: file, start, end, text: newText } of edits) {
    const source = build.sourceOf(file);
    if (source === undefined) continue;
    const range = { start: source.positionAt(start), end: source.positionAt(end) };
    changes.set(file, [...(changes.get(file) ?? []), { range, newText }]);
  }
  const log = entries.length === 0 ? undefined : logOf(build, build.rootUri, recorder);
  const logged = log === undefined ? undefined : editOf(log, entries, recorder);
  const documentChanges = [
    ...[...changes].map(([file, own]) => ({
      textDocument: { uri: file, version: null },
      edits: own,
    })),
    ...(logged?.documentChanges ?? []),
  ];
  return [{ title, kind, edit: { documentChanges } }];
}

// ───────────────────────────── helpers ─────────────────────────────

function nameOf(uri: string): string {
  return decodeURIComponent(uri.slice(uri.lastIndexOf("/") + 1));
}

/** What is typed into a form that is there already stays. */
function freeName(isFree: (name: string) => boolean): string {
  for (let number = 1; number <= mostForms; number++) {
    const name = number === 1 ? "measured.trammel" : `measured-${number}.trammel`;
    if (isFree(name)) return name;
  }
  return `measured-${mostForms + 1}.trammel`;
}
