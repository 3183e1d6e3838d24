/**
 * The same systems with each figure in another unit: whatever the unit, the answer is the same one.
 * Units are powers of two, so that nothing is rounded on the way.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fitFor, missingFor, repairsFor, sensitivities, solve, spreadOf } from "../../server/solve";
import { boundsOf } from "../../server/solve/bounds";
import type { System } from "../../server/solve/system";
import { verdictOf } from "../../server/solve/verdict";
import { add, call, compare, div, mul, pow, SystemBuilder, sub, within } from "./build";
import { chain, chainArbitrary, linear, linearArbitrary } from "./random-systems";
import { conditionIn, factorsFor, inUnits } from "./units";

function sameAnswer(system: System, seed: number): void {
  const factors = factorsFor(system, seed);
  const one = solve(system);
  const other = solve(inUnits(system, factors));
  for (const [v, value] of one.values.entries()) {
    const { scale } = system.variables[v]!;
    const found = other.values[v]! / factors[v]!;
    if (Number.isNaN(value)) expect(found, system.variables[v]!.name).toBeNaN();
    else
      expect(Math.abs(found - value)).toBeLessThanOrEqual(1e-8 * (Math.abs(value) + scale * 1e-3));
  }
  expect(other.determinations.map(({ how }) => how)).toEqual(
    one.determinations.map(({ how }) => how),
  );
  expect(other.conflicts.map(({ equations, known }) => ({ equations, known }))).toEqual(
    one.conflicts.map(({ equations, known }) => ({ equations, known })),
  );
  for (const [at, { givens }] of one.conflicts.entries()) {
    expect(
      other.conflicts[at]!.givens.map(({ variable, needed }) => ({
        variable,
        needed: needed === undefined ? undefined : needed / factors[variable]!,
      })),
    ).toEqual(
      givens.map(({ variable, needed }) => ({
        variable,
        needed: needed === undefined ? undefined : expect.closeTo(needed, 7),
      })),
    );
  }
  expect(other.failures.map(({ why, equations }) => ({ why, equations }))).toEqual(
    one.failures.map(({ why, equations }) => ({ why, equations })),
  );
  const near = (x: number) => expect.closeTo(x, 7);
  for (const [at, failure] of one.failures.entries()) {
    const { variables, roots, answers, complete, outside } = failure;
    const found = other.failures[at]!;
    const by = variables.map((variable) => factors[variable]!);
    expect(found.complete).toBe(complete);
    expect(found.roots?.map((root) => root / by[0]!)).toEqual(roots?.map(near));
    expect(found.answers?.map((each) => each.map((x, j) => x / by[j]!))).toEqual(
      answers?.map((each) => each.map(near)),
    );
    if (outside !== undefined) expect(found.outside! / by[0]!).toEqual(near(outside));
  }
  expect(other.redundant).toEqual(one.redundant);
  for (const v of system.variables.keys())
    expect(missingFor(other, v).map((set) => [...set].sort())).toEqual(
      missingFor(one, v).map((set) => [...set].sort()),
    );
}

/** Systems of many kinds, with what makes each of them hard. */
const systems: readonly (readonly [string, (builder: SystemBuilder) => SystemBuilder])[] = [
  [
    "two circles that cross",
    (b) =>
      b
        .variable("x", { range: [0, 50] })
        .variable("y", { range: [0, 50] })
        .given({ r: 13, s: 15, apart: 14 })
        .equation("one", add(pow("x", 2), pow("y", 2)), pow("r", 2))
        .equation("other", add(pow(sub("apart", "x"), 2), pow("y", 2)), pow("s", 2)),
  ],
  [
    "two circles that cross twice",
    (b) =>
      b
        .variable("x", { range: [-50, 50] })
        .variable("y", { range: [-50, 50] })
        .given({ r: 13, s: 15, apart: 14 })
        .equation("one", add(pow("x", 2), pow("y", 2)), pow("r", 2))
        .equation("other", add(pow(sub("apart", "x"), 2), pow("y", 2)), pow("s", 2)),
  ],
  [
    "one equation that is searched",
    (b) =>
      b
        .given({ c: 7 })
        .variable("x", { range: [-20, 20] })
        .equation("e", add(pow("x", 3), mul(2, "x")), "c"),
  ],
  [
    "one with three answers",
    (b) =>
      b
        .given({ c: 1 })
        .variable("x", { range: [-20, 20] })
        .equation("e", sub(pow("x", 3), mul(7, "x")), "c"),
  ],
  [
    "one with no answer in range",
    (b) =>
      b
        .given({ c: 9000 })
        .variable("x", { range: [-20, 20] })
        .equation("e", add(pow("x", 3), "x"), "c"),
  ],
  [
    "one that touches",
    (b) => b.variable("x", { range: [-20, 20] }).equation("e", add(mul("x", "x"), 9), mul(6, "x")),
  ],
  [
    "straight ones together",
    (b) =>
      b
        .given({ p: 3, q: 8 })
        .equation("a", add("x", mul(2, "y"), "z"), "p")
        .equation("b", sub("x", "y"), mul(3, "z"))
        .equation("c", add(mul(4, "x"), "z"), "q"),
  ],
  [
    "bent ones together, five of them",
    (b) => {
      for (let i = 0; i < 5; i++) {
        const next = `v${(i + 1) % 5}`;
        b.variable(`v${i}`, { range: [0, 40] }).equation(
          `e${i}`,
          add(mul(3, `v${i}`), call("sqrt", add(1, next))),
          i + 6,
        );
      }
      return b;
    },
  ],
  [
    "twenty in a ring",
    (b) => {
      for (let i = 0; i < 20; i++)
        b.variable(`v${i}`, { range: [-100, 100] }).equation(
          `e${i}`,
          add(mul(4, `v${i}`), mul(0.5, pow(`v${(i + 1) % 20}`, 2))),
          i % 7,
        );
      return b;
    },
  ],
  [
    "too much, and it agrees",
    (b) =>
      b
        .given({ a: 2, c: 3, sum: 5 })
        .equation("one", "x", add("a", "c"))
        .equation("two", "x", "sum"),
  ],
  [
    "too much, and it contradicts",
    (b) =>
      b
        .given({ a: 2, c: 3, sum: 5.5 })
        .equation("one", "x", add("a", "c"))
        .equation("two", "x", "sum"),
  ],
  [
    "a contradiction by way of several together",
    (b) =>
      b
        .given({ p: 5, q: 1, r: 4 })
        .equation("one", add("x", "y"), "p")
        .equation("two", sub("x", "y"), "q")
        .equation("three", mul("x", "y"), mul(2, "r")),
  ],
  [
    "angles",
    (b) =>
      b
        .given({ rise: 3, run: 4 })
        .variable("turn", { range: [0, 3] })
        .equation("slope", mul("run", call("tan", "turn")), "rise")
        .equation("length", "length", div("run", call("cos", "turn"))),
  ],
  [
    "something said twice, and open",
    (b) =>
      b
        .given({ whole: 10 })
        .equation("one", add("x", "y"), "whole")
        .equation("two", mul(2, add("x", "y")), mul(2, "whole"))
        .equation("three", "z", add("x", 1)),
  ],
  [
    "cases",
    (b) =>
      b
        .given({ a: 3 })
        .equation("low", "y", add("a", 1), "relation", compare("y", "<", 5))
        .equation("high", "y", mul("a", 3), "relation", compare("y", ">=", 9.5)),
  ],
  [
    "one of several answers, the one that is near",
    (b) =>
      b
        .given({ c: 1 })
        .variable("x", { range: [-20, 20], near: 2.5 })
        .equation("e", sub(pow("x", 3), mul(7, "x")), "c"),
  ],
  [
    "softer ones give way",
    (b) =>
      b
        .given({ a: 3 })
        .equation("usual", "x", 5, "default")
        .equation("wish", "y", 9, "wanted")
        .equation("guess", "z", 1, "assumed")
        .equation("sum", add("x", "y", "z"), "a")
        .equation("asked", "w", add("z", 1), "asked"),
  ],
];

describe("the answer is the same in any units", () => {
  for (const [name, make] of systems)
    test(name, () => {
      const system = make(new SystemBuilder()).system();
      for (const seed of [1, 2, 3]) sameAnswer(system, seed);
    });

  test("of chains of relations", () => {
    fc.assert(
      fc.property(chainArbitrary, fc.nat(1000), (parts, seed) => {
        sameAnswer(chain(parts).system(), seed);
      }),
      { numRuns: 20, seed: 6 },
    );
  });

  test("of linear systems", () => {
    fc.assert(
      fc.property(linearArbitrary, fc.nat(1000), (parts, seed) => {
        sameAnswer(linear(parts).system(), seed);
      }),
      { numRuns: 20, seed: 7 },
    );
  });
});

describe("what follows from it is the same in any units", () => {
  const builder = () =>
    new SystemBuilder()
      .given({ a: within(5, 0.5), b: within(3, 0.25, 0.5), c: within(2, 0.1) })
      .variable("x", { range: [0, 100] })
      .variable("y", { range: [0, 100] })
      .equation("one", add(pow("x", 2), "y"), mul("a", "a"))
      .equation("two", sub("x", mul(0.25, "y")), "b")
      .equation("three", "z", call("max", mul("x", "c"), add("y", 4)))
      .equation("four", "bend", mul(sub("a", 5), sub("b", 3)));

  test("slopes, ± and bounds, and whether a check holds", () => {
    const plain = builder();
    const claims = [
      plain.claim(compare("z", ">=", 7)),
      plain.claim(compare(mul("x", "y"), "<=", 30)),
      plain.claim(compare("bend", ">", -1)),
      plain.claim(compare("x", "<=", 4.05)),
    ];
    const system = plain.system();
    const one = solve(system);
    for (const seed of [1, 2, 3, 4]) {
      const factors = factorsFor(system, seed);
      const other = solve(inUnits(system, factors));
      for (const name of ["x", "y", "z", "bend"]) {
        const quantity = plain.quantity(name);
        const by = factors[plain.index(name)]!;
        const slopes = sensitivities(other, quantity);
        for (const [variable, slope] of sensitivities(one, quantity))
          expect((slopes.get(variable)! / by) * factors[variable]!).toBeCloseTo(slope, 8);
        const [here, there] = [spreadOf(one, quantity)!, spreadOf(other, quantity)!];
        for (const what of ["worstBelow", "worstAbove", "rss", "shift"] as const) {
          const room = 2e-3 * (here.worstBelow + here.worstAbove);
          expect(Math.abs(there[what] / by - here[what]), `${name} ${what}`).toBeLessThan(room);
        }
        const [near, far] = [boundsOf(one, quantity), boundsOf(other, quantity)];
        const width = near.most.outer - near.least.outer;
        expect(Math.abs(far.most.outer / by - near.most.outer)).toBeLessThan(2e-3 * width);
        expect(Math.abs(far.least.outer / by - near.least.outer)).toBeLessThan(2e-3 * width);
        expect(far.most.loose).toBe(near.most.loose);
      }
      for (const claim of claims) {
        const own = claim.variables.map((variable) => factors[variable]!);
        const moved = { ...claim, condition: conditionIn(claim.condition, own) };
        const { nominal, rss, worst, margin } = verdictOf(one, claim);
        expect(verdictOf(other, moved)).toMatchObject({
          nominal,
          rss,
          worst,
          margin: expect.closeTo(margin!, 8),
        });
      }
    }
  });

  test("what makes a check hold", () => {
    const plain = new SystemBuilder();
    for (const [name, given] of Object.entries({ a: 5, b: 3, c: 2 }))
      plain.variable(name, { given, role: "made", range: [0, 40] });
    plain
      .equation("area", "area", mul("a", "b"))
      .equation("load", "load", sub(mul("c", "c"), "area"));
    const claim = plain.claim(compare("load", ">=", 1));
    const system = plain.system();
    const fits = fitFor(solve(system), claim, () => 0.25);
    expect(fits.length).toBeGreaterThan(1);
    for (const seed of [1, 2, 3]) {
      const factors = factorsFor(system, seed);
      const own = claim.variables.map((variable) => factors[variable]!);
      const moved = { ...claim, condition: conditionIn(claim.condition, own) };
      const found = fitFor(solve(inUnits(system, factors)), moved, (v) => 0.25 * factors[v]!);
      expect(
        found.map(({ variable, value, effort, also }) => ({
          variable,
          value: value / factors[variable]!,
          effort,
          ...(also === undefined
            ? {}
            : { also: { variable: also.variable, value: also.value / factors[also.variable]! } }),
        })),
      ).toEqual(fits.map((fit) => ({ ...fit, effort: expect.closeTo(fit.effort, 9) })));
    }
  });

  test("what would mend several contradictions at once", () => {
    const plain = new SystemBuilder()
      .given({ a: 2, b: 3, c: 9, d: 4 })
      .equation("one", "x", add("a", "b"))
      .equation("two", "x", "c")
      .equation("three", "y", mul("a", 2))
      .equation("four", "y", sub("d", 1));
    const system = plain.system();
    const repairs = repairsFor(solve(system));
    expect(repairs.length).toBeGreaterThan(0);
    const factors = factorsFor(system, 5);
    const found = repairsFor(solve(inUnits(system, factors)));
    expect(
      found.map(({ changes }) =>
        changes.map(({ variable, value }) => [variable, value! / factors[variable]!]),
      ),
    ).toEqual(
      repairs.map(({ changes }) =>
        changes.map(({ variable, value }) => [variable, expect.closeTo(value!, 9)]),
      ),
    );
  });
});

test("all answers of a few equations, by hand", () => {
  // On y = x/2 the left is (x² − 4)²/4: x² is 5 or 3.
  const system = new SystemBuilder()
    .variable("x", { range: [-9, 9] })
    .variable("y", { range: [-9, 9] })
    .equation("line", "y", mul(0.5, "x"))
    .equation("bent", mul(sub(pow("x", 2), 4), sub(pow("y", 2), 1)), 0.25)
    .system();
  const wanted = [-Math.sqrt(5), -Math.sqrt(3), Math.sqrt(3), Math.sqrt(5)];
  for (const seed of [1, 2, 3]) {
    const factors = factorsFor(system, seed);
    const [failure] = solve(inUnits(system, factors)).failures;
    expect(failure?.complete).toBe(true);
    expect(failure?.answers?.map(([x, y]) => [x! / factors[0]!, y! / factors[1]!])).toEqual(
      wanted.map((x) => [expect.closeTo(x, 9), expect.closeTo(x / 2, 9)]),
    );
  }
});
