/** Numbers, units and whole quantities as builders write them. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  combineParts,
  describeQuantityProblem,
  fromSi,
  isUnitSymbol,
  measures,
  readNumber,
  readQuantity,
  readUnit,
  roundingOf,
  toSi,
  unitFits,
  unitSymbols,
} from "../../server/units";
import { checkNear, measure, quantity, unit } from "./check";

describe("numbers", () => {
  test.each([
    ["54.349", 54.349, "decimal", 3, 1],
    [".5", 0.5, "decimal", 1, 1],
    [".375", 0.375, "decimal", 3, 1],
    ["2.", 2, "decimal", 0, 1],
    ["1e-3", 0.001, "decimal", 3, 1],
    ["29e6", 29e6, "decimal", -6, 1],
    ["61", 61, "whole", 0, 1],
    ["3/8", 0.375, "fraction", 0, 8],
    ["61 3/8", 61.375, "mixed", 0, 8],
    ["61-3/8", 61.375, "mixed", 0, 8],
    ["61 \t 3/8", 61.375, "mixed", 0, 8],
    ["-3/64", -0.046875, "fraction", 0, 64],
    ["-2 1/2", -2.5, "mixed", 0, 2],
    ["0", 0, "whole", 0, 1],
    ["-0", 0, "whole", 0, 1],
    ["−4.5", -4.5, "decimal", 1, 1],
    ["\t 24 ", 24, "whole", 0, 1],
    [`${"0".repeat(37)}2.5`, 2.5, "decimal", 1, 1],
  ] as const)("%s", (text, value, form, places, denominator) => {
    expect(readNumber(text)).toEqual({ value, form, places, denominator });
  });

  test.each([
    "",
    " ",
    "abc",
    "1/0",
    "3 1/0",
    "1e999",
    "1.2.3",
    "1/",
    "/2",
    "x 1/2",
    "1/2 x",
    "64 3",
    "--1",
    "0x10",
    "Infinity",
    "NaN",
    "9".repeat(41),
    "1,5",
  ])("%j is no number", (text) => {
    expect(readNumber(text)).toBeUndefined();
  });

  test.each([
    ["54.349", "in", 0.0005],
    ["2.500", "in", 0.0005],
    ["1e-3", "m", 0.0005],
    ["29e6", "psi", 0.5e6],
    ["61 3/8", "in", 1 / 64],
    ["3/64", "in", 1 / 128],
    ["24", "in", 1 / 64],
    ["5", "ft", 1 / 64 / 12],
    ["18", "mm", 0.5],
    ["3640", "lb", 0.5],
    ["5", "", 0],
    ["5", "1", 0],
    ["3/8", "", 0],
    ["0.15", "", 0.005],
    ["x", "in", 0],
  ])("%s %s may be off by %d", (text, symbol, expected) => {
    checkNear(roundingOf(text, symbol), expected, 1e-12);
  });

  test("never throws, and what it reads is finite", () => {
    const numberish = fc.string({
      unit: fc.constantFrom(..."0123456789./-+ eE−\t"),
      maxLength: 50,
    });
    fc.assert(
      fc.property(fc.oneof(fc.string(), numberish), (text) => {
        const read = readNumber(text);
        expect(read === undefined || Number.isFinite(read.value)).toBe(true);
        expect(roundingOf(text, "in")).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 2000 },
    );
  });

  test("mixed numbers are whole and fraction together", () => {
    const parts = fc.tuple(
      fc.nat(9999),
      fc.nat(999),
      fc.integer({ min: 1, max: 999 }),
      fc.constantFrom(" ", "-"),
    );
    fc.assert(
      fc.property(parts, ([whole, above, below, joint]) => {
        const read = readNumber(`${whole}${joint}${above}/${below}`);
        checkNear(read?.value ?? Number.NaN, whole + above / below, 1e-15);
      }),
    );
  });
});

describe("units", () => {
  test("symbols, alone and joined", () => {
    for (const symbol of [
      "in",
      "lb-ft",
      "ft-lb",
      "N-m",
      "%",
      "km/h",
      "kJ/in",
      "usd",
      "EUR",
      "deg",
      "rpm",
    ]) {
      expect(isUnitSymbol(symbol), symbol).toBe(true);
    }
    for (const symbol of [
      "",
      "inchs",
      "IN",
      "lb-foo",
      "left",
      "toString",
      "__proto__",
      "constructor",
    ]) {
      expect(isUnitSymbol(symbol), symbol).toBe(false);
      expect(readUnit(symbol), symbol).toBeUndefined();
    }
  });

  test("lb is a mass, and a force where one is wanted", () => {
    expect(unit("lb").measure).toBe("mass");
    expect(unit("lb").other?.measure).toBe("force");
    expect(unit("lb", measure("force")).measure).toBe("force");
    expect(unit("oz", measure("force")).measure).toBe("force");
    expect(unit("lb", measure("torque")).measure).toBe("mass");
    expect(unit("kg", measure("force")).measure).toBe("mass");
  });

  test("lb/in is a spring rate unless a mass per length is wanted", () => {
    checkNear(unit("lb/in").factor, 175.12683524647636, 1e-15);
    checkNear(unit("lb/in", measure("spring_rate")).factor, 175.12683524647636, 1e-15);
    // SP 811 B.8: 1 lb/in is 17.85797 kg/m.
    checkNear(unit("lb/in", measure("mass_per_length")).factor, 17.85797, 1e-6);
    checkNear(unit("lb/ft", measure("mass_per_length")).factor, 1.488164, 1e-6);
    expect(unit("lb/ft^3").dimension.key).toBe(measure("density").dimension.key);
    expect(unit("lb/in^2").dimension.key).toBe(measure("pressure").dimension.key);
    expect(unit("lb*ft").dimension.key).toBe(measure("torque").dimension.key);
  });

  test("a unit fits the measures it is used for", () => {
    const fits = (symbol: string, name: string): boolean =>
      unitFits(unit(symbol, measure(name)), measure(name));
    expect(fits("lb-ft", "torque")).toBe(true);
    expect(fits("J", "torque")).toBe(false);
    expect(fits("deg", "angle")).toBe(true);
    expect(fits("deg", "number")).toBe(false);
    expect(fits("%", "ratio")).toBe(true);
    expect(fits("%", "angle")).toBe(false);
    expect(fits("kJ/in", "heat_input")).toBe(true);
    expect(fits("kJ/in", "force")).toBe(false);
    expect(fits("rpm", "frequency")).toBe(false);
    expect(fits("USD", "money")).toBe(true);
  });

  test("a price keeps its currency", () => {
    expect(unit("usd").currency).toBe("USD");
    expect(unit("aud/kg").currency).toBe("AUD");
    expect(unit("in").currency).toBeUndefined();
  });

  test.each([
    "in^",
    "in^0",
    "in//mm",
    "/in",
    "in-",
    "-in",
    "(in",
    "in)",
    "((((((in))))))",
    "in mm",
    "*",
    "in^999",
    `${"in*".repeat(30)}in`,
  ])("%j is no unit", (text) => {
    expect(readUnit(text)).toBeUndefined();
  });

  test("reading never throws, and gives a usable factor", () => {
    const formula = fc.array(
      fc.constantFrom(
        "in",
        "lb",
        "N",
        "m",
        "%",
        "/",
        "*",
        "-",
        "^2",
        "^-9",
        "(",
        ")",
        "1/",
        "²",
        "usd",
        "degF",
      ),
      { maxLength: 16 },
    );
    const texts = fc.oneof(
      fc.string(),
      formula.map((pieces) => pieces.join("")),
    );
    fc.assert(
      fc.property(texts, fc.constantFrom(undefined, ...measures), (text, wanted) => {
        const read = readUnit(text, wanted);
        if (read === undefined) return;
        expect(read.factor > 0 && Number.isFinite(read.factor)).toBe(true);
        expect(text.trim() === "1" || read.symbol === text.trim()).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  test("conversion there and back", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...unitSymbols),
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        (symbol, value) => {
          const read = unit(symbol);
          const back = fromSi(toSi(value, read), read);
          // An offset takes digits from small values.
          expect(Math.abs(back - value)).toBeLessThanOrEqual(
            1e-12 * (Math.abs(value) + read.offset / read.factor) + 1e-300,
          );
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe("quantities", () => {
  test.each([
    ["5 ft 1 3/8 in", "length", 61.375 * 0.0254, 0.0254 / 64],
    ["5ft1in", "length", 61 * 0.0254, 0.0254 / 64],
    ["-5 ft 1 in", "length", -61 * 0.0254, 0.0254 / 64],
    ["24mm", "length", 0.024, 0.0005],
    ["54.349 in", "length", 54.349 * 0.0254, 0.0005 * 0.0254],
    ["61-3/8 in", "length", 61.375 * 0.0254, 0.0254 / 64],
    ["-3/64 in", "length", (-3 / 64) * 0.0254, 0.0254 / 128],
    ["50 %", "ratio", 0.5, 0.005],
    ["0.55", "ratio", 0.55, 0.005],
    ["5", "count", 5, 0],
    ["90 lb-ft", "torque", 90 * 1.3558179483314, 0.5 * 1.3558179483314],
    ["2 1/2 deg", "angle", (2.5 * Math.PI) / 180, Math.PI / 180 / 64],
    ["32 degF", "temperature", 273.15, 5 / 18],
    ["9 degF", "temperature_difference", 5, 5 / 18],
    ["3 lb 8 oz", "mass", 3.5 * 0.45359237, 0.5 * 0.028349523125],
    ["18 1/in", "per_length", 18 / 0.0254, 0.5 / 0.0254],
  ] as const)("%s", (text, name, si, rounding) => {
    const read = quantity(text, measure(name));
    checkNear(read.si, si, 1e-14, text);
    checkNear(read.rounding, rounding, 1e-12, text);
    expect(read.dimension.key).toBe(measure(name).dimension.key);
  });

  test.each([
    ["12", "length", "12 needs a unit of length, such as in, mm or ft"],
    [
      "5 lb",
      "torque",
      "expected a unit of torque such as lb-ft, N-m or in-lb, found lb (a mass), did you mean lb-ft?",
    ],
    [
      "300 J",
      "torque",
      "expected a unit of torque such as lb-ft, N-m or in-lb, found J (an energy)",
    ],
    ["20 deg", "number", "expected a plain number, found deg (an angle)"],
    ["5 inchs", "length", 'unknown unit "inchs", did you mean in?'],
    ["5 blorps", "length", 'unknown unit "blorps"'],
    ["4 in 5 ft", "length", "after in a smaller unit is expected, found ft"],
    ["5 ft 3 lb", undefined, "ft and lb do not measure the same thing: a length and a mass"],
    ["2.5", "count", "expected a whole number, found 2.5"],
    ["wide", "length", 'expected a number and a unit, found "wide"'],
    ["1/0 in", "length", 'expected a number and a unit, found "1/0"'],
    ["", "length", 'expected a number and a unit, found ""'],
  ] as const)("%s for %s: %s", (text, name, message) => {
    const read = readQuantity(text, name === undefined ? undefined : measure(name));
    if (!("problem" in read)) throw new Error(`${text} was read`);
    expect(describeQuantityProblem(read)).toBe(message);
  });

  test("a sign alone is no quantity, and seven parts are none", () => {
    const found = (text: string) => {
      const read = readQuantity(text, measure("length"));
      return "problem" in read ? describeQuantityProblem(read) : read.si;
    };
    expect(found("-")).toBe('expected a number and a unit, found "-"');
    const parts = ["1 mi", "1 yd", "1 ft", "1 in", "1 mm", "1 thou", "1 um"];
    expect(found(parts.join(" "))).toBe(`expected a number and a unit, found "${parts.join(" ")}"`);
    // 1 mi 1 yd 1 ft 1 in 1 mm 1 thou, by the international foot of 0.3048 m.
    const six = 1609.344 + 0.9144 + 0.3048 + 0.0254 + 0.001 + 0.0000254;
    expect(found(parts.slice(0, 6).join(" "))).toBeCloseTo(six, 9);
  });

  test("what is told of a text ends after 40 characters", () => {
    const told = (count: number) =>
      describeQuantityProblem({ problem: "not-a-quantity", text: "x".repeat(count) });
    expect(told(40)).toBe(`expected a number and a unit, found "${"x".repeat(40)}"`);
    expect(told(41)).toBe(`expected a number and a unit, found "${"x".repeat(37)}…"`);
  });

  test("temperatures have no parts", () => {
    for (const text of ["20 degC 1 degF", "20 K 1 degF", "20 degC 1 K"]) {
      const read = readQuantity(text, measure("temperature"));
      expect("problem" in read && read.problem, text).toBe("parts-not-smaller");
    }
  });

  test("parts already taken apart", () => {
    const parts = [
      { number: "5", unit: "ft" },
      { number: "1-3/8", unit: "in" },
    ];
    const read = combineParts(parts, measure("length"), true);
    checkNear("si" in read ? read.si : Number.NaN, -61.375 * 0.0254, 1e-14);
    expect("problem" in combineParts([], measure("length"))).toBe(true);
  });

  test("never throws", () => {
    const pieces = fc.array(
      fc.constantFrom(
        "5",
        "ft",
        " ",
        "3/8",
        "-",
        "in",
        "1e9",
        "%",
        "lb-ft",
        "/",
        "^",
        "±",
        "(",
        "°",
        "e",
      ),
      { maxLength: 20 },
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          pieces.map((each) => each.join("")),
        ),
        fc.constantFrom(undefined, ...measures),
        (text, wanted) => {
          const read = readQuantity(text, wanted);
          if ("problem" in read) expect(describeQuantityProblem(read).length).toBeGreaterThan(5);
          else expect(Number.isFinite(read.si)).toBe(true);
        },
      ),
      { numRuns: 3000 },
    );
  });
});

describe("spelled-out units, where one reading is possible", () => {
  test.each([
    ["21 lbs", "mass", 21 * 0.45359237],
    ["300 lbs", "force", 300 * 4.4482216152605],
    ["200 amps", "current", 200],
    ["21.5 volts", "voltage", 21.5],
    ["40 ft-lbs", "torque", 40 * 1.3558179483314],
    ["3 inches", "length", 0.0762],
    ["200 deg F", "temperature", (200 + 459.67) / 1.8],
    ["200 deg  F", "temperature", (200 + 459.67) / 1.8],
    ["12 fl oz", "volume", (12 * 3.785411784e-3) / 128],
    ["12 fl \t oz", "volume", (12 * 3.785411784e-3) / 128],
    ["2 sq in", "area", 2 * 6.4516e-4],
  ])("%s", (text, name, si) => {
    const read = readQuantity(text, measure(name));
    if (!("si" in read)) expect.fail(`${text} is not read`);
    checkNear(read.si, si, 1e-12, text);
  });
});
