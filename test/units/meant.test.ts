/** What a builder meant by a unit that is unknown, or of the wrong kind. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { confusion, measures, suggestUnits, unitFits, unitSymbols } from "../../server/units";
import { measure, unit } from "./check";

describe("what was meant", () => {
  test.each([
    ["inches", undefined, "in"],
    ["Inches", "length", "in"],
    ['"', "length", "in"],
    ["'", "length", "ft"],
    ["Mm", undefined, "mm"],
    ["LB", undefined, "lb"],
    ["lbs", "mass", "lb"],
    ["lbs", "force", "lb"],
    ["nm", undefined, "N-m"],
    ["nm", "torque", "N-m"],
    ["ftlbs", "torque", "lb-ft"],
    ["ft.lbs", "torque", "lb-ft"],
    ["mpa", "stress", "MPa"],
    ["KG", "mass", "kg"],
    ["milimeter", undefined, "mm"],
    ["dge", "angle", "deg"],
    ["RPM", "angular_speed", "rpm"],
    ["kmh", "speed", "km/h"],
    ["percent", "ratio", "%"],
    ["dollars", "money", "usd"],
    ["litres", "volume", "L"],
    ["C", "temperature", "degC"],
    ["F", "temperature", "degF"],
  ] as const)("%s (%s) is %s", (text, name, expected) => {
    expect(suggestUnits(text, name === undefined ? undefined : measure(name))[0]).toBe(expected);
  });

  test("suggestions fit the measure, and nothing near gives none", () => {
    expect(suggestUnits("quxxly", measure("length"))).toEqual([]);
    expect(suggestUnits("", measure("length"))).toEqual([]);
    fc.assert(
      fc.property(
        fc.oneof(fc.string({ maxLength: 8 }), fc.constantFrom(...unitSymbols)),
        fc.constantFrom(...measures),
        (text, wanted) => {
          const found = suggestUnits(text, wanted);
          expect(found.length).toBeLessThanOrEqual(3);
          for (const symbol of found)
            expect(unitFits(unit(symbol, wanted), wanted), symbol).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });

  test.each([
    ["lb", "torque", "lb-ft"],
    ["lb", "pressure", "psi"],
    ["lb", "spring_rate", "lb/in"],
    ["N", "torque", "N-m"],
    ["in", "area", "in^2"],
    ["in", "per_length", "tpi"],
    ["mm", "area", "mm^2"],
    ["kg", "force", "kgf"],
    ["kJ", "heat_input", "kJ/in"],
    ["rpm", "speed", undefined],
    ["mm", "length", undefined],
    ["lb", "force", undefined],
    ["nonsense", "length", undefined],
  ] as const)("%s for a %s: %s", (text, name, expected) => {
    expect(confusion(text, measure(name))).toBe(expected);
  });

  test("a unit that fits is itself and nothing else", () => {
    for (const symbol of ["in", "lb-ft", "N-m", "degC"])
      expect(suggestUnits(symbol), symbol).toEqual([symbol]);
  });

  test("one letter wrong is a slip in a short word, two are in a long one", () => {
    expect(suggestUnits("rpn")).toEqual(["rpm"]);
    expect(suggestUnits("rqn")).toEqual([]);
    expect(suggestUnits("kilometrs")).toEqual(["km"]);
    // Two neighbors swapped are one slip.
    expect(suggestUnits("pis")).toContain("psi");
  });

  test("a text of over 24 letters is no slip of a unit", () => {
    const letters = (count: number) => `in${".".repeat(count - 2)}`;
    expect(suggestUnits(letters(24))).toEqual(["in"]);
    expect(suggestUnits(letters(25))).toEqual([]);
  });

  test("the pieces of a symbol are its letters, not its powers", () => {
    expect(confusion("cm^3", measure("area"))).toBe("cm^2");
    expect(confusion("oz", measure("mass"))).toBeUndefined();
    expect(confusion("V", measure("area"))).toBeUndefined();
  });

  test("eleven kilogram-meters of torque are kgf-m", () => {
    expect(suggestUnits("kgm", measure("torque"))).toEqual(["kgf-m"]);
  });
});
