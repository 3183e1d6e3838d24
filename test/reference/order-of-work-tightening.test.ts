/**
 * Tightening orders and passes held against published practice.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { passesOf, passProblem } from "../../server/sequence/passes";
import {
  gapsOfOrder,
  groupedOrder,
  neighborsInSuccession,
  rowsOfRectangle,
  tighteningOrder,
} from "../../server/sequence/tightening-order";

describe("legacy cross pattern", () => {
  // ASME PCC-1, legacy cross-pattern sequences by clockwise position (from memory).
  test.each([
    [4, [1, 3, 2, 4]],
    [8, [1, 5, 3, 7, 2, 6, 4, 8]],
    [12, [1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]],
    [16, [1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16]],
    [20, [1, 11, 6, 16, 3, 13, 8, 18, 5, 15, 10, 20, 2, 12, 7, 17, 4, 14, 9, 19]],
  ])("%i fasteners", (count, order) => {
    expect(tighteningOrder(count, "cross")).toEqual(order);
  });
});

describe("wheels and covers", () => {
  // Common practice for wheels and round covers, no source.
  test.each([
    [5, [1, 3, 5, 2, 4]],
    [6, [1, 4, 2, 5, 3, 6]],
    [10, [1, 6, 3, 8, 5, 10, 2, 7, 4, 9]],
  ])("%i fasteners", (count, order) => {
    expect(tighteningOrder(count, "cross")).toEqual(order);
  });
});

describe("any count", () => {
  const count = fc.integer({ min: 1, max: 120 });

  test("every pattern names every fastener once", () => {
    fc.assert(
      fc.property(count, fc.constantFrom("cross", "circle", "line"), (n, pattern) => {
        const order = tighteningOrder(n, pattern);
        expect(gapsOfOrder(order, n)).toEqual({ missing: [], twice: [], unknown: [] });
        expect(order.length).toBe(n);
      }),
    );
  });

  // ASME PCC-1: in a cross pattern each fastener is followed by the one opposite.
  test("even counts: every other fastener is followed by its opposite", () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 60 }), (half) => {
        const order = tighteningOrder(2 * half, "cross");
        for (let at = 0; at < order.length; at += 2) {
          expect(Math.abs((order[at + 1] ?? 0) - (order[at] ?? 0))).toBe(half);
        }
      }),
    );
  });

  test("from five fasteners on, neighbors never follow each other", () => {
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 120 }), (n) => {
        expect(
          neighborsInSuccession(tighteningOrder(n, "cross"), {
            count: n,
            groups: 1,
            pattern: "cross",
          }),
        ).toEqual([]);
      }),
    );
  });

  // ASME PCC-1's purpose, common practice for the other patterns: even clamping, never side by side.
  test.each(["cross", "rectangle", "two_rows"] as const)(
    "5 to 40 fasteners, %s, in one group and in several: no two neighbors within a pass",
    (pattern) => {
      for (let each = 5; each <= 40; each++) {
        for (const groups of [1, 2, 3]) {
          for (const columns of columnsOf(each, pattern)) {
            const layout = { count: each * groups, groups, pattern, columns };
            const order = groupedOrder(layout).flat();
            expect(gapsOfOrder(order, layout.count)).toEqual({
              missing: [],
              twice: [],
              unknown: [],
            });
            expect(neighborsInSuccession(order, layout), JSON.stringify(layout)).toEqual([]);
          }
        }
      }
    },
  );

  test("by their coordinates: a grid with one in its middle begins there", () => {
    const places = [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((x) => ({ x: x * 0.04, y: y * 0.03 })));
    const layout = { count: 9, groups: 1, pattern: "coordinates", places } as const;
    const [order = []] = groupedOrder(layout);
    expect(order[0]).toBe(5);
    expect(gapsOfOrder(order, 9)).toEqual({ missing: [], twice: [], unknown: [] });
    expect(order.slice(-4).sort()).toEqual([1, 3, 7, 9]);
  });

  // Common practice, no source: a ring that closes from two sides at once clamps like a zip.
  test("odd counts from 7 up do not walk round on two fronts", () => {
    for (let count = 7; count <= 39; count += 2) {
      const order = tighteningOrder(count, "cross");
      for (const start of [0, 1]) {
        const front = order.filter((_, at) => at % 2 === start);
        const ways = front.slice(1).map((place, at) => (place - (front[at] ?? 0) + count) % count);
        const walks = ways.filter(
          (way, at) => way === ways[at - 1] && (way === 1 || way === count - 1),
        );
        expect(walks.length, `${count}: ${order.join(" ")}`).toBeLessThan(ways.length / 2);
      }
    }
  });

  // Common practice, no source: pans, caps and rails from the middle outwards.
  test("a line goes from the middle outwards", () => {
    expect(tighteningOrder(5, "line")).toEqual([3, 2, 4, 1, 5]);
    expect(tighteningOrder(6, "line")).toEqual([3, 4, 2, 5, 1, 6]);
  });

  test("groups are numbered on and done one after the other", () => {
    expect(groupedOrder({ count: 8, groups: 2, pattern: "cross" })).toEqual([
      [1, 3, 2, 4],
      [5, 7, 6, 8],
    ]);
    expect(groupedOrder({ count: 8, groups: 3, pattern: "cross" })).toEqual([
      [1, 5, 3, 7, 2, 6, 4, 8],
    ]);
  });

  test("what is no count has no order", () => {
    expect(tighteningOrder(0)).toEqual([]);
    expect(tighteningOrder(2.5)).toEqual([]);
    expect(tighteningOrder(Number.NaN)).toEqual([]);
    expect(tighteningOrder(1e9)).toEqual([]);
    expect(groupedOrder({ count: 1e9, groups: 2, pattern: "cross" })).toEqual([]);
  });
});

/** Every way to set so many round a rectangle; one way for other patterns. */
function columnsOf(count: number, pattern: string): (number | undefined)[] {
  if (pattern !== "rectangle") return [undefined];
  const ways = Array.from({ length: count }, (_, index) => index + 2).filter(
    (columns) => rowsOfRectangle(count, columns) !== undefined,
  );
  return [undefined, ...ways];
}

describe("passes", () => {
  // ASME PCC-1: 30, 70 and 100 %, then one circular pass at 100 %.
  test("24, 56 and 80 for 80, then once round", () => {
    const passes = passesOf([0.3, 0.7, 1], 80);
    expect(passes.map((pass) => pass.torque)).toEqual(
      [24, 56, 80, 80].map((torque) => expect.closeTo(torque, 9)),
    );
    expect(passes.map((pass) => pass.circular)).toEqual([false, false, false, true]);
    expect(passes[2]?.torque).toBe(80);
  });

  test("passes climb to the whole torque", () => {
    expect(passProblem([0.3, 0.7, 1])).toBeUndefined();
    expect(passProblem([0.3, 0.7])).toEqual({ is: "not-full", share: 0.7 });
    expect(passProblem([0.7, 0.3, 1])).toEqual({ is: "falls", pass: 2 });
    expect(passProblem([0.5, 1.2])).toEqual({ is: "beyond", pass: 2, share: 1.2 });
    expect(passProblem([])).toEqual({ is: "none" });
  });
});
