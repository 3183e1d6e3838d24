/**
 * Concessions as a reader sees them: what is accepted out of tolerance, by whom, until when, and what
 * comes of it in the vehicle as it was built.
 *
 * Must not know: terminals, paper, what is wrong with them.
 */
import type { Analysis } from "../analysis/analysis";
import { consequencesOf } from "../analysis/consequences";
import type { FigureWriter } from "../findings/figure-writer";
import type { Concession } from "./concessions";
import type { Progress } from "./progress";

export interface Accepted {
  /** As the entry names it. */
  readonly what: string;
  /** Path of the step it was accepted at. */
  readonly step: string;
  readonly spec?: string;
  /** As measured. */
  readonly found?: string;
  readonly by?: string;
  readonly on?: string;
  readonly until?: string;
  readonly because?: string;
  /** What the entry says is to be watched or done. */
  readonly follows?: string;
  readonly standing: Concession["standing"];
  /** Limits that do not hold as built and do as drawn, and rest on it; worked out when called. */
  breaks(): readonly string[];
}

/** The longest way from a figure to what rests on it that is followed. */
const mostFigures = 2_000;

export function acceptedOf(
  analysis: Analysis,
  { concessions }: Progress,
  writer: FigureWriter,
): Accepted[] {
  return concessions.list.map(({ entry, standing, reading }): Accepted => {
    const { what, step, text, by, date, until, because, follows } = entry;
    const value = what.is === "figure" ? analysis.valueAt(what.path) : undefined;
    const figure = (si: number | undefined): string | undefined =>
      si === undefined || value?.measure === undefined
        ? undefined
        : writer.figure(si, value.measure);
    return {
      what: what.is === "step" ? what.step.path : text,
      step: step.path,
      spec: figure(value?.si),
      found: figure(reading?.reading?.value),
      by,
      on: date,
      until,
      because,
      follows,
      standing,
      breaks: () => (what.is === "figure" ? brokenBy(analysis, what.path) : []),
    };
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function brokenBy(analysis: Analysis, path: string): string[] {
  const built = analysis.asBuilt();
  const broken = consequencesOf(analysis).fails.filter(({ inputs }) =>
    restsOn(built, inputs, path),
  );
  return [...new Set(broken.map(({ title }) => title))];
}

function restsOn(built: Analysis, inputs: readonly string[], path: string): boolean {
  const seen = new Set<string>();
  const queue = [...inputs];
  for (let each = queue.pop(); each !== undefined; each = queue.pop()) {
    const value = built.valueAt(each);
    const own = value?.path ?? each;
    if (own === path) return true;
    if (seen.has(own) || seen.size > mostFigures) continue;
    seen.add(own);
    queue.push(...(value?.reason?.inputs ?? []));
  }
  return false;
}
