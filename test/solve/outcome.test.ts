/**
 * A system as it comes out: what is made stands on its steps, and the wishes it answers give way. The
 * arithmetic is worked out beside each expectation; figures are invented.
 */
import { describe, expect, test } from "vitest";
import { answersOf, asMade, madeFigures, toStep, turnedFigures } from "../../server/solve";
import type { Making, Variable } from "../../server/solve/system";
import { add, mul, SystemBuilder, sub, type Term, valueNamed, within } from "./build";
import { about, comesOut, indexOf, limitsOf, made, making, marked } from "./made";

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
