/**
 * Which commit a file stands at, for the title block of a sheet: `1f0c2aa`, and whether the file was
 * changed since.
 *
 *     gitRevision("/shop/van/build.trammel")   →   "1f0c2aa, changed since"
 *
 * Only plumbing is asked, which runs nothing that a repository brings along; whether the file was
 * changed is compared here, byte by byte. Must not know: what the file is.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { basename, dirname } from "node:path";

const longestWait = 2_000;

/** `undefined` where there is no git, no repository, or no commit yet. Never throws. */
export function gitRevision(path: string): string | undefined {
  const folder = dirname(path);
  const commit = git(folder, ["rev-parse", "--short", "HEAD"]);
  if (commit === undefined || !/^[0-9a-f]{4,40}$/.test(commit)) return undefined;
  const committed = git(folder, ["rev-parse", "--verify", `HEAD:./${basename(path)}`]);
  return committed !== undefined && committed === blobOf(path)
    ? commit
    : `${commit}, changed since`;
}

// ───────────────────────────── helpers ─────────────────────────────

function git(cwd: string, args: readonly string[]): string | undefined {
  const { status, stdout } = spawnSync("git", ["-c", "core.fsmonitor=false", ...args], {
    cwd,
    encoding: "utf8",
    timeout: longestWait,
    windowsHide: true,
    env: { ...process.env, GIT_OPTIONAL_LOCKS: "0" },
  });
  return status === 0 ? stdout.trim() : undefined;
}

/** The name git gives to the file's content: SHA-1 over a head and its bytes. */
function blobOf(path: string): string | undefined {
  try {
    const bytes = readFileSync(path);
    return createHash("sha1").update(`blob ${bytes.length}\0`).update(bytes).digest("hex");
  } catch {
    return undefined;
  }
}
