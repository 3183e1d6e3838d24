/**
 * What is promised is answered, and nothing else is: every request an editor may send of itself, with
 * the capability that allows it. Source: Language Server Protocol 3.18, "Server Capabilities" and the
 * sections of the requests (https://microsoft.github.io/language-server-protocol).
 */
import { afterEach, expect, test } from "vitest";
import { ErrorCodes, ResponseError } from "vscode-languageserver-protocol/node";
import { type Editor, startEditor } from "./editor";

const build = "wheel rear_wheel {\n  size: 17x9\n  offset: 18 mm\n}\n";

const requests: Readonly<Record<string, string>> = {
  "textDocument/hover": "hoverProvider",
  "textDocument/completion": "completionProvider",
  "completionItem/resolve": "completionProvider.resolveProvider",
  "textDocument/signatureHelp": "signatureHelpProvider",
  "textDocument/declaration": "declarationProvider",
  "textDocument/definition": "definitionProvider",
  "textDocument/typeDefinition": "typeDefinitionProvider",
  "textDocument/implementation": "implementationProvider",
  "textDocument/references": "referencesProvider",
  "textDocument/documentHighlight": "documentHighlightProvider",
  "textDocument/documentSymbol": "documentSymbolProvider",
  "textDocument/codeAction": "codeActionProvider",
  "codeAction/resolve": "codeActionProvider.resolveProvider",
  "textDocument/codeLens": "codeLensProvider",
  "codeLens/resolve": "codeLensProvider.resolveProvider",
  "textDocument/documentLink": "documentLinkProvider",
  "documentLink/resolve": "documentLinkProvider.resolveProvider",
  "textDocument/documentColor": "colorProvider",
  "textDocument/formatting": "documentFormattingProvider",
  "textDocument/rangeFormatting": "documentRangeFormattingProvider",
  "textDocument/rangesFormatting": "documentRangeFormattingProvider.rangesSupport",
  "textDocument/onTypeFormatting": "documentOnTypeFormattingProvider",
  "textDocument/rename": "renameProvider",
  "textDocument/prepareRename": "renameProvider.prepareProvider",
  "textDocument/foldingRange": "foldingRangeProvider",
  "textDocument/selectionRange": "selectionRangeProvider",
  "textDocument/linkedEditingRange": "linkedEditingRangeProvider",
  "textDocument/prepareCallHierarchy": "callHierarchyProvider",
  "textDocument/prepareTypeHierarchy": "typeHierarchyProvider",
  "textDocument/semanticTokens/full": "semanticTokensProvider.full",
  "textDocument/semanticTokens/full/delta": "semanticTokensProvider.full.delta",
  "textDocument/semanticTokens/range": "semanticTokensProvider.range",
  "textDocument/moniker": "monikerProvider",
  "textDocument/inlayHint": "inlayHintProvider",
  "inlayHint/resolve": "inlayHintProvider.resolveProvider",
  "textDocument/inlineValue": "inlineValueProvider",
  "textDocument/inlineCompletion": "inlineCompletionProvider",
  "textDocument/diagnostic": "diagnosticProvider",
  "workspace/diagnostic": "diagnosticProvider.workspaceDiagnostics",
  "workspace/symbol": "workspaceSymbolProvider",
  "workspaceSymbol/resolve": "workspaceSymbolProvider.resolveProvider",
  "workspace/executeCommand": "executeCommandProvider",
  "workspace/willCreateFiles": "workspace.fileOperations.willCreate",
  "workspace/willRenameFiles": "workspace.fileOperations.willRename",
  "workspace/willDeleteFiles": "workspace.fileOperations.willDelete",
  "workspace/textDocumentContent": "workspace.textDocumentContent",
};

let editor: Editor;

afterEach(async () => {
  await editor.stop();
});

function isPromised(path: string): boolean {
  let at: unknown = editor.result.capabilities;
  for (const name of path.split(".")) {
    if (typeof at !== "object" || at === null) return false;
    at = (at as Record<string, unknown>)[name];
  }
  return at !== undefined && at !== null && at !== false;
}

async function isAnswered(method: string): Promise<boolean> {
  const start = { line: 1, character: 2 };
  const uri = editor.uri("build.trammel");
  const params = {
    textDocument: { uri },
    position: start,
    positions: [start],
    range: { start, end: start },
    ranges: [{ start, end: start }],
    context: { diagnostics: [], includeDeclaration: true },
    options: { tabSize: 2, insertSpaces: true },
    newName: "other_wheel",
    previousResultId: "",
    previousResultIds: [],
    query: "",
    files: [],
    uri,
    label: "",
    title: "",
    name: "",
    command: "",
    ch: "}",
  };
  try {
    await editor.connection.sendRequest(method, params);
    return true;
  } catch (error) {
    if (!(error instanceof ResponseError)) throw error;
    return error.code !== ErrorCodes.MethodNotFound;
  }
}

test("every request that is promised is answered, and no other", async () => {
  editor = await startEditor({ "build.trammel": build });
  await editor.open("build.trammel", build);
  const answered: Record<string, boolean> = {};
  const promised: Record<string, boolean> = {};
  for (const [method, capability] of Object.entries(requests)) {
    answered[method] = await isAnswered(method);
    promised[method] = isPromised(capability);
  }
  expect(answered).toEqual(promised);
  expect(Object.values(answered).filter(Boolean).length).toBeGreaterThan(20);
});

test("nothing is promised that no request of these stands for", async () => {
  editor = await startEditor({});
  const known = new Set(Object.values(requests).map((path) => path.split(".")[0]));
  const others = Object.keys(editor.result.capabilities).filter((name) => !known.has(name));
  expect(others.sort()).toEqual(["textDocumentSync"]);
});
