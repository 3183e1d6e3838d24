/**
 * The files of a build: the root file and all it uses, with the names each of them can see.
 *
 *     const build = loader.load("file:///shop/build.trammel")
 *
 * Must not know: what things hold, the trade.
 */

import type { Anchor, SourceOfFile } from "../../grammar/anchor";
import { parseFile } from "../../grammar/source-file";
import type * as syntax from "../../grammar/syntax";
import type { Item, SourceFile } from "../../grammar/syntax";
import type { Fact, Found } from "../findings/worded";
import type { Vocabulary } from "../model/definition";
import { kindFindings } from "../model/kind-findings";
import { nearest } from "../model/spelling";
import { buildVocabulary, declaresWords } from "../model/vocabulary";
import type { Ids } from "../names/ids";
import type { Declaration, FileScope } from "../names/scope";
import type { FileHost, ReadResult } from "./host";
import { type Library, libraryScheme } from "./library";
import { filesOfPattern, logsBeside } from "./logs-beside";

/** More files than any build uses; beyond it a `use` is refused rather than followed. */
const mostFiles = 500;

/** Things one file may declare: each costs up to fifty kilobytes once it is solved, in a heap of 1.5 GB. */
const mostThings = 25_000;

/** In characters, all files of a build together. */
const mostText = 16 * 1024 * 1024;

/** What the names of files that can be used end with. */
const ending = ".trammel";

type Unread = Extract<ReadResult, { readonly problem: string }>;

export interface BuildFile extends SourceOfFile {
  readonly scope: FileScope;
}

export interface BuildFiles {
  readonly root: BuildFile;
  /** The root file first, then in the order they are met. */
  readonly files: readonly BuildFile[];
  /** Logs kept of this very build, beside it or named by it. */
  readonly logs: ReadonlySet<BuildFile>;
  readonly vocabulary: Vocabulary;
  readonly findings: readonly Found[];
}

/** Reads and reads again; keeps parsed files and their declarations between calls. */
export class FileLoader {
  private readonly parsed = new Map<string, SourceFile>();
  private readonly declarations = new WeakMap<Item, Declaration>();
  private words:
    | { items: readonly Item[]; vocabulary: Vocabulary; findings: readonly Found[] }
    | undefined;

  constructor(
    private readonly host: FileHost,
    private readonly library: Pick<Library, "files" | "vocabulary">,
    private readonly ids: Ids,
  ) {}

  /** `undefined` where the root file itself cannot be read. */
  load(rootUri: string): BuildFiles | undefined {
    const findings: Found[] = [];
    const files = new Map<string, LoadedFile>();
    const root = this.open(rootUri, "", files, findings, [], rootUri);
    if (root === undefined || "problem" in root) return undefined;
    const logs = this.openLogs(rootUri, files, findings);
    const all = [...files.values()];
    const vocabulary = this.vocabularyOf(all, findings);
    for (const file of all) file.bind(vocabulary, findings);
    return { root, files: all, logs, vocabulary, findings };
  }

  /** Drops what is kept of a file. */
  forget(uri: string): void {
    this.parsed.delete(uri);
  }

  /**
   * Opens the logs beside the root file that are about this build: all they use is in it already.
   * Kept of the build itself are those of them that use its file, and those it names.
   */
  private openLogs(
    rootUri: string,
    files: Map<string, LoadedFile>,
    findings: Found[],
  ): Set<LoadedFile> {
    const own = new Set<LoadedFile>();
    const named = [...files.values()].flatMap(({ patterns }) => patterns);
    const logs =
      named.length > 0
        ? named.flatMap((target) => filesOfPattern(target, this.host))
        : logsBeside(rootUri, this.host);
    for (const uri of logs) {
      if (files.has(uri) || files.size >= mostFiles) continue;
      const source = this.read(uri, rootUri);
      if (source === undefined || "problem" in source) continue;
      const used = source.items.flatMap(({ node }) => {
        const target = node.type === "use" ? resolveUri(uri, node.path.value) : undefined;
        return typeof target === "string" ? [target] : [];
      });
      const uses = used.filter((each) => !each.startsWith(libraryScheme) && !each.includes("*"));
      const isAbout = uses.length > 0 && uses.every((each) => files.has(each));
      if (!isAbout && named.length === 0) continue;
      const log = this.open(uri, "", files, findings, [], rootUri);
      if (log === undefined || "problem" in log) continue;
      if (named.length > 0 || uses.includes(rootUri)) own.add(log);
    }
    return own;
  }

  private open(
    uri: string,
    prefix: string,
    files: Map<string, LoadedFile>,
    findings: Found[],
    chain: readonly string[],
    rootUri: string,
  ): LoadedFile | Unread | undefined {
    const source = this.read(uri, rootUri);
    if (source === undefined || "problem" in source) return source;
    const file = new LoadedFile(uri, source, prefix, this.declarations, this.ids);
    files.set(uri, file);
    for (const item of source.items) {
      if (item.node.type === "use")
        this.follow(file, item, item.node, files, findings, [...chain, uri]);
    }
    return file;
  }

  /** `undefined` for what the library does not have. */
  private read(uri: string, rootUri: string): SourceFile | Unread | undefined {
    if (uri.startsWith(libraryScheme)) return this.library.files.get(uri)?.source;
    const read = this.host.read(uri, rootUri);
    if ("problem" in read) return read;
    const source = parseFile(read.text, this.parsed.get(uri));
    this.parsed.set(uri, source);
    return source;
  }

  private follow(
    file: LoadedFile,
    item: Item,
    node: syntax.Use,
    files: Map<string, LoadedFile>,
    findings: Found[],
    chain: readonly string[],
  ): void {
    const anchor: Anchor = { uri: file.uri, item, span: node.path.span };
    const say = (fact: Fact): void => {
      findings.push({ ...fact, anchor });
    };
    const path = node.path.value;
    if (path === "" && node.path.span.end === node.path.span.start) return;
    const rootUri = chain[0] ?? file.uri;
    const target = resolveUri(file.uri, path);
    if (typeof target === "object") {
      say({ is: "use/not-a-path", path, why: target.why });
      return;
    }
    if (path.includes("*")) {
      if (filesOfPattern(target, this.host).length === 0 && this.host.namesIn !== undefined)
        say({ is: "use/none", path });
      file.patterns.push(target);
      return;
    }
    const inLibrary = target.startsWith(libraryScheme);
    if (!inLibrary && !target.endsWith(ending)) {
      say({ is: "use/not-a-build", path, ending });
      return;
    }
    if (chain.includes(target)) {
      const loop = [...chain.slice(chain.indexOf(target)), target].map(fileName);
      say({ is: "use/circular", files: loop });
      return;
    }
    const alias = node.alias?.text;
    let used: LoadedFile | Unread | undefined = files.get(target);
    if (used === undefined) {
      if (sizeOf(files) > mostText) {
        say({ is: "use/too-many text", most: mostText });
        return;
      }
      if (files.size >= mostFiles) {
        say({ is: "use/too-many", most: mostFiles });
        return;
      }
      used = this.open(
        target,
        alias === undefined ? file.prefix : `${file.prefix}${alias}.`,
        files,
        findings,
        chain,
        rootUri,
      );
    }
    if (used === undefined || "problem" in used) {
      if (used?.problem === "outside") say({ is: "use/outside", path });
      else if (used?.problem === "unreadable") say({ is: "use/unreadable", path, why: used.why });
      else if (inLibrary) {
        const near = nearest(target, this.library.files.keys());
        const meant = near?.replace(`${libraryScheme}/`, libraryScheme);
        say({ is: "use/missing library", path, near: meant });
      } else say({ is: "use/missing", path });
      return;
    }
    file.uses.push({ file: used, alias, anchor });
  }

  /** The library's words where no file declares any; made again only when a declaration changed. */
  private vocabularyOf(files: readonly LoadedFile[], findings: Found[]): Vocabulary {
    const declaring = files.filter((file) => !file.library && declaresWords(file));
    if (declaring.length === 0) return this.library.vocabulary;
    const items = declaring.flatMap((file) =>
      file.source.items.filter((item) => isWord(item.node)),
    );
    const kept = this.words;
    if (
      kept !== undefined &&
      kept.items.length === items.length &&
      items.every((item, index) => item === kept.items[index])
    ) {
      findings.push(...kept.findings);
      return kept.vocabulary;
    }
    const found: Found[] = [];
    const vocabulary = buildVocabulary(declaring, this.library.vocabulary, (finding) =>
      found.push(finding),
    );
    found.push(...kindFindings(vocabulary));
    this.words = { items, vocabulary, findings: found };
    findings.push(...found);
    return vocabulary;
  }
}

/** A file while its names are being bound; afterwards it is only read. */
class LoadedFile implements BuildFile, FileScope {
  readonly library: boolean;
  readonly uses: { file: LoadedFile; alias: string | undefined; anchor: Anchor }[] = [];
  /** URIs with `*` in them: files that are read with the build, such as its logs. */
  readonly patterns: string[] = [];
  readonly declarations = new Map<string, Declaration>();
  readonly namespaces = new Map<string, FileScope>();
  vocabulary!: Vocabulary;
  private bound = false;

  constructor(
    readonly uri: string,
    readonly source: SourceFile,
    readonly prefix: string,
    private readonly known: WeakMap<Item, Declaration>,
    private readonly ids: Ids,
  ) {
    this.library = uri.startsWith(libraryScheme);
  }

  get file(): SourceOfFile {
    return this;
  }

  get scope(): FileScope {
    return this;
  }

  bind(vocabulary: Vocabulary, findings: Found[]): void {
    if (this.bound) return;
    this.bound = true;
    this.vocabulary = vocabulary;
    const duplicate = (name: string, anchor: Anchor, before: Declaration | undefined): void => {
      const place = before && { uri: before.uri, item: before.item, span: before.node.name.span };
      findings.push({ is: "name/duplicate", name, before: place, anchor });
    };
    for (const item of this.source.items) {
      const { node } = item;
      if (node.type !== "thing" || node.name.text === "") continue;
      if (this.declarations.size >= mostThings) {
        findings.push({
          is: "build/too-much things",
          most: mostThings,
          from: node.name.text,
          anchor: { uri: this.uri, item, span: node.name.span },
        });
        break;
      }
      const before = this.declarations.get(node.name.text);
      if (before !== undefined) {
        duplicate(node.name.text, { uri: this.uri, item, span: node.name.span }, before);
        continue;
      }
      this.declarations.set(node.name.text, this.declaration(item, node));
    }
    for (const { file, alias, anchor } of this.uses) {
      file.bind(vocabulary, findings);
      if (alias !== undefined) {
        if (this.namespaces.has(alias) || this.declarations.has(alias))
          duplicate(alias, anchor, this.declarations.get(alias));
        else this.namespaces.set(alias, file);
        continue;
      }
      for (const [name, declaration] of file.declarations) {
        const before = this.declarations.get(name);
        if (before === undefined) this.declarations.set(name, declaration);
        else if (before !== declaration) duplicate(name, anchor, before);
      }
      for (const [name, namespace] of file.namespaces) {
        if (!this.namespaces.has(name)) this.namespaces.set(name, namespace);
      }
    }
  }

  /** One object for one item as long as the item lives and the file is called the same. */
  private declaration(item: Item, node: syntax.Thing): Declaration {
    const { uri, library, prefix } = this;
    const before = this.known.get(item);
    if (before?.prefix === prefix) return before;
    const id = this.ids.thing(uri, node.name.text);
    const declaration: Declaration = { id, node, item, uri, library, prefix };
    this.known.set(item, declaration);
    return declaration;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function sizeOf(files: ReadonlyMap<string, LoadedFile>): number {
  let size = 0;
  for (const { source, library } of files.values()) if (!library) size += source.text.length;
  return size;
}

function isWord(node: syntax.ItemNode): boolean {
  return ["kind", "designation_declaration", "table", "order"].includes(node.type);
}

/** What a path leads to, or what is wrong with it. */
function resolveUri(base: string, path: string): string | Pick<Fact<"use/not-a-path">, "why"> {
  // `library:chapters/weld.trammel` names a file that ships with Trammel; other schemes lead nowhere.
  if (path.startsWith(libraryScheme))
    return `${libraryScheme}/${path.slice(libraryScheme.length).replace(/^\/+/, "")}`;
  if (path === "") return { why: "empty" };
  if (/^([/\\]|[a-z]:)/i.test(path)) return { why: "top-of-disk" };
  if (/^[a-z][a-z0-9+.-]*:/i.test(path) || path.includes("\0")) return { why: "no-path" };
  try {
    return new URL(path.replaceAll("\\", "/").split("/").map(encodeURIComponent).join("/"), base)
      .href;
  } catch {
    return { why: "no-path" };
  }
}

function fileName(uri: string): string {
  return decodeURIComponent(uri.slice(uri.lastIndexOf("/") + 1));
}
