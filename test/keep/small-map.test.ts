/** A small map says all that the language's own map says, whatever is done to both. */
import { expect, test } from "vitest";
import { SmallMap } from "../../server/keep/small-map";
import { randoms } from "../solve/random-systems";

test("whatever is set, taken away and asked, as the language's own map has it", () => {
  const random = randoms(41);
  for (let round = 0; round < 60; round++) {
    const small = new SmallMap<string, number>();
    const own = new Map<string, number>();
    // Few keys stay in a row, many make a map of it.
    const keys = 2 + Math.floor(random() * 20);
    for (let step = 0; step < 80; step++) {
      const key = `k${Math.floor(random() * keys)}`;
      if (random() < 0.7) {
        small.set(key, step);
        own.set(key, step);
      } else expect(small.delete(key)).toBe(own.delete(key));
      expect(small.get(key)).toBe(own.get(key));
      expect(small.has(key)).toBe(own.has(key));
      expect(small.size).toBe(own.size);
    }
    expect([...small]).toEqual([...own]);
    expect([...small.keys()]).toEqual([...own.keys()]);
    expect([...small.values()]).toEqual([...own.values()]);
    const met: [string, number][] = [];
    small.forEach((value, key) => {
      met.push([key, value]);
    });
    expect(met).toEqual([...own]);
  }
});

test("what is added while it is gone through is met as well, beyond a few too", () => {
  const small = new SmallMap<number, string>().set(0, "0");
  const met: number[] = [];
  for (const [key] of small) {
    met.push(key);
    if (key < 20) small.set(key + 1, `${key + 1}`);
  }
  expect(met).toEqual(Array.from({ length: 21 }, (_, at) => at));
});

test("nothing, and a value that is nothing", () => {
  const small = new SmallMap<string, undefined>();
  expect([...small.values()]).toEqual([]);
  expect(small.delete("a")).toBe(false);
  small.set("a", undefined);
  expect([small.has("a"), small.get("a"), small.size]).toEqual([true, undefined, 1]);
});
