/**
 * How a figure comes out, as a person reads it: made to its step, with the ± that is left; what was
 * drawn and what was wanted beside it where they read otherwise.
 *
 *     comesOut(mark, analysis)   // { text: "27 3/32 in", tolerance: { worst: "± 1/32 in", … }, drawn: "27.084 in" }
 *
 * Must not know: where it is written to.
 */
import type { Analysis, Value } from "../analysis/analysis";
import { writeQuantity } from "../units";
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
  const style = styleAsWritten(value, analysis.style);
  const shown = writeQuantity(outcome.si, measure, style);
  if (shown === undefined) return undefined;
  const same = si !== undefined && Math.abs(outcome.si - si) <= 1e-9 * Math.abs(si);
  const { si: at, low, high, rss } = outcome;
  const tolerance = writeLimits({ below: at - low, above: high - at, rss }, measure, { style });
  const limits = tolerance === undefined ? {} : { tolerance };
  const wish = wanted && {
    wanted: wanted.written ?? writeQuantity(wanted.si, measure, style)?.text,
  };
  const fine = shown.rounded ? shown.decimal : undefined;
  if (same) {
    const text = figureOf(value, analysis).text;
    return { text, ...(fine === undefined ? {} : { decimal: fine }), ...limits, ...wish };
  }
  const drawn = plainFigure(value, { style, write: analysis.write });
  const out = fine ?? shown.text;
  // Beside a wish a step of the build's would hide what it is missed by.
  if (wanted !== undefined)
    return { text: out, ...(out === drawn ? {} : { drawn }), ...limits, ...wish };
  return { text: shown.text, ...(fine === undefined ? {} : { decimal: fine }), drawn, ...limits };
}
