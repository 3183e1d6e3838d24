/**
 * What an editor can do, as it says at the beginning, and what the server promises it in turn.
 *
 * Must not know: how anything is answered.
 */
import {
  CodeActionKind,
  type InitializeParams,
  type ServerCapabilities,
  TextDocumentSyncKind,
} from "vscode-languageserver";
import { libraryScheme } from "./analysis/library";
import { tokenModifiers, tokenTypes } from "./features/semantic-tokens";

export const fileFilter = "**/*.trammel";

export type Abilities = ReturnType<typeof abilitiesOf>;

/** Everything that was not said is not assumed. */
export function abilitiesOf(params: InitializeParams | undefined) {
  const { textDocument, workspace } = params?.capabilities ?? {};
  return {
    pull: textDocument?.diagnostic !== undefined,
    refreshDiagnostics: workspace?.diagnostics?.refreshSupport === true,
    refreshHints: workspace?.inlayHint?.refreshSupport === true,
    settings: workspace?.configuration === true,
    settingsChanges: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    watching: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    folders: workspace?.workspaceFolders === true,
    versionedEdits: workspace?.workspaceEdit?.documentChanges === true,
    snippets: textDocument?.completion?.completionItem?.snippetSupport === true,
    links: textDocument?.definition?.linkSupport === true,
    lateTooltips: textDocument?.inlayHint?.resolveSupport?.properties.includes("tooltip") === true,
    /** Ours: the editor shows how a build stands. */
    summaries: propertyOf(params?.initializationOptions, "summaries") === true,
  };
}

/** Said at once, since not every editor lets a server say more later. */
export function promisesTo(client: Abilities): ServerCapabilities {
  return {
    textDocumentSync: {
      openClose: true,
      change: TextDocumentSyncKind.Incremental,
      save: false,
    },
    ...(client.pull
      ? {
          diagnosticProvider: {
            identifier: "trammel",
            interFileDependencies: true,
            workspaceDiagnostics: false,
          },
        }
      : {}),
    inlayHintProvider: { resolveProvider: true },
    hoverProvider: true,
    completionProvider: { triggerCharacters: [".", ":", " "] },
    signatureHelpProvider: { triggerCharacters: ["(", ","] },
    definitionProvider: true,
    referencesProvider: true,
    documentHighlightProvider: true,
    renameProvider: { prepareProvider: true },
    documentSymbolProvider: true,
    workspaceSymbolProvider: true,
    codeActionProvider: {
      codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite],
    },
    documentFormattingProvider: true,
    documentRangeFormattingProvider: true,
    foldingRangeProvider: true,
    selectionRangeProvider: true,
    documentLinkProvider: {},
    semanticTokensProvider: {
      legend: { tokenTypes: [...tokenTypes], tokenModifiers: [...tokenModifiers] },
      full: { delta: true },
      range: true,
    },
    workspace: {
      workspaceFolders: { supported: true, changeNotifications: true },
      fileOperations: {
        willRename: {
          filters: [
            { scheme: "file", pattern: { glob: fileFilter, matches: "file" } },
            { scheme: "file", pattern: { glob: "**", matches: "folder" } },
          ],
        },
      },
      textDocumentContent: { schemes: [libraryScheme.slice(0, -1)] },
    },
  };
}

export function propertyOf(value: unknown, name: string): unknown {
  return typeof value === "object" && value !== null
    ? (value as Record<string, unknown>)[name]
    : undefined;
}
