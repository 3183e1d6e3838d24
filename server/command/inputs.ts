/**
 * Which builds are meant by the files and folders of a command line.
 *
 *     buildFiles(["samples"], pathOf)   // every .trammel file below samples
 *
 * Must not know: what is in the files.
 */
import { statSync } from "node:fs";
import { filesBelow } from "../disk/files-below";
import { extension } from "../disk/read-file";
import { CommandProblem } from "./problem";

export interface BuildFile {
  /** Absolute. */
  readonly path: string;
  /** As the file was named; `undefined` where it was found in a folder. */
  readonly written?: string;
}

/**
 * Absolute paths in a stable order, each once. A folder stands for every build below it, less
 * hidden folders and `node_modules`; a folder without builds is a problem.
 */
export function buildFiles(
  written: readonly string[],
  pathOf: (written: string) => string,
): BuildFile[] {
  const found = new Map<string, BuildFile>();
  const add = (path: string, written?: string): void => {
    if (written !== undefined || !found.has(path)) found.set(path, { path, written });
  };
  for (const each of written) {
    const path = pathOf(each);
    if (isFolder(path)) {
      const inside = filesBelow(path);
      if (inside.length === 0) {
        throw new CommandProblem(
          `there is no build in ${each}: no file below it ends with ${extension}`,
        );
      }
      for (const file of inside) add(file);
    } else add(path, each);
  }
  return [...found.values()].sort((one, other) => shallowFirst(one.path, other.path));
}

// ───────────────────────────── helpers ─────────────────────────────

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
}

/** Files of outer folders first: a build usually lies above the parts it uses. */
function shallowFirst(one: string, other: string): number {
  const depth = one.split(/[\\/]/).length - other.split(/[\\/]/).length;
  return depth !== 0 ? depth : one < other ? -1 : one > other ? 1 : 0;
}
