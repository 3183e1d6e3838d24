/** A build that the server cannot get through: everything else is answered, and it is named. */
import { spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import { type Editor, eventually, server, startEditor } from "./editor";

/** Small blocks of equations with hundreds of answers each, all of which are looked for, none like another. */
const endless = `kind knot "Knot" {
  a: angle
  b: angle
  c: angle
  d: number
  relation "one": sin(a * 50) + cos(b * 40) + sin(c * 30) = d
  relation "two": sin(a * 30) * cos(b * 45) * sin(c * 20) = 0.1
  relation "three": cos(a * 35) + sin(b * 25) * cos(c * 41) = 0.2
}
${Array.from({ length: 2_000 }, (_, index) => `knot k${index} { a: ?; d: ${0.5 + index / 1e5} }`).join("\n")}
`;

const wheel = "wheel w {\n  size: 17x9\n  offset: 18 mm\n  backspace: ?\n}\n";

test("a build that takes for ever is left alone until it is edited, all others are answered", async () => {
  const editor: Editor = await startEditor({});
  try {
    await editor.open("wheel.trammel", wheel);
    expect(await editor.hints("wheel.trammel")).toEqual(["= 145 mm, flange assumed"]);
    await editor.change("wheel.trammel", "18 mm", "20 mm");
    await editor.open("endless.trammel", endless);
    const before = editor.refreshes;
    // It is never answered; the editor is told to ask again.
    await expect(editor.findings("endless.trammel")).rejects.toThrow("begun again");
    await eventually(
      () => editor.refreshes,
      (count) => count > before,
    );
    const [found, ...more] = await editor.diagnostics("endless.trammel");
    expect(more).toEqual([]);
    expect(found?.code).toBe("build/left-alone");
    expect(found?.message).toMatch(/took longer .* left alone until it is edited/);
    expect(editor.log.splice(0).join()).toMatch(/begun again while .*endless\.trammel was read/);
    // The other build is as it was left, edits included.
    expect(await editor.hints("wheel.trammel")).toEqual(["= 147 mm, flange assumed"]);
    expect(await editor.findings("wheel.trammel")).toEqual([]);
    // Mended, it is a build like any other.
    const [opening = ""] = endless.split("knot k0");
    await editor.change(
      "endless.trammel",
      endless.slice(opening.length),
      "wheel v { size: 17x9 }\n",
    );
    expect(await editor.findings("endless.trammel")).toEqual([]);
  } finally {
    await editor.stop();
  }
}, 60_000);

/** A thread that eats all memory over the first text of a build, and says what it was begun with. */
const greedy = `
const { parentPort, workerData } = require("node:worker_threads");
const say = (message) => parentPort.postMessage({ is: "message", message: { jsonrpc: "2.0", ...message } });
parentPort.on("message", ({ is, message }) => {
  if (is !== "message") return parentPort.postMessage({ is: "listening" });
  const { id, method, params } = message;
  if (method === "initialize") return say({ id, result: { capabilities: {} } });
  if (method === "shutdown") return say({ id, result: null });
  if (method === "exit") return process.exit(0);
  if (method !== "textDocument/diagnostic") return;
  const { uri } = params.textDocument;
  const known = workerData.leftAlone.find((each) => each.uri === uri);
  if (known !== undefined)
    return say({ id, result: { kind: "full", items: [{ message: known.why + " " + known.version }] } });
  parentPort.postMessage({ is: "reading", uri });
  const eaten = [];
  for (;;) eaten.push(new Array(10_000).fill(eaten.length));
});
`;

test("a thread that runs out of memory is replaced, with the build and its version named", async () => {
  const folder = mkdtempSync(join(tmpdir(), "trammel-greedy-"));
  for (const name of ["server.js", "supervising.js"])
    copyFileSync(join(dirname(server), name), join(folder, name));
  writeFileSync(join(folder, "service.js"), greedy);
  const editor = await startEditor({}, { server: join(folder, "server.js") });
  try {
    await editor.open("build.trammel", wheel);
    await editor.change("build.trammel", "18 mm", "20 mm");
    await expect(editor.findings("build.trammel")).rejects.toThrow("begun again");
    const [said] = await editor.diagnostics("build.trammel");
    expect(said?.message).toBe("memory 2");
    editor.log.splice(0);
  } finally {
    await editor.stop();
    rmSync(folder, { recursive: true });
  }
}, 60_000);

test("threads that die before they read anything are not begun for ever", async () => {
  const folder = mkdtempSync(join(tmpdir(), "trammel-dying-"));
  for (const name of ["server.js", "supervising.js"])
    copyFileSync(join(dirname(server), name), join(folder, name));
  writeFileSync(join(folder, "service.js"), "throw new Error('not today');");
  const child = spawn(process.execPath, [join(folder, "server.js"), "--stdio"], { stdio: "pipe" });
  const code = await new Promise((resolve) => child.once("exit", resolve));
  expect(code).toBe(1);
  rmSync(folder, { recursive: true });
}, 60_000);
