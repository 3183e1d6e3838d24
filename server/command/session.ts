/**
 * Opens builds for a verb: the library, the files of the disk and the analyzer put together, and
 * the names files go by in output.
 *
 *     const session = new Session(world);
 *     const { analysis } = session.open("van/build.trammel", {});
 *
 * Must not know: how results are written.
 */
import { dirname, relative, resolve } from "node:path";
import type { Analysis, AnalysisSettings } from "../analysis/analysis";
import type { Analyzer } from "../analysis/analyzer";
import type { Library } from "../analysis/library";
import { rootFolder } from "../disk/build-root";
import { pathOf, uriOf } from "../disk/file-uri";
import type { FileReading } from "../disk/read-file";
import { type DecodedText, decodeText } from "../disk/text-encoding";
import { type Patience, TimeUp } from "../keep/patience";
import { nearest } from "../model/spelling";
import { analyzerFor, tradeLibrary } from "../trade";
import { DiskHost } from "./disk-host";
import { CommandProblem } from "./problem";
import { todayOf } from "./today";
import type { World } from "./world";

/** Which reading of the build is wanted. */
export interface View {
  readonly option?: string;
  readonly asBuilt?: boolean;
  readonly settings?: AnalysisSettings;
  /** How long reading one build may take, in seconds. */
  readonly time?: number;
  /** Where several builds are read in the time of one. */
  readonly patience?: Patience;
}

/** In seconds: a build of thousands of things takes a few. */
export const usualTime = 60;

export interface OpenBuild {
  /** As files are named in output. */
  readonly name: string;
  readonly uri: string;
  /** The view that was asked for. */
  readonly analysis: Analysis;
  /** The same build without option and records. */
  readonly spec: Analysis;
}

/** After so many builds what is kept of their parts is dropped. */
const mostKept = 20;

export class Session {
  private readonly analyzers = new Map<string, { host: DiskHost; analyzer: Analyzer }>();
  /** By the folder a file lies in. */
  private readonly roots = new Map<string, string>();
  private inputNamed: string | undefined;
  private inputText = "";
  private closed = 0;
  /** A build that is opened again has what is left of its time. */
  private readonly patiences = new Map<string, Patience>();
  private readonly opened = new Set<OpenBuild>();

  constructor(readonly world: World) {}

  /** Takes standard input for the text of a file; `-` opens it too. */
  async takeInput(filename = "input.trammel"): Promise<void> {
    const reading = decodeText(await this.world.readInput());
    if ("why" in reading) throw new CommandProblem(`cannot read standard input: ${reading.why}`);
    this.inputNamed = resolve(this.world.folder, filename);
    this.inputText = reading.text;
  }

  get library(): Library {
    return tradeLibrary();
  }

  /** Throws a problem where the file cannot be read or there is no such option. */
  open(written: string, view: View): OpenBuild {
    const path = this.pathOf(written);
    const { host, analyzer } = this.analyzerFor(path);
    const uri = uriOf(path);
    const reading = host.look(uri);
    if ("problem" in reading) throw new CommandProblem(`cannot read ${written}: ${reading.why}`);
    const patience = this.patiences.get(uri) ?? view.patience ?? patienceOf(view.time);
    this.patiences.set(uri, patience);
    const spec = analyzer.analyze(uri, { today: todayOf(this.world), ...view.settings }, patience);
    if (spec === undefined) throw new CommandProblem(`cannot read ${written}`);
    const opened = { name: this.nameOf(uri), uri, spec, analysis: viewOf(spec, view) };
    this.opened.add(opened);
    return opened;
  }

  /** Of builds that are open: what there was no time for, for verbs that list no findings. */
  get leftOut(): string[] {
    const told = new Map<string, string>();
    for (const { name, spec, analysis } of this.opened) {
      const [first] = [...spec.leftOut, ...analysis.leftOut];
      if (first !== undefined) told.set(name, `${name}: ${first.message}`);
    }
    return [...told.values()];
  }

  /**
   * Throws where there was no time for all of a build that is open: asked before something goes on
   * paper, and before it is said that there is none of something.
   */
  askWhole(): void {
    for (const { uri, spec, analysis } of this.opened) {
      if (spec.leftOut.length === 0 && analysis.leftOut.length === 0) continue;
      throw new TimeUp(this.patiences.get(uri)?.seconds ?? usualTime);
    }
  }

  /** The text of a file and how it is kept; throws a problem where it cannot be read. */
  textOf(written: string): DecodedText {
    const path = this.pathOf(written);
    const reading = this.analyzerFor(path).host.look(uriOf(path));
    if ("problem" in reading) throw new CommandProblem(`cannot read ${written}: ${reading.why}`);
    return reading;
  }

  /** A file by its absolute path, as one that is to be written is looked at. */
  lookAt(path: string): FileReading {
    return this.analyzerFor(path).host.look(uriOf(path));
  }

  /** From here on builds see `text` in place of what the disk has at an absolute path. */
  standIn(path: string, text: string): void {
    this.analyzerFor(path).host.standIn(uriOf(path), text);
  }

  /** Lets go of a build that will not be asked for again. */
  close(build: OpenBuild): void {
    this.opened.delete(build);
    this.patiences.delete(build.uri);
    const path = pathOf(build.uri);
    if (path === undefined) return;
    const { host, analyzer } = this.analyzerFor(path);
    analyzer.forget(build.uri);
    host.forget(build.uri);
    // Parts are kept between builds that share them, but not those of every shop there is.
    if (++this.closed % mostKept === 0) this.analyzers.clear();
  }

  /** Absolute path of what was written on the command line. */
  pathOf(written: string): string {
    if (written === "-" && this.inputNamed !== undefined) return this.inputNamed;
    return resolve(this.world.folder, written);
  }

  /** Relative to the current folder with forward slashes; files of the library keep their URI. */
  nameOf(uri: string): string {
    const path = pathOf(uri);
    return path === undefined ? uri : relative(this.world.folder, path).replaceAll("\\", "/");
  }

  private rootOf(path: string): string {
    const folder = dirname(path);
    const before = this.roots.get(folder);
    if (before !== undefined) return before;
    const root = rootFolder(path, this.world.folder);
    this.roots.set(folder, root);
    return root;
  }

  private analyzerFor(path: string): { host: DiskHost; analyzer: Analyzer } {
    const folder = this.rootOf(path);
    const before = this.analyzers.get(folder);
    if (before !== undefined) return before;
    const host = new DiskHost(folder);
    if (this.inputNamed !== undefined) host.standIn(uriOf(this.inputNamed), this.inputText);
    const made = { host, analyzer: analyzerFor(host, this.library) };
    this.analyzers.set(folder, made);
    return made;
  }
}

/** `there is no x called y, did you mean z?` */
export function noSuch(what: string, name: string, known: readonly string[]): CommandProblem {
  const near = nearest(name, known);
  const hint =
    near !== undefined
      ? `, did you mean ${near}?`
      : known.length > 0 && known.length <= 12
        ? `; there ${known.length === 1 ? "is" : "are"} ${known.join(", ")}`
        : "";
  return new CommandProblem(`there is no ${what} called ${name}${hint}`);
}

/** Begins to count now; `seconds`: as long as there usually is where nobody says. */
export function patienceOf(seconds = usualTime): Patience {
  const start = performance.now();
  const isUp = (share = 1): boolean => performance.now() > start + share * seconds * 1_000;
  return { isTakenBack: () => false, isUp, seconds };
}

// ───────────────────────────── helpers ─────────────────────────────

function viewOf(spec: Analysis, { option, asBuilt, time: seconds = usualTime }: View): Analysis {
  if (option !== undefined) {
    const found = spec.under(option);
    if (found !== undefined) return found;
    if (spec.options.some(({ name }) => name === option)) throw new TimeUp(seconds);
    throw noSuch(
      "option",
      option,
      spec.options.map(({ name }) => name),
    );
  }
  return asBuilt === true ? spec.asBuilt() : spec;
}
