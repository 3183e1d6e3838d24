/**
 * Steps as a graph: what waits for what, loops, a valid order, what can go on side by side.
 *
 *     const graph = new Graph(3); graph.add(0, 1); graph.add(1, 2); graph.order()   →   [0, 1, 2]
 *
 * Nodes are numbers in the order in which they are written, and ties are broken by it. Must not
 * know: steps, builds.
 */

import { Lists } from "../keep/lists";
import { goOn } from "../keep/patience";

export class Graph {
  private readonly follows: Set<number>[];
  private readonly precedes: Set<number>[];

  constructor(readonly size: number) {
    this.follows = Array.from({ length: size }, () => new Set());
    this.precedes = Array.from({ length: size }, () => new Set());
  }

  /** `before` comes before `after`. */
  add(before: number, after: number): void {
    this.precedes[before]!.add(after);
    this.follows[after]!.add(before);
  }

  has(before: number, after: number): boolean {
    return this.precedes[before]!.has(after);
  }

  /** Direct predecessors, ascending. */
  before(node: number): number[] {
    return [...this.follows[node]!].sort(ascending);
  }

  /** Direct successors, ascending. */
  after(node: number): number[] {
    return [...this.precedes[node]!].sort(ascending);
  }

  /** All that must come before `node`, itself left out (unless it waits for itself). */
  ancestors(node: number): Set<number> {
    return reached(node, this.follows);
  }

  descendants(node: number): Set<number> {
    return reached(node, this.precedes);
  }

  /** The shortest way from `from` to `to` along "comes before", both ends included. */
  path(from: number, to: number): number[] | undefined {
    const cameFrom = new Map<number, number>();
    const queue = [from];
    for (const node of queue) {
      for (const next of this.after(node)) {
        goOn();
        if (next === to) return [...backwards(node, from, cameFrom).reverse(), to];
        if (next === from || cameFrom.has(next)) continue;
        cameFrom.set(next, node);
        queue.push(next);
      }
    }
    return undefined;
  }

  /** One shortest loop for each knot of steps that wait for each other, in written order. */
  loops(): number[][] {
    const loops: number[][] = [];
    for (const knot of this.knots()) {
      const start = Math.min(...knot);
      const loop = this.path(start, start);
      if (loop !== undefined) loops.push(loop.slice(0, -1));
    }
    return loops.sort((one, other) => one[0]! - other[0]!);
  }

  /** Nodes in or after a loop: they can never start. */
  stuck(): Set<number> {
    const sorted = new Set(this.order());
    const stuck = new Set<number>();
    for (let node = 0; node < this.size; node++) if (!sorted.has(node)) stuck.add(node);
    return stuck;
  }

  /** A valid order of all nodes that can start; of several that could come next, the first written. */
  order(): number[] {
    const waiting = this.follows.map((before) => before.size);
    const ready = new MinHeap();
    for (const [node, count] of waiting.entries()) if (count === 0) ready.push(node);
    const order: number[] = [];
    for (let node = ready.pop(); node !== undefined; node = ready.pop()) {
      order.push(node);
      for (const next of this.precedes[node]!) {
        const left = waiting[next]! - 1;
        waiting[next] = left;
        if (left === 0) ready.push(next);
      }
    }
    return order;
  }

  /** Waves: nodes of one wave do not wait for each other, each waits for some of the wave before. */
  waves(): number[][] {
    const waveOf = new Map<number, number>();
    const waves = new Lists<number, number>();
    for (const node of this.order()) {
      let wave = 0;
      for (const before of this.follows[node]!) wave = Math.max(wave, waveOf.get(before)! + 1);
      waveOf.set(node, wave);
      waves.add(wave, node);
    }
    return [...waves.values()].map((wave) => [...wave].sort(ascending));
  }

  /** Sets of nodes that wait for each other (Tarjan's strongly connected components). */
  private knots(): number[][] {
    const stuck = this.stuck();
    const index = new Map<number, number>();
    const low = new Map<number, number>();
    const open: number[] = [];
    const isOpen = new Set<number>();
    const knots: number[][] = [];
    for (const root of [...stuck].sort(ascending)) {
      if (index.has(root)) continue;
      const work: { node: number; next: number[] }[] = [];
      const enter = (node: number): void => {
        index.set(node, index.size);
        low.set(node, index.get(node)!);
        open.push(node);
        isOpen.add(node);
        work.push({ node, next: this.after(node).filter((each) => stuck.has(each)) });
      };
      enter(root);
      for (let top = work[work.length - 1]; top !== undefined; top = work[work.length - 1]) {
        const { node, next } = top;
        const child = next.shift();
        if (child !== undefined) {
          if (!index.has(child)) enter(child);
          else if (isOpen.has(child)) {
            low.set(node, Math.min(low.get(node)!, index.get(child)!));
          }
          continue;
        }
        work.pop();
        const parent = work[work.length - 1];
        if (parent !== undefined) {
          low.set(parent.node, Math.min(low.get(parent.node)!, low.get(node)!));
        }
        if (low.get(node) !== index.get(node)) continue;
        const knot: number[] = [];
        for (let member = open.pop(); member !== undefined; member = open.pop()) {
          isOpen.delete(member);
          knot.push(member);
          if (member === node) break;
        }
        if (knot.length > 1 || this.has(node, node)) knots.push(knot);
      }
    }
    return knots;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function reached(node: number, edges: readonly ReadonlySet<number>[]): Set<number> {
  const seen = new Set<number>();
  const stack = [node];
  for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
    for (const next of edges[at]!) {
      goOn();
      if (seen.has(next)) continue;
      seen.add(next);
      stack.push(next);
    }
  }
  return seen;
}

function backwards(node: number, from: number, cameFrom: ReadonlyMap<number, number>): number[] {
  const way: number[] = [];
  for (let at: number | undefined = node; at !== undefined && at !== from; at = cameFrom.get(at)) {
    way.push(at);
  }
  return [...way, from];
}

function ascending(one: number, other: number): number {
  return one - other;
}

/** The least number first; keeps large plans from being sorted again and again. */
class MinHeap {
  private readonly items: number[] = [];

  push(value: number): void {
    const { items } = this;
    items.push(value);
    let at = items.length - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (items[above]! <= value) break;
      items[at] = items[above]!;
      at = above;
    }
    items[at] = value;
  }

  pop(): number | undefined {
    const { items } = this;
    const least = items[0];
    const value = items.pop()!;
    if (items.length === 0) return least;
    let at = 0;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= items.length) break;
      if (child + 1 < items.length && items[child + 1]! < items[child]!) child++;
      if (value <= items[child]!) break;
      items[at] = items[child]!;
      at = child;
    }
    items[at] = value;
    return least;
  }
}
