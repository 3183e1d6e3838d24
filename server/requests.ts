/**
 * Which requests there are, and which feature answers each.
 *
 * Must not know: the language, how features come to their answers.
 */
import {
  type CancellationToken,
  type Connection,
  type DocumentDiagnosticParams,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
  type Position,
  type Range,
  RequestType,
  type ResponseError,
  type TextEdit,
} from "vscode-languageserver";
import { format } from "../grammar/format";
import type { SourceFile } from "../grammar/syntax";
import type { Analysis } from "./analysis/analysis";
import { libraryScheme } from "./analysis/library";
import { type Answering, cancelled, refused } from "./answering";
import { completions } from "./features/completion";
import { definition } from "./features/definition";
import { documentLinks } from "./features/document-links";
import { foldingRanges } from "./features/folding";
import { minimalEdits } from "./features/formatting";
import { hover } from "./features/hover";
import { hintTooltip, inlayHints, readHintData } from "./features/inlay-hints";
import { quickFixes } from "./features/quick-fixes";
import { highlights } from "./features/references";
import { isRefusal, renameAt } from "./features/rename";
import { selectionRanges } from "./features/selection-ranges";
import { signatureHelp } from "./features/signature-help";
import { documentSymbols } from "./features/symbols";
import {
  editsForMovedFiles,
  referencesEverywhere,
  renameEverywhere,
  symbolsEverywhere,
} from "./many-files";
import { libraryFileMethod, readLibraryFileRequest } from "./messages";
import type { News } from "./news";
import type { Workspace } from "./workspace";

export class Requests {
  constructor(
    private readonly workspace: Workspace,
    private readonly news: News,
    private readonly answering: Answering,
  ) {}

  answerOn(connection: Connection): void {
    this.answerFindings(connection);
    this.answerHints(connection);
    this.answerWriting(connection);
    this.answerNames(connection);
    this.answerShape(connection);
    this.answerFiles(connection);
  }

  private answerFindings(connection: Connection): void {
    const { answering, news, workspace } = this;
    connection.languages.diagnostics.on(
      answering.answer<DocumentDiagnosticParams, DocumentDiagnosticReport>(
        "findings",
        { kind: DocumentDiagnosticReportKind.Full, items: [] },
        async ({ textDocument: { uri }, previousResultId }, token) => {
          const read = await workspace.analysis(uri);
          if (token.isCancellationRequested) throw cancelled();
          const resultId = workspace.builds.idOf(uri);
          if (read !== undefined && previousResultId === resultId && resultId !== "0") {
            return { kind: DocumentDiagnosticReportKind.Unchanged, resultId };
          }
          const items = read === undefined ? [] : news.diagnosticsOf(read.analysis, uri);
          return { kind: DocumentDiagnosticReportKind.Full, resultId, items };
        },
      ),
    );
    connection.onCodeAction(
      answering.answer("quick fixes", [], async ({ textDocument: { uri }, range, context }) => {
        const read = await workspace.analysis(uri);
        if (read === undefined) return [];
        const { only, diagnostics } = context;
        const actions = quickFixes(read.analysis, uri, range, diagnostics);
        if (only === undefined) return actions;
        const wanted = (kind = "") =>
          only.some((each) => kind === each || kind.startsWith(`${each}.`));
        return actions.filter(({ kind }) => wanted(kind));
      }),
    );
  }

  private answerHints(connection: Connection): void {
    const { answering, workspace } = this;
    const { inlayHint } = connection.languages;
    inlayHint.on(
      answering.answer("inline values", [], async ({ textDocument: { uri }, range }) => {
        const read = await workspace.analysis(uri);
        if (read === undefined) return [];
        const { analysis, settings } = read;
        const last = workspace.builds.lastHints(uri);
        const hints = inlayHints(analysis, uri, range, settings.hints, last);
        if (workspace.client.lateTooltips) return hints;
        return hints.map((hint) => {
          const data = readHintData(hint.data);
          return data === undefined ? hint : { ...hint, tooltip: hintTooltip(analysis, data) };
        });
      }),
    );
    inlayHint.resolve(
      answering.complete("inline values", async (hint) => {
        const data = readHintData(hint.data);
        const read = data === undefined ? undefined : await workspace.analysis(data.uri);
        if (data === undefined || read === undefined) return hint;
        return { ...hint, tooltip: hintTooltip(read.analysis, data) };
      }),
    );
    connection.onHover(
      this.at("hover", null, (analysis, uri, offset) => hover(analysis, uri, offset) ?? null),
    );
  }

  /** While someone writes. */
  private answerWriting(connection: Connection): void {
    const { answering, workspace } = this;
    connection.onCompletion(
      answering.answer("completion", [], async ({ textDocument: { uri }, position, context }) => {
        const place = await workspace.place(uri, position);
        if (place === undefined) return [];
        const { analysis, offset } = place;
        const before = analysis.sourceOf(uri)?.text.slice(Math.max(0, offset - 3), offset) ?? "";
        // A blank calls for names only where a value or a unit is due.
        if (context?.triggerCharacter === " " && !/[:\d]\s$/.test(before)) return [];
        return completions(analysis, uri, offset, { snippets: workspace.client.snippets });
      }),
    );
    connection.onSignatureHelp(
      this.at("signature", null, (analysis, uri, offset) => {
        return signatureHelp(analysis, uri, offset) ?? null;
      }),
    );
    connection.onDocumentFormatting(
      answering.answer("layout", null, async ({ textDocument: { uri } }) => this.laidOut(uri)),
    );
    connection.onDocumentRangeFormatting(
      answering.answer("layout", null, async ({ textDocument: { uri }, range }) =>
        this.laidOut(uri, range),
      ),
    );
  }

  private answerNames(connection: Connection): void {
    const { answering, workspace } = this;
    connection.onDefinition(
      this.at("definition", null, (analysis, uri, offset) => {
        const links = definition(analysis, uri, offset);
        if (workspace.client.links) return links;
        return links.map(({ targetUri, targetSelectionRange: range }) => ({
          uri: targetUri,
          range,
        }));
      }),
    );
    connection.onReferences(
      answering.answer("references", [], async (params, token) => {
        const { uri } = params.textDocument;
        const place = await workspace.place(uri, params.position);
        if (place === undefined) return [];
        const { includeDeclaration } = params.context;
        return referencesEverywhere(workspace, { ...place, uri }, includeDeclaration, token);
      }),
    );
    connection.onDocumentHighlight(this.at("highlights", [], highlights));
    connection.onPrepareRename(
      this.at("rename", null, (analysis, uri, offset) => {
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
    connection.onWorkspaceSymbol(
      answering.answer("symbols", [], async ({ query }, token) =>
        symbolsEverywhere(workspace, query, token),
      ),
    );
  }

  /** What a file consists of. */
  private answerShape(connection: Connection): void {
    const { answering } = this;
    connection.onDocumentSymbol(
      this.of("outline", [], (analysis, uri) => documentSymbols(analysis, uri)),
    );
    connection.onDocumentLinks(
      this.of("links", [], (analysis, uri) => documentLinks(analysis, uri)),
    );
    connection.onFoldingRanges(
      this.of("folding", [], (analysis, uri) => {
        const source = analysis.sourceOf(uri);
        return source === undefined ? [] : foldingRanges(source);
      }),
    );
    connection.onSelectionRanges(
      answering.answer("selection", null, async ({ textDocument: { uri }, positions }) => {
        const source = await this.sourceOf(uri);
        return source === undefined ? null : selectionRanges(source, positions);
      }),
    );
  }

  private answerFiles(connection: Connection): void {
    const { answering, workspace } = this;
    connection.workspace.onWillRenameFiles(
      answering.answer("moved files", null, async ({ files }) =>
        editsForMovedFiles(
          workspace,
          files.map(({ oldUri, newUri }) => ({ from: oldUri, to: newUri })),
        ),
      ),
    );
    const content = (uri: string): { text: string } | null => {
      const text = workspace.library().files.get(uri)?.source.text;
      return text === undefined ? null : { text };
    };
    connection.workspace.textDocumentContent.on(
      answering.answer<{ uri: string }, { text: string } | null>("library", null, async ({ uri }) =>
        content(uri),
      ),
    );
    connection.onRequest(
      new RequestType<unknown, { text: string } | null, never>(libraryFileMethod),
      answering.answer<unknown, { text: string } | null>("library", null, async (params) => {
        const request = readLibraryFileRequest(params);
        return request === undefined ? null : content(request.uri);
      }),
    );
  }

  // ── helpers ──

  /** A question about one file. */
  private of<R>(
    name: string,
    nothing: R,
    work: (analysis: Analysis, uri: string) => R,
  ): (
    params: { textDocument: { uri: string } },
    token: CancellationToken,
  ) => Promise<R | ResponseError<never>> {
    return this.answering.answer(name, nothing, async ({ textDocument: { uri } }) => {
      const read = await this.workspace.analysis(uri);
      return read === undefined ? nothing : work(read.analysis, uri);
    });
  }

  /** A question about one place of a file. */
  private at<R>(
    name: string,
    nothing: R,
    work: (analysis: Analysis, uri: string, offset: number) => R,
  ): (
    params: { textDocument: { uri: string }; position: Position },
    token: CancellationToken,
  ) => Promise<R | ResponseError<never>> {
    return this.answering.answer(name, nothing, async ({ textDocument: { uri }, position }) => {
      const place = await this.workspace.place(uri, position);
      return place === undefined ? nothing : work(place.analysis, uri, place.offset);
    });
  }

  private async sourceOf(uri: string): Promise<SourceFile | undefined> {
    const read = await this.workspace.analysis(uri);
    return read?.analysis.sourceOf(uri);
  }

  /** Nothing is changed in a text that cannot be read: moving it about would make it worse. */
  private laidOut(uri: string, range?: Range): TextEdit[] | null {
    const document = this.workspace.documents.get(uri);
    if (document === undefined || uri.startsWith(libraryScheme)) return null;
    const before = document.getText();
    const { text, refused: why } = format(before);
    if (why !== undefined) return null;
    const source = { text: before, positionAt: (at: number) => document.positionAt(at) };
    return minimalEdits(source, text, range);
  }
}
