/**
 * How much what is kept and what is cut down saves, counted as in `work-counted.test.ts`: cells that are
 * solved by plans they share, what of an open system is fixed, ranges cut down before anything is tried,
 * advice that is given up early.
 */
import { describe, test } from "vitest";
import {
  atAGlance,
  type Cell,
  draw,
  fewestPlaces,
  type Key,
  type KeyedEquation,
  mendsFor,
  missingFor,
  outcomeOf,
  Plans,
  type System,
  seenIn,
  solve,
  spreadOf,
  verdictOf,
} from "../../server/solve";
import {
  add,
  call,
  compare,
  exactly,
  mul,
  pow,
  SystemBuilder,
  sub,
  type Term,
  within,
} from "./build";
import { randoms } from "./random-systems";
import { holdToNoted, type Work } from "./work-of";

/** A cell of the whole of a system. */
function cellOf(plans: Plans, { variables, equations }: System, first = 0): Cell<Key> {
  const keys = variables.map(({ name }, at): Key => ({ name, file: "f", serial: first + at }));
  const own = equations.map(
    ({ variables: slots, ...rest }): KeyedEquation<Key> => ({
      ...rest,
      figures: slots.map((slot) => keys[slot]!),
    }),
  );
  return plans.cell(own, ({ serial }) => variables[serial - first]!);
}

/** Wheels in a row that turn each other: a sum, a product and a root each. */
function row(count: number, first: number): SystemBuilder {
  const builder = new SystemBuilder().given({ x0: first });
  for (let i = 1; i <= count; i++) {
    const before = `x${i - 1}`;
    builder
      .equation(`sum ${i}`, `s${i}`, add(before, i))
      .equation(`root ${i}`, pow(`r${i}`, 2), `s${i}`)
      .variable(`r${i}`, { range: [0, 1e3] })
      .equation(`turn ${i}`, `x${i}`, mul(0.5, `r${i}`));
  }
  return builder;
}

/** Rows of whole factors over more figures than there are rows. */
function open(rows: number, figures: number): SystemBuilder {
  const random = randoms(17);
  const builder = new SystemBuilder();
  for (let i = 0; i < figures; i++) builder.variable(`x${i}`, { range: [-50, 50] });
  for (let e = 0; e < rows; e++) {
    const terms = Array.from({ length: figures }, (_, i): Term[] =>
      random() < 0.3 ? [mul(1 + Math.floor(random() * 4), `x${i}`)] : [],
    ).flat();
    if (terms.length > 1) builder.equation(`e${e}`, add(...terms), 10 + e);
  }
  return builder;
}

const made = { off: 0, offShare: 0, said: true, order: 0 };
/** A frame in which a mark is made to a step and gaps are wished for. */
function frame(step: number): System {
  const { variables, equations } = new SystemBuilder()
    .given({ width: 812.3, post: 41.7 })
    .equation("left", "mark", add("post", "gap"))
    .equation("right", "width", add("mark", "rest"))
    .equation("gap wish", "gap", 180, "wanted")
    .equation("rest wish", "rest", 600, "wanted")
    .system();
  return {
    equations,
    variables: variables.map((each) =>
      each.name === "mark" ? { ...each, role: "made", making: { ...made, step } } : each,
    ),
  };
}

const counted = (names: readonly string[]): SystemBuilder => {
  const builder = new SystemBuilder();
  for (const name of names) builder.variable(name, { range: [0, 60], whole: "sought" });
  return builder;
};

const work: Work = {
  "a cell from nothing": () => cellOf(new Plans(), row(40, 2).system()).solution,
  "thirty cells of one structure": () => {
    const plans = new Plans();
    for (let i = 0; i < 30; i++) cellOf(plans, row(12, 1 + i / 9).system(), 1000 * i).solution;
  },
  "a cell renewed thirty times": () => {
    const plans = new Plans();
    const { variables, equations } = row(12, 2).system();
    let cell = cellOf(plans, { variables, equations });
    for (let i = 0; i < 30; i++) {
      cell = plans.renewed(cell, ({ serial }) =>
        serial === 0 ? { ...variables[0]!, given: exactly(2 + i / 7) } : variables[serial]!,
      );
      cell.solution;
    }
  },
  "as a cell comes out": () => {
    const plans = new Plans();
    for (const step of [0.5, 1, 2, 5]) {
      cellOf(plans, frame(step)).read("outcome").solution.values;
    }
  },
  "made to a step": () =>
    [0.5, 2, 5].map((step) => {
      const builder = new SystemBuilder();
      for (const { name } of frame(step).variables) builder.variable(name);
      const claim = builder.claim(compare("gap", ">=", 180));
      return outcomeOf(draw(frame(step)), [claim]).values;
    }),
  "an open system of 12": () => solve(open(8, 12).system()),
  "an open system of 40": () => solve(open(30, 40).system()),
  "what 12 open figures are missing": () => {
    const builder = open(8, 12);
    const solution = solve(builder.system());
    return [0, 3, 7, 11].map((at) => missingFor(solution, builder.index(`x${at}`)));
  },
  "three counts": () =>
    solve(
      counted(["x", "y", "z"])
        .equation("sum", add("x", "y", "z"), 60)
        .equation("weigh", add(mul(7, "x"), mul(3, "y"), mul(2, "z")), 200)
        .equation("square", add(mul("x", "y"), "z"), 165)
        .system(),
    ),
  "counts that nothing satisfies": () =>
    solve(
      counted(["x", "y"])
        .equation("even", add(mul(4, "x"), mul(6, "y")), 101)
        .equation("less", mul("x", "y"), add("x", 30))
        .system(),
    ),
  "a claim at a glance": () => {
    const builder = row(12, 2);
    const solution = solve(builder.system());
    const claim = builder.claim(compare(add("x3", "x4"), "<=", mul(3, "s2")));
    return atAGlance(
      claim.condition,
      claim.variables.map((variable) => seenIn(solution, variable)),
    );
  },
  "where a claim fails, by as little as does": () => {
    const builder = new SystemBuilder().given({
      a: within(1, 0.2),
      b: within(2, 0.2),
      c: within(3, 0.5),
      d: within(0, 0.1),
    });
    builder.equation("y", "y", add("a", mul("b", "c"), call("sin", "d")));
    const solution = solve(builder.system());
    const claim = builder.claim(compare("y", "<=", 8));
    return fewestPlaces(solution, claim, verdictOf(solution, claim).witness!);
  },
  "changes to what is made that mend a claim": () => {
    const builder = new SystemBuilder()
      .given({ width: within(800, 1), mark: within(215, 0.5) })
      .equation("rest", "width", add("mark", "rest"))
      .equation("wish", "gap", 180, "wanted")
      .equation("gap", "mark", add("gap", "post"));
    const drawn = draw(builder.system());
    const claim = builder.claim(compare("rest", ">=", 590));
    return mendsFor(drawn, outcomeOf(drawn), claim, () => 0.5);
  },
  "± of what many go into": () => {
    const builder = new SystemBuilder();
    for (let i = 0; i < 60; i++)
      builder.given({ [`t${i}`]: within(1 + i / 40, 0.01 * (1 + (i % 5))) });
    const all = Array.from({ length: 60 }, (_, i): Term => mul(`t${i}`, `t${(i * 7) % 60}`));
    builder.equation("sum", "y", add(...all)).equation("z", "z", sub("y", call("sqrt", "y")));
    return spreadOf(solve(builder.system()), builder.quantity("z"));
  },
};

const noted: Readonly<Record<string, number>> = {
  "a cell from nothing": 26640,
  "thirty cells of one structure": 239760,
  "a cell renewed thirty times": 76200,
  "as a cell comes out": 8820,
  "made to a step": 7933,
  "an open system of 12": 1746,
  "an open system of 40": 915364,
  "what 12 open figures are missing": 23935,
  "three counts": 91556,
  "counts that nothing satisfies": 6988,
  "a claim at a glance": 8020,
  "where a claim fails, by as little as does": 951,
  "changes to what is made that mend a claim": 11093,
  "± of what many go into": 15756,
};

describe("work that is done for", () => {
  test.each(Object.keys(work))("%s", (name) => holdToNoted(work, noted, name));
});
