/** Units put together from symbols: factors and dimensions by hand from those of the symbols. */
import { describe, expect, test } from "vitest";
import { dimension, isUnitSymbol, readUnit, unitFits } from "../../server/units";
import { checkNear, measure, unit } from "./check";

// Exact: the international inch and foot, the avoirdupois pound, standard gravity.
const inch = 0.0254;
const foot = 0.3048;
const pound = 0.45359237;
const gravity = 9.80665;

describe("products, quotients and powers", () => {
  test.each([
    ["kg*m^2/s^2", 1, { mass: 1, length: 2, time: -2 }],
    ["N·m", 1, { mass: 1, length: 2, time: -2 }],
    ["J/(kg*K)", 1, { length: 2, time: -2, temperature: -1 }],
    ["J/kg/K", 1, { length: 2, time: -2, temperature: -1 }],
    // What stands after the slash is below it only up to the next sign.
    ["J/kg*K", 1, { length: 2, time: -2, temperature: 1 }],
    ["1/in", 1 / inch, { length: -1 }],
    ["1/(in*ft)", 1 / (inch * foot), { length: -2 }],
    ["1/(in/ft)", foot / inch, {}],
    ["m/(ft/in)", inch / foot, { length: 1 }],
    ["m/(ft/(in/mm))", inch / foot / 0.001, {}],
    ["1/1/in", undefined, {}],
    ["in^2", inch ** 2, { length: 2 }],
    ["in²", inch ** 2, { length: 2 }],
    ["mm³", 1e-9, { length: 3 }],
    ["mm⁴", 1e-12, { length: 4 }],
    ["in^-2", inch ** -2, { length: -2 }],
    ["in^(-2)", inch ** -2, { length: -2 }],
    ["in^(2)", inch ** 2, { length: 2 }],
    ["1/in^-2", inch ** 2, { length: 2 }],
    // The bracket that closes is the formula's, not the power's.
    ["N/(mm^2)", 1e6, { mass: 1, length: -1, time: -2 }],
    ["N/(in^2*ft)", 1 / inch ** 2 / foot, { mass: 1, length: -2, time: -2 }],
    ["m/(s^(2))", 1, { length: 1, time: -2 }],
    ["in^12", inch ** 12, { length: 12 }],
    ["in^(12)", inch ** 12, { length: 12 }],
    ["in-lb", inch * pound * gravity, { mass: 1, length: 2, time: -2 }],
    ["lb/in", (pound * gravity) / inch, { mass: 1, time: -2 }],
    ["lb/ft^3", pound / foot ** 3, { mass: 1, length: -3 }],
    ["lb*ft/s", foot * pound * gravity, { mass: 1, length: 2, time: -3 }],
    ["lb*s", pound, { mass: 1, time: 1 }],
    ["inch*feet", inch * foot, { length: 2 }],
    ["((((in))))", inch, { length: 1 }],
    [Array(12).fill("m").join("*"), 1, { length: 12 }],
    ["1", 1, {}],
    [" in ", inch, { length: 1 }],
  ] as const)("%s", (text, factor, powers) => {
    const read = readUnit(text);
    if (factor === undefined) {
      expect(read).toBeUndefined();
      return;
    }
    checkNear(read?.factor ?? Number.NaN, factor, 1e-14, text);
    expect(read?.dimension).toBe(dimension(powers));
    expect(read?.offset).toBe(0);
  });

  test.each([
    "J/(kg",
    "J/(kg]",
    "J/kg)",
    "J/(*kg)",
    "J/(kg*)",
    "J/()",
    "in^(2",
    "in^",
    "in^0",
    "in+ft",
    "1/",
    "12",
    "(((((in)))))",
    Array(13).fill("m").join("*"),
    `${"m".repeat(65)}`,
    "constructor*in",
  ])("%s is none", (text) => {
    expect(readUnit(text)).toBeUndefined();
  });

  test("a power that leaves the range of numbers is none", () => {
    expect(readUnit("um^99")).toBeUndefined();
    expect(readUnit("km^99")?.factor).toBeCloseTo(1e297, -285);
    expect(readUnit("km^99*km^99")).toBeUndefined();
  });
});

describe("the two readings of lb and oz", () => {
  const force = dimension({ mass: 1, length: 1, time: -2 });

  test("beside a length, below one, below an area, beside a speed it is a force", () => {
    for (const text of ["lb*ft", "lb/ft", "lb/in^2", "oz*in", "lb*ft/s"]) {
      const read = unit(text);
      expect(read.other?.factor, text).toBeDefined();
      checkNear(read.factor / (read.other?.factor ?? 1), gravity, 1e-12, text);
    }
    for (const text of ["lb", "lb/ft^3", "lb*ft^2", "lb/s"]) {
      const read = unit(text);
      checkNear((read.other?.factor ?? 1) / read.factor, gravity, 1e-12, text);
    }
  });

  test("what is wanted settles it", () => {
    expect(readUnit("lb", force)?.measure).toBe("force");
    expect(readUnit("lb", force)?.other?.measure).toBe("mass");
    checkNear(readUnit("lb/ft", measure("mass_per_length"))?.factor ?? 0, pound / foot, 1e-14);
    checkNear(unit("lb/ft").factor, (pound * gravity) / foot, 1e-14);
    expect(unit("lb").measures).toContain("mass");
    for (const symbol of ["kg", "kg/m^3", "N*m"])
      expect(unit(symbol).other, symbol).toBeUndefined();
    expect(unit("lb^2").measures).toEqual([]);
    expect(unit("lb^2").measure).toBeUndefined();
    expect(unit("lb*s").measure).toBeUndefined();
  });
});

describe("one symbol", () => {
  test("other spellings are symbols, too", () => {
    for (const text of ["lbs", "amps", "deg F", "deg\tF", "ft-lbs", "fl oz"])
      expect(isUnitSymbol(text), text).toBe(true);
    for (const text of ["lb*ft", "in^2x", "fl  ox"]) expect(isUnitSymbol(text), text).toBe(false);
  });

  test("degrees of a temperature have an offset, of a difference none", () => {
    expect(unit("degC", measure("temperature")).offset).toBe(273.15);
    expect(unit("degC", measure("temperature_difference")).offset).toBe(0);
    expect(unit("degF", measure("temperature_difference")).factor).toBeCloseTo(5 / 9, 15);
    expect(unit("degC").offset).toBe(273.15);
  });

  test("a formula fits every measure of its dimension, a symbol its own", () => {
    expect(unitFits(unit("kg*m^2/s^2"), measure("torque"))).toBe(true);
    expect(unitFits(unit("kg*m^2/s^2"), measure("energy"))).toBe(true);
    expect(unitFits(unit("J"), measure("energy"))).toBe(true);
    expect(unitFits(unit("kg*m^2/s^2"), measure("force"))).toBe(false);
  });

  test("is written as it was typed", () => {
    expect(unit(" lbs ").symbol).toBe("lbs");
    expect(unit("amps").symbol).toBe("amps");
    expect(unit("amps").factor).toBe(1);
  });
});
