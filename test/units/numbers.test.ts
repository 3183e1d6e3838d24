/** The digits of a number as text: where it turns to powers of ten, and no "-0". By hand; no source. */
import { describe, expect, test } from "vitest";
import { compactNumber, fixed, significant, trimZeros } from "../../server/units/write-number";

describe.each([
  ["significant", significant],
  ["compactNumber", compactNumber],
] as const)("%s", (_, write) => {
  test.each([
    [0, 4, "0"],
    [-0, 4, "0"],
    [Number.NaN, 4, "0"],
    [Number.POSITIVE_INFINITY, 4, "0"],
    [1e15, 4, "1e15"],
    [-2.34567e17, 3, "-2.35e17"],
    [1e14, 4, "100000000000000"],
    [1e-6, 4, "0.000001"],
    [9.87654e-7, 3, "9.88e-7"],
    [0.1 + 0.2, 6, "0.3"],
    [1.23456, 3, "1.23"],
  ])("%d in %i digits", (value, digits, text) => {
    expect(write(value, digits)).toBe(text);
  });
});

test("digits before the point are told by significant and settled by compactNumber", () => {
  expect(significant(1476.3751, 2)).toBe("1476");
  expect(compactNumber(1476.3751, 2)).toBe("1500");
});

test.each([
  [-0.001, 2, "0.00"],
  [-0.4, 0, "0"],
  [-0.04, 1, "0.0"],
  [-10.001, 2, "-10.00"],
  [-0.25, 2, "-0.25"],
  [2.5, 3, "2.500"],
])("%d to %i places", (value, places, text) => {
  expect(fixed(value, places)).toBe(text);
});

test.each([
  ["-0.000", "0"],
  ["-0", "0"],
  ["2.500", "2.5"],
  ["100", "100"],
])("%s without its trailing zeros", (text, trimmed) => {
  expect(trimZeros(text)).toBe(trimmed);
});
