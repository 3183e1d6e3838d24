/**
 * Contradictions: the sets named against every subset tried by hand, and room judged against the
 * tolerances' true ends.
 */
import { describe, expect, test } from "vitest";
import { repairsFor } from "../../server/solve";
import { solve } from "../../server/solve/solve";
import type { GivenNumber, System } from "../../server/solve/system";
import { withGivens } from "../../server/solve/with-givens";
import { add, call, exactly, mul, SystemBuilder, sub, within } from "./build";
import { randoms } from "./random-systems";

const namesOf = ({ system, conflicts }: ReturnType<typeof solve>): readonly string[][] =>
  conflicts.map(({ givens }) => givens.map(({ variable }) => system.variables[variable]!.name));

/** Whether a system contradicts itself with only some of its givens. */
function clashes(system: System, held: ReadonlySet<string>): boolean {
  const variables = system.variables.map(({ given, ...rest }) =>
    given !== undefined && held.has(rest.name) ? { ...rest, given } : rest,
  );
  return solve({ variables, equations: system.equations }).conflicts.length > 0;
}

describe("minimal sets", () => {
  const chain = (givens: Readonly<Record<string, number>>): System =>
    new SystemBuilder()
      .given(givens)
      .equation("left", "left.face", add("left.half", "standoff"))
      .equation("right", "right.face", add("right.half", "standoff"))
      .equation("housing", "housing", add("left.half", "right.half"))
      .equation("mount", "mount", add("left.face", "right.face"))
      .equation("track", "track", add("mount", mul(2, "spacer")))
      .system();

  for (const [title, givens] of [
    ["a width given three ways", { housing: 50, standoff: 2, mount: 55 }],
    ["with more beside it", { housing: 50, standoff: 2, mount: 55, spacer: 1 }],
    ["through the spacer", { housing: 50, standoff: 2, track: 60, spacer: 1 }],
    ["halves against the whole", { "left.half": 24, "right.half": 25, housing: 50, standoff: 2 }],
  ] as const) {
    test(title, () => {
      const system = chain(givens);
      for (const set of namesOf(solve(system))) {
        expect(clashes(system, new Set(set))).toBe(true);
        for (const name of set) {
          expect(clashes(system, new Set(set.filter((other) => other !== name)))).toBe(false);
        }
      }
      expect(namesOf(solve(system)).length).toBeGreaterThan(0);
    });
  }

  test("a given that is flat where it stands is a party too", () => {
    const system = new SystemBuilder()
      .given({ a: 12, b: 5, y: 10 })
      .equation("greater", "y", call("max", "a", "b"))
      .system();
    expect(namesOf(solve(system))).toEqual([["a", "y"]]);
    const flat = new SystemBuilder()
      .given({ a: 5, y: 3, k: 1 })
      .equation("square", "y", mul(sub("a", 5), sub("a", "k"), "k"))
      .system();
    expect(namesOf(solve(flat))[0]).toContain("a");
  });
});

describe("room", () => {
  const judged = (square: GivenNumber, value: number) => {
    const builder = new SystemBuilder().given({ x: square, y: value });
    builder.equation("e", "y", mul("x", "x"));
    return solve(builder.system()).conflicts.length;
  };

  test("of a lopsided tolerance counts on its own side", () => {
    const lopsided = (value: number) => {
      const builder = new SystemBuilder().given({ x: within(2, 0, 0.2), y: value });
      builder.equation("e", "y", "x");
      return solve(builder.system()).conflicts.length;
    };
    expect([lopsided(2.15), lopsided(1.85)]).toEqual([0, 1]);
  });

  test("of a curved one goes as far as it goes", () => {
    // x = 0 ± 1: x² comes to anything from 0 to 1.
    expect([
      judged(within(0, 1), 0.9),
      judged(within(0, 1), 1.1),
      judged(within(0, 1), -0.1),
    ]).toEqual([0, 1, 1]);
  });

  test("a contradiction says whether it is proved", () => {
    const builder = new SystemBuilder().given({ x: within(0, 1), y: 1.5 });
    builder.equation("e", "y", mul("x", "x"));
    expect(solve(builder.system()).conflicts[0]!.known).toBe("proved");
  });
});

test("one contradiction that shows in two relations is told once, two others are told twice", () => {
  const builder = new SystemBuilder()
    .given({ a: 1, b: 2, c: 3, d: 5 })
    .equation("one", "a", "b")
    .equation("other", mul(2, "a"), mul(2, "b"))
    .equation("apart", "c", "d");
  const told = namesOf(solve(builder.system())).map((names) => [...names].sort().join());
  expect([...told].sort()).toEqual(["a,b", "c,d"]);
});

describe("contradictions", () => {
  // a + b = s, s + c = t, t = d, a = e: with all given, the smallest sets by enumeration.
  const rows = (builder: SystemBuilder) =>
    builder
      .equation("one", add("a", "b"), "s")
      .equation("two", add("s", "c"), "t")
      .equation("three", "t", "d")
      .equation("four", "a", "e");
  const consistent = (givens: Readonly<Record<string, number>>): boolean =>
    solve(rows(new SystemBuilder().given(givens)).system()).conflicts.length === 0;

  test("each set named is minimal, by leaving out every one", () => {
    const random = randoms(31);
    let found = 0;
    for (let i = 0; i < 60; i++) {
      const names = ["a", "b", "c", "d", "e"].filter(() => random() < 0.85);
      const givens = Object.fromEntries(names.map((name) => [name, Math.floor(random() * 5)]));
      const solution = solve(rows(new SystemBuilder().given(givens)).system());
      const [conflict] = solution.conflicts;
      if (conflict === undefined) continue;
      found++;
      const parties = conflict.givens.map(
        ({ variable }) => solution.system.variables[variable]!.name,
      );
      const only = Object.fromEntries(parties.map((name) => [name, givens[name]!]));
      expect(consistent(only), JSON.stringify(givens)).toBe(false);
      for (const left of parties) {
        const { [left]: _, ...rest } = only;
        expect(consistent(rest), `${JSON.stringify(givens)} without ${left}`).toBe(true);
      }
    }
    expect(found).toBeGreaterThan(30);
  });

  test("each repair put into the system mends it", () => {
    const random = randoms(8);
    let tried = 0;
    for (let i = 0; i < 40; i++) {
      const givens = Object.fromEntries(
        ["a", "b", "c", "d", "e", "s"].map((name) => [name, Math.floor(random() * 6)]),
      );
      const builder = new SystemBuilder();
      for (const [name, value] of Object.entries(givens))
        builder.variable(name, { given: value, role: "made" });
      const solution = solve(rows(builder).system());
      if (solution.conflicts.length < 2) continue;
      for (const { changes } of repairsFor(solution)) {
        tried++;
        const mended = withGivens(
          solution.system,
          new Map(changes.map(({ variable, value }) => [variable, exactly(value ?? Number.NaN)])),
        );
        expect(solve(mended).conflicts).toEqual([]);
      }
    }
    expect(tried).toBeGreaterThan(10);
  });
});

describe("tolerances that move together", () => {
  const tape = (value: number, by: number, rounding = 0): GivenNumber => ({
    ...within(value, by),
    rounding,
    together: "the tape",
  });
  const apart = (left: GivenNumber, right: GivenNumber, offset: number) =>
    solve(
      new SystemBuilder()
        .given({ left, right, offset: exactly(offset) })
        .equation("offset", "offset", sub("left", "right"))
        .system(),
    ).conflicts;

  test("what one tape reads too long on both sides is no difference between them", () => {
    expect(apart(within(30, 0.5), within(30, 0.5), 0.6)).toEqual([]);
    expect(apart(tape(30, 0.5), tape(30, 0.5), 0.6)).toMatchObject([{ known: "proved" }]);
    // Half a step of rounding is each one's own.
    expect(apart(tape(30, 0.5, 0.05), tape(30, 0.5, 0.05), 0.08)).toEqual([]);
    expect(apart(tape(30, 0.5, 0.05), tape(30, 0.5, 0.05), 0.12)).toHaveLength(1);
  });

  test("sums of drawn shares contradict just where no place of the tapes and no rounding mends them", () => {
    const random = randoms(29);
    let clashing = 0;
    for (let round = 0; round < 300; round++) {
      const builder = new SystemBuilder();
      const shares = [0, 1, 2, 3].map(() => Math.round(random() * 6) - 3 || 1);
      const asOne = new Map<string, number>();
      let room = 0;
      let sum = 0;
      shares.forEach((share, at) => {
        const by = Math.round(random() * 4) / 10;
        const rounding = Math.round(random() * 2) / 100;
        const together = ["a tape", "a jig", undefined][Math.floor(random() * 3)];
        const given: GivenNumber = { ...within(10, by), rounding };
        builder.given({ [`g${at}`]: together === undefined ? given : { ...given, together } });
        const key = together ?? `g${at}`;
        asOne.set(key, (asOne.get(key) ?? 0) + share * by);
        room += Math.abs(share) * rounding;
        sum += share * 10;
      });
      for (const moved of asOne.values()) room += Math.abs(moved);
      const off = room * random() * 2 * (random() < 0.5 ? 1 : -1);
      // No verdict is asked for on the very edge.
      if (Math.abs(Math.abs(off) - room) < 1e-6) continue;
      builder
        .given({ total: exactly(sum + off) })
        .equation("total", "total", add(...shares.map((share, at) => mul(share, `g${at}`))));
      const { conflicts } = solve(builder.system());
      expect(conflicts.length > 0).toBe(Math.abs(off) > room);
      if (conflicts.length > 0) clashing++;
    }
    expect(clashing).toBeGreaterThan(80);
  });
});
