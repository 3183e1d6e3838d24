/** Dimensions under multiplication, division and powers. */
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  coherentUnit,
  describeDimension,
  dimension,
  dimensionless,
  divide,
  measures,
  multiply,
  power,
  sameDimension,
} from "../../server/units";

const length = dimension({ length: 1 });
const some = fc.constantFrom(...measures.map((each) => each.dimension));

test("equal dimensions are one and the same", () => {
  expect(multiply(length, length)).toBe(dimension({ length: 2 }));
  expect(divide(length, length)).toBe(dimensionless);
  expect(power(dimension({ length: 2 }), 1 / 2)).toBe(length);
  expect(dimensionless.key).toBe("");
});

test("a third and two thirds make one", () => {
  const third = power(length, 1 / 3);
  const both = power(length, 2 / 3);
  expect(third !== undefined && both !== undefined && multiply(third, both)).toBe(length);
});

test("a power that is no number gives no dimension", () => {
  expect(power(length, Number.NaN)).toBeUndefined();
  expect(power(length, Number.POSITIVE_INFINITY)).toBeUndefined();
  expect(power(dimension({ length: 1e308 }), 10)).toBeUndefined();
});

test("what is multiplied can be divided again, and a root undoes a power", () => {
  fc.assert(
    fc.property(some, some, fc.integer({ min: 1, max: 12 }), (one, other, exponent) => {
      expect(sameDimension(divide(multiply(one, other), other), one)).toBe(true);
      expect(multiply(one, other)).toBe(multiply(other, one));
      const raised = power(one, exponent);
      expect(raised !== undefined && power(raised, 1 / exponent)).toBe(one);
      const root = power(one, 1 / exponent);
      expect(root !== undefined && power(root, exponent)).toBe(one);
    }),
  );
});

test("powers in words", () => {
  const words: readonly [Parameters<typeof dimension>[0], string, string][] = [
    [{ mass: 1, length: 3 }, "a mass × length³", "kg*m^3"],
    [{ mass: 1, length: 4 }, "a mass × length^4", "kg*m^4"],
    [{ length: 0.5 }, "a length^0.5", "m^0.5"],
    [{ length: 1, temperature: 1 }, "a length × temperature", "m*K"],
    [{ current: 1, temperature: -2 }, "a current / temperature²", "A/K^2"],
    [{ time: -2 }, "a 1 / time²", "1/s^2"],
    [{ temperature: -1, current: -1 }, "a 1 / current / temperature", "1/A/K"],
    // A spring's rate to the square: forces, not masses.
    [{ mass: 2, time: -4 }, "a force² / length²", "kg^2/s^4"],
    [{ mass: -1, time: 2 }, "a length / force", "s^2/kg"],
  ];
  for (const [powers, told, formula] of words) {
    expect(describeDimension(dimension(powers))).toBe(told);
    expect(coherentUnit(dimension(powers))).toBe(formula);
  }
});

test("what is of other dimensions is not the same, whatever else agrees", () => {
  expect(sameDimension(length, dimension({ length: 2 }))).toBe(false);
  expect(sameDimension(length, { ...length })).toBe(true);
});

test("in words and as a formula of base units", () => {
  const torque = dimension({ mass: 1, length: 2, time: -2 });
  expect(describeDimension(torque)).toBe("a force × length");
  expect(coherentUnit(torque)).toBe("kg*m^2/s^2");
  expect(describeDimension(dimension({ mass: 1, time: -2 }))).toBe("a force / length");
  expect(coherentUnit(dimension({ length: -1 }))).toBe("1/m");
  expect(coherentUnit(dimensionless)).toBe("1");
  fc.assert(
    fc.property(some, some, (one, other) => {
      expect(describeDimension(divide(one, other))).toMatch(/^(a|an) \S/);
    }),
  );
});
