/**
 * The files of builds and parts that lie below a folder, less hidden folders and `node_modules`.
 * Links are not followed: they may go round in a circle or lead elsewhere.
 *
 *     filesBelow("/shop")   →   ["/shop/van/build.trammel", …], in no order
 *
 * Must not know: what is in the files.
 */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { extension } from "./read-file";

export interface ListLimits {
  /** How many files at most; the others are left out. */
  readonly most?: number;
  /** How many folders deep. */
  readonly deepest?: number;
}

/** Never throws: a folder that cannot be listed holds nothing. */
export function filesBelow(
  folder: string,
  { most = Number.POSITIVE_INFINITY, deepest = Number.POSITIVE_INFINITY }: ListLimits = {},
): string[] {
  const found: string[] = [];
  const waiting = [{ path: folder, depth: 0 }];
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    for (const entry of entriesOf(at.path)) {
      const path = join(at.path, entry.name);
      if (entry.isDirectory()) {
        const hidden = entry.name.startsWith(".") || entry.name === "node_modules";
        if (!hidden && at.depth < deepest) waiting.push({ path, depth: at.depth + 1 });
      } else if (entry.isFile() && entry.name.endsWith(extension)) {
        if (found.length >= most) return found;
        found.push(path);
      }
    }
  }
  return found;
}

// ───────────────────────────── helpers ─────────────────────────────

function entriesOf(folder: string) {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch {
    return [];
  }
}
