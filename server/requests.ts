/**
 * All requests there are, in one table: what the server promises an editor, and what it answers.
 *
 * Must not know: the language, what any of them is.
 */
import { type ServerCapabilities, TextDocumentSyncKind } from "vscode-languageserver";
import type { Abilities } from "./abilities";
import type { Desk, Request } from "./request";
import { ofFiles } from "./requests-files";
import { showing } from "./requests-showing";
import { writing } from "./requests-writing";

const requests: readonly Request[] = [...showing, ...writing, ...ofFiles];

/** What the server promises: every request's own, and how texts and folders reach it. */
export function promisesTo(client: Abilities): ServerCapabilities {
  const promised: ServerCapabilities = {
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: false },
  };
  const ofWorkspace = { workspaceFolders: { supported: true, changeNotifications: true } };
  for (const { promise } of requests) {
    const { workspace, ...others } = promise?.(client) ?? {};
    Object.assign(promised, others);
    Object.assign(ofWorkspace, workspace);
  }
  return { ...promised, workspace: ofWorkspace };
}

export function answerRequests(desk: Desk): void {
  for (const request of requests) request.listen(desk);
}
