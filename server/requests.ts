/**
 * Which requests there are: for each, what the server promises an editor and which feature answers.
 *
 *     { promise: { hoverProvider: true }, listen: ({ connection, at }) => connection.onHover(…) }
 *
 * Must not know: the language, how features come to their answers.
 */
import {
  type CancellationToken,
  CodeActionKind,
  type Connection,
  type DocumentDiagnosticParams,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
  type Position,
  type Range,
  RequestType,
  type ResponseError,
  type ServerCapabilities,
  TextDocumentSyncKind,
  type TextEdit,
} from "vscode-languageserver";
import { format } from "../grammar/format";
import { type Abilities, fileFilter } from "./abilities";
import type { Analysis } from "./analysis/analysis";
import { libraryScheme, subjectAt } from "./analysis/library";
import { type Answering, cancelled, refused } from "./answering";
import type { Colors } from "./colors";
import { pathOf } from "./disk/file-uri";
import { gitRevision } from "./disk/git-revision";
import { completions } from "./features/completion";
import { definition } from "./features/definition";
import { documentLinks } from "./features/document-links";
import { foldingRanges } from "./features/folding";
import { minimalEdits } from "./features/formatting";
import { readHintData } from "./features/hint-fitting";
import { hover } from "./features/hover";
import { hintTooltip, inlayHints } from "./features/inlay-hints";
import { buildOfForm, formActions, takeInActions } from "./features/measured-form";
import { pictureAnswer } from "./features/picture";
import { quickFixes } from "./features/quick-fixes";
import { recordActions } from "./features/record-step";
import { highlights } from "./features/references";
import { isRefusal, renameAt } from "./features/rename";
import { selectionRanges } from "./features/selection-ranges";
import { tokenModifiers, tokenTypes } from "./features/semantic-tokens";
import { signatureHelp } from "./features/signature-help";
import { documentSymbols } from "./features/symbols";
import {
  editsForMovedFiles,
  referencesEverywhere,
  renameEverywhere,
  symbolsEverywhere,
} from "./many-files";
import {
  libraryFileMethod,
  type PictureAnswer,
  pictureMethod,
  readLibraryFileRequest,
  readPictureRequest,
  readSheetsRequest,
  sheetsMethod,
} from "./messages";
import type { News } from "./news";
import { findingsPage, findingsSubject } from "./report/findings-page";
import { referencePage } from "./report/reference-page";
import { packOf, sheetsHtml } from "./sheets";
import type { Workspace } from "./workspace";

/** One request, or a few that only make sense together. */
interface Request {
  /** What is said of it at the beginning; requests of our own say nothing. */
  readonly promise?: (client: Abilities) => ServerCapabilities;
  listen(desk: Desk): void;
}

/** What answers are made with. */
export interface Desk {
  readonly connection: Connection;
  readonly workspace: Workspace;
  readonly news: News;
  readonly answering: Answering;
  readonly colors: Colors;
}

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

const requests: readonly Request[] = [
  // ── findings ──
  {
    promise: ({ pull }) =>
      pull
        ? {
            diagnosticProvider: {
              identifier: "trammel",
              interFileDependencies: true,
              workspaceDiagnostics: false,
            },
          }
        : {},
    listen: ({ connection, answering, news, workspace }) =>
      connection.languages.diagnostics.on(
        answering.answer<DocumentDiagnosticParams, DocumentDiagnosticReport>(
          "findings",
          { kind: DocumentDiagnosticReportKind.Full, items: [] },
          async ({ textDocument: { uri }, previousResultId }, token) => {
            const read = await workspace.analysis(uri);
            if (token.isCancellationRequested) throw cancelled();
            // Who cannot be told that there is more to ask for gets all of it at once.
            if (read !== undefined && !workspace.client.refreshDiagnostics) {
              await news.advise(read.analysis, uri, () => token.isCancellationRequested);
              if (token.isCancellationRequested) throw cancelled();
            }
            const resultId = workspace.builds.idOf(uri);
            if (read !== undefined && previousResultId === resultId && resultId !== "0") {
              return { kind: DocumentDiagnosticReportKind.Unchanged, resultId };
            }
            const items = news.diagnosticsOf(read?.analysis, uri);
            return { kind: DocumentDiagnosticReportKind.Full, resultId, items };
          },
        ),
      ),
  },
  {
    promise: () => ({
      codeActionProvider: {
        codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite],
      },
    }),
    listen: ({ connection, answering, workspace }) =>
      connection.onCodeAction(
        answering.answer("quick fixes", [], async ({ textDocument: { uri }, range, context }) => {
          const read = await workspace.analysis(uri);
          if (read === undefined) return [];
          const { only, diagnostics } = context;
          const recorder = workspace.recorder(uri, read.settings);
          const fixes = quickFixes(read.analysis, uri, range, {
            diagnostics,
            files: workspace.usableFiles(),
            annotated: workspace.client.annotatedEdits,
          });
          const ofForm = buildOfForm(read.analysis, uri);
          const build = ofForm === undefined ? undefined : await workspace.analysis(ofForm);
          const actions = [
            ...fixes,
            ...(recorder === undefined
              ? []
              : build !== undefined
                ? takeInActions(read.analysis, uri, build.analysis, recorder)
                : [
                    ...recordActions(read.analysis, uri, range, recorder),
                    ...formActions(read.analysis, uri, range, recorder),
                  ]),
          ];
          if (only === undefined) return actions;
          const wanted = (kind = "") =>
            only.some((each) => kind === each || kind.startsWith(`${each}.`));
          return actions.filter(({ kind }) => wanted(kind));
        }),
      ),
  },

  // ── values ──
  {
    promise: () => ({ inlayHintProvider: { resolveProvider: true } }),
    listen({ connection, answering, workspace }) {
      const { inlayHint } = connection.languages;
      inlayHint.on(
        answering.answer("inline values", [], async ({ textDocument: { uri }, range }) => {
          const read = await workspace.analysis(uri);
          if (read === undefined) return [];
          const { analysis, settings } = read;
          const last = workspace.builds.lastWhole(uri);
          const hints = inlayHints(analysis, uri, range, settings.hints, last);
          if (workspace.client.lateTooltips) return hints;
          return hints.map((hint) => {
            const data = readHintData(hint.data);
            return data === undefined
              ? hint
              : { ...hint, tooltip: hintTooltip(analysis, data, last, true) };
          });
        }),
      );
      inlayHint.resolve(
        answering.complete("inline values", async (hint) => {
          const data = readHintData(hint.data);
          const read = data === undefined ? undefined : await workspace.analysis(data.uri);
          if (data === undefined || read === undefined) return hint;
          const last = workspace.builds.lastWhole(data.uri);
          return { ...hint, tooltip: hintTooltip(read.analysis, data, last) };
        }),
      );
    },
  },
  {
    promise: () => ({ hoverProvider: true }),
    listen: (desk) =>
      desk.connection.onHover(
        at(desk, "hover", null, (analysis, uri, offset) => hover(analysis, uri, offset) ?? null),
      ),
  },

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

  // ── what a file consists of ──
  {
    promise: () => ({ documentSymbolProvider: true }),
    listen: (desk) =>
      desk.connection.onDocumentSymbol(
        of(desk, "outline", [], (analysis, uri) => documentSymbols(analysis, uri)),
      ),
  },
  {
    promise: () => ({ documentLinkProvider: {} }),
    listen: (desk) =>
      desk.connection.onDocumentLinks(
        of(desk, "links", [], (analysis, uri) => documentLinks(analysis, uri)),
      ),
  },
  {
    promise: () => ({ foldingRangeProvider: true }),
    listen: (desk) =>
      desk.connection.onFoldingRanges(
        of(desk, "folding", [], (analysis, uri) => {
          const source = analysis.sourceOf(uri);
          return source === undefined ? [] : foldingRanges(source);
        }),
      ),
  },
  {
    promise: () => ({ selectionRangeProvider: true }),
    listen: ({ connection, answering, workspace }) =>
      connection.onSelectionRanges(
        answering.answer("selection", null, async ({ textDocument: { uri }, positions }) => {
          const source = (await workspace.analysis(uri))?.analysis.sourceOf(uri);
          return source === undefined ? null : selectionRanges(source, positions);
        }),
      ),
  },
  {
    promise: () => ({
      semanticTokensProvider: {
        legend: { tokenTypes: [...tokenTypes], tokenModifiers: [...tokenModifiers] },
        full: { delta: true },
        range: true,
      },
    }),
    listen: ({ connection, answering, colors }) => colors.answerOn(connection, answering),
  },

  // ── files ──
  {
    promise: () => ({
      workspace: {
        fileOperations: {
          willRename: {
            filters: [
              { scheme: "file", pattern: { glob: fileFilter, matches: "file" } },
              { scheme: "file", pattern: { glob: "**", matches: "folder" } },
            ],
          },
        },
      },
    }),
    listen: ({ connection, answering, workspace }) =>
      connection.workspace.onWillRenameFiles(
        answering.answer("moved files", null, async ({ files }) =>
          editsForMovedFiles(
            workspace,
            files.map(({ oldUri, newUri }) => ({ from: oldUri, to: newUri })),
          ),
        ),
      ),
  },
  {
    promise: () => ({
      workspace: { textDocumentContent: { schemes: [libraryScheme.slice(0, -1)] } },
    }),
    listen({ connection, answering, workspace }) {
      const content = (uri: string): { text: string } | null => {
        const subject = subjectAt(uri);
        const library = workspace.library();
        const text =
          subject === undefined
            ? library.files.get(uri)?.source.text
            : subject === findingsSubject
              ? findingsPage(library)
              : referencePage(subject, library);
        return text === undefined ? null : { text };
      };
      connection.workspace.textDocumentContent.on(
        answering.answer<{ uri: string }, { text: string } | null>(
          "library",
          null,
          async ({ uri }) => content(uri),
        ),
      );
      connection.onRequest(
        new RequestType<unknown, { text: string } | null, never>(libraryFileMethod),
        answering.answer<unknown, { text: string } | null>("library", null, async (params) => {
          const request = readLibraryFileRequest(params);
          return request === undefined ? null : content(request.uri);
        }),
      );
    },
  },
  // ── pictures and paper, ours alone ──
  {
    listen({ connection, answering, workspace }) {
      connection.onRequest(
        new RequestType<unknown, PictureAnswer | null, never>(pictureMethod),
        answering.answer<unknown, PictureAnswer | null>("picture", null, async (params) => {
          const request = readPictureRequest(params);
          const read = request && (await workspace.analysis(request.uri));
          return request === undefined || read === undefined
            ? null
            : pictureAnswer(read.analysis, request);
        }),
      );
      connection.onRequest(
        new RequestType<unknown, { html: string } | null, never>(sheetsMethod),
        answering.answer<unknown, { html: string } | null>("sheets", null, async (params) => {
          const request = readSheetsRequest(params);
          const read = request && (await workspace.analysis(request.uri));
          if (request === undefined || read === undefined) return null;
          const path = pathOf(request.uri);
          const revision = path === undefined ? undefined : gitRevision(path);
          const { analysis } = read;
          const paper = analysis.style.system === "inch" ? "letter" : "a4";
          const { file, date } = request;
          const known = revision === undefined ? {} : { revision };
          return { html: sheetsHtml(packOf(analysis, { file, date, paper, ...known })) };
        }),
      );
    },
  },
];

// ───────────────────────────── helpers ─────────────────────────────

/** A question about one file. */
function of<R>(
  { answering, workspace }: Desk,
  name: string,
  nothing: R,
  work: (analysis: Analysis, uri: string) => R,
): (
  params: { textDocument: { uri: string } },
  token: CancellationToken,
) => Promise<R | ResponseError<never>> {
  return answering.answer(name, nothing, async ({ textDocument: { uri } }) => {
    const read = await workspace.analysis(uri);
    return read === undefined ? nothing : work(read.analysis, uri);
  });
}

/** A question about one place of a file. */
function at<R>(
  { answering, workspace }: Desk,
  name: string,
  nothing: R,
  work: (analysis: Analysis, uri: string, offset: number) => R,
): (
  params: { textDocument: { uri: string }; position: Position },
  token: CancellationToken,
) => Promise<R | ResponseError<never>> {
  return answering.answer(name, nothing, async ({ textDocument: { uri }, position }) => {
    const place = await workspace.place(uri, position);
    return place === undefined ? nothing : work(place.analysis, uri, place.offset);
  });
}

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
