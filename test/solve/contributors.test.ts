/**
 * What each given adds to the ± of a figure, against what comes of moving it by hand, and what two
 * comparisons with limits of different sorts say together.
 */
import { describe, expect, test } from "vitest";
import { solve, spreadOf, verdictOf, withGivens } from "../../server/solve";
import type { Condition } from "../../server/solve/expression";
import type { GivenNumber } from "../../server/solve/system";
import {
  add,
  call,
  compare,
  div,
  exactly,
  type Givens,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";

function spread(term: Term, givens: Givens) {
  const builder = new SystemBuilder().given(givens);
  const solution = solve(builder.system());
  const told = spreadOf(solution, builder.quantity(term))!;
  const near = (x: number): unknown => expect.closeTo(x, 9);
  return {
    told,
    near,
    list: told.contributors.map(({ variable, sensitivity, below, above, share }) => [
      solution.system.variables[variable]!.name,
      sensitivity,
      below,
      above,
      share,
    ]),
  };
}

describe("what each given adds", () => {
  test("to a straight formula: its slope times how far it may be off either way", () => {
    const { list, near } = spread(sub(mul(2, "a"), "b", "c"), {
      a: within(1, 1, 3),
      b: within(0, 1, 0),
      c: within(5, 0.5),
    });
    // Halves of what they move in all: 4, 0.5, 0.5; of the same share, by name.
    const all = 16 + 0.25 + 0.25;
    expect(list).toEqual([
      ["a", near(2), near(2), near(6), near(16 / all)],
      ["b", near(-1), near(0), near(1), near(0.25 / all)],
      ["c", near(-1), near(0.5), near(0.5), near(0.25 / all)],
    ]);
  });

  test("to a bent one: what it comes to at its limits, the others as they are", () => {
    const { list, near, told } = spread(add(pow("a", 2), mul(-1, "b"), sub("c", "c")), {
      a: within(1, 1),
      b: within(0, 1),
      c: within(2, 1),
    });
    expect(list).toEqual([
      ["a", near(2), near(1), near(3), near(0.9)],
      ["b", near(-1), near(1), near(1), near(0.1)],
    ]);
    expect([told.worstBelow, told.worstAbove]).toEqual([
      expect.closeTo(2, 2),
      expect.closeTo(4, 2),
    ]);
  });

  test("is nothing on the side on which there is no value", () => {
    const { list, near, told } = spread(call("sqrt", "a"), { a: within(1, 2, 3) });
    expect(list).toEqual([["a", near(0.5), 0, near(1), 1]]);
    expect(told.partial).toBe(true);
  });

  test("is taken along the slope where that varies by less than a fiftieth", () => {
    const of = (by: number) => spread(pow("a", 2), { a: within(100, by) }).list[0]!.slice(2, 4);
    expect(of(0.9)).toEqual([expect.closeTo(180, 9), expect.closeTo(180, 9)]);
    expect(of(1.1)).toEqual([expect.closeTo(218.79, 9), expect.closeTo(221.21, 9)]);
    const fallen = spread(pow("a", 2), { a: within(-100, 0.9, 0.2) });
    expect(fallen.list[0]!.slice(2, 4)).toEqual([expect.closeTo(40, 9), expect.closeTo(180, 9)]);
  });

  test("nothing to what has no tolerance", () => {
    const { told } = spread(mul("a", 2), { a: exactly(3) });
    expect(told).toEqual({
      worstBelow: 0,
      worstAbove: 0,
      below: { known: "proved", found: 0, at: new Map() },
      above: { known: "proved", found: 0, at: new Map() },
      partial: false,
      rss: 0,
      shift: 0,
      draws: 0,
      contributors: [],
    });
  });

  test("an end without a limit is told", () => {
    const { told } = spread(div(1, sub("a", 1)), { a: within(1.5, 1) });
    expect([told.above.known, told.worstAbove]).toEqual(["unlimited", Number.POSITIVE_INFINITY]);
  });
});

describe("two comparisons with limits of different sorts", () => {
  const said = (condition: Condition, givens: Readonly<Record<string, GivenNumber>>) => {
    const builder = new SystemBuilder().given(givens);
    const solution = solve(builder.system());
    const { nominal, rss, worst, witness } = verdictOf(solution, builder.claim(condition));
    const there = new Map([...(witness ?? [])].map(([given, at]) => [given, exactly(at)]));
    const again =
      witness === undefined
        ? undefined
        : verdictOf(solve(withGivens(solution.system, there)), builder.claim(condition)).nominal;
    return [nominal, rss, worst, again];
  };
  const both: Condition = {
    op: "and",
    left: compare("a", ">=", 1),
    right: compare("b", ">", 2),
  };
  const either: Condition = { ...both, op: "or" };
  const [far, near, at] = [within(5, 1), within(1.5, 1), within(3, 1)];

  test("hold where both surely do, and fail where one may, at the place that is told", () => {
    expect(said(both, { a: far, b: far })).toEqual(["holds", "holds", "holds", undefined]);
    expect(said(both, { a: near, b: far })).toEqual(["holds", "fails", "fails", "fails"]);
    expect(said(both, { a: far, b: at })).toEqual(["holds", "holds", "fails", "fails"]);
    expect(said(both, { a: far, b: within(2.5, 1) })).toEqual(["holds", "fails", "fails", "fails"]);
    // At the limit itself one holds and the other does not.
    expect(said(both, { a: within(2, 1), b: far }).slice(0, 3)).toEqual([
      "holds",
      "holds",
      "holds",
    ]);
  });

  test("one of them is enough where either will do", () => {
    expect(said(either, { a: far, b: near })).toEqual(["holds", "holds", "holds", undefined]);
    expect(said(either, { a: near, b: far })).toEqual(["holds", "holds", "holds", undefined]);
    expect(said(either, { a: near, b: within(2.5, 1) }).slice(2)).toEqual(["fails", "fails"]);
  });
});
