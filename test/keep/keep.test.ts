/** Maps that share what did not change, and what is kept by what it was made of. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { Alike } from "../../server/keep/alike";
import { Few } from "../../server/keep/few";
import { Kept } from "../../server/keep/kept";
import { LayeredMap } from "../../server/keep/layered-map";

test("a row of changes gives what a plain map gives, and every map before stays as it was", () => {
  const changes = fc.array(fc.tuple(fc.nat(1_600), fc.option(fc.nat(), { nil: undefined })), {
    maxLength: 120,
  });
  fc.assert(
    fc.property(fc.array(changes, { maxLength: 12 }), (rows) => {
      // Long enough for changes to lie in several layers over it.
      const plain = new Map(Array.from({ length: 1_500 }, (_, key) => [key, -key]));
      let layered = LayeredMap.of(new Map(plain));
      const before: [LayeredMap<number, number>, Map<number, number>][] = [];
      for (const row of rows) {
        before.push([layered, new Map(plain)]);
        layered = layered.with(new Map(row));
        for (const [key, value] of new Map(row)) {
          if (value === undefined) plain.delete(key);
          else plain.set(key, value);
        }
      }
      before.push([layered, plain]);
      for (const [one, other] of before) {
        const differing = [...Array(1_601).keys()].filter((key) => one.get(key) !== other.get(key));
        expect(differing).toEqual([]);
      }
    }),
    { numRuns: 60 },
  );
  expect(
    LayeredMap.of(new Map())
      .with(
        new Map([
          [1, undefined],
          [2, 3],
        ]),
      )
      .get(2),
  ).toBe(3);
});

test("what was asked for last is kept, and no more than is allowed", () => {
  const kept = new Kept<string>(2);
  let made = 0;
  const ask = (key: string): string => kept.get(key, () => `${key} ${++made}`);
  expect([ask("a"), ask("b"), ask("a"), ask("c"), ask("a")]).toEqual([
    "a 1",
    "b 2",
    "a 1",
    "c 3",
    "a 1",
  ]);
  expect(ask("b")).toBe("b 4");
  expect(kept.size).toBe(2);
});

test("what is heavy takes the room of several that are not, and a few of the heaviest are kept", () => {
  const kept = new Kept<number>(12, (value) => value);
  let made = 0;
  const asked = (value: number): number => {
    const before = made;
    kept.get(String(value), () => {
      made++;
      return value;
    });
    return made - before;
  };
  for (const value of [1, 2, 3]) asked(value);
  expect(kept.size).toBe(3);
  // Each weighs a quarter of what is kept: four of them leave no room for anything else.
  for (const value of [100, 200, 300, 400]) asked(value);
  expect(kept.size).toBe(4);
  expect([100, 200, 300, 400].map(asked)).toEqual([0, 0, 0, 0]);
  // The newest is kept, the one asked for longest ago goes.
  expect([asked(1), asked(1), asked(100)]).toEqual([1, 0, 1]);
});

test("what comes out the same once more is the same value, some variants side by side", () => {
  const kept = new Alike<object, readonly number[]>(2);
  const same = (one: readonly number[], other: readonly number[]) => one.join() === other.join();
  const key = {};
  const first = kept.same(key, [1], same);
  const second = kept.same(key, [2], same);
  expect(kept.same(key, [1], same)).toBe(first);
  expect(kept.same(key, [2], same)).toBe(second);
  expect(kept.same({}, [1], same)).not.toBe(first);
  kept.same(key, [3], same);
  expect(kept.same(key, [1], same)).not.toBe(first);
});

test("a few values are the set of them", () => {
  const letters = fc.array(fc.constantFrom("a", "b", "c", "d"));
  fc.assert(
    fc.property(letters, letters, (values, others) => {
      const few = new Few<string>();
      for (const value of values) few.add(value);
      expect([...few]).toEqual([...new Set(values)]);
      expect(few.meets(new Set(others))).toBe(values.some((value) => others.includes(value)));
    }),
  );
});
