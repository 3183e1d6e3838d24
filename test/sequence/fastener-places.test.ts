/**
 * Where fasteners stand and in which order they are tightened, against positions and orders worked
 * out by hand from the rule that is said of each pattern.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type FastenerLayout,
  gapsOfOrder,
  groupedOrder,
  neighborsInSuccession,
  pointsOf,
  rowsOfRectangle,
  tighteningOrder,
} from "../../server/sequence/tightening-order";

const layout = (
  pattern: FastenerLayout["pattern"],
  count: number,
  more: Partial<FastenerLayout> = {},
): FastenerLayout => ({
  count,
  groups: 1,
  pattern,
  ...more,
});

function places(of: FastenerLayout): number[][] {
  return pointsOf(of).map(({ x, y }) => [x, y].map((each) => Math.round(each * 1e9) / 1e9 + 0));
}

/** Pairs that stand side by side, by asking for each two by themselves. */
function neighbors(of: FastenerLayout): string[] {
  const all = Array.from({ length: of.count }, (_, index) => index + 1);
  return all.flatMap((one) =>
    all
      .filter((other) => other > one && neighborsInSuccession([one, other], of).length === 1)
      .map((other) => `${one}-${other}`),
  );
}

describe("where they stand", () => {
  test("on a circle clockwise from the top", () => {
    expect(places(layout("cross", 4))).toEqual([
      [0, 1],
      [1, 0],
      [0, -1],
      [-1, 0],
    ]);
    expect(places(layout("circle", 2))).toEqual([
      [0, 1],
      [0, -1],
    ]);
  });

  test("on a line about its middle", () => {
    expect(places(layout("line", 4))).toEqual([
      [-1.5, 0],
      [-0.5, 0],
      [0.5, 0],
      [1.5, 0],
    ]);
  });

  test("in two rows along the upper and back along the lower", () => {
    expect(places(layout("two_rows", 5))).toEqual([
      [-1, 0.5],
      [0, 0.5],
      [1, 0.5],
      [0.5, -0.5],
      [-0.5, -0.5],
    ]);
  });

  test("round a rectangle from its upper left corner", () => {
    expect(places(layout("rectangle", 10, { columns: 4 }))).toEqual([
      [-1.5, 1],
      [-0.5, 1],
      [0.5, 1],
      [1.5, 1],
      [1.5, 0],
      [1.5, -1],
      [0.5, -1],
      [-0.5, -1],
      [-1.5, -1],
      [-1.5, 0],
    ]);
    // Where so many make no rectangle they stand on a circle.
    expect(places(layout("rectangle", 4, { columns: 4 }))).toEqual(places(layout("cross", 4)));
    expect(places(layout("rectangle", 4))).toEqual(places(layout("cross", 4)));
  });

  test("by coordinates where there are enough of them; one group of several is shown", () => {
    const four = [0, 1, 2, 3].map((x) => ({ x, y: 0 }));
    expect(pointsOf(layout("coordinates", 4, { places: four }))).toEqual(four);
    expect(places(layout("coordinates", 5, { places: four })).length).toBe(5);
    expect(places(layout("line", 6, { groups: 2 }))).toEqual(places(layout("line", 3)));
    expect(places(layout("line", 6, { groups: 4 })).length).toBe(6);
    expect(pointsOf(layout("line", 0))).toEqual([]);
    expect(pointsOf(layout("line", 400)).length).toBe(400);
    expect(pointsOf(layout("line", 401))).toEqual([]);
  });

  test("a rectangle has two columns and two rows at least", () => {
    expect(rowsOfRectangle(10, 4)).toBe(3);
    expect(rowsOfRectangle(4, 2)).toBe(2);
    expect(rowsOfRectangle(6, 2)).toBe(3);
    expect(rowsOfRectangle(6, 4)).toBeUndefined();
    expect(rowsOfRectangle(4, 1)).toBeUndefined();
    expect(rowsOfRectangle(9, 3)).toBeUndefined();
  });
});

describe("who stands beside whom", () => {
  test("on a circle the first and the last, on a line not", () => {
    expect(neighbors(layout("cross", 5))).toEqual(["1-2", "1-5", "2-3", "3-4", "4-5"]);
    expect(neighbors(layout("line", 4))).toEqual(["1-2", "2-3", "3-4"]);
  });

  test("in two rows along each, never across", () => {
    expect(neighbors(layout("two_rows", 6))).toEqual(["1-2", "2-3", "4-5", "5-6"]);
    // The upper row has the odd one.
    expect(neighbors(layout("two_rows", 5))).toEqual(["1-2", "2-3", "4-5"]);
    expect(neighbors(layout("two_rows", 8, { groups: 2 }))).toEqual(["1-2", "3-4", "5-6", "7-8"]);
  });

  test("groups stand apart", () => {
    expect(neighbors(layout("line", 6, { groups: 2 }))).toEqual(["1-2", "2-3", "4-5", "5-6"]);
    expect(neighbors(layout("cross", 8, { groups: 2 }))).toEqual(
      ["1-2", "1-4", "2-3", "3-4"].concat(["5-6", "5-8", "6-7", "7-8"]),
    );
  });

  test("by coordinates up to a fifth farther than the nearest", () => {
    // 0, 10, 22: the last is 12 from the second, a fifth farther than the first is.
    const at = (...xs: number[]) => xs.map((x) => ({ x, y: 0 }));
    const row = (...xs: number[]) => layout("coordinates", xs.length, { places: at(...xs) });
    expect(neighbors(row(0, 10, 22))).toEqual(["1-2", "2-3"]);
    // Each is the nearest of one of the two: that is enough.
    expect(neighbors(row(0, 10, 24))).toEqual(["1-2", "2-3"]);
    // 24 from the second is far for both, whose nearest are 10 and 10 away.
    expect(neighbors(row(0, 10, 34, 44))).toEqual(["1-2", "3-4"]);
    // Both ways count: up as well as to the right.
    const square = [
      [0, 0],
      [3, 4],
      [6, 0],
      [0, 5],
    ].map(([x = 0, y = 0]) => ({ x, y }));
    // Distances 5, 6, 5 from the first; 5, 3.2 from the second; 7.8 from the third to the fourth.
    expect(neighbors(layout("coordinates", 4, { places: square }))).toEqual([
      "1-2",
      "1-3",
      "1-4",
      "2-3",
      "2-4",
    ]);
  });
});

describe("orders by hand", () => {
  // The middle of the widest gap, then the one across from it (the rule as told; by hand).
  test("seven and nine on a circle", () => {
    expect(tighteningOrder(7, "cross")).toEqual([1, 4, 6, 2, 5, 3, 7]);
    expect(tighteningOrder(9, "cross")).toEqual([1, 5, 8, 3, 7, 2, 6, 9, 4]);
    expect(tighteningOrder(3, "cross")).toEqual([1, 2, 3]);
    expect(tighteningOrder(2, "cross")).toEqual([1, 2]);
    expect(tighteningOrder(4, "circle")).toEqual([1, 2, 3, 4]);
  });

  // From the middle outwards, each followed by the one opposite (the rule as told; by hand).
  test("six in two rows, ten in a rectangle of four columns", () => {
    expect(groupedOrder(layout("two_rows", 6))).toEqual([[2, 5, 1, 4, 3, 6]]);
    expect(groupedOrder(layout("rectangle", 10, { columns: 4 }))).toEqual([
      [2, 7, 3, 8, 5, 10, 4, 9, 1, 6],
    ]);
    expect(groupedOrder(layout("rectangle", 8, { columns: 7 }))).toEqual([
      tighteningOrder(8, "cross"),
    ]);
  });

  test("by coordinates as by the pattern they lie on, each group by its own", () => {
    // Farther from row to row than along a row.
    const six = pointsOf(layout("two_rows", 6)).map(({ x, y }) => ({ x, y: 6 * y }));
    const places = [...six, ...six.map(({ x, y }) => ({ x: x + 50, y: y - 20 }))];
    expect(groupedOrder(layout("coordinates", 12, { groups: 2, places }))).toEqual([
      [2, 5, 1, 4, 3, 6],
      [8, 11, 7, 10, 9, 12],
    ]);
    expect(groupedOrder(layout("coordinates", 8, { places: six }))).toEqual([
      tighteningOrder(8, "cross"),
    ]);
  });
});

describe("any coordinates", () => {
  const places = fc.uniqueArray(
    fc.record({ x: fc.integer({ min: 0, max: 5 }), y: fc.integer({ min: 0, max: 5 }) }),
    { minLength: 4, maxLength: 14, selector: ({ x, y }) => `${x} ${y}` },
  );

  test("each once, and none after its neighbor that could stand elsewhere", () => {
    fc.assert(
      fc.property(places, (points) => {
        const of = layout("coordinates", points.length, { places: points });
        const [order = []] = groupedOrder(of);
        expect(gapsOfOrder(order, points.length)).toEqual({ missing: [], twice: [], unknown: [] });
        expect(order.length).toBe(points.length);
        const meets = (one: number | undefined, other: number | undefined): boolean =>
          one !== undefined &&
          other !== undefined &&
          neighborsInSuccession([one, other], of).length > 0;
        for (let at = 1; at < order.length; at++) {
          if (!meets(order[at - 1], order[at])) continue;
          const rest = order.filter((_, index) => index !== at);
          if (meets(rest[at - 1], rest[at])) continue;
          const better = rest.some(
            (_, index) =>
              index > 0 &&
              index !== at &&
              !meets(rest[index - 1], order[at]) &&
              !meets(order[at], rest[index]),
          );
          const atEnd = at !== rest.length && !meets(rest[rest.length - 1], order[at]);
          expect(better || atEnd, `${order.join(" ")} at ${at}`).toBe(false);
        }
      }),
      { numRuns: 150, seed: 3 },
    );
  });
});

describe("gaps of an order", () => {
  test("one missing and one doubled do not cancel out", () => {
    expect(gapsOfOrder([1, 2, 3, 4, 4], 5)).toEqual({ missing: [5], twice: [4], unknown: [] });
    expect(gapsOfOrder([1, 1, 1], 3)).toEqual({ missing: [2, 3], twice: [1, 1], unknown: [] });
  });

  test("what is no place is none, be it below, above or between", () => {
    expect(gapsOfOrder([0, 1, 2.5, 3, 4, -1], 3)).toEqual({
      missing: [2],
      twice: [],
      unknown: [0, 2.5, 4, -1],
    });
    expect(gapsOfOrder([], 0)).toEqual({ missing: [], twice: [], unknown: [] });
  });
});
