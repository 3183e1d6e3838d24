/**
 * How much work questions of each sort take, counted in operations (`server/keep/patience.ts`), so that
 * it is the same on every machine and on a busy one: an answer that is right and takes longer is seen
 * here. Each number is what it takes now. Who makes one smaller notes it; one that grows wants a reason.
 */
import fc from "fast-check";
import { describe, test } from "vitest";
import {
  adjusted,
  bestOf,
  type Candidate,
  type ChoiceProblem,
  chanceOf,
  choose,
  draw,
  explain,
  fitFor,
  missingFor,
  outcomeOf,
  repairsFor,
  sensitivities,
  solve,
  solveOverlay,
  spreadOf,
  tightenFor,
  verdictOf,
} from "../../server/solve";
import { boundsOf } from "../../server/solve/bounds";
import { solveLike } from "../../server/solve/solve";
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
import { chain, chainArbitrary, linear, linearArbitrary, randoms } from "./random-systems";
import { holdToNoted, type Work } from "./work-of";

const drawn = <T>(arbitrary: fc.Arbitrary<T>, count: number): readonly T[] =>
  fc.sample(arbitrary, { seed: 11, numRuns: count });

/** Unknowns within a range that satisfy `term = 0` each. */
function together(
  unknowns: readonly string[],
  terms: readonly Term[],
  range: readonly [number, number],
): SystemBuilder {
  const builder = new SystemBuilder();
  for (const name of unknowns) builder.variable(name, { range });
  terms.forEach((term, at) => {
    builder.equation(`e${at}`, term, 0);
  });
  return builder;
}

/** Springs in a row, each stiffening, all solved together. */
function springs(count: number, by = 0): SystemBuilder {
  const builder = new SystemBuilder().given({ rate: within(1.5, by), load: within(1, by / 2) });
  const at = (i: number): Term => (i < 0 || i >= count ? 0 : `x${i}`);
  for (let i = 0; i < count; i++) {
    builder.variable(`x${i}`, { range: [-50, 50] });
    const apart = sub(mul(2, `x${i}`), at(i - 1), at(i + 1));
    builder.equation(`spring ${i}`, add(mul("rate", apart), mul(0.1, pow(`x${i}`, 3))), "load");
  }
  return builder;
}

/** A circle and a line that meet twice. */
const meeting = (range: readonly [number, number]): SystemBuilder =>
  together(["x", "y"], [sub(add(pow("x", 2), pow("y", 2)), 25), sub("y", "x", 1)], range);

/** A crank and rod: how far the rod's end lies from the crank's axis, by angle. */
function crank(by: number): SystemBuilder {
  return new SystemBuilder()
    .given({ crank: within(40, by), rod: within(130, by), angle: within(0.7, by / 50) })
    .variable("reach", { range: [0, 500], scale: 100 })
    .equation("across", "across", mul("crank", call("sin", "angle")))
    .equation("along", "along", mul("crank", call("cos", "angle")))
    .equation("rod", add(pow(sub("reach", "along"), 2), pow("across", 2)), pow("rod", 2));
}

const chains = (by: number, count = 20) => drawn(chainArbitrary, count).map((e) => chain(e, by));

/** What `y` of a formula can come to while its figures keep within their limits. */
const ends = (formula: Term, given: Givens, boxes?: number) => {
  const builder = new SystemBuilder().given(given).equation("y", "y", formula);
  const solution = solve(builder.system());
  return boundsOf(solution, builder.quantity("y"), boxes === undefined ? undefined : { boxes });
};

/** Whether claims hold over the last figures of chains. */
const judged = (level: "worst" | "rss" | "spread") =>
  chains(0.02).map((builder) => {
    const { variables } = builder.system();
    const last = variables.at(-1)!.name;
    const solution = solve(builder.system());
    const value = solution.values[variables.length - 1]!;
    return [value - 0.5, value - 0.05, value - 0.01, value + 0.5].map(
      (limit) => verdictOf(solution, builder.claim(compare(last, ">=", limit)))[level],
    );
  });

const cube = (x: Term): Term => sub(pow(x, 3), mul(7, x), 6);

const cases = (count: number): SystemBuilder => {
  const builder = new SystemBuilder().given({ x0: 1 });
  for (let i = 1; i <= count; i++) {
    builder.equation(
      `low ${i}`,
      `x${i}`,
      add(`x${i - 1}`, 3),
      "relation",
      compare(`x${i - 1}`, "<", 5),
    );
    builder.equation(
      `high ${i}`,
      `x${i}`,
      sub(`x${i - 1}`, 4),
      "relation",
      compare(`x${i - 1}`, ">=", 5),
    );
  }
  return builder;
};

/** Candidates for three slots: a length, a width and a price each. */
function parts(counts: readonly number[], room: number): ChoiceProblem {
  const builder = new SystemBuilder();
  const random = randoms(5);
  const slots = counts.map((count, slot) => ({
    candidates: Array.from(
      { length: count },
      (): Candidate => ({
        givens: ["length", "width", "price"].map((field) => ({
          variable: builder.index(`${field}${slot}`),
          given: within(1 + Math.floor(random() * 20), 0.1),
        })),
      }),
    ),
  }));
  const all = (field: string): Term => add(...counts.map((_, slot) => `${field}${slot}`));
  builder.equation("length", "length", all("length"));
  builder.equation("area", "area", mul("length", all("width")));
  return {
    system: builder.system(),
    slots,
    claims: [
      builder.claim(compare("length", "<=", room)),
      builder.claim(compare("width0", "<=", add("width1", 4))),
    ],
    aims: [builder.quantity(all("price")), builder.quantity("area")],
  };
}

const open = (): SystemBuilder =>
  new SystemBuilder()
    .equation("overall", "w", add("a", "b"))
    .equation("half", "b", add("c", "d"))
    .equation("area", "s", mul("a", "d"))
    .equation("other", add("c", "e"), add("f", mul(2, "d")));

const work: Work = {
  "chains of formulas": () => chains(0).map((each) => solve(each.system())),
  "chains read from their end": () =>
    chains(0).map((builder) => {
      const { variables, equations } = builder.system();
      const { values } = solve({ variables, equations });
      const [first] = variables;
      const last = values[variables.length - 1]!;
      const turned = variables.map((variable, at) =>
        variable === first
          ? { name: variable.name, scale: 1, askedFirst: false, range: [0.1, 9] as const }
          : at === variables.length - 1
            ? { ...variable, given: exactly(last) }
            : variable,
      );
      return solve({ variables: turned, equations });
    }),
  "as many linear equations as unknowns or more": () =>
    drawn(linearArbitrary, 30).map((each) => solve(linear(each).system())),
  "one equation, searched": () => [
    solve(together(["x"], [sub(pow("x", 2), add("x", 1))], [-9, 9]).system()),
    solve(together(["x"], [sub(call("sin", "x"), mul(0.1, "x"))], [-20, 20]).system()),
    solve(together(["x"], [cube("x")], [-20, 20]).system()),
    solve(together(["x"], [sub(call("exp", "x"), add("x", 3))], [-1e6, 1e6]).system()),
    solve(together(["x"], [sub(call("max", "x", mul(-2, "x")), 1)], [-10, 10]).system()),
    solve(together(["x"], [sub(mul("x", call("abs", "x")), 4)], [-100, 90]).system()),
    solve(new SystemBuilder().equation("e", add("x", call("exp", "x")), 3).system()),
  ],
  "a circle and a line": () => [solve(meeting([0, 10]).system()), solve(meeting([-9, 9]).system())],
  "three together": () =>
    solve(
      together(
        ["x", "y", "z"],
        [sub(mul("x", "y"), 6), sub(mul("y", "z"), 12), sub(add("x", "y", "z"), 9)],
        [0.5, 20],
      ).system(),
    ),
  "springs together: 5": () => solve(springs(5).system()),
  "springs together: 20": () => solve(springs(20).system()),
  "springs together: 70": () => solve(springs(70).system()),
  "what says a thing twice": () =>
    [5, 17].map((count) => {
      const twice = springs(count).equation("again", mul(2, "x0"), mul(2, "x1"));
      const builder = together(["x", "y"], [sub("x", "y"), sub(mul(2, "x"), mul(2, "y"))], [-9, 9]);
      return [solve(twice.system()), solve(builder.system())];
    }),
  "a crank, backward": () => [solve(crank(0).system()), solve(crank(0.5).system())],
  "ends of formulas": () => [
    ends(mul("x", "y"), { x: within(0, 2), y: within(0, 5) }),
    ends(sub(pow("x", 2), mul(3, "x")), { x: within(1, 4) }),
    ends(sub(mul("x", "y"), pow("x", 2)), { x: within(2, 1), y: within(3, 2) }),
    ends(add(pow(sub("x", "y"), 2), call("sin", "x")), { x: within(1, 2), y: within(1, 1) }),
    ends(div("x", "y"), { x: within(5, 2), y: within(-3, 1) }),
    ends(call("abs", sub("x", "y")), { x: within(1, 2), y: within(0, 3) }),
    ends(sub(pow("x", 3), mul(3, "x", "y")), { x: within(2, 3), y: within(1, 1) }, 40),
  ],
  "ends of what is solved together": () => [
    spreadOf(solve(springs(4, 0.1).system()), springs(4, 0.1).quantity("x1")),
    spreadOf(solve(crank(0.5).system()), crank(0.5).quantity("reach")),
  ],
  "spreads of chains": () =>
    chains(0.01).map((builder) => {
      const { variables } = builder.system();
      return spreadOf(solve(builder.system()), builder.quantity(variables.at(-1)!.name));
    }),
  "slopes of chains": () =>
    chains(0.01).map((builder) => {
      const { variables } = builder.system();
      return sensitivities(solve(builder.system()), builder.quantity(variables.at(-1)!.name));
    }),
  "claims at worst": () => judged("worst"),
  "claims, likely": () => judged("rss"),
  "margins of claims": () => judged("spread"),
  "how likely": () => {
    const builder = crank(0.5);
    return chanceOf(solve(builder.system()), builder.claim(compare("reach", ">=", 159)));
  },
  "what is missing": () => {
    const builder = open();
    const solution = solve(builder.system());
    return ["w", "s", "e"].map((name) => missingFor(solution, builder.index(name)));
  },
  "contradictions, and what would end them": () =>
    drawn(linearArbitrary, 12).map((each) => {
      const { variables, equations } = linear(each).system();
      const off = variables.map((v) => (v.name === "b0" ? { ...v, given: exactly(99) } : v));
      return repairsFor(solve({ variables: off, equations }));
    }),
  "readings that disagree": () => {
    const builder = new SystemBuilder()
      .given({ left: within(61, 0.5), right: within(62, 0.5), whole: within(125, 1) })
      .equation("sum", "whole", add("left", "right"));
    return adjusted(solve(builder.system()), [0]);
  },
  "changes that make a claim hold": () => {
    const builder = crank(0.5);
    const solution = solve(builder.system());
    const claim = builder.claim(compare("reach", ">=", 165));
    return [
      fitFor(solution, claim, () => 0.5),
      fitFor(solution, claim, () => 0.5, "worst"),
      tightenFor(solution, builder.claim(compare("reach", ">=", 157.2)), () => true),
    ];
  },
  "cases by those before": () => solve(cases(9).system()),
  "counts left open": () =>
    solve(
      new SystemBuilder()
        .variable("x", { range: [0, 40], whole: "sought" })
        .variable("y", { range: [0, 40], whole: "sought" })
        .equation("sum", add(mul(3, "x"), mul(5, "y")), 97)
        .equation("product", mul("x", "y"), 56)
        .system(),
    ),
  "the best of 8,000": async () => {
    const answer = await choose(parts([20, 20, 20], 14));
    return bestOf(answer.choices, { keep: 3 });
  },
  "the nearest of 8,000": () => choose(parts([20, 20, 20], 1)),
  "a given changed": () =>
    chains(0).map((builder) => {
      const base = solve(builder.system());
      return solveOverlay(base, { givens: new Map([[0, exactly(2.5)]]) });
    }),
  "by a plan that is known": () =>
    chains(0).map((builder) => {
      const base = solve(builder.system());
      return solveLike(builder.system(), base.plan);
    }),
  "wishes, as drawn and as made": () => {
    const builder = new SystemBuilder()
      .given({ frame: 800 })
      .equation("sum", "frame", add("left", "gap", "right"))
      .equation("left wish", "left", 300, "wanted")
      .equation("right wish", "right", 310, "wanted")
      .equation("gap wish", "gap", 200, "wanted");
    const drawing = draw(builder.system());
    return outcomeOf(drawing, [builder.claim(compare("gap", ">=", 190))]);
  },
  "what a figure rests on": () =>
    chains(0).map((builder) =>
      explain(solve(builder.system()), builder.system().variables.length - 1),
    ),
};

const noted: Readonly<Record<string, number>> = {
  "chains of formulas": 21882,
  "chains read from their end": 69458,
  "as many linear equations as unknowns or more": 73413,
  "one equation, searched": 82816,
  "a circle and a line": 6973,
  "three together": 12103,
  "springs together: 5": 4023,
  "springs together: 20": 448598,
  "springs together: 70": 66244,
  "what says a thing twice": 2453184,
  "a crank, backward": 1918,
  "ends of formulas": 7260,
  "ends of what is solved together": 2988588,
  "spreads of chains": 39275,
  "slopes of chains": 29270,
  "claims at worst": 42441,
  "claims, likely": 42441,
  "margins of claims": 89247,
  "how likely": 1162,
  "what is missing": 1950,
  "contradictions, and what would end them": 3654821,
  "readings that disagree": 233,
  "changes that make a claim hold": 75790,
  "cases by those before": 147725,
  "counts left open": 6257,
  "the best of 8,000": 387798,
  "the nearest of 8,000": 1235021,
  "a given changed": 31443,
  "by a plan that is known": 27664,
  "wishes, as drawn and as made": 1117,
  "what a figure rests on": 21882,
};

describe("work that is done for", () => {
  test.each(Object.keys(work))("%s", (name) => holdToNoted(work, noted, name));
});
