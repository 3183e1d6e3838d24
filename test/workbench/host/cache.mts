/**
 * Things fetched or unpacked once and kept in `.vscode-test/`. Each is made in a folder of its own
 * and moved into place when whole, so that a broken-off run leaves nothing half there and two runs
 * at once do no harm.
 *
 *     const folder = await cached("editor-1.0", (target) => install(target));
 */
import { randomUUID } from "node:crypto";
import { existsSync, mkdirSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";
import { root } from "../../../.config/build.mts";

export const cacheFolder = join(root, ".vscode-test");

/** The folder of that name in the cache, made by `make` where it is not there yet. */
export async function cached(
  name: string,
  make: (target: string) => Promise<void>,
): Promise<string> {
  const folder = join(cacheFolder, name);
  if (existsSync(folder)) return folder;
  const target = join(cacheFolder, `.making-${randomUUID()}`);
  mkdirSync(target, { recursive: true });
  try {
    await make(target);
    if (!existsSync(folder)) renameSync(target, folder);
  } finally {
    rmSync(target, { recursive: true, force: true });
  }
  return folder;
}
