/**
 * Where files come from: the disk, the editor, or a test's own texts.
 */

export type ReadResult = { readonly text: string } | { readonly problem: "missing" | "unreadable" };

export interface FileHost {
  /** `uri` is a `file:` (or other hierarchical) URI. Never throws. */
  read(uri: string): ReadResult;
  /** Folder URIs, with a trailing slash, that `use` must not leave; none: the folder of the root file. */
  readonly folders: readonly string[];
}

/** A host over texts held in memory, by URI. */
export function memoryHost(
  texts: ReadonlyMap<string, string>,
  folders: readonly string[] = [],
): FileHost {
  return {
    folders,
    read(uri) {
      const text = texts.get(uri);
      return text === undefined ? { problem: "missing" } : { text };
    },
  };
}
