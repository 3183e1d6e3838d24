/**
 * How values are shown: for each measure a unit, and a step they are rounded to.
 *
 *     parseStyle("length", "in", "1/32")
 *     // { measure: "length", display: { unit: "in", increment: { step: 0.03125, denominator: 32 } } }
 *
 * A length shown in `ft` with a fraction is shown in feet and inches, the fraction being of an inch.
 *
 * Must not know: values, text of a build, anything of the trade.
 */
import { distance } from "fastest-levenshtein";
import { type Measure, measureNamed, measures } from "./measure";
import { readNumber } from "./number";
import { symbolOf } from "./spelling";
import { suggestUnits } from "./suggest";
import { plainUnit, readUnit, unitFits } from "./unit";

export type UnitSystem = "inch" | "metric";

export interface Increment {
  /** Above 0, counted in the display unit. */
  readonly step: number;
  /** Set where values are shown as fractions of this denominator. */
  readonly denominator?: number;
}

export interface DisplayUnit {
  /** A unit symbol, or "" for a plain number. */
  readonly unit: string;
  readonly increment?: Increment;
}

export interface DisplayStyle {
  readonly system: UnitSystem;
  /** By measure name; a measure that is missing is shown as its system has it. */
  readonly perMeasure: ReadonlyMap<string, DisplayUnit>;
  /** Put between thousands on paper, where nothing reads the number back; nothing by default. */
  readonly thousands?: string;
}

export type StyleProblem = {
  /** What is written there, cut short; "" for no unit. */
  readonly text: string;
  /** What may have been meant, likeliest first. */
  readonly near: readonly string[];
} & (
  | { readonly problem: "unknown-measure" | "unknown-unit" | "bad-increment" }
  /** `of`: what was to be shown. */
  | { readonly problem: "wrong-unit"; readonly of: Measure }
);

/** What a shop on the inch or the metric system expects to see. */
export function defaultStyle(system: UnitSystem): DisplayStyle {
  return system === "inch" ? inchStyle : metricStyle;
}

/** One line of a display block: the measure, the unit, and if wanted the step ("1/32", "0.001", "5"). */
export function parseStyle(
  measureName: string,
  unitText: string,
  incrementText?: string,
): { readonly measure: string; readonly display: DisplayUnit } | StyleProblem {
  const measure = measureNamed(measureName);
  if (measure === undefined) {
    const near = measures.map((each) => each.name).filter((name) => isNear(name, measureName));
    return { problem: "unknown-measure", text: shortened(measureName), near };
  }
  const symbol = symbolOf(unitText.trim()) ?? unitText.trim();
  const unit = symbol === "" ? plainUnit : readUnit(symbol, measure);
  if (unit === undefined) {
    const near = suggestUnits(symbol, measure);
    return { problem: "unknown-unit", text: shortened(symbol), near };
  }
  if (!unitFits(unit, measure)) {
    return { problem: "wrong-unit", text: symbol, near: measure.units.slice(0, 3), of: measure };
  }
  if (incrementText === undefined) return { measure: measure.name, display: { unit: symbol } };
  const increment = readIncrement(incrementText);
  if (increment === undefined) {
    const near = ["1/32", "0.001"];
    return { problem: "bad-increment", text: shortened(incrementText), near };
  }
  return { measure: measure.name, display: { unit: symbol, increment } };
}

/** The style with other displays laid over it. */
export function withDisplay(
  style: DisplayStyle,
  changes: Iterable<readonly [measure: string, display: DisplayUnit]>,
): DisplayStyle {
  return { ...style, perMeasure: new Map([...style.perMeasure, ...changes]) };
}

/** How a style shows a measure. */
export function displayOf(measure: Measure, style: DisplayStyle): DisplayUnit {
  const chosen = measure.own ? undefined : style.perMeasure.get(measure.name);
  if (chosen !== undefined && showable(chosen, measure)) return chosen;
  return systemDisplay(measure, style.system);
}

// ───────────────────────────── helpers ─────────────────────────────

const finestFraction = 1024;

function shortened(text: string): string {
  return text.slice(0, 40);
}

function readIncrement(text: string): Increment | undefined {
  const number = readNumber(text);
  if (number === undefined || number.value <= 0 || number.form === "mixed") return undefined;
  if (number.form !== "fraction") return { step: number.value };
  const top = Math.round(number.value * number.denominator);
  if (top !== 1 || number.denominator < 2 || number.denominator > finestFraction) return undefined;
  return { step: number.value, denominator: number.denominator };
}

function showable(display: DisplayUnit, measure: Measure): boolean {
  const unit = display.unit === "" ? plainUnit : readUnit(display.unit, measure);
  const step = display.increment?.step ?? 1;
  return unit !== undefined && unitFits(unit, measure) && Number.isFinite(step) && step > 0;
}

function systemDisplay(measure: Measure, system: UnitSystem): DisplayUnit {
  const { unit, increment } = measure[system];
  const read = increment === undefined ? undefined : readIncrement(increment);
  return read === undefined ? { unit } : { unit, increment: read };
}

function isNear(name: string, typed: string): boolean {
  if (typed.length < 3 || typed.length > 40) return false;
  return distance(name, typed.toLowerCase().replace(/[\s-]/g, "_")) <= (typed.length <= 5 ? 1 : 2);
}

const inchStyle: DisplayStyle = { system: "inch", perMeasure: new Map() };
const metricStyle: DisplayStyle = { system: "metric", perMeasure: new Map() };
