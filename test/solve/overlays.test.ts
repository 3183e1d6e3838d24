/** A system with something laid over it, and with the plan of another: against solving from nothing. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { solve, solveOverlay, verdictOf, withGivens } from "../../server/solve";
import { solveLike } from "../../server/solve/solve";
import type { GivenNumber, Solution, System } from "../../server/solve/system";
import { add, call, compare, exactly, mul, pow, SystemBuilder, sub } from "./build";
import { chain, chainArbitrary, linear, linearArbitrary } from "./random-systems";

/** All that a reader of a solution sees. */
function seen({ values, determinations, conflicts, failures, redundant }: Solution) {
  return {
    values: [...values],
    determinations: determinations.map((each) =>
      each.how === "solved" || each.how === "assumed"
        ? { how: each.how, equation: each.equation, block: each.block, restsOn: each.restsOn }
        : each,
    ),
    conflicts: conflicts.map((each) => ({ ...each, gap: expect.closeTo(each.gap, 9) })),
    failures,
    redundant,
  };
}

const close = (one: Solution, fresh: Solution): void => {
  const { values, conflicts, ...rest } = seen(fresh);
  expect(seen(one)).toMatchObject(rest);
  expect([...one.values]).toEqual(
    values.map((value) => (Number.isNaN(value) ? Number.NaN : expect.closeTo(value, 7))),
  );
  expect(one.conflicts.map(({ equation }) => equation)).toEqual(
    conflicts.map(({ equation }) => equation),
  );
  for (const [at, { givens, equations, known }] of fresh.conflicts.entries()) {
    expect(one.conflicts[at]).toMatchObject({ equations, known });
    expect(one.conflicts[at]!.givens.map(({ variable }) => variable)).toEqual(
      givens.map(({ variable }) => variable),
    );
  }
};

type Changes = ReadonlyMap<number, GivenNumber | undefined>;

/** Some givens changed, some taken away, some figures given that were not. */
function changesOf(system: System, next: () => number): Changes {
  const changes = new Map<number, GivenNumber | undefined>();
  for (const [v, { given }] of system.variables.entries()) {
    const way = next() % 8;
    if (given !== undefined && way === 0) changes.set(v, undefined);
    else if (given !== undefined && way === 1) changes.set(v, exactly(given.value + 1));
    else if (given === undefined && way === 0) changes.set(v, exactly((next() % 5) - 2));
  }
  return changes;
}

const systems = fc.oneof(
  chainArbitrary.map((parts) => chain(parts).system()),
  linearArbitrary.map((parts) => linear(parts).system()),
);
const chance = fc.infiniteStream(fc.nat(1 << 16));

describe("laid over a system", () => {
  test("other givens: what hangs together with them is solved again, and no other", () => {
    let changed = 0;
    fc.assert(
      fc.property(systems, systems, chance, (left, right, numbers) => {
        // Two that have nothing to do with each other.
        const shift = left.variables.length;
        const both: System = {
          variables: [
            ...left.variables,
            ...right.variables.map((each) => ({ ...each, name: `other ${each.name}` })),
          ],
          equations: [
            ...left.equations,
            ...right.equations.map((each) => ({
              ...each,
              name: `other ${each.name}`,
              variables: each.variables.map((v) => v + shift),
            })),
          ],
        };
        const base = solve(both);
        const changes = changesOf(both, () => numbers.next().value as number);
        changed += changes.size;
        const before = seen(base);
        close(solveOverlay(base, { givens: changes }), solve(withGivens(both, changes)));
        // What it is laid over stays what it was.
        expect(seen(base)).toEqual(before);
        // And taken back again.
        const back = new Map([...changes.keys()].map((v) => [v, both.variables[v]!.given]));
        close(solveOverlay(solveOverlay(base, { givens: changes }), { givens: back }), base);
        expect(seen(solveOverlay(base, {})).values).toEqual([...base.values]);
      }),
      { numRuns: 40, seed: 3 },
    );
    expect(changed).toBeGreaterThan(100);
  });

  test("without some equations, as if nobody had written them", () => {
    fc.assert(
      fc.property(systems, chance, (system, numbers) => {
        const next = (): number => numbers.next().value as number;
        const without = new Set([...system.equations.keys()].filter(() => next() % 4 === 0));
        const givens = changesOf(system, next);
        const over = solveOverlay(solve(system), { givens, without });
        const kept = [...system.equations.keys()].filter((at) => !without.has(at));
        const fresh = solve(
          withGivens(
            {
              variables: system.variables,
              equations: kept.map((at) => system.equations[at]!),
            },
            givens,
          ),
        );
        for (const [v, value] of fresh.values.entries())
          expect(over.values[v]).toEqual(
            Number.isNaN(value) ? Number.NaN : expect.closeTo(value, 7),
          );
        expect(over.conflicts.map(({ equation }) => equation)).toEqual(
          fresh.conflicts.map(({ equation }) => kept[equation]),
        );
        // What is not there agrees with everything.
        expect(over.redundant.filter((at) => !without.has(at))).toEqual(
          fresh.redundant.map((at) => kept[at]),
        );
      }),
      { numRuns: 40, seed: 4 },
    );
  });

  test("in cases, and where several answers are told apart further on", () => {
    const cases = new SystemBuilder()
      .given({ a: 3, b: 10 })
      .equation("low", "y", add("a", 1), "relation", compare("a", "<", 5))
      .equation("high", "y", mul("a", 3), "relation", compare("a", ">=", 5))
      .variable("x", { range: [-20, 20] })
      .equation("square", pow("x", 2), mul("y", "y"))
      .equation("way", call("abs", "w"), "x")
      .equation("side", add("w", "b"), sub("b", "y"));
    const system = cases.system();
    const base = solve(system);
    for (const a of [1, 4.9, 5, 8, -2]) {
      const givens = new Map([[cases.index("a"), exactly(a)]]);
      close(solveOverlay(base, { givens }), solve(withGivens(system, givens)));
    }
    for (const without of [0, 1, 2, 3, 4]) {
      const over = solveOverlay(base, { without: new Set([without]) });
      const y = over.values[cases.index("y")];
      if (without === 0) expect(y).toBeNaN();
      else expect(y).toBe(4);
    }
  });
});

describe("by the plan of another system", () => {
  test("of the same forms over other figures", () => {
    fc.assert(
      fc.property(systems, chance, (system, numbers) => {
        const next = (): number => numbers.next().value as number;
        const other: System = {
          ...system,
          variables: system.variables.map((each) =>
            each.given === undefined
              ? each
              : { ...each, given: exactly(each.given.value * (1 + (next() % 3) / 8)) },
          ),
        };
        close(solveLike(other, solve(system).plan), solve(other));
      }),
      { numRuns: 30, seed: 6 },
    );
  });
});

test("a figure that came of large numbers is as exact as it is written once it is given", () => {
  const builder = new SystemBuilder()
    .given({ other: 1, a: 1e8, b: 3e8 - 2 ** -24 })
    .equation("difference", "y", sub(mul(3, "a"), "b"));
  const claim = builder.claim(compare("y", "<=", 0));
  const base = solve(builder.system());
  const y = builder.index("y");
  // The last digit of 3e8 in binary.
  expect(base.values[y]).toBeGreaterThan(0);
  expect(base.values[y]).toBeLessThan(3e8 * 1e-12);
  expect(verdictOf(base, claim).nominal).toBe("holds");
  const beside = new Map([[builder.index("other"), exactly(2)]]);
  expect(verdictOf(solveOverlay(base, { givens: beside }), claim).nominal).toBe("holds");
  for (const [value, nominal] of [
    [1e-7, "fails"],
    [-1e-7, "holds"],
  ] as const) {
    const over = solveOverlay(base, { givens: new Map([[y, exactly(value)]]) });
    expect(verdictOf(over, claim).nominal).toBe(nominal);
    // What lies below keeps what it was judged by.
    expect(verdictOf(solveOverlay(over, { givens: new Map() }), claim).nominal).toBe(nominal);
    expect(verdictOf(base, claim).nominal).toBe("holds");
  }
});
