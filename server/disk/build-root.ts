/**
 * The folder that the paths in a build may not leave: the nearest one around the file that holds
 * `.git` or `.trammel-root`, else the folder someone works in, else the file's own.
 *
 *     rootFolder("/shop/builds/wagon.trammel", "/shop/builds")   // "/shop", where /shop/.git is
 *
 * Must not know: what is in the files.
 */
import { existsSync } from "node:fs";
import { dirname, join, resolve, sep } from "node:path";

/** What makes a folder the root of the builds below it. */
const markers = [".git", ".trammel-root"];

export function rootFolder(file: string, workingFolder: string): string {
  const working = resolve(workingFolder);
  return markedFolder(dirname(file)) ?? (isInside(file, working) ? working : dirname(file));
}

/** The nearest folder with a marker, the given one included. Never throws. */
export function markedFolder(folder: string): string | undefined {
  for (let at = resolve(folder); ; at = dirname(at)) {
    if (markers.some((marker) => existsSync(join(at, marker)))) return at;
    if (at === dirname(at)) return undefined;
  }
}

function isInside(path: string, folder: string): boolean {
  return path.startsWith(folder.endsWith(sep) ? folder : folder + sep);
}
