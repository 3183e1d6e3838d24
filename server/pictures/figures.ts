/**
 * What a drawing asks of a build: the figure of a thing's field, in millimeters and in words, known
 * or not. The one place of this room that reads a value's standing, ± and outcome.
 *
 *     const figures = new Figures(analysis);
 *     figures.length(corner, "inner_gap")   // { path, si, mm: 22.2, known: true, reading: { text: "7/8 in ± 1/16", … } }
 *
 * Must not know: which fields are drawn, where anything stands on paper.
 */
import type { Analysis, CheckResult, Value } from "../analysis/analysis";
import type { FigureLabel } from "../drafting";
import type { Thing } from "../model/thing";
import { type ComesOut, comesOut } from "../report/comes-out";
import { figureOf, type Tolerance, toleranceOf } from "../report/figure";
import { clearanceCodes } from "./vocabulary";

export interface PictureFigure {
  readonly path: string;
  readonly known: boolean;
  /** In SI, by the drawing's reckoning; not a number where it is not known. */
  readonly si: number;
  /** In millimeters, for lengths. */
  readonly mm: number;
  /** ± in millimeters, worst case: outside of it nothing may fall. */
  readonly below: number;
  readonly above: number;
  /** `7/8 in`, or `?`. */
  readonly value: string;
  readonly reading: FigureLabel;
}

/**
 * `comes out`: all that is made made to its steps, wishes let go. `drawn`: everything written at its
 * nominal, wishes held.
 */
export type Reckoning = "comes out" | "drawn";

export class PictureFigures {
  private readonly failing: ReadonlySet<string>;

  constructor(
    readonly analysis: Analysis,
    readonly reckoning: Reckoning = "comes out",
  ) {
    this.failing = failingGaps(analysis.checks);
  }

  /** The thing a field leads to, or a part. */
  thing(owner: Thing | undefined, field: string): Thing | undefined {
    if (owner === undefined) return undefined;
    return owner.parts.get(field) ?? this.analysis.thingAt(`${owner.path}.${field}`);
  }

  /** `name`: what stands before the value in the drawing. */
  of(thing: Thing | undefined, field: string, name = ""): PictureFigure {
    const value = thing === undefined ? undefined : this.analysis.valueAt(`${thing.path}.${field}`);
    const path = value?.path ?? (thing === undefined ? "" : `${thing.path}.${field}`);
    const spoken = name === "" ? "" : `${name} `;
    if (value?.si === undefined) {
      const told = path === "" ? "not known yet" : `${path}: not known yet`;
      const reading = { path, text: `${spoken}?`, told, known: false };
      const missing = { path, known: false, si: Number.NaN, mm: Number.NaN, below: 0, above: 0 };
      return { ...missing, value: "?", reading };
    }
    const shown = this.shown(value);
    const reading: FigureLabel = {
      path,
      text: `${spoken}${shown.text}`,
      told: told(value, this.analysis),
      known: true,
      ...(this.failing.has(path) ? { tight: true } : {}),
    };
    return {
      path,
      known: true,
      si: shown.si,
      mm: shown.si * 1000,
      below: shown.below * 1000,
      above: shown.above * 1000,
      value: shown.value,
      reading,
    };
  }

  /** In SI, with the ± to both sides, and in words: the figure alone, and with its ± and its wish. */
  private shown(value: Value): {
    readonly si: number;
    readonly below: number;
    readonly above: number;
    readonly value: string;
    readonly text: string;
  } {
    const { analysis } = this;
    const out = this.reckoning === "drawn" ? undefined : comesOut(value, analysis);
    const outcome = out === undefined ? undefined : value.outcome();
    if (out === undefined || outcome === undefined) {
      const { text } = figureOf(value, analysis);
      const spread = value.spread();
      return {
        si: value.si ?? Number.NaN,
        below: spread?.worstBelow ?? 0,
        above: spread?.worstAbove ?? 0,
        value: text,
        text: withLimits(text, toleranceOf(value, analysis)),
      };
    }
    const { si, low, high } = outcome;
    const text = withLimits(out.text, out.tolerance);
    const wished = out.wanted !== undefined && out.drawn !== undefined;
    return {
      si,
      below: si - low,
      above: high - si,
      value: out.text,
      text: wished ? `${out.wanted} wanted → ${text}` : text,
    };
  }

  /** `inner` of a choice field, or nothing. */
  word(thing: Thing | undefined, field: string): string | undefined {
    const word =
      thing === undefined ? undefined : this.analysis.valueAt(`${thing.path}.${field}`)?.word;
    return typeof word === "string" ? word : undefined;
  }
}

/** A reading of the same figure under another text. */
export function named(figure: PictureFigure, text: string): FigureLabel {
  return { ...figure.reading, text };
}

/** A text that is no figure of the build. */
export function words(text: string, known = true): FigureLabel {
  return { path: "", text, told: text, known };
}

/** What a thing is called in a drawing. */
export function titleOf(thing: Thing | undefined, otherwise: string): string {
  const title = thing?.title ?? (thing?.implied === false ? thing.name.replaceAll("_", " ") : "");
  return title === "" ? otherwise : title;
}

// ───────────────────────────── helpers ─────────────────────────────

/** Gaps whose check does not hold as drawn, or only as long as nobody misses by his ±. */
function failingGaps(checks: readonly CheckResult[]): ReadonlySet<string> {
  return new Set(
    checks
      .filter(
        ({ code, own, verdict }) =>
          (own || code.startsWith(clearanceCodes)) &&
          (verdict.nominal === "fails" || verdict.rss === "fails"),
      )
      .flatMap(({ inputs }) => inputs.filter((path) => path.endsWith("gap")))
      .filter((path) => !path.endsWith("wanted_gap")),
  );
}

function withLimits(figure: string, tolerance: Tolerance | undefined): string {
  return tolerance === undefined ? figure : `${figure} ${shortened(tolerance.worst, figure)}`;
}

/** The unit stands at the figure already: `58 1/8 in ± 1/32`. */
function shortened(tolerance: string, figure: string): string {
  const unit = /[^\d\s./±+-]+$/.exec(figure)?.[0];
  return unit !== undefined && tolerance.endsWith(` ${unit}`)
    ? tolerance.slice(0, -unit.length - 1)
    : tolerance;
}

/** How it comes out first, what was drawn beside it where that is another figure. */
function told(value: Value, analysis: Analysis): string {
  const out = comesOut(value, analysis);
  const figure = figureOf(value, analysis).full;
  const parts = [
    `${value.path}: ${out === undefined ? figure : outcomeInWords(out, figure)}`,
    out?.drawn === undefined ? undefined : `drawn ${out.drawn}`,
    value.standing,
    value.reason === undefined ? undefined : `by ${value.reason.title}`,
    value.restsOn.length === 0 ? undefined : `rests on: ${value.restsOn.join(", ")}`,
  ];
  return parts.filter((part) => part !== undefined).join("; ");
}

function outcomeInWords({ text, tolerance, drawn, wanted }: ComesOut, figure: string): string {
  const before = wanted === undefined ? "" : `${wanted} wanted, `;
  const out = drawn === undefined && wanted === undefined ? figure : `${before}comes out ${text}`;
  return tolerance === undefined
    ? out
    : `${out}, ${tolerance.worst} at worst, ${tolerance.rss} likely`;
}
