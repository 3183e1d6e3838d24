/**
 * Reading what was written into a field: a figure with its tolerance, a word, a designation.
 *
 *     23 1/2 in ± 1/16 in   →   { value: 0.5969, low: 0.5953125, high: 0.5984875, rounding: … }
 *
 * Must not know: names, other fields, the solver.
 */

import type * as syntax from "../../grammar/syntax";
import type { OwnCode } from "../findings/codes";
import type { GivenNumber } from "../solve/system";
import {
  confusion,
  describeDimension,
  type Measure,
  readNumber,
  readQuantity,
  readUnit,
  roundingOf,
  suggestUnits,
  unitFits,
  unitsInWords,
} from "../units";
import type { Problem } from "./denotation";

/** A number in coherent SI with its limits and the room its rounding leaves. */
export type Figure = Omit<GivenNumber, "fixed"> & {
  /** The unit it was written in; "" for a plain number. */
  readonly unit: string;
  /** True where a tolerance or limits were written. */
  readonly toleranced: boolean;
  readonly currency?: string;
};

export type FigureReading =
  | { readonly is: "figure"; readonly figure: Figure }
  /** Not a literal: a formula over other fields. */
  | { readonly is: "formula" }
  | { readonly is: "problem"; readonly problem: Problem };

/** Reads a value for a field of `measure`; `text` gives the raw text of a span. */
export function readFigure(
  node: syntax.Expression,
  measure: Measure,
  text: (span: syntax.Span) => string,
): FigureReading {
  switch (node.type) {
    case "group":
      return readFigure(node.inner, measure, text);
    case "number":
      return readPlain(node, measure);
    case "quantity":
      return readWithUnits(node, measure);
    case "unary":
      return node.operator === "-"
        ? negative(readFigure(node.operand, measure, text))
        : { is: "formula" };
    case "tolerance":
      return readTolerance(node, measure, text);
    case "limits":
      return readLimits(node, measure, text);
    case "designation":
      return readWord(node, measure);
    case "text":
    case "yes_no":
    case "date":
      return problem(
        "value/not-a-number",
        `${article(measure)} is expected here, not ${wordFor(node)}`,
        node.span,
        example(measure),
      );
    case "list":
      return problem("value/list", "one value is expected here, not a list", node.span);
    default:
      return { is: "formula" };
  }
}

/** "a length", "an angle". */
export function article(measure: Measure): string {
  return /^[aeiou]/.test(measure.title)
    ? `an ${measure.title}`
    : measure.title === "money"
      ? "an amount of money"
      : `a ${measure.title}`;
}

/** `± 1/32 in` or `± 4 %`, one side; nothing where it cannot be read. */
export function readOff(
  node: syntax.Expression,
  measure: Measure,
): { readonly off: number; readonly offShare: number } | undefined {
  if (node.type === "quantity" && node.parts[0]?.unit.text === "%" && measure.name !== "ratio") {
    return { off: 0, offShare: (node.parts[0]?.number.value ?? 0) / 100 };
  }
  const read = readDifference(node, measure);
  return read === undefined || read < 0 ? undefined : { off: read, offShare: 0 };
}

/** A step or a distance between two figures of a measure. */
export function readDifference(node: syntax.Expression, measure: Measure): number | undefined {
  const between =
    measure.name === "temperature" ? { ...measure, name: "temperature_difference" } : measure;
  const reading = readFigure(node, between, () => "");
  return reading.is === "figure" ? reading.figure.value : undefined;
}

// ───────────────────────────── helpers ─────────────────────────────

function readPlain(node: syntax.NumberLiteral, measure: Measure): FigureReading {
  if (measure.units.length > 0 && measure.name !== "ratio") {
    return {
      is: "problem",
      problem: {
        code: "unit/missing",
        message: `${node.text} needs a unit of ${measure.title}, such as ${unitsInWords(measure)}`,
        span: node.span,
        fixes: measure.units.slice(0, 3).map((unit) => ({
          title: `write ${node.text} ${unit}`,
          span: node.span,
          text: `${node.text} ${unit}`,
        })),
      },
    };
  }
  const decimals = node.form === "decimal";
  const rounding = decimals && !measure.whole ? roundingOf(node.text, "1") : 0;
  if (measure.whole && !Number.isInteger(node.value)) {
    return problem(
      "value/not-whole",
      `a whole number is expected here, not ${node.text}`,
      node.span,
    );
  }
  return figure(node.value, rounding, "");
}

function readWithUnits(node: syntax.QuantityLiteral, measure: Measure): FigureReading {
  let total = 0;
  let rounding = 0;
  let shown = "";
  let currency: string | undefined;
  for (const { number, unit } of node.parts) {
    const read = readUnit(unit.text, measure);
    if (read === undefined) return unknownUnit(unit, measure);
    if (!unitFits(read, measure))
      return wrongUnit(node, unit, measure, describeDimension(read.dimension));
    total += number.value * read.factor + read.offset;
    rounding = roundingOf(number.text, unit.text) * Math.abs(read.factor);
    shown = unit.text;
    currency = read.currency ?? currency;
  }
  const reading = figure(total, rounding, shown);
  if (reading.is === "figure" && currency !== undefined)
    return { is: "figure", figure: { ...reading.figure, currency } };
  return reading;
}

function unknownUnit(unit: syntax.UnitReference, measure: Measure): FigureReading {
  const near = suggestUnits(unit.text, measure);
  const fixes = near.map((symbol) => ({ title: `write ${symbol}`, span: unit.span, text: symbol }));
  const meant =
    near.length > 0
      ? `did you mean ${near.map((symbol) => `\`${symbol}\``).join(" or ")}?`
      : measure.units.length === 0
        ? "a plain number is expected here"
        : `units of ${measure.title} are ${unitsInWords(measure)}`;
  return {
    is: "problem",
    problem: {
      code: "unit/unknown",
      message: `unknown unit \`${unit.text}\``,
      hint: meant,
      span: unit.span,
      fixes,
    },
  };
}

function wrongUnit(
  node: syntax.QuantityLiteral,
  unit: syntax.UnitReference,
  measure: Measure,
  found: string,
): FigureReading {
  const meant = confusion(unit.text, measure);
  if (measure.units.length === 0) {
    return problem(
      "unit/wrong",
      `a plain number is expected here, not ${found} (\`${unit.text}\`)`,
      node.span,
    );
  }
  const fixes = (meant === undefined ? measure.units.slice(0, 2) : [meant]).map((symbol) => ({
    title: `write ${symbol}`,
    span: unit.span,
    text: symbol,
  }));
  return {
    is: "problem",
    problem: {
      code: "unit/wrong",
      message: `${article(measure)} is expected here, \`${unit.text}\` is a unit of ${found.replace(/^(a|an) /, "")}`,
      hint:
        meant === undefined
          ? `units of ${measure.title} are ${unitsInWords(measure)}`
          : `is \`${meant}\` meant?`,
      span: node.span,
      fixes,
    },
  };
}

function readTolerance(
  node: syntax.ToleranceExpression,
  measure: Measure,
  text: (span: syntax.Span) => string,
): FigureReading {
  const nominal = readFigure(node.nominal, measure, text);
  if (nominal.is !== "figure") return nominal;
  const by = readSpan(node.by, measure, nominal.figure, text);
  if (by.is === "problem")
    return { is: "problem", problem: sameUnitFirst(by.problem, nominal.figure) };
  if (by.is !== "figure") return by;
  const half = Math.abs(by.figure.value);
  return {
    is: "figure",
    figure: {
      ...nominal.figure,
      low: nominal.figure.value - half,
      high: nominal.figure.value + half,
      toleranced: true,
    },
  };
}

/** A tolerance is most likely meant in the unit its figure has. */
function sameUnitFirst(problem: Problem, { unit }: Figure): Problem {
  const { fixes } = problem;
  if (fixes === undefined || unit === "") return problem;
  const sameUnit = fixes.filter(({ text }) => text.endsWith(unit));
  return sameUnit.length === 0 ? problem : { ...problem, fixes: sameUnit.slice(0, 1) };
}

/** A tolerance may leave its unit out only where the nominal is a plain number, or be a share of it. */
function readSpan(
  node: syntax.Expression,
  measure: Measure,
  nominal: Figure,
  text: (span: syntax.Span) => string,
): FigureReading {
  if (node.type === "quantity" && node.parts[0]?.unit.text === "%" && measure.name !== "ratio") {
    return figure(((node.parts[0]?.number.value ?? 0) / 100) * nominal.value, 0, "%");
  }
  const spanMeasure =
    measure.name === "temperature" ? { ...measure, name: "temperature_difference" } : measure;
  return readFigure(node, spanMeasure, text);
}

function readLimits(
  node: syntax.LimitsExpression,
  measure: Measure,
  text: (span: syntax.Span) => string,
): FigureReading {
  const low = readFigure(node.low, measure, text);
  if (low.is !== "figure") return low;
  const high = readFigure(node.high, measure, text);
  if (high.is !== "figure") return high;
  const nominal = node.nominal === undefined ? undefined : readFigure(node.nominal, measure, text);
  if (nominal !== undefined && nominal.is !== "figure") return nominal;
  const value = nominal?.figure.value ?? (low.figure.value + high.figure.value) / 2;
  if (low.figure.value > high.figure.value) {
    return problem(
      "value/limits",
      "the lower limit is above the upper one",
      node.span,
      "write the lower limit first, then `..`, then the upper one",
    );
  }
  if (value < low.figure.value || value > high.figure.value) {
    return problem(
      "value/limits",
      "the value lies outside of its own limits",
      node.span,
      "check the value and its limits against the drawing",
    );
  }
  return {
    is: "figure",
    figure: {
      value,
      low: low.figure.value,
      high: high.figure.value,
      rounding: nominal?.figure.rounding ?? Math.min(low.figure.rounding, high.figure.rounding),
      unit: nominal?.figure.unit ?? high.figure.unit,
      toleranced: true,
    },
  };
}

/** `24mm` without a space, or a word that is no figure at all. */
function readWord(node: syntax.DesignationLiteral, measure: Measure): FigureReading {
  const read = readQuantity(node.text, measure);
  if ("si" in read) return figure(read.si, read.rounding, read.unit.symbol);
  const plain = readNumber(node.text);
  if (plain !== undefined && measure.units.length === 0) return figure(plain.value, 0, "");
  const turns = /^(\d+):(\d+)$/.exec(node.text);
  if (turns !== null && measure.units.length === 0 && Number(turns[2]) !== 0) {
    return figure(Number(turns[1]) / Number(turns[2]), 0, "");
  }
  return problem(
    "value/not-a-number",
    `${article(measure)} is expected here, not \`${node.text}\``,
    node.span,
    example(measure),
  );
}

function negative(reading: FigureReading): FigureReading {
  if (reading.is !== "figure") return reading;
  const { value, low, high, ...rest } = reading.figure;
  return { is: "figure", figure: { ...rest, value: -value, low: -high, high: -low } };
}

function figure(value: number, rounding: number, unit: string): FigureReading {
  return {
    is: "figure",
    figure: { value, low: value, high: value, rounding, unit, toleranced: false },
  };
}

function problem(code: OwnCode, message: string, span: syntax.Span, hint?: string): FigureReading {
  return { is: "problem", problem: { code, message, span, hint } };
}

function example(measure: Measure): string {
  const unit = measure.units[0];
  return unit === undefined ? "write a plain number" : `write for example \`2.5 ${unit}\``;
}

function wordFor(node: syntax.Expression): string {
  switch (node.type) {
    case "text":
      return "a text";
    case "yes_no":
      return "yes or no";
    case "date":
      return "a date";
    default:
      return "a word";
  }
}
