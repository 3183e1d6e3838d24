/**
 * The one way Trammel reads a file: an ordinary file that ends with `.trammel`, really lies in a
 * folder it may be read from, is not too large, and is text. Links are followed to their ends before
 * anything is opened, so that no name in a folder leads to what is outside of it, to a device or to
 * a pipe.
 *
 *     readFile("/shop/van/build.trammel", ["/shop"])   →   { text, encoding } or { problem, why }
 *
 * Must not know: what is in the files, who asks.
 */
import {
  closeSync,
  constants,
  fstatSync,
  lstatSync,
  openSync,
  readSync,
  realpathSync,
} from "node:fs";
import { resolve, sep } from "node:path";
import { type DecodedText, decodeText } from "./text-encoding";

/** What the names of builds and their parts end with. */
export const extension = ".trammel";

/** No build comes near it; beyond it a file is something else. */
export const mostBytes = 8 * 1024 * 1024;

/** `why` is for the person who named the file: `there is no such file`. */
export interface NotRead {
  readonly problem: "missing" | "unreadable" | "outside";
  readonly why: string;
}

export type FileReading = DecodedText | NotRead;

/** `within`: absolute paths of the folders of which one must hold the file. Never throws. */
export function readFile(path: string, within: readonly string[]): FileReading {
  try {
    const real = realpathSync.native(path);
    if (!within.some((folder) => isInside(real, realFolder(folder)))) return outside;
    const found = lstatSync(real);
    if (found.isDirectory()) return unreadable("it is a folder");
    // Opening a device may do something to it, opening a pipe may wait for ever.
    if (!found.isFile()) return unreadable("it is not an ordinary file");
    if (!path.endsWith(extension) || !real.endsWith(extension))
      return unreadable(`its name does not end with ${extension}`);
    const bytes = contentOf(real);
    if (bytes === undefined) return tooLarge;
    const decoded = decodeText(bytes);
    return "why" in decoded ? unreadable(decoded.why) : decoded;
  } catch (error) {
    return refusal(path, error);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const outside: NotRead = {
  problem: "outside",
  why: "it leads out of the folder, or is a link to nothing",
};
const tooLarge: NotRead = unreadable(
  `it is larger than ${mostBytes / 1024 / 1024} MB, too large for a build`,
);

function unreadable(why: string): NotRead {
  return { problem: "unreadable", why };
}

function isInside(path: string, folder: string): boolean {
  return path.startsWith(folder.endsWith(sep) ? folder : folder + sep);
}

function realFolder(folder: string): string {
  try {
    return realpathSync.native(folder);
  } catch {
    return resolve(folder);
  }
}

/** Nothing where it is larger than a build can be, whatever its size is said to be. */
function contentOf(real: string): Uint8Array | undefined {
  const { O_RDONLY, O_NONBLOCK = 0, O_NOFOLLOW = 0 } = constants;
  const file = openSync(real, O_RDONLY | O_NONBLOCK | O_NOFOLLOW);
  try {
    const { size } = fstatSync(file);
    if (size > mostBytes) return undefined;
    let bytes = Buffer.allocUnsafe(size + 1);
    for (let length = 0; ; ) {
      const read = readSync(file, bytes, length, bytes.length - length, null);
      length += read;
      if (length > mostBytes) return undefined;
      if (read === 0) return bytes.subarray(0, length);
      if (length === bytes.length) bytes = Buffer.concat([bytes], 2 * length);
    }
  } finally {
    closeSync(file);
  }
}

function refusal(path: string, error: unknown): NotRead {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  switch (code) {
    case "ENOENT":
    case "ENOTDIR":
      // Whether there is something at the end of a link is nobody's business here.
      return isLink(path) ? outside : { problem: "missing", why: "there is no such file" };
    case "EACCES":
    case "EPERM":
      return unreadable("reading it is not permitted");
    case "ELOOP":
      return unreadable("it is a link that leads round in a circle");
    case "ENAMETOOLONG":
      return { problem: "missing", why: "its name is too long" };
    default:
      return unreadable("it could not be read");
  }
}

function isLink(path: string): boolean {
  try {
    return lstatSync(path).isSymbolicLink();
  } catch {
    return false;
  }
}
