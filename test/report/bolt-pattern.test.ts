/** Drawings of tightening orders. */
import { describe, expect, test } from "vitest";
import { boltPattern, orderInWords } from "../../server/report/bolt-pattern";
import { groupedOrder, tighteningOrder } from "../../server/sequence";

/** Each fastener's turn and its place in the drawing. */
function drawn(svg: string | undefined): { turn: number; x: number; y: number }[] {
  const found = (svg ?? "").matchAll(/<text x="([\d.-]+)" y="([\d.-]+)"[^>]*>(\d+)<\/text>/g);
  return [...found].map(([, x, y, turn]) => ({ turn: Number(turn), x: Number(x), y: Number(y) }));
}

describe("a star of five", () => {
  // Common practice, no source: 1, 3, 5, 2, 4, each a step over its neighbour.
  const order = [tighteningOrder(5, "cross")];
  const svg = boltPattern({ title: "Wheel nuts <front>", count: 5, order, pattern: "cross" });

  test("numbers every fastener once, the first at the top", () => {
    const bolts = drawn(svg);
    expect(bolts.map(({ turn }) => turn).sort()).toEqual([1, 2, 3, 4, 5]);
    const first = bolts.find(({ turn }) => turn === 1);
    expect([first?.x, first?.y]).toEqual([120, 32]);
  });

  test("leaves no neighbour to be tightened next", () => {
    const bolts = drawn(svg).sort((one, other) => one.turn - other.turn);
    const side = 2 * 88 * Math.sin(Math.PI / 5);
    for (const [index, bolt] of bolts.entries()) {
      const next = bolts[index + 1];
      if (next === undefined) break;
      expect(Math.hypot(next.x - bolt.x, next.y - bolt.y)).toBeGreaterThan(side + 1);
    }
  });

  test("says in words what it shows", () => {
    expect(svg).toContain("<title>Wheel nuts &lt;front&gt;: tightening order</title>");
    expect(orderInWords(order, false)).toBe("places clockwise from the top: 1, 3, 5, 2, 4");
  });
});

test("fasteners in a line stand side by side", () => {
  const order = [tighteningOrder(6, "line")];
  const bolts = drawn(boltPattern({ title: "Cover", count: 6, order, pattern: "line" }));
  expect(new Set(bolts.map(({ y }) => y)).size).toBe(1);
  expect(bolts).toHaveLength(6);
});

test("groups are numbered through", () => {
  const order = groupedOrder(8, 4, "cross");
  const bolts = drawn(boltPattern({ title: "Flange", count: 8, order, pattern: "cross" }));
  expect(bolts.map(({ turn }) => turn)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
});

test("nothing to draw is no drawing", () => {
  expect(boltPattern({ title: "x", count: 0, order: [], pattern: "cross" })).toBeUndefined();
  expect(boltPattern({ title: "x", count: 61, order: [[1]], pattern: "cross" })).toBeUndefined();
});
