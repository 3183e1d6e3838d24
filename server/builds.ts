/**
 * The builds an editor has open, each analyzed as a root of its own, and again only after something
 * it is made of has changed.
 *
 *     builds.analysis(uri, settings)   →   the answer to the text as it stands now
 *
 * Must not know: how the editor talks.
 */
import { parseFile } from "../grammar/source-file";
import type { SourceFile } from "../grammar/syntax";
import type { Analysis } from "./analysis/analysis";
import type { Analyzer } from "./analysis/analyzer";
import { memoryHost } from "./analysis/host";
import { type Library, libraryScheme } from "./analysis/library";
import { isLogBeside } from "./analysis/logs-beside";
import { LastWhole } from "./features/last-whole";
import type { Patience } from "./keep/patience";
import { canonical, type OpenFiles } from "./open-files";
import { analysisSettings, type Settings } from "./settings";
import { analyzerFor } from "./trade";

interface Build {
  readonly uri: string;
  readonly lastWhole: LastWhole;
  analysis?: Analysis;
  settings?: Settings;
  /** The day it was read on. */
  today?: string;
  /** Counts analyses, so that an answer can be told from another. */
  id: number;
  stale: boolean;
}

const mostSources = 2_000;

export class Builds {
  private readonly builds = new Map<string, Build>();
  /** One for all that is open: builds that share their parts read them once. */
  private readonly analyzer: Analyzer;
  private readonly sources = new Map<
    string,
    { readonly text: string; readonly source: SourceFile }
  >();
  private count = 0;
  private nothing: Analysis | undefined;

  constructor(
    private readonly files: OpenFiles,
    private readonly library: Library,
    /** The day it is: `2026-04-04`. */
    private readonly today: () => string,
  ) {
    this.analyzer = analyzerFor(files, library);
  }

  /**
   * `undefined` where the file cannot be read. `patience`: of whoever asks, for this and for all that
   * is read off the answer.
   */
  analysis(uri: string, settings: Settings, patience: Patience): Analysis | undefined {
    if (uri.startsWith(libraryScheme)) return this.libraryAlone();
    this.library.workshop.patience = patience;
    const build = this.build(uri);
    const today = this.today();
    if (!build.stale && build.settings === settings && build.today === today) return build.analysis;
    build.analysis = this.analyzer.analyze(uri, analysisSettings(settings, today), patience);
    build.settings = settings;
    build.today = today;
    build.stale = false;
    build.id = ++this.count;
    // A file that nobody has open is read for one answer and let go.
    if (!this.files.isOpen(uri)) this.close(uri);
    return build.analysis;
  }

  /** The build as it would read with a file of another text; the next analysis is of what there is. */
  asIf(uri: string, settings: Settings, file: string, text: string): Analysis | undefined {
    return this.files.reading(file, text, () =>
      this.analyzer.analyze(
        uri,
        analysisSettings(settings, this.today()),
        this.library.workshop.patience,
      ),
    );
  }

  /** Changes whenever the analysis does, or what it says. */
  idOf(uri: string): string {
    return String(this.builds.get(uri)?.id ?? 0);
  }

  /** Whether this is the answer to the text as it stands now. */
  isLatest(uri: string, analysis: Analysis): boolean {
    const build = this.builds.get(uri);
    return build?.analysis === analysis && !build.stale;
  }

  /** An analysis has more to say than when it was told of last. */
  saysMore(uri: string): void {
    const build = this.builds.get(uri);
    if (build !== undefined) build.id = ++this.count;
  }

  lastWhole(uri: string): LastWhole {
    return this.builds.get(uri)?.lastWhole ?? new LastWhole();
  }

  /** The text of a file changed: builds that take it in are analyzed again. Gives those, itself aside. */
  changed(uri: string): string[] {
    const key = canonical(uri);
    const others: string[] = [];
    for (const build of this.builds.values()) {
      const own = canonical(build.uri) === key;
      if (!own && !uses(build, key) && !isLogBeside(key, canonical(build.uri))) continue;
      build.stale = true;
      if (!own) others.push(build.uri);
    }
    return others;
  }

  /** Files came or went: any `use` may lead elsewhere now. */
  changedAll(): void {
    for (const build of this.builds.values()) build.stale = true;
  }

  close(uri: string): void {
    this.builds.delete(uri);
    this.analyzer.forget(uri);
  }

  /** One file by itself, without what it uses; kept as long as its text stays the same. */
  sourceOf(uri: string): SourceFile | undefined {
    const read = this.files.read(uri, uri);
    if ("problem" in read) return undefined;
    const kept = this.sources.get(uri);
    if (kept?.text === read.text) return kept.source;
    if (this.sources.size >= mostSources) this.sources.clear();
    const source = parseFile(read.text, kept?.source);
    this.sources.set(uri, { text: read.text, source });
    return source;
  }

  // ── helpers ──

  private build(uri: string): Build {
    const known = this.builds.get(uri);
    if (known !== undefined) return known;
    const build: Build = { uri, lastWhole: new LastWhole(), id: 0, stale: true };
    this.builds.set(uri, build);
    return build;
  }

  /** For looking around in the library's own files: an analysis of nothing. */
  private libraryAlone(): Analysis | undefined {
    const uri = "file:///nothing.trammel";
    this.nothing ??= analyzerFor(memoryHost(new Map([[uri, ""]])), this.library).analyze(uri);
    return this.nothing;
  }
}

function uses({ analysis }: Build, key: string): boolean {
  for (const uri of analysis?.files.keys() ?? []) if (canonical(uri) === key) return true;
  return false;
}
