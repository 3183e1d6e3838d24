/**
 * The one way Trammel writes a file: beside the old one, flushed to the disk, then put in its place
 * in one step. Whatever happens on the way, the old file stays as it was. A link stays a link, and
 * its file keeps its permissions and encoding.
 *
 *     writeFile("/shop/van/build.trammel", formatted, { before: reading })   →   undefined, or { why }
 *
 * Must not know: what is written.
 */
import { randomBytes } from "node:crypto";
import {
  closeSync,
  fchmodSync,
  fchownSync,
  fsyncSync,
  openSync,
  readFileSync,
  realpathSync,
  renameSync,
  type Stats,
  statSync,
  unlinkSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { type DecodedText, encodeText, utf8 } from "./text-encoding";

export interface WriteOptions {
  /**
   * What was read of the file before: it is written in the same encoding, and not at all where
   * someone has changed it since.
   */
  readonly before?: DecodedText;
}

/** `why` is for the person whose file it is: `there is no room left on the disk`. Never throws. */
export function writeFile(
  path: string,
  text: string,
  { before }: WriteOptions = {},
): { readonly why: string } | undefined {
  let beside: string | undefined;
  try {
    const { real, old } = whatIsThere(path);
    if (old !== undefined && !old.isFile()) return { why: "it is not an ordinary file" };
    beside = join(dirname(real), `.${basename(real)}.${randomBytes(6).toString("hex")}.tmp`);
    writeNew(beside, encodeText(text, before?.encoding ?? utf8), old);
    if (before !== undefined && !isStill(real, before))
      return { why: "someone else has changed it meanwhile; it is left as it is" };
    renameSync(beside, real);
    beside = undefined;
    flushFolder(dirname(real));
    return undefined;
  } catch (error) {
    return { why: reasonOf(error) };
  } finally {
    if (beside !== undefined) remove(beside);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** Where a link leads is what is written, so that the link itself stays. */
function whatIsThere(path: string): { real: string; old?: Stats } {
  try {
    const real = realpathSync.native(path);
    return { real, old: statSync(real) };
  } catch (error) {
    if (codeOf(error) === "ENOENT") return { real: path };
    throw error;
  }
}

function writeNew(path: string, bytes: Uint8Array, old: Stats | undefined): void {
  // Nobody else may read it before it has the permissions of the old one.
  const file = openSync(path, "wx", old === undefined ? 0o666 : 0o600);
  try {
    writeFileSync(file, bytes);
    if (old !== undefined) {
      keepOwner(file, old);
      fchmodSync(file, old.mode & 0o7777);
    }
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Only the owner of the machine can give files away; whoever else writes keeps what is theirs. */
function keepOwner(file: number, { uid, gid }: Stats): void {
  try {
    fchownSync(file, uid, gid);
  } catch {
    // It belongs to the one who writes now.
  }
}

function isStill(path: string, before: DecodedText): boolean {
  const expected = encodeText(before.text, before.encoding);
  return Buffer.compare(readFileSync(path), expected) === 0;
}

/** So that the new name is on the disk too; not every system can. */
function flushFolder(folder: string): void {
  try {
    const file = openSync(folder, "r");
    try {
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
  } catch {
    // The file itself is safe.
  }
}

function remove(path: string): void {
  try {
    unlinkSync(path);
  } catch {
    // It was never made.
  }
}

function codeOf(error: unknown): unknown {
  return error instanceof Error && "code" in error ? error.code : undefined;
}

function reasonOf(error: unknown): string {
  switch (codeOf(error)) {
    case "ENOSPC":
    case "EDQUOT":
      return "there is no room left on the disk; the file is as it was";
    case "EFBIG":
      return "the disk takes no file so large; the file is as it was";
    case "EACCES":
    case "EPERM":
      return "writing beside it is not permitted";
    case "EROFS":
      return "the disk can only be read";
    case "ENOENT":
    case "ENOTDIR":
      return "there is no such folder";
    default:
      return "the disk did not take it; the file is as it was";
  }
}
