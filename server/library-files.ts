/**
 * Gives the texts of the library that ships with Trammel (`server/library/*.trammel`). The bundler
 * replaces this module by one that holds the texts, read already (`grammar/packed-file.ts`), so that
 * a bundle needs no files beside it and parses none of them; here, and so in the tests, they are read
 * from their folder. Knows nothing of what they say.
 *
 *     for (const { path, text } of libraryFiles()) parse(path, text);
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { PackedFile } from "../grammar/packed-file";

export interface LibraryFile {
  /** Relative to `server/library`, with forward slashes: `axle.trammel`. */
  readonly path: string;
  readonly text: string;
  /** What it was read to when the bundle was made. */
  readonly packed?: PackedFile;
}

/** All files of the library, in the order of their paths, line endings as `\n`. */
export function libraryFiles(): readonly LibraryFile[] {
  const folder = join(import.meta.dirname, "library");
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".trammel"))
    .map((name) => ({
      path: name.replaceAll("\\", "/"),
      text: readFileSync(join(folder, name), "utf8").replaceAll("\r\n", "\n"),
    }))
    .sort((one, other) => (one.path < other.path ? -1 : one.path > other.path ? 1 : 0));
}
