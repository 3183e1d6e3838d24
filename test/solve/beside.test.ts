/**
 * Systems solved beside one that was solved before: the answer is that from nothing, to the last digit,
 * whatever was solved before; and what is the same in both is not worked out again.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { draw, outcomeOf, solve, withGivens } from "../../server/solve";
import { executionOf } from "../../server/solve/execution";
import { planOf, solveLike } from "../../server/solve/solve";
import type { GivenNumber, Making, Solution, System } from "../../server/solve/system";
import { add, compare, div, exactly, mul, pow, SystemBuilder, sub } from "./build";
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
    conflicts,
    failures,
    redundant,
  };
}

const carriedOut = (solution: Solution): number => executionOf(solution).carriedOut;

/**
 * Figures that are solved together and have several answers, one, or none: circles and lines that meet
 * (with a range that leaves one answer, or both), products and sums, and what follows from them.
 */
function meeting(count: number): SystemBuilder {
  const builder = new SystemBuilder();
  for (let at = 0; at < count; at++) {
    const [x, y, r, s] = ["x", "y", "r", "s"].map((name) => `${name}${at}`) as [
      string,
      string,
      string,
      string,
    ];
    builder.variable(x, at % 3 === 0 ? { range: [0, 50] } : {});
    builder.variable(y, at % 4 === 0 ? { range: [0, 50] } : {});
    builder.given({ [r]: 5 + at, [s]: 1 + (at % 3) });
    if (at % 2 === 0) {
      builder.equation(`circle ${at}`, add(pow(x, 2), pow(y, 2)), pow(r, 2));
      builder.equation(`line ${at}`, sub(y, x), s);
    } else {
      builder.equation(`product ${at}`, mul(x, y), r);
      builder.equation(`sum ${at}`, add(x, mul(2, y)), add(s, 8));
    }
    builder.equation(`after ${at}`, `z${at}`, div(add(x, 1), add(mul(y, y), 2)));
    if (at > 0) builder.equation(`over ${at}`, `w${at}`, add(`z${at - 1}`, `z${at}`));
  }
  return builder;
}

/** Some of what holds does so under a condition on what is solved. */
function underConditions(): SystemBuilder {
  return new SystemBuilder()
    .given({ a: 2, b: 3, c: 7 })
    .equation("sum", "s", add("a", "b"))
    .equation("small", "t", mul(2, "s"), "relation", compare("s", "<", "c"))
    .equation("large", "t", add("s", 100), "relation", compare("s", ">=", "c"))
    .equation("far", "u", add("t", "c"));
}

const systems: fc.Arbitrary<System> = fc.oneof(
  chainArbitrary.map((parts) => chain(parts, 0.1).system()),
  linearArbitrary.map((parts) => linear(parts).system()),
  fc.integer({ min: 1, max: 2 }).map((count) => meeting(count).system()),
  fc.constant(underConditions().system()),
);
const chance = fc.infiniteStream(fc.nat(1 << 16));

/** As someone types: a figure is another one, is there no longer, is given that was not. */
function edited(system: System, written: System, next: () => number): System {
  const changes = new Map<number, GivenNumber | undefined>();
  for (const [variable, { given }] of system.variables.entries()) {
    const way = next() % 9;
    const first = written.variables[variable]!.given;
    if (given !== undefined && way === 0) changes.set(variable, undefined);
    else if (given !== undefined && way < 3)
      changes.set(variable, exactly(given.value + ((next() % 9) - 4) / 2));
    else if (given === undefined && first !== undefined && way < 5) changes.set(variable, first);
    else if (given === undefined && way === 0)
      changes.set(variable, exactly((next() % 13) / 2 - 2));
  }
  return withGivens(system, changes);
}

describe("edit after edit, each beside the one before", () => {
  test("is what a reading from nothing gives, to the last digit", () => {
    let taken = 0;
    let run = 0;
    fc.assert(
      fc.property(systems, chance, (written, numbers) => {
        let system = written;
        let last = solve(system);
        const further: Solution[] = [last];
        for (let edit = 0; edit < 6; edit++) {
          system = edited(system, written, () => numbers.next().value as number);
          const fresh = solve(system);
          const answer = solve(system, last);
          expect(seen(answer)).toEqual(seen(fresh));
          // Beside any other one of before, too, and along a plan that is known.
          const other = further[(numbers.next().value as number) % further.length];
          expect(seen(solve(system, other))).toEqual(seen(fresh));
          if (!written.equations.some(({ when }) => when !== undefined))
            expect(seen(solveLike(system, planOf(fresh), other))).toMatchObject({
              values: seen(fresh).values,
            });
          taken += executionOf(answer).steps.length - carriedOut(answer);
          run += carriedOut(answer);
          last = answer;
          further.push(last);
        }
      }),
      { numRuns: 70, seed: 11 },
    );
    // It was no use to anyone where nothing was ever taken over.
    expect(taken).toBeGreaterThan(250);
    expect(run).toBeGreaterThan(500);
  });

  test("carries out what rests on the change, and nothing else", () => {
    const builder = new SystemBuilder().given({ a: 1, b: 2 });
    for (let at = 0; at < 40; at++)
      builder.equation(`a${at}`, `x${at}`, add(at === 0 ? "a" : `x${at - 1}`, 1));
    for (let at = 0; at < 5; at++)
      builder.equation(`b${at}`, `y${at}`, add(at === 0 ? "b" : `y${at - 1}`, `x${at * 8}`));
    const system = builder.system();
    const base = solve(system);
    expect(carriedOut(base)).toBe(45);
    const b = system.variables.findIndex(({ name }) => name === "b");
    const later = solve(withGivens(system, new Map([[b, exactly(9)]])), base);
    expect(carriedOut(later)).toBe(5);
    expect(carriedOut(solve(system, later))).toBe(5);
    expect(carriedOut(solve({ ...system }, base))).toBe(0);
  });

  test("blocks that have two answers, or none, are not searched again for what has nothing to do with them", () => {
    const system = meeting(4).system();
    const base = solve(system);
    const why = base.failures.map((each) => each.why);
    expect(why).toContain("several-roots");
    const s3 = system.variables.findIndex(({ name }) => name === "s3");
    const next = withGivens(system, new Map([[s3, exactly(2.5)]]));
    const answer = solve(next, base);
    expect(seen(answer)).toEqual(seen(solve(next)));
    // Its own, and what has no value since something else has none.
    expect(carriedOut(answer)).toBeLessThan(executionOf(answer).steps.length - 3);
  });
});

/** A housing with marks on a step, wishes they answer, and a row of figures that has no part in it. */
function housing(): System {
  const making: Making = { step: 0.25, off: 0.02, offShare: 0, said: true, order: 0 };
  const builder = new SystemBuilder()
    .given({ "left limit": 10.13, "right limit": 10.42 })
    .equation("l", "left mark", add("left limit", "left gap"))
    .equation("r", "right mark", add("right limit", "right gap"))
    .equation("width", "width", add("left mark", "right mark"))
    .equation("left wish", "left gap", 0.8, "wanted")
    .equation("right wish", "right gap", 0.8, "wanted")
    .equation("both", add("p", "q"), "left limit")
    .equation("apart", add("p", "q", "o"), "right limit")
    .equation("from", "f", add("width", 1));
  for (let at = 0; at < 30; at++)
    builder.equation(`c${at}`, `x${at}`, add(at === 0 ? "left limit" : `x${at - 1}`, 1));
  const { variables, equations } = builder.system();
  const made = (each: System["variables"][number]) =>
    each.name.endsWith("mark") ? { ...each, role: "made" as const, making, twin: "mark" } : each;
  return { variables: variables.map(made), equations };
}

describe("as it comes out", () => {
  test("is worked out beside the drawing, where it has to do with what is made, and comes out the same", () => {
    const system = housing();
    const drawn = draw(system);
    const outcome = outcomeOf(drawn);
    const fresh = outcomeOf(draw(system), [], (each) => solve(each));
    expect(seen(outcome)).toEqual(seen(fresh));
    expect(outcome.values[system.variables.findIndex(({ name }) => name === "o")]).toBeCloseTo(
      10.42 - 10.13,
      12,
    );
    expect(carriedOut(outcome)).toBeLessThan(12);
    expect(carriedOut(fresh)).toBeGreaterThan(35);
  });
});
