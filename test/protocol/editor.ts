/**
 * An editor for tests: starts the built server on its own process and talks to it as an editor does.
 *
 *     const editor = await startEditor({ "build.trammel": "wheel w { }" });
 *     await editor.open("build.trammel");
 *     expect(await editor.findings("build.trammel")).toEqual([]);
 *     await editor.stop();
 */
import { type ChildProcess, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import {
  type ClientCapabilities,
  createProtocolConnection,
  type Diagnostic,
  DidChangeTextDocumentNotification,
  DidChangeWatchedFilesNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  DocumentDiagnosticRequest,
  ExitNotification,
  type FileChangeType,
  InitializedNotification,
  InitializeRequest,
  type InitializeResult,
  type InlayHint,
  InlayHintRequest,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver-protocol/node";

export const server = join(import.meta.dirname, "..", "..", "dist", "server.js");

export interface EditorOptions {
  /** False for an editor that waits for findings instead of asking for them. */
  readonly pull?: boolean;
  /** False for an editor that cannot be told that there is more to ask for. */
  readonly refresh?: boolean;
  readonly settings?: () => unknown;
  readonly capabilities?: ClientCapabilities;
  /** Another server than the one that was built. */
  readonly server?: string;
}

export class Editor {
  private readonly versions = new Map<string, number>();
  private readonly texts = new Map<string, string>();
  /** What the server pushed, by path. */
  readonly pushed = new Map<string, Diagnostic[][]>();
  readonly log: string[] = [];
  refreshes = 0;
  registered: string[] = [];
  result!: InitializeResult;

  private readonly ended: Promise<number | null>;

  constructor(
    readonly folder: string,
    readonly process: ChildProcess,
    readonly connection: ProtocolConnection,
  ) {
    this.ended = new Promise((resolve) => process.once("exit", resolve));
    // What a server that ended was asked is never answered: whoever waits for it is told.
    void this.ended.then(() => connection.dispose());
  }

  uri(path: string): string {
    return pathToFileURL(join(this.folder, path)).href;
  }

  async open(path: string, text: string): Promise<void> {
    this.versions.set(path, 1);
    this.texts.set(path, text);
    await this.connection.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { uri: this.uri(path), languageId: "trammel", version: 1, text },
    });
  }

  /** The text as the editor has it. */
  text(path: string): string {
    return this.texts.get(path) ?? "";
  }

  /** Replaces the first occurrence of `before` in the open text, as one edit of an editor. */
  async change(path: string, before: string, after: string): Promise<void> {
    const at = this.text(path).indexOf(before);
    if (at < 0) throw new Error(`"${before}" is not in ${path}`);
    await this.replace(path, at, at + before.length, after);
  }

  /** Replaces what stands between two places of the open text. */
  async replace(path: string, at: number, to: number, after: string): Promise<void> {
    const text = this.text(path);
    const position = (offset: number) => {
      const lines = text.slice(0, offset).split("\n");
      return { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
    };
    const version = (this.versions.get(path) ?? 1) + 1;
    this.versions.set(path, version);
    this.texts.set(path, text.slice(0, at) + after + text.slice(to));
    await this.connection.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri: this.uri(path), version },
      contentChanges: [{ range: { start: position(at), end: position(to) }, text: after }],
    });
  }

  async close(path: string): Promise<void> {
    await this.connection.sendNotification(DidCloseTextDocumentNotification.type, {
      textDocument: { uri: this.uri(path) },
    });
  }

  /** Writes to the disk, and tells the server as a watching editor would. */
  async write(path: string, text: string, type: FileChangeType): Promise<void> {
    const file = join(this.folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    await this.tell(path, type);
  }

  async remove(path: string, type: FileChangeType): Promise<void> {
    rmSync(join(this.folder, path));
    await this.tell(path, type);
  }

  private async tell(path: string, type: FileChangeType): Promise<void> {
    await this.connection.sendNotification(DidChangeWatchedFilesNotification.type, {
      changes: [{ uri: this.uri(path), type }],
    });
  }

  async diagnostics(path: string): Promise<Diagnostic[]> {
    const report = await this.connection.sendRequest(DocumentDiagnosticRequest.type, {
      textDocument: { uri: this.uri(path) },
    });
    if (report.kind !== "full") throw new Error("a full report is expected where none was before");
    return report.items;
  }

  /** The codes of the findings, in their order. */
  async findings(path: string): Promise<unknown[]> {
    return (await this.diagnostics(path)).map((diagnostic) => diagnostic.code);
  }

  async hints(path: string): Promise<string[]> {
    const hints: InlayHint[] | null = await this.connection.sendRequest(InlayHintRequest.type, {
      textDocument: { uri: this.uri(path) },
      range: { start: { line: 0, character: 0 }, end: { line: 10_000, character: 0 } },
    });
    return (hints ?? []).map((hint) => String(hint.label));
  }

  async stop(): Promise<void> {
    await this.connection.sendRequest(ShutdownRequest.type);
    await this.connection.sendNotification(ExitNotification.type);
    const code = await this.ended;
    rmSync(this.folder, { recursive: true, force: true });
    if (code !== 0) throw new Error(`the server ended with ${code}: ${this.log.join("\n")}`);
  }
}

/** Starts a server in a folder that holds these files. */
export async function startEditor(
  files: Readonly<Record<string, string>>,
  options: EditorOptions = {},
): Promise<Editor> {
  const folder = mkdtempSync(join(tmpdir(), "trammel-editor-"));
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const child = spawn(process.execPath, [options.server ?? server, "--stdio"], { stdio: "pipe" });
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const editor = new Editor(folder, child, connection);
  child.stderr.on("data", (data) => editor.log.push(String(data)));
  listen(editor, options);
  connection.listen();
  editor.result = await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri: null,
    workspaceFolders: [{ uri: pathToFileURL(folder).href, name: "shop" }],
    capabilities: options.capabilities ?? capabilities(options),
  });
  await connection.sendNotification(InitializedNotification.type, {});
  return editor;
}

/** Asks again until the answer is as wanted; fails with the last answer in the end. */
export async function eventually<T>(
  ask: () => T | Promise<T>,
  wanted: (answer: T) => boolean,
  timeout = 10_000,
): Promise<T> {
  const end = Date.now() + timeout;
  for (;;) {
    const answer = await ask();
    if (wanted(answer)) return answer;
    if (Date.now() > end) throw new Error(`still ${JSON.stringify(answer)} after ${timeout} ms`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function listen(editor: Editor, options: EditorOptions): void {
  const { connection } = editor;
  connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
    editor.pushed.set(uri, [...(editor.pushed.get(uri) ?? []), diagnostics]);
  });
  connection.onNotification("window/logMessage", ({ message }: { message: string }) => {
    editor.log.push(message);
  });
  connection.onRequest("workspace/diagnostic/refresh", () => {
    editor.refreshes++;
    return null;
  });
  connection.onRequest("workspace/inlayHint/refresh", () => null);
  connection.onRequest(
    "client/registerCapability",
    ({ registrations }: { registrations: { method: string }[] }) => {
      editor.registered.push(...registrations.map((each) => each.method));
      return null;
    },
  );
  connection.onRequest("workspace/configuration", ({ items }: { items: unknown[] }) =>
    items.map(() => options.settings?.() ?? null),
  );
}

function capabilities({
  pull = true,
  refresh = true,
  settings,
}: EditorOptions): ClientCapabilities {
  return {
    textDocument: {
      ...(pull ? { diagnostic: { relatedDocumentSupport: false } } : {}),
      completion: { completionItem: { snippetSupport: true } },
      definition: { linkSupport: true },
    },
    workspace: {
      configuration: settings !== undefined,
      diagnostics: { refreshSupport: refresh },
      inlayHint: { refreshSupport: true },
      didChangeWatchedFiles: { dynamicRegistration: true },
      workspaceEdit: { documentChanges: true },
    },
  };
}
