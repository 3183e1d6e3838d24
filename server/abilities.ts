/**
 * What an editor can do, as it says at the beginning.
 *
 * Must not know: how anything is answered.
 */
import type { InitializeParams } from "vscode-languageserver";

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
    /** What there is to know before a change is done is shown with it. */
    annotatedEdits:
      workspace?.workspaceEdit?.documentChanges === true &&
      workspace.workspaceEdit.changeAnnotationSupport !== undefined,
    createsFiles:
      workspace?.workspaceEdit?.documentChanges === true &&
      workspace.workspaceEdit.resourceOperations?.includes("create") === true,
    snippets: textDocument?.completion?.completionItem?.snippetSupport === true,
    links: textDocument?.definition?.linkSupport === true,
    /** What a change is to be may be worked out when it is taken. */
    lateEdits: textDocument?.codeAction?.resolveSupport?.properties.includes("edit") === true,
    lateTooltips: textDocument?.inlayHint?.resolveSupport?.properties.includes("tooltip") === true,
    /** Ours: the editor shows how a build stands. */
    summaries: propertyOf(params?.initializationOptions, "summaries") === true,
  };
}

export function propertyOf(value: unknown, name: string): unknown {
  return typeof value === "object" && value !== null
    ? (value as Record<string, unknown>)[name]
    : undefined;
}
