/**
 * What an editor shows beside a text without being asked by hand: findings with their fixes, values,
 * outline, links, folds, colors.
 *
 * Must not know: the language, how features come to their answers.
 */
import {
  CodeActionKind,
  type DocumentDiagnosticParams,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
} from "vscode-languageserver";
import { cancelled, refused } from "./answering";
import { chooseOffers, chosenEdit, readChooseData } from "./features/choose-offers";
import { documentLinks } from "./features/document-links";
import { foldingRanges } from "./features/folding";
import { readHintData } from "./features/hint-fitting";
import { hover } from "./features/hover";
import { hintTooltip, inlayHints } from "./features/inlay-hints";
import { buildOfForm, formActions, takeInActions } from "./features/measured-form";
import { quickFixes } from "./features/quick-fixes";
import { recordActions } from "./features/record-step";
import { selectionRanges } from "./features/selection-ranges";
import { tokenModifiers, tokenTypes } from "./features/semantic-tokens";
import { documentSymbols } from "./features/symbols";
import { at, of, type Request } from "./request";

export const showing: readonly Request[] = [
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
        resolveProvider: true,
      },
    }),
    listen({ connection, answering, workspace }) {
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
            ...(workspace.client.lateEdits ? chooseOffers(read.analysis, uri, range) : []),
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
      );
      connection.onCodeActionResolve(
        answering.complete("quick fixes", async (action) => {
          const data = readChooseData(action.data);
          const read = data === undefined ? undefined : await workspace.analysis(data.uri);
          if (data === undefined || read === undefined) return action;
          const edit = await chosenEdit(read.analysis, data);
          if (typeof edit === "string") throw refused(edit);
          return { ...action, edit };
        }),
      );
    },
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
];
