/**
 * Reads builds and answers with analyses; keeps what an edit does not touch, and what one build has
 * in common with another.
 *
 *     const analyzer = new Analyzer(host, loadLibrary(libraryFiles()));
 *     analyzer.analyze("file:///shop/build.trammel")?.valueAt("rear_housing.face_to_face")
 *
 * Must not know: editors, terminals, where files really are.
 */
import { writerFor } from "../findings/worded";
import { defaultLevels, type Levels, type Writer } from "../findings/writer";
import { endless, type Patience, wasCutShort } from "../keep/patience";
import type { DisplayStyle } from "../units";
import type { Analysis, AnalysisSettings } from "./analysis";
import type { FurtherFindings } from "./analysis-parts";
import { BuildAnalysis } from "./build-analysis";
import { FileLoader } from "./files";
import type { FileHost } from "./host";
import type { Library } from "./library";
import { repeatedOptions } from "./options-and-records";
import { Reading } from "./reading";
import { findsTheSame, saysTheSame } from "./says-the-same";
import { builtStyle } from "./style";

export type { FurtherFindings } from "./analysis-parts";

export class Analyzer {
  private readonly loader: FileLoader;
  /** The last analysis of each root file, and for whom it was made. */
  private readonly last = new Map<string, { analysis: BuildAnalysis; patience: Patience }>();
  private readonly styles = new Map<string, DisplayStyle>();
  private readonly writers = new Map<string, Writer>();

  /** `further`: what else looks a build through; see `FurtherFindings`. */
  constructor(
    host: FileHost,
    private readonly library: Library,
    private readonly further: readonly FurtherFindings[] = [],
  ) {
    this.loader = new FileLoader(host, library, library.workshop.ids);
  }

  /**
   * `undefined` where the root file cannot be read. Never throws for anything written in a file;
   * `TakenBack` where `patience` says that nobody waits, here and whenever more is read off the answer.
   */
  analyze(
    rootUri: string,
    settings: AnalysisSettings = {},
    patience: Patience = endless,
  ): Analysis | undefined {
    this.library.workshop.patience = patience;
    const build = this.loader.load(rootUri);
    if (build === undefined) {
      this.last.delete(rootUri);
      return undefined;
    }
    const { style, findings } = builtStyle(build, settings);
    const writer = this.writer(style, { ...defaultLevels, ...settings.levels });
    const last = this.last.get(rootUri);
    // What there was no time for must not look like what is not there.
    const isWhole = last?.patience === patience || !wasCutShort(last?.patience ?? endless);
    const before = isWhole ? last?.analysis : undefined;
    const { library, further } = this;
    const { today } = settings;
    const outside = [...build.findings, ...findings, ...repeatedOptions(build)];
    const isSame =
      before?.writer === writer &&
      before.today === today &&
      !wasCutShort(last?.patience ?? endless) &&
      saysTheSame(before.reading.build, build) &&
      findsTheSame(before.parts.outside, outside);
    const readAgain = (): BuildAnalysis => {
      const reading = Reading.of(build, [], library.workshop, before?.reading);
      return new BuildAnalysis({ reading, library, further, writer, today, outside }, { before });
    };
    const analysis = isSame ? before.movedTo(build) : readAgain();
    this.last.set(rootUri, { analysis, patience });
    return analysis;
  }

  /** Forgets a root file, when it is closed. */
  forget(rootUri: string): void {
    this.last.delete(rootUri);
    this.loader.forget(rootUri);
    this.library.workshop.forget(rootUri);
  }

  /** The same one for the same way of showing values, and one style for all who show them so. */
  private writer(shown: DisplayStyle, levels: Levels): Writer {
    const key = JSON.stringify([shown.system, [...shown.perMeasure]]);
    const style = this.styles.get(key) ?? shown;
    this.styles.set(key, style);
    const strict = `${JSON.stringify(levels)} ${key}`;
    const writer = this.writers.get(strict) ?? writerFor(style, levels);
    this.writers.set(strict, writer);
    return writer;
  }
}
