/** What the tests of this room share: finding a measure or a unit that must exist, and nearness. */
import { expect } from "vitest";
import {
  type Measure,
  measureNamed,
  type QuantityReading,
  readQuantity,
  readUnit,
  type Unit,
} from "../../server/units";

export function measure(name: string): Measure {
  const found = measureNamed(name);
  if (found === undefined) throw new Error(`no measure ${name}`);
  return found;
}

export function unit(symbol: string, wanted?: Measure): Unit {
  const found = readUnit(symbol, wanted);
  if (found === undefined) throw new Error(`no unit ${symbol}`);
  return found;
}

export function quantity(text: string, wanted?: Measure): QuantityReading {
  const found = readQuantity(text, wanted);
  if ("problem" in found) throw new Error(`${text}: ${found.problem}`);
  return found;
}

/** Equal to within `relative` of the expected value. */
export function checkNear(
  actual: number,
  expected: number,
  relative: number,
  label?: string,
): void {
  const gap = Math.abs(actual - expected);
  expect(gap, `${label ?? ""} ${actual} against ${expected}`).toBeLessThanOrEqual(
    Math.abs(expected) * relative,
  );
}
