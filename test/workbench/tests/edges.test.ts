/** What a text from elsewhere, a broken line and a build too large to read look like in the editor. */
import * as assert from "node:assert/strict";
import * as vscode from "vscode";
import { codeOf, hintsOf, labelOf, open, screenshot, showTextOnly, until } from "./helper";

const name = "edges.trammel";
const commands = vscode.commands;

suite("edges", () => {
  teardown(async () => {
    await commands.executeCommand("workbench.action.files.revert");
    await commands.executeCommand("workbench.action.closeAllEditors");
    await vscode.workspace.fs.delete(fileOf(name)).then(undefined, () => undefined);
  });

  test("a title with links, pictures and commands is words", async () => {
    const title =
      "![seen](https://a.example/seen.png) [press](command:workbench.action.closeWindow) <img src=x> **loud**";
    const document = await written(
      `wheel front_wheel "${title}" {\n  size: 17x8\n  offset: 10 mm\n  backspace: ?\n}\n`,
    );
    const place = document.positionAt(document.getText().indexOf("front_wheel") + 2);
    const hovers = await until(
      () =>
        commands.executeCommand<vscode.Hover[]>("vscode.executeHoverProvider", document.uri, place),
      "the hover",
    );
    const told = hovers.flatMap(({ contents }) => contents);
    for (const each of told) {
      assert.ok(typeof each !== "string" && "isTrusted" in each ? each.isTrusted !== true : true);
      const text = typeof each === "string" ? each : each.value;
      assert.doesNotMatch(text, /(?<!\\)(?:\]\(|<img|\*\*loud)/);
    }
    const editor = vscode.window.activeTextEditor;
    if (editor) editor.selection = new vscode.Selection(place, place);
    await commands.executeCommand("editor.action.showHover");
    await screenshot("edges-hover");
  });

  test("while a line is broken its figures look kept, and come back whole", async () => {
    const document = await written("wheel w {\n  size: 17x8\n  offset: 10 mm\n  backspace: ?\n}\n");
    const [whole] = await until(() => hintsOf(document), "the figure");
    assert.ok(whole);
    await screenshot("edges-whole");
    const edit = new vscode.WorkspaceEdit();
    edit.replace(document.uri, new vscode.Range(2, 10, 2, 15), "10 mm +");
    assert.ok(await vscode.workspace.applyEdit(edit));
    await until(() => vscode.languages.getDiagnostics(document.uri), "the finding");
    await screenshot("edges-broken");
    const figure = /[\d.]+ mm/.exec(labelOf(whole))?.[0] ?? "no figure";
    const [kept] = await until(() => hintsOf(document), "the kept figure");
    assert.match(labelOf(kept), new RegExp(`was ${figure}`));
    const found = vscode.languages.getDiagnostics(document.uri).map(codeOf);
    assert.deepEqual(found, ["syntax/missing-value"]);
  });

  test("a build too large to be read says so at its place, and the rest is answered", async () => {
    const parts = Array.from(
      { length: 14 },
      (_, at) => `kind k${at} { a: part k${at + 1}; b: part k${at + 1} }`,
    );
    const document = await written(
      `${parts.join("\n")}\nkind k14 { x: length }\nk0 top { }\nwheel w { size: 17x8; offset: 10 mm; backspace: ? }\n`,
    );
    await until(
      () =>
        vscode.languages
          .getDiagnostics(document.uri)
          .find((each) => codeOf(each) === "build/too-much"),
      "the finding",
    );
    const [hint] = await until(() => hintsOf(document), "the wheel's figure");
    assert.match(labelOf(hint), /124\.3 mm/);
    await commands.executeCommand("workbench.actions.view.problems");
    await screenshot("edges-large");
  });
});

function fileOf(path: string): vscode.Uri {
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
  assert.ok(folder);
  return vscode.Uri.joinPath(folder, path);
}

async function written(text: string): Promise<vscode.TextDocument> {
  await vscode.workspace.fs.writeFile(fileOf(name), new TextEncoder().encode(text));
  const document = await open(name);
  await until(() => document.getText() === text, "the text");
  await showTextOnly();
  return document;
}
