/**
 * A long day at the editor: several builds open that share their parts, all of them typed into at
 * random, questions taken back among them. Whatever has been typed, the server says what a fresh
 * one says of the same texts, and it does not grow. A short day here; `npm run soak` is an hour.
 */
import { appendFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import {
  CancellationTokenSource,
  DocumentDiagnosticRequest,
  SemanticTokensRequest,
} from "vscode-languageserver-protocol/node";
import { type Editor, startEditor } from "./editor";

const edits = Number(process.env.SOAK_EDITS ?? 80);
const seed = Number(process.env.SOAK_SEED ?? 1);
/** So often it is compared with a fresh one. */
const comparedEach = Math.max(40, Math.round(edits / 40));
/** In megabytes, both threads and all that Node needs by itself. */
const mostMemory = 900;
/** In seconds, on a machine that is busy with something else. */
const longestAnswer = 300;
/** Where a long day writes down where it stands. */
const folder = process.env.SOAK_FOLDER;

const parts = {
  "parts/wheels.trammel": `wheel rear_wheel { size: 17x8; offset: 12 mm }
tire rear_tire { size: 255/60R17 }
brake rear_disc { hat_thickness: 0.310 in ± 0.004 in }
`,
};

const build = (gap: string, extra: string): string => `use "parts/wheels.trammel"
display { length: in 1/32 }
housing rear_housing {
  standoff: 2.380 in ± 0.008 in
  face_to_face: ?
}
axle rear {
  tire: rear_tire
  wheel: rear_wheel
  brake: rear_disc
  housing: rear_housing
  left { inner_limit: 23 1/2 in; inner_gap: ${gap} }
  right { inner_limit: 23 3/8 in; inner_gap: ${gap} }
}
${extra}`;

const builds: Readonly<Record<string, string>> = {
  "a.trammel": build("1 in", 'check "wide": rear.mount_width >= 50 in\n'),
  "b.trammel": build("7/8 in", "option wide { rear_wheel.offset: -6 mm; rear.track: ? }\n"),
  "c.trammel": build(
    "15/16 in",
    'kind box "Box" { side: length; volume: volume; relation "cube": volume = side * side * side }\nbox crate { side: 3 in; volume: ? }\n',
  ),
};
const texts: Readonly<Record<string, string>> = { ...parts, ...builds };
const paths = Object.keys(texts);

/** What people and cats type. */
const typed = [
  "1",
  "7",
  " in",
  " mm",
  " ",
  "\n",
  "{",
  "}",
  "[",
  '"',
  "#",
  "?",
  " ± 1/32 in",
  "rear.",
  "offset: 3 mm",
  "wheel extra { size: 16x7; offset: 1 in; backspace: ? }\n",
  'use "parts/wheels.trammel"\n',
  "±",
  "½",
];

test(`${edits} edits`, { timeout: 4 * 3_600_000 }, async () => {
  const random = randoms(seed);
  // Asked for findings they give all of them at once, however soon they are asked.
  const editor = await startEditor({}, { refresh: false });
  for (const path of paths) await editor.open(path, texts[path] ?? "");
  let first = 0;
  for (let edit = 1; edit <= edits; edit++) {
    await type(editor, random);
    note(editor, edit);
    await answered(ask(editor, random), edit);
    if (edit === Math.ceil(edits / 10)) first = memoryOf(editor);
    if (edit % comparedEach === 0 || edit === edits)
      await answered(compareWithFresh(editor, edit), edit);
  }
  const last = memoryOf(editor);
  expect(last).toBeLessThan(mostMemory);
  // What is kept of the first edits is kept once: a long day does not cost more than a short one.
  expect(last - first).toBeLessThan(mostMemory / 2);
  expect(editor.log).toEqual([]);
  await editor.stop();
});

// ───────────────────────────── helpers ─────────────────────────────

/** Of a long day, where it stands and with which texts. */
function note(editor: Editor, edit: number): void {
  if (folder === undefined) return;
  const texts = Object.fromEntries(paths.map((path) => [path, editor.text(path)]));
  writeFileSync(join(folder, "texts.json"), JSON.stringify({ edit, texts }, undefined, 1));
  if (edit % 20 !== 0) return;
  const line = `${new Date().toISOString()} ${edit} of ${edits}, ${Math.round(memoryOf(editor))} MB\n`;
  appendFileSync(join(folder, "log.txt"), line);
}

/** A server that says no more is told, not waited for. */
async function answered(asked: Promise<void>, edit: number): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    const why = `edit ${edit} of ${seed} is not answered after ${longestAnswer} s`;
    timer = setTimeout(() => reject(new Error(why)), longestAnswer * 1_000);
  });
  try {
    await Promise.race([asked, late]);
  } finally {
    clearTimeout(timer);
  }
}

/** One edit of one file: a few letters in, a stretch out, or the whole text as it was. */
async function type(editor: Editor, random: (below: number) => number): Promise<void> {
  const path = paths[random(paths.length)] ?? "";
  const text = editor.text(path);
  const at = random(text.length + 1);
  switch (random(6)) {
    case 0:
      return editor.replace(path, 0, text.length, texts[path] ?? "");
    case 1:
      return editor.replace(path, at, Math.min(text.length, at + random(12)), "");
    case 2: {
      const digits = [...text.matchAll(/\d/g)];
      const digit = digits[random(digits.length)]?.index ?? 0;
      return editor.replace(path, digit, Math.min(text.length, digit + 1), String(random(10)));
    }
    default:
      return editor.replace(path, at, at, typed[random(typed.length)] ?? "");
  }
}

/** As editors ask after an edit, of any of the files; now and then a question is taken back. */
async function ask(editor: Editor, random: (below: number) => number): Promise<void> {
  const path = Object.keys(builds)[random(3)] ?? "";
  const textDocument = { uri: editor.uri(path) };
  if (random(4) === 0) {
    const source = new CancellationTokenSource();
    const asked = editor.connection
      .sendRequest(DocumentDiagnosticRequest.type, { textDocument }, source.token)
      .catch(() => undefined);
    source.cancel();
    await asked;
    return;
  }
  await Promise.all([
    editor.diagnostics(path),
    editor.hints(path),
    editor.connection.sendRequest(SemanticTokensRequest.type, { textDocument }),
  ]);
}

async function compareWithFresh(editor: Editor, edit: number): Promise<void> {
  const fresh = await startEditor({}, { refresh: false });
  for (const path of paths) await fresh.open(path, editor.text(path));
  for (const path of paths) {
    expect({ edit, path, found: await said(editor, path) }).toEqual({
      edit,
      path,
      found: await said(fresh, path),
    });
  }
  await fresh.stop();
}

/** What a reader sees of a file. What stood beside broken text before, only the one knows who was there. */
async function said(editor: Editor, path: string): Promise<unknown> {
  const textDocument = { uri: editor.uri(path) };
  const found = (await editor.diagnostics(path)).map(({ code, message, range }) => ({
    code,
    message,
    range,
  }));
  const hints = await editor.hints(path);
  const tokens = await editor.connection.sendRequest(SemanticTokensRequest.type, { textDocument });
  const isBroken = found.some(({ code }) => String(code).startsWith("syntax/"));
  return { found, tokens: tokens?.data, ...(isBroken ? {} : { hints }) };
}

/** In megabytes; 0 where the system does not tell. */
function memoryOf({ process: { pid } }: Editor): number {
  try {
    const status = readFileSync(`/proc/${pid}/status`, "utf8");
    return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024;
  } catch {
    return 0;
  }
}

/** A row of numbers below a limit, the same each time (Lehmer's generator, Park and Miller 1988). */
function randoms(from: number): (below: number) => number {
  let state = (from % 2_147_483_646) + 1;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return below <= 0 ? 0 : state % below;
  };
}
