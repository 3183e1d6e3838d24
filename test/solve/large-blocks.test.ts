/**
 * Worst cases of dozens of figures that are solved together, against solving at drawn places: nothing
 * lies beyond what is told, and it lies little further out than what was found; of hundreds it is told
 * as found.
 */
import { expect, test } from "vitest";
import { solve, spreadOf } from "../../server/solve";
import { withGivens } from "../../server/solve/with-givens";
import { add, exactly, mul, pow, SystemBuilder, sub, within } from "./build";
import { randoms } from "./random-systems";

/** Springs in a ring, each to the ground by one that stiffens. */
function ring(count: number, by: number): SystemBuilder {
  const builder = new SystemBuilder();
  for (let i = 0; i < count; i++) {
    builder.variable(`x${i}`, { range: [-50, 50] }).given({
      [`load${i}`]: within(1 + (i % 5) * 0.3, by),
      [`rate${i}`]: within(1 + (i % 3) * 0.2, by / 4),
    });
  }
  for (let i = 0; i < count; i++) {
    const apart = sub(mul(2, `x${i}`), `x${(i + count - 1) % count}`, `x${(i + 1) % count}`);
    const force = add(mul(`rate${i}`, apart), `x${i}`, mul(0.1, pow(`x${i}`, 3)));
    builder.equation(`ring ${i}`, force, `load${i}`);
  }
  return builder;
}

test.each([
  [52, 0.05, 1.01],
  [64, 0.2, 1.15],
  [130, 0.05, 1.1],
])("%d together, by ± %d", (count, by, wider) => {
  const builder = ring(count, by);
  const base = solve(builder.system());
  const at = builder.index("x7");
  const value = base.values[at]!;
  const spread = spreadOf(base, builder.quantity("x7"))!;
  expect([spread.below.known, spread.above.known]).toEqual(["proved", "proved"]);
  expect(spread.worstBelow).toBeLessThan(wider * spread.below.found);
  expect(spread.worstAbove).toBeLessThan(wider * spread.above.found);
  const random = randoms(count);
  for (let draw = 0; draw < 30; draw++) {
    // Half of them at corners.
    const share = (): number => (draw % 2 === 0 ? random() : Math.round(random()));
    const places = new Map(
      base.system.variables.flatMap(({ given }, variable) =>
        given === undefined
          ? []
          : [[variable, exactly(given.low + share() * (given.high - given.low))] as const],
      ),
    );
    const there = solve(withGivens(base.system, places)).values[at]!;
    expect(there).toBeGreaterThanOrEqual(value - spread.worstBelow - 1e-9);
    expect(there).toBeLessThanOrEqual(value + spread.worstAbove + 1e-9);
  }
  for (const { at: places, found } of [spread.below, spread.above]) {
    const givens = new Map([...places].map(([given, place]) => [given, exactly(place)] as const));
    const there = solve(withGivens(base.system, givens)).values[at]!;
    expect(Math.abs(there - value)).toBeCloseTo(found, 8);
  }
});

test("over five hundred together go by straight lines, and are told as found", () => {
  const builder = ring(505, 0.02);
  const spread = spreadOf(solve(builder.system()), builder.quantity("x7"))!;
  expect([spread.below.known, spread.above.known]).toEqual(["found", "found"]);
});
