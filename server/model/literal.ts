/**
 * Reading what was written into a field: a figure with its tolerance, a word, a designation.
 *
 *     23 1/2 in ± 1/16 in   →   { value: 0.5969, low: 0.5953125, high: 0.5984875, rounding: … }
 *
 * Must not know: names, other fields, the solver.
 */
import type * as syntax from "../../grammar/syntax";
import type { Fact, Problem } from "../findings/worded";
import type { GivenNumber } from "../solve/system";
import {
  confusion,
  type Dimension,
  differenceOf,
  type Measure,
  readNumber,
  readQuantity,
  readUnit,
  roundingOf,
  suggestUnits,
  unitFits,
} from "../units";

/** A number in coherent SI with its limits and the room its rounding leaves. */
export type LiteralFigure = Omit<GivenNumber, "fixed"> & {
  /** The unit it was written in; "" for a plain number. */
  readonly unit: string;
  /** True where a tolerance or limits were written. */
  readonly toleranced: boolean;
  readonly currency?: string;
};

export type FigureReading =
  | { readonly is: "figure"; readonly figure: LiteralFigure }
  /** Not a literal: a formula over other fields. */
  | { readonly is: "formula" }
  | { readonly is: "problem"; readonly problem: Problem };

/** Reads a value for a field of `measure`. */
export function readFigure(node: syntax.Expression, measure: Measure): FigureReading {
  switch (node.type) {
    case "group":
      return readFigure(node.inner, measure);
    case "number":
      return readPlain(node, measure);
    case "quantity":
      return readWithUnits(node, measure);
    case "unary":
      if (node.operator !== "-") return { is: "formula" };
      if (node.operand.type === "quantity") return readWithUnits(node.operand, measure, -1);
      return negative(readFigure(node.operand, measure));
    case "tolerance":
      return readTolerance(node, measure);
    case "limits":
      return readLimits(node, measure);
    case "designation":
      return readWord(node, measure);
    case "text":
    case "yes_no":
    case "date":
      return problem({ is: "value/not-a-number", measure, found: wordFor(node) }, node.span);
    case "list":
      return problem({ is: "value/list" }, node.span);
    default:
      return { is: "formula" };
  }
}

/** Whether a value makes sense in a field of `measure`: nothing is wrong with its units. */
export function isReadable(node: syntax.Expression, measure: Measure): boolean {
  if (node.type !== "quantity") return readFigure(node, measure).is !== "problem";
  return node.parts.every(({ unit }) => {
    const read = readUnit(unit.text, measure);
    return read !== undefined && unitFits(read, measure);
  });
}

/** `± 1/32 in` or `± 4 %`, one side; nothing where it cannot be read. */
export function readOff(
  node: syntax.Expression,
  measure: Measure,
): { readonly off: number; readonly offShare: number } | undefined {
  const share = shareIn(node);
  if (share !== undefined && measure.name !== "ratio") return { off: 0, offShare: share };
  const read = readDifference(node, measure);
  return read === undefined || read < 0 ? undefined : { off: read, offShare: 0 };
}

/** What is wrong with a ± that stands behind a `?`, a step or a role. */
export function problemsOfOff(node: syntax.Expression, measure: Measure): readonly Problem[] {
  const reading = readFigure(node, differenceOf(measure));
  if (reading.is === "problem") return [reading.problem];
  return reading.is === "figure" && reading.figure.value < 0 && shareIn(node) === undefined
    ? [{ is: "value/limits negative", span: node.span }]
    : [];
}

/** A default, and the ± behind it. */
export function withOwnSpread(node: syntax.Expression): {
  readonly nominal: syntax.Expression;
  readonly by?: syntax.Expression;
} {
  return node.type === "tolerance" ? node : { nominal: node };
}

/** A step or a distance between two figures of a measure. */
export function readDifference(node: syntax.Expression, measure: Measure): number | undefined {
  const reading = readFigure(node, differenceOf(measure));
  return reading.is === "figure" ? reading.figure.value : undefined;
}

// ───────────────────────────── helpers ─────────────────────────────

/** `4 %` of something, as 0.04. */
function shareIn(node: syntax.Expression): number | undefined {
  if (node.type !== "quantity") return undefined;
  const { number, unit } = node.parts[0]!;
  return unit.text === "%" ? number.value / 100 : undefined;
}

function readPlain(node: syntax.NumberLiteral, measure: Measure): FigureReading {
  if (measure.units.length > 0 && measure.name !== "ratio") {
    return problem({ is: "unit/missing", text: node.text, measure }, node.span);
  }
  const decimals = node.form === "decimal";
  const rounding = decimals && !measure.whole ? roundingOf(node.text, "1") : 0;
  if (measure.whole && !Number.isInteger(node.value)) {
    return problem({ is: "value/not-whole", text: node.text }, node.span);
  }
  return figure(node.value, rounding, "");
}

/** The sign is the number's: −10 degC is 263.15 K. */
function readWithUnits(
  node: syntax.QuantityLiteral,
  measure: Measure,
  sign: 1 | -1 = 1,
): FigureReading {
  let total = 0;
  let rounding = 0;
  let shown = "";
  let currency: string | undefined;
  for (const { number, unit } of node.parts) {
    const read = readUnit(unit.text, measure);
    if (read === undefined) return unknownUnit(unit, measure);
    if (!unitFits(read, measure)) return wrongUnit(node, unit, measure, read.dimension);
    total += sign * number.value * read.factor + read.offset;
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
  return problem({ is: "unit/unknown", unit: unit.text, measure, near }, unit.span);
}

function wrongUnit(
  node: syntax.QuantityLiteral,
  unit: syntax.UnitReference,
  measure: Measure,
  dimension: Dimension,
): FigureReading {
  if (measure.units.length === 0)
    return problem({ is: "unit/wrong plain", unit: unit.text, dimension }, node.span);
  const meant = confusion(unit.text, measure);
  const near = meant === undefined ? measure.units.slice(0, 2) : [meant];
  const told = { unit: unit.text, at: unit.span, measure, dimension, meant, near };
  return problem({ is: "unit/wrong", ...told }, node.span);
}

function readTolerance(node: syntax.ToleranceExpression, measure: Measure): FigureReading {
  const nominal = readFigure(node.nominal, measure);
  if (nominal.is !== "figure") return nominal;
  const by = readSpan(node.by, measure, nominal.figure);
  // A tolerance is most likely meant in the unit its figure has.
  if (by.is === "problem")
    return { is: "problem", problem: { ...by.problem, like: nominal.figure.unit } };
  if (by.is !== "figure") return by;
  // A share of a figure below zero is one to either side all the same.
  if (by.figure.value < 0 && by.figure.unit !== "%")
    return problem({ is: "value/limits negative" }, node.by.span);
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

/** A tolerance may leave its unit out only where the nominal is a plain number, or be a share of it. */
function readSpan(
  node: syntax.Expression,
  measure: Measure,
  nominal: LiteralFigure,
): FigureReading {
  const share = shareIn(node);
  if (share !== undefined && measure.name !== "ratio") return figure(share * nominal.value, 0, "%");
  return readFigure(node, differenceOf(measure));
}

function readLimits(node: syntax.LimitsExpression, measure: Measure): FigureReading {
  const low = readFigure(node.low, measure);
  if (low.is !== "figure") return low;
  const high = readFigure(node.high, measure);
  if (high.is !== "figure") return high;
  const nominal = node.nominal === undefined ? undefined : readFigure(node.nominal, measure);
  if (nominal !== undefined && nominal.is !== "figure") return nominal;
  const value = nominal?.figure.value ?? (low.figure.value + high.figure.value) / 2;
  if (low.figure.value > high.figure.value) {
    return problem({ is: "value/limits order" }, node.span);
  }
  if (value < low.figure.value || value > high.figure.value) {
    return problem({ is: "value/limits outside" }, node.span);
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
  const found = { written: node.text };
  return problem({ is: "value/not-a-number", measure, found }, node.span);
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

function problem(fact: Fact, span: syntax.Span): FigureReading {
  return { is: "problem", problem: { ...fact, span } };
}

function wordFor(node: syntax.Expression): "a text" | "yes or no" | "a date" | "a word" {
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
