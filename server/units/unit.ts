/**
 * Reading units as builders write them: one symbol (`in`, `lb-ft`) or a formula of symbols
 * (`kg/m^3`, `N*m`, `J/(kg*K)`).
 *
 *     readUnit("lb-ft")?.factor           // 1.3558179483314004
 *     readUnit("lb", forceDimension)      // a pound-force
 *     readUnit("lb")                      // a pound of mass, `other` is the pound-force
 *
 * `lb` and `oz` are masses, and forces where a force is wanted: `readUnit` takes the reading whose
 * dimension is the wanted one. Where nothing is wanted, one alone is a mass; with a length beside
 * it (`lb-ft`, `lb/in`, `lb/in^2`) it is a force, as the trade reads torque, spring rate and
 * pressure; anything else (`lb/ft^3`, `lb/gal`) is a mass. A kilogram is never a force.
 *
 * Must not know: numbers before a unit, fields, anything of the trade.
 */
import {
  type Dimension,
  dimension,
  dimensionless,
  divide,
  multiply,
  power,
  sameDimension,
} from "./dimension";
import type { Measure } from "./measure";
import { symbolOf } from "./spelling";
import { type UnitEntry, unitTable } from "./unit-table";

export interface Unit {
  /** As written, without surrounding blanks. */
  readonly symbol: string;
  /** si = value * factor + offset. */
  readonly factor: number;
  readonly offset: number;
  readonly dimension: Dimension;
  /** The measures it is used for, most natural first; empty for a formula, which may serve any. */
  readonly measures: readonly string[];
  /** The first of `measures`. */
  readonly measure?: string;
  /** ISO 4217 code, upper case, where an amount of money is in it. */
  readonly currency?: string;
  /** The other reading of `lb` and `oz`: the force where this is the mass, and the reverse. */
  readonly other?: Unit;
}

/**
 * True for one known symbol, joined ones such as `lb-ft` and `km/h` included, and for the other
 * spellings of one (`lbs`, `amps`).
 */
export function isUnitSymbol(text: string): boolean {
  return unitTable.has(text) || symbolOf(text) !== undefined;
}

/** Every known symbol. */
export const unitSymbols: readonly string[] = [...unitTable.keys()];

/**
 * The unit a text names, `undefined` where it names none. `wanted` settles `lb` and `oz`; as a
 * measure it also says whether degrees are a temperature or a difference of two.
 */
export function readUnit(text: string, wanted?: Dimension | Measure): Unit | undefined {
  if (text.length > longestUnit) return undefined;
  const measure = wanted !== undefined && "units" in wanted ? wanted : undefined;
  const wantedDimension = wanted === undefined || "key" in wanted ? wanted : wanted.dimension;
  const difference = measure?.name === "temperature_difference";
  const cacheKey = `${text}\n${wantedDimension?.key ?? "any"}\n${difference}`;
  const before = cache.get(cacheKey);
  if (before !== undefined) return before.unit;
  const typed = text.trim();
  const meant = compile(symbolOf(typed) ?? typed, wantedDimension, difference);
  const unit = meant === undefined ? undefined : { ...meant, symbol: typed };
  if (cache.size >= mostCached) cache.clear();
  cache.set(cacheKey, { unit });
  return unit;
}

/**
 * True where a value in `unit` can stand in a field of `measure`: the dimensions agree and the
 * unit does not belong to other measures alone (joules are no torque, degrees no plain number).
 */
export function unitFits(unit: Unit, measure: Measure): boolean {
  if (!sameDimension(unit.dimension, measure.dimension)) return false;
  return unit.measures.length === 0 || unit.measures.includes(measure.name);
}

/** A value in `unit` as coherent SI. */
export function toSi(value: number, unit: Unit): number {
  // Dividing by 1000 is right to the last bit where multiplying by 0.001 is not.
  const inverse = 1 / unit.factor;
  const scaled = Number.isInteger(inverse) ? value / inverse : value * unit.factor;
  return scaled + unit.offset;
}

/** A value in coherent SI counted in `unit`. */
export function fromSi(si: number, unit: Unit): number {
  return (si - unit.offset) / unit.factor;
}

/** The plain number as a unit: symbol "", factor 1. */
export const plainUnit: Unit = {
  symbol: "",
  factor: 1,
  offset: 0,
  dimension: dimensionless,
  measures: ["number", "ratio", "count"],
  measure: "number",
};

// ───────────────────────────── helpers ─────────────────────────────

const longestUnit = 64;
const mostCached = 2048;
const cache = new Map<string, { readonly unit: Unit | undefined }>();
const forceDimension = dimension({ mass: 1, length: 1, time: -2 });

/** What a formula amounts to under one reading of `lb` and `oz`. */
interface Product {
  readonly factor: number;
  readonly dimension: Dimension;
  readonly currency?: string;
}

type Formula = readonly { readonly entry: UnitEntry; readonly exponent: number }[];

function compile(
  text: string,
  wanted: Dimension | undefined,
  difference: boolean,
): Unit | undefined {
  if (text === "1") return plainUnit;
  const entry = unitTable.get(text);
  if (entry !== undefined && entry.forceFactor === undefined) {
    return withFirstMeasure({
      symbol: text,
      factor: entry.factor,
      offset: difference ? 0 : entry.offset,
      dimension: entry.dimension,
      measures: entry.measures,
      currency: entry.currency,
    });
  }
  const formula = readFormula(text);
  if (formula === undefined) return undefined;
  const asMass = reading(text, formula, false);
  if (asMass === undefined || !formula.some((each) => each.entry.forceFactor !== undefined)) {
    return asMass;
  }
  const asForce = reading(text, formula, true);
  if (asForce === undefined) return asMass;
  return prefersForce(asMass, asForce, formula, wanted)
    ? { ...asForce, other: asMass }
    : { ...asMass, other: asForce };
}

function prefersForce(
  asMass: Unit,
  asForce: Unit,
  formula: Formula,
  wanted: Dimension | undefined,
): boolean {
  if (wanted !== undefined) {
    if (sameDimension(asForce.dimension, wanted)) return true;
    if (sameDimension(asMass.dimension, wanted)) return false;
  }
  const rest = formula.filter((each) => each.entry.forceFactor === undefined);
  const around = product(rest, false)?.dimension.key;
  return (
    around === "length" ||
    around === "length^-1" ||
    around === "length^-2" ||
    around === "length time^-1"
  );
}

function reading(symbol: string, formula: Formula, asForce: boolean): Unit | undefined {
  const made = product(formula, asForce);
  if (made === undefined) return undefined;
  const alone = formula.length === 1 && formula[0]!.exponent === 1 ? formula[0]!.entry : undefined;
  const measures = alone === undefined ? [] : asForce ? ["force"] : alone.measures;
  return withFirstMeasure({ symbol, offset: 0, measures, ...made });
}

function product(formula: Formula, asForce: boolean): Product | undefined {
  let factor = 1;
  let dimensionSoFar = dimensionless;
  let currency: string | undefined;
  for (const { entry, exponent } of formula) {
    const force = asForce && entry.forceFactor !== undefined;
    const one = force ? forceDimension : entry.dimension;
    const size = force ? entry.forceFactor! : entry.factor;
    const raised = power(one, Math.abs(exponent));
    if (raised === undefined) return undefined;
    const scaled = size ** Math.abs(exponent);
    factor = exponent < 0 ? factor / scaled : factor * scaled;
    dimensionSoFar =
      exponent < 0 ? divide(dimensionSoFar, raised) : multiply(dimensionSoFar, raised);
    currency ??= entry.currency;
  }
  if (!Number.isFinite(factor) || factor <= 0) return undefined;
  return { factor, dimension: dimensionSoFar, currency };
}

function withFirstMeasure(unit: Unit): Unit {
  return { ...unit, measure: unit.measures[0] };
}

const symbolPattern = /[A-Za-z_%°µμΩ]+/y;
const powerPattern = /\^(-?\d{1,2})|\^\((-?\d{1,2})\)|([²³⁴])/y;
const superscripts: Readonly<Record<string, number>> = { "²": 2, "³": 3, "⁴": 4 };
const mostSymbols = 12;
const deepestNesting = 4;

/** Symbols with powers; `/` divides by the one symbol or bracket after it. */
function readFormula(text: string): Formula | undefined {
  const found: { entry: UnitEntry; exponent: number }[] = [];
  let at = 0;

  const readProduct = (sign: number, depth: number): boolean => {
    if (depth > deepestNesting) return false;
    let direction = sign;
    if (text.startsWith("1/", at)) {
      at += 2;
      direction = -sign;
    }
    for (;;) {
      if (!readFactor(direction, depth)) return false;
      const joint = text[at];
      if (joint === "/") direction = -sign;
      else if (joint === "*" || joint === "-" || joint === "·") direction = sign;
      else return true;
      at += 1;
    }
  };

  const readFactor = (sign: number, depth: number): boolean => {
    if (text[at] === "(") {
      at += 1;
      if (!readProduct(sign, depth + 1) || text[at] !== ")") return false;
      at += 1;
      return true;
    }
    symbolPattern.lastIndex = at;
    const symbol = symbolPattern.exec(text)?.[0] ?? "";
    const entry = unitTable.get(symbolOf(symbol) ?? symbol);
    if (entry === undefined || found.length >= mostSymbols) return false;
    at += symbol.length;
    powerPattern.lastIndex = at;
    const raised = powerPattern.exec(text);
    const exponent =
      raised === null ? 1 : Number(raised[1] ?? raised[2] ?? superscripts[raised[3]!]);
    if (raised !== null) at += raised[0].length;
    found.push({ entry, exponent: sign * exponent });
    return exponent !== 0;
  };

  return readProduct(1, 0) && at === text.length ? found : undefined;
}
