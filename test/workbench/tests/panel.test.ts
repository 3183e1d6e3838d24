import * as assert from "node:assert/strict";
import { existsSync } from "node:fs";
import * as vscode from "vscode";
import { inPanel, open, panelsAreShown, screenshot, showTextOnly, until } from "./helper";

const dimension = (path: string) => `.dimension[data-path="${path}"]`;

suite("the picture beside the text", () => {
  suiteSetup(function () {
    if (!panelsAreShown) this.skip();
  });

  suiteTeardown(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  test("opens beside the build", async () => {
    await openAt("harbor-van/build.trammel", "axle rear ");
    await vscode.commands.executeCommand("trammel.showPicture");
    await until(() => inPanel("texts", "svg.drawing > title"), "the drawing");
    const figures = await inPanel("texts", ".dimension > title");
    assert.ok(figures.some((told) => told.startsWith("rear_housing.face_to_face: ")));
    await showTextOnly();
    await inPanel("click", "button[title^=Fit]");
    await screenshot("panel");
    // The README's picture of the editor: made where there is none, so that each run does not change it.
    const editor = process.env.TRAMMEL_EDITOR_PICTURE;
    if (editor !== undefined && !existsSync(editor)) await screenshot(editor);
  });

  test("lights the dimension of the line the cursor is on", async () => {
    const { editor, document } = await openAt("harbor-van/build.trammel", "inner_limit: ");
    await until(async () => {
      const [classes = ""] = await inPanel("classes", dimension("rear.left.inner_limit"));
      return classes.includes("lit");
    }, "the light at the left limit");
    const second = document.getText().indexOf("inner_limit: 23 3/8 in ± 1/16 in");
    const place = document.positionAt(second);
    editor.selection = new vscode.Selection(place, place);
    await until(async () => {
      const [classes = ""] = await inPanel("classes", dimension("rear.right.inner_limit"));
      const [before = "lit"] = await inPanel("classes", dimension("rear.left.inner_limit"));
      return classes.includes("lit") && !before.includes("lit");
    }, "the light at the right limit");
  });

  test("jumps to the line of a dimension that is clicked, and by the keyboard", async () => {
    const { document } = await openAt("harbor-van/build.trammel", "vehicle van");
    await openAt("harbor-van/build.trammel", "axle rear ");
    await until(() => inPanel("texts", dimension("rear.left.outer_limit")), "the dimension");
    await inPanel("click", `${dimension("rear.left.outer_limit")} .touch`);
    await until(() => lineAtCursor().includes("outer_limit: "), "the line of the outer limit");
    await inPanel("key", dimension("rear_housing.face_to_face"), "Enter");
    await until(() => lineAtCursor().includes("face_to_face: ?"), "the line of the housing");
    assert.equal(vscode.window.activeTextEditor?.document.uri.toString(), document.uri.toString());
  });

  test("follows an edit, and keeps the picture while a line is half typed", async () => {
    const { document } = await openAt("harbor-van/build.trammel", "inner_limit: 23 1/2 in");
    const told = async () =>
      (await inPanel("texts", `${dimension("rear.left.inner_limit")} > title`))[0] ?? "";
    await until(async () => (await told()).includes("23 1/2 in"), "the limit as written");
    await replaced(document, "inner_limit: 23 1/2 in", "inner_limit: 23 5/8 in");
    await until(async () => (await told()).includes("23 5/8 in"), "the limit as edited");
    await replaced(document, "inner_limit: 23 5/8 in ± 1/16 in", "inner_limit: 23 5/8 in ± ");
    await until(
      async () => (await inPanel("texts", ".banner"))[0]?.includes("half typed"),
      "the word about the half line",
    );
    assert.ok((await told()).includes("23 5/8 in"), "the picture of before is there");
    await vscode.commands.executeCommand("workbench.action.files.revert");
    await until(async () => (await told()).includes("23 1/2 in"), "the limit as it was");
  });

  test("shows the build as it comes out, as drawn and as built", async () => {
    await openAt("harbor-van/work.trammel", "rear");
    await until(() => inPanel("texts", "svg.drawing > title"), "the drawing");
    await inPanel("choose", 'select[aria-label="Picture"]', "rear/behind");
    const gap = async () =>
      (await inPanel("texts", `${dimension("rear.left.inner_gap")} text`)).join(" ");
    const view = 'select[aria-label="How the build is looked at"]';
    await until(async () => (await gap()).includes("wanted"), "the gap as it comes out");
    await inPanel("choose", view, "drawn");
    await until(async () => !(await gap()).includes("wanted"), "the gap as drawn");
    await inPanel("choose", view, "over");
    await until(
      () => inPanel("classes", 'svg.drawing [data-part$="tire as built"]'),
      "the tire as built over the one as drawn",
    );
    await inPanel("choose", view, "built");
    await until(
      async () => (await inPanel("classes", '[data-part$="tire as built"]')).length === 0,
      "the picture as built alone",
    );
    await inPanel("choose", view, "comes out");
    await inPanel("choose", 'select[aria-label="Picture"]', "");
  });

  test("reads in light, dark and high contrast", async () => {
    await openAt("harbor-van/build.trammel", "axle rear ");
    const themes = [
      "Default Light Modern",
      "Default Dark Modern",
      "Default High Contrast",
      "Default High Contrast Light",
    ];
    const settings = vscode.workspace.getConfiguration("workbench");
    const before = settings.get("colorTheme");
    const seen = new Set<string>();
    for (const theme of themes) {
      await settings.update("colorTheme", theme, vscode.ConfigurationTarget.Global);
      const colors = await until(async () => {
        const all = await inPanel("colors", ".dimension text, .note text, .caption text");
        return all.length > 0 && !seen.has(all[0] ?? "") ? all : [];
      }, `the picture in ${theme}`);
      seen.add(colors[0] ?? "");
      for (const each of colors) {
        const ratio = contrast(each);
        // WCAG 2.1, 1.4.3: 4.5 to 1 for text of ordinary size.
        assert.ok(ratio >= 4.5, `${theme}: ${each} is ${ratio.toFixed(2)} to 1`);
      }
      await screenshot(`panel-${theme.toLowerCase().replaceAll(" ", "-")}`);
    }
    await settings.update("colorTheme", before, vscode.ConfigurationTarget.Global);
  });

  test("tells a screen reader the same figures in a table", async () => {
    await openAt("harbor-van/build.trammel", "axle rear ");
    await inPanel("click", "details > summary");
    const [tree = ""] = await until(async () => {
      const told = await inPanel("tree", "details");
      return told[0]?.includes("rear_housing.face_to_face") ? told : [];
    }, "the table");
    for (const path of await inPanel("texts", "td:first-child button"))
      assert.ok(tree.includes(`row "${path} `), `${path} is a row`);
    assert.match(tree, /rear\.left\.inner_gap.*wanted.*comes out/);
    await inPanel("click", "details > summary");
  });

  test("shows a hostile title as letters", async () => {
    const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
    assert.ok(folder);
    const file = vscode.Uri.joinPath(folder, "hostile.trammel");
    const title = `<img src=x onerror=alert(1)><a href='https://x.test'>y</a><script>z</script>`;
    const text = `axle rear "${title}" { left { inner_limit: 22 in } }\n`;
    await vscode.workspace.fs.writeFile(file, new TextEncoder().encode(text));
    await open("hostile.trammel");
    await until(
      async () => (await inPanel("texts", "svg.drawing > title"))[0]?.includes("<img src=x"),
      "the title as letters",
    );
    const foreign = await inPanel("classes", "#app img, #app a, #app script, #app foreignObject");
    assert.deepEqual(foreign, []);
    await vscode.workspace.fs.delete(file);
  });
});

async function openAt(path: string, text: string) {
  const document = await open(path);
  const editor = vscode.window.visibleTextEditors.find((each) => each.document === document);
  assert.ok(editor, "the build is shown");
  const at = document.getText().indexOf(text);
  assert.ok(at >= 0, `${text} is in the build`);
  const place = document.positionAt(at + 2);
  editor.selection = new vscode.Selection(place, place);
  return { document, editor };
}

/** Of `rgb(…) on rgb(…)`, by WCAG 2.1: (lighter + 0.05) / (darker + 0.05). */
function contrast(colors: string): number {
  const [text = 0, ground = 0] = [...colors.matchAll(/rgba?\(([^)]*)\)/g)].map(
    ([, channels = ""]) => {
      const [red = 0, green = 0, blue = 0] = channels.split(",").map((channel) => {
        const share = Number.parseFloat(channel) / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    },
  );
  return (Math.max(text, ground) + 0.05) / (Math.min(text, ground) + 0.05);
}

function lineAtCursor(): string {
  const editor = vscode.window.activeTextEditor;
  return editor?.document.lineAt(editor.selection.active.line).text ?? "";
}

async function replaced(
  document: vscode.TextDocument,
  before: string,
  after: string,
): Promise<void> {
  const at = document.getText().indexOf(before);
  assert.ok(at >= 0, `${before} is in the build`);
  const edit = new vscode.WorkspaceEdit();
  const range = new vscode.Range(document.positionAt(at), document.positionAt(at + before.length));
  edit.replace(document.uri, range, after);
  assert.ok(await vscode.workspace.applyEdit(edit));
}
