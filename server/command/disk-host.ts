/**
 * Files of builds from the disk, as one run of the command line sees them.
 *
 *     const host = new DiskHost("/shop");
 *     host.look(uriOf("/shop/van/build.trammel"))   // { text } or { problem, why }
 *
 * Must not know: what is in the files, verbs.
 */
import { type FileHost, mayReach, type ReadResult } from "../analysis/host";
import { pathOf, uriOf } from "../disk/file-uri";
import { isThere, namesIn } from "../disk/names-in";
import { type FileReading, type NotRead, readFile } from "../disk/read-file";
import { utf8 } from "../disk/text-encoding";

export class DiskHost implements FileHost {
  private readonly kept = new Map<string, FileReading>();
  private readonly standIns = new Map<string, string>();
  private readonly folders = new Map<string, readonly string[]>();

  /** `folder` is what `use` stays inside of, for files that lie in it. */
  constructor(private readonly folder: string) {}

  /** Every file is read and every folder listed once, so that one run sees one state of it. */
  read(uri: string, rootUri: string): ReadResult {
    if (!mayReach(uri, rootUri, [uriOf(`${this.folder}/`)])) return { problem: "outside" };
    return this.look(uri);
  }

  /** The same with the reason in words. */
  look(uri: string): FileReading {
    const standIn = this.standIns.get(uri);
    if (standIn !== undefined) return { text: standIn, encoding: utf8 };
    const before = this.kept.get(uri);
    if (before !== undefined) return before;
    const path = pathOf(uri);
    const reading = path === undefined ? noFile : readFile(path, [this.folder]);
    this.kept.set(uri, reading);
    return reading;
  }

  namesIn(folderUri: string, rootUri: string): readonly string[] {
    if (!mayReach(folderUri, rootUri, [uriOf(`${this.folder}/`)])) return [];
    const stoodIn = [...this.standIns.keys()].flatMap((uri) => {
      const name = uri.startsWith(folderUri) ? uri.slice(folderUri.length) : "";
      return name === "" || name.includes("/") ? [] : [decodeURIComponent(name)];
    });
    const names = this.folders.get(folderUri) ?? namesIn(pathOf(folderUri));
    this.folders.set(folderUri, names);
    return stoodIn.length === 0 ? names : [...new Set([...names, ...stoodIn])];
  }

  exists(uri: string): boolean {
    return isThere(pathOf(uri));
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

// ───────────────────────────── helpers ─────────────────────────────

const noFile: NotRead = { problem: "missing", why: "it is not a file" };
