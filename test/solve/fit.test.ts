/** Changes that make a claim hold, each put back into the system by hand. */
import { describe, expect, test } from "vitest";
import { fitFor, solve, withGivens } from "../../server/solve";
import type { Claim, Fit, Solution } from "../../server/solve/system";
import { verdictOf } from "../../server/solve/verdict";
import { add, call, compare, mul, SystemBuilder, sub, within } from "./build";

/** The claim's verdict with the change made. */
function changed(solution: Solution, claim: Claim, fit: Fit) {
  const changes = [fit, ...(fit.also === undefined ? [] : [fit.also])].map(
    ({ variable, value }) => {
      const given = solution.system.variables[variable]!.given;
      const [down, up] =
        given === undefined ? [0, 0] : [given.value - given.low, given.high - given.value];
      return [variable, { value, low: value - down, high: value + up, rounding: 0 }] as const;
    },
  );
  return verdictOf(solve(withGivens(solution.system, new Map(changes))), claim);
}

const nameOf = (solution: Solution, { variable }: Pick<Fit, "variable">): string =>
  solution.system.variables[variable]!.name;

describe("one change", () => {
  test("is found from a flat spot, on both sides", () => {
    const builder = new SystemBuilder().given({ b: 5 });
    builder.equation("y", "y", mul(sub("b", 5), sub("b", 5)));
    const solution = solve(builder.system());
    const claim = builder.claim(compare("y", ">=", 4));
    const fits = fitFor(solution, claim, () => 0.5);
    expect([3, 7]).toContain(fits[0]!.value);
    expect(changed(solution, claim, fits[0]!).nominal).toBe("holds");
  });

  test("is found past a stretch in which nothing moves", () => {
    const builder = new SystemBuilder().given({ b: 4 });
    builder.equation("y", "y", call("max", "b", 10));
    const claim = builder.claim(compare("y", ">=", 12));
    const solution = solve(builder.system());
    expect(fitFor(solution, claim, () => 1)[0]).toMatchObject({ value: 12 });
  });

  test("of what is counted comes in whole ones", () => {
    const builder = new SystemBuilder().given({ count: 3, each: 1.5 });
    const claim = builder.claim(compare(mul("count", "each"), ">=", 7));
    const solution = solve(builder.system());
    const fit = fitFor(solution, claim, (v) =>
      solution.system.variables[v]!.name === "count" ? 1 : undefined,
    );
    expect(fit[0]).toMatchObject({ value: 5 });
  });

  test("is judged at the level that failed", () => {
    const builder = new SystemBuilder().given({ a: within(10.1, 0.25), b: within(10, 0.25) });
    const claim = builder.claim(compare("a", ">=", "b"));
    const solution = solve(builder.system());
    expect(verdictOf(solution, claim)).toMatchObject({ nominal: "holds", worst: "fails" });
    for (const fit of fitFor(solution, claim, () => 0.125, "worst")) {
      expect(changed(solution, claim, fit).worst).toBe("holds");
    }
    expect(fitFor(solution, claim, () => 0.125, "worst")[0]).toMatchObject({ value: 10.5 });
  });

  test("may be of a figure that is only assumed", () => {
    const builder = new SystemBuilder().given({ a: 3 });
    builder.equation("b is 1", "b", 1, "default");
    builder.equation("y", "y", add("a", "b"));
    const claim = builder.claim(compare("y", ">=", 5));
    const solution = solve(builder.system());
    const fits = fitFor(solution, claim, () => 0.5);
    expect(fits.map((fit) => [nameOf(solution, fit), fit.value])).toEqual(
      expect.arrayContaining([
        ["a", 4],
        ["b", 2],
      ]),
    );
  });
});

describe("two changes together", () => {
  test("where neither goes far enough alone", () => {
    const builder = new SystemBuilder()
      .variable("a", { given: 3, range: [0, 4] })
      .variable("b", { given: 3, range: [0, 4] });
    const claim = builder.claim(compare(add("a", "b"), ">=", 7.5));
    const solution = solve(builder.system());
    const [fit] = fitFor(solution, claim, () => 0.25);
    expect(fit!.also).toBeDefined();
    expect(changed(solution, claim, fit!).nominal).toBe("holds");
  });
});
