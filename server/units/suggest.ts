/**
 * What a builder meant by a unit that is unknown, or known but of the wrong kind.
 *
 *     suggestUnits("inches")                     // ["in"]
 *     confusion("lb", measureNamed("torque"))    // "lb-ft"
 *
 * Must not know: numbers before the unit, fields, anything of the trade.
 */
import { distance } from "fastest-levenshtein";
import { currencies } from "./currency";
import type { Measure } from "./measure";
import { symbolOf } from "./spelling";
import { readUnit, unitFits, unitSymbols } from "./unit";

const mostSuggested = 3;

/**
 * Known spellings near an unknown one, nearest first, at most three; where `measure` is given, those
 * that fit it only. Empty where nothing is near. A text that is already a fitting unit gives itself.
 */
export function suggestUnits(text: string, measure?: Measure): readonly string[] {
  const typed = text.trim();
  if (typed === "" || typed.length > longestTyped) return [];
  const candidates = measure === undefined ? unitSymbols : symbolsFor(measure);
  const fits = (symbol: string): boolean => {
    const unit = readUnit(symbol, measure);
    return unit !== undefined && (measure === undefined || unitFits(unit, measure));
  };
  const meant = wordsFor(typed);
  const ranked = candidates
    .map((symbol) => ({ symbol, distance: distanceOf(typed, symbol) }))
    .filter(({ distance, symbol }) => distance <= allowedDistance(typed, symbol))
    .sort((one, other) => one.distance - other.distance)
    .map(({ symbol }) => symbol);
  const symbol = symbolOf(typed) ?? typed;
  const exact = fits(symbol) ? [symbol] : [];
  // Whose word is known means no unit that only looks like it.
  const known = [...new Set([...exact, ...meant.filter(fits)])];
  return (known.length > 0 ? known : ranked).slice(0, mostSuggested);
}

/**
 * For a known unit of the wrong kind: the fitting unit it was probably meant as, one that contains it
 * (`lb` for a torque: `lb-ft`; `in` for an area: `in^2`) or is spoken of with its name (`lb` for a
 * pressure: `psi`). Undefined where none comes to mind, and where the unit does fit.
 */
export function confusion(text: string, wanted: Measure): string | undefined {
  const typed = text.trim();
  const unit = readUnit(typed, wanted);
  if (unit === undefined || unitFits(unit, wanted)) return undefined;
  const pieces = new Set(
    piecesOf(typed).flatMap((piece) => [piece, ...(sameName.get(piece) ?? [])]),
  );
  return wanted.units.find((symbol) =>
    [...piecesOf(symbol), ...(spokenOf.get(symbol) ?? [])].some((piece) => pieces.has(piece)),
  );
}

// ───────────────────────────── helpers ─────────────────────────────

const longestTyped = 24;

/** Words and slips for which a spelling distance is of no use; keys are lower case, bare of marks. */
const aliases: ReadonlyMap<string, readonly string[]> = new Map(
  Object.entries({
    in: 'inch inches ins " ” ″ in.',
    ft: "foot feet ' ’ ′",
    yd: "yard yards",
    mi: "mile miles",
    thou: "thousandth thousandths tho",
    um: "micron microns micrometer micrometre",
    mm: "millimeter millimetre millimeters millimetres mil",
    cm: "centimeter centimetre centimeters centimetres",
    m: "meter metre meters metres",
    km: "kilometer kilometre kilometers kilometres",
    deg: "degree degrees",
    rad: "radian radians",
    lb: "pound pounds lbs lbm #",
    oz: "ounce ounces",
    kg: "kilo kilos kilogram kilograms kgs",
    g: "gram grams gr",
    t: "tonne tonnes",
    lbf: "lbs pound pounds poundforce",
    N: "newton newtons",
    "lb-ft":
      "lbft ftlb ftlbs lbsft footpound footpounds poundfoot poundfeet ftpound ftpounds lbfft ftlbf",
    "in-lb": "inlb inlbs lbin lbsin inchpound inchpounds lbfin inlbf",
    "kgf-m": "kgm kgfm kilogrammeter kilogrammetre",
    "N-m": "nm newtonmeter newtonmetre newtonmeters newtonmetres",
    psi: "lbs lb/in2 lb/sqin poundspersquareinch",
    MPa: "mpa megapascal",
    kPa: "kpa kilopascal",
    mph: "mileperhour milesperhour mi/h mi/hr",
    "km/h": "kmh kmph kph kilometersperhour km/hr",
    rpm: "revs r/min rev/min",
    "%": "percent pct",
    hp: "bhp horsepower horse",
    PS: "ps pferdestärke",
    kW: "kilowatt kilowatts",
    V: "volt volts",
    A: "amp amps ampere amperes",
    ohm: "ohms",
    min: "minute minutes mins",
    s: "sec secs second seconds",
    h: "hour hours hrs",
    day: "d",
    qt: "quart quarts qts",
    gal: "gallon gallons",
    pt: "pint pints",
    fl_oz: "floz fluidounce",
    L: "liter litre liters litres",
    cc: "ccm",
    degC: "c celsius centigrade",
    degF: "f fahrenheit",
    K: "kelvin",
    usd: "$ dollar dollars",
    eur: "€ euro euros",
    gbp: "£ quid",
    jpy: "¥ yen",
    tpi: "threadsperinch t/in",
    "in^2": "in2 sqin squareinch squareinches",
    "mm^2": "mm2 sqmm",
    "in^3": "in3 cuin ci cubicinch cubicinches",
    "lb/in": "lbs/in lbin lbsin lb/inch lbs/inch",
    "kJ/in": "kjin",
    "kJ/mm": "kjmm",
  }).reduce((map, [symbol, words]) => {
    for (const word of words.split(" ")) {
      const key = bare(word) === "" ? word : bare(word);
      map.set(key, [...(map.get(key) ?? []), symbol]);
    }
    return map;
  }, new Map<string, string[]>()),
);

/** Symbols spoken of with the same word. */
const sameName: ReadonlyMap<string, readonly string[]> = new Map([
  ["lb", ["lbf"]],
  ["lbf", ["lb"]],
  ["oz", ["ozf"]],
  ["kg", ["kgf"]],
  ["Nm", ["N", "m"]],
  ["rpm", ["rev"]],
]);

/** Symbols that hide what they are made of. */
const spokenOf: ReadonlyMap<string, readonly string[]> = new Map([
  ["psi", ["lb"]],
  ["ksi", ["lb"]],
  ["tpi", ["in"]],
  ["mph", ["mi"]],
]);

/** The symbols of a word, also of one with a letter wrong where it is long enough to tell. */
function wordsFor(typed: string): readonly string[] {
  const word = bare(typed);
  const known = aliases.get(word) ?? aliases.get(typed);
  if (known !== undefined) return known;
  if (word.length < 5) return [];
  for (const [alias, symbols] of aliases) {
    if (Math.abs(alias.length - word.length) <= 1 && editDistance(word, alias) === 1)
      return symbols;
  }
  return [];
}

/** Lower case, without the dots, blanks and joints that people put in or leave out. */
function bare(text: string): string {
  return text.toLowerCase().replace(/[\s.\-*·_]/g, "");
}

function piecesOf(symbol: string): string[] {
  return symbol.split(/[-*/·()^\d²³⁴]/).filter((piece) => piece !== "");
}

const symbolsByMeasure = new Map<Measure, readonly string[]>();

/** The measure's own units first, then every other symbol that fits. */
function symbolsFor(measure: Measure): readonly string[] {
  const before = symbolsByMeasure.get(measure);
  if (before !== undefined) return before;
  const fitting = [...measure.units, ...unitSymbols].filter((symbol) => {
    const unit = readUnit(symbol, measure);
    return unit !== undefined && unitFits(unit, measure);
  });
  const found = [...new Set(fitting)];
  symbolsByMeasure.set(measure, found);
  return found;
}

/** A slip of case or joint counts less than any other; currency codes are too many to guess among. */
function distanceOf(typed: string, symbol: string): number {
  if (typed === symbol) return 0;
  if (bare(typed) === bare(symbol)) return 0.5;
  if (currencies.has(symbol.toUpperCase())) return Number.POSITIVE_INFINITY;
  return editDistance(bare(typed), bare(symbol));
}

function allowedDistance(typed: string, symbol: string): number {
  const shorter = Math.min(typed.length, symbol.length);
  return shorter <= 1 ? 0.5 : shorter <= 4 ? 1 : 2;
}

/** Letters to insert, delete or replace; two neighbors swapped count as one slip. */
function editDistance(one: string, other: string): number {
  if (one.length === other.length) {
    const at = [...one].findIndex((letter, index) => letter !== other[index]);
    const swapped = `${one.slice(0, at)}${one.charAt(at + 1)}${one.charAt(at)}${one.slice(at + 2)}`;
    if (swapped === other) return 1;
  }
  return distance(one, other);
}
