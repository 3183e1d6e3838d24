/**
 * What is told of a system with something laid over it: of parts that have nothing to do with each other
 * one is worked out again, and of the other all stays that was told, in one order by name.
 */
import { describe, expect, test } from "vitest";
import { missingFor, solve, solveOverlay, spreadOf } from "../../server/solve";
import { executionOf } from "../../server/solve/execution";
import { unsolved } from "../../server/solve/solve";
import type { GivenNumber, Solution } from "../../server/solve/system";
import { add, call, exactly, mul, SystemBuilder, shuffled, valueNamed } from "./build";

/** Two parts alike: a sum that the givens contradict, one that adds nothing, a root of what is below 0. */
function parts(): SystemBuilder {
  const builder = new SystemBuilder();
  for (const part of ["p", "q"]) {
    const [a, b, c, d, x, y] = ["a", "b", "c", "d", "x", "y"].map((name) => `${part}.${name}`) as [
      string,
      string,
      string,
      string,
      string,
      string,
    ];
    builder
      .given({ [a]: 2, [b]: 3, [c]: 6, [d]: -4 })
      .equation(`${part} sum`, add(a, b), c)
      .equation(`${part} twice`, x, mul(2, a))
      .equation(`${part} again`, x, add(a, a))
      .equation(`${part} root`, y, call("sqrt", d));
  }
  return builder;
}

const names = (solution: Solution, equations: readonly number[]): string[] =>
  equations.map((at) => solution.system.equations[at]!.name);
const told = (solution: Solution) => ({
  conflicts: names(
    solution,
    solution.conflicts.map(({ equation }) => equation),
  ),
  redundant: names(solution, solution.redundant),
  failures: solution.failures.map(({ equations }) => names(solution, equations).join()),
});
const both = {
  conflicts: ["p sum", "q sum"],
  redundant: ["p twice", "q twice"],
  failures: ["p root", "q root"],
};
const over = (builder: SystemBuilder, changes: Readonly<Record<string, GivenNumber | undefined>>) =>
  solveOverlay(solve(builder.system()), {
    givens: new Map(
      Object.entries(changes).map(([name, given]) => [builder.index(name), given] as const),
    ),
  });

describe("two parts", () => {
  test("are told by name, in whatever order they are written", () => {
    const system = parts().system();
    const places = (count: number, step: number) =>
      Array.from({ length: count }, (_, at) => (at * step + 1) % count);
    for (const [variables, equations] of [
      [1, 1],
      [5, 3],
      [7, 5],
      [11, 7],
    ] as const) {
      const turned = shuffled(
        system,
        places(system.variables.length, variables),
        places(system.equations.length, equations),
      );
      const found = told(solve(turned));
      expect([found.conflicts, found.failures]).toEqual([both.conflicts, both.failures]);
      expect(found.redundant.map((name) => name[0])).toEqual(["p", "q"]);
    }
  });

  test("of which one changes: the other is told as before", () => {
    const one = ["p", "q"].map((part) => ({ part, other: part === "p" ? "q" : "p" }));
    for (const { part, other } of one) {
      const builder = parts();
      const left = (list: readonly string[]) => list.filter((name) => name.startsWith(other));
      const base = told(solve(builder.system()));
      const mended = over(builder, { [`${part}.c`]: exactly(5) });
      expect(told(mended)).toEqual({
        ...base,
        conflicts: [`${other} sum`],
        redundant: [...base.redundant, `${part} sum`].sort(),
      });
      const rooted = over(builder, { [`${part}.d`]: exactly(9) });
      expect(told(rooted)).toEqual({ ...base, failures: [`${other} root`] });
      expect(valueNamed(rooted, `${part}.y`)).toBe(3);
      expect(valueNamed(rooted, `${other}.y`)).toBeNaN();
      const less = over(builder, { [`${part}.a`]: undefined });
      expect(told(less)).toMatchObject({
        conflicts: [`${other} sum`],
        failures: base.failures,
      });
      expect(left(told(less).redundant)).toEqual(left(base.redundant));
      // What was given follows from the sum, and what follows from that moves.
      expect(valueNamed(less, `${part}.a`)).toBe(3);
      expect(valueNamed(less, `${part}.x`)).toBe(6);
      expect(valueNamed(less, `${other}.x`)).toBe(4);
      // And over that again.
      const again = solveOverlay(less, {
        givens: new Map([[builder.index(`${other}.c`), exactly(5)]]),
      });
      expect(told(again).conflicts).toEqual([]);
      expect(left(told(again).redundant)).toEqual([`${other} sum`, `${other} twice`]);
    }
  });

  test("of which one is left open once nothing gives it, and closed again", () => {
    const builder = parts();
    const free = over(builder, {
      "p.a": undefined,
      "p.c": undefined,
    });
    const at = builder.index("p.x");
    expect(free.determinations[at]).toEqual({ how: "open" });
    expect(told(free).conflicts).toEqual(["q sum"]);
    const closed = solveOverlay(free, { givens: new Map([[at, exactly(10)]]) });
    expect(valueNamed(closed, "p.a")).toBe(5);
    expect(valueNamed(closed, "p.c")).toBe(8);
    expect(told(closed).conflicts).toEqual(["q sum"]);
  });

  test("without an equation, as if nobody had written it", () => {
    const builder = parts();
    const base = solve(builder.system());
    for (const at of base.system.equations.keys()) {
      const name = base.system.equations[at]!.name;
      const found = told(solveOverlay(base, { without: new Set([at]) }));
      expect(found.conflicts).toEqual(both.conflicts.filter((each) => each !== name));
      expect(found.failures).toEqual(both.failures.filter((each) => each !== name));
      const part = name[0]!;
      const says = name.endsWith("twice") || name.endsWith("again");
      const stays = found.redundant.map((each) => each[0]);
      expect(stays).toEqual(says ? ["p", "q"].filter((each) => each !== part) : ["p", "q"]);
    }
    const none = solveOverlay(base, { without: new Set<number>() });
    expect(told(none)).toEqual(told(base));
  });
});

test("what there was no time to solve has its givens, and all else is open and contradicts nothing", () => {
  const system = parts().system();
  const solution = unsolved(system);
  for (const [at, { given }] of system.variables.entries()) {
    expect(solution.determinations[at]!.how).toBe(given === undefined ? "open" : "given");
    expect(solution.values[at]).toBe(given === undefined ? Number.NaN : given.value);
  }
  expect([solution.conflicts, solution.failures, solution.redundant]).toEqual([[], [], []]);
  expect(solution.plan.carriedOut).toBe(0);
  // It can be asked like any other.
  const x = system.variables.findIndex(({ name }) => name === "p.x");
  expect(spreadOf(solution, { expression: { op: "slot", index: 0 }, variables: [x] })).toBe(
    undefined,
  );
  expect(missingFor(solution, x).flat().every(Number.isInteger)).toBe(true);
  const { steps, stepOf, checks } = executionOf(solution);
  expect([steps, checks, [...new Set(stepOf)]]).toEqual([[], [], [-1]]);
});
