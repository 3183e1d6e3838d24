/** Changes that make a claim hold, each put back into the system by hand. */
import { describe, expect, test } from "vitest";
import { fitFor } from "../../server/solve";
import type { Expression } from "../../server/solve/expression";
import { solve } from "../../server/solve/solve";
import type { Claim, Fit, Solution } from "../../server/solve/system";
import { verdictOf } from "../../server/solve/verdict";
import { withGivens } from "../../server/solve/with-givens";
import {
  add,
  call,
  compare,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  of as term,
  within,
} from "./build";
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
  const told = (
    ranges: readonly [readonly [number, number], readonly [number, number]],
    claim: (builder: SystemBuilder) => Claim,
  ) => {
    const builder = new SystemBuilder()
      .variable("a", { given: 3, range: ranges[0] })
      .variable("b", { given: 3, range: ranges[1] });
    const own = claim(builder);
    const solution = solve(builder.system());
    const fits = fitFor(solution, own, () => 0.25);
    for (const fit of fits) expect(changed(solution, own, fit).nominal).toBe("holds");
    return fits.map(({ variable, value, also, effort }) => [variable, value, also, effort]);
  };
  const sum = (limit: number) => (builder: SystemBuilder) =>
    builder.claim(compare(add("a", "b"), ">=", limit));
  const apart = (limit: number) => (builder: SystemBuilder) =>
    builder.claim(compare(sub("a", "b"), ">=", limit));

  test("where neither goes far enough alone: the same number of steps each", () => {
    // 3.75 and 3.75 come to 7.5; both were at 3.
    const both = [0, 3.75, { variable: 1, value: 3.75 }, 1.5];
    expect(
      told(
        [
          [0, 4],
          [0, 4],
        ],
        sum(7.5),
      ),
    ).toEqual([both]);
    expect(
      told(
        [
          [0, 4],
          [0, 4],
        ],
        sum(7.26),
      ),
    ).toEqual([both]);
    expect(
      told(
        [
          [0, 4],
          [0, 4],
        ],
        sum(8.1),
      ),
    ).toEqual([]);
  });

  test("each as far as its range lets it, in whole steps inside of it", () => {
    expect(
      told(
        [
          [0, 3.6],
          [0, 4.1],
        ],
        sum(7.5),
      ),
    ).toEqual([[0, 3.5, { variable: 1, value: 4 }, 1.5]]);
    expect(
      told(
        [
          [0, 3.6],
          [0, 4.1],
        ],
        sum(7.6),
      ),
    ).toEqual([]);
    expect(
      told(
        [
          [0, 3.6],
          [2.4, 9],
        ],
        apart(1),
      ),
    ).toEqual([[0, 3.5, { variable: 1, value: 2.5 }, 1]]);
    // 2.25 would do, and is below what the figure can be.
    expect(
      told(
        [
          [0, 3.6],
          [2.4, 9],
        ],
        apart(1.1),
      ),
    ).toEqual([]);
  });

  test("one alone goes before two, however far it has to go", () => {
    expect(
      told(
        [
          [0, 4],
          [0, 40],
        ],
        sum(9),
      ),
    ).toEqual([[1, 6, undefined, 3]]);
  });
});

describe("which figures may be changed", () => {
  const told = (
    builder: SystemBuilder,
    claim: Claim,
    step: (name: string) => number | undefined,
  ) => {
    const solution = solve(builder.system());
    return fitFor(solution, claim, (v) => step(solution.system.variables[v]!.name)).map((fit) => [
      nameOf(solution, fit),
      fit.value,
    ]);
  };
  const three = (): SystemBuilder =>
    new SystemBuilder().given({ a: 1, b: 1, c: 1 }).equation("y", "y", add("a", "b", "c"));

  test("those that are made in steps, and none without a step", () => {
    const steps: Readonly<Record<string, number | undefined>> = { a: 0.5, b: 0, c: undefined };
    const builder = three();
    const claim = builder.claim(compare("y", ">=", 4.2));
    expect(told(builder, claim, (name) => steps[name])).toEqual([["a", 2.5]]);
    expect(told(builder, claim, () => -1)).toEqual([]);
    expect(told(builder, claim, () => Number.NaN)).toEqual([]);
  });

  test("equally gentle ones by name, whatever the order they are written in", () => {
    const builder = new SystemBuilder().given({ c: 1, a: 1, b: 1 });
    builder.equation("y", "y", add("b", "c", "a"));
    const claim = builder.claim(compare("y", ">=", 4));
    expect(told(builder, claim, () => 1)).toEqual([
      ["a", 2],
      ["b", 2],
      ["c", 2],
    ]);
  });

  test("not what was measured, nor what is settled by relations", () => {
    const builder = new SystemBuilder()
      .variable("a", { given: 1, role: "measured" })
      .variable("b", { given: 1, role: "made" })
      .variable("k", { given: 3, role: "constant" })
      .equation("half", "h", mul(0.5, "b"))
      .equation("y", "y", add("a", "h", "k"));
    expect(told(builder, builder.claim(compare("y", ">=", 5.5)), () => 1)).toEqual([["b", 3]]);
  });

  test("not one by which something else would contradict itself", () => {
    // a + b = s is written down with all three: a cannot move without the others.
    const builder = new SystemBuilder()
      .given({ a: 1, b: 2, s: 3, c: 1 })
      .equation("sum", add("a", "b"), "s")
      .equation("y", "y", add("a", "c"));
    expect(told(builder, builder.claim(compare("y", ">=", 4)), () => 1)).toEqual([["c", 3]]);
  });

  test("not one after which something else has no answer", () => {
    const builder = new SystemBuilder()
      .given({ a: 1, c: 1 })
      .variable("r", { range: [0, 9] })
      .equation("root", pow("r", 2), sub(2, "a"))
      .equation("y", "y", add("a", "c"));
    expect(told(builder, builder.claim(compare("y", ">=", 4)), () => 1)).toEqual([["c", 3]]);
  });

  test("an assumption about one figure, and none that ties two together", () => {
    const builder = new SystemBuilder()
      .given({ a: 1 })
      .equation("b is 1", "b", 1, "default")
      .equation("c as b", "c", mul(1, "b"), "assumed")
      .equation("y", "y", add("a", "c"));
    expect(told(builder, builder.claim(compare("y", ">=", 4)), () => 1)).toEqual([
      ["a", 3],
      ["b", 3],
    ]);
  });

  test("up to the end of a range, the end itself", () => {
    const upTo = (high: number) => {
      const builder = new SystemBuilder().variable("a", { given: 1, range: [0, high] });
      return told(builder, builder.claim(compare("a", ">=", 3)), () => 0.5);
    };
    expect([upTo(3), upTo(2.99), upTo(50)]).toEqual([[["a", 3]], [], [["a", 3]]]);
  });

  test("nothing of a check that holds, or of one whose figures are open", () => {
    const builder = three();
    expect(told(builder, builder.claim(compare("y", ">=", 3)), () => 1)).toEqual([]);
    expect(told(builder, builder.claim(compare("y", ">=", "free")), () => 1)).toEqual([]);
  });

  test("not past a place where there is no value", () => {
    // √(a − 1) has none between −1 and 1; beyond, |…| would do.
    const builder = new SystemBuilder()
      .given({ a: 2 })
      .equation("y", "y", call("sqrt", sub(mul("a", "a"), 1)));
    expect(told(builder, builder.claim(compare("y", "<=", 0.5)), () => 0.0625)).toEqual([
      ["a", 1.0625],
    ]);
  });
});

describe("a figure by which a list is read", () => {
  const list = (keys: readonly number[], values: readonly number[], of: Term): Expression => ({
    op: "lookup",
    curve: { name: "sizes", method: "exact", keys, values },
    of: term(of),
  });
  const told = (start: number, limit: number, more?: Expression) => {
    const builder = new SystemBuilder().given({ a: start });
    builder.equation("y", "y", list([1, 2, 3, 5, 8], [10, 25, 12, 30, 40], "a"));
    if (more !== undefined) builder.equation("z", "z", more);
    const claim = builder.claim(compare("y", ">=", limit));
    return fitFor(solve(builder.system()), claim, () => 1).map(({ value }) => value);
  };

  test("goes to the nearest row that does, whatever lies between", () => {
    expect([told(1, 20), told(1, 28), told(3, 28), told(3, 20), told(8, 41)]).toEqual([
      [2],
      [5],
      [5],
      [2],
      [],
    ]);
  });

  test("that another list has, too", () => {
    expect(told(1, 20, list([1, 3, 5], [1, 2, 3], "a"))).toEqual([5]);
    expect(told(1, 35, list([1, 3, 5], [1, 2, 3], "a"))).toEqual([]);
  });
});

describe("a change that moves what tolerances take", () => {
  test("of a product, by trying every step", () => {
    // y = a b; at worst (a − ta)(b − tb), both more than 0.
    const random = randoms(41);
    let tried = 0;
    for (let i = 0; i < 25; i++) {
      const [a, b] = [
        2 + Math.floor(random() * 12) / 4,
        2 + Math.floor(random() * 12) / 4,
      ] as const;
      const [ta, tb] = [Math.floor(random() * 4) / 16, Math.floor(random() * 4) / 16] as const;
      const limit = a * b + random() * 6;
      const builder = new SystemBuilder().given({ a: within(a, ta), b: within(b, tb) });
      const claim = builder.claim(compare(mul("a", "b"), ">=", limit));
      const fits = fitFor(solve(builder.system()), claim, () => 0.25, "worst");
      for (const [variable, start, off, other] of [
        [0, a, ta, b - tb],
        [1, b, tb, a - ta],
      ] as const) {
        const steps = Array.from({ length: 400 }, (_, n) => start + 0.25 * n);
        const wanted = steps.find((value) => (value - off) * other >= limit + 1e-9);
        expect(fits.find((fit) => fit.variable === variable)?.value, String(i)).toBe(wanted);
        tried++;
      }
    }
    expect(tried).toBe(50);
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
