/**
 * A value as a person reads it: in the build's units, the decimal beside a fraction, ± where there
 * are tolerances, and its standing in a word.
 *
 *     figureOf(value, analysis)   // { text: "58 27/32 in", decimal: "58.849 in", rounded: true }
 *
 * Must not know: where it is written to.
 */
import type { Analysis, Value } from "../analysis/analysis";
import { type Measure, writeQuantity, writeTolerance } from "../units";

export interface Figure {
  /** `58 27/32 in`, `275/50R17`, `yes`, or `missing`. */
  readonly text: string;
  /** The same in decimals, beside a fraction. */
  readonly decimal?: string;
  /** True where the text is not the whole truth. */
  readonly rounded: boolean;
}

export interface Tolerance {
  /** `± 1/32 in`, or `+0.010 in -0.005 in` where the sides differ. */
  readonly worst: string;
  readonly rss: string;
}

export function figureOf(value: Value, analysis: Pick<Analysis, "style" | "write">): Figure {
  if (value.si === undefined || value.measure === undefined) {
    return { text: analysis.write(value), rounded: false };
  }
  const written = writeQuantity(value.si, value.measure, analysis.style);
  if (written === undefined) return { text: "missing", rounded: false };
  const text = value.currency === undefined ? written.text : inCurrency(value, written.text);
  return { text, decimal: written.decimal, rounded: written.rounded };
}

/** The figure in decimals: nothing a sum could not be checked with. */
export function plainFigure(value: Value, analysis: Pick<Analysis, "style" | "write">): string {
  const figure = figureOf(value, analysis);
  return figure.decimal ?? figure.text;
}

/** `undefined` where nothing it depends on states a tolerance. */
export function toleranceOf(value: Value, analysis: Pick<Analysis, "style">): Tolerance | undefined {
  const { measure } = value;
  const spread = measure === undefined || value.si === undefined ? undefined : value.spread();
  if (measure === undefined || spread === undefined) return undefined;
  const { worstBelow: below, worstAbove: above, rss } = spread;
  if (below <= 0 && above <= 0) return undefined;
  const write = (by: number): string => writeTolerance(by, measure, analysis.style)?.text ?? "";
  return { worst: sides(below, above, write, measure), rss: write(rss) };
}

// ───────────────────────────── helpers ─────────────────────────────

function sides(below: number, above: number, write: (by: number) => string, measure: Measure): string {
  if (Math.abs(above - below) <= Math.max(above, below) * 1e-6 + measure.scale * 1e-9) {
    return write(Math.max(below, above));
  }
  const bare = (by: number): string => write(by).replace(/^±\s*/, "");
  return `+${bare(above)} -${bare(below)}`;
}

/** The amount in the currency it was given in, not in the one the style happens to show. */
function inCurrency(value: Value, text: string): string {
  const currency = value.currency;
  return currency === undefined || text.toLowerCase().endsWith(currency.toLowerCase())
    ? text
    : text.replace(/\s*[a-z]{3}$/i, ` ${currency.toLowerCase()}`);
}
