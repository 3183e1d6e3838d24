/** Every factor against published values and against an independent general-purpose library. */
import { all, create } from "mathjs";
import { describe, expect, test } from "vitest";
import {
  describeDimension,
  fromSi,
  measures,
  readUnit,
  toSi,
  unitFits,
  unitSymbols,
} from "../../server/units";
import { checkNear, measure, unit } from "./check";

const mathjs = create(all ?? {}, {});

describe("against published values", () => {
  // NIST SP 811 (2008), appendix B.8: the factors set bold there are exact, the others are printed
  // to seven significant digits.
  test.each([
    ["in", 2.54e-2],
    ["ft", 3.048e-1],
    ["yd", 9.144e-1],
    ["mi", 1.609344e3],
    ["thou", 2.54e-5],
    ["mil", 2.54e-5],
    ["in^2", 6.4516e-4],
    ["ft^2", 9.290304e-2],
    ["in^3", 1.6387064e-5],
    ["lb", 4.5359237e-1],
    ["kgf", 9.80665],
    ["bar", 1e5],
    ["atm", 1.01325e5],
    ["L", 1e-3],
    ["mph", 4.4704e-1],
    ["ft/s", 3.048e-1],
    ["h", 3600],
    ["day", 86400],
    ["kWh", 3.6e6],
  ])("%s is exactly %d", (symbol, expected) => {
    checkNear(unit(symbol).factor, expected, 1e-15, symbol);
  });

  test.each([
    ["oz", 2.834952e-2],
    ["lbf", 4.448222],
    ["ozf", 2.780139e-1],
    ["kip", 4.448222e3],
    ["lb-ft", 1.355818],
    ["lb-in", 1.129848e-1],
    ["oz-in", 7.061552e-3],
    ["psi", 6.894757e3],
    ["ksi", 6.894757e6],
    ["gal", 3.785412e-3],
    ["qt", 9.463529e-4],
    ["pt", 4.731765e-4],
    ["fl_oz", 2.957353e-5],
    ["imp_gal", 4.54609e-3],
    ["cuft", 2.831685e-2],
    ["hp", 7.456999e2],
    ["PS", 7.354988e2],
    ["Btu", 1.055056e3],
    ["slug", 1.45939e1],
    ["deg", 1.745329e-2],
    ["arcmin", 2.908882e-4],
    ["arcsec", 4.848137e-6],
    ["rpm", 1.047198e-1],
    ["lb/ft^3", 1.601846e1],
    ["lb/in^3", 2.76799e4],
    ["lb/gal", 1.198264e2],
    ["lb/in", 1.751268e2],
    ["lbf/ft", 1.45939e1],
    ["gal/min", 6.30902e-5],
  ])("%s is %d to seven digits", (symbol, expected) => {
    checkNear(unit(symbol).factor, expected, 5.1e-7, symbol);
  });

  test("units that SP 811 leaves to their definitions", () => {
    // Derived from the exact definitions by exact arithmetic.
    checkNear(unit("lbf").factor, 4.4482216152605, 1e-15);
    checkNear(unit("lb-in").factor, 0.1129848290276167, 1e-15);
    checkNear(unit("lb-ft").factor, 1.3558179483314, 1e-15);
    checkNear(unit("psi").factor, 6894.757293168361, 1e-15);
    checkNear(unit("hp").factor, 745.6998715822702, 1e-15);
    checkNear(unit("PS").factor, 735.49875, 1e-15);
    checkNear(unit("rpm").factor, 0.10471975511965977, 1e-15);
  });

  test("worked conversions", () => {
    // SP 811 factors, five to ten digits as printed.
    checkNear(toSi(100, unit("lb-ft")), 135.58179483, 1e-10);
    checkNear(toSi(2500, unit("psi")), 17.23689323e6, 1e-9);
    checkNear(fromSi(toSi(14.696, unit("psi")), unit("bar")), 1.01325, 1e-5);
    checkNear(fromSi(toSi(65, unit("mph")), unit("km/h")), 104.60736, 1e-12);
    checkNear(fromSi(toSi(-40, unit("degF")), unit("degC")), -40, 1e-12);
    checkNear(fromSi(toSi(212, unit("degF")), unit("degC")), 100, 1e-12);
    checkNear(toSi(0, unit("degC")), 273.15, 1e-15);
    // SP 811 4.2.1.1: an interval of 1 degF is 5/9 K; the offset must not enter.
    checkNear(toSi(9, unit("degF", measure("temperature_difference"))), 5, 1e-15);
  });
});

describe("against mathjs", () => {
  /** How the other library spells a symbol of ours; its psi, hp and kip are rounded, so in parts. */
  const spelled: Readonly<Record<string, string>> = {
    thou: "mil",
    um: "micrometer",
    µm: "micrometer",
    μm: "micrometer",
    L: "liter",
    l: "liter",
    mL: "milliliter",
    ml: "milliliter",
    cL: "centiliter",
    dL: "deciliter",
    cc: "cm^3",
    sqin: "in^2",
    sqft: "ft^2",
    cuin: "in^3",
    cuft: "ft^3",
    gal: "gallon",
    qt: "quart",
    pt: "pint",
    fl_oz: "floz",
    lb: "lbm",
    t: "tonne",
    slug: "lbf s^2/ft",
    min: "minute",
    h: "hour",
    hr: "hour",
    days: "day",
    daN: "decanewton",
    ozf: "lbf/16",
    kip: "1000 lbf",
    kgf: "kg * 9.80665 m/s^2",
    "lb-ft": "lbf ft",
    "ft-lb": "lbf ft",
    "lbf-ft": "lbf ft",
    "ft-lbf": "lbf ft",
    "lb-in": "lbf in",
    "in-lb": "lbf in",
    "lbf-in": "lbf in",
    "in-lbf": "lbf in",
    "oz-in": "lbf in/16",
    "in-oz": "lbf in/16",
    "N-m": "N m",
    Nm: "N m",
    "N-mm": "N mm",
    Nmm: "N mm",
    "N-cm": "N cm",
    Ncm: "N cm",
    "kN-m": "kN m",
    kNm: "kN m",
    Wh: "W hour",
    kWh: "kW hour",
    Btu: "BTU",
    psi: "lbf/in^2",
    ksi: "1000 lbf/in^2",
    Mpsi: "1e6 lbf/in^2",
    mbar: "millibar",
    "°": "deg",
    Ω: "ohm",
    mohm: "milliohm",
    kohm: "kiloohm",
    Ah: "A hour",
    mph: "mi/hour",
    kph: "km/hour",
    "km/h": "km/hour",
    "m/min": "m/minute",
    "ft/min": "ft/minute",
    "in/min": "in/minute",
    ipm: "in/minute",
    "mm/min": "mm/minute",
    "cm/min": "cm/minute",
    rpm: "360 deg/minute",
    "rev/min": "360 deg/minute",
    "rev/s": "360 deg/s",
    "rad/min": "rad/minute",
    "deg/min": "deg/minute",
    rev: "360 deg",
    cpm: "1/minute",
    hp: "550 lbf ft/s",
    tpi: "1/in",
    "rev/mi": "1/mi",
    "rev/km": "1/km",
    "rev/m": "1/m",
    PS: "75 kg * 9.80665 m/s^2 * m/s",
    "kgf-m": "kg * 9.80665 m/s^2 * m",
    "kgf-cm": "kg * 9.80665 m/s^2 * cm",
    imp_gal: "4.54609 liter",
    imp_qt: "4.54609/4 liter",
    imp_pt: "4.54609/8 liter",
    A: "ampere",
    mA: "milliampere",
    V: "volt",
    mV: "millivolt",
    kV: "kilovolt",
    "%": "0.01",
    dm: "decimeter",
    W: "watt",
    kW: "kilowatt",
    K: "kelvin",
  };
  const elsewhere = new Set(["degC", "°C", "degF", "°F"]);
  const checked = unitSymbols.filter(
    (symbol) => readUnit(symbol)?.currency === undefined && !elsewhere.has(symbol),
  );

  test.each(checked)("%s", (symbol) => {
    const ours = unit(symbol);
    checkNear(ours.factor, theirs(spelled[symbol] ?? symbol), 1e-12, symbol);
  });

  test("degrees", () => {
    for (const [symbol, name] of [
      ["degC", "degC"],
      ["degF", "degF"],
    ] as const) {
      for (const value of [-40, 0, 32, 70, 212, 1000]) {
        checkNear(toSi(value, unit(symbol)), mathjs.unit(value, name).toNumber("K"), 1e-12, symbol);
      }
    }
  });

  test.each([
    ["kg/m^3", "kg/m^3"],
    ["lb/ft^3", "lbm/ft^3"],
    ["N*m", "N m"],
    ["J/(kg*K)", "J/(kg K)"],
    ["J/kg/K", "J/kg/K"],
    ["in^4", "in^4"],
    ["lb-ft/deg", "lbf ft/deg"],
    ["gal/min", "gallon/minute"],
    ["lb*ft^2", "lbm ft^2"],
    ["m/s^2", "m/s^2"],
    ["mm²", "mm^2"],
    ["N/mm", "N/mm"],
    ["lbf/in", "lbf/in"],
    ["W/(m*K)", "W/(m K)"],
    ["s^-1", "1/s"],
    ["1/in", "1/in"],
    ["lb/in^2", "lbf/in^2"],
    ["Btu/lb/degF", "BTU/lbm/(5/9 K)"],
  ])("the formula %s", (ours, formula) => {
    checkNear(unit(ours).factor, theirs(formula), 1e-12, ours);
  });

  /** The value of one such unit in coherent SI, by the other library. `in` is an operator there. */
  function theirs(formula: string): number {
    const found: unknown = mathjs.evaluate(`1 * (${formula.replace(/\bin\b/g, "inch")})`);
    if (typeof found === "number") return found;
    if (!mathjs.isUnit(found)) throw new Error(`${formula} is no unit there`);
    const text = mathjs.format(found.toSI(), { precision: 16 });
    expect(text, formula).not.toMatch(/\bg\b/);
    return Number.parseFloat(text);
  }
});

describe("the tables hold together", () => {
  test.each(measures.map((each) => [each.name, each] as const))("%s", (_, each) => {
    for (const symbol of [...each.units, each.inch.unit, each.metric.unit]) {
      if (symbol === "") continue;
      expect(unitFits(unit(symbol, each), each), `${symbol} for ${each.name}`).toBe(true);
    }
    expect(each.scale).toBeGreaterThan(0);
    if (!each.name.startsWith("money")) {
      const si = unit(each.si, each);
      checkNear(si.factor, 1, 1e-15, each.si);
      expect(si.dimension.key).toBe(each.dimension.key);
    }
  });

  test("symbols are listed once and every one reads", () => {
    expect(new Set(unitSymbols).size).toBe(unitSymbols.length);
    for (const symbol of unitSymbols) {
      const read = unit(symbol);
      expect(read.factor).toBeGreaterThan(0);
      expect(read.measures.length).toBeGreaterThan(0);
      for (const name of read.measures) {
        expect(measure(name).dimension.key, `${symbol} as ${name}`).toBe(read.dimension.key);
      }
    }
  });

  test("dimensions in words", () => {
    const words = (symbol: string): string => describeDimension(unit(symbol).dimension);
    expect(words("mm")).toBe("a length");
    expect(words("in^2")).toBe("an area");
    expect(words("lb-ft")).toBe("a force × length");
    expect(words("psi")).toBe("a pressure");
    expect(words("kg/m")).toBe("a mass / length");
    expect(words("in^4")).toBe("a length^4");
    expect(words("%")).toBe("a plain number");
    expect(words("1/in")).toBe("a 1 / length");
    expect(words("usd")).toBe("an amount of money");
  });
});
