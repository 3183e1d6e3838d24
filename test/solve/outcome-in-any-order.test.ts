/** What comes out is the same in any units and in any order of what is written. */
import { describe, expect, test } from "vitest";
import { answersOf, asMade, draw, outcomeOf } from "../../server/solve";
import type { Making, System, Variable } from "../../server/solve/system";
import { add, exactly, mul, SystemBuilder, shuffled, sub } from "./build";
import { factorsFor, inUnits } from "./units";

type More = Readonly<Record<string, Partial<Variable>>>;

const making = (step: number, more: Partial<Making> = {}): Making => ({
  step,
  off: step / 16,
  offShare: 0.001,
  said: true,
  order: 0,
  ...more,
});
const made = (step: number, more: Partial<Making> = {}): Partial<Variable> => ({
  role: "made",
  making: making(step, more),
});
const twin = (step: number, name: string, more: Partial<Making> = {}) => ({
  ...made(step, more),
  twin: name,
});

function about(builder: SystemBuilder, more: More): System {
  const { variables, equations } = builder.system();
  return {
    equations,
    variables: variables.map((variable) => ({ ...variable, ...more[variable.name] })),
  };
}

/** Two sides of a housing: limits, gaps that are wanted, marks, a width, shafts cut to the marks. */
const housing = (left: number, right: number) =>
  new SystemBuilder()
    .given({ "left limit": left, "right limit": right })
    .equation("l", "left mark", add("left limit", "left gap"))
    .equation("r", "right mark", add("right limit", "right gap"))
    .equation("width", "width", add("left mark", "right mark"))
    .equation("over", mul(2, "over"), sub("left mark", "right mark"))
    .equation("l shaft", "left shaft", add("left mark", sub(2.3, "left play")))
    .equation("r shaft", "right shaft", add("right mark", sub(2.3, "right play")))
    .equation("left wish", "left gap", 0.8, "wanted")
    .equation("right wish", "right gap", 0.8, "wanted")
    .equation("left play wish", "left play", 0.2, "wanted")
    .equation("right play wish", "right play", 0.2, "wanted")
    .equation("middle", "over", 0, "assumed");
const gaps: More = {
  "left gap": { twin: "gap", wish: exactly(0.8) },
  "right gap": { twin: "gap", wish: exactly(0.8) },
  "left play": { twin: "play" },
  "right play": { twin: "play" },
};
const marks = (step: number): More => ({
  "left mark": twin(step, "mark"),
  "right mark": twin(step, "mark"),
});
const shafts = (step: number): More => ({
  "left shaft": twin(step, "shaft", { order: 3 }),
  "right shaft": twin(step, "shaft", { order: 3 }),
});

const systems: readonly (readonly [string, System])[] = [
  ["marks", about(housing(10.13, 10.42), { ...gaps, ...marks(0.25) })],
  ["marks and shafts", about(housing(10.13, 10.42), { ...gaps, ...marks(0.25), ...shafts(0.125) })],
  ["a width", about(housing(10.13, 10.42), { ...gaps, width: made(1) })],
  [
    "a width and shafts",
    about(housing(9.3, 12.1), { ...gaps, width: made(0.5), ...shafts(0.125) }),
  ],
  ["shafts alone", about(housing(9.3, 12.1), { ...gaps, ...shafts(0.125) })],
  [
    "a width that is given",
    about(housing(10.13, 10.42).given({ width: 22 }), { ...gaps, ...marks(0.25) }),
  ],
  [
    "a width that is given and made",
    about(housing(10.13, 10.42).given({ width: 22.5 }), {
      ...gaps,
      width: made(0.5),
      ...shafts(0.125),
    }),
  ],
  [
    "three in a row, bought and made",
    about(
      new SystemBuilder()
        .given({ start: 1.3 })
        .equation("a", "first", add("start", "one"))
        .equation("b", "second", add("first", "two"))
        .equation("c", "third", add("second", mul(2, "three")))
        .equation("one wish", "one", 2.2, "wanted")
        .equation("two wish", "two", 3.1, "wanted")
        .equation("three usual", "three", 0.7, "asked"),
      {
        first: made(0.5, { order: 2 }),
        second: { role: "bought", making: making(1) },
        third: made(0.25, { order: 1, said: false }),
      },
    ),
  ],
];

/** By name: what was drawn, what comes out, within which limits, and which wishes it answers. */
function seen(system: System) {
  const drawn = draw(system);
  const outcome = outcomeOf(drawn);
  const answers = answersOf(drawn, outcome);
  return system.variables.map(({ name }, v) => ({
    name,
    drawn: drawn.values[v]!,
    out: outcome.values[v]!,
    shown: asMade(outcome, v),
    off: outcome.system.variables[v]!.given?.high ?? 0,
    // Wishes that were evened out stand behind what was written.
    answers: (answers.get(v) ?? [])
      .filter((e) => e < system.equations.length)
      .map((e) => drawn.system.equations[e]!.name)
      .sort(),
  }));
}

describe("what comes out", () => {
  test.each(systems)("%s, in any order", (_, system) => {
    const plain = seen(system);
    // Something of it is made, and on its step.
    expect(plain.some(({ drawn, shown }) => Math.abs(drawn - shown) > 1e-3)).toBe(true);
    let state = 5;
    const order = (count: number): number[] => {
      const keys = Array.from({ length: count }, () => {
        state = (state * 48271) % 2147483647;
        return state;
      });
      return [...keys.keys()].sort((a, b) => keys[a]! - keys[b]!);
    };
    for (let round = 0; round < 3; round++) {
      const other = shuffled(
        system,
        order(system.variables.length),
        order(system.equations.length),
      );
      for (const found of seen(other)) {
        const wanted = plain.find(({ name }) => name === found.name)!;
        expect(found).toEqual({
          ...wanted,
          drawn: expect.closeTo(wanted.drawn, 9),
          out: expect.closeTo(wanted.out, 9),
          shown: expect.closeTo(wanted.shown, 9),
          off: expect.closeTo(wanted.off, 9),
        });
      }
    }
  });

  test.each(systems)("%s, in any units", (_, system) => {
    const plain = seen(system);
    for (const seed of [1, 2, 3]) {
      // All are lengths: what is read straight off another is in its unit.
      const [unit = 1] = factorsFor(system, seed);
      const factors = system.variables.map(() => unit);
      for (const [v, found] of seen(inUnits(system, factors)).entries()) {
        const wanted = plain[v]!;
        const by = factors[v]!;
        expect(found.answers).toEqual(wanted.answers);
        for (const what of ["drawn", "out", "shown", "off"] as const)
          expect(found[what] / by, `${found.name} ${what}`).toBeCloseTo(wanted[what], 8);
      }
    }
  });
});
