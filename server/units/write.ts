/**
 * Writing values back as they are read off a tape or a gauge.
 *
 *     writeQuantity(1.3888466, length, defaultStyle("inch"))
 *     // { text: "54 11/16 in", decimal: "54.679 in", rounded: true, remainder: -0.0002159 }
 *
 * What is written reads back: text and remainder together give the value. A value that is only a
 * few steps large would lose too much by rounding to a step, and is written in decimals instead.
 *
 * Must not know: where a value comes from, anything of the trade.
 */
import { currencyDecimals } from "./currency";
import { type Measure, measureNamed } from "./measure";
import { type DisplayStyle, type DisplayUnit, displayOf } from "./style";
import { fromSi, plainUnit, readUnit, toSi, type Unit } from "./unit";
import { fixed, fractionNumber, fractionOfSteps, significant, trimZeros } from "./write-number";

export interface WrittenQuantity {
  /** `54 11/16 in` */
  readonly text: string;
  /** `54.679 in`: beside a fraction, the same in decimals. */
  readonly decimal?: string;
  /** The value less what `text` says, in SI. */
  readonly remainder: number;
  /** True where that remainder is more than the noise of calculating. */
  readonly rounded: boolean;
}

/** A value in SI as the style shows its measure; `undefined` for a value that is not finite. */
export function writeQuantity(
  si: number,
  measure: Measure,
  style: DisplayStyle,
): WrittenQuantity | undefined {
  return writeIn(si, measure, displayOf(measure, style), style.thousands);
}

/** The same in a unit of the caller's choice, for instance the one the builder wrote. */
export function writeIn(
  si: number,
  measure: Measure,
  display: DisplayUnit,
  thousands = "",
): WrittenQuantity | undefined {
  const unit = display.unit === "" ? plainUnit : readUnit(display.unit, measure);
  if (!Number.isFinite(si) || unit === undefined) return undefined;
  const settled = Math.abs(si) < measure.scale * noise ? 0 : si;
  const value = fromSi(settled, unit);
  if (!Number.isFinite(value)) return undefined;
  const shown = show(value, measure, unit, display);
  const remainder = si - toSi(shown.value, unit);
  const step = (display.increment?.step ?? 0) * unit.factor;
  const allowed = Math.max(Math.abs(si) * noise, step * onStep, measure.scale * noise);
  return {
    text: shown.feet === true ? shown.number : join(group(shown.number, thousands), unit.symbol),
    ...(shown.decimal === undefined
      ? {}
      : { decimal: join(group(shown.decimal, thousands), shown.decimalUnit ?? unit.symbol) }),
    remainder,
    rounded: Math.abs(remainder) > allowed,
  };
}

/**
 * The ± of a value, `by` in SI and not negative: `± 1/32 in` where it is such a fraction, else
 * decimals rounded up, so that the range shown never is the smaller one.
 */
export function writeTolerance(
  by: number,
  measure: Measure,
  style: DisplayStyle,
): WrittenQuantity | undefined {
  const spanMeasure = differenceOf(measure);
  const display = displayOf(measure, style);
  // Feet are no unit for a tolerance.
  const symbol = display.unit === "ft" ? "in" : display.unit;
  const unit = symbol === "" ? plainUnit : readUnit(symbol, spanMeasure);
  if (!Number.isFinite(by) || by < 0 || unit === undefined) return undefined;
  const value = by < measure.scale * noise ? 0 : by / unit.factor;
  const denominator = display.increment?.denominator;
  const steps = value * (denominator ?? 0) * finerTolerance;
  const onFraction = denominator !== undefined && Math.abs(steps - Math.round(steps)) < onStep;
  const number =
    onFraction && value > 0
      ? fractionOfSteps(Math.round(steps), denominator * finerTolerance)
      : roundedUp(value, unit.symbol === "in" ? 3 : 0);
  const shown = onFraction ? value : Number(number);
  const remainder = by - shown * unit.factor;
  return {
    text: `± ${join(number, unit.symbol)}`,
    remainder,
    rounded: Math.abs(remainder) > by * noise,
  };
}

/** `54 11/16 in, rounded from 54.679 in`: the text, and what it was rounded from where it was. */
export function writtenInFull(written: WrittenQuantity): string {
  if (!written.rounded || written.decimal === undefined) return written.text;
  return `${written.text}, rounded from ${written.decimal}`;
}

/** A value for JSON: 12 significant digits, no "-0"; `undefined` where it is not finite. */
export function writeSi(si: number): number | undefined {
  if (!Number.isFinite(si)) return undefined;
  const settled = Number(si.toPrecision(12));
  return settled === 0 ? 0 : settled;
}

// ───────────────────────────── helpers ─────────────────────────────

/** Relative size of what calculating alone may leave. */
const noise = 1e-9;
/** Share of a step within which a value counts as lying on it. */
const onStep = 1e-6;
/** Values of fewer steps are written in decimals unless they lie on a step. */
const fewSteps = 8;
const digitsShown = 4;
const digitsOfSmall = 3;
/** The finest division of a tape or rule: a small value that lies on it is written as a fraction. */
const finestTape = 64;
/** Tolerances may be half of the step values are shown in. */
const finerTolerance = 2;
/** Beyond this many steps a fraction says nothing any more. */
const mostSteps = 1e12;

interface Shown {
  readonly number: string;
  /** What `number` says, counted in the unit. */
  readonly value: number;
  readonly decimal?: string;
  readonly decimalUnit?: string;
  /** True where `number` carries its units itself: `4 ft 10 27/32 in`. */
  readonly feet?: boolean;
}

function show(value: number, measure: Measure, unit: Unit, display: DisplayUnit): Shown {
  const increment = display.increment;
  if (unit.currency !== undefined && measure.name === "money")
    return showFixed(value, currencyDecimals(unit.currency));
  if (measure.whole && Math.abs(value - Math.round(value)) < onStep)
    return showFixed(Math.round(value), 0);
  if (increment === undefined || Math.abs(value) / increment.step > mostSteps) {
    return showNumber(significant(value, digitsShown));
  }
  if (increment.denominator === undefined) return showStep(value, increment.step);
  return unit.symbol === "ft"
    ? showFeet(value, increment.denominator)
    : showFraction(value, increment.denominator, placesBeside(unit));
}

function showNumber(number: string): Shown {
  return { number, value: Number(number) };
}

function showFixed(value: number, places: number): Shown {
  return showNumber(fixed(value, places));
}

function showStep(value: number, step: number): Shown {
  const steps = Math.round(value / step);
  if (tooFew(value / step, steps)) return showNumber(significant(value, digitsOfSmall));
  return showNumber(trimZeros(fixed(steps * step, placesOf(step))));
}

function showFraction(value: number, denominator: number, places: number): Shown {
  const steps = Math.round(value * denominator);
  if (tooFew(value * denominator, steps)) {
    const finer = fractionNumber(value, finestTape);
    return finer === undefined
      ? showNumber(smallDecimal(value, places))
      : { number: finer, value, decimal: decimalBeside(value, places) };
  }
  const number = fractionOfSteps(steps, denominator);
  const shown = { number, value: steps / denominator };
  const plain = steps % denominator === 0 && Math.abs(value * denominator - steps) < onStep;
  return plain ? shown : { ...shown, decimal: decimalBeside(value, places) };
}

function showFeet(value: number, denominator: number): Shown {
  const inches = value * 12;
  const steps = Math.round(inches * denominator);
  if (tooFew(inches * denominator, steps)) {
    const number = smallDecimal(inches, 3);
    return { number: `${number} in`, value: Number(number) / 12, feet: true };
  }
  const size = Math.abs(steps);
  const feet = Math.floor(size / (12 * denominator));
  const rest = size - feet * 12 * denominator;
  const parts = [
    ...(feet === 0 ? [] : [`${feet} ft`]),
    ...(rest === 0 && feet > 0 ? [] : [`${fractionOfSteps(rest, denominator)} in`]),
  ];
  const number = `${steps < 0 ? "-" : ""}${parts.join(" ")}`;
  const shown = { number, value: steps / denominator / 12, feet: true };
  return steps === 0 ? shown : { ...shown, decimal: decimalBeside(inches, 3), decimalUnit: "in" };
}

/** One place more where the value ends with it: 11/16 is 0.6875. */
function decimalBeside(value: number, places: number): string {
  const exact = Math.abs(value) * 10 ** (places + 1);
  const text = fixed(value, Math.abs(exact - Math.round(exact)) < onStep ? places + 1 : places);
  return text.endsWith("0") && text.length - text.indexOf(".") - 1 > places
    ? text.slice(0, -1)
    : text;
}

/** A value of a few steps, not on one of them: rounding it to a step would change it too much. */
function tooFew(exactSteps: number, steps: number): boolean {
  return Math.abs(exactSteps) < fewSteps && Math.abs(exactSteps - steps) > onStep;
}

/** At least `places` decimals, more where a small number needs them for its three digits. */
function smallDecimal(value: number, places: number): string {
  const text = significant(value, digitsOfSmall);
  const written = text.includes(".") ? text.length - text.indexOf(".") - 1 : 0;
  return text.includes("e") || written >= places ? text : fixed(value, places);
}

/** Decimals to show beside a fraction: thousandths of an inch and of a millimeter alike. */
function placesBeside(unit: Unit): number {
  return unit.factor >= 0.1 ? 4 : 3;
}

function placesOf(step: number): number {
  const text = step.toString();
  const exponent = /e-(\d+)$/.exec(text)?.[1];
  const written = text.includes(".")
    ? (text.split("e")[0] ?? "").length - text.indexOf(".") - 1
    : 0;
  return Math.min(written + Number(exponent ?? 0), 20);
}

/** Three significant digits, the last rounded up, at least `places` decimals. */
function roundedUp(value: number, places: number): string {
  if (value === 0) return "0";
  const leading = Math.floor(Math.log10(value));
  const last = leading - (digitsOfSmall - 1);
  const steps = Math.ceil(value / 10 ** last - onStep);
  const shown = steps * 10 ** last;
  if (last > 0 || leading < -6) return significant(shown, digitsOfSmall);
  const text = trimZeros(shown.toFixed(Math.min(-last, 20)));
  const written = text.includes(".") ? text.length - text.indexOf(".") - 1 : 0;
  return written >= places ? text : shown.toFixed(places);
}

/** The measure of a difference: that of two temperatures has no offset. */
export function differenceOf(measure: Measure): Measure {
  if (measure.name !== "temperature") return measure;
  return measureNamed("temperature_difference") ?? measure;
}

function join(number: string, symbol: string): string {
  return symbol === "" ? number : `${number} ${symbol}`;
}

/** Puts `mark` between the thousands of the whole part. */
function group(number: string, mark: string): string {
  if (mark === "" || number.includes("e") || number.includes("/")) return number;
  const [whole = "", ...rest] = number.split(".");
  return [whole.replace(/\B(?=(\d{3})+$)/g, mark), ...rest].join(".");
}
