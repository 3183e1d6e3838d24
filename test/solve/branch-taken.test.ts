/**
 * Of a formula with branches only what the branch that is taken speaks of is wanted, each answer beside
 * an evaluator of a few lines that looks at nothing else.
 */
import { describe, expect, test } from "vitest";
import { missingFor, solve, solveOverlay, verdictOf } from "../../server/solve";
import type { Condition, Expression } from "../../server/solve/expression";
import { analyzed } from "../model/build";
import {
  add,
  compare,
  div,
  exactly,
  mul,
  SystemBuilder,
  shuffled,
  valueNamed,
  within,
} from "./build";
import { randoms } from "./random-systems";

const choice = (condition: Condition, then: Expression, otherwise: Expression): Expression => ({
  op: "if",
  condition,
  then,
  else: otherwise,
});

// ───────────────────────────── formulas drawn, and what they come to ─────────────────────────────

type Tree =
  | { readonly leaf: string }
  | { readonly sum: readonly [Tree, Tree] }
  | { readonly by: string; readonly over: number; readonly then: Tree; readonly otherwise: Tree };

function drawTree(random: () => number, depth: number): Tree {
  const kind = random();
  if (depth === 0 || kind < 0.2) return { leaf: `x${Math.floor(random() * 6)}` };
  const inner = (): Tree => drawTree(random, depth - 1);
  if (kind < 0.4) return { sum: [inner(), inner()] };
  const by = `k${Math.floor(random() * 3)}`;
  return { by, over: 1 + Math.floor(random() * 2), then: inner(), otherwise: inner() };
}

function asExpression(tree: Tree): Expression {
  if ("leaf" in tree) return add(tree.leaf);
  if ("sum" in tree) return add(asExpression(tree.sum[0]), asExpression(tree.sum[1]));
  const condition = compare(tree.by, ">", tree.over);
  return choice(condition, asExpression(tree.then), asExpression(tree.otherwise));
}

/** What it comes to, or what it lacks; nothing where a condition cannot be told. */
function lacks(tree: Tree, known: ReadonlyMap<string, number>): ReadonlySet<string> | undefined {
  if ("leaf" in tree) return new Set(known.has(tree.leaf) ? [] : [tree.leaf]);
  if ("sum" in tree) {
    const [one, other] = tree.sum.map((part) => lacks(part, known));
    return one === undefined || other === undefined ? undefined : new Set([...one, ...other]);
  }
  const by = known.get(tree.by);
  return by === undefined ? undefined : lacks(by > tree.over ? tree.then : tree.otherwise, known);
}

function valueOf(tree: Tree, known: ReadonlyMap<string, number>): number {
  if ("leaf" in tree) return known.get(tree.leaf)!;
  if ("sum" in tree) return valueOf(tree.sum[0], known) + valueOf(tree.sum[1], known);
  return valueOf(known.get(tree.by)! > tree.over ? tree.then : tree.otherwise, known);
}

const backward = Array.from({ length: 10 }, (_, at) => 9 - at);
const names = ["a", "k0", "k1", "k2", "x0", "x1", "x2", "x3", "x4", "x5"];

describe("formulas of up to four branches within each other", () => {
  const random = randoms(20261128);
  const cases = Array.from({ length: 400 }, () => {
    const tree = drawTree(random, 4);
    const known = new Map<string, number>();
    for (const name of names.slice(1))
      if (random() < 0.6) known.set(name, Math.round(random() * 30) / 10);
    return { tree, known };
  });
  const systemOf = (tree: Tree, known: ReadonlyMap<string, number>): SystemBuilder => {
    const builder = new SystemBuilder();
    for (const name of names) builder.variable(name);
    builder.given(Object.fromEntries(known));
    return builder.equation("e", "a", asExpression(tree));
  };

  test("come to what the branch that is taken comes to, whatever the others lack", () => {
    let worked = 0;
    for (const { tree, known } of cases) {
      const solution = solve(shuffled(systemOf(tree, known).system(), backward, [0]));
      const lacking = lacks(tree, known);
      const value = valueNamed(solution, "a");
      if (lacking?.size === 0) {
        worked++;
        expect(value).toBeCloseTo(valueOf(tree, known), 9);
      } else expect(value).toBeNaN();
    }
    expect(worked).toBeGreaterThan(80);
  });

  test("lack what the branch that is taken lacks, and nothing of the others", () => {
    let told = 0;
    for (const { tree, known } of cases) {
      const builder = systemOf(tree, known);
      const lacking = lacks(tree, known);
      if (lacking === undefined || lacking.size === 0 || lacking.size > 5) continue;
      told++;
      const sets = missingFor(solve(builder.system()), builder.index("a"));
      expect(sets.map((set) => set.map((at) => names[at]).sort())).toEqual([[...lacking].sort()]);
    }
    expect(told).toBeGreaterThan(60);
  });

  test("give the one figure that the branch taken lacks, where the whole is given", () => {
    let found = 0;
    for (const { tree, known } of cases) {
      const lacking = lacks(tree, known);
      const [only] = lacking ?? [];
      if (only === undefined || lacking?.size !== 1) continue;
      const solution = solve(systemOf(tree, known).given({ a: 7 }).system());
      // Put in, it makes the whole what was given; it may stand in the sum more than once.
      const value = valueNamed(solution, only);
      expect(valueOf(tree, new Map(known).set(only, value))).toBeCloseTo(7, 9);
      found++;
    }
    expect(found).toBeGreaterThan(40);
  });

  test("say nothing of what stands in the other branches alone", () => {
    let passed = 0;
    for (const { tree, known } of cases) {
      if (lacks(tree, known)?.size !== 0) continue;
      const builder = systemOf(tree, known).given({ a: valueOf(tree, known) });
      const solution = solve(builder.system());
      expect(solution.conflicts).toEqual([]);
      expect(solution.failures).toEqual([]);
      for (const name of names)
        if (!known.has(name) && name !== "a") {
          expect(valueNamed(solution, name)).toBeNaN();
          passed++;
        }
    }
    expect(passed).toBeGreaterThan(200);
  });
});

// ───────────────────────────── branches among other equations ─────────────────────────────

/** `x + y = 10` and `x = if … then y / 2 else c`. */
const coupled = (condition: Condition): SystemBuilder =>
  new SystemBuilder()
    .equation("sum", add("x", "y"), 10)
    .equation("half", "x", choice(condition, div("y", 2), add("c")));

test("in the middle of what is solved together", () => {
  const solution = solve(
    coupled(compare("k", ">", 1))
      .given({ k: 2 })
      .system(),
  );
  expect(valueNamed(solution, "x")).toBeCloseTo(10 / 3, 12);
  expect(valueNamed(solution, "y")).toBeCloseTo(20 / 3, 12);
  const other = coupled(compare("k", ">", 1)).given({ k: 1 });
  const open = solve(other.system());
  expect(valueNamed(open, "x")).toBeNaN();
  for (const set of missingFor(open, other.index("x"))) expect(set).not.toContain(other.index("k"));
  expect(valueNamed(solve(other.given({ c: 4 }).system()), "y")).toBeCloseTo(6, 12);
});

test("a condition that hangs on the very equation is not counted on", () => {
  // With c open, 10/3 > 2 would do, and so would each c up to 2.
  const builder = coupled(compare("x", ">", 2));
  expect(valueNamed(solve(builder.system()), "x")).toBeNaN();
});

test("a condition that is open leaves all of it open, and is asked for with both", () => {
  const builder = new SystemBuilder().equation(
    "e",
    "a",
    choice(compare("k", ">", 1), add("b"), add("c")),
  );
  const solution = solve(builder.system());
  expect(valueNamed(solution, "a")).toBeNaN();
  const [set = []] = missingFor(solution, builder.index("a"));
  expect([...set].sort()).toEqual(["k", "b", "c"].map((name) => builder.index(name)).sort());
});

test("of conditions joined, the side that cannot be told is not wanted where the other settles it", () => {
  const either = (op: "and" | "or", k: number): number => {
    const condition: Condition = {
      op: "not",
      of: { op, left: compare("k", ">", 1), right: compare("d", ">", 2) },
    };
    const builder = new SystemBuilder()
      .given({ k, b: 5, c: 7 })
      .equation("e", "a", choice(condition, add("b"), choice(condition, add("d"), add("c"))));
    return valueNamed(solve(builder.system()), "a");
  };
  // not (false and ?) and not (true or ?); of the two others nothing is known without d.
  expect(either("and", 0)).toBe(5);
  expect(either("or", 2)).toBe(7);
  expect(either("and", 2)).toBeNaN();
  expect(either("or", 0)).toBeNaN();
});

test("what one condition settles may settle the next, over a row of them", () => {
  const builder = new SystemBuilder().given({ k0: 2 });
  // Each takes a figure of its own, or else one that nobody gives, by the one before.
  for (let at = 1; at <= 8; at++)
    builder
      .given({ [`p${at}`]: 1 + at })
      .equation(
        `e${at}`,
        `k${at}`,
        choice(compare(`k${at - 1}`, ">", 1), add(`p${at}`), add(`q${at}`)),
      );
  expect(valueNamed(solve(builder.system()), "k8")).toBe(9);
});

test("a default in the other branch is not rested on, the condition's is", () => {
  const solved = solve(
    new SystemBuilder()
      .given({ b: 5 })
      .equation("e", "a", choice(compare("k", ">", 1), add("b"), mul("c", "d")))
      .equation("k", "k", 2, "default")
      .system(),
  );
  expect(valueNamed(solved, "a")).toBe(5);
  const how = solved.determinations[solved.system.variables.findIndex(({ name }) => name === "a")];
  expect(how).toMatchObject({ how: "solved", restsOn: [1] });
});

test("laid over it, another figure takes the other branch, and back", () => {
  const builder = new SystemBuilder()
    .given({ k: 2, b: 5 })
    .equation("e", "a", choice(compare("k", ">", 1), add("b"), add("c")));
  const base = solve(builder.system());
  const [k, c] = [builder.index("k"), builder.index("c")];
  expect(valueNamed(base, "a")).toBe(5);
  const flipped = solveOverlay(base, { givens: new Map([[k, exactly(0)]]) });
  expect(valueNamed(flipped, "a")).toBeNaN();
  const both = new Map([
    [k, exactly(0)],
    [c, exactly(8)],
  ]);
  expect(valueNamed(solveOverlay(base, { givens: both }), "a")).toBe(8);
  const again = solveOverlay(flipped, { givens: new Map([[k, exactly(3)]]) });
  expect(valueNamed(again, "a")).toBe(5);
});

test("where tolerances reach into a branch that lacks a figure, nothing is proved", () => {
  const builder = new SystemBuilder()
    .given({ k: within(1.05, 0.2), b: within(5, 0.1) })
    .equation("e", "a", choice(compare("k", ">", 1), add("b"), add("c")));
  const claim = builder.claim(compare("a", "<=", 6));
  const solution = solve(builder.system());
  expect(verdictOf(solution, claim)).toMatchObject({ nominal: "holds", worst: "fails" });
  expect(verdictOf(solution, claim).witness?.get(builder.index("k"))).toBeLessThanOrEqual(1);
  const surely = solve(builder.given({ k: within(1.05, 0.04) }).system());
  expect(verdictOf(surely, claim)).toMatchObject({ nominal: "holds", worst: "holds" });
});

test("a check lacks what its branch lacks, whichever it is in", () => {
  const builder = new SystemBuilder().given({ k: 2, b: 5 });
  const claim = builder.claim(
    compare(choice(compare("k", ">", 1), add("b", "d"), add("c")), "<=", 6),
  );
  const verdict = verdictOf(solve(builder.system()), claim);
  expect(verdict.nominal).toBe("unknown");
  expect(verdict.open).toEqual([builder.index("d")]);
});

// ───────────────────────────── as it is told ─────────────────────────────

const box = `kind box { k: number
a: length
b: length
c: length
relation "choice": a = if k > 1 then b else c }
`;

describe("as it is told", () => {
  test("what is asked for is what the answer hangs on", () => {
    const needsIn = (text: string): string[][] =>
      analyzed(box + text).asked[0]!.needs.map((set) => set.map(({ path }) => path));
    expect(needsIn("box o { k: 2; a: ? }")).toEqual([["o.b"]]);
    expect(needsIn("box o { k: 1; a: ? }")).toEqual([["o.c"]]);
    expect(needsIn("box o { b: 2 mm; c: 3 mm; a: ? }")).toEqual([["o.k"]]);
  });

  test("what a figure follows from leaves out what is not there and not wanted", () => {
    const analysis = analyzed(`${box}box o { k: 2; b: 5 mm; a: ? }`);
    expect(analysis.findings).toEqual([]);
    const value = analysis.valueAt("o.a");
    expect(value?.si).toBeCloseTo(0.005, 12);
    expect(value?.reason?.inputs).toEqual(["o.k", "o.b"]);
  });

  test("who asks for a figure of the other branch is told so", () => {
    const analysis = analyzed(`${box}box o { k: 2; a: 5 mm; b: 5 mm; c: ? }`);
    expect(analysis.findings.map(({ message }) => message)).toEqual([
      "o.c cannot be worked out yet: none of the cases that speak of it holds: “choice” in its other branch",
    ]);
  });

  test("an option that takes the other branch asks for what that lacks", () => {
    const analysis = analyzed(
      `${box}box o { k: 2; b: 5 mm; a: ? }\noption thin { o.k: 0.5 }\noption full { o.k: 0.5; o.c: 7 mm }`,
    );
    expect(analysis.findings.map(({ message, hint }) => [message, hint])).toEqual([
      ["with option thin: o.a cannot be worked out yet", "give o.c"],
    ]);
    expect(analysis.under("full")?.valueAt("o.a")?.si).toBeCloseTo(0.007, 12);
  });
});
