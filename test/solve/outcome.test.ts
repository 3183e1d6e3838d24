/**
 * A system as it comes out: what is made stands on its steps, and the wishes it answers give way. The
 * arithmetic is worked out beside each expectation; figures are invented.
 */
import { describe, expect, test } from "vitest";
import {
  answersOf,
  asMade,
  draw,
  madeFigures,
  outcomeOf,
  sharesStep,
  toStep,
  turnedFigures,
} from "../../server/solve";
import type { Claim, Making, Solution, System, Variable } from "../../server/solve/system";
import { add, compare, mul, SystemBuilder, sub, type Term, valueNamed, within } from "./build";

const making = (step: number | undefined, more: Partial<Making> = {}): Making => ({
  off: 0,
  offShare: 0,
  said: true,
  order: 0,
  ...(step === undefined ? {} : { step }),
  ...more,
});
const made = (step: number | undefined, more: Partial<Making> = {}): Partial<Variable> => ({
  role: "made",
  making: making(step, more),
});

/** The system with more said about some of its figures. */
function about(builder: SystemBuilder, more: Readonly<Record<string, Partial<Variable>>>): System {
  const { variables, equations } = builder.system();
  return {
    equations,
    variables: variables.map((variable) => ({ ...variable, ...more[variable.name] })),
  };
}

function comesOut(system: System, claims: readonly Claim[] = []) {
  const drawn = draw(system);
  const outcome = outcomeOf(drawn, claims);
  return { drawn, outcome, of: (name: string) => valueNamed(outcome, name) };
}

const indexOf = (solution: Solution, name: string): number =>
  solution.system.variables.findIndex((variable) => variable.name === name);
const limitsOf = (solution: Solution, name: string): readonly number[] => {
  const { low, high } = solution.system.variables[indexOf(solution, name)]!.given!;
  return [low, high];
};

describe("steps", () => {
  test("are the nearest, halves away from zero, or the other one", () => {
    // By fractions: 32nds.
    for (let count = -70; count <= 70; count++) {
      for (const part of [0, 0.2, 0.5, 0.7]) {
        const value = (count + part) / 32;
        const size = Math.abs(count + part);
        const near = Math.sign(value) * Math.floor(size + 0.5);
        const far = part === 0 ? near : near > count ? count : count + 1;
        expect(toStep(value, 1 / 32)).toBe(near / 32 || 0);
        expect(toStep(value, 1 / 32, true), `${value}`).toBe(far / 32 || 0);
      }
    }
    expect(toStep(1.2345, undefined)).toBe(1.2345);
    expect(toStep(1.2345, undefined, true)).toBe(1.2345);
  });
});

/** A mark from a limit and a gap that is wanted: mark = limit + gap. */
const marked = (limit: number, wish: number): SystemBuilder =>
  new SystemBuilder()
    .given({ limit })
    .equation("mark", "mark", add("limit", "gap"))
    .equation("gap wish", "gap", wish, "wanted");

describe("one made figure", () => {
  test.each([
    [10.1, 0.8, 0.25],
    [10.1, 0.8, 1],
    [3.33, 0.4, 0.125],
    [-7.06, 0.3, 0.5],
  ])("limit %d, gap %d, in steps of %d", (limit, wish, step) => {
    const { of, drawn } = comesOut(about(marked(limit, wish), { mark: made(step) }));
    const mark = toStep(limit + wish, step);
    expect(valueNamed(drawn, "gap")).toBeCloseTo(wish, 12);
    expect(of("mark")).toBe(mark);
    expect(of("gap")).toBeCloseTo(mark - limit, 12);
  });

  test("has what its making leaves it off by", () => {
    const system = about(marked(10.1, 0.8), {
      mark: made(0.5, { off: 0.01, offShare: 0.002 }),
    });
    const { outcome } = comesOut(system);
    // 10.9 is cut at 11: 0.01 and two thousandths of 11.
    const [low, high] = limitsOf(outcome, "mark");
    expect(low).toBeCloseTo(11 - 0.032, 12);
    expect(high).toBeCloseTo(11 + 0.032, 12);
  });

  test("that is to go to its farther step does, and is told", () => {
    const { drawn, outcome, of } = comesOut(
      about(
        marked(10.1, 0.8)
          .equation("rod", "rod", add("limit", "lap"))
          .equation("lap wish", "lap", 0.7, "wanted"),
        { mark: made(1, { turned: true }), rod: made(1) },
      ),
    );
    // 10.9 and 10.8: the one down to 10, the other up to 11.
    expect([of("mark"), of("rod")]).toEqual([10, 11]);
    expect([...turnedFigures(outcome)]).toEqual([indexOf(outcome, "mark")]);
    expect([...madeFigures(outcome)].sort()).toEqual(
      [indexOf(outcome, "mark"), indexOf(outcome, "rod")].sort(),
    );
    expect(madeFigures(drawn)).toEqual([]);
    expect(turnedFigures(drawn).size).toBe(0);
  });

  test("keeps within its range", () => {
    const system = (range: readonly [number, number]) =>
      about(marked(10.1, 0.8), { mark: { ...made(1), range } });
    expect(comesOut(system([0, 10.95])).of("mark")).toBe(10.95);
    expect(comesOut(system([0, 12])).of("mark")).toBe(11);
    expect(
      comesOut(about(marked(10.1, 0.3), { mark: { ...made(1), range: [10.2, 12] } })).of("mark"),
    ).toBe(10.2);
  });

  test("that answers no wish is not moved, and is shown on its step", () => {
    const builder = new SystemBuilder()
      .given({ limit: 10.1, gap: 0.8 })
      .equation("mark", "mark", add("limit", "gap"))
      .equation("end", "end", sub("mark", 3));
    const { outcome, drawn, of } = comesOut(about(builder, { mark: made(0.5) }));
    expect(outcome).toBe(drawn);
    expect(of("mark")).toBeCloseTo(10.9, 12);
    expect(asMade(outcome, indexOf(outcome, "mark"))).toBe(11);
    // What is read straight off it is read off the step; what is there already is on none.
    expect(asMade(outcome, indexOf(outcome, "end"))).toBeCloseTo(8, 12);
    expect(asMade(outcome, indexOf(outcome, "mark"), () => true)).toBeCloseTo(10.9, 12);
    expect(asMade(outcome, indexOf(outcome, "end"), () => true)).toBeCloseTo(7.9, 12);
    expect(asMade(outcome, indexOf(outcome, "limit"))).toBe(10.1);
  });

  test("that follows from what is only usual is not moved either", () => {
    const builder = new SystemBuilder()
      .given({ limit: 10.1 })
      .equation("mark", "mark", add("limit", "gap"))
      .equation("usual gap", "gap", 0.8, "default");
    const { outcome, drawn, of } = comesOut(about(builder, { mark: made(0.5) }));
    expect(outcome).toBe(drawn);
    expect(of("mark")).toBeCloseTo(10.9, 12);
    // Beside one that answers a wish, too.
    const more = builder
      .equation("rod", "rod", add("limit", "lap"))
      .equation("lap wish", "lap", 0.7, "wanted");
    const beside = comesOut(about(more, { mark: made(0.5), rod: made(1) }));
    expect(beside.of("mark")).toBeCloseTo(10.9, 12);
    expect(beside.of("gap")).toBeCloseTo(0.8, 12);
    expect(beside.of("rod")).toBe(11);
    expect(madeFigures(beside.outcome)).toEqual([indexOf(beside.outcome, "rod")]);
  });

  test("moves what bends in it no further", () => {
    const builder = (end: Term) =>
      new SystemBuilder()
        .given({ limit: 10.1, gap: 0.8 })
        .equation("mark", "mark", add("limit", "gap"))
        .equation("end", "end", end);
    const shown = (end: Term): number => {
      const { outcome } = comesOut(about(builder(end), { mark: made(0.5) }));
      return asMade(outcome, indexOf(outcome, "end"));
    };
    expect(shown(sub(20, "mark"))).toBeCloseTo(9, 12);
    expect(shown(mul(2, "mark"))).toBeCloseTo(21.8, 12);
    expect(shown(mul("mark", "mark"))).toBeCloseTo(10.9 ** 2, 9);
  });

  test("without a step is made to any value, and still has its ±", () => {
    const { of, outcome } = comesOut(
      about(marked(10.1, 0.8), { mark: made(undefined, { off: 0.2 }) }),
    );
    expect(of("mark")).toBeCloseTo(10.9, 12);
    expect(limitsOf(outcome, "mark")[0]).toBeCloseTo(10.7, 12);
  });

  test("given without a ± has that of its making, one with a ± keeps it", () => {
    const builder = () =>
      new SystemBuilder()
        .variable("bar", { given: 8 })
        .variable("rod", { given: within(5, 0.3) })
        .equation("sum", "sum", add("bar", "rod"));
    const off = { off: 0.125, offShare: 0.01 };
    const { outcome } = comesOut(about(builder(), { bar: made(1, off), rod: made(1, off) }));
    expect(limitsOf(outcome, "bar")[0]).toBeCloseTo(8 - 0.205, 12);
    expect(limitsOf(outcome, "bar")[1]).toBeCloseTo(8 + 0.205, 12);
    expect(limitsOf(outcome, "rod")).toEqual([4.7, 5.3]);
    // A ± to one side is one, and a making that leaves nothing off adds none.
    for (const given of [within(8, 0, 0.3), within(8, 0.3, 0)]) {
      const aside = comesOut(about(builder(), { bar: { ...made(1, off), given } }));
      expect(limitsOf(aside.outcome, "bar")).toEqual([given.low, given.high]);
    }
    const sure = comesOut(about(builder(), { bar: made(1) }));
    expect(sure.outcome).toBe(sure.drawn);
    // What is bought or measured has none of it.
    const bought = comesOut(about(builder(), { bar: { role: "bought", making: making(1, off) } }));
    expect(bought.outcome).toBe(bought.drawn);
  });
});

describe("an equation with a tolerance of its own", () => {
  test("has it as it comes out, and not as drawn", () => {
    const { variables, equations } = new SystemBuilder()
      .given({ a: 3 })
      .equation("fit", "b", mul(2, "a"))
      .system();
    const system = { variables, equations: equations.map((each) => ({ ...each, slack: 0.5 })) };
    const { outcome, of, drawn } = comesOut(system);
    expect(of("b")).toBeCloseTo(6, 12);
    const apart = outcome.system.variables.at(-1)!;
    expect([apart.given?.low, apart.given?.high]).toEqual([-0.5, 0.5]);
    expect(drawn.system.variables.length).toBe(2);
    const none = { variables, equations: equations.map((each) => ({ ...each, slack: 0 })) };
    expect(comesOut(none).outcome.system.variables.length).toBe(2);
  });
});

describe("several made figures for one wish", () => {
  // total = one + two, total is wanted; only one of them can answer.
  const builder = () =>
    new SystemBuilder()
      .equation("total", "total", add("one", "two"))
      .equation("total wish", "total", 10.3, "wanted")
      .equation("two usual", "two", 4.1, "assumed");

  test("the one that is said to be made goes first, then the earlier, then by name", () => {
    const order = (one: Partial<Variable>, two: Partial<Variable>): readonly number[] => {
      const { of } = comesOut(about(builder(), { one, two }));
      return [of("one"), of("two"), of("total")];
    };
    // one = 6.2 and two = 4.1 as drawn. Whatever is made of the two is on its step.
    const [one, two, total] = order(made(1), made(1, { order: 1 }));
    expect([one, two]).toEqual([6, 4]);
    expect(total).toBe(10);
    // Bought ones after made ones: the wish is let go for the made one alone.
    const bought = { role: "bought", making: making(1) } as const;
    const only = about(
      new SystemBuilder()
        .equation("total", "total", add("one", "two"))
        .equation("total wish", "total", 10.3, "wanted")
        .equation("split", "one", add("two", 2)),
      { one: bought, two: made(1) },
    );
    // two = 4.15 goes to 4; one follows with 6, which is on its step by chance; total 10.
    const result = comesOut(only);
    expect([result.of("one"), result.of("two"), result.of("total")]).toEqual([6, 4, 10]);
    expect(result.outcome.determinations[indexOf(result.outcome, "two")]!.how).toBe("given");
    expect(result.outcome.determinations[indexOf(result.outcome, "one")]!.how).toBe("solved");
  });

  test("are taken in the order of making, whatever their names", () => {
    // b = 3 a: with one wish one of them is made, the other follows.
    const system = (a: Partial<Variable>, b: Partial<Variable>) =>
      about(
        new SystemBuilder()
          .equation("three", "b", mul(3, "a"))
          .equation("wish", "b", 10.4, "wanted"),
        { a, b },
      );
    const given = (a: Partial<Variable>, b: Partial<Variable>): string[] => {
      const { outcome } = comesOut(system(a, b));
      return ["a", "b"].filter(
        (name) => outcome.determinations[indexOf(outcome, name)]!.how === "given",
      );
    };
    const bought = (more: Partial<Making> = {}): Partial<Variable> => ({
      role: "bought",
      making: making(1, more),
    });
    expect(given(made(1), made(1))).toEqual(["a"]);
    expect(given(made(1, { order: 2 }), made(1, { order: 1 }))).toEqual(["b"]);
    expect(given(made(1, { order: 1 }), made(1, { order: 2 }))).toEqual(["a"]);
    expect(given(made(1, { said: false }), made(1))).toEqual(["b"]);
    expect(given(made(1, { said: false }), made(1, { order: 9 }))).toEqual(["b"]);
    expect(given(bought(), made(1, { said: false, order: 9 }))).toEqual(["b"]);
    expect(given(bought(), bought())).toEqual(["a"]);
    expect(given(made(1), bought())).toEqual(["a"]);
    // a to 3 makes b 9; b to 10 makes a a third of it.
    const first = comesOut(system(made(1), made(1, { order: 1 })));
    expect([first.of("a"), first.of("b")]).toEqual([3, 9]);
    const second = comesOut(system(made(1, { order: 1 }), made(1)));
    expect([second.of("a"), second.of("b")]).toEqual([10 / 3, 10]);
  });

  test("each takes a wish where there are as many", () => {
    // Two marks, a wish each; the later is drawn to what the first came to.
    const system = about(
      new SystemBuilder()
        .given({ limit: 10.1 })
        .equation("first", "first", add("limit", "gap"))
        .equation("second", "second", add("first", "lap"))
        .equation("gap wish", "gap", 0.6, "wanted")
        .equation("lap wish", "lap", 2.2, "wanted"),
      { first: made(1), second: made(1, { order: 1 }) },
    );
    const { of, outcome, drawn } = comesOut(system);
    // 10.7 to 11; then 11 + 2.2 = 13.2 to 13, not 12.9 to 13 by chance: tell them apart below.
    expect([of("first"), of("second"), of("lap")]).toEqual([11, 13, 2]);
    expect(of("gap")).toBeCloseTo(0.9, 12);
    const answers = answersOf(drawn, outcome);
    const named = (name: string): string[] =>
      (answers.get(indexOf(drawn, name)) ?? []).map((e) => drawn.system.equations[e]!.name);
    expect(named("first")).toEqual(["gap wish"]);
    expect(named("second")).toEqual(["lap wish"]);
    expect([...answers.keys()].map((v) => drawn.system.variables[v]!.name)).toEqual([
      "first",
      "second",
    ]);
  });

  test("what is made later is drawn to what was made before it", () => {
    for (const [lap, second] of [
      [2.2, 13],
      [1.7, 13],
      [1.4, 12],
      [2.6, 14],
    ] as const) {
      for (const [one, other] of [
        [1, 1],
        [0.01, 40],
        [300, 0.2],
      ] as const) {
        const system = about(
          new SystemBuilder()
            .given({ limit: 10.1 })
            .variable("gap", { scale: one })
            .variable("first", { scale: other })
            .variable("lap", { scale: other })
            .equation("first", "first", add("limit", "gap"))
            .equation("second", "second", add("first", "lap"))
            .equation("gap wish", "gap", 0.6, "wanted")
            .equation("lap wish", "lap", lap, "wanted"),
          { first: made(1), second: made(1, { order: 1 }) },
        );
        // first 10.7 → 11, then 11 + lap to the nearest, whatever the natural sizes are.
        expect(comesOut(system).of("second"), `${lap}`).toBe(second);
      }
    }
  });

  test("a figure that answers two wishes by itself is told so", () => {
    const system = about(
      new SystemBuilder()
        .given({ left: 3.1, right: 3.4 })
        .equation("l", "width", add(mul(2, "left"), mul(2, "one")))
        .equation("r", "width", add(mul(2, "right"), mul(2, "two")))
        .equation("wish one", "one", 1, "wanted")
        .equation("wish two", "two", 1, "wanted"),
      { width: made(0.5), one: { twin: "gap" }, two: { twin: "gap" } },
    );
    const { of, drawn, outcome } = comesOut(system);
    // Evened: both miss alike at a width of 8.5, which is on its step.
    expect(of("width")).toBeCloseTo(8.5, 9);
    expect(of("one") - 1).toBeCloseTo(-(of("two") - 1), 9);
    expect(answersOf(drawn, outcome).size).toBe(1);
  });
});

describe("twins", () => {
  // Two sides of a width: marks from the middle, each with a gap that is wanted.
  const sides = (left: number, right: number, more: Readonly<Record<string, Partial<Variable>>>) =>
    about(
      new SystemBuilder()
        .given({ "left limit": left, "right limit": right })
        .equation("l", "left mark", add("left limit", "left gap"))
        .equation("r", "right mark", add("right limit", "right gap"))
        .equation("width", "width", add("left mark", "right mark"))
        .equation("left wish", "left gap", 0.8, "wanted")
        .equation("right wish", "right gap", 0.8, "wanted"),
      { "left gap": { twin: "gap" }, "right gap": { twin: "gap" }, ...more },
    );
  const twin = (step: number, more: Partial<Making> = {}) => ({
    ...made(step, more),
    twin: "mark",
  });

  test("are made both or neither", () => {
    const both = comesOut(sides(10.1, 10.4, { "left mark": twin(0.5), "right mark": twin(0.5) }));
    expect([both.of("left mark"), both.of("right mark"), both.of("width")]).toEqual([11, 11, 22]);
    // The width first: then only one wish is left for two marks, and neither is made.
    const width = comesOut(
      sides(10.1, 10.4, {
        "left mark": twin(0.5, { order: 2 }),
        "right mark": twin(0.5, { order: 2 }),
        width: made(1, { order: 1 }),
      }),
    );
    expect(width.of("width")).toBe(22);
    // Drawn 22.1: both gaps share what the width takes away.
    expect(width.of("left gap")).toBeCloseTo(0.75, 9);
    expect(width.of("right gap")).toBeCloseTo(0.75, 9);
  });

  test("mirrored, the answer is the mirrored one", () => {
    for (const step of [0.25, 0.5, 1]) {
      for (const [a, b] of [
        [10.13, 10.42],
        [9.2, 12.77],
        [8.05, 8.06],
      ] as const) {
        const wide: Readonly<Record<string, Partial<Variable>>> = {
          width: made(step, { order: -1 }),
        };
        for (const more of [{}, wide]) {
          const marks = {
            "left mark": twin(step),
            "right mark": twin(step),
            ...more,
          };
          const one = comesOut(sides(a, b, marks));
          const other = comesOut(sides(b, a, marks));
          for (const what of ["mark", "gap"]) {
            expect(one.of(`left ${what}`)).toBeCloseTo(other.of(`right ${what}`), 12);
            expect(one.of(`right ${what}`)).toBeCloseTo(other.of(`left ${what}`), 12);
          }
        }
      }
    }
  });

  test("share their last step where each on its own would miss a width that is given", () => {
    // Marks of 5.5 each: to whole steps both would be 6, and the width 12 instead of 11.
    const shared = (width: number, skew: number, step: number) => {
      const builder = new SystemBuilder()
        .given({ width })
        .equation("width", "width", add("left mark", "right mark"))
        .equation("skew", sub("left mark", "right mark"), mul(2, "skew"))
        .equation("skew wish", "skew", skew, "wanted");
      const system = about(builder, { "left mark": twin(step), "right mark": twin(step) });
      const { outcome } = comesOut(system);
      const at = (name: string): number => asMade(outcome, indexOf(outcome, name));
      return {
        marks: [at("left mark"), at("right mark")],
        shares: sharesStep(outcome, indexOf(outcome, "left mark")),
      };
    };
    expect(shared(11, 0, 1)).toEqual({ marks: [5.5, 5.5], shares: true });
    expect(shared(12, 0, 1)).toEqual({ marks: [6, 6], shares: false });
    expect(shared(12, 0.25, 1)).toEqual({ marks: [6, 6], shares: false });
    expect(shared(11, 0.1, 1).shares).toBe(false);
    expect(shared(5.5, 0, 0.5)).toEqual({ marks: [2.75, 2.75], shares: true });
  });

  test("share no step where they do not move against each other alone", () => {
    // Two marks of a width of 11 with a wish for their skew; what else there is is said in each case.
    const builder = () =>
      new SystemBuilder()
        .given({ width: 11 })
        .equation("width", "width", add("left mark", "right mark"))
        .equation("skew", sub("left mark", "right mark"), mul(2, "skew"))
        .equation("skew wish", "skew", 0, "wanted");
    const shares = (
      own: SystemBuilder,
      more: Readonly<Record<string, Partial<Variable>>> = {},
    ): boolean => {
      const system = about(own, { "left mark": twin(1), "right mark": twin(1), ...more });
      const { outcome } = comesOut(system);
      return sharesStep(outcome, indexOf(outcome, "left mark"));
    };
    expect(shares(builder())).toBe(true);
    // Beside something else that is made.
    const beside = () =>
      builder()
        .equation("rod", "rod", add("width", "lap"))
        .equation("lap wish", "lap", 0.3, "wanted");
    expect(shares(beside(), { rod: made(1) })).toBe(true);
    // Of different steps, of none, and by itself.
    expect(shares(builder(), { "right mark": twin(0.5) })).toBe(false);
    expect(shares(builder(), { "left mark": { ...made(undefined), twin: "mark" } })).toBe(false);
    expect(shares(builder(), { "right mark": made(1) })).toBe(false);
    // Three that move, and three of which one follows from nothing that is wanted.
    const third = (right: Term) => builder().equation("third", "third", right);
    expect(shares(third(add("skew", 5.5)), { third: twin(1) })).toBe(false);
    expect(shares(third(mul(0, "skew")), { third: twin(1) })).toBe(true);
    // A wish for their sum moves both the same way: then both are made.
    const sum = new SystemBuilder()
      .equation("width", "width", add("left mark", "right mark"))
      .equation("skew", sub("left mark", "right mark"), mul(2, "skew"))
      .equation("width wish", "width", 11, "wanted")
      .equation("skew wish", "skew", 0, "wanted");
    expect(shares(sum)).toBe(false);
  });
});

describe("a check that rounding alone would break", () => {
  // 10.1 + 0.3 is cut at 10, which leaves −0.1: where no less than nothing is allowed it is cut at 11.
  const gap = (limit: Term, holds: ">=" | "<=", more = 0) => {
    const builder = marked(10.1 + more, 0.3);
    const claim = builder.claim(compare("gap", holds, limit));
    return comesOut(about(builder, { mark: made(1) }), [claim]);
  };

  test("is made to the other side", () => {
    expect(gap(0, ">=").of("mark")).toBe(11);
    expect(gap(-0.2, ">=").of("mark")).toBe(10);
    // 10.8 is cut at 11, which leaves 0.5: where no more than 0.4 is allowed it is cut at 10.
    expect(gap(0.4, "<=", 0.4).of("mark")).toBe(10);
    expect(gap(0.6, "<=", 0.4).of("mark")).toBe(11);
  });

  test("not where it fails as drawn, nor where the other side breaks another", () => {
    expect(gap(0.35, ">=").of("mark")).toBe(10);
    const builder = marked(10.1, 0.3);
    const claims = [
      builder.claim(compare("gap", ">=", 0)),
      builder.claim(compare("gap", "<=", 0.5)),
      builder.claim(compare("mark", "<=", 10.9)),
    ];
    expect(comesOut(about(builder, { mark: made(1) }), claims).of("mark")).toBe(10);
    // What is spoken of only elsewhere breaks nothing.
    const idle = [builder.claim(compare("gap", ">=", 0), compare("limit", ">", 11))];
    expect(comesOut(about(builder, { mark: made(1) }), idle).of("mark")).toBe(10);
    const spoken = [builder.claim(compare("gap", ">=", 0), compare("limit", ">", 9))];
    expect(comesOut(about(builder, { mark: made(1) }), spoken).of("mark")).toBe(11);
  });

  test("only what moves it the wrong way is turned", () => {
    // 4.4 is cut down to 4, 6.9 up to 7.
    const builder = new SystemBuilder()
      .given({ zero: 0 })
      .equation("a", "a", add("zero", "x"))
      .equation("b", "b", add("zero", "y"))
      .equation("x wish", "x", 4.4, "wanted")
      .equation("y wish", "y", 6.9, "wanted");
    const cut = (claim: Claim) => {
      const { of } = comesOut(about(builder, { a: made(1), b: made(1) }), [claim]);
      return [of("a"), of("b")];
    };
    expect(cut(builder.claim(compare(sub("b", "a"), "<=", 2.6)))).toEqual([5, 6]);
    expect(cut(builder.claim(compare(add("a", "b"), ">=", 11.2)))).toEqual([5, 7]);
    expect(cut(builder.claim(compare("a", ">=", 4.2)))).toEqual([5, 7]);
    expect(cut(builder.claim(compare("b", "<=", 6.95)))).toEqual([4, 6]);
  });
});

describe("layout that wishes had pushed aside", () => {
  test("holds again once the wishes are let go for what is made", () => {
    for (const scale of [1, 0.02, 50]) {
      // Two gaps wanted; the middle is assumed to be 0 but the wishes decide it. With one width made the
      // housing is symmetrical again.
      const system = about(
        new SystemBuilder()
          .given({ left: 10.1, right: 10.5 })
          .variable("over", { scale })
          .equation("l", "l mark", add("left", "l gap"))
          .equation("r", "r mark", add("right", "r gap"))
          .equation("width", "width", add("l mark", "r mark"))
          .equation("over", mul(2, "over"), sub("l mark", "r mark"))
          .equation("middle", "over", 0, "assumed")
          .equation("l wish", "l gap", 0.8, "wanted")
          .equation("r wish", "r gap", 0.8, "wanted"),
        { width: made(1), "l gap": { twin: "gap" }, "r gap": { twin: "gap" } },
      );
      const { drawn, of } = comesOut(system);
      expect(valueNamed(drawn, "over")).toBeCloseTo(-0.2, 12);
      // 22.2 is cut at 22, half of it on each side.
      expect(of("width")).toBe(22);
      expect(of("over")).toBeCloseTo(0, 12);
      expect(of("l gap")).toBeCloseTo(0.9, 9);
      expect(of("r gap")).toBeCloseTo(0.5, 9);
    }
  });

  test("holds where it is assumed to, beside wishes that nothing made has let go", () => {
    // The middle is assumed 0.3 to the left; a rod's wish is no part of it.
    const builder = new SystemBuilder()
      .given({ left: 10.1, right: 10.5 })
      .equation("l", "l mark", add("left", "l gap"))
      .equation("r", "r mark", add("right", "r gap"))
      .equation("width", "width", add("l mark", "r mark"))
      .equation("over", mul(2, "over"), sub("l mark", "r mark"))
      .equation("middle", "over", 0.3, "assumed")
      .equation("l wish", "l gap", 0.8, "wanted")
      .equation("r wish", "r gap", 0.8, "wanted")
      .equation("rod", "rod", add("width", "lap"))
      .equation("lap wish", "lap", 0.25, "wanted");
    const twins = { "l gap": { twin: "gap" }, "r gap": { twin: "gap" } };
    const { of } = comesOut(about(builder, { ...twins, width: made(1) }));
    // 22.2 is cut at 22: marks of 11.3 and 10.7.
    expect(of("width")).toBe(22);
    expect(of("over")).toBeCloseTo(0.3, 9);
    expect(of("l gap")).toBeCloseTo(1.2, 9);
    expect(of("r gap")).toBeCloseTo(0.2, 9);
    expect(of("rod")).toBeCloseTo(22.25, 9);
    // Nothing of it made, the wishes stand, and what was assumed does not.
    const other = comesOut(about(builder, { ...twins, rod: made(1, { order: 1 }) }));
    expect(other.of("rod")).toBe(22);
    expect(other.of("width") + other.of("lap")).toBeCloseTo(22, 9);
  });
});
