/** Parts, bill of materials and the cost of an option: plain arithmetic, worked by hand. */
import { describe, expect, test } from "vitest";
import { answers, pound, solved } from "./solve-text";

// Common practice, no source: a rim of 21 lb.
const text = `
  wheel rim { price: 240 usd  mass: 21 lb  quantity: 2 }
  wheel other_rim { price: 310.50 usd  mass: 24 lb  quantity: 2 }
  housing tube { price: 610 usd  mass: 88 lb }
  bill spending { items: [rim, tube]  hours: 14 h  rate: 85 usd/h }
  option bought "Bought complete" { spending.items: [other_rim, tube]  spending.hours: 4 h }`;

describe("bill of materials", () => {
  const build = solved(text);

  test("cost and mass of what is needed more than once", () => {
    expect(build.figure("rim.cost")).toBeCloseTo(480, 9);
    expect(build.figure("rim.total_mass") / pound).toBeCloseTo(42, 9);
  });

  test("totals", () => {
    expect(build.figure("spending.parts_cost")).toBeCloseTo(1090, 9);
    expect(build.figure("spending.labor")).toBeCloseTo(1190, 9);
    expect(build.figure("spending.total")).toBeCloseTo(2280, 9);
    expect(build.figure("spending.mass") / pound).toBeCloseTo(130, 9);
  });

  test("totals of the option", () => {
    const option = build.analysis.under("bought");
    if (option === undefined) expect.fail("the option is not there");
    const other = answers(option);
    expect(other.figure("spending.parts_cost")).toBeCloseTo(621 + 610, 9);
    expect(other.figure("spending.total")).toBeCloseTo(1231 + 340, 9);
  });

  test("without hours the total is that of the parts", () => {
    const plain = solved(
      "wheel rim { price: 240 eur  quantity: 4 } bill spending { items: [rim] }",
    );
    expect(plain.figure("spending.total")).toBeCloseTo(960, 9);
  });
});
