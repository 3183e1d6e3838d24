/** What follows from other givens along a plan that stands, against solving anew. */
import { expect, test } from "vitest";
import { fitFor, solve, withGivens } from "../../server/solve";
import { Replay } from "../../server/solve/replay";
import { add, call, compare, div, exactly, mul, pow, SystemBuilder, sub } from "./build";

/** What x comes to with each value of `a`: along the plan, and anew. */
function both(builder: SystemBuilder, places: readonly number[]) {
  const base = solve(builder.system());
  const [x, a] = [builder.index("x"), builder.index("a")];
  const replay = new Replay(base, [x]);
  return places.map((place) => ({
    along: replay.at([[a, place]])[x]!,
    anew: solve(withGivens(base.system, new Map([[a, exactly(place)]]))).values[x]!,
  }));
}

test("one equation turned round, searched, and two together", () => {
  const systems: readonly [string, (builder: SystemBuilder) => SystemBuilder][] = [
    ["turned round", (b) => b.equation("e", "a", mul(4, "x"))],
    ["in two steps", (b) => b.equation("e", "y", add("a", 1)).equation("f", mul("x", "y"), 12)],
    [
      "searched",
      (b) => b.variable("x", { range: [0, 9] }).equation("e", add("x", pow("x", 3)), "a"),
    ],
    [
      "together",
      (b) => b.equation("e", add("x", "y"), "a").equation("f", sub(mul(3, "x"), "y"), div("a", 5)),
    ],
  ];
  for (const [name, add_] of systems) {
    const results = both(add_(new SystemBuilder().given({ a: 2 })), [1, 2, 5, 10, 0.25]);
    for (const { along, anew } of results) expect(along, name).toBeCloseTo(anew, 12);
  }
});

test("of several answers the one nearest to where it stood", () => {
  // x² − 6x + a = 0 has 3 ± √(9 − a); below 3 it is the one with minus.
  for (const [low, high, sign] of [
    [-10, 2.9, -1],
    [3.1, 10, 1],
  ] as const) {
    const builder = new SystemBuilder()
      .given({ a: 5 })
      .variable("x", { range: [low, high] })
      .equation("e", add(sub(pow("x", 2), mul(6, "x")), "a"), 0);
    const base = solve(builder.system());
    const x = builder.index("x");
    // With the range taken away both answer.
    const wide = { ...base.system.variables[x]!, range: [-10, 10] as const };
    const variables = base.system.variables.map((about, v) => (v === x ? wide : about));
    const near = solve({
      variables: variables.map((about, v) =>
        v === x ? { ...about, near: base.values[x]! } : about,
      ),
      equations: base.system.equations,
    });
    expect(near.values[x]).toBeCloseTo(3 + sign * 2, 9);
    const replay = new Replay(near, [x]);
    for (const a of [5, 8, 0, -7])
      expect(replay.at([[builder.index("a"), a]])[x]).toBeCloseTo(3 + sign * Math.sqrt(9 - a), 9);
    expect(replay.at([[builder.index("a"), 10]])[x]).toBeNaN();
  }
});

test("where all of a stretch would do there is no value, and nothing breaks off", () => {
  // What sticks out above 5 less what is missing below 3 (of at most 2): nothing between them.
  const builder = new SystemBuilder()
    .given({ a: 1 })
    .variable("x", { range: [0, 100] })
    .equation(
      "out",
      add(call("max", 0, sub("x", 5)), call("max", 0, sub(call("min", "x", 2), 3))),
      "a",
    );
  const claim = builder.claim(compare("x", "<=", 2));
  const solution = solve(builder.system());
  const [x, a] = [builder.index("x"), builder.index("a")];
  const replay = new Replay(solution, [x]);
  const values = [1, 0.5, 0, -1, 3].map((place) => replay.at([[a, place]])[x]!);
  expect(values).toEqual([6, 5.5, Number.NaN, Number.NaN, 8]);
  // No value of the given brings it below 5.
  expect(fitFor(solution, claim, () => 0.25)).toEqual([]);
});

test("of several answers together the ones near to where they stood", () => {
  // On a circle about nothing, x + y = a: x is (a ± √(50 − a²))/2, one of them in range at 6.5, both at 7.06.
  const builder = new SystemBuilder()
    .given({ a: 6.5 })
    .variable("x", { range: [0, 3.9] })
    .variable("y", { range: [0, 9] })
    .equation("circle", add(pow("x", 2), pow("y", 2)), 25)
    .equation("sum", add("x", "y"), "a");
  const base = solve(builder.system());
  const replay = new Replay(base, [builder.index("x")]);
  for (const a of [6.5, 6.8, 7.06, 7])
    expect(replay.at([[builder.index("a"), a]])[builder.index("x")]).toBeCloseTo(
      (a - Math.sqrt(50 - a ** 2)) / 2,
      9,
    );
});
