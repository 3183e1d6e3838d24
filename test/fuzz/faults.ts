/**
 * What a text must not do, however it is written: throw, take long, fill the memory, lose what was
 * typed when it is laid out, or say something that has holes.
 *
 *     faultOf("kind k { p: part k }")   →   undefined, or what went wrong
 *
 * `whole`: the build is solved too, not only read and laid out.
 */
import { getHeapStatistics } from "node:v8";
import { format } from "../../grammar/format";
import { memoryHost } from "../../server/analysis/host";
import { type Library, loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { placedFindings } from "../../server/report/placed-finding";
import { analyzerFor } from "../../server/trade";

/** Far above what any input takes, and far below what hurts: a machine may be busy. */
export const longest = 10_000;
const mostHeap = 1_500_000_000;

const uri = "file:///shop/build.trammel";
let library: Library | undefined;

export function faultOf(text: string, whole = true): string | undefined {
  const before = process.cpuUsage();
  try {
    const lost = lostByLayout(text);
    if (lost !== undefined || !whole) return lost;
    library ??= loadLibrary(libraryFiles());
    const analysis = analyzerFor(memoryHost(new Map([[uri, text]])), library).analyze(uri);
    if (analysis === undefined) return "the text could not be read";
    for (const { code, message, hint = "" } of placedFindings(analysis, (each) => each)) {
      if (code === "build/fault") return `fault: ${message}`;
      const said = `${message} ${hint}`;
      if (/\bundefined\b|\bNaN\b|\[object /.test(said) && !/undefined|NaN|object/.test(text))
        return `says: ${said}`;
    }
    for (const value of analysis.values.values()) analysis.write(value);
    void analysis.asBuilt().findings.length;
  } catch (error) {
    return error instanceof Error ? `throws: ${error.message}` : `throws ${String(error)}`;
  }
  const { user, system } = process.cpuUsage(before);
  if ((user + system) / 1_000 > longest) return `takes ${Math.round((user + system) / 1_000)} ms`;
  const heap = getHeapStatistics().used_heap_size;
  return heap > mostHeap ? `leaves ${Math.round(heap / 1e6)} MB in use` : undefined;
}

/** The smallest text found that still has a fault of the same sort. */
export function smallest(text: string, sortOf: (text: string) => string | undefined): string {
  const wanted = sortOf(text);
  let best = text;
  for (
    let size = Math.ceil(best.length / 2);
    size >= 1;
    size = size === 1 ? 0 : Math.ceil(size / 2)
  ) {
    for (let at = 0; at < best.length; ) {
      const tried = best.slice(0, at) + best.slice(at + size);
      if (sortOf(tried) === wanted) best = tried;
      else at += size;
    }
  }
  return best;
}

// ───────────────────────────── helpers ─────────────────────────────

function lostByLayout(text: string): string | undefined {
  const { text: laidOut, refused } = format(text);
  if (refused !== undefined) return undefined;
  if (format(laidOut).text !== laidOut) return "laying it out again changes it again";
  return withoutBlanks(laidOut) === withoutBlanks(text)
    ? undefined
    : "laying it out loses something";
}

/** Layout moves blanks, the mark at the start, and the `;` between members. */
function withoutBlanks(text: string): string {
  return text.replaceAll(/[\s;\uFEFF]/g, "");
}
