/** Answers over stdio that take more than one file, and what the server promises at the beginning. */

import { afterEach, expect, test } from "vitest";
import type {
  CodeAction,
  LocationLink,
  Position,
  SemanticTokens,
  SemanticTokensDelta,
  TextEdit,
  WorkspaceEdit,
} from "vscode-languageserver-protocol/node";
import { type Editor, type EditorOptions, eventually, startEditor } from "./editor";

const wheels = "wheel rear_wheel {\n  size: 17x9\n  offset: 18 mm\n}\n";
const build = 'use "parts/wheels.trammel"\n\naxle rear {\n  wheel: rear_wheel\n}\n';
const other = 'use "parts/wheels.trammel" as stock\n\naxle front {\n  wheel: stock.rear_wheel\n}\n';

let editor: Editor;

async function start(files: Record<string, string>, options?: EditorOptions): Promise<void> {
  editor = await startEditor(files, options);
}

afterEach(async () => {
  const { log } = editor;
  await editor.stop();
  expect(log).toEqual([]);
});

function ask<T>(method: string, path: string, rest: object = {}): Promise<T> {
  return editor.connection.sendRequest(method, {
    textDocument: { uri: editor.uri(path) },
    ...rest,
  });
}

/** Where `mark` stands in a text, and so many characters further. */
function at(text: string, mark: string, further = 0): { position: Position } {
  const before = text.slice(0, text.indexOf(mark) + further).split("\n");
  return { position: { line: before.length - 1, character: before.at(-1)?.length ?? 0 } };
}

function applied(text: string, edits: readonly TextEdit[]): string {
  const lines = text.split("\n");
  const offset = ({ line, character }: Position) =>
    lines.slice(0, line).reduce((sum, each) => sum + each.length + 1, 0) + character;
  return [...edits]
    .sort((one, two) => offset(two.range.start) - offset(one.range.start))
    .reduce(
      (done, { range, newText }) =>
        done.slice(0, offset(range.start)) + newText + done.slice(offset(range.end)),
      text,
    );
}

test("it promises what an editor needs that cannot register later", async () => {
  await start({});
  const { capabilities } = editor.result;
  for (const ability of [
    "diagnosticProvider",
    "inlayHintProvider",
    "hoverProvider",
    "completionProvider",
    "definitionProvider",
    "referencesProvider",
    "renameProvider",
    "documentSymbolProvider",
    "workspaceSymbolProvider",
    "codeActionProvider",
    "documentFormattingProvider",
    "foldingRangeProvider",
    "semanticTokensProvider",
  ]) {
    expect(capabilities).toHaveProperty(ability);
  }
});

test("an editor that does not ask for findings is not promised that it may", async () => {
  await start({}, { pull: false });
  expect(editor.result.capabilities.diagnosticProvider).toBeUndefined();
});

test("files are watched", async () => {
  await start({});
  await eventually(
    () => editor.registered,
    (all) => all.includes("workspace/didChangeWatchedFiles"),
  );
});

test("a definition leads into the library, whose text can be read", async () => {
  await start({ "parts/wheels.trammel": wheels });
  await editor.open("parts/wheels.trammel", wheels);
  const [link] = await ask<LocationLink[]>(
    "textDocument/definition",
    "parts/wheels.trammel",
    at(wheels, "offset", 2),
  );
  expect(link?.targetUri).toBe("library:/wheel.trammel");
  const content = await editor.connection.sendRequest<{ text: string }>(
    "workspace/textDocumentContent",
    { uri: link?.targetUri },
  );
  const line = content.text.split("\n")[link?.targetRange.start.line ?? -1];
  expect(line?.trim()).toMatch(/^offset: length/);
  expect(
    await editor.connection.sendRequest("trammel/libraryFile", { uri: link?.targetUri }),
  ).toEqual(content);
  expect(
    await editor.connection.sendRequest("trammel/libraryFile", { uri: "library:/../secret" }),
  ).toBeNull();
  expect(await editor.connection.sendRequest("trammel/libraryFile", 7)).toBeNull();
});

test("a thing is renamed in every file of the workspace, open or not", async () => {
  await start({ "parts/wheels.trammel": wheels, "build.trammel": build, "other.trammel": other });
  await editor.open("parts/wheels.trammel", wheels);
  await editor.open("build.trammel", build);
  const edit = await ask<WorkspaceEdit>("textDocument/rename", "parts/wheels.trammel", {
    ...at(wheels, "rear_wheel"),
    newName: "wide_wheel",
  });
  const texts = new Map([
    ["parts/wheels.trammel", wheels],
    ["build.trammel", build],
    ["other.trammel", other],
  ]);
  for (const change of edit.documentChanges ?? []) {
    if (!("edits" in change)) throw new Error("only edits are expected");
    const path = [...texts.keys()].find((each) => editor.uri(each) === change.textDocument.uri);
    if (path === undefined) throw new Error(`${change.textDocument.uri} is not among the files`);
    // Open files are changed as the version they have; others as they are.
    expect(change.textDocument.version).toBe(path === "other.trammel" ? null : 1);
    texts.set(path, applied(texts.get(path) ?? "", change.edits as TextEdit[]));
  }
  expect([...texts.values()].join("")).not.toContain("rear_wheel");
  expect(texts.get("other.trammel")).toContain("wheel: stock.wide_wheel");
});

test("a name that cannot be had is refused in words", async () => {
  await start({});
  await editor.open("build.trammel", wheels);
  const refused = ask("textDocument/rename", "build.trammel", {
    ...at(wheels, "rear_wheel"),
    newName: "a b",
  });
  await expect(refused).rejects.toThrow("cannot be a name");
  await expect(
    ask("textDocument/prepareRename", "build.trammel", at(wheels, "offset")),
  ).rejects.toThrow("offset");
});

test("a name that a build using the file has already is refused, whether it is open or not", async () => {
  const van = 'use "parts/wheels.trammel"\nwheel wide_wheel { size: 16x7 }\n';
  const truck = 'use "parts/wheels.trammel" as stock\nwheel narrow_wheel { size: 16x7 }\n';
  await start({ "parts/wheels.trammel": wheels, "van.trammel": van, "truck.trammel": truck });
  await editor.open("parts/wheels.trammel", wheels);
  const renamed = (newName: string) =>
    ask<WorkspaceEdit>("textDocument/rename", "parts/wheels.trammel", {
      ...at(wheels, "rear_wheel"),
      newName,
    });
  await expect(renamed("wide_wheel")).rejects.toThrow(
    "there is something called wide_wheel already in van.trammel, which uses this file",
  );
  // Behind a prefix the two names stay apart.
  expect(JSON.stringify(await renamed("narrow_wheel"))).toContain("narrow_wheel");
});

test("references come from files that are not open", async () => {
  await start({ "parts/wheels.trammel": wheels, "build.trammel": build, "other.trammel": other });
  await editor.open("parts/wheels.trammel", wheels);
  const places = await ask<{ uri: string }[]>("textDocument/references", "parts/wheels.trammel", {
    ...at(wheels, "rear_wheel"),
    context: { includeDeclaration: false },
  });
  expect(places.map((place) => place.uri).sort()).toEqual([
    editor.uri("build.trammel"),
    editor.uri("other.trammel"),
  ]);
});

test("names of the whole workspace are found", async () => {
  await start({ "parts/wheels.trammel": wheels, "other.trammel": other });
  const found = await editor.connection.sendRequest<{ name: string }[]>("workspace/symbol", {
    query: "r",
  });
  expect(found.map((each) => each.name).sort()).toEqual(["front", "rear_wheel"]);
});

test("a quick fix over stdio mends the text", async () => {
  await start({});
  const text = wheels.replace("18 mm", "18");
  await editor.open("build.trammel", text);
  const [finding] = await editor.diagnostics("build.trammel");
  const actions = await ask<CodeAction[]>("textDocument/codeAction", "build.trammel", {
    range: finding?.range,
    context: { diagnostics: [finding], only: ["quickfix"] },
  });
  const mm = actions.find((action) => action.title.includes("18 mm"));
  expect(mm?.diagnostics).toEqual([finding]);
  expect(applied(text, mm?.edit?.changes?.[editor.uri("build.trammel")] ?? [])).toBe(wheels);
});

test("layout is changed where it can be read, and left alone where it cannot", async () => {
  await start({});
  const crooked = "wheel w {\n offset:18 mm\n}\n";
  await editor.open("build.trammel", crooked);
  const options = { options: { tabSize: 8, insertSpaces: false } };
  const edits = await ask<TextEdit[]>("textDocument/formatting", "build.trammel", options);
  expect(applied(crooked, edits)).toBe("wheel w {\n  offset: 18 mm\n}\n");
  await editor.open("broken.trammel", "wheel w {\n offset:18 mm\n");
  expect(await ask("textDocument/formatting", "broken.trammel", options)).toBeNull();
});

test("moving a file mends the paths to it", async () => {
  await start({ "parts/wheels.trammel": wheels, "build.trammel": build });
  const edit = await editor.connection.sendRequest<WorkspaceEdit>("workspace/willRenameFiles", {
    files: [
      { oldUri: editor.uri("parts/wheels.trammel"), newUri: editor.uri("stock/wheels.trammel") },
    ],
  });
  const [change] = edit.documentChanges ?? [];
  if (change === undefined || !("edits" in change)) throw new Error("an edit is expected");
  expect(change.textDocument.uri).toBe(editor.uri("build.trammel"));
  expect(applied(build, change.edits as TextEdit[])).toContain('use "stock/wheels.trammel"');
});

test("colors are sent again only as far as they changed", async () => {
  await start({});
  await editor.open("build.trammel", wheels);
  const full = await ask<SemanticTokens>("textDocument/semanticTokens/full", "build.trammel");
  await editor.change("build.trammel", "rear_wheel", "wide_rear_wheel");
  const delta = await ask<SemanticTokensDelta>(
    "textDocument/semanticTokens/full/delta",
    "build.trammel",
    { previousResultId: full.resultId },
  );
  const data = [...full.data];
  for (const edit of [...delta.edits].reverse())
    data.splice(edit.start, edit.deleteCount, ...(edit.data ?? []));
  const fresh = await ask<SemanticTokens>("textDocument/semanticTokens/full", "build.trammel");
  expect(data).toEqual(fresh.data);
});

test("an editor that knows no links and no late tooltips gets plain places and whole hints", async () => {
  await start({}, { capabilities: { textDocument: { diagnostic: {} } } });
  const text = "wheel w { size: 17x9; offset: 18 mm; backspace: ? }\n";
  await editor.open("build.trammel", text);
  const [place] = await ask<{ uri: string }[]>(
    "textDocument/definition",
    "build.trammel",
    at(text, "offset"),
  );
  expect(place?.uri).toBe("library:/wheel.trammel");
  const [hint] = await ask<{ tooltip?: { value: string } }[]>(
    "textDocument/inlayHint",
    "build.trammel",
    {
      range: { start: { line: 0, character: 0 }, end: { line: 1, character: 0 } },
    },
  );
  expect(hint?.tooltip?.value).toContain("backspace = overall_width / 2 + offset");
});

test("positions count as an editor counts them: letters beyond the plane, and both ends of a line", async () => {
  await start({});
  const text = 'wheel w "Ø 🛞 räder" {\r\n  ofset: 18 mm\r\n}\r\n';
  await editor.open("build.trammel", text);
  const [finding] = await editor.diagnostics("build.trammel");
  expect(finding?.range).toEqual({
    start: { line: 1, character: 2 },
    end: { line: 1, character: 7 },
  });
  await editor.open("one-line.trammel", 'wheel w "🛞🛞" { ofset: 18 mm }\n');
  const [beside] = await editor.diagnostics("one-line.trammel");
  expect(beside?.range.start.character).toBe('wheel w "🛞🛞" { '.length);
});
