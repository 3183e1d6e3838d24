/**
 * Numbers to text: as many digits as are worth it, no "-0", no 0.30000000000000004.
 *
 *     significant(1476.3751, 4)        // "1476"
 *     fractionNumber(54.6875, 32)      // "54 11/16"
 *
 * Every text is read back by `readNumber`. Must not know: units, measures.
 */

/** `digits` significant digits, but never fewer than the number has before the point; no trailing zeros. */
export function significant(value: number, digits: number): string {
  const size = Math.abs(value);
  if (size === 0 || !Number.isFinite(value)) return "0";
  if (size >= 1e15 || size < 1e-6) return exponential(value, digits);
  const leading = Math.floor(Math.log10(size));
  return trimZeros(value.toFixed(Math.min(Math.max(digits - 1 - leading, 0), 20)));
}

/** All that up to `digits` significant digits tell, whatever the size. */
export function compactNumber(value: number, digits: number): string {
  if (value === 0 || !Number.isFinite(value)) return "0";
  const size = Math.abs(value);
  const settled = Number(value.toPrecision(digits));
  if (size >= 1e15 || size < 1e-6) return exponential(settled, digits);
  const leading = Math.floor(Math.log10(size));
  return trimZeros(settled.toFixed(Math.min(Math.max(digits - 1 - leading, 0), 20)));
}

/** A number of decimal places, trailing zeros kept: "2.500". */
export function fixed(value: number, places: number): string {
  const text = value.toFixed(Math.min(Math.max(places, 0), 20));
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** "54 11/16", "-3/64", "12": `undefined` where the value does not lie on a 1/denominator step. */
export function fractionNumber(
  value: number,
  denominator: number,
  joint = " ",
): string | undefined {
  const steps = Math.round(value * denominator);
  if (!Number.isSafeInteger(steps) || Math.abs(value * denominator - steps) > 1e-6)
    return undefined;
  return fractionOfSteps(steps, denominator, joint);
}

/** The text of `steps` steps of 1/denominator, reduced and carried: 64 of 1/32 are "2". */
export function fractionOfSteps(steps: number, denominator: number, joint = " "): string {
  const size = Math.abs(steps);
  const whole = Math.floor(size / denominator);
  const over = size - whole * denominator;
  const sign = steps < 0 ? "-" : "";
  if (over === 0) return `${sign}${whole}`;
  const shared = greatestShared(over, denominator);
  const fraction = `${over / shared}/${denominator / shared}`;
  return whole === 0 ? `${sign}${fraction}` : `${sign}${whole}${joint}${fraction}`;
}

export function trimZeros(text: string): string {
  const trimmed = text.includes(".") ? text.replace(/\.?0+$/, "") : text;
  return trimmed === "-0" ? "0" : trimmed;
}

function exponential(value: number, digits: number): string {
  const [mantissa = "0", exponent = "0"] = value.toExponential(Math.max(digits - 1, 0)).split("e");
  return `${trimZeros(mantissa)}e${Number(exponent)}`;
}

function greatestShared(one: number, other: number): number {
  let larger = one;
  let smaller = other;
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}
