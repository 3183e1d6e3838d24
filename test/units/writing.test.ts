/** Values written back: fractions, decimals, feet and inches, tolerances, styles. */

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type DisplayStyle,
  defaultStyle,
  displayOf,
  type Measure,
  measures,
  parseStyle,
  readQuantity,
  type StyleProblem,
  type WrittenQuantity,
  withDisplay,
  writeIn,
  writeQuantity,
  writeSi,
  writeTolerance,
  writtenInFull,
} from "../../server/units";
import { sentence } from "../findings/sentence";
import { checkNear, measure, quantity, unit } from "./check";

const inch = defaultStyle("inch");
const metric = defaultStyle("metric");
const length = measure("length");

function displayProblem(parsed: StyleProblem): string {
  return sentence(
    parsed.problem === "wrong-unit"
      ? { is: "display/wrong-unit", ...parsed }
      : { is: `display/${parsed.problem}`, ...parsed },
  );
}

/** The inch style with one line of a display block laid over it. */
function styled(name: string, symbol: string, increment?: string): DisplayStyle {
  const parsed = parseStyle(name, symbol, increment);
  if ("problem" in parsed) throw new Error(parsed.text);
  return withDisplay(inch, [[parsed.measure, parsed.display]]);
}

function write(text: string, style: DisplayStyle, of: Measure = length): WrittenQuantity {
  const written = writeQuantity(quantity(text, of).si, of, style);
  if (written === undefined) throw new Error(`${text} was not written`);
  return written;
}

describe("fractions of an inch", () => {
  test.each([
    ["54.349 in", "1/32", "54 11/32 in", "54.349 in", true],
    ["61.375 in", "1/32", "61 3/8 in", "61.375 in", false],
    ["11.999 in", "1/32", "12 in", "11.999 in", true],
    ["-11.999 in", "1/32", "-12 in", "-11.999 in", true],
    ["12 in", "1/32", "12 in", undefined, false],
    ["0 in", "1/32", "0 in", undefined, false],
    ["58 1/8 in", "1/32", "58 1/8 in", "58.125 in", false],
    ["24 11/16 in", "1/16", "24 11/16 in", "24.6875 in", false],
    ["7/8 in", "1/64", "7/8 in", "0.875 in", false],
    ["-3/64 in", "1/64", "-3/64 in", "-0.047 in", false],
    ["-3/64 in", "1/32", "-3/64 in", "-0.047 in", false],
    ["0.012 in", "1/32", "0.012 in", undefined, false],
    ["0.3 in", "1/32", "5/16 in", "0.300 in", true],
    ["0.0001 in", "1/32", "0.0001 in", undefined, false],
  ] as const)("%s to %s is %s", (given, increment, text, decimal, rounded) => {
    const written = write(given, styled("length", "in", increment));
    expect(written.text).toBe(text);
    expect(written.decimal).toBe(decimal);
    expect(written.rounded).toBe(rounded);
  });

  test("in full, with what it was rounded from", () => {
    expect(writtenInFull(write("54.349 in", inch))).toBe("54 11/32 in, rounded from 54.349 in");
    expect(writtenInFull(write("61 3/8 in", inch))).toBe("61 3/8 in");
  });

  test("the remainder says by how much it was rounded", () => {
    // 54.349 - 54.34375 = 0.00525 in, the fraction being 11/32 = 0.34375.
    checkNear(write("54.349 in", inch).remainder, 0.00525 * 0.0254, 1e-9);
  });

  test.each([
    ["61 3/8 in", "1/16", "5 ft 1 3/8 in"],
    ["-61 3/8 in", "1/16", "-5 ft 1 3/8 in"],
    ["60 in", "1/16", "5 ft"],
    ["11.999 in", "1/16", "1 ft"],
    ["24 11/16 in", "1/16", "2 ft 11/16 in"],
    ["4 3/8 in", "1/16", "4 3/8 in"],
    ["0 in", "1/16", "0 in"],
  ])("%s in feet and inches to %s is %s", (given, increment, text) => {
    expect(write(given, styled("length", "ft", increment)).text).toBe(text);
  });
});

describe("decimals", () => {
  test.each([
    ["18 mm", length, metric, "18 mm"],
    ["58 1/8 in", length, metric, "1476.4 mm"],
    ["0.012 in", length, metric, "0.305 mm"],
    ["54.349 in", length, styled("length", "in", "0.001"), "54.349 in"],
    ["1477 mm", length, styled("length", "mm", "5"), "1475 mm"],
    ["61 3/8 in", length, styled("length", "ft", "0.01"), "5.11 ft"],
    ["3640 lb", measure("mass"), inch, "3640 lb"],
    ["12732.4 psi", measure("stress"), inch, "12732 psi"],
    ["88.01 N-m", measure("torque"), inch, "64.91 lb-ft"],
    ["12.5 usd", measure("money"), inch, "12.50 usd"],
    ["1200 jpy", measure("money"), styled("money", "jpy"), "1200 jpy"],
    ["5", measure("count"), inch, "5"],
    ["50 %", measure("ratio"), inch, "0.5"],
    ["0.5", measure("ratio"), styled("ratio", "%"), "50 %"],
    ["20 degC", measure("temperature"), inch, "68 degF"],
    ["9 degF", measure("temperature_difference"), metric, "5 degC"],
    ["3 deg", measure("angle"), metric, "3 deg"],
  ] as const)("%s", (given, of, style, text) => {
    expect(write(given, style, of).text).toBe(text);
  });

  test("no noise of calculating", () => {
    const number = measure("number");
    expect(writeQuantity(0.1 + 0.2, number, inch)?.text).toBe("0.3");
    expect(writeQuantity(-0, number, inch)?.text).toBe("0");
    expect(writeQuantity(-1e-17, length, inch)?.text).toBe("0 in");
    expect(writeQuantity(-1e-17, length, styled("length", "mm", "0.1"))?.text).toBe("0 mm");
    expect(writeQuantity(-1e-13, length, styled("length", "m", "0.001"))?.text).toBe("0 m");
  });

  test("what is not finite is not written", () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      for (const each of measures) {
        expect(writeQuantity(value, each, inch)).toBeUndefined();
        expect(writeTolerance(value, each, inch)).toBeUndefined();
      }
      expect(writeSi(value)).toBeUndefined();
    }
  });

  test("thousands are parted only where asked", () => {
    const paper = { ...inch, thousands: "," };
    expect(write("12732.4 psi", paper, measure("stress")).text).toBe("12,732 psi");
    expect(write("999 psi", paper, measure("stress")).text).toBe("999 psi");
    expect(write("1234567.25", { ...paper }, measure("number")).text).toBe("1,234,567");
  });

  test("in the unit the builder wrote", () => {
    expect(writeIn(0.018, length, { unit: "mm" })?.text).toBe("18 mm");
    expect(writeIn(0.018, length, { unit: "furlong" })).toBeUndefined();
  });

  test("for JSON", () => {
    expect(writeSi(1.4763750000000002)).toBe(1.476375);
    expect(Object.is(writeSi(-0), 0)).toBe(true);
    expect(writeSi(1 / 3)).toBe(0.333333333333);
  });
});

describe("how much is shown", () => {
  test("thousands in decimals, and none in fractions or powers of ten", () => {
    const paper = { ...inch, thousands: "," };
    expect(write("12345.5 in", paper).text).toBe("12345 1/2 in");
    expect(write("12345.5 in", paper).decimal).toBe("12,345.500 in");
    expect(write("1e15", paper, measure("number")).text).toContain("e");
  });

  test("a value of a few steps keeps its digits, one on a step does not want them", () => {
    const half = styled("length", "mm", "0.5");
    // Under eight steps three digits, from there on the nearest step.
    expect(write("3.26 mm", half).text).toBe("3.26 mm");
    expect(write("4.26 mm", half).text).toBe("4.5 mm");
    expect(write("3.5 mm", half).text).toBe("3.5 mm");
    expect(write("3.2611 mm", half).text).toBe("3.26 mm");
  });

  test("decimals beside a fraction: thousandths, one more where the value ends with it", () => {
    expect(write("24 11/16 in", styled("length", "in", "1/16")).decimal).toBe("24.6875 in");
    expect(write("24.5001 in", inch).decimal).toBe("24.5001 in");
    expect(write("24.50012 in", inch).decimal).toBe("24.500 in");
    expect(write("1/64 in", styled("length", "in", "1/64")).decimal).toBe("0.016 in");
    expect(write("12 1/2 in", inch).decimal).toBe("12.500 in");
  });

  test("a step of thousandths is shown with three places and no more", () => {
    const fine = styled("length", "in", "0.001");
    expect(write("1.23456 in", fine).text).toBe("1.235 in");
    expect(write("1.2 in", fine).text).toBe("1.2 in");
    expect(write("7e5 mm", styled("length", "mm", "1e-7")).text).toBe("700000 mm");
  });

  test("feet where there are some, inches for the rest, and small ones in decimals", () => {
    const feet = styled("length", "ft", "1/16");
    expect(write("11 15/16 in", feet).text).toBe("11 15/16 in");
    expect(write("-3 in", feet).text).toBe("-3 in");
    expect(write("-25 1/2 in", feet).text).toBe("-2 ft 1 1/2 in");
    expect(write("0.033 in", feet).text).toBe("0.033 in");
    expect(write("25.53 in", feet).decimal).toBe("25.530 in");
    expect(write("0 in", feet).decimal).toBeUndefined();
  });

  test("money by its currency, counts without a point", () => {
    expect(writeQuantity(3.0000000001, measure("count"), inch)?.text).toBe("3");
    expect(write("0.004 usd", inch, measure("money")).text).toBe("0.00 usd");
    expect(write("0.004 usd", inch, measure("money")).rounded).toBe(true);
  });
});

describe("tolerances", () => {
  test.each([
    ["1/32 in", inch, "± 1/32 in"],
    ["1/64 in", inch, "± 1/64 in"],
    ["0.010 in", inch, "± 0.010 in"],
    ["0.0101234 in", inch, "± 0.0102 in"],
    ["0.5 mm", metric, "± 0.5 mm"],
    ["0 in", inch, "± 0 in"],
    ["1/32 in", styled("length", "ft", "1/16"), "± 1/32 in"],
  ] as const)("%s", (given, style, text) => {
    expect(writeTolerance(quantity(given, length).si, length, style)?.text).toBe(text);
  });

  test("none is 0 in every unit", () => {
    expect(writeTolerance(0, length, inch)?.text).toBe("± 0 in");
    expect(writeTolerance(0, length, metric)?.text).toBe("± 0 mm");
    expect(writeTolerance(0, length, metric)?.rounded).toBe(false);
    expect(writeTolerance(-0.001, length, metric)).toBeUndefined();
  });

  test("three digits, the last rounded up; half a step is a fraction", () => {
    const shown = (text: string, style: DisplayStyle) =>
      writeTolerance(quantity(text, length).si, length, style)?.text;
    expect(shown("1/64 in", styled("length", "in", "1/32"))).toBe("± 1/64 in");
    expect(shown("1/128 in", styled("length", "in", "1/32"))).toBe("± 0.00782 in");
    expect(shown("0.12341 mm", metric)).toBe("± 0.124 mm");
    expect(shown("0.123 mm", metric)).toBe("± 0.123 mm");
    expect(shown("1234.1 mm", metric)).toBe("± 1240 mm");
    expect(shown("0.1 in", inch)).toBe("± 0.100 in");
    expect(shown("2 ft", styled("length", "ft", "1/16"))).toBe("± 24 in");
  });

  test("a temperature's has no offset", () => {
    expect(writeTolerance(5, measure("temperature"), inch)?.text).toBe("± 9 degF");
  });

  test("never shown smaller than it is, nor a hundredth larger", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...measures),
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        (of, by) => {
          const si = by * of.scale;
          const written = writeTolerance(si, of, inch);
          const remainder = written?.remainder ?? Number.NaN;
          expect(remainder).toBeLessThanOrEqual(si * 1e-5);
          expect(remainder).toBeGreaterThanOrEqual(-si * 0.0101);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe("write, then read", () => {
  const increments = fc.constantFrom<readonly [string, string | undefined]>(
    ["in", "1/32"],
    ["in", "1/64"],
    ["in", "1/16"],
    ["in", "0.001"],
    ["mm", "0.1"],
    ["mm", "0.5"],
    ["mm", "5"],
    ["ft", "1/16"],
    ["ft", "0.01"],
    ["m", undefined],
    ["in", undefined],
    ["in", "1/10"],
    ["thou", "1"],
  );

  test("a length comes back within half a step, and exactly with the remainder", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -10, max: 10, noNaN: true }),
        increments,
        (si, [symbol, increment]) => {
          const style = styled("length", symbol, increment);
          const written = writeQuantity(si, length, style);
          const read = quantity(written?.text ?? "", length);
          const remainder = written?.remainder ?? Number.NaN;
          expect(Math.abs(read.si + remainder - si)).toBeLessThanOrEqual(
            1e-12 * Math.abs(si) + 1e-15,
          );
          const display = displayOf(length, style);
          if (display.increment !== undefined) {
            // In feet and inches the step is one of an inch.
            const fractionOfFoot = symbol === "ft" && display.increment.denominator !== undefined;
            const step = display.increment.step * unit(fractionOfFoot ? "in" : symbol).factor;
            expect(Math.abs(remainder)).toBeLessThanOrEqual(step * 0.5000001);
          }
        },
      ),
      { numRuns: 3000 },
    );
  });

  test("every measure comes back, measured ones to four digits or better", () => {
    const sizes = fc.double({ min: -1e7, max: 1e7, noNaN: true });
    fc.assert(
      fc.property(
        fc.constantFrom(...measures),
        sizes,
        fc.constantFrom(inch, metric),
        (of, size, style) => {
          const si = size * of.scale;
          const written = writeQuantity(si, of, style);
          const read = readQuantity(written?.text ?? "", of.whole ? measure("number") : of);
          if ("problem" in read) throw new Error(`${written?.text}: ${read.problem}`);
          const remainder = written?.remainder ?? Number.NaN;
          expect(Math.abs(read.si + remainder - si)).toBeLessThanOrEqual(
            1e-9 * Math.abs(si) + of.scale * 1e-9,
          );
          const display = displayOf(of, style);
          if (
            display.increment === undefined &&
            !of.whole &&
            of.name !== "money" &&
            of.name !== "temperature"
          ) {
            expect(Math.abs(remainder)).toBeLessThanOrEqual(
              Math.abs(si) * 0.5001e-3 + of.scale * 1e-9,
            );
          }
          if (!(written?.rounded ?? true)) {
            expect(Math.abs(remainder)).toBeLessThanOrEqual(Math.abs(si) * 1e-6 + of.scale * 1e-3);
          }
        },
      ),
      { numRuns: 4000 },
    );
  });
});

describe("styles", () => {
  test.each([
    ["lenth", "in", undefined, 'there is no measure called "lenth", did you mean length?'],
    ["length", "inn", undefined, 'unknown unit "inn", did you mean in?'],
    ["length", "lb", undefined, "a length cannot be shown in lb: use in, mm or ft"],
    ["torque", "J", undefined, "a torque cannot be shown in J: use lb-ft, N-m or in-lb"],
    ["angle", "", undefined, "an angle cannot be shown in plain numbers: use deg, rad or arcmin"],
    [
      "length",
      "in",
      "0",
      '"0" is no step to round to: write a fraction such as 1/32 or a number such as 0.001',
    ],
    [
      "length",
      "in",
      "3/32",
      '"3/32" is no step to round to: write a fraction such as 1/32 or a number such as 0.001',
    ],
    [
      "length",
      "in",
      "-1",
      '"-1" is no step to round to: write a fraction such as 1/32 or a number such as 0.001',
    ],
  ] as const)("%s: %s %s", (name, symbol, increment, message) => {
    const parsed = parseStyle(name, symbol, increment);
    expect("problem" in parsed ? displayProblem(parsed) : parsed).toBe(message);
  });

  // By hand: letters that are another, missing or too many; one in a short name, two in a long one.
  test.each([
    ["lenght", ["length"]],
    ["angel", []],
    ["angls", ["angle"]],
    ["acelerration", ["acceleration"]],
    ["are", ["area"]],
    ["an", []],
  ])("%s is no measure; near it: %j", (name, near) => {
    const parsed = parseStyle(name, "in");
    expect("problem" in parsed && parsed).toEqual({ problem: "unknown-measure", text: name, near });
  });

  test("steps that can be rounded to are named where one cannot", () => {
    const parsed = parseStyle("length", "in", "none");
    expect("problem" in parsed && parsed.near).toEqual(["1/32", "0.001"]);
  });

  test("a display that cannot show the measure gives way to the system's", () => {
    const broken = withDisplay(inch, [
      ["length", { unit: "lb" }],
      ["torque", { unit: "??" }],
    ]);
    expect(write("58 1/8 in", broken).text).toBe("58 1/8 in");
    expect(write("100 lb-ft", broken, measure("torque")).text).toBe("100 lb-ft");
  });
});
