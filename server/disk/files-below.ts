/**
 * The files of builds and parts that lie below a folder, less hidden folders, `node_modules` and
 * what the `.gitignore` files from there on down leave out.
 * Links are not followed: they may go round in a circle or lead elsewhere.
 *
 *     filesBelow("/shop")   →   ["/shop/van/build.trammel", …], in no order
 *
 * Must not know: what is in the files.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import ignore, { type Ignore } from "ignore";
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
  const waiting: Place[] = [{ path: folder, depth: 0, rules: [] }];
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    const entries = entriesOf(at.path);
    const own = entries.some(({ name }) => name === ".gitignore") ? rulesIn(at.path) : undefined;
    const rules = own === undefined ? at.rules : [...at.rules, own];
    for (const entry of entries) {
      const path = join(at.path, entry.name);
      if (entry.isDirectory()) {
        const hidden = entry.name.startsWith(".") || entry.name === "node_modules";
        if (hidden || at.depth >= deepest || isIgnored(`${path}${sep}`, rules)) continue;
        waiting.push({ path, depth: at.depth + 1, rules });
      } else if (entry.isFile() && entry.name.endsWith(extension) && !isIgnored(path, rules)) {
        if (found.length >= most) return found;
        found.push(path);
      }
    }
  }
  return found;
}

// ───────────────────────────── helpers ─────────────────────────────

interface Rules {
  readonly folder: string;
  readonly of: Ignore;
}

interface Place {
  readonly path: string;
  readonly depth: number;
  readonly rules: readonly Rules[];
}

function rulesIn(folder: string): Rules | undefined {
  try {
    const text = readFileSync(join(folder, ".gitignore"), "utf8");
    return { folder, of: ignore().add(text) };
  } catch {
    return undefined;
  }
}

/** The innermost rule that speaks of a path decides, as in git. */
function isIgnored(path: string, rules: readonly Rules[]): boolean {
  for (const { folder, of } of rules.toReversed()) {
    const inside = relative(folder, path).replaceAll(sep, "/");
    const told = of.test(path.endsWith(sep) ? `${inside}/` : inside);
    if (told.ignored || told.unignored) return told.ignored;
  }
  return false;
}

function entriesOf(folder: string) {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch {
    return [];
  }
}
