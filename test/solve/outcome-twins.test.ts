/**
 * Twins that are made alike, what is turned to its other step where rounding alone would break a check,
 * and layout that wishes had pushed aside. The arithmetic is worked out beside each expectation;
 * figures are invented.
 */
import { describe, expect, test } from "vitest";
import { asMade, sharesStep } from "../../server/solve";
import type { Claim, Making, Variable } from "../../server/solve/system";
import { add, compare, mul, SystemBuilder, sub, type Term, valueNamed } from "./build";
import { about, comesOut, indexOf, made, marked } from "./made";

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
