/**
 * How long a language server takes from being started to the first findings of an open file, as an
 * editor sees it: process, handshake, file, answer.
 */
import { spawn } from "node:child_process";
import {
  ConfigurationRequest,
  createProtocolConnection,
  DidOpenTextDocumentNotification,
  DocumentDiagnosticRequest,
  ExitNotification,
  InitializedNotification,
  InitializeRequest,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  RegistrationRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver-protocol/node";

export interface Server {
  readonly args: readonly string[];
  readonly language: string;
  /** True for one that is asked for findings, false for one that sends them by itself. */
  readonly asked: boolean;
  /** Answers to questions for settings, by section. */
  readonly settings: (section: string | undefined) => unknown;
}

/** Milliseconds; the server is ended in good order afterwards. */
export async function timeToFindings(
  { args, language, asked, settings }: Server,
  folderUri: string,
  uri: string,
  text: string,
): Promise<number> {
  const start = performance.now();
  const child = spawn(process.execPath, [...args, "--stdio"], { stdio: "pipe" });
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  try {
    connection.onRequest(ConfigurationRequest.type, ({ items }) =>
      items.map(({ section }) => settings(section)),
    );
    connection.onRequest(RegistrationRequest.type, () => undefined);
    const pushed = new Promise<void>((resolve) => {
      connection.onNotification(PublishDiagnosticsNotification.type, (sent) => {
        if (sent.uri === uri) resolve();
      });
    });
    connection.listen();
    await connection.sendRequest(InitializeRequest.type, {
      processId: process.pid,
      rootUri: folderUri,
      workspaceFolders: [{ uri: folderUri, name: "shop" }],
      capabilities: {
        workspace: {
          configuration: true,
          didChangeConfiguration: { dynamicRegistration: true },
          didChangeWatchedFiles: { dynamicRegistration: true },
          workspaceFolders: true,
        },
        textDocument: asked ? { diagnostic: {} } : { publishDiagnostics: {} },
      },
    });
    await connection.sendNotification(InitializedNotification.type, {});
    await connection.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { uri, languageId: language, version: 1, text },
    });
    if (asked) await findingsOf(connection, uri);
    else await pushed;
    const time = performance.now() - start;
    await connection.sendRequest(ShutdownRequest.type);
    await connection.sendNotification(ExitNotification.type);
    await ended;
    return time;
  } finally {
    connection.dispose();
    child.kill();
  }
}

// ───────────────────────────── helpers ─────────────────────────────

async function findingsOf(connection: ProtocolConnection, uri: string): Promise<void> {
  const report = await connection.sendRequest(DocumentDiagnosticRequest.type, {
    textDocument: { uri },
  });
  if (report.kind !== "full") throw new Error("a full report is expected where none was before");
}
