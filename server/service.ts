/**
 * The language server on a connection: how it begins, and when builds are read again.
 *
 * Edits are only noted; the text is read when the next question about it comes, so that a row of
 * edits costs one reading, and a question that was taken back costs none.
 *
 * Must not know: the language, the trade, streams and processes.
 */
import {
  type Connection,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  FileChangeType,
} from "vscode-languageserver";
import { fileFilter } from "./abilities";
import type { Library } from "./analysis/library";
import { Answering, type Log } from "./answering";
import { Colors } from "./colors";
import { News } from "./news";
import { answerRequests, promisesTo } from "./requests";
import type { ServiceData } from "./service-messages";
import { Watch } from "./watch";
import { Workspace } from "./workspace";

/**
 * `library` is read when first asked for, once the editor has its answer to the beginning; `reading`
 * is told of each build before it is read.
 */
export function serve(
  connection: Connection,
  library: () => Library,
  { leftAlone, isReplacement, told }: ServiceData,
  reading: (uri: string) => void,
): void {
  const log: Log = (what, error) => {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    connection.console.error(`${what}: ${text}`);
  };
  const answering = new Answering(log);
  const workspace = new Workspace(connection, library, log, new Watch(leftAlone, reading), () =>
    Atomics.load(told, 0),
  );
  const news = new News(connection, workspace, log);
  const colors = new Colors(workspace);
  const readAllAgain = () => {
    workspace.builds.changedAll();
    news.refresh(workspace.documents.keys());
  };

  connection.onInitialize((params) => {
    workspace.begin(params);
    // While the editor is busy with the answer, the library is read.
    setImmediate(library);
    return { serverInfo: { name: "trammel" }, capabilities: promisesTo(workspace.client) };
  });
  connection.onInitialized(async () => {
    await register(connection, workspace, readAllAgain, log);
    // What the editor shows is from a thread that is gone, or not there at all.
    if (isReplacement) readAllAgain();
  });
  connection.onShutdown(() => news.end());
  followDocuments(workspace, news, colors);
  followFiles(connection, workspace, news, readAllAgain);
  connection.onDidChangeConfiguration(({ settings }) => {
    workspace.changeSettings(settings);
    readAllAgain();
  });
  answerRequests({ connection, workspace, news, answering, colors });
  workspace.documents.listen(connection);
  connection.listen();
}

// ───────────────────────────── helpers ─────────────────────────────

/** What only some editors offer, and only after the beginning. */
async function register(
  connection: Connection,
  workspace: Workspace,
  readAllAgain: () => void,
  log: Log,
): Promise<void> {
  const { client, files } = workspace;
  try {
    if (client.folders) {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        workspace.changeFolders(
          added.map((folder) => folder.uri),
          removed.map((folder) => folder.uri),
        );
        readAllAgain();
      });
    }
    if (client.settingsChanges) {
      const { type } = DidChangeConfigurationNotification;
      await connection.client.register(type, { section: "trammel" });
    }
    if (client.watching) {
      const { type } = DidChangeWatchedFilesNotification;
      await connection.client.register(type, { watchers: [{ globPattern: fileFilter }] });
      files.watched = true;
    }
  } catch (error) {
    log("the editor did not take a registration", error);
  }
}

function followDocuments(workspace: Workspace, news: News, colors: Colors): void {
  const { documents, files } = workspace;
  documents.onDidOpen(({ document: { uri } }) => {
    files.open(uri, () => documents.get(uri)?.getText() ?? "");
    workspace.builds.changedAll();
  });
  documents.onDidChangeContent(({ document: { uri } }) => {
    const others = workspace.builds.changed(uri);
    news.push(uri);
    if (others.length > 0) news.refresh(others);
  });
  documents.onDidClose(({ document: { uri } }) => {
    const { builds } = workspace;
    const others = builds.changed(uri);
    files.close(uri);
    builds.close(uri);
    // What a `use` led to may only have been open, never written to the disk.
    builds.changedAll();
    workspace.forgetSettings(uri);
    colors.forget(uri);
    news.takeBack(uri);
    if (others.length > 0) news.refresh(others);
  });
}

function followFiles(
  connection: Connection,
  workspace: Workspace,
  news: News,
  readAllAgain: () => void,
): void {
  connection.onDidChangeWatchedFiles(({ changes }) => {
    const { builds, files } = workspace;
    const others = new Set<string>();
    let cameOrWent = false;
    for (const { uri, type } of changes) {
      files.forget(uri);
      if (type !== FileChangeType.Changed) cameOrWent = true;
      // What is open is read as it is there, whatever is on the disk.
      else if (!files.isOpen(uri)) for (const other of builds.changed(uri)) others.add(other);
    }
    if (cameOrWent) readAllAgain();
    else if (others.size > 0) news.refresh([...others]);
  });
}
