/**
 * What lies in one folder, and whether a file is there at all.
 *
 *     namesIn("/shop/van")   →   ["build.trammel", "log-ana.trammel"]
 *
 * Must not know: what is in the files.
 */
import { readdirSync, statSync } from "node:fs";

/** Names of the files; none where there is no such folder or it may not be read. Never throws. */
export function namesIn(folder: string | undefined): readonly string[] {
  if (folder === undefined) return [];
  try {
    return readdirSync(folder, { withFileTypes: true })
      .filter((entry) => entry.isFile() || entry.isSymbolicLink())
      .map(({ name }) => name);
  } catch {
    return [];
  }
}

export function isThere(path: string | undefined): boolean {
  if (path === undefined) return false;
  try {
    return statSync(path).isFile();
  } catch {
    return false;
  }
}
