/**
 * Questions over all files of a workspace: other files that name the same thing, and names by their
 * letters. They give way to other messages in between, and end where they are taken back.
 *
 * Must not know: how the files are kept.
 */
import type {
  CancellationToken,
  Location,
  SymbolInformation,
  WorkspaceEdit,
} from "vscode-languageserver";
import type { Analysis } from "./analysis/analysis";
import { cancelled, refused, turn } from "./answering";
import { editsForMoves, type Move } from "./features/file-renames";
import { declarationOf, meaningAt, type NamedPlace } from "./features/meaning";
import { rangeIn } from "./features/place";
import { keyOf, placesIn, references } from "./features/references";
import { isRefusal, rename, renameAt, takenIn, takenWhere } from "./features/rename";
import { matchingSymbols } from "./features/symbols";
import { canonical } from "./open-files";
import type { Read, Workspace } from "./workspace";

const mostSymbols = 500;

/** A place in an open build. */
export interface OpenPlace extends Read {
  readonly uri: string;
  readonly offset: number;
}

export async function referencesEverywhere(
  workspace: Workspace,
  place: OpenPlace,
  includeDeclaration: boolean,
  token: CancellationToken,
): Promise<Location[]> {
  const own = references(place.analysis, place.uri, place.offset, includeDeclaration);
  return [...own, ...(await elsewhere(workspace, place, token))];
}

/** Throws a refusal, in words, where the name cannot be changed. */
export async function renameEverywhere(
  workspace: Workspace,
  place: OpenPlace,
  newName: string,
  token: CancellationToken,
): Promise<WorkspaceEdit> {
  const at = renameAt(place.analysis, place.uri, place.offset);
  if (isRefusal(at)) throw refused(at.refusal);
  const own = rename(place.analysis, at.named, newName);
  if (isRefusal(own)) throw refused(own.refusal);
  const edits = new Map(own);
  if (at.named.meaning.is === "thing") {
    const taken = await takenElsewhere(workspace, place, at.named, newName, token);
    if (taken !== undefined) throw refused(takenIn(taken, newName));
    for (const { uri, range } of await elsewhere(workspace, place, token)) {
      edits.set(uri, [...(edits.get(uri) ?? []), { range, newText: newName }]);
    }
  }
  return workspace.workspaceEdit(edits);
}

export async function symbolsEverywhere(
  workspace: Workspace,
  query: string,
  token: CancellationToken,
): Promise<SymbolInformation[]> {
  const found: SymbolInformation[] = [];
  for (const uri of workspace.allFiles()) {
    const source = workspace.builds.sourceOf(uri);
    if (source !== undefined) found.push(...matchingSymbols(source, uri, query));
    if (found.length >= mostSymbols) break;
    await turn();
    if (token.isCancellationRequested) throw cancelled();
  }
  return found.slice(0, mostSymbols);
}

/** The `use` lines to mend when files move; nothing where there are none. */
export function editsForMovedFiles(
  workspace: Workspace,
  moves: readonly Move[],
): WorkspaceEdit | null {
  const sources = new Map(
    workspace.allFiles().flatMap((uri) => {
      const source = workspace.builds.sourceOf(uri);
      return source === undefined ? [] : [[canonical(uri), source] as const];
    }),
  );
  const spelled = moves.map(({ from, to }) => ({ from: canonical(from), to: canonical(to) }));
  const edits = editsForMoves(sources, spelled);
  return edits.size === 0 ? null : workspace.workspaceEdit(edits);
}

// ───────────────────────────── helpers ─────────────────────────────

/** A file the analysis does not take in, in which the thing would meet another of its new name. */
async function takenElsewhere(
  workspace: Workspace,
  { analysis }: OpenPlace,
  { meaning, name }: NamedPlace,
  newName: string,
  token: CancellationToken,
): Promise<string | undefined> {
  const at = meaning.is === "thing" ? declarationOf(meaning) : undefined;
  if (at === undefined) return undefined;
  for await (const around of buildsWith(workspace, analysis, [newName], token)) {
    const taken = takenWhere(around, at, name.text, newName);
    if (taken !== undefined) return taken;
  }
  return undefined;
}

/** Readings of the files that the analysis does not take in and that hold one of the words. */
async function* buildsWith(
  workspace: Workspace,
  analysis: Analysis,
  words: readonly string[],
  token: CancellationToken,
): AsyncGenerator<Analysis> {
  const known = new Set([...analysis.files.keys()].map(canonical));
  for (const other of workspace.allFiles()) {
    if (known.has(canonical(other))) continue;
    const read = workspace.files.read(other, other);
    if ("problem" in read || !words.some((word) => read.text.includes(word))) continue;
    await turn();
    if (token.isCancellationRequested) throw cancelled();
    const around = await workspace.analysis(other);
    if (around !== undefined) yield around.analysis;
  }
}

/** Places in files that the analysis does not take in but that take in what is meant. */
async function elsewhere(
  workspace: Workspace,
  { analysis, uri, offset }: OpenPlace,
  token: CancellationToken,
): Promise<Location[]> {
  const named = meaningAt(analysis, uri, offset);
  const key = named === undefined ? undefined : keyOf(analysis, named.meaning);
  if (named === undefined || key === undefined) return [];
  const known = new Set([...analysis.files.keys()].map(canonical));
  const found: Location[] = [];
  const told = new Set<string>();
  for await (const around of buildsWith(workspace, analysis, [named.name.text], token)) {
    // A file that several builds take in is named once.
    for (const other of around.files.keys()) {
      const source = around.sourceOf(other);
      if (source === undefined || known.has(canonical(other)) || told.has(canonical(other)))
        continue;
      told.add(canonical(other));
      for (const { name, item } of placesIn(around, other, key)) {
        if (name.text !== named.name.text) continue;
        found.push({ uri: other, range: rangeIn(source, item, name.span) });
      }
    }
  }
  return found;
}
