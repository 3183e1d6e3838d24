/**
 * Who works here, as git knows them.
 *
 *     gitPerson("/shop/van")   →   "R. Calder"
 *
 * Only the setting is read; nothing that a repository brings along is run. Must not know: logs.
 */
import { spawnSync } from "node:child_process";

const longestWait = 2_000;

/** `undefined` where there is no git or nobody has told it. Never throws. */
export function gitPerson(folder: string): string | undefined {
  const { status, stdout } = spawnSync("git", ["config", "--get", "user.name"], {
    cwd: folder,
    encoding: "utf8",
    timeout: longestWait,
    windowsHide: true,
  });
  const name = status === 0 ? stdout.trim() : "";
  return name === "" ? undefined : name;
}
