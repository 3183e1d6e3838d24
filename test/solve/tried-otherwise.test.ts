/**
 * Cases of shapes that no other test has, each answered by a means of its own: dense sampling of the
 * corners and the inside, distributions in closed form, polynomials made from their roots, enumeration.
 * Invented but where a source is named.
 */
import { describe, expect, test } from "vitest";
import { fewestPlaces, spreadOf } from "../../server/solve";
import type { Condition } from "../../server/solve/expression";
import { solve } from "../../server/solve/solve";
import type { GivenNumber } from "../../server/solve/system";
import { chanceOf, verdictOf } from "../../server/solve/verdict";
import {
  add,
  call,
  compare,
  div,
  exactly,
  mul,
  neg,
  pow,
  SystemBuilder,
  sub,
  type Term,
  valueNamed,
  within,
} from "./build";

/** A row of numbers from 0 to 1, the same each time (Lehmer's generator, Park and Miller 1988). */
function randoms(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

type Givens = Readonly<Record<string, GivenNumber>>;

/** The least and the greatest of a function over the limits: ends, middles and draws of each. */
function sampled(givens: Givens, of: (at: Record<string, number>) => number, seed: number) {
  const random = randoms(seed);
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let draw = 0; draw < 30_000; draw++) {
    const at: Record<string, number> = {};
    for (const [name, { low, high }] of Object.entries(givens)) {
      const share = draw % 3 === 0 ? Math.round(random()) : random();
      at[name] = low + share * (high - low);
    }
    const value = of(at);
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  return [least, most] as const;
}

describe("worst cases", () => {
  const [a, b, c] = ["a", "b", "c"];
  const cases: readonly [string, Term, Givens, (at: Record<string, number>) => number][] = [
    [
      "of a quotient of differences",
      div(sub(a, b), add(a, b)),
      { a: within(5, 1), b: within(3, 0.5) },
      (x) => (x.a! - x.b!) / (x.a! + x.b!),
    ],
    [
      "of a length in the plane",
      call("sqrt", add(pow(a, 2), pow(b, 2))),
      { a: within(0, 1), b: within(0.2, 0.6) },
      (x) => Math.hypot(x.a!, x.b!),
    ],
    [
      "of a length in space",
      call("sqrt", add(pow(a, 2), pow(b, 2), pow(c, 2))),
      { a: within(1, 2), b: within(-1, 2), c: within(2, 1) },
      (x) => Math.hypot(x.a!, x.b!, x.c!),
    ],
    [
      "of an angle through nothing",
      call("atan2", a, b),
      { a: within(0.1, 0.4), b: within(2, 0.5) },
      (x) => Math.atan2(x.a!, x.b!),
    ],
    [
      "of a bump",
      mul(a, call("exp", neg(pow(a, 2)))),
      { a: within(0.5, 1) },
      (x) => x.a! * Math.exp(-(x.a! ** 2)),
    ],
    [
      "of a saddle",
      sub(pow(a, 2), pow(b, 2)),
      { a: within(0.1, 1), b: within(-0.2, 1.5) },
      (x) => x.a! ** 2 - x.b! ** 2,
    ],
    [
      "of the greatest of three lines",
      call("max", a, neg(a), sub(mul(2, b), 1)),
      { a: within(0.2, 0.7), b: within(0.6, 0.3) },
      (x) => Math.max(x.a!, -x.a!, 2 * x.b! - 1),
    ],
    [
      "of the least of what crosses",
      call("min", pow(a, 2), sub(2, a)),
      { a: within(0.5, 1.5) },
      (x) => Math.min(x.a! ** 2, 2 - x.a!),
    ],
    [
      "of a product of three about nothing",
      mul(a, b, c),
      { a: within(0, 1), b: within(0.5, 1), c: within(-0.2, 1) },
      (x) => x.a! * x.b! * x.c!,
    ],
    [
      "of a share that is limited",
      call("min", 1, call("max", 0, div(a, b))),
      { a: within(0.2, 0.5), b: within(1, 0.4) },
      (x) => Math.min(1, Math.max(0, x.a! / x.b!)),
    ],
    [
      "of a wave times a slope",
      mul(a, call("cos", mul(3, a))),
      { a: within(1, 1) },
      (x) => x.a! * Math.cos(3 * x.a!),
    ],
    ["of a cube root by a power", pow(a, 1 / 3), { a: within(8, 7.9) }, (x) => x.a! ** (1 / 3)],
    [
      "of a harmonic sum",
      div(1, add(div(1, a), div(1, b))),
      { a: within(4, 1), b: within(6, 2) },
      (x) => 1 / (1 / x.a! + 1 / x.b!),
    ],
    [
      "of how far two are apart, squared",
      pow(sub(a, b), 2),
      { a: within(1, 0.3), b: within(1.1, 0.3) },
      (x) => (x.a! - x.b!) ** 2,
    ],
    [
      "of what rounding makes",
      call("round", mul(a, b), 0.5),
      { a: within(2, 0.2), b: within(3, 0.1) },
      (x) => Math.round((x.a! * x.b!) / 0.5) * 0.5,
    ],
    [
      "of lopsided limits",
      div(a, b),
      { a: within(1, 0, 0.5), b: within(2, 0.5, 0) },
      (x) => x.a! / x.b!,
    ],
  ];
  test.each(cases)("%s", (_, term, givens, of) => {
    const builder = new SystemBuilder().given(givens).equation("y", "y", term);
    const solution = solve(builder.system());
    const y = valueNamed(solution, "y");
    const spread = spreadOf(solution, builder.quantity("y"))!;
    const [least, most] = sampled(givens, of, 11);
    expect(y - spread.worstBelow).toBeLessThanOrEqual(least + 1e-12);
    expect(y + spread.worstAbove).toBeGreaterThanOrEqual(most - 1e-12);
    // No wider than a fiftieth of what was drawn, and what was found is there.
    const room = 0.02 * (most - least) + 1e-9;
    expect(y - spread.worstBelow).toBeGreaterThanOrEqual(least - room);
    expect(y + spread.worstAbove).toBeLessThanOrEqual(most + room);
    for (const { known } of [spread.below, spread.above]) expect(known).toBe("proved");
    expect(spread.rss).toBeLessThanOrEqual((spread.worstBelow + spread.worstAbove) / 2 + 1e-12);
  });

  const blocks: readonly [
    string,
    Givens,
    (builder: SystemBuilder) => void,
    (at: Record<string, number>) => number,
  ][] = [
    // x² + y² = r², y = m x: x = r / √(1 + m²).
    [
      "where a circle meets a line",
      { r: within(5, 0.2), m: within(0.75, 0.1) },
      (builder) => {
        builder.variable("x", { range: [0, 100] }).variable("y", { range: [0, 100] });
        builder.equation("circle", add(pow("x", 2), pow("y", 2)), pow("r", 2));
        builder.equation("line", "y", mul("m", "x"));
      },
      ({ r, m }) => r! / Math.sqrt(1 + m! ** 2),
    ],
    // x + y = s, x y = p, x the greater: (s + √(s² − 4p)) / 2.
    [
      "from a sum and a product",
      { s: within(10, 0.3), p: within(16, 1) },
      (builder) => {
        builder.variable("x", { range: [5, 50] }).variable("y", { range: [0, 5] });
        builder.equation("sum", add("x", "y"), "s");
        builder.equation("product", mul("x", "y"), "p");
      },
      ({ s, p }) => (s! + Math.sqrt(s! ** 2 - 4 * p!)) / 2,
    ],
    // Two that lean on each other: x = p + y/3, y = s − x/2: x = (p + s/3) / (1 + 1/6).
    [
      "of two that lean on each other",
      { s: within(7, 0.1), p: within(2, 0.3) },
      (builder) => {
        builder.equation("one", "x", add("p", div("y", 3)));
        builder.equation("other", "y", sub("s", div("x", 2)));
      },
      ({ s, p }) => (p! + s! / 3) / (1 + 1 / 6),
    ],
    // x e^x = p: Lambert's W by Newton's steps.
    [
      "of a figure on both sides",
      { p: within(3, 1) },
      (builder) => {
        builder.variable("x", { range: [0, 10] });
        builder.equation("product", mul("x", call("exp", "x")), "p");
      },
      ({ p }) => {
        let w = 1;
        for (let i = 0; i < 30; i++) w -= (w * Math.exp(w) - p!) / (Math.exp(w) * (w + 1));
        return w;
      },
    ],
  ];
  test.each(blocks)("%s", (_, givens, write, of) => {
    const builder = new SystemBuilder().given(givens);
    write(builder);
    const solution = solve(builder.system());
    const x = valueNamed(solution, "x");
    const spread = spreadOf(solution, builder.quantity("x"))!;
    const [least, most] = sampled(givens, of, 5);
    expect(x - spread.worstBelow).toBeLessThanOrEqual(least + 1e-9);
    expect(x + spread.worstAbove).toBeGreaterThanOrEqual(most - 1e-9);
    const room = 0.02 * (most - least) + 1e-9;
    expect(x - spread.worstBelow).toBeGreaterThanOrEqual(least - room);
    expect(x + spread.worstAbove).toBeLessThanOrEqual(most + room);
  });
});

describe("in how many builds a check holds, against distributions in closed form", () => {
  const uniform = (value: number, by: number): GivenNumber => ({
    ...within(value, by),
    distribution: "uniform",
  });
  const triangular = (value: number, by: number): GivenNumber => ({
    ...within(value, by),
    distribution: "triangular",
  });
  const cases: readonly [string, Givens, Condition, number][] = [
    ["one rectangle", { a: uniform(0, 1) }, compare("a", "<=", 0.3), 0.65],
    ["one triangle", { a: triangular(0, 1) }, compare("a", "<=", 0.5), 1 - 0.5 * 0.5 ** 2],
    // Irwin and Hall: the sum of two rectangles is a triangle.
    [
      "two rectangles",
      { a: uniform(0, 1), b: uniform(0, 1) },
      compare(add("a", "b"), "<=", 1),
      1 - 0.5 * 0.5 ** 2,
    ],
    // Of three from 0 to 1: 1 − x³/6 with x the rest to 3.
    [
      "three rectangles",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5), c: uniform(0.5, 0.5) },
      compare(add("a", "b", "c"), "<=", 2.2),
      1 - 0.8 ** 3 / 6,
    ],
    // P(ab ≤ z) of two from 0 to 1 is z − z ln z.
    [
      "a product of rectangles",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      compare(mul("a", "b"), "<=", 0.4),
      0.4 - 0.4 * Math.log(0.4),
    ],
    [
      "a quotient of rectangles",
      { a: uniform(0.5, 0.5), b: uniform(1.5, 0.5) },
      compare(div("a", "b"), "<=", 0.4),
      0.4 * 1.5,
    ],
    // The greater of two: the square of one's.
    [
      "the greater of two",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      compare(call("max", "a", "b"), "<=", 0.7),
      0.49,
    ],
    [
      "the less of two",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      compare(call("min", "a", "b"), "<=", 0.7),
      1 - 0.09,
    ],
    [
      "how far two are apart",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      compare(call("abs", sub("a", "b")), "<=", 0.25),
      1 - 0.75 ** 2,
    ],
    ["a square", { a: uniform(0, 1) }, compare(pow("a", 2), "<=", 0.36), 0.6],
    [
      "both of two",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      { op: "and", left: compare("a", "<=", 0.8), right: compare("b", ">=", 0.1) },
      0.72,
    ],
    [
      "either of two",
      { a: uniform(0.5, 0.5), b: uniform(0.5, 0.5) },
      { op: "or", left: compare("a", "<=", 0.8), right: compare("b", ">=", 0.9) },
      1 - 0.2 * 0.9,
    ],
    // One standard deviation of four that add up to three: normal tables.
    [
      "four normal ones",
      { a: within(0, 0.3), b: within(0, 0.3), c: within(0, 0.3), d: within(0, 0.3) },
      compare(add("a", "b", "c", "d"), "<=", 0.2),
      0.8413,
    ],
    [
      "a lopsided one",
      { a: { ...within(1, 0, 1), distribution: "uniform" } },
      compare("a", "<=", 1.9),
      0.9,
    ],
  ];
  test.each(cases)("%s", (_, givens, condition, share) => {
    const builder = new SystemBuilder().given(givens);
    const chance = chanceOf(solve(builder.system()), builder.claim(condition))!;
    expect(chance.share).toBeGreaterThan(share - 0.012);
    expect(chance.share).toBeLessThan(share + 0.012);
  });
});

describe("checks of several parts, against every place of a grid", () => {
  const [a, b] = ["a", "b"];
  const at = (left: Term, relation: Parameters<typeof compare>[1], right: Term) =>
    compare(left, relation, right);
  const conditions: readonly [string, Condition, (a: number, b: number) => boolean][] = [
    [
      "both",
      { op: "and", left: at(a, ">=", 0.75), right: at(b, "<=", 2.25) },
      (x, y) => x >= 0.75 && y <= 2.25,
    ],
    [
      "both, one at its edge",
      { op: "and", left: at(a, ">=", 0.7), right: at(b, "<", 2.25) },
      (x, y) => x >= 0.7 && y < 2.25,
    ],
    [
      "either, none always",
      { op: "or", left: at(a, "<=", 1), right: at(a, ">=", 1) },
      (x) => x <= 1 || x >= 1,
    ],
    [
      "either, with a gap between",
      { op: "or", left: at(a, "<=", 1), right: at(a, ">=", 1.1) },
      (x) => x <= 1 || x >= 1.1,
    ],
    [
      "either of two figures",
      { op: "or", left: at(a, ">=", 0.9), right: at(b, ">=", 1.75) },
      (x, y) => x >= 0.9 || y >= 1.75,
    ],
    [
      "neither",
      { op: "not", of: { op: "or", left: at(a, ">", 1.25), right: at(b, "<", 1.75) } },
      (x, y) => !(x > 1.25 || y < 1.75),
    ],
    [
      "not both",
      { op: "not", of: { op: "and", left: at(a, ">", 1.2), right: at(b, ">", 2.2) } },
      (x, y) => !(x > 1.2 && y > 2.2),
    ],
    [
      "a chain",
      {
        op: "and",
        left: { op: "and", left: at(a, "<", b), right: at(b, "<", 2.5) },
        right: at(mul(a, b), ">=", 1),
      },
      (x, y) => x < y && y < 2.5 && x * y >= 1,
    ],
  ];
  test.each(conditions)("%s", (_, condition, of) => {
    const builder = new SystemBuilder().given({ a: within(1, 0.25), b: within(2, 0.25) });
    const solution = solve(builder.system());
    const verdict = verdictOf(solution, builder.claim(condition));
    let always = true;
    for (let i = -100; i <= 100; i++) {
      for (let j = -100; j <= 100; j++) always &&= of(1 + i / 400, 2 + j / 400);
    }
    expect(verdict.nominal).toBe(of(1, 2) ? "holds" : "fails");
    expect(verdict.worst).toBe(always ? "holds" : "fails");
    if (verdict.witness !== undefined) {
      const place = (name: string, nominal: number) =>
        verdict.witness!.get(builder.index(name)) ?? nominal;
      expect(of(place("a", 1), place("b", 2))).toBe(false);
    }
  });
});

describe("answers of one figure", () => {
  // Each polynomial is made from its roots; those in the range, and no other, are answers.
  const cases: readonly [string, readonly number[], readonly [number, number]][] = [
    ["three, one out of range", [-2, 0.5, 3], [-1, 10]],
    ["two that nearly meet", [1, 1.0001, -4], [0, 2]],
    ["five", [-1.5, -0.25, 0.75, 1.25, 2.5], [-2, 3]],
    ["one in range of four", [-3, -2, -1, 4], [0, 10]],
    ["none", [-3, -2], [0, 10]],
    ["far and near", [0.001, 900], [0, 1000]],
  ];
  test.each(cases)("%s", (_, roots, range) => {
    const builder = new SystemBuilder().variable("x", { range });
    const product = roots.map((root) => sub("x", root)).reduce((left, right) => mul(left, right));
    builder.equation("product", product, 0);
    const solution = solve(builder.system());
    const inside = roots
      .filter((root) => root >= range[0] && root <= range[1])
      .sort((x, y) => x - y);
    const x = valueNamed(solution, "x");
    if (inside.length === 1) expect(x).toBeCloseTo(inside[0]!, 9);
    else {
      expect(x).toBeNaN();
      const [failure] = solution.failures;
      expect(failure?.why).toBe(inside.length === 0 ? "no-root" : "several-roots");
      expect(failure?.roots ?? []).toEqual(inside.map((root) => expect.closeTo(root, 6)));
    }
  });
});

describe("answers of figures solved together", () => {
  const cases: readonly [
    string,
    (builder: SystemBuilder) => void,
    readonly (readonly [number, number])[],
  ][] = [
    // By hand: x² + y² = 25 and x y = 12.
    [
      "a circle and a hyperbola",
      (builder) => {
        builder.equation("circle", add(pow("x", 2), pow("y", 2)), 25);
        builder.equation("hyperbola", mul("x", "y"), 12);
      },
      [
        [-4, -3],
        [-3, -4],
        [3, 4],
        [4, 3],
      ],
    ],
    // y = x² − 3 and x = y² − 3, two on the line and two beside it.
    [
      "two parabolas",
      (builder) => {
        builder.equation("up", "y", sub(pow("x", 2), 3));
        builder.equation("aside", "x", sub(pow("y", 2), 3));
      },
      [
        [(1 - Math.sqrt(13)) / 2, (1 - Math.sqrt(13)) / 2],
        [-2, 1],
        [1, -2],
        [(1 + Math.sqrt(13)) / 2, (1 + Math.sqrt(13)) / 2],
      ],
    ],
    // |x| + |y| = 4 and y = x + 2.
    [
      "a square on its corner and a line",
      (builder) => {
        builder.equation("square", add(call("abs", "x"), call("abs", "y")), 4);
        builder.equation("line", "y", add("x", 2));
      },
      [
        [-3, -1],
        [1, 3],
      ],
    ],
  ];
  test.each(cases)("%s", (_, write, answers) => {
    const builder = new SystemBuilder()
      .variable("x", { range: [-10, 10] })
      .variable("y", { range: [-10, 10] });
    write(builder);
    const solution = solve(builder.system());
    const [failure] = solution.failures;
    expect(failure?.why).toBe("several-roots");
    const at = ["x", "y"].map((name) => failure!.variables.indexOf(builder.index(name)));
    const found =
      failure?.answers === undefined
        ? // One of both was put into the other's equation.
          failure!.roots!.map((root) => [root])
        : failure.answers.map((answer) => at.map((place) => answer[place]!));
    const wanted = answers.map((answer) =>
      failure?.answers === undefined ? answer.filter((_v, k) => at[k]! >= 0) : [...answer],
    );
    const sorted = (rows: readonly (readonly number[])[]) =>
      [...rows].sort((one, other) => one[0]! - other[0]! || one[1]! - other[1]!);
    expect(found).toHaveLength(wanted.length);
    for (const [k, row] of sorted(wanted).entries()) {
      expect(sorted(found)[k]).toEqual(row.map((each) => expect.closeTo(each, 6)));
    }
  });
});

test("what is given exactly has no ± and its checks are proved", () => {
  const builder = new SystemBuilder()
    .given({ a: exactly(3), b: exactly(4) })
    .equation("c", pow("c", 2), 25);
  builder.variable("c", { range: [0, 10] });
  const solution = solve(builder.system());
  expect(verdictOf(solution, builder.claim(compare(add("a", "b"), ">", "c"))).worst).toBe("holds");
  expect(spreadOf(solution, builder.quantity("c"))?.worstAbove).toBe(0);
});

describe("the fewest places at which a check fails", () => {
  const inside: Record<string, GivenNumber> = {
    a: within(1, 0.25),
    b: within(2, 0.25),
    c: within(3, 0.25),
  };
  const cases: readonly [string, Condition, readonly string[]][] = [
    [
      "one of two that must hold",
      { op: "and", left: compare("a", "<=", 1.1), right: compare("b", "<=", 4) },
      ["a"],
    ],
    ["of a sum, as many as it takes", compare(add("a", "b", "c"), "<=", 6.4), ["a", "b"]],
    ["of a sum, all of them", compare(add("a", "b", "c"), "<=", 6.6), ["a", "b", "c"]],
    [
      "both ways out of an or",
      { op: "or", left: compare("a", "<=", 1.1), right: compare("b", "<=", 2.1) },
      ["a", "b"],
    ],
    ["of what weighs most", compare(add("a", mul(10, "b")), "<=", 23), ["b"]],
  ];
  test.each(cases)("%s", (_, condition, names) => {
    const builder = new SystemBuilder().given(inside);
    const solution = solve(builder.system());
    const claim = builder.claim(condition);
    const { worst, witness } = verdictOf(solution, claim);
    expect(worst).toBe("fails");
    const fewest = fewestPlaces(solution, claim, witness!);
    expect(fewest.size).toBe(names.length);
    // By solving there: it fails, and with any one put back it holds.
    const judgedAt = (left: readonly number[]) => {
      const moved = new SystemBuilder().given(
        Object.fromEntries(
          Object.entries(inside).map(([name, { value }]) => {
            const index = builder.index(name);
            return [name, exactly(left.includes(index) ? fewest.get(index)! : value)];
          }),
        ),
      );
      return verdictOf(solve(moved.system()), moved.claim(condition)).nominal;
    };
    const all = [...fewest.keys()];
    expect(judgedAt(all)).toBe("fails");
    for (const one of all) expect(judgedAt(all.filter((other) => other !== one))).toBe("holds");
  });
});
