/**
 * A value as a person reads it: in the build's units, the decimal beside a fraction, ± where there
 * are tolerances, and its standing in a word.
 *
 *     figureOf(value, analysis)   // { text: "54 11/16 in", decimal: "54.679 in", rounded: true }
 *
 * Must not know: where it is written to.
 */
import type { Analysis, Value } from "../analysis/analysis";
import {
  type DisplayStyle,
  displayOf,
  type Measure,
  parseStyle,
  readQuantity,
  type WrittenQuantity,
  writeIn,
  writeQuantity,
  writeTolerance,
} from "../units";

export interface ReportFigure {
  /** `54 11/16 in`, `275/50R17`, `yes`, or `missing`; what was given stands as it was written. */
  readonly text: string;
  /** Beside it: the decimals of a fraction, or what was written in another unit. */
  readonly decimal?: string;
  /** True where the text is rounded; `decimal` then says from what. */
  readonly rounded: boolean;
  /** `54 11/16 in, rounded from 54.679 in` */
  readonly full: string;
  /** The second half of that alone: `rounded from 54.679 in`, `= 0.875 in`; empty where all is said. */
  readonly beside: string;
}

export interface Tolerance {
  /** `± 1/32 in`, or `+0.010 in -0.005 in` where the sides differ. */
  readonly worst: string;
  readonly rss: string;
}

export function figureOf(value: Value, analysis: Pick<Analysis, "style" | "write">): ReportFigure {
  const text = analysis.write(value);
  if (value.si === undefined || value.measure === undefined)
    return { text, rounded: false, full: text, beside: "" };
  const shown = writeQuantity(value.si, value.measure, analysis.style);
  if (shown === undefined) return { text: "missing", rounded: false, full: "missing", beside: "" };
  if (text === shown.text) {
    const decimal =
      shown.decimal ??
      (shown.rounded ? unrounded(value.si, value.measure, shown, analysis) : undefined);
    const beside =
      decimal === undefined ? "" : shown.rounded ? `rounded from ${decimal}` : `= ${decimal}`;
    return { text, decimal, rounded: shown.rounded, full: joined(text, beside), beside };
  }
  // Written by the builder, perhaps in another unit: it is exact, what stands beside may not be.
  const decimal = shown.decimal ?? shown.text;
  if (saysTheSame(text, decimal)) return { text, rounded: false, full: text, beside: "" };
  const exact = shown.decimal === undefined ? !shown.rounded : !isCut(value.si, decimal, value);
  const beside = `${exact ? "=" : "about"} ${decimal}`;
  return { text, decimal, rounded: false, full: joined(text, beside), beside };
}

/** The figure in the decimals of the build's own unit: nothing a sum could not be checked with. */
export function plainFigure(value: Value, analysis: Pick<Analysis, "style" | "write">): string {
  const { si, measure } = value;
  const shown =
    si === undefined || measure === undefined
      ? undefined
      : writeQuantity(si, measure, analysis.style);
  if (shown === undefined || si === undefined || measure === undefined)
    return analysis.write(value);
  return (
    shown.decimal ??
    (shown.rounded ? unrounded(si, measure, shown, analysis) : undefined) ??
    shown.text
  );
}

/** Whether the worst case of a figure, as it comes out, is the furthest that was found: more is not known. */
export function isFoundOnly(value: Value): boolean {
  const spread = value.outcome()?.spread;
  return [spread?.below, spread?.above].some((end) => end?.known === "found");
}

/** `undefined` where nothing it depends on states a tolerance. */
export function toleranceOf(
  value: Value,
  analysis: Pick<Analysis, "style">,
): Tolerance | undefined {
  const { measure } = value;
  const spread = measure === undefined || value.si === undefined ? undefined : value.spread();
  if (measure === undefined || spread === undefined) return undefined;
  const { worstBelow, worstAbove, rss, shift } = spread;
  const style = styleAsWritten(value, analysis.style);
  return writeLimits({ below: worstBelow, above: worstAbove, rss, shift }, measure, { style });
}

/** By how much a figure may miss on each side, and likely, in SI; `undefined` where it cannot. */
export function writeLimits(
  {
    below,
    above,
    rss,
    shift,
  }: {
    readonly below: number;
    readonly above: number;
    readonly rss: number;
    /** How far the middle of what is likely lies from the figure. */
    readonly shift: number;
  },
  measure: Measure,
  { style }: Pick<Analysis, "style">,
): Tolerance | undefined {
  const nothing = measure.scale * 1e-9;
  if (below <= nothing && above <= nothing) return undefined;
  const write = (by: number): string =>
    Number.isFinite(by) ? (writeTolerance(by, measure, style)?.text ?? "") : "± no limit";
  const likely = sides(Math.max(0, rss - shift), Math.max(0, rss + shift), write, measure);
  return { worst: sides(below, above, write, measure), rss: likely };
}

/** What a builder wrote in another unit keeps it, its ± too: `62 mm ± 0.25 mm` in a build in inches. */
export function styleAsWritten(
  { written: own, wanted, measure }: Value,
  style: DisplayStyle,
): DisplayStyle {
  const written = own ?? wanted?.written;
  const unit = /^[-+]?(?:\d+[ -])?\d*(?:[./]\d+)?\s*(.*)$/.exec(written ?? "")?.[1] ?? "";
  if (unit === "" || measure === undefined) return style;
  const read = parseStyle(measure.name, unit);
  if ("problem" in read || read.display.unit === displayOf(measure, style).unit) return style;
  return { ...style, perMeasure: new Map([...style.perMeasure, [measure.name, read.display]]) };
}

// ───────────────────────────── helpers ─────────────────────────────

const nearlyAlike = 0.05;

function sides(
  below: number,
  above: number,
  write: (by: number) => string,
  measure: Measure,
): string {
  if (above === below) return write(above);
  // Sides that nobody could tell apart are one figure, the larger.
  if (Math.abs(above - below) <= Math.max(above, below) * nearlyAlike + measure.scale * 1e-9) {
    return write(Math.max(below, above));
  }
  const [up, down] = sameDigits(write(above), write(below));
  if (up === down) return up;
  const bare = (text: string, by: number): string =>
    Number.isFinite(by) ? text.replace(/^±\s*/, "") : "no limit";
  return `+${bare(up, above)} -${bare(down, below)}`;
}

/**
 * Two tolerances with as many decimals as the one that has fewer, rounded up; each as it is where that
 * would make far more of the other, such as beside a 0.
 */
export function sameDigits(one: string, other: string): readonly [string, string] {
  const [left, right] = [one, other].map((text) => /^(±\s*)(\d+(?:\.(\d+))?)(\s.*)?$/.exec(text));
  if (left == null || right == null || left[4] !== right[4]) return [one, other];
  const digits = Math.min((left[3] ?? "").length, (right[3] ?? "").length);
  const shortened = (parts: RegExpExecArray): { text: string; grown: boolean } => {
    const number = Number(parts[2]);
    const rounded = Math.ceil(number * 10 ** digits - 1e-6) / 10 ** digits;
    return {
      text: `${parts[1]}${rounded.toFixed(digits)}${parts[4] ?? ""}`,
      grown: rounded > number * 1.1,
    };
  };
  const [up, down] = [shortened(left), shortened(right)];
  return up.grown || down.grown ? [one, other] : [up.text, down.text];
}

/**
 * A value shown in steps, such as half millimeters, in the decimals that are at least twenty times as
 * fine; nothing where what is shown says as much already.
 */
function unrounded(
  si: number,
  measure: Measure,
  shown: WrittenQuantity,
  { style }: Pick<Analysis, "style">,
): string | undefined {
  const { unit, increment } = displayOf(measure, style);
  if (increment === undefined) return undefined;
  const step = 10 ** Math.floor(Math.log10(increment.step / 20) + 1e-9);
  const finer = writeIn(si, measure, { unit, increment: { step } });
  const saysMore =
    finer !== undefined && Math.abs(finer.remainder) < Math.abs(shown.remainder) * (1 - 1e-9);
  return saysMore ? finer.text : undefined;
}

function joined(text: string, beside: string): string {
  return beside === "" ? text : `${text}${beside.startsWith("=") ? "" : ","} ${beside}`;
}

/** `2.5 in` and `2.500 in`: the same number of the same unit, no fraction. */
function saysTheSame(one: string, other: string): boolean {
  const parts = [one, other].map((text) => /^(-?[\d.]+)\s*(.*)$/.exec(text));
  const [left, right] = parts;
  return (
    one === other ||
    (left != null && right != null && left[2] === right[2] && Number(left[1]) === Number(right[1]))
  );
}

/** True where the decimals leave something of the value out. */
function isCut(si: number, decimal: string, { measure }: Value): boolean {
  const read = readQuantity(decimal, measure);
  return !("si" in read) || Math.abs(read.si - si) > Math.abs(si) * 1e-9;
}
