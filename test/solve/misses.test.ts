/**
 * Wishes that need not be met to the last: let go, missed alike, missed in balance, or held to within a
 * tolerance; each solved, and compared with what a hand finds.
 */
import { describe, expect, test } from "vitest";
import { Misses } from "../../server/solve/misses";
import { solve } from "../../server/solve/solve";
import type { Equation, System } from "../../server/solve/system";
import { add, mul, SystemBuilder } from "./build";

/** Two wishes of one figure each, and two that speak of a sum; all about x, y and z. */
function wishes(givens: Readonly<Record<string, number>> = {}): SystemBuilder {
  const builder = new SystemBuilder();
  for (const name of ["x", "y", "z"]) {
    const given = givens[name];
    builder.variable(name, { scale: 2, ...(given === undefined ? {} : { given }) });
  }
  return builder
    .equation("x is 5", "x", 5, "wanted")
    .equation("y is 8", "y", 8, "wanted")
    .equation("x and z are 9", add("x", "z"), 9, "wanted")
    .equation("y and z are 20", add("y", mul(2, "z")), 20, "wanted");
}

const only = ({ variables, equations }: System, ...at: readonly number[]): System => ({
  variables,
  equations: at.map((each) => equations[each]!),
});

/** What the system comes to by name, misses too. */
function valuesOf(system: System): Record<string, number> {
  const { values } = solve(system);
  return Object.fromEntries(system.variables.map(({ name }, at) => [name, values[at]!]));
}

describe("one let go", () => {
  test("misses by what is left of it, and is no wish any more", () => {
    const work = new Misses(only(wishes({ x: 7 }).system(), 0));
    const miss = work.letGo(0);
    const { variables, equations } = work.system;
    expect(miss).toBe(3);
    expect(variables[miss]).toEqual({
      name: "x is 5 missed by",
      scale: 2,
      range: [-2e6, 2e6],
      askedFirst: false,
    });
    expect(equations.map(({ name, rank, variables }) => [name, rank, variables])).toEqual([
      ["x is 5", "relation", [0, 3]],
    ]);
    expect(valuesOf(work.system)["x is 5 missed by"]).toBe(2);
  });

  test("once and for all: asked again it is the same miss", () => {
    const work = new Misses(wishes().system());
    const [first, second, again] = [work.letGo(2), work.letGo(0), work.letGo(2)];
    expect([first, second, again]).toEqual([3, 4, 3]);
    expect(work.system.variables).toHaveLength(5);
    expect(work.system.equations).toHaveLength(4);
  });

  test("keeps neither its tolerance nor what it stood for, and nothing of the system it came from", () => {
    const system = only(wishes({ x: 7 }).system(), 0);
    const wide: Equation = { ...system.equations[0]!, slack: 0.5 };
    const before: System = { variables: system.variables, equations: [wide] };
    const work = new Misses(before);
    work.letGo(0);
    expect(work.system.equations[0]).not.toHaveProperty("slack");
    expect(before.equations[0]).toBe(wide);
    expect(before.variables).toHaveLength(3);
  });

  test("a figure may be made another one beside it", () => {
    const work = new Misses(wishes({ x: 7 }).system());
    work.set(0, {
      ...work.system.variables[0]!,
      given: { value: 4, low: 4, high: 4, rounding: 0 },
    });
    work.letGo(0);
    expect(valuesOf(only(work.system, 0))["x is 5 missed by"]).toBe(-1);
  });
});

describe("several that miss alike", () => {
  test("of one figure each: as far apart as they want to be", () => {
    const work = new Misses(only(wishes({ x: 6 }).system(), 0, 1));
    work.alike([0, 1]);
    // y − x stays 3.
    expect(valuesOf(work.system)).toMatchObject({
      x: 6,
      y: 9,
      "x is 5 missed by": 1,
      "y is 8 missed by": 1,
    });
    expect(work.system.equations.map(({ name, rank }) => [name, rank])).toEqual([
      ["x is 5", "relation"],
      ["y is 8", "relation"],
      ["y is 8 as x is 5", "wanted"],
    ]);
    // Between the figures themselves.
    expect(work.system.equations[2]?.variables).toEqual([0, 1]);
  });

  test("three of one figure each, all to the first", () => {
    const three = new SystemBuilder()
      .given({ a: 11 })
      .equation("a", "a", 10, "wanted")
      .equation("b", "b", 20, "wanted")
      .equation("c", "c", 40, "wanted");
    const work = new Misses(three.system());
    work.alike([0, 1, 2]);
    expect(valuesOf(work.system)).toMatchObject({ a: 11, b: 21, c: 41 });
    expect(work.system.equations).toHaveLength(5);
  });

  test("of several figures: by the same amount", () => {
    const work = new Misses(only(wishes({ x: 6, z: 5 }).system(), 2, 3));
    work.alike([0, 1]);
    // x + z is 11, 2 more than 9; y + 2 z is 22.
    expect(valuesOf(work.system)).toMatchObject({
      y: 12,
      "x and z are 9 missed by": 2,
      "y and z are 20 missed by": 2,
    });
    expect(work.system.equations.at(-1)).toMatchObject({
      name: "y and z are 20 missed by as x and z are 9 missed by",
      rank: "wanted",
      variables: [3, 4],
    });
  });

  test("where only some are of one figure: by the same amount, too", () => {
    const work = new Misses(only(wishes({ x: 6, z: 5 }).system(), 1, 2));
    work.alike([1, 0]);
    expect(valuesOf(work.system)).toMatchObject({ y: 10, "y is 8 missed by": 2 });
  });
});

describe("several that miss in balance", () => {
  test("of one figure each: what one gains the other loses", () => {
    const work = new Misses(only(wishes({ x: 6 }).system(), 0, 1));
    work.balanced([0, 1]);
    expect(valuesOf(work.system)).toMatchObject({
      x: 6,
      y: 7,
      "x is 5 missed by": 1,
      "y is 8 missed by": -1,
    });
    expect(work.system.equations.at(-1)).toMatchObject({
      name: "y is 8 in balance",
      rank: "wanted",
      variables: [0, 1],
    });
  });

  test("three: their misses add up to nothing", () => {
    const three = new SystemBuilder()
      .given({ a: 11, b: 21 })
      .equation("a", "a", 10, "wanted")
      .equation("b", "b", 20, "wanted")
      .equation("c", "c", 40, "wanted");
    const work = new Misses(three.system());
    work.balanced([0, 1, 2]);
    expect(valuesOf(work.system)).toMatchObject({ c: 38 });
  });

  test("of several figures: their misses themselves", () => {
    const work = new Misses(only(wishes({ x: 6, z: 5 }).system(), 2, 3));
    work.balanced([0, 1]);
    expect(valuesOf(work.system)).toMatchObject({
      y: 8,
      "x and z are 9 missed by": 2,
      "y and z are 20 missed by": -2,
    });
    expect(work.system.equations.at(-1)).toMatchObject({
      name: "x and z are 9 missed by in balance",
      rank: "wanted",
      variables: [3, 4],
    });
  });
});

test("one held to within its tolerance moves what follows from it by that", () => {
  const builder = wishes().equation("double", "d", mul(2, "x"));
  const system = builder.system();
  const about: System = {
    variables: system.variables,
    equations: [{ ...system.equations[0]!, slack: 0.25 }, system.equations[4]!],
  };
  const work = new Misses(about);
  work.tolerate(0, 0.25);
  expect(work.system.equations[0]).toMatchObject({ rank: "wanted", variables: [0, 4] });
  expect(work.system.equations[0]).not.toHaveProperty("slack");
  expect(work.system.variables[4]).toEqual({
    name: "x is 5",
    scale: 2,
    askedFirst: false,
    given: { value: 0, low: -0.25, high: 0.25, rounding: 0 },
  });
  const solution = solve(work.system);
  expect(solution.values[builder.index("d")]).toBe(10);
});
