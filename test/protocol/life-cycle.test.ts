/** The life of documents over stdio, against the built server: where language servers break. */

import { afterEach, expect, test } from "vitest";
import {
  CancellationTokenSource,
  DocumentDiagnosticRequest,
  FileChangeType,
  InlayHintRequest,
} from "vscode-languageserver-protocol/node";
import { type Editor, type EditorOptions, eventually, startEditor } from "./editor";

const wheels = `wheel rear_wheel {
  size: 17x9
  offset: 18 mm
}
`;

const build = `use "parts/wheels.trammel"

wheel spare {
  size: 17x9
  offset: 18 mm
  backspace: ?
}

check "the two are alike": spare.offset == rear_wheel.offset
`;

let editor: Editor;

async function start(files: Record<string, string>, options?: EditorOptions): Promise<void> {
  editor = await startEditor(files, options);
}

afterEach(async () => {
  const { log } = editor;
  await editor.stop();
  // Whatever is caught inside of the server is logged: nothing may be.
  expect(log).toEqual([]);
});

test("a build without anything wrong has no findings, and its value beside the line", async () => {
  await start({ "parts/wheels.trammel": wheels });
  await editor.open("build.trammel", build);
  expect(await editor.findings("build.trammel")).toEqual([]);
  // (9 in + 2 x 0.5 in) / 2 + 18 mm = 145 mm
  expect(await editor.hints("build.trammel")).toEqual(["= 145 mm, flange assumed"]);
});

test("an edit changes findings and values, and taking it back brings them back", async () => {
  await start({ "parts/wheels.trammel": wheels });
  await editor.open("build.trammel", build);
  await editor.change("build.trammel", "offset: 18 mm", "offset: 18");
  expect(await editor.findings("build.trammel")).toContain("unit/missing");
  await editor.change("build.trammel", "offset: 18\n", "offset: 18 mm\n");
  expect(await editor.findings("build.trammel")).toEqual([]);
});

test("edits of a used file count before they are saved, and are forgotten when it is closed", async () => {
  await start({ "parts/wheels.trammel": wheels });
  await editor.open("build.trammel", build);
  expect(await editor.findings("build.trammel")).toEqual([]);
  await editor.open("parts/wheels.trammel", wheels);
  const before = editor.refreshes;
  await editor.change("parts/wheels.trammel", "18 mm", "20 mm");
  expect(await editor.findings("build.trammel")).toEqual(["check/own"]);
  await eventually(
    () => editor.refreshes,
    (count) => count > before,
  );
  await editor.close("parts/wheels.trammel");
  expect(await editor.findings("build.trammel")).toEqual([]);
});

test("a used file that is deleted, comes back and changes on the disk is noticed", async () => {
  await start({ "parts/wheels.trammel": wheels });
  await editor.open("build.trammel", build);
  expect(await editor.findings("build.trammel")).toEqual([]);
  await editor.remove("parts/wheels.trammel", FileChangeType.Deleted);
  expect(await editor.findings("build.trammel")).toContain("use/missing");
  await editor.write("parts/wheels.trammel", wheels, FileChangeType.Created);
  expect(await editor.findings("build.trammel")).toEqual([]);
  await editor.write(
    "parts/wheels.trammel",
    wheels.replace("18 mm", "20 mm"),
    FileChangeType.Changed,
  );
  expect(await editor.findings("build.trammel")).toEqual(["check/own"]);
});

test("a renamed document leaves nothing behind", async () => {
  await start({ "parts/wheels.trammel": wheels }, { pull: false });
  const broken = build.replace("offset: 18 mm", "offset: 18");
  await editor.open("build.trammel", broken);
  const last = (path: string) => editor.pushed.get(editor.uri(path))?.at(-1);
  await eventually(
    () => last("build.trammel")?.length ?? 0,
    (count) => count > 0,
  );
  await editor.close("build.trammel");
  await editor.open("van.trammel", broken);
  expect(
    await eventually(
      () => last("build.trammel")?.length,
      (count) => count === 0,
    ),
  ).toBe(0);
  await eventually(
    () => last("van.trammel")?.length ?? 0,
    (count) => count > 0,
  );
});

test("an editor that does not ask for findings is told them, once for a row of edits", async () => {
  await start({ "parts/wheels.trammel": wheels }, { pull: false });
  await editor.open("build.trammel", build);
  for (let size = 18; size < 38; size++) {
    await editor.change("build.trammel", `size: ${size - 1}x9`, `size: ${size}x9`);
  }
  await editor.change("build.trammel", "offset: 18 mm", "offset: 18");
  const told = () => editor.pushed.get(editor.uri("build.trammel")) ?? [];
  await eventually(
    () =>
      told()
        .at(-1)
        ?.some((each) => each.code === "unit/missing"),
    (found) => found === true,
  );
  // 22 texts came: each was replaced by a later one before it was read, as far as they came at once.
  expect(told().length).toBeLessThan(8);
});

test("a question taken back does not cost the findings that are asked for next", async () => {
  await start({ "parts/wheels.trammel": wheels });
  await editor.open("build.trammel", build.replace("offset: 18 mm", "offset: 18"));
  const uri = editor.uri("build.trammel");
  const source = new CancellationTokenSource();
  const asked = editor.connection
    .sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri } }, source.token)
    .then(
      () => "answered",
      () => "cancelled",
    );
  source.cancel();
  expect(await asked).toBe("cancelled");
  expect(await editor.findings("build.trammel")).toContain("unit/missing");
});

test("findings that did not change are not sent again", async () => {
  await start({ "parts/wheels.trammel": wheels });
  await editor.open("build.trammel", build);
  const textDocument = { uri: editor.uri("build.trammel") };
  const first = await editor.connection.sendRequest(DocumentDiagnosticRequest.type, {
    textDocument,
  });
  const again = await editor.connection.sendRequest(DocumentDiagnosticRequest.type, {
    textDocument,
    previousResultId: first.resultId,
  });
  expect(again.kind).toBe("unchanged");
  await editor.change("build.trammel", "offset: 18 mm", "offset: 18");
  const changed = await editor.connection.sendRequest(DocumentDiagnosticRequest.type, {
    textDocument,
    previousResultId: first.resultId,
  });
  expect(changed.kind).toBe("full");
});

test("values stay beside their lines while a line is half-typed, as what they were", async () => {
  await start({ "parts/wheels.trammel": wheels });
  await editor.open("build.trammel", build);
  expect(await editor.hints("build.trammel")).toEqual(["= 145 mm, flange assumed"]);
  await editor.change("build.trammel", "offset: 18 mm", "offset: 18 mm +");
  expect(await editor.findings("build.trammel")).not.toEqual([]);
  expect(await editor.hints("build.trammel")).toEqual(["was 145 mm, flange assumed"]);
  await editor.change("build.trammel", "18 mm +", "20 mm");
  expect(await editor.hints("build.trammel")).toEqual(["= 147 mm, flange assumed"]);
});

test("only the lines asked for are answered", async () => {
  await start({});
  await editor.open(
    "build.trammel",
    "wheel a {\n  size: 17x9\n  offset: 1 in\n  backspace: ?\n  frontspace: ?\n}\n",
  );
  const hints = await editor.connection.sendRequest(InlayHintRequest.type, {
    textDocument: { uri: editor.uri("build.trammel") },
    range: { start: { line: 4, character: 0 }, end: { line: 4, character: 20 } },
  });
  expect(hints?.map((hint) => hint.position.line)).toEqual([4]);
});

test("settings change units and what is shown, and bad ones do not matter", async () => {
  let settings: unknown = { display: { system: "metric" } };
  await start({}, { settings: () => settings });
  await editor.open("build.trammel", "wheel a { size: 17x9; offset: 1 in; backspace: ? }\n");
  // (9 in + 1 in) / 2 + 1 in = 6 in
  expect(await editor.hints("build.trammel")).toEqual(["= 152.4 mm, flange assumed"]);
  settings = { display: { system: "furlongs" }, hints: 7 };
  await editor.connection.sendNotification("workspace/didChangeConfiguration", { settings: null });
  expect(await editor.hints("build.trammel")).toEqual(["= 6 in, flange assumed"]);
  settings = { hints: { asked: false, headlines: false } };
  await editor.connection.sendNotification("workspace/didChangeConfiguration", { settings: null });
  expect(await editor.hints("build.trammel")).toEqual([]);
});

test("texts that are no builds are answered like any other", async () => {
  await start({});
  const texts = [
    "",
    "\uFEFF",
    "\0\0\0",
    "}}}}{{{{",
    "axle rear {\r\n  left {\r\n",
    `"`,
    "?".repeat(2_000),
    "wheel ".repeat(2_000),
  ];
  for (const [index, text] of texts.entries()) {
    const path = `odd-${index}.trammel`;
    await editor.open(path, text);
    expect(Array.isArray(await editor.diagnostics(path))).toBe(true);
    await editor.hints(path);
    for (const method of [
      "hover",
      "completion",
      "definition",
      "documentHighlight",
      "signatureHelp",
      "prepareRename",
    ]) {
      const answer = editor.connection.sendRequest(`textDocument/${method}`, {
        textDocument: { uri: editor.uri(path) },
        position: { line: 0, character: Math.min(text.length, 3) },
      });
      if (method === "prepareRename") await answer.catch(() => null);
      else await answer;
    }
    for (const method of [
      "documentSymbol",
      "foldingRange",
      "documentLink",
      "semanticTokens/full",
      "formatting",
    ]) {
      await editor.connection.sendRequest(`textDocument/${method}`, {
        textDocument: { uri: editor.uri(path) },
        options: { tabSize: 2, insertSpaces: true },
      });
    }
    await editor.close(path);
  }
});

test("what is missing is told at once, and what would settle it when whoever types rests", async () => {
  const text = "wheel w { size: 17x9  backspace: ? }\n";
  await start({ "build.trammel": text });
  await editor.open("build.trammel", text);
  const told = async () =>
    (await editor.diagnostics("build.trammel")).map(({ message }) => message);
  expect(await told()).toEqual(["w.backspace cannot be worked out yet"]);
  expect(await editor.hints("build.trammel")).toEqual(["missing"]);
  await eventually(
    () => editor.refreshes,
    (refreshes) => refreshes === 1,
  );
  expect((await told())[0]).toContain("\ngive w.offset");
  expect((await editor.hints("build.trammel"))[0]).toMatch(/^missing: give offset/);
  // Nothing is told anew where nothing is new.
  await new Promise((resolve) => setTimeout(resolve, 500));
  expect(editor.refreshes).toBe(1);
  // An edit elsewhere keeps it; one that touches it is told without it again.
  await editor.change("build.trammel", "\n", "\nwheel v { size: 15x7 }\n");
  expect((await told())[0]).toContain("\ngive w.offset");
  await editor.change("build.trammel", "17x9", "17x8");
  expect(await told()).toEqual(["w.backspace cannot be worked out yet"]);
});

test("an editor that waits for findings, or cannot be told of more, gets the advice too", async () => {
  const text = "wheel w { size: 17x9  backspace: ? }\n";
  await start({ "build.trammel": text }, { pull: false });
  await editor.open("build.trammel", text);
  await eventually(
    () => String(editor.pushed.get(editor.uri("build.trammel"))?.at(-1)?.[0]?.message),
    (message) => message.includes("\ngive w.offset"),
  );
  await editor.stop();
  await start({ "build.trammel": text }, { refresh: false });
  await editor.open("build.trammel", text);
  const [first] = await editor.diagnostics("build.trammel");
  expect(first?.message).toContain("\ngive w.offset");
});

test("a key pressed while a build is read lets go of that reading: the answer is to the new text", async () => {
  const large = Array.from(
    { length: 6_000 },
    (_, at) => `wheel w${at} { size: 17x9  offset: ${at % 40} mm  backspace: ? }\n`,
  ).join("");
  await start({});
  await editor.open("build.trammel", large);
  const asked = editor.findings("build.trammel");
  await new Promise((resolve) => setTimeout(resolve, 700));
  await editor.change(
    "build.trammel",
    large.slice(large.indexOf("\n") + 1),
    "wheel v { size: 17x9 offset: 18 }\n",
  );
  const begun = performance.now();
  expect(await asked).toContain("unit/missing");
  // Reading all of the first text takes several times as long.
  expect(performance.now() - begun).toBeLessThan(5_000);
  expect(await editor.findings("build.trammel")).toContain("unit/missing");
});
