/**
 * Files that can be meant inside of `use "…"`.
 *
 * Must not know: which files there are.
 */
import { type CompletionItem, CompletionItemKind } from "vscode-languageserver";
import type { SourceFile } from "../../grammar/syntax";
import { libraryScheme } from "../analysis/library";
import { pathBetween } from "./file-renames";
import { mostOffers } from "./offers";
import type { WritingPlace } from "./writing-place";

/** Inside `use "…"`: the files that could be meant, those nearest first. */
export function usedFiles(
  uri: string,
  source: SourceFile,
  { lead }: WritingPlace,
  offset: number,
  files: readonly string[],
): CompletionItem[] {
  const quoted = /^\s*use\s*"([^"\n]*)$/.exec(
    source.text.slice(0, offset).split("\n").at(-1) ?? "",
  );
  if (quoted === null || !/^\s*use\b/.test(lead)) return [];
  const start = offset - (quoted[1]?.length ?? 0);
  const rest = /^[^"\r\n]*/.exec(source.text.slice(offset, offset + 500))?.[0].length ?? 0;
  const range = { start: source.positionAt(start), end: source.positionAt(offset + rest) };
  return files
    .flatMap((file) => {
      const path = file.startsWith(libraryScheme)
        ? file.replace(`${libraryScheme}/`, libraryScheme)
        : pathBetween(uri, file);
      return file === uri || path === undefined ? [] : [path];
    })
    .slice(0, mostOffers)
    .map((path) => ({
      label: path,
      kind: CompletionItemKind.File,
      filterText: path,
      // Files of the folder and below it before those elsewhere, the library's last.
      sortText: `${path.startsWith(libraryScheme) ? 2 : path.startsWith("..") ? 1 : 0}${path}`,
      textEdit: { range, newText: path },
    }));
}
