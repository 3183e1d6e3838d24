/**
 * The language server on a connection: which requests there are, when builds are read again, and
 * what is told without being asked. What the answers say is made in `features/`.
 *
 * Every request is answered, with nothing where something went wrong (and a line in the log).
 * Edits are only noted; the text is read when the next question about it comes, so that a row of
 * edits costs one reading, and a question that was taken back costs none.
 *
 * Must not know: the language, the trade, streams and processes.
 */
import {
  type CancellationToken,
  CodeActionKind,
  type Connection,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  type DocumentDiagnosticParams,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
  FileChangeType,
  type InitializeParams,
  type InitializeResult,
  type Location,
  LSPErrorCodes,
  type Position,
  type Range,
  RequestType,
  ResponseError,
  SemanticTokensBuilder,
  TextDocumentSyncKind,
  TextDocuments,
  type TextEdit,
  type WorkspaceEdit,
} from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { format } from "../grammar/format";
import type { Analysis } from "./analysis/analysis";
import { type Library, libraryScheme } from "./analysis/library";
import { Builds } from "./builds";
import { completions } from "./features/completion";
import { definition } from "./features/definition";
import { documentLinks } from "./features/document-links";
import { editsForMoves } from "./features/file-renames";
import { diagnostics } from "./features/findings";
import { foldingRanges } from "./features/folding";
import { minimalEdits } from "./features/formatting";
import { hover } from "./features/hover";
import { hintTooltip, inlayHints, readHintData } from "./features/inlay-hints";
import { meaningAt } from "./features/meaning";
import { rangeIn } from "./features/place";
import { quickFixes } from "./features/quick-fixes";
import { highlights, keyOf, placesIn, references } from "./features/references";
import { type Refusal, rename, renameAt } from "./features/rename";
import { selectionRanges } from "./features/selection-ranges";
import { semanticTokens, tokenModifiers, tokenTypes } from "./features/semantic-tokens";
import { signatureHelp } from "./features/signature-help";
import { documentSymbols, matchingSymbols } from "./features/symbols";
import { libraryFileMethod, readLibraryFileRequest, type Summary, summaryMethod } from "./messages";
import { canonical, OpenFiles } from "./open-files";
import { readSettings, type Settings } from "./settings";

const fileFilter = "**/*.trammel";
const pushDelay = 60;
const refreshDelay = 150;
const summaryDelay = 300;
const longestWaitForSettings = 2_000;
const mostSymbols = 500;

export function serve(connection: Connection, library: Library): void {
  new Service(connection, library).listen();
}

class Service {
  private readonly documents = new TextDocuments(TextDocument);
  private readonly files = new OpenFiles();
  private readonly builds: Builds;
  private client = abilitiesOf(undefined);
  private sentSettings: unknown;
  private readonly settings = new Map<string, Promise<Settings>>();
  private readonly tokens = new Map<string, SemanticTokensBuilder>();
  private readonly timers = new Map<string, NodeJS.Timeout>();
  private readonly others = new Set<string>();

  constructor(
    private readonly connection: Connection,
    private readonly library: Library,
  ) {
    this.builds = new Builds(this.files, library);
  }

  listen(): void {
    const { connection } = this;
    connection.onInitialize((params) => this.initialize(params));
    connection.onInitialized(() => this.initialized());
    connection.onShutdown(() => {
      for (const timer of this.timers.values()) clearTimeout(timer);
      this.timers.clear();
    });
    this.followDocuments();
    this.answerRequests();
    this.documents.listen(connection);
    connection.listen();
  }

  // ── beginning ──

  private initialize(params: InitializeParams): InitializeResult {
    this.client = abilitiesOf(params);
    const options: unknown = params.initializationOptions;
    this.sentSettings = propertyOf(options, "settings");
    this.client.summaries = propertyOf(options, "summaries") === true;
    const root = params.workspaceFolders?.map((folder) => folder.uri) ?? [];
    this.files.folders = folderUris(root.length === 0 && params.rootUri ? [params.rootUri] : root);
    return {
      serverInfo: { name: "trammel" },
      capabilities: {
        textDocumentSync: {
          openClose: true,
          change: TextDocumentSyncKind.Incremental,
          save: false,
        },
        ...(this.client.pull
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
      },
    };
  }

  private async initialized(): Promise<void> {
    const { client, connection } = this;
    try {
      if (client.watching) {
        await connection.client.register(DidChangeWatchedFilesNotification.type, {
          watchers: [{ globPattern: fileFilter }],
        });
        this.files.watched = true;
      }
      if (client.settingsChanges) {
        await connection.client.register(DidChangeConfigurationNotification.type, {
          section: "trammel",
        });
      }
      if (client.folders) {
        connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
          const gone = new Set(folderUris(removed.map((folder) => folder.uri)));
          const kept = this.files.folders.filter((folder) => !gone.has(folder));
          this.files.folders = [...kept, ...folderUris(added.map((folder) => folder.uri))];
          this.readAllAgain();
        });
      }
    } catch (error) {
      this.log("the editor did not take a registration", error);
    }
  }

  // ── files ──

  private followDocuments(): void {
    const { connection, documents } = this;
    documents.onDidOpen(({ document }) => {
      this.files.open(document.uri, () => this.documents.get(document.uri)?.getText() ?? "");
      this.builds.changedAll();
    });
    documents.onDidChangeContent(({ document }) => {
      const others = this.builds.changed(document.uri);
      this.push(document.uri);
      if (others.length > 0) this.refresh(others);
    });
    documents.onDidClose(({ document }) => {
      const { uri } = document;
      const others = this.builds.changed(uri);
      this.files.close(uri);
      this.builds.close(uri);
      this.settings.delete(uri);
      this.tokens.delete(uri);
      this.stop(`push ${uri}`);
      this.stop(`summary ${uri}`);
      this.builds.changedAll();
      // What was pushed stays until it is taken back; what is pulled the editor drops itself.
      if (!this.client.pull) this.send(connection.sendDiagnostics({ uri, diagnostics: [] }));
      if (others.length > 0) this.refresh(others);
    });
    connection.onDidChangeWatchedFiles(({ changes }) => {
      const others = new Set<string>();
      let cameOrWent = false;
      for (const { uri, type } of changes) {
        this.files.forget(uri);
        if (type !== FileChangeType.Changed) cameOrWent = true;
        else if (!this.files.isOpen(uri))
          for (const other of this.builds.changed(uri)) others.add(other);
      }
      if (cameOrWent) this.readAllAgain();
      else if (others.size > 0) this.refresh([...others]);
    });
    connection.onDidChangeConfiguration(({ settings }) => {
      const sent = propertyOf(settings, "trammel");
      if (sent !== undefined) this.sentSettings = sent;
      this.settings.clear();
      this.readAllAgain();
    });
  }

  private readAllAgain(): void {
    this.builds.changedAll();
    this.refresh(this.documents.keys());
  }

  // ── settings ──

  private settingsOf(uri: string): Promise<Settings> {
    const known = this.settings.get(uri);
    if (known !== undefined) return known;
    const asked = this.askSettings(uri);
    // Files nobody has open come and go.
    if (this.files.isOpen(uri)) this.settings.set(uri, asked);
    return asked;
  }

  private async askSettings(uri: string): Promise<Settings> {
    if (!this.client.settings) return readSettings(this.sentSettings);
    try {
      const sent = await Promise.race([
        this.connection.workspace.getConfiguration({ scopeUri: uri, section: "trammel" }),
        later(longestWaitForSettings, this.sentSettings),
      ]);
      return readSettings(sent ?? this.sentSettings);
    } catch (error) {
      this.log("the editor did not tell its settings", error);
      return readSettings(this.sentSettings);
    }
  }

  private async analysis(
    uri: string,
  ): Promise<{ analysis: Analysis; settings: Settings } | undefined> {
    const settings = await this.settingsOf(uri);
    const analysis = this.builds.analysis(uri, settings);
    return analysis === undefined ? undefined : { analysis, settings };
  }

  // ── requests ──

  private answerRequests(): void {
    const { connection } = this;
    const { languages } = connection;
    languages.diagnostics.on(
      this.answer<DocumentDiagnosticParams, DocumentDiagnosticReport>(
        "diagnostics",
        { kind: DocumentDiagnosticReportKind.Full, items: [] },
        async ({ textDocument: { uri }, previousResultId }, token) => {
          const found = await this.analysis(uri);
          if (token.isCancellationRequested) throw cancelled();
          const resultId = `${this.builds.idOf(uri)}`;
          if (found !== undefined && previousResultId === resultId && resultId !== "0") {
            return { kind: DocumentDiagnosticReportKind.Unchanged, resultId };
          }
          const items = found === undefined ? [] : this.diagnosticsOf(found.analysis, uri);
          return { kind: DocumentDiagnosticReportKind.Full, resultId, items };
        },
      ),
    );
    languages.inlayHint.on(
      this.answer("inline values", [], async ({ textDocument: { uri }, range }) => {
        const found = await this.analysis(uri);
        if (found === undefined) return [];
        const last = this.builds.lastHints(uri);
        const hints = inlayHints(found.analysis, uri, range, found.settings.hints, last);
        if (this.client.lateTooltips) return hints;
        return hints.map((hint) => {
          const data = readHintData(hint.data);
          return data === undefined
            ? hint
            : { ...hint, tooltip: hintTooltip(found.analysis, data) };
        });
      }),
    );
    languages.inlayHint.resolve(
      this.answerWithin("inline values", async (hint) => {
        const data = readHintData(hint.data);
        const found = data === undefined ? undefined : await this.analysis(data.uri);
        if (data === undefined || found === undefined) return hint;
        return { ...hint, tooltip: hintTooltip(found.analysis, data) };
      }),
    );
    connection.onHover(
      this.at("hover", null, (analysis, uri, offset) => hover(analysis, uri, offset) ?? null),
    );
    connection.onCompletion(
      this.answer("completion", [], async ({ textDocument: { uri }, position, context }) => {
        const found = await this.analysis(uri);
        const offset = found === undefined ? undefined : offsetIn(found.analysis, uri, position);
        if (found === undefined || offset === undefined) return [];
        const text = found.analysis.sourceOf(uri)?.text ?? "";
        // A blank calls for names only where a value or a unit is due.
        if (
          context?.triggerCharacter === " " &&
          !/(?::|\d)\s$/.test(text.slice(Math.max(0, offset - 3), offset))
        )
          return [];
        return completions(found.analysis, uri, offset, { snippets: this.client.snippets });
      }),
    );
    connection.onSignatureHelp(
      this.at(
        "signature help",
        null,
        (analysis, uri, offset) => signatureHelp(analysis, uri, offset) ?? null,
      ),
    );
    connection.onDefinition(
      this.at("definition", null, (analysis, uri, offset) => {
        const links = definition(analysis, uri, offset);
        if (this.client.links) return links;
        return links.map(({ targetUri, targetSelectionRange }) => ({
          uri: targetUri,
          range: targetSelectionRange,
        }));
      }),
    );
    connection.onReferences(
      this.answer("references", [], async ({ textDocument: { uri }, position, context }, token) => {
        const found = await this.analysis(uri);
        const offset = found === undefined ? undefined : offsetIn(found.analysis, uri, position);
        if (found === undefined || offset === undefined) return [];
        const own = references(found.analysis, uri, offset, context.includeDeclaration);
        return [...own, ...(await this.elsewhere(found.analysis, uri, offset, token))];
      }),
    );
    connection.onDocumentHighlight(this.at("highlights", [], highlights));
    connection.onPrepareRename(
      this.at("rename", null, (analysis, uri, offset) => {
        const place = renameAt(analysis, uri, offset);
        if (isRefusal(place)) throw new ResponseError(LSPErrorCodes.RequestFailed, place.refusal);
        return { range: place.range, placeholder: place.placeholder };
      }),
    );
    connection.onRenameRequest(
      this.answer("rename", null, async ({ textDocument: { uri }, position, newName }, token) => {
        const found = await this.analysis(uri);
        const offset = found === undefined ? undefined : offsetIn(found.analysis, uri, position);
        if (found === undefined || offset === undefined) return null;
        return this.renamed(found.analysis, uri, offset, newName, token);
      }),
    );
    connection.onDocumentSymbol(
      this.answer("outline", [], async ({ textDocument: { uri } }) => {
        const found = await this.analysis(uri);
        return found === undefined ? [] : documentSymbols(found.analysis, uri);
      }),
    );
    connection.onWorkspaceSymbol(
      this.answer("symbols", [], async ({ query }, token) => this.workspaceSymbols(query, token)),
    );
    connection.onCodeAction(
      this.answer("quick fixes", [], async ({ textDocument: { uri }, range, context }) => {
        const found = await this.analysis(uri);
        if (found === undefined) return [];
        const actions = quickFixes(found.analysis, uri, range, context.diagnostics);
        const { only } = context;
        return only === undefined
          ? actions
          : actions.filter(({ kind = "" }) =>
              only.some((each) => kind === each || kind.startsWith(`${each}.`)),
            );
      }),
    );
    connection.onDocumentFormatting(
      this.answer("layout", null, async ({ textDocument: { uri } }) => this.laidOut(uri)),
    );
    connection.onDocumentRangeFormatting(
      this.answer("layout", null, async ({ textDocument: { uri }, range }) =>
        this.laidOut(uri, range),
      ),
    );
    connection.onFoldingRanges(
      this.answer("folding", [], async ({ textDocument: { uri } }) => {
        const source = (await this.analysis(uri))?.analysis.sourceOf(uri);
        return source === undefined ? [] : foldingRanges(source);
      }),
    );
    connection.onSelectionRanges(
      this.answer("selection", null, async ({ textDocument: { uri }, positions }) => {
        const source = (await this.analysis(uri))?.analysis.sourceOf(uri);
        return source === undefined ? null : selectionRanges(source, positions);
      }),
    );
    connection.onDocumentLinks(
      this.answer("links", [], async ({ textDocument: { uri } }) => {
        const found = await this.analysis(uri);
        return found === undefined ? [] : documentLinks(found.analysis, uri);
      }),
    );
    this.answerTokens();
    connection.workspace.onWillRenameFiles(
      this.answer("moved files", null, async ({ files }) => {
        const moves = files.map(({ oldUri, newUri }) => ({
          from: plainUri(oldUri),
          to: plainUri(newUri),
        }));
        const sources = new Map(
          this.allFiles().flatMap((uri) => {
            const source = this.builds.sourceOf(uri);
            return source === undefined ? [] : [[plainUri(uri), source] as const];
          }),
        );
        const edits = editsForMoves(sources, moves);
        return edits.size === 0 ? null : this.workspaceEdit(edits);
      }),
    );
    connection.workspace.textDocumentContent.on(
      this.answer<{ uri: string }, { text: string } | null>("library", null, async ({ uri }) => {
        const text = this.library.files.get(uri)?.source.text;
        return text === undefined ? null : { text };
      }),
    );
    connection.onRequest(
      new RequestType<unknown, { text: string } | null, never>(libraryFileMethod),
      this.answer<unknown, { text: string } | null>("library", null, async (params) => {
        const request = readLibraryFileRequest(params);
        const text =
          request === undefined ? undefined : this.library.files.get(request.uri)?.source.text;
        return text === undefined ? null : { text };
      }),
    );
  }

  /** Nothing is changed in a text that cannot be read: moving it about would make it worse. */
  private laidOut(uri: string, range?: Range): TextEdit[] | null {
    const document = this.documents.get(uri);
    if (document === undefined || uri.startsWith(libraryScheme)) return null;
    const { text, refused } = format(document.getText());
    if (refused !== undefined) return null;
    const source = {
      text: document.getText(),
      positionAt: (at: number) => document.positionAt(at),
    };
    return minimalEdits(source, text, range);
  }

  private answerTokens(): void {
    const { semanticTokens: tokens } = this.connection.languages;
    const fill = async (
      uri: string,
      builder: SemanticTokensBuilder,
      range?: Range,
    ): Promise<void> => {
      const found = await this.analysis(uri);
      if (found !== undefined) semanticTokens(found.analysis, uri, builder, range);
    };
    tokens.on(
      this.answer("colours", { data: [] }, async ({ textDocument: { uri } }) => {
        const builder = this.builderOf(uri);
        builder.previousResult("");
        await fill(uri, builder);
        return builder.build();
      }),
    );
    tokens.onDelta(
      this.answer("colours", { data: [] }, async ({ textDocument: { uri }, previousResultId }) => {
        const builder = this.builderOf(uri);
        builder.previousResult(previousResultId);
        await fill(uri, builder);
        return builder.buildEdits();
      }),
    );
    tokens.onRange(
      this.answer("colours", { data: [] }, async ({ textDocument: { uri }, range }) => {
        const builder = new SemanticTokensBuilder();
        await fill(uri, builder, range);
        return builder.build();
      }),
    );
  }

  private builderOf(uri: string): SemanticTokensBuilder {
    const builder = this.tokens.get(uri) ?? new SemanticTokensBuilder();
    if (this.files.isOpen(uri)) this.tokens.set(uri, builder);
    return builder;
  }

  private diagnosticsOf(analysis: Analysis, uri: string) {
    if (uri.startsWith(libraryScheme)) return [];
    const items = diagnostics(analysis, uri);
    this.summarize(uri);
    return items;
  }

  // ── questions over many files ──

  /** Every build and part in the workspace and among the open ones. */
  private allFiles(): string[] {
    const open = this.documents.keys().filter((uri) => !uri.startsWith(libraryScheme));
    const known = new Set(open.map(canonical));
    return [...open, ...this.files.list().filter((uri) => !known.has(canonical(uri)))];
  }

  /** Places in files that the analysis does not take in but that take in what is meant. */
  private async elsewhere(
    analysis: Analysis,
    uri: string,
    offset: number,
    token: CancellationToken,
  ): Promise<Location[]> {
    const named = meaningAt(analysis, uri, offset);
    const key = named === undefined ? undefined : keyOf(analysis, named.meaning);
    if (named === undefined || key === undefined) return [];
    const known = new Set([...analysis.files.keys()].map(canonical));
    const found: Location[] = [];
    for (const other of this.allFiles()) {
      if (known.has(canonical(other))) continue;
      const read = this.files.read(other);
      if ("problem" in read || !read.text.includes(named.name.text)) continue;
      // A question over a whole workspace gives way to others in between.
      await turn();
      if (token.isCancellationRequested) throw cancelled();
      const around = await this.analysis(other);
      const source = around?.analysis.sourceOf(other);
      if (around === undefined || source === undefined) continue;
      for (const place of placesIn(around.analysis, other, key)) {
        if (place.name.text === named.name.text)
          found.push({ uri: other, range: rangeIn(source, place.item, place.name.span) });
      }
    }
    return found;
  }

  private async renamed(
    analysis: Analysis,
    uri: string,
    offset: number,
    newName: string,
    token: CancellationToken,
  ): Promise<WorkspaceEdit | null> {
    const place = renameAt(analysis, uri, offset);
    if (isRefusal(place)) throw new ResponseError(LSPErrorCodes.RequestFailed, place.refusal);
    const own = rename(analysis, place.named, newName);
    if (isRefusal(own)) throw new ResponseError(LSPErrorCodes.RequestFailed, own.refusal);
    const edits = new Map(own);
    if (place.named.meaning.is === "thing") {
      for (const { uri: other, range } of await this.elsewhere(analysis, uri, offset, token)) {
        edits.set(other, [...(edits.get(other) ?? []), { range, newText: newName }]);
      }
    }
    return this.workspaceEdit(edits);
  }

  private workspaceEdit(edits: ReadonlyMap<string, TextEdit[]>): WorkspaceEdit {
    const spelled = new Map(this.documents.keys().map((uri) => [canonical(uri), uri]));
    const named = [...edits].map(
      ([uri, list]) => [spelled.get(canonical(uri)) ?? uri, list] as const,
    );
    if (!this.client.versionedEdits) return { changes: Object.fromEntries(named) };
    return {
      documentChanges: named.map(([uri, list]) => ({
        textDocument: { uri, version: this.documents.get(uri)?.version ?? null },
        edits: list,
      })),
    };
  }

  private async workspaceSymbols(query: string, token: CancellationToken) {
    const found = [];
    for (const uri of this.allFiles()) {
      const source = this.builds.sourceOf(uri);
      if (source !== undefined) found.push(...matchingSymbols(source, uri, query));
      if (found.length >= mostSymbols) break;
      await turn();
      if (token.isCancellationRequested) throw cancelled();
    }
    return found.slice(0, mostSymbols);
  }

  // ── told without being asked ──

  /** For editors that do not ask for findings. */
  private push(uri: string): void {
    if (this.client.pull) return;
    this.after(`push ${uri}`, pushDelay, async () => {
      const found = await this.analysis(uri);
      const version = this.documents.get(uri)?.version;
      if (version === undefined) return;
      const items = found === undefined ? [] : this.diagnosticsOf(found.analysis, uri);
      await this.connection.sendDiagnostics({ uri, version, diagnostics: items });
    });
  }

  /** Other files changed what these builds say. */
  private refresh(uris: readonly string[]): void {
    for (const uri of uris) {
      this.others.add(uri);
      this.push(uri);
    }
    this.after("refresh", refreshDelay, async () => {
      this.others.clear();
      const { languages } = this.connection;
      if (this.client.pull && this.client.refreshDiagnostics) await languages.diagnostics.refresh();
      if (this.client.refreshHints) await languages.inlayHint.refresh();
    });
  }

  private summarize(uri: string): void {
    if (!this.client.summaries) return;
    this.after(`summary ${uri}`, summaryDelay, async () => {
      const found = await this.analysis(uri);
      if (found === undefined || !this.files.isOpen(uri)) return;
      const { analysis } = found;
      let solved = 0;
      for (const { standing } of analysis.values.values())
        if (standing === "solved" || standing === "assumed") solved++;
      const count = (severity: string): number =>
        analysis.findings.filter((finding) => finding.severity === severity).length;
      const summary: Summary = {
        uri,
        solved,
        missing: analysis.missing.length,
        errors: count("error"),
        warnings: count("warning"),
      };
      await this.connection.sendNotification(summaryMethod, summary);
    });
  }

  /** Once, after a while in which nobody asked for it again. */
  private after(name: string, delay: number, work: () => Promise<void>): void {
    this.stop(name);
    const timer = setTimeout(() => {
      this.timers.delete(name);
      work().catch((error: unknown) => this.log(name, error));
    }, delay);
    this.timers.set(name, timer);
  }

  private stop(name: string): void {
    clearTimeout(this.timers.get(name));
    this.timers.delete(name);
  }

  private send(sending: Promise<void>): void {
    sending.catch((error: unknown) => this.log("a message was not sent", error));
  }

  // ── answering ──

  /** A handler that lets newer messages in first, never throws, and logs what went wrong. */
  private answer<P, R>(
    name: string,
    nothing: R,
    work: (params: P, token: CancellationToken) => Promise<R>,
  ): (params: P, token: CancellationToken) => Promise<R | ResponseError<never>> {
    return async (params, token) => {
      await turn();
      if (token.isCancellationRequested) return cancelled();
      try {
        return await work(params, token);
      } catch (error) {
        if (error instanceof ResponseError) return error as ResponseError<never>;
        this.log(name, error);
        return nothing;
      }
    };
  }

  /** The same where the question itself is the answer to fall back on. */
  private answerWithin<P>(
    name: string,
    work: (params: P) => Promise<P>,
  ): (params: P, token: CancellationToken) => Promise<P | ResponseError<never>> {
    return (params, token) => this.answer(name, params, work)(params, token);
  }

  /** The same for questions about one place of a file. */
  private at<R>(
    name: string,
    nothing: R,
    work: (analysis: Analysis, uri: string, offset: number) => R,
  ): (
    params: { textDocument: { uri: string }; position: Position },
    token: CancellationToken,
  ) => Promise<R | ResponseError<never>> {
    return this.answer(name, nothing, async ({ textDocument: { uri }, position }) => {
      const found = await this.analysis(uri);
      const offset = found === undefined ? undefined : offsetIn(found.analysis, uri, position);
      return found === undefined || offset === undefined
        ? nothing
        : work(found.analysis, uri, offset);
    });
  }

  private log(what: string, error: unknown): void {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    this.connection.console.error(`${what}: ${text}`);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function abilitiesOf(params: InitializeParams | undefined) {
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
    summaries: false,
  };
}

function offsetIn(analysis: Analysis, uri: string, position: Position): number | undefined {
  return analysis.sourceOf(uri)?.offsetAt(position);
}

function isRefusal(value: object): value is Refusal {
  return "refusal" in value;
}

function cancelled(): ResponseError<never> {
  return new ResponseError(LSPErrorCodes.RequestCancelled, "taken back");
}

/** Lets messages that have come in meanwhile be read, a request that is taken back among them. */
function turn(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

function later<T>(delay: number, value: T): Promise<T> {
  return new Promise((resolve) => {
    setTimeout(() => resolve(value), delay).unref();
  });
}

function propertyOf(value: unknown, name: string): unknown {
  return typeof value === "object" && value !== null
    ? (value as Record<string, unknown>)[name]
    : undefined;
}

function folderUris(uris: readonly string[]): string[] {
  return uris.map((uri) => (uri.endsWith("/") ? uri : `${uri}/`));
}

/** As `new URL` spells it, so that paths followed from it compare equal. */
function plainUri(uri: string): string {
  return canonical(uri);
}
