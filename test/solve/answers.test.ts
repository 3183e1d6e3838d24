/**
 * All answers of small systems: published nonlinear systems with all their roots, and polynomials
 * whose roots are plain.
 */
import { describe, expect, test } from "vitest";
import { workDone } from "../../server/keep/patience";
import type { LookupCurve } from "../../server/solve/expression";
import { isSearchedThrough } from "../../server/solve/searched";
import { solve } from "../../server/solve/solve";
import type { Solution, System } from "../../server/solve/system";
import { withGivens } from "../../server/solve/with-givens";
import { answersOf } from "./answers-of";
import {
  add,
  call,
  div,
  exactly,
  mul,
  of,
  pow,
  SystemBuilder,
  sub,
  type Term,
  valueNamed,
} from "./build";

describe("one unknown", () => {
  const roots = (term: Term, low: number, high: number): readonly number[] =>
    answersOf(["x"], [term], [low, high]).answers.map(([x]) => x!);

  test("crossings, touches and poles are told apart", () => {
    expect(roots(sub(mul("x", "x"), 2), 0, 10)).toEqual([expect.closeTo(Math.SQRT2, 14)]);
    expect(roots(pow(sub("x", 1), 2), -3, 4)[0]).toBeCloseTo(1, 6);
    expect(roots(div(1, sub("x", 0.3)), -1, 1)).toEqual([]);
    const turns = answersOf(["x"], [call("sin", "x")], [1, 400]);
    expect(turns.complete).toBe(true);
    expect(turns.answers.map(([x]) => Math.round(x! / Math.PI))).toEqual(
      Array.from({ length: 127 }, (_, i) => i + 1),
    );
  });

  test("two a ten-thousandth of the range apart", () => {
    const near = sub(mul(sub("x", 0.5), sub("x", 0.5001)), 0);
    expect(roots(near, 0, 1)).toEqual([expect.closeTo(0.5, 9), expect.closeTo(0.5001, 9)]);
  });

  /** J. H. Wilkinson, "The evaluation of the zeros of ill-conditioned polynomials", Numer. Math. 1 (1959). */
  test("the twenty roots of Wilkinson's polynomial", () => {
    const product = Array.from({ length: 20 }, (_, i) => sub("x", i + 1)).reduce((one, other) =>
      mul(one, other),
    );
    const found = answersOf(["x"], [product], [0.5, 20.7]);
    expect(found.complete).toBe(true);
    expect(found.answers.map(([x]) => x)).toEqual(
      Array.from({ length: 20 }, (_, i) => expect.closeTo(i + 1, 10)),
    );
  });
});

describe("published systems", () => {
  test("a circle and a line", () => {
    const found = answersOf(
      ["x", "y"],
      [sub(add(mul("x", "x"), mul("y", "y")), 25), sub("y", sub("x", 1))],
      [-10, 10],
    );
    expect(found.complete).toBe(true);
    expect(found.answers.map((each) => [...each])).toEqual([
      [expect.closeTo(-3, 12), expect.closeTo(-4, 12)],
      [expect.closeTo(4, 12), expect.closeTo(3, 12)],
    ]);
  });

  /** D. M. Himmelblau, Applied Nonlinear Programming (1972): nine places where both slopes are nothing. */
  test("Himmelblau's nine", () => {
    const [x, y] = ["x", "y"];
    const found = answersOf(
      [x!, y!],
      [
        sub(add(mul(4, pow(x!, 3)), mul(4, x!, y!), mul(2, y!, y!)), add(mul(42, x!), 14)),
        sub(add(mul(4, pow(y!, 3)), mul(2, x!, x!), mul(4, x!, y!)), add(mul(26, y!), 22)),
      ],
      [-6, 6],
    );
    expect(found.complete).toBe(true);
    expect(found.answers).toHaveLength(9);
    // The four least values, as published.
    for (const least of [
      [3, 2],
      [-2.805118, 3.131312],
      [-3.77931, -3.283186],
      [3.584428, -1.848126],
    ]) {
      expect(
        found.answers.some((each) => least.every((at, j) => Math.abs(at - each[j]!) < 1e-5)),
      ).toBe(true);
    }
  });

  /** C. G. Broyden's tridiagonal system, as in J. J. Moré, B. S. Garbow, K. E. Hillstrom, ACM TOMS 7 (1981), no. 30. */
  test("Broyden's tridiagonal system of five has one answer near −0.6", () => {
    const names = ["x1", "x2", "x3", "x4", "x5"];
    const terms = names.map((name, i) => {
      const own = sub(mul(sub(3, mul(2, name)), name), -1);
      const before = i === 0 ? own : sub(own, names[i - 1]!);
      return i === 4 ? before : sub(before, mul(2, names[i + 1]!));
    });
    const found = answersOf(names, terms, [-1, 0]);
    expect(found.answers).toHaveLength(1);
    expect(found.complete).toBe(true);
  });

  /** Two distances from two points: the mirror images across the line between them. */
  test("a point from its distances to two others", () => {
    const away = (x: number, y: number): Term => add(pow(sub("x", x), 2), pow(sub("y", y), 2));
    const found = answersOf(["x", "y"], [sub(away(0, 0), 25), sub(away(6, 0), 25)], [-20, 20]);
    expect(found.complete).toBe(true);
    expect(found.answers.map((each) => [...each])).toEqual([
      [expect.closeTo(3, 9), expect.closeTo(-4, 9)],
      [expect.closeTo(3, 9), expect.closeTo(4, 9)],
    ]);
  });
});

describe("in a system", () => {
  const twoWays = (range?: readonly [number, number]): System =>
    new SystemBuilder()
      .given({ r: 5, s: 7 })
      .variable("x", range === undefined ? {} : { range })
      .variable("y", {})
      .equation("circle", add(mul("x", "x"), mul("y", "y")), mul("r", "r"))
      .equation("sum", add("x", "y"), "s")
      .system();

  test("a block with two answers lists both, and a range picks one", () => {
    const both = solve(twoWays());
    expect(both.failures[0]).toMatchObject({ why: "several-roots", complete: true });
    expect(both.failures[0]!.answers!.map(([x]) => x)).toEqual([
      expect.closeTo(3, 9),
      expect.closeTo(4, 9),
    ]);
    const one = solve(twoWays([0, 3.5]));
    expect([valueNamed(one, "x"), valueNamed(one, "y")]).toEqual([
      expect.closeTo(3, 12),
      expect.closeTo(4, 12),
    ]);
  });
});

describe("angles", () => {
  const angleOf = (
    about: {
      readonly angle?: boolean;
      readonly range?: readonly [number, number];
      readonly near?: number;
    },
    term: Term,
    value: number,
  ) => {
    const builder = new SystemBuilder().given({ v: value }).variable("a", {});
    builder.equation("e", "v", term);
    const { variables, equations } = builder.system();
    const changed = variables.map((variable) =>
      variable.name === "a" ? { ...variable, ...about } : variable,
    );
    return solve({ variables: changed, equations });
  };

  test("without a range lie within a half turn", () => {
    expect(valueNamed(angleOf({ angle: true }, call("tan", "a"), 1), "a")).toBeNaN();
    const sine = angleOf({ angle: true }, call("sin", "a"), 0.5);
    expect(sine.failures[0]!.roots).toEqual([
      expect.closeTo(Math.PI / 6, 12),
      expect.closeTo((5 * Math.PI) / 6, 12),
    ]);
    const near = angleOf({ angle: true, near: 0.4 }, call("sin", "a"), 0.5);
    expect(valueNamed(near, "a")).toBeCloseTo(Math.PI / 6, 12);
  });

  test("with a range are found however many turns it takes in", () => {
    const found = angleOf({ range: [20, 40] }, call("sin", "a"), 0.5);
    const wanted = [];
    for (let turn = 0; turn < 7; turn++) {
      for (const angle of [Math.PI / 6, (5 * Math.PI) / 6]) {
        const at = angle + 2 * Math.PI * turn;
        if (at >= 20 && at <= 40) wanted.push(at);
      }
    }
    expect(found.failures[0]!.roots).toEqual(wanted.map((at) => expect.closeTo(at, 10)));
  });
});

describe("a figure that only a list has", () => {
  const drills: LookupCurve = {
    name: "drills",
    method: "exact",
    keys: [1, 2, 3, 4, 5, 6],
    values: [5.5, 6, 6.5, 8, 6, 6],
  };
  const lookUp = (curve: LookupCurve, key: Term): Term => ({ op: "lookup", curve, of: of(key) });
  const found = (given: Readonly<Record<string, number>>, key: Term = "n") => {
    const builder = new SystemBuilder().given(given);
    builder.equation("size", "size", lookUp(drills, key)).equation("area", "a", mul("size", 2));
    const { values, system, failures } = solve(builder.system());
    const at = system.variables.findIndex(({ name }) => name === "n");
    return { n: values[at]!, failure: failures[0] };
  };

  test("is looked up backwards, however the list is ordered", () => {
    for (const [row, size] of drills.values.entries()) {
      const rows = drills.values.flatMap((each, at) => (each === size ? [at + 1] : []));
      const { n, failure } = found({ size });
      if (rows.length === 1) expect(n).toBe(row + 1);
      else expect(failure).toMatchObject({ why: "several-roots", roots: rows });
    }
    // What it is worked out from may itself be worked out.
    expect(found({ a: 16 }).n).toBe(4);
    expect(found({ size: 8 }, mul("n", 2)).n).toBe(2);
  });

  test("is no answer where the list has none", () => {
    expect(found({ size: 7 }).failure).toMatchObject({ why: "no-root" });
  });

  test("of a curve that rises and falls has an answer on each stretch", () => {
    const hill: LookupCurve = {
      name: "hill",
      method: "linear",
      keys: [0, 1, 2, 4],
      values: [0, 10, 30, 10],
    };
    const at = (y: number) => {
      const builder = new SystemBuilder().given({ y }).equation("hill", "y", lookUp(hill, "x"));
      const { values, failures } = solve(builder.system());
      return failures[0]?.roots ?? [values[1]!];
    };
    // Straight lines between the points, turned round by hand.
    expect(at(20)).toEqual([1.5, 3]);
    expect(at(10)).toEqual([1, 4]);
    expect(at(5)).toEqual([0.5]);
    expect(at(30)).toEqual([2]);
  });
});

describe("others beside the one that was found", () => {
  /** Broyden's tridiagonal function (1965): one answer with all unknowns between -1 and 0. */
  const broyden = (count: number) => {
    const builder = new SystemBuilder();
    for (let i = 0; i < count; i++) builder.variable(`x${i}`, { range: [-1, 1] });
    for (let i = 0; i < count; i++) {
      const own = mul(sub(3, mul(2, `x${i}`)), `x${i}`);
      const before = i > 0 ? `x${i - 1}` : 0;
      const after = i < count - 1 ? `x${i + 1}` : 0;
      builder.equation(`e${i}`, add(sub(own, before, mul(2, after)), 1), 0);
    }
    return solve(builder.system());
  };

  test("are excluded where the whole range was searched", () => {
    const eight = broyden(8);
    expect(eight.failures).toEqual([]);
    expect(isSearchedThrough(eight, 0)).toBe(true);
  });

  test("are not where many figures were solved together by steps", () => {
    const many = broyden(20);
    expect(many.failures).toEqual([]);
    const [first = 0, second = 0] = many.values;
    expect((3 - 2 * first) * first - 2 * second + 1).toBeCloseTo(0, 12);
    expect(isSearchedThrough(many, 0)).toBe(false);
  });

  test("are excluded of straight lines, however many", () => {
    const builder = new SystemBuilder();
    for (let i = 0; i < 30; i++) {
      builder.equation(`e${i}`, sub(mul(3, `x${i}`), `x${(i + 1) % 30}`), i + 1);
    }
    const solution = solve(builder.system());
    expect(solution.failures).toEqual([]);
    expect(isSearchedThrough(solution, 0)).toBe(true);
  });

  /** So many figures in a ring, each by the next one, through a given. */
  const ring = (count: number, of: (next: string) => Term) => {
    const builder = new SystemBuilder().given({ a: 3 });
    for (let i = 0; i < count; i++) {
      const next = `x${(i + 1) % count}`;
      builder.variable(`x${i}`, { range: [0, 50] });
      builder.equation(`e${i}`, add(mul("a", `x${i}`), of(next)), 4);
    }
    return builder.system();
  };
  const isOne = (system: System): boolean => {
    const solution = solve(system);
    expect(solution.failures).toEqual([]);
    for (const value of solution.values) expect(value).not.toBeNaN();
    const before = solution.values.slice();
    const known = isSearchedThrough(solution, 1);
    expect(solution.values).toEqual(before);
    return known;
  };

  test.each([2, 20])("%d in a ring: of straight lines, of bends, of curves", (count) => {
    // Contractions all of them, with 1 for every figure as the only answer; of few it is proved.
    expect(isOne(ring(count, (next) => next))).toBe(true);
    expect(isOne(ring(count, (next) => call("abs", next)))).toBe(count === 2);
    expect(isOne(ring(count, (next) => pow(next, 2)))).toBe(count === 2);
    expect(isOne(ring(count, (next) => call("atan", mul(1.5574077246549, next))))).toBe(
      count === 2,
    );
  });

  test("of one figure: turned round, of a straight line, searched for, touched", () => {
    const one = (left: Term, right: Term, range?: readonly [number, number]) =>
      isOne(
        new SystemBuilder()
          .given({ a: 3 })
          .variable("x", range === undefined ? {} : { range })
          .equation("e", left, right)
          .system(),
      );
    expect(one(pow("x", 3), "a")).toBe(true);
    // Turned round there is one answer, whatever boxes make of it.
    expect(one(pow("x", 2), sub("a", 3))).toBe(true);
    expect(one(add("x", mul("a", "x")), 5)).toBe(true);
    expect(one(add("x", pow("x", 3)), "a", [-9, 9])).toBe(true);
    // One answer of a sine within two turns and a bit: π/2 is one, 5π/2 is another.
    expect(one(call("sin", "x"), 1 / 3, [6.3, 7])).toBe(true);
    // x² + 2/x touches 3 at 1: that it is all there is no box proves.
    expect(one(add(pow("x", 2), div(2, "x")), "a", [0.5, 3])).toBe(false);
  });

  test("givens and what is open have none that were passed over", () => {
    const builder = new SystemBuilder().given({ a: 3 }).equation("e", add("x", "y"), "a");
    const solution = solve(builder.system());
    for (const name of ["a", "x", "y"]) {
      expect(isSearchedThrough(solution, builder.index(name))).toBe(true);
    }
  });

  test("is searched for once for all figures that were solved together, and not among too many", () => {
    const builder = new SystemBuilder()
      .given({ a: 6 })
      .variable("x", { range: [0, 2.5] })
      .variable("y", { range: [0, 9] })
      .equation("product", mul("x", "y"), "a")
      .equation("sum", add("x", "y"), 5);
    const { system } = solve(builder.system());
    const work = (solution: Solution, variable: number, found: boolean): number => {
      const before = workDone();
      expect(isSearchedThrough(solution, variable)).toBe(found);
      return workDone() - before;
    };
    const [x, y] = [builder.index("x"), builder.index("y")];
    const known = solve(system);
    expect(valueNamed(known, "x")).toBeCloseTo(2, 12);
    const looked = work(known, x, true);
    expect(work(known, y, true)).toBe(0);
    // What was searched is forgotten over many others of its kind, and is searched again.
    const forgotten = solve(system);
    for (let a = 0; a < 40; a++) {
      solve(withGivens(system, new Map([[builder.index("a"), exactly(5 + a / 50)]])));
    }
    expect(work(forgotten, x, true)).toBeGreaterThan(looked + 50);
    expect(work(forgotten, y, true)).toBe(0);
    expect(work(broyden(80), 0, false)).toBeLessThan(100 * looked);
  });
});

test("two curves that touch have one answer, told once", () => {
  // x + y = s and x · y = s² / 4 touch at x = y = s / 2.
  for (const s of [1, 7, 12.5, 40, 0.3]) {
    const system = new SystemBuilder()
      .given({ s })
      .equation("sum", add("x", "y"), "s")
      .equation("product", mul("x", "y"), div(mul("s", "s"), 4))
      .system();
    const solution = solve(system);
    expect(solution.failures, String(s)).toEqual([]);
    expect(valueNamed(solution, "x")).toBeCloseTo(s / 2, 5);
    expect(valueNamed(solution, "y")).toBeCloseTo(s / 2, 5);
  }
});
