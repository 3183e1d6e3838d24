/**
 * The files of an editor: what is open there goes before what is on the disk, which is kept until
 * it changes.
 *
 *     files.open(uri, () => document.getText()); files.read(uri)   →   the text as typed so far
 *
 * Must not know: what is in the files, how the editor talks.
 */
import { statSync } from "node:fs";
import { type FileHost, mayReach, type ReadResult, reachOf } from "./analysis/host";
import { markedFolder } from "./disk/build-root";
import { pathOf, uriOf } from "./disk/file-uri";
import { filesBelow } from "./disk/files-below";
import { isThere, namesIn } from "./disk/names-in";
import { readFile } from "./disk/read-file";

const mostKept = 2_000;
const mostListed = 2_000;
const deepestFolder = 12;

interface Kept {
  readonly stamp: string;
  readonly result: ReadResult;
}

export class OpenFiles implements FileHost {
  folders: readonly string[] = [];
  /** Whether someone tells of changes below the folders; elsewhere each reading has to look. */
  watched = false;
  private readonly texts = new Map<string, () => string>();
  /** The marked folder around each folder of a build; "" for none. */
  private readonly marked = new Map<string, string>();
  /** By file, then by the folders of which one was to hold it. */
  private readonly disk = new Map<string, Map<string, Kept>>();

  /** Reads a file as another text while something is done. */
  reading<T>(uri: string, text: string, work: () => T): T {
    const key = canonical(uri);
    const before = this.texts.get(key);
    this.texts.set(key, () => text);
    try {
      return work();
    } finally {
      if (before === undefined) this.texts.delete(key);
      else this.texts.set(key, before);
    }
  }

  read(uri: string, rootUri: string): ReadResult {
    const key = canonical(uri);
    const root = canonical(rootUri);
    const folders = this.foldersAround(root);
    if (!mayReach(key, root, folders)) return { problem: "outside" };
    const open = this.texts.get(key);
    if (open !== undefined) return { text: open() };
    const reach = reachOf(root, folders);
    const within = reach.join(" ");
    const kept = this.disk.get(key)?.get(within);
    const told = this.watched && this.folders.some((folder) => key.startsWith(canonical(folder)));
    if (kept !== undefined && (told || kept.stamp === stampOf(uri))) return kept.result;
    const stamp = stampOf(uri);
    const result = readFromDisk(uri, reach);
    this.keep(key, within, { stamp, result });
    return result;
  }

  /** Those that are open and not on the disk yet are among them. */
  namesIn(folderUri: string, rootUri: string): readonly string[] {
    const folder = canonical(folderUri);
    const root = canonical(rootUri);
    if (!mayReach(folder, root, this.foldersAround(root))) return [];
    const open = [...this.texts.keys()].flatMap((uri) => {
      const name = uri.startsWith(folder) ? uri.slice(folder.length) : "";
      return name === "" || name.includes("/") ? [] : [decodeURIComponent(name)];
    });
    return [...new Set([...namesIn(pathOf(folderUri)), ...open])];
  }

  exists(uri: string): boolean {
    return this.texts.has(canonical(uri)) || isThere(pathOf(uri));
  }

  /** The open folders and, around the file, the repository: a part of it may be open alone. */
  private foldersAround(root: string): readonly string[] {
    const open = this.folders.map(canonical);
    const folder = root.slice(0, root.lastIndexOf("/") + 1);
    let around = this.marked.get(folder);
    if (around === undefined) {
      const path = pathOf(folder);
      const found = path === undefined ? undefined : markedFolder(path);
      around = found === undefined ? "" : canonical(`${uriOf(found)}/`);
      if (this.marked.size >= mostKept) this.marked.clear();
      this.marked.set(folder, around);
    }
    const inside = open.some((each) => root.startsWith(each));
    return [...(inside ? open : []), ...(around === "" ? [] : [around])];
  }

  private keep(key: string, within: string, kept: Kept): void {
    if (this.disk.size >= mostKept) this.disk.clear();
    const inReach = this.disk.get(key) ?? new Map<string, Kept>();
    this.disk.set(key, inReach.set(within, kept));
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
    this.marked.clear();
    this.disk.delete(canonical(uri));
  }

  /** URIs of the builds and parts below the folders, open ones as they are; in a stable order. */
  list(): string[] {
    const found: string[] = [];
    for (const folder of this.folders) {
      const path = pathOf(folder);
      const most = mostListed - found.length;
      if (path !== undefined)
        found.push(...filesBelow(path, { most, deepest: deepestFolder }).map(uriOf));
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

function readFromDisk(uri: string, reach: readonly string[]): ReadResult {
  const path = pathOf(uri);
  const within = reach.flatMap((folder) => pathOf(folder) ?? []);
  return path === undefined || within.length === 0
    ? { problem: "missing" }
    : readFile(path, within);
}
