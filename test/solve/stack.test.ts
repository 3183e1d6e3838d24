import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lookUp } from "../../server/solve/evaluate";
import { allotStacks, bestStack, stackCountCurve, stackCurve } from "../../server/solve/stack";

const kit = { sizes: [0.004, 0.007, 0.012, 0.018] };

describe("the best stack", () => {
  it("meets 0.026 with 0.018 + 0.007 where 0.001 may be left", () => {
    const stack = bestStack(kit, 0.026, 0.001);
    expect(stack.pieces).toEqual([0.018, 0.007]);
    expect(stack.residual).toBeCloseTo(0.001, 12);
    expect(stack.met).toBe(true);
  });

  it("takes one piece more only where it must", () => {
    expect(bestStack({ sizes: [1, 5] }, 5.4, 0.5).pieces).toEqual([5]);
    expect(bestStack({ sizes: [1, 5] }, 5.6, 0.5).pieces).toEqual([5, 1]);
  });

  it("takes the nearest where nothing is near enough, and says so", () => {
    const stack = bestStack({ sizes: [4] }, 6.5, 0.1);
    expect(stack).toMatchObject({ pieces: [4, 4], met: false });
    expect(bestStack({ sizes: [4] }, 1, 0.1)).toMatchObject({ pieces: [], met: false });
  });

  it("does not take more than the kit holds", () => {
    const stack = bestStack({ sizes: [2, 1], quantities: [1, 3] }, 4, 0);
    expect(stack.pieces).toEqual([2, 1, 1]);
  });

  it("needs nothing where nothing is wanted", () => {
    for (const wanted of [0, -1, Number.NaN])
      expect(bestStack(kit, wanted, 0.001).pieces).toEqual([]);
    expect(bestStack({ sizes: [] }, 1, 0.001).pieces).toEqual([]);
    expect(bestStack({ sizes: [0, -1, Number.NaN] }, 1, 0.1).pieces).toEqual([]);
  });

  it("agrees with trying every stack", () => {
    fc.assert(
      fc.property(
        kits,
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 0, max: 3 }),
        (given, wanted, allowed) => {
          const found = bestStack(given, wanted, allowed, 4);
          const all = everyStack(given, 4);
          const met = all.filter((pieces) => Math.abs(wanted - total(pieces)) <= allowed);
          expect(found.met).toBe(met.length > 0);
          expect(within(found.pieces, given)).toBe(true);
          if (met.length > 0) {
            const fewest = Math.min(...met.map((pieces) => pieces.length));
            expect(found.pieces).toHaveLength(fewest);
            const nearest = Math.min(
              ...met
                .filter((pieces) => pieces.length === fewest)
                .map((pieces) => Math.abs(wanted - total(pieces))),
            );
            expect(Math.abs(found.residual)).toBe(nearest);
          } else {
            expect(Math.abs(found.residual)).toBe(
              Math.min(...all.map((pieces) => Math.abs(wanted - total(pieces)))),
            );
          }
        },
      ),
    );
  });

  it("does not depend on the order of the sizes", () => {
    fc.assert(
      fc.property(kits, fc.integer({ min: 1, max: 60 }), (given, wanted) => {
        const turned = {
          sizes: [...given.sizes].reverse(),
          quantities: [...given.quantities].reverse(),
        };
        expect(bestStack(turned, wanted, 1)).toEqual(bestStack(given, wanted, 1));
      }),
    );
  });
});

describe("several stacks from one kit", () => {
  it("leaves for another what it can do without", () => {
    // Taken one after the other, the first would use up the only 3.
    const stacks = allotStacks({ sizes: [3, 2, 1], quantities: [1, 1, 1] }, [3, 3], 0);
    expect(stacks.every((stack) => stack.met)).toBe(true);
    expect(stacks.map((stack) => stack.pieces.length).sort()).toEqual([1, 2]);
  });

  it("says which of them cannot be met", () => {
    const stacks = allotStacks({ sizes: [2], quantities: [1] }, [2, 2], 0.5);
    expect(stacks.filter((stack) => stack.met)).toHaveLength(1);
  });

  it("never hands out more than there is, and meets all where trying everything would", () => {
    const wanteds = fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(kits, wanteds, (given, wanted) => {
        const stacks = allotStacks(given, wanted, 1, 3);
        expect(
          within(
            stacks.flatMap((stack) => stack.pieces),
            given,
          ),
        ).toBe(true);
        stacks.forEach((stack, at) => {
          expect(stack.met).toBe(Math.abs(wanted[at]! - total(stack.pieces)) <= 1);
        });
        expect(stacks.every((stack) => stack.met)).toBe(canMeetAll(given, wanted));
      }),
      { numRuns: 60 },
    );
  });
});

describe("several stacks, by trying every way to hand the pieces out", () => {
  it("as many met as can be, with the fewest pieces in all, then with the least left over", () => {
    fc.assert(
      fc.property(
        kits,
        fc.array(fc.integer({ min: 0, max: 14 }), { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 0, max: 2 }),
        (given, wanted, allowed) => {
          const stacks = allotStacks(given, wanted, allowed, 3);
          const met = stacks.filter((stack) => stack.met);
          const own = [
            wanted.length - met.length,
            met.reduce((sum, { pieces }) => sum + pieces.length, 0),
            met.reduce((sum, { residual }) => sum + Math.abs(residual), 0),
          ];
          expect(own).toEqual(cheapest(given, wanted, allowed));
          for (const { pieces, sum, residual } of stacks) {
            expect([...pieces].sort((a, b) => b - a)).toEqual(pieces);
            expect(sum).toBe(total(pieces));
            expect(residual).toBe(wanted[stacks.findIndex((s) => s.pieces === pieces)]! - sum);
          }
          // What could not be met has the nearest of what the others leave.
          const left = given.quantities.map(
            (count, at) =>
              count -
              met.flatMap(({ pieces }) => pieces).filter((each) => each === given.sizes[at]).length,
          );
          const [first] = stacks.filter((stack) => !stack.met);
          if (first === undefined) return;
          const rest = everyStack({ sizes: given.sizes, quantities: left }, 3);
          const at = stacks.indexOf(first);
          expect(Math.abs(first.residual)).toBe(
            Math.min(...rest.map((pieces) => Math.abs(wanted[at]! - total(pieces)))),
          );
        },
      ),
      { numRuns: 60, seed: 8 },
    );
  });

  it("from a kit of which there is plenty, or of which a size is named twice", () => {
    expect(allotStacks({ sizes: [2, 5] }, [7, 7, 4], 0).map(({ pieces }) => pieces)).toEqual([
      [5, 2],
      [5, 2],
      [2, 2],
    ]);
    // One 2 and another 2 are two of them; two and a half are two.
    const twice = { sizes: [2, 2, 3], quantities: [1, 1, 0] };
    expect(allotStacks(twice, [4, 2], 0).map(({ met }) => met)).toEqual([false, true]);
    expect(bestStack(twice, 4, 0).pieces).toEqual([2, 2]);
    expect(bestStack({ sizes: [2], quantities: [2.5] }, 6, 0).pieces).toEqual([2, 2]);
    expect(bestStack({ sizes: [2], quantities: [-1] }, 4, 0).pieces).toEqual([]);
    expect(bestStack({ sizes: [2, Number.POSITIVE_INFINITY] }, 4, 0).pieces).toEqual([2, 2]);
  });

  it("of two that are as near, the one of fewer pieces, then the smaller", () => {
    expect(bestStack({ sizes: [1, 2] }, 3.5, 0, 1).pieces).toEqual([2]);
    // 4 and 6 are as near to 5.
    expect(bestStack({ sizes: [4, 6] }, 5, 0, 1).pieces).toEqual([4]);
    expect(bestStack({ sizes: [4, 6] }, 5, 1, 1).pieces).toEqual([4]);
    // 2 + 2 and 6 are as near to 5; one piece is fewer.
    expect(bestStack({ sizes: [2, 6] }, 5, 0, 2).pieces).toEqual([6]);
    expect(bestStack({ sizes: [2, 6] }, 5, 0, 2).residual).toBe(-1);
  });
});

describe("the stack as a curve", () => {
  it("halfway between two sums the smaller holds", () => {
    // 0 below 5, 10 up to 15, 20 from there on.
    const of = stackCurve([10], 2, 1);
    expect([4.99, 5.01, 14.99, 15, 15.01].map((wanted) => lookUp(of, wanted))).toEqual([
      0, 10, 10, 10, 20,
    ]);
  });

  it("agrees with the best stack everywhere", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 5 }),
        fc.integer({ min: 0, max: 3 }),
        fc.double({ min: 0, max: 150, noNaN: true }),
        (sizes, allowed, wanted) => {
          const best = bestStack({ sizes }, wanted, allowed, 4);
          expect(lookUp(stackCurve(sizes, 4, allowed), wanted)).toBe(best.sum);
          expect(lookUp(stackCountCurve(sizes, 4, allowed), wanted)).toBe(best.pieces.length);
        },
      ),
    );
  });

  it("does not use more than the kit holds", () => {
    fc.assert(
      fc.property(
        kits,
        fc.integer({ min: 0, max: 3 }),
        fc.double({ min: 0, max: 90, noNaN: true }),
        ({ sizes, quantities }, allowed, wanted) => {
          const best = bestStack({ sizes, quantities }, wanted, allowed, 4);
          expect(lookUp(stackCurve(sizes, 4, allowed, quantities), wanted)).toBe(best.sum);
          expect(lookUp(stackCountCurve(sizes, 4, allowed, quantities), wanted)).toBe(
            best.pieces.length,
          );
        },
      ),
    );
  });

  it("counts what is left over as allowed to the last digit", () => {
    const inch = 0.0254;
    const sizes = kit.sizes.map((size) => size * inch);
    expect(lookUp(stackCurve(sizes, 6, 0.001 * inch), 0.026 * inch)).toBeCloseTo(0.025 * inch, 12);
    expect(lookUp(stackCountCurve(sizes, 6, 0.001 * inch), 0.026 * inch)).toBe(2);
  });

  it("reaches from nothing to beyond the kit", () => {
    const curve = stackCurve([10], 2, 1);
    expect([0, 4, 9, 11, 16, 25, 1e9].map((wanted) => lookUp(curve, wanted))).toEqual([
      0, 0, 10, 10, 20, 20, 20,
    ]);
    expect(lookUp(stackCurve([], 6, 1), 5)).toBe(0);
  });

  it("stays small and quick for a kit of hundreds of sizes", () => {
    const sizes = Array.from({ length: 400 }, (_, at) => 1 + at * 0.731);
    const started = performance.now();
    expect(stackCurve(sizes, 6, 0.1).keys.length).toBeLessThan(100_000);
    bestStack({ sizes }, 1234, 0);
    expect(performance.now() - started).toBeLessThan(5_000);
  });
});

// ───────────────────────────── helpers ─────────────────────────────

const kits = fc
  .uniqueArray(fc.integer({ min: 1, max: 20 }), { minLength: 1, maxLength: 4 })
  .chain((sizes) =>
    fc.record({
      sizes: fc.constant(sizes),
      quantities: fc.array(fc.integer({ min: 0, max: 3 }), {
        minLength: sizes.length,
        maxLength: sizes.length,
      }),
    }),
  );

interface TestKit {
  readonly sizes: readonly number[];
  readonly quantities: readonly number[];
}

function total(pieces: readonly number[]): number {
  return pieces.reduce((sum, piece) => sum + piece, 0);
}

function within(pieces: readonly number[], given: TestKit): boolean {
  return given.sizes.every(
    (size, at) => pieces.filter((piece) => piece === size).length <= given.quantities[at]!,
  );
}

/** All stacks of up to `most` pieces, plainly counted out. */
function everyStack({ sizes, quantities }: TestKit, most: number): number[][] {
  let stacks: number[][] = [[]];
  sizes.forEach((size, at) => {
    stacks = stacks.flatMap((stack) =>
      Array.from({ length: quantities[at]! + 1 }, (_, count) => [
        ...stack,
        ...new Array<number>(count).fill(size),
      ]),
    );
  });
  return stacks.filter((stack) => stack.length <= most);
}

function canMeetAll(given: TestKit, wanted: readonly number[]): boolean {
  const [first, ...rest] = wanted;
  if (first === undefined) return true;
  return everyStack(given, 3).some((pieces) => {
    if (Math.abs(first - total(pieces)) > 1) return false;
    const quantities = given.sizes.map(
      (size, at) => given.quantities[at]! - pieces.filter((piece) => piece === size).length,
    );
    return canMeetAll({ sizes: given.sizes, quantities }, rest);
  });
}

/** How many stay unmet, with how many pieces, with how much left over, at the least. */
function cheapest(given: TestKit, wanted: readonly number[], allowed: number): number[] {
  const [first, ...rest] = wanted;
  if (first === undefined) return [0, 0, 0];
  const skipped = cheapest(given, rest, allowed);
  let best = [skipped[0]! + 1, skipped[1]!, skipped[2]!];
  for (const pieces of everyStack(given, 3)) {
    const off = Math.abs(first - total(pieces));
    if (off > allowed) continue;
    const quantities = given.sizes.map(
      (size, at) => given.quantities[at]! - pieces.filter((piece) => piece === size).length,
    );
    const [unmet, count, left] = cheapest({ sizes: given.sizes, quantities }, rest, allowed);
    const cost = [unmet!, count! + pieces.length, left! + off];
    const at = cost.findIndex((each, place) => each !== best[place]);
    if (at >= 0 && cost[at]! < best[at]!) best = cost;
  }
  return best;
}
