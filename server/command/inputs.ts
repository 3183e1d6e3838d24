/**
 * Which builds are meant by the files and folders of a command line.
 *
 *     buildFiles(["samples"], pathOf)               // every .trammel file below samples
 *     buildFiles(["builds/*.trammel"], pathOf)      // a pattern, where no shell has opened it
 *
 * Must not know: what is in the files.
 */
import { existsSync, statSync } from "node:fs";
import { relative, sep } from "node:path";
import picomatch from "picomatch";
import { filesBelow } from "../disk/files-below";
import { extension } from "../disk/read-file";
import { CommandProblem } from "./problem";

export interface InputFile {
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
): InputFile[] {
  const found = new Map<string, InputFile>();
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
    } else if (isPattern(each) && !existsSync(path)) {
      for (const file of matching(each, pathOf)) add(file);
    } else add(path, each);
  }
  return [...found.values()].sort((one, other) => shallowFirst(one.path, other.path));
}

// ───────────────────────────── helpers ─────────────────────────────

/** `*`, `?`, `[…]` or `{…}`, which shells open and quotes keep them from. */
function isPattern(written: string): boolean {
  return picomatch.scan(written.replaceAll("\\", "/")).isGlob;
}

function matching(written: string, pathOf: (written: string) => string): string[] {
  const { base, glob } = picomatch.scan(written.replaceAll("\\", "/"));
  const folder = pathOf(base === "" ? "." : base);
  const matches = picomatch(glob);
  const found = filesBelow(folder).filter((path) =>
    matches(relative(folder, path).replaceAll(sep, "/")),
  );
  if (found.length === 0) throw new CommandProblem(`no build matches ${written}`);
  return found;
}

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
