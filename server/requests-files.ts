/**
 * What an editor asks of files: those that move, those that ship with Trammel, pictures and paper.
 *
 * Must not know: the language, how features come to their answers.
 */
import { RequestType } from "vscode-languageserver";
import { fileFilter } from "./abilities";
import { libraryScheme, subjectAt } from "./analysis/library";
import { pathOf } from "./disk/file-uri";
import { gitRevision } from "./disk/git-revision";
import { pictureAnswer } from "./features/picture";
import { editsForMovedFiles } from "./many-files";
import {
  libraryFileMethod,
  type PictureAnswer,
  pictureMethod,
  readLibraryFileRequest,
  readPictureRequest,
  readSheetsRequest,
  sheetsMethod,
} from "./messages";
import { findingsPage, findingsSubject } from "./report/findings-page";
import { referencePage } from "./report/reference-page";
import type { Request } from "./request";
import { packOf, sheetsHtml } from "./sheets";

export const ofFiles: readonly Request[] = [
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
          const pack = packOf(analysis, { file, date, paper, ...known });
          // Paper does not say what there was no time for.
          return analysis.leftOut.length > 0 ? null : { html: sheetsHtml(pack) };
        }),
      );
    },
  },
];
