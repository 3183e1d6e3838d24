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
