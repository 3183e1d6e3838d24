/**
 * What an editor asks while someone writes, and of names.
 *
 * Must not know: the language, how features come to their answers.
 */
import type { Range, TextEdit } from "vscode-languageserver";
import { format } from "../grammar/format";
import { libraryScheme } from "./analysis/library";
import { refused } from "./answering";
import { completions } from "./features/completion";
import { definition } from "./features/definition";
import { minimalEdits } from "./features/formatting";
import { highlights } from "./features/references";
import { isRefusal, renameAt } from "./features/rename";
import { signatureHelp } from "./features/signature-help";
import { referencesEverywhere, renameEverywhere, symbolsEverywhere } from "./many-files";
import { at, type Request } from "./request";
import type { Workspace } from "./workspace";

export const writing: readonly Request[] = [
  // ── while someone writes ──
  {
    promise: () => ({ completionProvider: { triggerCharacters: [".", ":", " ", '"', "/"] } }),
    listen: ({ connection, answering, workspace }) =>
      connection.onCompletion(
        answering.answer("completion", [], async ({ textDocument: { uri }, position, context }) => {
          const place = await workspace.place(uri, position);
          if (place === undefined) return [];
          const { analysis, offset } = place;
          const before = analysis.sourceOf(uri)?.text.slice(Math.max(0, offset - 3), offset) ?? "";
          // A blank calls for names only where a value or a unit is due.
          if (context?.triggerCharacter === " " && !/[:\d]\s$/.test(before)) return [];
          return completions(analysis, uri, offset, {
            snippets: workspace.client.snippets,
            files: workspace.usableFiles(),
          });
        }),
      ),
  },
  {
    promise: () => ({ signatureHelpProvider: { triggerCharacters: ["(", ","] } }),
    listen: (desk) =>
      desk.connection.onSignatureHelp(
        at(desk, "signature", null, (analysis, uri, offset) => {
          return signatureHelp(analysis, uri, offset) ?? null;
        }),
      ),
  },
  {
    promise: () => ({ documentFormattingProvider: true, documentRangeFormattingProvider: true }),
    listen({ connection, answering, workspace }) {
      connection.onDocumentFormatting(
        answering.answer("layout", null, async ({ textDocument: { uri } }) =>
          laidOut(workspace, uri),
        ),
      );
      connection.onDocumentRangeFormatting(
        answering.answer("layout", null, async ({ textDocument: { uri }, range }) =>
          laidOut(workspace, uri, range),
        ),
      );
    },
  },

  // ── names ──
  {
    promise: () => ({ definitionProvider: true }),
    listen: (desk) =>
      desk.connection.onDefinition(
        at(desk, "definition", null, (analysis, uri, offset) => {
          const links = definition(analysis, uri, offset);
          if (desk.workspace.client.links) return links;
          return links.map(({ targetUri, targetSelectionRange: range }) => ({
            uri: targetUri,
            range,
          }));
        }),
      ),
  },
  {
    promise: () => ({ referencesProvider: true }),
    listen: ({ connection, answering, workspace }) =>
      connection.onReferences(
        answering.answer("references", [], async (params, token) => {
          const { uri } = params.textDocument;
          const place = await workspace.place(uri, params.position);
          if (place === undefined) return [];
          const { includeDeclaration } = params.context;
          return referencesEverywhere(workspace, { ...place, uri }, includeDeclaration, token);
        }),
      ),
  },
  {
    promise: () => ({ documentHighlightProvider: true }),
    listen: (desk) => desk.connection.onDocumentHighlight(at(desk, "highlights", [], highlights)),
  },
  {
    promise: () => ({ renameProvider: { prepareProvider: true } }),
    listen(desk) {
      const { connection, answering, workspace } = desk;
      connection.onPrepareRename(
        at(desk, "rename", null, (analysis, uri, offset) => {
          const place = renameAt(analysis, uri, offset);
          if (isRefusal(place)) throw refused(place.refusal);
          return { range: place.range, placeholder: place.placeholder };
        }),
      );
      connection.onRenameRequest(
        answering.answer(
          "rename",
          null,
          async ({ textDocument: { uri }, position, newName }, token) => {
            const place = await workspace.place(uri, position);
            if (place === undefined) return null;
            return renameEverywhere(workspace, { ...place, uri }, newName, token);
          },
        ),
      );
    },
  },
  {
    promise: () => ({ workspaceSymbolProvider: true }),
    listen: ({ connection, answering, workspace }) =>
      connection.onWorkspaceSymbol(
        answering.answer("symbols", [], async ({ query }, token) =>
          symbolsEverywhere(workspace, query, token),
        ),
      ),
  },
];

// ───────────────────────────── helpers ─────────────────────────────

/** Nothing is changed in a text that cannot be read: moving it about would make it worse. */
function laidOut({ documents }: Workspace, uri: string, range?: Range): TextEdit[] | null {
  const document = documents.get(uri);
  if (document === undefined || uri.startsWith(libraryScheme)) return null;
  const before = document.getText();
  const { text, refused: why } = format(before);
  if (why !== undefined) return null;
  const source = { text: before, positionAt: (at: number) => document.positionAt(at) };
  return minimalEdits(source, text, range);
}
