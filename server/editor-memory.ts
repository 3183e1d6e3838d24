/**
 * What an editor has said so far, as far as a server that begins anew has to know it: how it began,
 * its settings, its folders, and the documents it has open as they stand now.
 *
 * Must not know: what is done with it.
 */
import {
  type DidChangeTextDocumentParams,
  type DidCloseTextDocumentParams,
  type DidOpenTextDocumentParams,
  Message,
  type RequestMessage,
} from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";

export class EditorMemory {
  initialize: RequestMessage | undefined;
  private initialized: Message | undefined;
  private configuration: Message | undefined;
  private readonly folders: Message[] = [];
  private readonly documents = new Map<string, TextDocument>();

  /** What is not as the protocol has it is the server's to answer, and remembered by nobody. */
  note(message: Message): void {
    try {
      this.take(message);
    } catch {
      return;
    }
  }

  private take(message: Message): void {
    if (Message.isRequest(message)) {
      if (message.method === "initialize") this.initialize = message;
    } else if (Message.isNotification(message)) {
      const { method, params } = message;
      switch (method) {
        case "initialized":
          this.initialized = message;
          break;
        case "workspace/didChangeConfiguration":
          this.configuration = message;
          break;
        case "workspace/didChangeWorkspaceFolders":
          this.folders.push(message);
          break;
        case "textDocument/didOpen": {
          const { uri, languageId, version, text } = (params as DidOpenTextDocumentParams)
            .textDocument;
          this.documents.set(uri, TextDocument.create(uri, languageId, version, text));
          break;
        }
        case "textDocument/didChange": {
          const { textDocument, contentChanges } = params as DidChangeTextDocumentParams;
          const before = this.documents.get(textDocument.uri);
          if (before !== undefined)
            TextDocument.update(before, contentChanges, textDocument.version);
          break;
        }
        case "textDocument/didClose":
          this.documents.delete((params as DidCloseTextDocumentParams).textDocument.uri);
          break;
      }
    }
  }

  /** `undefined` where it is not open. */
  versionOf(uri: string): number | undefined {
    return this.documents.get(uri)?.version;
  }

  /** Everything again, in the order an editor would say it; `id` for the answer to the beginning. */
  replay(id: RequestMessage["id"] | undefined): Message[] {
    const { initialize } = this;
    if (initialize === undefined) return [];
    const first: RequestMessage = { ...initialize, id: id ?? initialize.id };
    return [
      first,
      ...(this.initialized === undefined ? [] : [this.initialized]),
      ...this.folders,
      ...(this.configuration === undefined ? [] : [this.configuration]),
      ...[...this.documents.values()].map((each) => ({
        jsonrpc: "2.0",
        method: "textDocument/didOpen",
        params: {
          textDocument: {
            uri: each.uri,
            languageId: each.languageId,
            version: each.version,
            text: each.getText(),
          },
        },
      })),
    ];
  }
}
