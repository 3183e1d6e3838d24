/**
 * Puts generated builds into a folder of their own, to be read the way a shop's are.
 *
 *     const shop = new Shop();
 *     shop.put(buildOf(7));
 *     shop.remove();
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import type { GeneratedFile } from "./generate";

export class Shop {
  readonly folder = mkdtempSync(join(tmpdir(), "trammel-bench-"));

  /** Gives the absolute path. */
  put({ path, text }: GeneratedFile): string {
    const file = join(this.folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    return file;
  }

  uri(path: string): string {
    return pathToFileURL(join(this.folder, path)).href;
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}
