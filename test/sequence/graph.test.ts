import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Graph } from "../../server/sequence/graph";

function graphOf(size: number, edges: readonly (readonly [number, number])[]): Graph {
  const graph = new Graph(size);
  for (const [before, after] of edges) graph.add(before, after);
  return graph;
}

const anyGraph = fc.integer({ min: 1, max: 25 }).chain((size) =>
  fc.record({
    size: fc.constant(size),
    edges: fc.array(fc.tuple(fc.nat(size - 1), fc.nat(size - 1)), { maxLength: 60 }),
  }),
);

describe("order of a graph", () => {
  test("loops stand in the order in which their first steps are written", () => {
    const edges = [
      [0, 1],
      [1, 0],
      [1, 3],
      [3, 4],
      [4, 3],
      [0, 2],
      [2, 2],
    ] as const;
    expect(graphOf(5, edges).loops()).toEqual([[0, 1], [2], [3, 4]]);
  });

  test("the first written comes first where several could", () => {
    expect(graphOf(4, [[3, 0]]).order()).toEqual([1, 2, 3, 0]);
  });

  test("nodes that do not wait for each other are side by side", () => {
    const graph = graphOf(4, [
      [0, 1],
      [0, 2],
      [1, 3],
      [2, 3],
    ]);
    expect(graph.waves()).toEqual([[0], [1, 2], [3]]);
  });

  test("a loop is named by its nodes in order, what follows it is stuck", () => {
    const graph = graphOf(5, [
      [0, 1],
      [1, 2],
      [2, 0],
      [2, 3],
    ]);
    expect(graph.loops()).toEqual([[0, 1, 2]]);
    expect([...graph.stuck()]).toEqual([0, 1, 2, 3]);
    expect(graph.order()).toEqual([4]);
  });

  test("a node that waits for itself is a loop of one", () => {
    expect(graphOf(2, [[1, 1]]).loops()).toEqual([[1]]);
  });

  test("two knots give two loops", () => {
    const graph = graphOf(5, [
      [3, 4],
      [4, 3],
      [0, 1],
      [1, 0],
    ]);
    expect(graph.loops()).toEqual([
      [0, 1],
      [3, 4],
    ]);
  });

  test("every edge of a graph without loops goes forward in its order", () => {
    fc.assert(
      fc.property(anyGraph, ({ size, edges }) => {
        const forward = edges.filter(([before, after]) => before < after);
        const graph = graphOf(size, forward);
        const order = graph.order();
        expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: size }, (_, i) => i));
        for (const [before, after] of forward) {
          expect(order.indexOf(before)).toBeLessThan(order.indexOf(after));
        }
        const waves = graph.waves();
        expect(waves.flat().length).toBe(size);
        for (const wave of waves) {
          for (const node of wave) {
            const ancestors = graph.ancestors(node);
            for (const other of wave) expect(ancestors.has(other)).toBe(false);
          }
        }
      }),
    );
  });

  test("with loops: what is ordered is in order, each loop is closed, the rest hangs on one", () => {
    fc.assert(
      fc.property(anyGraph, ({ size, edges }) => {
        const graph = graphOf(size, edges);
        const order = graph.order();
        const stuck = graph.stuck();
        expect(order.length + stuck.size).toBe(size);
        for (const [before, after] of edges) {
          if (stuck.has(after)) continue;
          expect(order.indexOf(before)).toBeLessThan(order.indexOf(after));
        }
        const loops = graph.loops();
        expect(loops.length > 0).toBe(stuck.size > 0);
        for (const loop of loops) {
          for (const [index, node] of loop.entries()) {
            expect(graph.has(node, loop[(index + 1) % loop.length] ?? -1)).toBe(true);
          }
        }
        const looped = new Set(loops.flat());
        for (const node of stuck) {
          const near = [node, ...graph.ancestors(node)];
          expect(near.some((each) => looped.has(each) || graph.ancestors(each).has(each))).toBe(
            true,
          );
        }
      }),
    );
  });
});
