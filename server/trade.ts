/**
 * What reads builds here, put together in one place: the analyzer, the library that ships, and the
 * room of the order of work, whose findings are findings of a build like all others.
 *
 *     analyzerFor(host, tradeLibrary()).analyze("file:///shop/build.trammel")?.findings
 *
 * Must not know: who asks, how files are read.
 */
import { Analyzer } from "./analysis/analyzer";
import type { FileHost } from "./analysis/host";
import { type Library, loadLibrary } from "./analysis/library";
import { libraryFiles } from "./library-files";
import { orderFindings, photoFindings } from "./sequence";

let library: Library | undefined;

/** The library that ships; read once, when first asked for. */
export function tradeLibrary(): Library {
  library ??= loadLibrary(libraryFiles());
  return library;
}

export function analyzerFor(host: FileHost, library: Library): Analyzer {
  return new Analyzer(host, library, [orderFindings, (analysis) => photoFindings(analysis, host)]);
}
