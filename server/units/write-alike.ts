/**
 * Figures that stand in one sentence, written alike: all as they are read off a tape, or all in
 * decimals where one of them is not, so that whoever subtracts one from another gets the third.
 *
 *     writeAlike([0.010973, 0.0127, 0.001727], length, inches)   // ["0.432 in", "0.500 in", "0.068 in"]
 *     writeAlike([0.0254, 0.0127], length, inches)               // ["1 in", "1/2 in"]
 *
 * Must not know: where a value comes from, anything of the trade.
 */
import type { Measure } from "./measure";
import { type DisplayStyle, displayOf } from "./style";
import { fromSi, readUnit } from "./unit";
import { writeQuantity } from "./write";
import { fixed, trimZeros } from "./write-number";

/** Thousandths of an inch; where the figures are shown in steps, one place more than the step has. */
const placesOfFractions = 3;
/** The smallest figure shows two digits, and no figure more places than this beyond the others. */
const digitsOfSmallest = 2;
const mostFurther = 2;
/** A whole number has no places in either way of writing. */
const onWhole = 1e-6;

export function writeAlike(
  figures: readonly number[],
  measure: Measure,
  style: DisplayStyle,
): readonly string[] {
  const plain = figures.map((si) => writeQuantity(si, measure, style));
  const texts = plain.map((each) => each?.text ?? "missing");
  const { unit: shown, increment } = displayOf(measure, style);
  // Of feet and inches the decimals are inches.
  const unit = readUnit(shown === "ft" ? "in" : shown, measure);
  if (increment === undefined || unit === undefined) return texts;
  const mixed =
    texts.some((text) => text.includes("/")) && texts.some((text) => text.includes("."));
  if (!mixed && plain.every((each) => each?.rounded !== true)) return texts;
  const values = figures.map((si) => fromSi(si, unit));
  const least = Math.min(...values.map(Math.abs).filter((each) => each > measure.scale * 1e-9));
  const needed = Number.isFinite(least)
    ? digitsOfSmallest - 1 - Math.floor(Math.log10(least * (1 + 1e-6)))
    : 0;
  const usual = increment.denominator === undefined ? placesOf(increment.step) : placesOfFractions;
  const places = Math.min(Math.max(usual, needed), usual + mostFurther);
  return values.map((value, index) => {
    if (!Number.isFinite(value)) return texts[index] ?? "missing";
    const number = fixed(value, places);
    const whole = Math.abs(value - Math.round(value)) < onWhole;
    return `${whole || increment.denominator === undefined ? trimZeros(number) : number} ${unit.symbol}`;
  });
}

function placesOf(step: number): number {
  return Math.max(0, -Math.floor(Math.log10(step)));
}
