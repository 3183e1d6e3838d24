/**
 * What an analysis of a build is put together from.
 *
 * Must not know: how it is put together.
 */
import type { Found } from "../findings/worded";
import type { Writer } from "../findings/writer";
import type { Analysis } from "./analysis";
import type { BuildAnalysis } from "./build-analysis";
import type { Library } from "./library";
import type { Reading } from "./reading";

/**
 * Findings of a room above this one, which it makes of a whole analysis: asked for once, when the
 * findings of a build are first read, not for its options nor as built. May read all of the analysis
 * but its findings.
 */
export type FurtherFindings = (analysis: Analysis) => readonly Found[];

/** What an analysis is made of. */
export interface AnalysisParts {
  readonly reading: Reading;
  readonly library: Library;
  readonly further: readonly FurtherFindings[];
  readonly writer: Writer;
  readonly today?: string;
  /** Findings of files and display, outside of all rows. */
  readonly outside: readonly Found[];
}

/** Analyses that this one may have much in common with; none of them is held on to. */
export interface AnalysesBeside {
  /** The analysis before the edit, or the one something is laid over. */
  readonly before?: BuildAnalysis;
  /** The same laid over the build as it was before the edit. */
  readonly earlier?: BuildAnalysis;
}
