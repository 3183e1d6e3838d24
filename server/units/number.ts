/**
 * Numbers as a shop writes them: `54.679`, `.5`, `1e-3`, `3/8`, `61 5/16`, `61-5/16`.
 *
 *     readNumber("61-5/16")       // { value: 61.3125, form: "mixed", denominator: 16, places: 0 }
 *     roundingOf("54.679", "in") // 0.0005
 *
 * Must not know: units beyond the two that are read off a tape in fractions, anything of the trade.
 */

export type NumberForm = "whole" | "decimal" | "fraction" | "mixed";

export interface NumberReading {
  readonly value: number;
  readonly form: NumberForm;
  /** Of a fraction as written; 1 otherwise. */
  readonly denominator: number;
  /** Decimal places of the last digit: 3 for `54.679` and `1e-3`, 0 for `61`, -2 for `12e2`. */
  readonly places: number;
}

/** A longer text is no measured number. */
const longestNumber = 40;

const decimalPattern = /^([+\-−]?)(\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d{1,3}))?$/;
const fractionPattern = /^([+\-−]?)(?:(\d{1,9})(?:[ \t]+|-))?(\d{1,9})\/(\d{1,9})$/;

/** The number a text writes, sign allowed; `undefined` for anything else, x/0 and overflow included. */
export function readNumber(text: string): NumberReading | undefined {
  if (text.length > longestNumber) return undefined;
  const trimmed = text.trim();
  return readDecimal(trimmed) ?? readFraction(trimmed);
}

/**
 * Half of the last written step, counted in the unit the number is written in: the true value lies
 * within the number ± this. Decimals: half of the last place. Fractions: half of 1/32, or of 1 over
 * a larger denominator. Whole inches and feet are read off a tape and are as good as 1/32 in; other
 * whole numbers may be off by 0.5. Without a unit (symbol "" or "1"), whole numbers and fractions are
 * exact, being counted. 0 for a text that is no number.
 */
export function roundingOf(text: string, unitSymbol: string): number {
  const number = readNumber(text);
  if (number === undefined) return 0;
  const plain = unitSymbol === "" || unitSymbol === "1";
  switch (number.form) {
    case "decimal":
      return 0.5 * 10 ** -number.places;
    case "fraction":
    case "mixed":
      return plain ? 0 : 0.5 / Math.max(number.denominator, tapeDivision);
    case "whole":
      if (plain) return 0;
      if (unitSymbol === "in") return 0.5 / tapeDivision;
      if (unitSymbol === "ft") return 0.5 / tapeDivision / 12;
      return 0.5;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** A tape is read to 1/32 in. */
const tapeDivision = 32;

function readDecimal(text: string): NumberReading | undefined {
  const match = decimalPattern.exec(text);
  if (match === null) return undefined;
  const [, sign = "", digits = "", exponent] = match;
  const size = Number(`${digits}e${exponent ?? "0"}`);
  if (!Number.isFinite(size)) return undefined;
  const written = digits.includes(".") ? digits.length - digits.indexOf(".") - 1 : 0;
  const whole = !digits.includes(".") && exponent === undefined;
  return {
    value: signed(size, sign),
    form: whole ? "whole" : "decimal",
    denominator: 1,
    places: written - Number(exponent ?? 0),
  };
}

function readFraction(text: string): NumberReading | undefined {
  const match = fractionPattern.exec(text);
  if (match === null) return undefined;
  const [, sign = "", whole, above = "", below = ""] = match;
  const denominator = Number(below);
  if (denominator === 0) return undefined;
  const wholePart = whole === undefined ? 0 : Number(whole);
  return {
    // One division, so that 61 5/16 is the double nearest to it whatever the denominator.
    value: signed((wholePart * denominator + Number(above)) / denominator, sign),
    form: whole === undefined ? "fraction" : "mixed",
    denominator,
    places: 0,
  };
}

function signed(size: number, sign: string): number {
  return (sign === "-" || sign === "−") && size !== 0 ? -size : size;
}
