/** Tables read key by key, against their own definition by looking at every row. */
import { expect, test } from "vitest";
import { lookUp } from "../../server/solve/evaluate";
import type { LookupCurve } from "../../server/solve/expression";

const near = (one: number, other: number): boolean =>
  Math.abs(one - other) <= 1e-9 * Math.max(Math.abs(one), Math.abs(other));

/** By rows: the ends and listed keys count where rounding misses them. */
function byRows({ method, keys, values }: LookupCurve, key: number): number {
  if (Number.isNaN(key)) return Number.NaN;
  const rows = keys.map((at, row) => ({ at, value: values[row]! }));
  const met = rows.filter(({ at }) => near(at, key)).at(-1);
  if (method === "exact") return met?.value ?? Number.NaN;
  if (method === "step") {
    return rows.filter(({ at }) => at <= key || near(at, key)).at(-1)?.value ?? Number.NaN;
  }
  const [first, last] = [rows[0], rows.at(-1)];
  if (first === undefined || last === undefined) return Number.NaN;
  if (key <= first.at) return near(key, first.at) ? first.value : Number.NaN;
  if (key >= last.at) return near(key, last.at) ? last.value : Number.NaN;
  const to = rows.findIndex(({ at }) => at >= key);
  const [one, other] = [rows[to - 1]!, rows[to]!];
  return one.value + ((key - one.at) / (other.at - one.at)) * (other.value - one.value);
}

test.each(["linear", "step", "exact"] as const)(
  "%s tables of one row to nine, anywhere",
  (method) => {
    const all = [-5, -2, -1, 0, 1, 1.5, 4, 9, 100];
    for (let count = 0; count <= all.length; count++) {
      const keys = all.slice(0, count);
      const curve: LookupCurve = {
        name: "table",
        method,
        keys,
        values: keys.map((_, row) => (row * 7) % 5),
      };
      const places = all.flatMap((key) =>
        [0, 5e-10, -5e-10, 4e-9, -4e-9, 0.3, -0.3].map((by) => key + by * (Math.abs(key) || 1)),
      );
      for (const key of [...places, Number.NaN, 1e9, -1e9]) {
        const found = lookUp(curve, key);
        const wanted = byRows(curve, key);
        if (Number.isNaN(wanted)) expect(found, `${count} rows, ${key}`).toBeNaN();
        else expect(found, `${count} rows, ${key}`).toBeCloseTo(wanted, 7);
      }
    }
  },
);

test("what rounding explains in a key is forgiven as well", () => {
  const keys = [1, 2];
  const listed: LookupCurve = { name: "table", method: "exact", keys, values: [5, 7] };
  const lined: LookupCurve = { ...listed, method: "linear" };
  for (const [key, value] of [
    [0.999, 5],
    [1.001, 5],
    [1.999, 7],
    [2.001, 7],
  ] as const) {
    expect(lookUp(listed, key)).toBeNaN();
    expect(lookUp(listed, key, 0.002)).toBe(value);
  }
  expect(lookUp(lined, 0.999)).toBeNaN();
  expect(lookUp(lined, 0.999, 0.002)).toBe(5);
  expect(lookUp(lined, 2.001, 0.002)).toBe(7);
  expect(lookUp(lined, 1.5, 0.002)).toBe(6);
});
