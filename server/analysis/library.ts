/**
 * The trade's own files, read once and shared by every analysis.
 *
 * Must not know: what is in them.
 */

import type { SourceOfFile } from "../../grammar/anchor";
import { type PackedFile, unpacked } from "../../grammar/packed-file";
import { parseFile } from "../../grammar/source-file";
import type { SourceFile } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import type { Vocabulary } from "../model/definition";
import { buildVocabulary, emptyVocabulary } from "../model/vocabulary";
import { Workshop } from "./workshop";

export const libraryScheme = "library:";

const referenceFolder = `${libraryScheme}/reference/`;

/** Where the page of a library file is read: `library:/reference/axle.md` of `library:/axle.trammel`. */
export function referenceUri(uri: string): string {
  return uri.replace(`${libraryScheme}/`, referenceFolder).replace(/\.trammel$/, ".md");
}

/** The subject such a place is about: `axle`. */
export function subjectAt(uri: string): string | undefined {
  return uri.startsWith(referenceFolder) && uri.endsWith(".md")
    ? uri.slice(referenceFolder.length, -".md".length)
    : undefined;
}

export interface Library {
  readonly files: ReadonlyMap<string, SourceOfFile>;
  readonly vocabulary: Vocabulary;
  /** Anything wrong in the library itself; a test keeps this empty. */
  readonly findings: readonly Found[];
  /** What is kept for all builds that are read with it. */
  readonly workshop: Workshop;
}

/**
 * `path` is the path below the library folder, `axle.trammel`. What was read already when the bundle
 * was made was looked over then as well: its kinds and tables are read when they are first needed.
 */
export function loadLibrary(
  files: readonly {
    readonly path: string;
    readonly text: string;
    readonly packed?: PackedFile;
  }[],
): Library {
  const loaded = new Map<string, LibraryFile>();
  for (const { path, text, packed } of files) {
    const uri = `${libraryScheme}/${path}`;
    loaded.set(uri, new LibraryFile(uri, text, packed));
  }
  const lookedOver = files.every(({ packed }) => packed !== undefined);
  const findings: Found[] = [];
  const declaring = [...loaded.values()].filter((file) => file.mayDeclareWords);
  const vocabulary = buildVocabulary(
    declaring,
    emptyVocabulary,
    (finding) => findings.push(finding),
    lookedOver ? "when needed" : "at once",
  );
  return { files: loaded, vocabulary, findings, workshop: new Workshop() };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Most builds use few of the chapters and rules: what declares no words is read when it is used. */
class LibraryFile implements SourceOfFile {
  readonly library = true;
  private parsed: SourceFile | undefined;

  constructor(
    readonly uri: string,
    private readonly text: string,
    private readonly packed: PackedFile | undefined,
  ) {}

  get source(): SourceFile {
    this.parsed ??=
      this.packed === undefined ? parseFile(this.text) : unpacked(this.text, this.packed);
    return this.parsed;
  }

  /** By the look of the text: true for some files that declare none, never false for one that does. */
  get mayDeclareWords(): boolean {
    return /(?:^|[;}])\s*(?:kind|designation|table|order)\b/m.test(this.text);
  }
}
