/** Figures of one sentence, written so that whoever subtracts one from another gets the third. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type DisplayStyle,
  defaultStyle,
  parseStyle,
  withDisplay,
  writeAlike,
} from "../../server/units";
import { measure, quantity } from "./check";

const inch = defaultStyle("inch");
const length = measure("length");

/** The inch style with one line of a display block laid over it. */
function styled(name: string, symbol: string, increment?: string): DisplayStyle {
  const parsed = parseStyle(name, symbol, increment);
  if ("problem" in parsed) throw new Error(parsed.text);
  return withDisplay(inch, [[parsed.measure, parsed.display]]);
}

describe("figures of one sentence", () => {
  const alike = (style: DisplayStyle, ...texts: string[]) =>
    writeAlike(
      texts.map((text) => quantity(text, length).si),
      length,
      style,
    );

  test("all stand on the tape, or none does", () => {
    expect(alike(inch, "1 in", "1/2 in", "3/64 in")).toEqual(["1 in", "1/2 in", "3/64 in"]);
    expect(alike(inch, "0.432 in", "1/2 in", "0.068 in", "2 in")).toEqual([
      "0.432 in",
      "0.500 in",
      "0.068 in",
      "2 in",
    ]);
  });

  test("the third is the difference of the two as they are shown", () => {
    const subtracted = (style: DisplayStyle): void =>
      fc.assert(
        fc.property(
          fc.double({ min: 0.002, max: 3, noNaN: true }),
          fc.double({ min: 0.0002, max: 0.1, noNaN: true }),
          (one, off) => {
            const [less, more, by] = writeAlike([one, one + off, off], length, style);
            if ([less, more, by].some((text) => text?.includes("/"))) return;
            const places = /\.(\d+)/.exec(`${by}${less}`)?.[1]?.length ?? 0;
            const difference = Number.parseFloat(more ?? "") - Number.parseFloat(less ?? "");
            // Each of the three is off by half a last place at most.
            expect(Math.abs(difference - Number.parseFloat(by ?? ""))).toBeLessThanOrEqual(
              1.6 * 10 ** -Math.min(places, 3),
            );
          },
        ),
      );
    subtracted(inch);
    subtracted(styled("length", "mm", "0.5"));
  });

  test("in steps of half a millimetre a short tenth is shown with its tenths", () => {
    expect(alike(styled("length", "mm", "0.5"), "16.2 mm", "18 mm", "1.8 mm")).toEqual([
      "16.2 mm",
      "18 mm",
      "1.8 mm",
    ]);
    expect(alike(styled("length", "mm", "0.5"), "16.5 mm", "18 mm", "1.5 mm")).toEqual([
      "16.5 mm",
      "18 mm",
      "1.5 mm",
    ]);
  });

  test("nothing is no figure to go by, and what has no value is missing", () => {
    expect(alike(inch, "0.432 in", "1/2 in", "0 in")).toEqual(["0.432 in", "0.500 in", "0 in"]);
    expect(writeAlike([0.0254 * 0.432, Number.NaN, 0.0127], length, inch)).toEqual([
      "0.432 in",
      "missing",
      "0.500 in",
    ]);
    expect(writeAlike([Number.NaN], length, inch)).toEqual(["missing"]);
  });

  test("the smallest has two digits, none more than two places beyond the usual", () => {
    const half = styled("length", "mm", "0.5");
    expect(alike(half, "16.234 mm", "0.1 mm")).toEqual(["16.23 mm", "0.1 mm"]);
    expect(alike(half, "16.2349 mm", "0.012 mm")).toEqual(["16.235 mm", "0.012 mm"]);
    expect(alike(half, "16.2349 mm", "0.0012 mm")).toEqual(["16.235 mm", "0.001 mm"]);
    expect(alike(inch, "0.432 in", "1/2 in", "0.0023 in")).toEqual([
      "0.4320 in",
      "0.5000 in",
      "0.0023 in",
    ]);
    // Without a step every figure is written by itself.
    expect(alike(styled("length", "mm"), "16.2349 mm", "0.0012 mm")).toEqual([
      "16.23 mm",
      "0.0012 mm",
    ]);
  });

  test("of feet and inches the decimals are inches", () => {
    expect(alike(styled("length", "ft", "1/32"), "4 ft 10.684 in", "4 ft 11 in")).toEqual([
      "58.684 in",
      "59 in",
    ]);
  });
});
