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

/** Whether a build may name a file: both lie in the same of `folders` (URIs), or else side by side. */
export function mayReach(uri: string, rootUri: string, folders: readonly string[]): boolean {
  return uri === rootUri || uri.startsWith(reachOf(rootUri, folders));
}

/** The folder, with a slash at its end, that the files of a build may not leave. */
export function reachOf(rootUri: string, folders: readonly string[]): string {
  const [longest] = folders
    .filter((folder) => rootUri.startsWith(folder))
    .sort((one, other) => other.length - one.length);
  return longest ?? rootUri.slice(0, rootUri.lastIndexOf("/") + 1);
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
