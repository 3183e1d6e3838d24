/**
 * Reading a whole quantity: `23 1/2 in`, `5 ft 1 5/16 in`, `50 %`, `24mm`, `-3/64 in`.
 *
 *     readQuantity("5 ft 1 5/16 in", measureNamed("length"))  // { si: 1.5573375, rounding: …, … }
 *
 * The parts of a compound are of one dimension, each unit smaller than the one before, and the
 * sign in front holds for all of them. The rounding is that of the last part.
 *
 * Must not know: expressions, tolerances, fields, anything of the trade.
 */
import { type Dimension, describeDimension, sameDimension } from "./dimension";
import { type Measure, measureInWords, measureNamed, unitsInWords } from "./measure";
import { readNumber, roundingOf } from "./number";
import { unitOfTwoWords } from "./spelling";
import { confusion, suggestUnits } from "./suggest";
import { plainUnit, readUnit, toSi, type Unit, unitFits } from "./unit";

export interface QuantityReading {
  /** Coherent SI. */
  readonly si: number;
  /** Half of the last written step, in SI: the number stands for `si ± rounding`. */
  readonly rounding: number;
  readonly dimension: Dimension;
  /** The unit of the last part: what the quantity is most finely told in. */
  readonly unit: Unit;
}

export type QuantityProblem =
  | { readonly problem: "not-a-quantity"; readonly text: string }
  | { readonly problem: "needs-unit"; readonly text: string; readonly measure: Measure }
  | {
      readonly problem: "unknown-unit";
      readonly unit: string;
      readonly measure?: Measure;
      readonly suggestions: readonly string[];
    }
  | {
      readonly problem: "wrong-unit";
      readonly unit: Unit;
      readonly measure: Measure;
      /** What was probably meant. */
      readonly suggestion: string | undefined;
    }
  | { readonly problem: "parts-differ"; readonly first: Unit; readonly second: Unit }
  | { readonly problem: "parts-not-smaller"; readonly first: Unit; readonly second: Unit }
  | { readonly problem: "not-whole"; readonly text: string; readonly measure: Measure };

export interface QuantityPart {
  /** As typed: `61-5/16`. */
  readonly number: string;
  /** As typed: `lb-ft`; empty where none was written. */
  readonly unit: string;
}

/** Reads a text that is one quantity and nothing else. Never throws. */
export function readQuantity(text: string, wanted?: Measure): QuantityReading | QuantityProblem {
  const parts = splitParts(text);
  if (parts === undefined) return { problem: "not-a-quantity", text };
  return combineParts(parts.parts, wanted, parts.negative);
}

/** The quantity that already separated parts make; `negative` turns the whole of it round. */
export function combineParts(
  parts: readonly QuantityPart[],
  wanted?: Measure,
  negative = false,
): QuantityReading | QuantityProblem {
  let si = 0;
  let rounding = 0;
  let unit: Unit | undefined;
  for (const part of parts) {
    const number = readNumber(part.number);
    if (number === undefined) return { problem: "not-a-quantity", text: part.number };
    const next = unitOf(part, wanted);
    if ("problem" in next) return next;
    if (wanted?.whole === true && !Number.isInteger(number.value)) {
      return { problem: "not-whole", text: part.number, measure: wanted };
    }
    if (unit !== undefined && !sameDimension(unit.dimension, next.dimension)) {
      return { problem: "parts-differ", first: unit, second: next };
    }
    const shifted = next.offset !== 0 || unit?.offset !== 0;
    if (unit !== undefined && (next.factor >= unit.factor || shifted)) {
      return { problem: "parts-not-smaller", first: unit, second: next };
    }
    const value = negative ? -number.value : number.value;
    si += toSi(value, next);
    rounding = roundingOf(part.number, next.symbol) * next.factor;
    unit = next;
  }
  if (unit === undefined || !Number.isFinite(si) || !Number.isFinite(rounding)) {
    return { problem: "not-a-quantity", text: parts.map((part) => part.number).join(" ") };
  }
  return { si: si === 0 ? 0 : si, rounding, dimension: unit.dimension, unit };
}

/** The problem as a headline for the builder, without a full stop. */
export function describeQuantityProblem(found: QuantityProblem): string {
  switch (found.problem) {
    case "not-a-quantity":
      return `expected a number and a unit, found "${shorten(found.text)}"`;
    case "needs-unit":
      return `${found.text} needs a unit of ${found.measure.title}, such as ${unitsInWords(found.measure)}`;
    case "unknown-unit": {
      const near = found.suggestions.join(" or ");
      const hint = near === "" ? "" : `, did you mean ${near}?`;
      return `unknown unit "${shorten(found.unit)}"${hint}`;
    }
    case "wrong-unit": {
      const natural = unitsInWords(found.measure);
      const such =
        natural === "" ? "a plain number" : `a unit of ${found.measure.title} such as ${natural}`;
      const hint = found.suggestion === undefined ? "" : `, did you mean ${found.suggestion}?`;
      return `expected ${such}, found ${found.unit.symbol} (${tellUnit(found.unit)})${hint}`;
    }
    case "parts-differ":
      return `${found.first.symbol} and ${found.second.symbol} do not measure the same thing: ${tellUnit(found.first)} and ${tellUnit(found.second)}`;
    case "parts-not-smaller":
      return `after ${found.first.symbol} a smaller unit is expected, found ${found.second.symbol}`;
    case "not-whole":
      return `expected a whole number, found ${found.text}`;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const longestQuantity = 200;
const mostParts = 6;

const blankPattern = /[ \t\u00a0\u202f\u2009]*/y;
const numberPattern =
  /\d{1,9}(?:[ \t]+|-)\d{1,9}\/\d{1,9}|\d{1,9}\/\d{1,9}|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?/y;
const unitPattern =
  /(?:1\/)?[A-Za-z_%°µμΩ"'’”′″$€£¥#(](?:[A-Za-z_%°µμΩ"'’”′″*/·()²³⁴.-]|\^\(?-?\d+\)?)*/y;

function splitParts(text: string): { parts: QuantityPart[]; negative: boolean } | undefined {
  if (text.length > longestQuantity) return undefined;
  const trimmed = text.trim();
  const negative = /^[-−]/.test(trimmed);
  let at = /^[-−+]/.test(trimmed) ? 1 : 0;
  const take = (pattern: RegExp): string => {
    pattern.lastIndex = at;
    const found = pattern.exec(trimmed)?.[0] ?? "";
    at += found.length;
    return found;
  };
  const parts: QuantityPart[] = [];
  while (at < trimmed.length && parts.length < mostParts) {
    take(blankPattern);
    const number = take(numberPattern);
    if (number === "") return undefined;
    take(blankPattern);
    const words = take(unitOfTwoWords);
    parts.push({ number, unit: words === "" ? take(unitPattern) : words });
  }
  return parts.length === 0 || at < trimmed.length ? undefined : { parts, negative };
}

function unitOf(part: QuantityPart, wanted: Measure | undefined): Unit | QuantityProblem {
  if (part.unit === "") {
    if (wanted === undefined || unitFits(plainUnit, wanted)) return plainUnit;
    return { problem: "needs-unit", text: part.number, measure: wanted };
  }
  const unit = readUnit(part.unit, wanted);
  if (unit === undefined) {
    const suggestions = suggestUnits(part.unit, wanted);
    return { problem: "unknown-unit", unit: part.unit, suggestions, measure: wanted };
  }
  if (wanted !== undefined && !unitFits(unit, wanted)) {
    const suggestion = confusion(part.unit, wanted);
    return { problem: "wrong-unit", unit, measure: wanted, suggestion };
  }
  return unit;
}

function tellUnit(unit: Unit): string {
  return unit.measure === undefined
    ? describeDimension(unit.dimension)
    : measureInWords(measureNamed(unit.measure)!);
}

function shorten(text: string): string {
  return text.length <= 40 ? text : `${text.slice(0, 37)}…`;
}
