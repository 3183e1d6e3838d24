/**
 * The trade's own files, read once and shared by every analysis.
 *
 * Must not know: what is in them.
 */
import { parseFile } from "../../grammar/source-file";
import type { ModelFile } from "../model/anchor";
import type { Vocabulary } from "../model/definition";
import type { Finding } from "../model/finding";
import { FormPool } from "../model/kind-environment";
import { buildVocabulary, emptyVocabulary } from "../model/vocabulary";

export const libraryScheme = "library:";

export interface Library {
  readonly files: ReadonlyMap<string, ModelFile>;
  readonly vocabulary: Vocabulary;
  /** Anything wrong in the library itself; a test keeps this empty. */
  readonly findings: readonly Finding[];
  readonly pool: FormPool;
}

/** `path` is the path below the library folder, `axle.trammel`. */
export function loadLibrary(
  files: readonly { readonly path: string; readonly text: string }[],
): Library {
  const loaded = new Map<string, ModelFile>();
  for (const { path, text } of files) {
    const uri = `${libraryScheme}/${path}`;
    loaded.set(uri, { uri, source: parseFile(text), library: true });
  }
  const findings: Finding[] = [];
  const vocabulary = buildVocabulary([...loaded.values()], emptyVocabulary, (finding) =>
    findings.push(finding),
  );
  return { files: loaded, vocabulary, findings, pool: new FormPool() };
}
