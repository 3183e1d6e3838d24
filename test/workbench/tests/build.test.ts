import * as assert from "node:assert/strict";
import * as vscode from "vscode";
import { codeOf, hintsOf, labelOf, open, screenshot, showTextOnly, until } from "./helper";

suite("a build", () => {
  test("shows its solved values beside the lines", async () => {
    const document = await open("harbor-van/build.trammel");
    const hints = await until(() => hintsOf(document), "the inline values");
    const line = lineOf(document, "face_to_face: ?");
    const hint = hints.find(({ position }) => position.line === line);
    assert.match(labelOf(hint), /^= 5\d( \d+\/\d+)? in/);
    for (const each of hints) {
      assert.ok(!/NaN|Infinity|undefined/.test(labelOf(each)), labelOf(each));
    }
    await showTextOnly();
    const editor = vscode.window.activeTextEditor;
    editor?.revealRange(document.lineAt(line).range, vscode.TextEditorRevealType.InCenter);
    await screenshot("harbor-van");
  });

  test("explains a value where the pointer is", async () => {
    const document = await open("harbor-van/build.trammel");
    const place = document.positionAt(document.getText().indexOf("face_to_face: ?") + 3);
    const hovers = await until(
      () =>
        vscode.commands.executeCommand<vscode.Hover[]>(
          "vscode.executeHoverProvider",
          document.uri,
          place,
        ),
      "the hover",
    );
    const text = hovers
      .flatMap(({ contents }) => contents)
      .map((content) => (typeof content === "string" ? content : content.value))
      .join("\n");
    assert.match(text, /solved/);
    assert.match(text, /left\.cut_half \+ right\.cut_half/);
    const editor = vscode.window.activeTextEditor;
    assert.ok(editor);
    editor.selection = new vscode.Selection(place, place);
    editor.revealRange(new vscode.Range(place, place), vscode.TextEditorRevealType.InCenter);
    await showTextOnly();
    await vscode.commands.executeCommand("editor.action.showHover");
    await screenshot("hover");
  });

  test("shows at each step of the work how it stands", async () => {
    const document = await open("harbor-van/work.trammel");
    const hints = await until(() => hintsOf(document), "the inline values");
    const beside = (text: string): string[] => {
      const line = lineOf(document, text);
      return hints.filter(({ position }) => position.line === line).map(labelOf);
    };
    // The log beside it is read with it.
    assert.match(beside('procedure job "')[0] ?? "", /^\d+ of \d+ done$/);
    assert.match(beside("step clamp").join(), /^done \d{4}-\d\d-\d\d$/);
    assert.match(beside("braking.shims.needs").join(), /^done \d{4}-\d\d-\d\d$/);
    const editor = vscode.window.activeTextEditor;
    const range = document.lineAt(lineOf(document, "braking.shims.needs")).range;
    editor?.revealRange(range, vscode.TextEditorRevealType.InCenter);
    await showTextOnly();
    await screenshot("work");
  });

  test("objects where a sidewall will not clear", async () => {
    const document = await open("alder-truck/tight.trammel");
    const found = await until(() => vscode.languages.getDiagnostics(document.uri), "the objection");
    const objection = found.find((each) => codeOf(each) === "clearance/inner-gap");
    assert.ok(objection, "the inner gap is objected to");
    assert.equal(objection.severity, vscode.DiagnosticSeverity.Error);
    assert.match(document.lineAt(objection.range.start.line).text, /right/);
    await showTextOnly();
    await screenshot("tight");
  });

  test("takes an objection back when the text is mended", async () => {
    const document = await open("alder-truck/tight.trammel");
    const has = () =>
      vscode.languages
        .getDiagnostics(document.uri)
        .some((each) => codeOf(each) === "clearance/inner-gap");
    await until(has, "the objection");
    const at = document.getText().indexOf("590 mm");
    const range = new vscode.Range(
      document.positionAt(at),
      document.positionAt(at + "590 mm".length),
    );
    const edit = new vscode.WorkspaceEdit();
    edit.replace(document.uri, range, "580 mm");
    assert.ok(await vscode.workspace.applyEdit(edit));
    await until(() => !has(), "the end of the objection");
    await vscode.commands.executeCommand("workbench.action.files.revert");
    await until(has, "the objection again");
  });

  test("leads into the library, which opens to be read", async () => {
    const document = await open("harbor-van/build.trammel");
    const place = document.positionAt(document.getText().indexOf("face_to_face: ?") + 3);
    const links = await until(
      () =>
        vscode.commands.executeCommand<(vscode.Location | vscode.LocationLink)[]>(
          "vscode.executeDefinitionProvider",
          document.uri,
          place,
        ),
      "the definition",
    );
    const uris = links.map((link) => ("targetUri" in link ? link.targetUri : link.uri));
    const library = uris.find(({ scheme }) => scheme === "library");
    assert.ok(library, "one of the places is in the library");
    const source = await vscode.workspace.openTextDocument(library);
    assert.equal(source.languageId, "trammel");
    assert.match(source.getText(), /face_to_face: length/);
  });

  test("is laid out by the editor's own command", async () => {
    const document = await open("alder-truck/tight.trammel");
    const before = document.getText();
    const crooked = new vscode.WorkspaceEdit();
    const at = before.indexOf("face_to_face: ");
    crooked.insert(document.uri, document.positionAt(at), "      ");
    assert.ok(await vscode.workspace.applyEdit(crooked));
    await vscode.commands.executeCommand("editor.action.formatDocument");
    await until(() => document.getText() === before, "the layout as it was");
    await vscode.commands.executeCommand("workbench.action.files.revert");
  });
});

function lineOf(document: vscode.TextDocument, text: string): number {
  const at = document.getText().indexOf(text);
  assert.ok(at >= 0, `"${text}" is in the build`);
  return document.positionAt(at).line;
}
