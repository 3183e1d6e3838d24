/**
 * Files of builds from the disk: what is no text, too large to be a build, or no file at all is
 * refused with a reason instead of read.
 *
 *     const host = new DiskHost("/shop");
 *     host.read(uriOf("/shop/van/build.trammel"))   // { text } or { problem }
 *
 * Must not know: what is in the files, verbs.
 */
import { readFileSync, statSync } from "node:fs";
import { dirname, resolve, sep } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { FileHost, ReadResult } from "../analysis/host";

/** No build comes near it; beyond it a file is something else. */
const mostBytes = 64 * 1024 * 1024;

export type DiskReading =
  | { readonly text: string }
  /** `why` is for the person who named the file: `there is no such file`. */
  | { readonly problem: "missing" | "unreadable"; readonly why: string };

export class DiskHost implements FileHost {
  private readonly kept = new Map<string, DiskReading>();
  private readonly standIns = new Map<string, string>();

  /** `folder` is what `use` stays inside of, for files that lie in it. */
  constructor(private readonly folder: string) {}

  get folders(): readonly string[] {
    return [uriOf(this.folder + sep)];
  }

  /** Every file is read once, so that one run sees one state of it. */
  read(uri: string): ReadResult {
    return this.look(uri);
  }

  /** The same with the reason in words. */
  look(uri: string): DiskReading {
    const standIn = this.standIns.get(uri);
    if (standIn !== undefined) return { text: standIn };
    const before = this.kept.get(uri);
    if (before !== undefined) return before;
    const reading = readDisk(uri);
    this.kept.set(uri, reading);
    return reading;
  }

  /** Takes `text` for the content of the file, whatever the disk has. */
  standIn(uri: string, text: string): void {
    this.standIns.set(uri, text);
  }

  /** Lets go of what was read, where nothing will ask for it again. */
  forget(uri: string): void {
    this.kept.delete(uri);
  }
}

/**
 * The folder that the paths in a build may not leave: the current one where the file lies inside
 * it, else the file's own.
 */
export function workspaceFolder(currentFolder: string, file: string): string {
  const current = resolve(currentFolder);
  return file.startsWith(current.endsWith(sep) ? current : current + sep) ? current : dirname(file);
}

/** The URI of an absolute path, each name encoded the way paths in `use` are. */
export function uriOf(path: string): string {
  const url = pathToFileURL(path).href;
  const [scheme, ...names] = url.split("///");
  const encoded = names
    .join("///")
    .split("/")
    .map((name) => (/^[A-Za-z]:$/.test(name) ? name : encodeURIComponent(decoded(name))));
  return `${scheme}///${encoded.join("/")}`;
}

/** `undefined` for what is no file of this disk. */
export function pathOf(uri: string): string | undefined {
  try {
    return fileURLToPath(uri);
  } catch {
    return undefined;
  }
}

/** Bytes as text: UTF-8 or, where its mark says so, UTF-16; nothing where they are no text. */
export function textOf(bytes: Uint8Array): DiskReading {
  const encoding =
    bytes[0] === 0xff && bytes[1] === 0xfe
      ? "utf-16le"
      : bytes[0] === 0xfe && bytes[1] === 0xff
        ? "utf-16be"
        : "utf-8";
  try {
    // The byte-order mark stays out; line endings stay as they are.
    const text = new TextDecoder(encoding, { fatal: true }).decode(bytes);
    return text.includes("\0") ? { problem: "unreadable", why: "it is not a text file" } : { text };
  } catch {
    return {
      problem: "unreadable",
      why: bytes.includes(0)
        ? "it is not a text file"
        : "it is not UTF-8 text; save it again with the encoding UTF-8",
    };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function readDisk(uri: string): DiskReading {
  const path = pathOf(uri);
  if (path === undefined) return { problem: "missing", why: "it is not a file" };
  try {
    const { size, ...state } = status(path);
    if (state.folder) return { problem: "unreadable", why: "it is a folder" };
    // Reading a pipe or a device could wait forever.
    if (!state.file) return { problem: "unreadable", why: "it is not an ordinary file" };
    if (size > mostBytes) {
      return {
        problem: "unreadable",
        why: `it is larger than ${mostBytes / 1024 / 1024} MB, too large for a build`,
      };
    }
    return textOf(readFileSync(path));
  } catch (error) {
    const code = error instanceof Error && "code" in error ? error.code : undefined;
    if (code === "ENOENT" || code === "ENOTDIR")
      return { problem: "missing", why: "there is no such file" };
    if (code === "EACCES" || code === "EPERM")
      return { problem: "unreadable", why: "reading it is not permitted" };
    return { problem: "unreadable", why: "it could not be read" };
  }
}

function status(path: string): { size: number; file: boolean; folder: boolean } {
  const found = statSync(path);
  return { size: found.size, file: found.isFile(), folder: found.isDirectory() };
}

function decoded(name: string): string {
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}
