/** Changes that make a claim hold, each put back into the system by hand. */
import { describe, expect, test } from "vitest";
import { fitFor } from "../../server/solve";
import { solve } from "../../server/solve/solve";
import type { Claim, Fit, Solution } from "../../server/solve/system";
import { verdictOf } from "../../server/solve/verdict";
import { withGivens } from "../../server/solve/with-givens";
import { add, call, compare, mul, pow, SystemBuilder, sub, within } from "./build";
import { randoms } from "./random-systems";

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

describe("what makes a check hold", () => {
  test("one change in whole steps, the nearest of all, by trying every step", () => {
    const random = randoms(12);
    let tried = 0;
    for (let i = 0; i < 40; i++) {
      const [a, b] = [2 + Math.floor(random() * 8), 1 + Math.floor(random() * 5)] as const;
      const limit = 10 + Math.floor(random() * 60);
      // Flat at a = 4: the slope is nothing there.
      const term = add(pow(sub("a", 4), 2), mul("b", 3));
      const builder = new SystemBuilder()
        .variable("a", { given: a, range: [0, 20], role: "made" })
        .variable("b", { given: b, range: [0, 20], role: "made" });
      const claim = builder.claim(compare(term, ">=", limit));
      const solution = solve(builder.system());
      if (verdictOf(solution, claim).nominal !== "fails") continue;
      tried++;
      const value = (x: number, y: number): number => (x - 4) ** 2 + 3 * y;
      const nearest = (start: number, holds: (x: number) => boolean): number | undefined =>
        Array.from({ length: 41 }, (_, at) => at / 2)
          .filter(holds)
          .sort((one, other) => Math.abs(one - start) - Math.abs(other - start))[0];
      const expected = new Map([
        ["a", nearest(a, (x) => value(x, b) >= limit)],
        ["b", nearest(b, (y) => value(a, y) >= limit)],
      ]);
      const fits = fitFor(solution, claim, () => 0.5);
      const alone = fits.filter(({ also }) => also === undefined);
      for (const [name, best] of expected) {
        const fit = alone.find(
          ({ variable }) => solution.system.variables[variable]!.name === name,
        );
        if (best === undefined) expect(fit).toBeUndefined();
        else {
          const start = name === "a" ? a : b;
          expect(Math.abs((fit?.value ?? Number.NaN) - start), `${name} ${a} ${b} ${limit}`).toBe(
            Math.abs(best - start),
          );
        }
      }
    }
    expect(tried).toBeGreaterThan(15);
  });
});
