/** What a newcomer meets in the first hour, each with the editor's own commands and a picture. */
import * as assert from "node:assert/strict";
import * as vscode from "vscode";
import {
  codeOf,
  hintsOf,
  inEditor,
  labelOf,
  open,
  panelsAreShown,
  screenshot,
  showTextOnly,
  until,
} from "./helper";

const name = "first-hand.trammel";
const commands = vscode.commands;

suite("the first hour", () => {
  teardown(async () => {
    await commands.executeCommand("workbench.action.files.revert");
    await commands.executeCommand("workbench.action.closeAllEditors");
    await vscode.workspace.fs.delete(fileOf(name)).then(undefined, () => undefined);
  });

  test("inside `use` the files at hand are offered", async () => {
    const offered = await offers('use "harbor-van/parts/|"\n');
    assert.ok(offered.includes("harbor-van/parts/wheels.trammel"), offered.join("; "));
    assert.ok(offered.includes("harbor-van/parts/tires.trammel"));
    assert.ok(!offered.includes(name), "a file is not offered to itself");
    const shown = await shownOffers("first-hand-use");
    if (panelsAreShown)
      assert.ok(
        shown.some((row) => row.includes("wheels.trammel")),
        shown.join("; "),
      );
  });

  test("a tire is offered as the trade writes it, and what is put in is one", async () => {
    const offered = await offers("tire t {\n  size: |\n}\n");
    assert.match(offered[0] ?? "", /^255\/60R17 106T, metric$/);
    assert.ok(offered.every((label) => !/[{}[\]‹›]/.test(label)));
    await shownOffers("first-hand-tire");
    await commands.executeCommand("acceptSelectedSuggestion");
    const document = vscode.window.activeTextEditor?.document;
    await until(() => document?.getText().includes("size: 255/60R17 106T\n"), "the tire");
  });

  test("inside a wheel the fields that are not written yet are offered", async () => {
    const offered = await offers("wheel w {\n  size: 17x8\n  |\n}\n");
    for (const field of ["offset", "backspace", "stud_circle"])
      assert.ok(offered.includes(field), field);
    assert.ok(!offered.includes("size"), "a field that is written is not offered again");
    await shownOffers("first-hand-fields");
  });

  test("behind a number the units of the field are offered", async () => {
    const offered = await offers("wheel w {\n  size: 17x8\n  offset: 18 |\n}\n");
    assert.deepEqual(offered.slice(0, 2), ["in", "mm"]);
    assert.ok(!offered.includes("lb"), "no unit of another measure");
    await shownOffers("first-hand-units");
  });

  test("a name that a build using the parts file has already is refused in words", async () => {
    const document = await open("harbor-van/parts/wheels.trammel");
    const place = document.positionAt(document.getText().indexOf("rear_wheel") + 2);
    await until(() => hintsOf(document), "the server's answer");
    await assert.rejects(
      async () =>
        commands.executeCommand(
          "vscode.executeDocumentRenameProvider",
          document.uri,
          place,
          "costs",
        ),
      /something called costs already in build\.trammel/,
    );
    const edit = await commands.executeCommand<vscode.WorkspaceEdit>(
      "vscode.executeDocumentRenameProvider",
      document.uri,
      place,
      "steel_wheel",
    );
    const changed = edit.entries().map(([uri]) => uri.path.replace(/^.*\/harbor-van\//, ""));
    assert.deepEqual(changed.sort(), ["build.trammel", "parts/wheels.trammel"]);
    assert.ok(document.getText().includes("wheel rear_wheel"), "nothing was changed");
  });

  test("a missing figure is put in with how it is measured", async () => {
    const { document, place } = await written("wheel w {\n  size: 17x8\n  backspace: |?\n}\n");
    const [fix] = await fixesAt(document, place, /^add w\.offset: \S/);
    await shownFixes("first-hand-missing");
    assert.ok(fix?.edit && (await vscode.workspace.applyEdit(fix.edit)));
    assert.match(document.getText(), /\n\nw\.offset: \? {2}# \S/);
    await screenshot("first-hand-missing-added");
  });

  test("a `use` that leads nowhere is led to the near name", async () => {
    const { document, place } = await written('use "harbor-van/parts/w|eels.trammel"\n');
    await finding(document, "use/missing");
    const near = 'use "harbor-van/parts/wheels.trammel"';
    const [fix] = await fixesAt(document, place, /wheels\.trammel/);
    assert.equal(fix?.title, near);
    await shownFixes("first-hand-near-use");
    assert.ok(fix.edit && (await vscode.workspace.applyEdit(fix.edit)));
    assert.equal(document.getText(), `${near}\n`);
    await until(() => vscode.languages.getDiagnostics(document.uri).length === 0, "no finding");
  });

  test("a fraction divided by is put in brackets", async () => {
    const text = "wheel w {\n  size: 17x8\n  offset: 10 in / |3/4 in * 1 mm\n}\n";
    const { document, place } = await written(text);
    await until(() => vscode.languages.getDiagnostics(document.uri), "the finding");
    const [fix] = await fixesAt(document, place, /\(3\/4 in\)/);
    await shownFixes("first-hand-fraction");
    assert.ok(fix?.edit && (await vscode.workspace.applyEdit(fix.edit)));
    assert.ok(document.getText().includes("10 in / (3/4 in) * 1 mm"), document.getText());
  });

  test("a field is explained where the pointer is, with its sign", async () => {
    const { document, place } = await written("wheel w {\n  size: 17x8\n  off|set: 18 mm\n}\n");
    const hovers = await until(
      () =>
        commands.executeCommand<vscode.Hover[]>("vscode.executeHoverProvider", document.uri, place),
      "the hover",
    );
    const told = hovers
      .flatMap(({ contents }) => contents)
      .map((each) => (typeof each === "string" ? each : each.value))
      .join("\n");
    assert.match(told, /18 mm/);
    assert.match(told, /positive when the face is outboard/);
    await commands.executeCommand("editor.action.showHover");
    await screenshot("first-hand-hover");
  });

  test("one missing wheel is one problem, whose code opens its page at its line", async () => {
    const { document } = await written(
      "axle rear {\n  wheel: rear_whel|\n  left { inner_limit: 22 in; inner_gap: ?; outer_gap: ? }\n}\nwheel rear_wheel { size: 17x8 }\n",
    );
    const found = await until(() => vscode.languages.getDiagnostics(document.uri), "the finding");
    const errors = found.filter(({ severity }) => severity === vscode.DiagnosticSeverity.Error);
    assert.deepEqual(errors.map(codeOf), ["name/unknown"]);
    assert.match(errors[0]?.message ?? "", /did you mean `rear_wheel`/);
    const code = errors[0]?.code;
    assert.ok(typeof code === "object", "the code has a page");
    const target = code.target;
    assert.equal(target.scheme, "library");
    const page = await vscode.workspace.openTextDocument(target.with({ fragment: "" }));
    const line = Number(/^L(\d+)$/.exec(target.fragment)?.[1]) - 1;
    assert.equal(page.lineAt(line).text, "### name/unknown");
    await commands.executeCommand("workbench.actions.view.problems");
    await screenshot("first-hand-problems");
    if (!panelsAreShown) return;
    await inEditor("click", 'a:has-text("name/unknown")');
    const shown = await until(() => {
      const editor = vscode.window.activeTextEditor;
      return editor?.document.uri.scheme === "library" ? editor : undefined;
    }, "the page");
    assert.equal(shown.selection.active.line, line);
    await commands.executeCommand("workbench.action.closePanel");
    await screenshot("first-hand-code-page");
  });

  for (const path of ["parts/tires.trammel", "parts/wheels.trammel"])
    test(`headline figures stand whole beside the things of the van, ${path}`, async () => {
      const document = await open(`harbor-van/${path}`);
      const opens = ({ position }: vscode.InlayHint) =>
        /^\w+ \w+ "[^"]*" \{/.test(document.lineAt(position.line).text);
      const headlines = await until(
        async () => (await hintsOf(document)).filter(opens),
        "the headline figures",
      );
      const [first] = headlines;
      assert.ok(first);
      for (const each of headlines) assert.match(labelOf(each), /\d/);
      const range = document.lineAt(first.position.line).range;
      vscode.window.activeTextEditor?.revealRange(range, vscode.TextEditorRevealType.AtTop);
      await showTextOnly();
      await screenshot(`first-hand-headline-${path.replace(/^.*\//, "").replace(".trammel", "")}`);
      // Where hints of a line are too long the editor cuts them, with a "…" of its own.
      const drawn = (await inEditor("texts", ".view-lines .view-line")).join("\n");
      assert.ok(!drawn.includes("…"), drawn);
    });
});

function fileOf(path: string): vscode.Uri {
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
  assert.ok(folder);
  return vscode.Uri.joinPath(folder, path);
}

/** Shows a file with the text, the cursor where `|` stands in it. */
async function written(text: string) {
  const at = text.indexOf("|");
  const whole = text.replace("|", "");
  await vscode.workspace.fs.writeFile(fileOf(name), new TextEncoder().encode(whole));
  const document = await open(name);
  await until(() => document.getText() === whole, "the text");
  const place = document.positionAt(at);
  await showTextOnly();
  select(place);
  return { document, place };
}

function select(place: vscode.Position): void {
  const editor = vscode.window.activeTextEditor;
  assert.ok(editor);
  editor.selection = new vscode.Selection(place, place);
}

/** The labels offered where `|` stands, in the order the editor sorts them. */
async function offers(text: string): Promise<string[]> {
  const { document, place } = await written(text);
  const items = await until(async () => {
    const list = await commands.executeCommand<vscode.CompletionList>(
      "vscode.executeCompletionItemProvider",
      document.uri,
      place,
    );
    return list.items;
  }, "what is offered");
  const key = (item: vscode.CompletionItem) => item.sortText ?? String(item.label);
  return items
    .toSorted((one, other) => (key(one) < key(other) ? -1 : 1))
    .map(({ label }) => (typeof label === "string" ? label : label.label));
}

/** What the editor's own list shows, with a picture of it. */
async function shownOffers(picture: string): Promise<string[]> {
  await commands.executeCommand("editor.action.triggerSuggest");
  await screenshot(picture);
  return inEditor("texts", ".suggest-widget .monaco-list-row");
}

async function finding(document: vscode.TextDocument, code: string): Promise<vscode.Diagnostic> {
  return until(
    () => vscode.languages.getDiagnostics(document.uri).find((each) => codeOf(each) === code),
    code,
  );
}

function fixesAt(
  document: vscode.TextDocument,
  place: vscode.Position,
  title: RegExp,
): Promise<vscode.CodeAction[]> {
  return until(async () => {
    const actions = await commands.executeCommand<vscode.CodeAction[]>(
      "vscode.executeCodeActionProvider",
      document.uri,
      new vscode.Range(place, place),
    );
    return actions.filter((action) => title.test(action.title));
  }, `the fix ${title}`);
}

async function shownFixes(picture: string): Promise<void> {
  await commands.executeCommand("editor.action.quickFix");
  await screenshot(picture);
  await commands.executeCommand("hideCodeActionWidget");
}
