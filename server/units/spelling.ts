/**
 * Other spellings of units, where a builder can mean one thing only: spelled out, in the plural, in
 * two words.
 *
 *     symbolOf("amps")     // "A"
 *     symbolOf("deg F")    // "degF"
 *     symbolOf("ft-lbs")   // "lb-ft"
 *
 * What such a word measures is settled by its symbol: `lbs` is a mass or a force as `lb` is.
 *
 * Must not know: numbers before a unit, fields, anything of the trade.
 */

/** The known symbol behind a spelling; `undefined` for what is no such spelling. */
export function symbolOf(text: string): string | undefined {
  return symbols.get(text.replace(/[ \t_]+/g, "_"));
}

/** Two words that are one unit. */
export const unitOfTwoWords = /(?:deg[ \t]+[FC]|fl[ \t]+oz|(?:sq|cu)[ \t]+(?:in|ft))(?![\w°%])/y;

/** By symbol; a blank between two words stands as `_`. */
const spellings = {
  in: "inch inches",
  ft: "foot feet",
  yd: "yard yards",
  mi: "mile miles",
  mm: "millimeter millimeters millimetre millimetres",
  cm: "centimeter centimeters centimetre centimetres",
  m: "meter meters metre metres",
  km: "kilometer kilometers kilometre kilometres",
  lb: "lbs pound pounds",
  oz: "ounce ounces",
  kg: "kilogram kilograms",
  g: "gram grams",
  t: "tonne tonnes",
  N: "newton newtons",
  "lb-ft": "ft-lbs ftlb ftlbs lbs-ft lbft",
  "in-lb": "in-lbs inlb inlbs lbs-in",
  deg: "degree degrees",
  degF: "deg_F",
  degC: "deg_C",
  rpm: "RPM",
  mph: "MPH",
  psi: "PSI",
  hp: "HP horsepower",
  V: "volt volts",
  A: "amp amps ampere amperes",
  ohm: "ohms",
  s: "sec secs second seconds",
  min: "mins minute minutes",
  h: "hrs hour hours",
  qt: "quart quarts",
  gal: "gallon gallons",
  pt: "pint pints",
  L: "liter liters litre litres",
  sqin: "sq_in",
  sqft: "sq_ft",
  cuin: "cu_in",
  cuft: "cu_ft",
};

const symbols: ReadonlyMap<string, string> = new Map([
  // A symbol of its own that may be written with a blank.
  ["fl_oz", "fl_oz"],
  ...Object.entries(spellings).flatMap(([symbol, words]) =>
    words.split(" ").map((word) => [word, symbol] as const),
  ),
]);

/** Every spelling that is one word, for the colors of an editor. */
export const spelledUnits: readonly string[] = [...symbols.keys()].filter(
  (word) => !word.includes("_"),
);
