/** What a figure rests on, by structure and along long chains. */
import { describe, expect, test } from "vitest";
import { solve } from "../../server/solve/solve";
import {
  add,
  call,
  mul,
  neg,
  pow,
  restsOnNames,
  SystemBuilder,
  sub,
  type Term,
  valueNamed,
} from "./build";

describe("what rests on what", () => {
  test("by structure, where slopes are nothing", () => {
    const rested = (term: Term, b: number): string[] =>
      restsOnNames(
        solve(
          new SystemBuilder()
            .variable("b", { range: [-1000, 1000] })
            .equation("default b", "b", b, "default")
            .equation("y", "y", term)
            .system(),
        ),
        "y",
      );
    expect(rested(call("max", "b", 10), 3)).toEqual(["default b"]);
    expect(rested(call("round", "b", 1), 3.2)).toEqual(["default b"]);
    expect(rested(pow(sub("b", 5), 2), 5)).toEqual(["default b"]);
    expect(rested(mul(0, "b"), 5)).toEqual([]);
    expect(rested(sub("b", "b"), 5)).toEqual([]);
    expect(rested(call("min", "b", 2000), 5)).toEqual(["default b"]);
    // Nothing in b's range comes to 2,000: it never rests on it.
    expect(rested(call("max", "b", 2000), 5)).toEqual([]);
  });
});

test("sixty-one assumed stages in a row", () => {
  const builder = new SystemBuilder().given({ x0: 1 });
  for (let i = 0; i < 61; i++)
    builder.equation(`stage ${i}`, `x${i + 1}`, add(`x${i}`, 0.25), "assumed");
  const solution = solve(builder.system());
  expect(valueNamed(solution, "x61")).toBe(16.25);
  expect(restsOnNames(solution, "x61")).toHaveLength(61);
  expect(valueNamed(solve(builder.equation("end", "x61", neg(2)).system()), "x60")).not.toBeNaN();
});
