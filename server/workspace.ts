/**
 * What the server knows of an editor: its open documents, its files, its settings, and the analyses
 * of its builds.
 *
 * Must not know: what is asked of them.
 */
import { dirname } from "node:path";
import {
  type Connection,
  type InitializeParams,
  type Position,
  TextDocuments,
  type TextEdit,
  type WorkspaceEdit,
} from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { abilitiesOf, propertyOf } from "./abilities";
import type { Analysis } from "./analysis/analysis";
import { type Library, libraryScheme } from "./analysis/library";
import type { Log } from "./answering";
import { Builds } from "./builds";
import { pathOf } from "./disk/file-uri";
import { gitPerson } from "./disk/git-person";
import type { Recorder } from "./features/record-step";
import { endless, type Patience } from "./keep/patience";
import { canonical, OpenFiles } from "./open-files";
import type { LeftAlone } from "./service-messages";
import { defaultSettings, readSettings, type Settings } from "./settings";
import type { Watch } from "./watch";

const longestWaitForSettings = 2_000;

/** A build that could be read, and the settings it was read by. */
export interface Read {
  readonly analysis: Analysis;
  readonly settings: Settings;
}

export class Workspace {
  readonly documents = new TextDocuments(TextDocument);
  readonly files = new OpenFiles();
  client = abilitiesOf(undefined);
  private sentSettings: unknown;
  private readonly settings = new Map<string, Promise<Settings>>();

  constructor(
    private readonly connection: Connection,
    readonly library: () => Library,
    private readonly log: Log,
    private readonly watch: Watch,
    /** How often the editor has told something. */
    private readonly told: () => number,
  ) {}

  /** Made when first needed: reading the library takes a while. */
  get builds(): Builds {
    this.made ??= new Builds(this.files, this.library(), () => todayOf(new Date()));
    return this.made;
  }

  private made: Builds | undefined;

  begin(params: InitializeParams): void {
    this.client = abilitiesOf(params);
    this.sentSettings = propertyOf(params.initializationOptions, "settings");
    const folders = params.workspaceFolders?.map((folder) => folder.uri) ?? [];
    const root = folders.length === 0 && params.rootUri ? [params.rootUri] : folders;
    this.files.folders = folderUris(root);
  }

  changeFolders(added: readonly string[], removed: readonly string[]): void {
    const gone = new Set(folderUris(removed));
    const kept = this.files.folders.filter((folder) => !gone.has(folder));
    this.files.folders = [...kept, ...folderUris(added)];
  }

  /**
   * `undefined` where the file cannot be read, or is left alone. Throws `TakenBack`, as does reading
   * the answer, where the editor says something meanwhile: whoever answers it begins again.
   */
  async analysis(uri: string): Promise<Read | undefined> {
    const settings = await this.settingsOf(uri);
    if (this.leftAlone(uri) !== undefined) return undefined;
    this.watch.begins(uri);
    const analysis = this.builds.analysis(uri, settings, this.patience());
    return analysis === undefined ? undefined : { analysis, settings };
  }

  /** Until the editor has something new to say. */
  private patience(): Patience {
    const before = this.told();
    return { ...endless, isTakenBack: () => this.told() !== before };
  }

  /** Why a build is not read: it ended a server before, with the very text it has now. */
  leftAlone(uri: string): LeftAlone | undefined {
    return this.watch.leftAlone(uri, this.documents.get(uri)?.version);
  }

  /** An open build with the place asked about. */
  async place(
    uri: string,
    position: Position,
  ): Promise<(Read & { readonly offset: number }) | undefined> {
    const read = await this.analysis(uri);
    const offset = read?.analysis.sourceOf(uri)?.offsetAt(position);
    return read === undefined || offset === undefined ? undefined : { ...read, offset };
  }

  /** Who records work here, and on which day; nothing where nobody says who, or logs cannot be begun. */
  recorder(uri: string, settings: Settings): Recorder | undefined {
    const { log } = settings;
    if (!this.client.createsFiles) return undefined;
    const path = pathOf(uri);
    const folder = path === undefined ? undefined : dirname(path);
    const by = log.name.trim() || (folder === undefined ? undefined : this.personIn(folder));
    if (by === undefined || by === "") return undefined;
    const textOf = (each: string): string | undefined => {
      const read = this.files.read(each, each);
      return "text" in read ? read.text : undefined;
    };
    const asIf = (file: string, text: string): Analysis | undefined =>
      this.builds.asIf(uri, settings, file, text);
    return { by, date: todayOf(new Date()), textOf, asIf };
  }

  private readonly people = new Map<string, string | undefined>();

  /** Asked of git once for a folder. */
  private personIn(folder: string): string | undefined {
    if (!this.people.has(folder)) this.people.set(folder, gitPerson(folder));
    return this.people.get(folder);
  }

  /** Every build and part in the workspace and among the open ones. */
  allFiles(): string[] {
    const open = this.documents.keys().filter((uri) => !uri.startsWith(libraryScheme));
    const known = new Set(open.map(canonical));
    return [...open, ...this.files.list().filter((uri) => !known.has(canonical(uri)))];
  }

  /** What a `use` could name: the workspace's files, then the chapters and rules of the library. */
  usableFiles(): string[] {
    const asked = [...this.library().files.keys()].filter(
      (uri) => uri.slice(`${libraryScheme}/`.length).split("/").length > 1,
    );
    return [...this.allFiles().map(canonical), ...asked];
  }

  /** Edits by file as the editor takes them, against the versions it has open. */
  workspaceEdit(edits: ReadonlyMap<string, TextEdit[]>): WorkspaceEdit {
    const spelled = new Map(this.documents.keys().map((uri) => [canonical(uri), uri]));
    const named = [...edits].map(
      ([uri, list]) => [spelled.get(canonical(uri)) ?? uri, list] as const,
    );
    if (!this.client.versionedEdits) return { changes: Object.fromEntries(named) };
    return {
      documentChanges: named.map(([uri, list]) => ({
        textDocument: { uri, version: this.documents.get(uri)?.version ?? null },
        edits: list,
      })),
    };
  }

  // ── settings ──

  /** `sent`: settings as some editors send them along; others are asked. */
  changeSettings(sent: unknown): void {
    const own = propertyOf(sent, "trammel");
    if (own !== undefined) this.sentSettings = own;
    this.settings.clear();
  }

  forgetSettings(uri: string): void {
    this.settings.delete(uri);
  }

  private settingsOf(uri: string): Promise<Settings> {
    // Of files that nobody has open only names are asked, which no setting changes.
    if (!this.files.isOpen(uri)) return Promise.resolve(defaultSettings);
    const known = this.settings.get(uri) ?? this.askSettings(uri);
    this.settings.set(uri, known);
    return known;
  }

  private async askSettings(uri: string): Promise<Settings> {
    if (!this.client.settings) return readSettings(this.sentSettings);
    try {
      const sent = await Promise.race([
        this.connection.workspace.getConfiguration({ scopeUri: uri, section: "trammel" }),
        later(longestWaitForSettings, this.sentSettings),
      ]);
      return readSettings(sent ?? this.sentSettings);
    } catch (error) {
      this.log("the editor did not tell its settings", error);
      return readSettings(this.sentSettings);
    }
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** The day it is here: `2026-04-04`. */
function todayOf(now: Date): string {
  const two = (part: number): string => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function folderUris(uris: readonly string[]): string[] {
  return uris.map((uri) => (uri.endsWith("/") ? uri : `${uri}/`));
}

function later<T>(delay: number, value: T): Promise<T> {
  return new Promise((resolve) => {
    setTimeout(() => resolve(value), delay).unref();
  });
}
