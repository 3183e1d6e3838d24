/**
 * How a figure comes out, as a person reads it: made to its step, with the ± that is left; what was
 * drawn and what was wanted beside it where they read otherwise.
 *
 *     comesOut(mark, analysis)   // { text: "27 3/32 in", tolerance: { worst: "± 1/32 in", … }, drawn: "27.084 in" }
 *
 * Must not know: where it is written to.
 */
import type { Analysis, Outcome, Value, Wanted } from "../analysis/analysis";
import { andList } from "../findings/phrases";
import { once } from "../keep/once";
import {
  type DisplayStyle,
  displayOf,
  readUnit,
  withDisplay,
  writeQuantity,
  writeTolerance,
} from "../units";
import { figureOf, plainFigure, styleAsWritten, type Tolerance, writeLimits } from "./figure";

export interface ComesOut {
  /** `27 3/32 in`, or `0.885 in` where a fraction would say less than the build's steps. */
  readonly text: string;
  /** Its decimals, where `text` is a fraction that is rounded from them. */
  readonly decimal?: string;
  readonly tolerance?: Tolerance;
  /** `27.084 in`: as drawn, where that is another figure. */
  readonly drawn?: string;
  /** `7/8 in`: as written, where the figure is a wish. */
  readonly wanted?: string;
}

/** Nothing where the figure is open or is no quantity. */
export function comesOut(
  value: Value,
  analysis: Pick<Analysis, "style" | "write">,
): ComesOut | undefined {
  const outcome = value.outcome();
  const { measure, si, wanted } = value;
  if (outcome === undefined || measure === undefined) return undefined;
  const same = si !== undefined && Math.abs(outcome.si - si) <= 1e-9 * Math.abs(si);
  const written = styleAsWritten(value, analysis.style);
  const follows = !same || outcome.shared || (outcome.made && value.standing !== "given");
  const style = follows ? finerWhereMade(value, outcome, written) : written;
  const shown = writeQuantity(outcome.si, measure, style);
  if (shown === undefined) return undefined;
  // Most who ask for the text do not ask how surely.
  const limits = once(() => {
    const { si: at, low, high, rss, shift } = outcome;
    return writeLimits({ below: at - low, above: high - at, rss, shift }, measure, { style });
  });
  const surely = (out: Omit<ComesOut, "tolerance">): ComesOut => ({
    ...out,
    get tolerance() {
      return limits();
    },
  });
  const wish = wanted && {
    wanted: wanted.written ?? writeQuantity(wanted.si, measure, style)?.text,
  };
  const fine = shown.rounded ? shown.decimal : undefined;
  if (same) {
    // A wish that is missed as drawn is written to the digits it is missed by.
    const unmet = wanted !== undefined && !wanted.met;
    const finer = style === written ? undefined : shown.text;
    const text = (unmet ? fine : undefined) ?? finer ?? figureOf(value, analysis).text;
    return surely({ text, ...(fine === undefined ? {} : { decimal: fine }), ...wish });
  }
  const drawn = plainFigure(value, { style, write: analysis.write });
  const out = fine ?? shown.text;
  // Beside a wish a step of the build's would hide what it is missed by.
  if (wanted !== undefined)
    return surely({ text: out, ...(out === drawn ? {} : { drawn }), ...wish });
  return surely({ text: shown.text, ...(fine === undefined ? {} : { decimal: fine }), drawn });
}

/** What is made to a finer step than the build shows, and what follows from it, is shown on that. */
function finerWhereMade({ measure }: Value, { si }: Outcome, style: DisplayStyle): DisplayStyle {
  if (measure === undefined) return style;
  const { unit, increment } = displayOf(measure, style);
  const factor = readUnit(unit, measure)?.factor;
  if (increment === undefined || factor === undefined) return style;
  const isOn = (step: number): boolean => {
    const count = si / (step * factor);
    return Math.abs(count - Math.round(count)) < 1e-6;
  };
  const [by = 1] = [1, 2, 4].filter((each) => isOn(increment.step / each));
  if (by === 1) return style;
  const { denominator } = increment;
  const finer = {
    step: increment.step / by,
    ...(denominator === undefined ? {} : { denominator: by * denominator }),
  };
  return withDisplay(style, [[measure.name, { unit, increment: finer }]]);
}

/** A figure in a list: how it comes out, and what is to be said beside it. */
export interface Told {
  readonly text: string;
  /** `drawn 27.084 in`, `wanted 7/8 in`, `written 27 1/8 in`, `rounded from 54.679 in`; empty where all is said. */
  readonly beside: string;
  readonly tolerance?: Tolerance;
  /** `made`, `wanted`, or how it came about: `solved`, `given`, … */
  readonly standing: string;
  /** `answers rear.left.inner_gap`, `held: nothing made answers it`. */
  readonly why?: string;
  /** It is drawn otherwise than it comes out. */
  readonly drawn: boolean;
}

/** How a figure comes out in the decimals of the build's own unit, to check a sum with. */
export function plainOutcome(value: Value, analysis: Pick<Analysis, "style" | "write">): string {
  const out = comesOut(value, analysis);
  return out?.drawn === undefined ? plainFigure(value, analysis) : (out.decimal ?? out.text);
}

export function told(value: Value, analysis: Pick<Analysis, "style" | "write">): Told {
  const { standing, wanted, role } = value;
  const out = comesOut(value, analysis);
  if (out === undefined) {
    const { text, beside } = figureOf(value, analysis);
    return { text, beside, standing, drawn: false };
  }
  const outcome = value.outcome();
  const { text, drawn, decimal } = out;
  if (wanted !== undefined) {
    const why = wanted.held ? heldInWords(wanted) : undefined;
    const wish = text === out.wanted ? "" : `wanted ${out.wanted}`;
    const unmet = wanted.met || drawn === undefined ? "" : `drawn ${drawn}`;
    const beside = [wish, unmet].filter((each) => each !== "").join(", ");
    return {
      text,
      beside,
      get tolerance() {
        return out.tolerance;
      },
      standing: "wanted",
      drawn: unmet !== "",
      ...(why === undefined ? {} : { why }),
    };
  }
  const beside =
    drawn === undefined
      ? (asWritten(value, analysis) ?? besideIt(value, out, analysis))
      : drawn === decimal || drawn === text
        ? `rounded from ${drawn}`
        : `drawn ${drawn}`;
  const answers = outcome?.answers ?? [];
  const turned = outcome?.turned === true ? ", rounded so that a check holds" : "";
  const why = answers.length === 0 ? undefined : `answers ${andList(answers)}${turned}`;
  const open = standing === "solved" || standing === "assumed";
  const cut = role === "made" && open && outcome?.made === true;
  return {
    text,
    beside: drawn === text ? "" : beside,
    get tolerance() {
      return out.tolerance;
    },
    standing: cut ? "made" : standing,
    drawn: drawn !== undefined && drawn !== text,
    ...(why === undefined ? {} : { why }),
  };
}

/** `54 11/16 in, solved`, `1.004 in, wanted 1 in`: a figure and how it stands, in a list of many. */
export function toldInShort(
  value: Value,
  analysis: Pick<Analysis, "style" | "write">,
  between = ", ",
): string {
  const { text, beside, standing } = told(value, analysis);
  // What comes out otherwise is not what is wanted.
  return value.wanted !== undefined && beside !== ""
    ? `${text}, ${beside}`
    : `${text}${between}${standing}`;
}

/** A reading that others, together with it, make another figure of: what all make of it stands before. */
function asWritten(
  { asRead, siAsWritten, measure }: Value,
  { style }: Pick<Analysis, "style">,
): string | undefined {
  if (asRead === undefined || siAsWritten === undefined || measure === undefined) return undefined;
  return `written ${writeQuantity(asRead, measure, style)?.text}, adjusted to the other readings`;
}

/** On a step finer than the build's the fraction says it whole. */
function besideIt(
  value: Value,
  { text, decimal }: ComesOut,
  analysis: Pick<Analysis, "style" | "write">,
): string {
  const plain = figureOf(value, analysis);
  return text === plain.text ? plain.beside : `= ${decimal ?? plain.decimal}`;
}

/** Nothing made answers it: nothing does, or what would is still open. */
function heldInWords({ awaits }: Wanted): string {
  if (awaits === undefined) return "held: nothing made answers it";
  const { made, open } = awaits;
  return `held: ${made} answers it once ${andList(open)} ${open.length > 1 ? "are" : "is"} known`;
}

/** `rear.left.tube_mark is made to 1/32 in ± 1/32 in`: an assumption, where nobody says otherwise. */
export function madeAsUsual(value: Value, { style }: Pick<Analysis, "style">): string | undefined {
  const usually = value.outcome()?.usually;
  const { measure, path } = value;
  if (usually === undefined || measure === undefined) return undefined;
  const step =
    usually.step === undefined ? "" : ` to ${writeQuantity(usually.step, measure, style)?.text}`;
  const off = writeTolerance(usually.off, measure, style)?.text;
  return off === undefined ? undefined : `${path} is made${step} ${off}`;
}
