/**
 * The files of an editor: what is open there goes before what is on the disk, which is kept until
 * it changes.
 *
 *     files.open(uri, () => document.getText()); files.read(uri)   →   the text as typed so far
 *
 * Must not know: what is in the files, how the editor talks.
 */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { FileHost, ReadResult } from "./analysis/host";

/** Beyond this a file is no build. */
const largestFile = 20_000_000;
const mostKept = 2_000;
const mostListed = 2_000;
const deepestFolder = 12;

export class OpenFiles implements FileHost {
  folders: readonly string[] = [];
  /** Whether someone tells of changes below the folders; elsewhere each reading has to look. */
  watched = false;
  private readonly texts = new Map<string, () => string>();
  private readonly disk = new Map<
    string,
    { readonly stamp: string; readonly result: ReadResult }
  >();

  read(uri: string): ReadResult {
    const key = canonical(uri);
    const open = this.texts.get(key);
    if (open !== undefined) return { text: open() };
    const kept = this.disk.get(key);
    const told = this.watched && this.folders.some((folder) => key.startsWith(canonical(folder)));
    if (kept !== undefined && (told || kept.stamp === stampOf(uri))) return kept.result;
    const stamp = stampOf(uri);
    const result = readFromDisk(uri);
    if (this.disk.size >= mostKept) this.disk.clear();
    this.disk.set(key, { stamp, result });
    return result;
  }

  open(uri: string, text: () => string): void {
    this.texts.set(canonical(uri), text);
  }

  close(uri: string): void {
    this.texts.delete(canonical(uri));
    this.forget(uri);
  }

  isOpen(uri: string): boolean {
    return this.texts.has(canonical(uri));
  }

  /** What is on the disk may have changed. */
  forget(uri: string): void {
    this.disk.delete(canonical(uri));
  }

  /** URIs of the builds and parts below the folders, open ones as they are; in a stable order. */
  list(): string[] {
    const found: string[] = [];
    for (const folder of this.folders) {
      const path = pathOf(folder);
      if (path !== undefined) collect(path, 0, found);
    }
    return [...new Set(found)].sort();
  }
}

/** One spelling for all spellings of a URI: editors differ in what they escape. */
export function canonical(uri: string): string {
  const [, scheme = "", path = ""] = /^([a-z][a-z0-9+.-]*:)([\s\S]*)$/i.exec(uri) ?? [];
  const segments = path.split("/").map((segment) => {
    try {
      return encodeURIComponent(decodeURIComponent(segment));
    } catch {
      return segment;
    }
  });
  const drive = /^[a-z]%3A$/i;
  return `${scheme}${segments.map((segment) => (drive.test(segment) ? segment.toLowerCase() : segment)).join("/")}`;
}

// ───────────────────────────── helpers ─────────────────────────────

function pathOf(uri: string): string | undefined {
  if (!uri.startsWith("file:")) return undefined;
  try {
    return fileURLToPath(uri);
  } catch {
    return undefined;
  }
}

function stampOf(uri: string): string {
  const path = pathOf(uri);
  if (path === undefined) return "";
  try {
    const { mtimeMs, size } = statSync(path);
    return `${mtimeMs} ${size}`;
  } catch {
    return "missing";
  }
}

function readFromDisk(uri: string): ReadResult {
  const path = pathOf(uri);
  if (path === undefined) return { problem: "missing" };
  try {
    if (statSync(path).size > largestFile) return { problem: "unreadable" };
    return { text: readFileSync(path, "utf8") };
  } catch (error) {
    const missing = error instanceof Error && "code" in error && error.code === "ENOENT";
    return { problem: missing ? "missing" : "unreadable" };
  }
}

function collect(folder: string, depth: number, found: string[]): void {
  if (depth > deepestFolder || found.length >= mostListed) return;
  let entries: { name: string; isDirectory(): boolean; isFile(): boolean }[];
  try {
    entries = readdirSync(folder, { withFileTypes: true });
  } catch {
    return;
  }
  for (const entry of entries) {
    if (found.length >= mostListed) return;
    const path = join(folder, entry.name);
    if (entry.isDirectory()) {
      if (!entry.name.startsWith(".") && entry.name !== "node_modules")
        collect(path, depth + 1, found);
    } else if (entry.isFile() && entry.name.endsWith(".trammel")) {
      found.push(pathToFileURL(path).href);
    }
  }
}
