/** The form of what is to be measured, made and put back by the editor. */
import { expect, test } from "vitest";
import type { CodeAction, TextDocumentEdit } from "vscode-languageserver";
import { buildOfForm, formActions, takeInActions } from "../../server/features/measured-form";
import { cursor, edited, folder } from "./world";

const build = `tire t { size: 255/60R17 }
axle rear {
  tire: t
  left { inner_limit: 24 in ± 1/8 in; outer_limit: ? }
  right { outer_limit: ? }
}
`;
const recorder = (files: Record<string, string>) => ({
  by: "Ana",
  date: "2026-05-02",
  textOf: (uri: string) => files[uri.slice(folder.length)],
});

function textEdits(action: CodeAction | undefined): TextDocumentEdit[] {
  const changes = action?.edit?.documentChanges ?? [];
  return changes.filter((each): each is TextDocumentEdit => "edits" in each);
}

function formOfBuild(files: Record<string, string> = {}): { action?: CodeAction; text: string } {
  const { analysis } = cursor(`//- build.trammel\n${build}`);
  const line = { line: 3, character: 4 };
  const uri = `${folder}build.trammel`;
  const [action] = formActions(analysis, uri, { start: line, end: line }, recorder(files));
  const [change] = textEdits(action);
  const text = change?.edits.map((edit) => ("newText" in edit ? edit.newText : "")).join("") ?? "";
  return { action, text };
}

test("a form is offered where something is still to be measured, beside the build", () => {
  const { action, text } = formOfBuild();
  expect(action?.title).toMatch(/^list what is still to be measured \(\d+\) in measured\.trammel$/);
  expect(text).toContain('use "build.trammel"');
  expect(text).toContain("rear.left.outer_limit: ?  # measure from");
});

test("what was typed into a form that is there stays", () => {
  const { action } = formOfBuild({ "measured.trammel": "typed" });
  expect(textEdits(action)[0]?.textDocument.uri).toBe(`${folder}measured-2.trammel`);
});

test("filled in it is written into the build, where each figure belongs", () => {
  const form = formOfBuild().text.replace(
    "rear.left.outer_limit: ?",
    "rear.left.outer_limit: 36 in ± 1/32 in",
  );
  const files = `//- measured.trammel\n${form}//- build.trammel\n${build}`;
  const { analysis, uri } = cursor(files);
  expect(buildOfForm(analysis, uri)).toBe(`${folder}build.trammel`);
  const own = cursor(`//- build.trammel\n${build}`).analysis;
  const [action] = takeInActions(analysis, uri, own, recorder({}));
  expect(action?.title).toBe("write the measured figure into build.trammel");
  const [change] = textEdits(action);
  expect(change?.textDocument.uri).toBe(`${folder}build.trammel`);
  expect(edited(build, (change?.edits ?? []) as never)).toBe(
    build.replace(
      "left { inner_limit: 24 in ± 1/8 in; outer_limit: ?",
      "left { inner_limit: 24 in ± 1/8 in; outer_limit: 36 in ± 1/32 in",
    ),
  );
});

test("a form with a mistake says what to mend", () => {
  const form = formOfBuild().text.replace(
    "rear.left.outer_limit: ?",
    "rear.left.outer_limit: 36 kg",
  );
  const { analysis, uri } = cursor(`//- measured.trammel\n${form}//- build.trammel\n${build}`);
  const own = cursor(`//- build.trammel\n${build}`).analysis;
  const [action] = takeInActions(analysis, uri, own, recorder({}));
  expect(action?.edit).toBeUndefined();
  expect(action?.disabled?.reason).toContain("first mend this form");
});

test("other files are no forms", () => {
  const { analysis, uri } = cursor(
    `//- notes.trammel\nuse "build.trammel"\n//- build.trammel\n${build}`,
  );
  expect(buildOfForm(analysis, uri)).toBeUndefined();
});
