/**
 * Where files come from: the disk, the editor, or a test's own texts.
 */

export type ReadResult =
  | { readonly text: string }
  /** `why` is for the person who named the file: `there is no such file`. */
  | { readonly problem: "missing" | "unreadable" | "outside"; readonly why?: string };

export interface FileHost {
  /**
   * `uri` is a `file:` (or other hierarchical) URI; `rootUri` the file the build begins with. What
   * a build may reach is the host's to decide: the rest is `outside`. Never throws.
   */
  read(uri: string, rootUri: string): ReadResult;
  /**
   * Names of the files in a folder (a URI with a slash at its end), in any order; where a host
   * cannot list, each build has the files it names and no others. Never throws.
   */
  namesIn?(folderUri: string, rootUri: string): readonly string[];
  /** Whether there is such a file, text or not; where a host cannot tell, it is taken to be there. */
  exists?(uri: string): boolean;
}

/** Whether a build may name a file: `folders` (URIs with a slash at their end) are those open together. */
export function mayReach(uri: string, rootUri: string, folders: readonly string[]): boolean {
  return uri === rootUri || reachOf(rootUri, folders).some((folder) => uri.startsWith(folder));
}

/** The folders the files of a build may lie in: all of `folders` from inside one, else its own. */
export function reachOf(rootUri: string, folders: readonly string[]): readonly string[] {
  return folders.some((folder) => rootUri.startsWith(folder))
    ? folders
    : [rootUri.slice(0, rootUri.lastIndexOf("/") + 1)];
}

/** A host over texts held in memory, by URI. */
export function memoryHost(
  texts: ReadonlyMap<string, string>,
  folders: readonly string[] = [],
): FileHost {
  return {
    read(uri, rootUri) {
      if (!mayReach(uri, rootUri, folders)) return { problem: "outside" };
      const text = texts.get(uri);
      return text === undefined ? { problem: "missing" } : { text };
    },
    namesIn(folderUri) {
      return [...texts.keys()].flatMap((uri) => {
        const name = uri.startsWith(folderUri) ? uri.slice(folderUri.length) : "";
        return name === "" || name.includes("/") ? [] : [decodeURIComponent(name)];
      });
    },
    exists: (uri) => texts.has(uri),
  };
}
