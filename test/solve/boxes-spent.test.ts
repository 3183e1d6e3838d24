/**
 * How many boxes a search takes, counted: a search that narrows, proves or halves less well still
 * answers, but spends more. Each bound is what it takes now and a tenth more.
 */
import { describe, expect, test } from "vitest";
import { boundsOf, staysAbove } from "../../server/solve/bounds";
import { solve } from "../../server/solve/solve";
import { answersOf } from "./answers-of";
import {
  add,
  call,
  div,
  type Givens,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";

const away = (x: number, y: number): Term => add(pow(sub("x", x), 2), pow(sub("y", y), 2));

describe("all answers, each as near as it is known", () => {
  const r2 = Math.SQRT2;
  const wave = Array.from({ length: 127 }, (_, i) => [(i + 1) * Math.PI]);
  test.each<
    readonly [
      name: string,
      unknowns: readonly string[],
      terms: readonly Term[],
      range: readonly [number, number],
      boxes: number,
      answers: readonly (readonly number[])[],
    ]
  >([
    ["x² = 2", ["x"], [sub(mul("x", "x"), 2)], [-10, 10], 3, [[-r2], [r2]]],
    ["sin x = 0", ["x"], [call("sin", "x")], [1, 400], 538, wave],
    [
      "x³ − 7x = 6",
      ["x"],
      [sub(sub(pow("x", 3), mul(7, "x")), 6)],
      [-20, 20],
      14,
      [[-2], [-1], [3]],
    ],
    [
      "two near each other",
      ["x"],
      [mul(sub("x", 0.5), sub("x", 0.5001))],
      [0, 1],
      21,
      [[0.5], [0.5001]],
    ],
    ["a kink", ["x"], [sub(call("max", "x", mul(-2, "x")), 1)], [-10, 10], 12, [[-0.5], [1]]],
    ["none", ["x"], [add(pow("x", 2), 1)], [-100, 100], 1, []],
    [
      "a circle and a line",
      ["x", "y"],
      [sub(add(mul("x", "x"), mul("y", "y")), 25), sub("y", sub("x", 1))],
      [-10, 10],
      3,
      [
        [-3, -4],
        [4, 3],
      ],
    ],
    [
      "a circle and a line that miss each other",
      ["x", "y"],
      [sub(add(pow("x", 2), pow("y", 2)), 1), sub(add("x", "y"), 3)],
      [-10, 10],
      3,
      [],
    ],
    [
      "two distances",
      ["x", "y"],
      [sub(away(0, 0), 25), sub(away(6, 0), 25)],
      [-20, 20],
      19,
      [
        [3, -4],
        [3, 4],
      ],
    ],
    [
      // z = xy, z = x + 1, x + y + z = 6: 2x² − 4x + 1 = 0 after putting in… by hand: y = 5 − 2x, x(5 − 2x) = x + 1.
      "three figures",
      ["x", "y", "z"],
      [sub(add("x", "y", "z"), 6), sub(mul("x", "y"), "z"), sub(sub("z", "x"), 1)],
      [-10, 10],
      14,
      [
        [1 - r2 / 2, 3 + r2, 2 - r2 / 2],
        [1 + r2 / 2, 3 - r2, 2 + r2 / 2],
      ],
    ],
  ])("%s", (_, unknowns, terms, range, boxes, answers) => {
    const found = answersOf(unknowns, terms, range, boxes);
    expect(found.complete).toBe(true);
    expect(found.answers.map((each) => [...each])).toEqual(
      answers.map((each) => each.map((x) => expect.closeTo(x, 12))),
    );
  });
});

describe("the ends of what a formula comes to", () => {
  const two = { a: within(2, 0.5), b: within(1, 0.25, 0.75) };
  const signs = { a: within(0.5, 2), b: within(-0.25, 1, 0.5) };

  /** Proved and found, a five-hundredth of the width apart, in so many boxes for the most and the least. */
  test.each<readonly [string, Term, Givens, number, number]>([
    ["a product", mul("a", "b"), signs, 1, 1],
    ["a sum of squares", add(pow("a", 2), pow("b", 2)), signs, 1, 9],
    ["a difference of squares", sub(pow("a", 2), pow("b", 2)), signs, 11, 10],
    ["a cube", add(pow("a", 3), "b"), signs, 1, 1],
    ["a bent product", mul(sub("a", 2), sub("b", 1)), two, 1, 1],
    ["a sine", mul("a", call("sin", mul(3, "b"))), two, 1, 11],
    ["the larger", call("max", "a", mul(2, "b")), two, 1, 1],
    ["a magnitude", call("abs", add("a", "b")), signs, 1, 1],
    ["a magnitude to one side", sub("a", call("abs", sub("b", 1.25))), two, 1, 1],
    ["an exponential", call("exp", sub("a", mul(2, "b"))), two, 1, 1],
    ["a quotient", div("a", "b"), two, 1, 1],
    ["one of both", div(add("a", "b"), sub("a", mul(0.1, "b"))), two, 6, 9],
    ["a saddle", mul(add("a", "b"), sub("a", "b")), signs, 19, 26],
    ["two waves", add(call("sin", mul(2, "a")), call("cos", mul(3, "b"))), two, 1, 17],
    ["a hump", mul("a", sub(1, mul("a", "b"))), signs, 1, 7],
  ])("%s", (_, term, givens, most, least) => {
    const builder = new SystemBuilder().given(givens).equation("y", "y", term);
    const solution = solve(builder.system());
    const quantity = builder.quantity("y");
    const full = boundsOf(solution, quantity);
    const room = 2e-3 * (full.most.outer - full.least.outer);
    const upper = boundsOf(solution, quantity, { boxes: most }).most;
    expect([upper.outer - upper.found <= room, upper.loose]).toEqual([true, false]);
    const lower = boundsOf(solution, quantity, { boxes: least }).least;
    expect([lower.found - lower.outer <= room, lower.loose]).toEqual([true, false]);
  });

  const steep = (one: string, from: number, other: string, less: number): Term =>
    mul(call("sqrt", call("abs", sub(one, from))), sub(less, other));

  /** Limits a hundredth of the width beyond the least and short of it: clear, and failed, in so many. */
  test.each<[string, Term, Givens, number, number]>([
    ["a sum of squares", add(pow("a", 2), pow("b", 2)), signs, 0, 8],
    ["a saddle", mul(add("a", "b"), sub("a", "b")), signs, 26, 7],
    ["a difference of squares", sub(pow("a", 2), pow("b", 2)), signs, 0, 9],
    ["a hump", mul("a", sub(1, mul("a", "b"))), signs, 6, 0],
    ["two waves", add(call("sin", mul(2, "a")), call("cos", mul(3, "b"))), two, 0, 17],
    ["one of both", div(add("a", "b"), sub("a", mul(0.1, "b"))), two, 8, 0],
    ["a sine", mul("a", call("sin", mul(3, "b"))), two, 0, 9],
    ["two steep ones", add(steep("a", 2.1, "b", 3), steep("b", 1.2, "a", 4)), two, 0, 71],
  ])("whether it stays clear: %s", (_, term, givens, clear, failed) => {
    const builder = new SystemBuilder().given(givens).equation("y", "y", term);
    const solution = solve(builder.system());
    const quantity = builder.quantity("y");
    const { least, most } = boundsOf(solution, quantity, { boxes: 2000 });
    const near = (most.found - least.found) / 100;
    const told = (limit: number, boxes: number) =>
      staysAbove(solution, quantity, limit, false, { boxes }).answer;
    expect(told(least.outer - near, clear)).toBe("surely");
    expect(told(least.found + near, failed)).toBe("fails");
  });
});
