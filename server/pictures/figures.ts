/**
 * What a drawing asks of a build: the figure of a thing's field, in millimetres and in words, known
 * or not. The one place of this room that reads a value's standing, ± and outcome.
 *
 *     const figures = new Figures(analysis);
 *     figures.length(corner, "inner_gap")   // { path, si, mm: 22.2, known: true, reading: { text: "7/8 in ± 1/16", … } }
 *
 * Must not know: which fields are drawn, where anything stands on paper.
 */
import type { Analysis, CheckResult, Value } from "../analysis/analysis";
import type { Reading } from "../drafting";
import type { Thing } from "../model/thing";
import { figureOf, toleranceOf } from "../report/figure";
import { writeQuantity, writeTolerance } from "../units";
import { clearanceCodes } from "./vocabulary";

export interface Figure {
  readonly path: string;
  readonly known: boolean;
  /** In SI; not a number where it is not known. */
  readonly si: number;
  /** In millimetres, for lengths. */
  readonly mm: number;
  /** ± in millimetres, worst case: outside of it nothing may fall. */
  readonly below: number;
  readonly above: number;
  /** `7/8 in`, or `?`. */
  readonly value: string;
  readonly reading: Reading;
  readonly given?: Value;
}

export class Figures {
  private readonly failing: ReadonlySet<string>;

  constructor(readonly analysis: Analysis) {
    this.failing = failingGaps(analysis.checks);
  }

  /** The thing a field leads to, or a part. */
  thing(owner: Thing | undefined, field: string): Thing | undefined {
    if (owner === undefined) return undefined;
    return owner.parts.get(field) ?? this.analysis.thingAt(`${owner.path}.${field}`);
  }

  /** `name`: what stands before the value in the drawing. */
  of(thing: Thing | undefined, field: string, name = ""): Figure {
    const value = thing === undefined ? undefined : this.analysis.valueAt(`${thing.path}.${field}`);
    const path = value?.path ?? (thing === undefined ? "" : `${thing.path}.${field}`);
    const spoken = name === "" ? "" : `${name} `;
    if (value?.si === undefined) {
      const told = path === "" ? "not known yet" : `${path}: not known yet`;
      const reading = { path, text: `${spoken}?`, told, known: false };
      const missing = { path, known: false, si: Number.NaN, mm: Number.NaN, below: 0, above: 0 };
      return { ...missing, value: "?", reading };
    }
    const comesOut = value.outcome();
    const spread = comesOut?.spread ?? value.spread();
    const written = figureOf(value, this.analysis);
    const reading: Reading = {
      path,
      text: `${spoken}${shownText(value, written.text, this.analysis)}`,
      told: told(value, this.analysis),
      known: true,
      ...(this.failing.has(path) ? { tight: true } : {}),
    };
    return {
      path,
      known: true,
      si: value.si,
      mm: value.si * 1000,
      below: (spread?.worstBelow ?? 0) * 1000,
      above: (spread?.worstAbove ?? 0) * 1000,
      value: written.text,
      reading,
      given: value,
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
export function named(figure: Figure, text: string): Reading {
  return { ...figure.reading, text };
}

/** A text that is no figure of the build. */
export function words(text: string, known = true): Reading {
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

/** What is wanted and what comes out of it, else the figure alone; with the ± it comes out with. */
function shownText(value: Value, written: string, analysis: Analysis): string {
  const { measure } = value;
  const comesOut = value.outcome();
  if (comesOut === undefined || measure === undefined) {
    const tolerance = toleranceOf(value, analysis);
    return tolerance === undefined ? written : `${written} ${shortened(tolerance.worst, written)}`;
  }
  const out = writeQuantity(comesOut.si, measure, analysis.style)?.text ?? written;
  const worst =
    comesOut.worst > 0 ? writeTolerance(comesOut.worst, measure, analysis.style)?.text : undefined;
  const limits = worst === undefined ? "" : ` ${shortened(worst, out)}`;
  return value.wanted === undefined || out === written
    ? `${out}${limits}`
    : `${written} wanted → ${out}${limits}`;
}

/** The unit stands at the figure already: `58 1/8 in ± 1/32`. */
function shortened(tolerance: string, figure: string): string {
  const unit = /[^\d\s./±+-]+$/.exec(figure)?.[0];
  return unit !== undefined && tolerance.endsWith(` ${unit}`)
    ? tolerance.slice(0, -unit.length - 1)
    : tolerance;
}

function told(value: Value, analysis: Analysis): string {
  const figure = figureOf(value, analysis);
  const tolerance = toleranceOf(value, analysis);
  const parts = [
    `${value.path}: ${figure.full}`,
    tolerance === undefined
      ? undefined
      : `${tolerance.worst} in the worst case, ${tolerance.rss} likely`,
    value.standing,
    outcomeInWords(value, analysis),
    value.reason === undefined ? undefined : `by ${value.reason.title}`,
    value.restsOn.length === 0 ? undefined : `rests on: ${value.restsOn.join(", ")}`,
  ];
  return parts.filter((part) => part !== undefined).join("; ");
}

function outcomeInWords(value: Value, analysis: Analysis): string | undefined {
  const comesOut = value.outcome();
  const { measure } = value;
  if (comesOut === undefined || measure === undefined) return undefined;
  const out = writeQuantity(comesOut.si, measure, analysis.style)?.text;
  const [worst, likely] = [comesOut.worst, comesOut.rss].map((by) =>
    by > 0 ? (writeTolerance(by, measure, analysis.style)?.text ?? "") : "",
  );
  return `comes out ${out} ${worst} at worst, ${likely} likely`.replaceAll(/ +(?=,)/g, "");
}
