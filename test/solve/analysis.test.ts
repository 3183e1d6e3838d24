/** What is asked of a solution: tolerances, claims, missing givens, fits, derivations. */
import { expect, test } from "vitest";
import {
  type Claim,
  explain,
  fitFor,
  missingFor,
  quantityValue,
  sensitivities,
  solve,
  spreadOf,
  verdictOf,
} from "../../server/solve";
import { add, call, compare, mul, SystemBuilder, sub, within } from "./build";

/** Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed., Example 1-3, in inches. */
function shigley(d = 0.875): SystemBuilder {
  return new SystemBuilder()
    .given({
      a: within(1.75, 0.003),
      b: within(0.75, 0.001),
      c: within(0.12, 0.005),
      d: within(d, 0.001),
    })
    .equation("gap", "w", sub("a", "b", "c", "d"));
}

test("Shigley example 1-3: gap 0.005 ± 0.010, root sum square 0.006", () => {
  const builder = shigley();
  const solution = solve(builder.system());
  const w = builder.quantity("w");
  expect(quantityValue(solution, w)).toBeCloseTo(0.005, 12);
  const spread = spreadOf(solution, w)!;
  expect(spread.worstAbove).toBeCloseTo(0.01, 12);
  expect(spread.worstBelow).toBeCloseTo(0.01, 12);
  expect(spread.rss).toBeCloseTo(0.006, 12);
  expect(spread.contributors.map((c) => solution.system.variables[c.variable]!.name)).toEqual([
    "c",
    "a",
    "b",
    "d",
  ]);
  expect(spread.contributors[0]!.share).toBeCloseTo(25 / 36, 12);
  expect(spread.contributors.reduce((sum, c) => sum + c.share, 0)).toBeCloseTo(1, 12);
});

test("Shigley example 1-3: for a gap of at least 0.003 in the worst case, d must be 0.867", () => {
  const builder = shigley();
  const claim = builder.claim(compare("w", ">=", 0.003));
  const solution = solve(builder.system());
  const verdict = verdictOf(solution, claim);
  expect([verdict.nominal, verdict.rss, verdict.worst]).toEqual(["holds", "fails", "fails"]);
  expect(verdict.margin).toBeCloseTo(0.002, 12);
  const fits = fitFor(solution, claim, () => 0.001, "worst");
  const d = fits.find((fit) => fit.variable === builder.index("d"))!;
  expect(d.value).toBeCloseTo(0.867, 12);
  expect(verdictOf(solve(shigley(0.867).system()), claim).worst).toBe("holds");
  expect(verdictOf(solve(shigley(0.868).system()), claim).worst).toBe("fails");
});

test("lopsided tolerances: worst case keeps its sides, root sum square moves to the middle", () => {
  const builder = new SystemBuilder()
    .given({ a: within(10, 0, 0.2), b: within(4, 0.1, 0) })
    .equation("sum", "x", sub("a", "b"));
  const spread = spreadOf(solve(builder.system()), builder.quantity("x"))!;
  expect(spread.worstAbove).toBeCloseTo(0.3, 12);
  expect(spread.worstBelow).toBe(0);
  expect(spread.shift).toBeCloseTo(0.15, 12);
  expect(spread.rss).toBeCloseTo(Math.hypot(0.1, 0.05), 12);
});

test("the lesser of two equal lengths: both count, though at the nominal only one shows", () => {
  const builder = new SystemBuilder()
    .given({ a: within(5, 1), b: within(5, 2) })
    .equation("least", "x", call("min", "a", "b"));
  const spread = spreadOf(solve(builder.system()), builder.quantity("x"))!;
  expect(spread.worstBelow).toBeCloseTo(2, 12);
  expect(spread.worstAbove).toBeCloseTo(1, 12);
  expect(spread.contributors).toHaveLength(2);
});

test("a magnitude is least where its content passes zero, between the corners", () => {
  const builder = new SystemBuilder()
    .given({ a: within(1, 2) })
    .equation("size", "x", call("abs", "a"));
  const spread = spreadOf(solve(builder.system()), builder.quantity("x"))!;
  expect(spread.worstAbove).toBeCloseTo(2, 12);
  expect(spread.worstBelow).toBeCloseTo(1, 9);
});

test("a kink out of reach changes nothing", () => {
  const builder = new SystemBuilder()
    .given({ a: within(5, 1), b: within(9, 1) })
    .equation("least", "x", call("min", "a", "b"));
  const spread = spreadOf(solve(builder.system()), builder.quantity("x"))!;
  expect(spread.contributors).toHaveLength(1);
  expect(spread.rss).toBeCloseTo(1, 12);
});

test("verdicts: both, either, not, equal, and what cannot be told", () => {
  const builder = new SystemBuilder()
    .given({ a: within(5, 1), b: within(3, 0.5), e: { ...within(5, 0), rounding: 0.05 } })
    .variable("open");
  const over = compare("a", ">=", 4.5);
  const under = compare("b", "<=", 4);
  const claims: [string, Claim, string, string][] = [
    ["both", builder.claim({ op: "and", left: over, right: under }), "holds", "fails"],
    ["either", builder.claim({ op: "or", left: over, right: under }), "holds", "holds"],
    ["not", builder.claim({ op: "not", of: compare("a", "<", 4) }), "holds", "holds"],
    ["close", builder.claim(compare("e", "==", 5.04)), "holds", "holds"],
    ["apart", builder.claim(compare("e", "==", 5.06)), "fails", "fails"],
    ["within", builder.claim(compare("a", "==", 5.5)), "fails", "holds"],
    ["strict", builder.claim(compare("a", ">", 5)), "fails", "fails"],
    ["open", builder.claim(compare("open", ">", 5)), "unknown", "unknown"],
    ["always", builder.claim({ op: "always", value: true }), "holds", "holds"],
  ];
  const solution = solve(builder.system());
  for (const [name, claim, nominal, worst] of claims) {
    const verdict = verdictOf(solution, claim);
    expect([name, verdict.nominal, verdict.worst]).toEqual([name, nominal, worst]);
  }
  expect(verdictOf(solution, claims[7]![1]).open).toEqual([builder.index("open")]);
  expect(verdictOf(solution, claims[8]![1]).margin).toBeUndefined();
  expect(verdictOf(solution, claims[0]![1]).margin).toBeCloseTo(0.5, 12);
});

test("missing: one further given, natural ones first, and none that only repeats what is known", () => {
  const builder = new SystemBuilder()
    .given({ c: 3, f: 20 })
    .variable("mr", { askedFirst: true })
    .equation("face", "f", add("hl", "hr"))
    .equation("left", "ml", add("hl", "c"))
    .equation("right", "mr", add("hr", "c"))
    .equation("mount", "m", add("ml", "mr"));
  const solution = solve(builder.system());
  const names = missingFor(solution, builder.index("hl")).map((set) =>
    set.map((v) => solution.system.variables[v]!.name),
  );
  expect(names).toEqual([["mr"], ["hr"], ["ml"]]);
});

test("missing: where one will not do, several together", () => {
  const builder = new SystemBuilder()
    .given({ k: 2 })
    .equation("area", "area", mul("width", "height"))
    .equation("volume", "volume", mul("area", "depth"));
  const solution = solve(builder.system());
  const sets = missingFor(solution, builder.index("volume")).map((set) =>
    set.map((v) => solution.system.variables[v]!.name).sort(),
  );
  expect(sets).toContainEqual(["area", "depth"]);
  for (const set of sets) {
    const more = new SystemBuilder()
      .given({ k: 2, ...Object.fromEntries(set.map((name, at) => [name, at + 2])) })
      .equation("area", "area", mul("width", "height"))
      .equation("volume", "volume", mul("area", "depth"));
    expect(solve(more.system()).values[more.index("volume")]).not.toBeNaN();
  }
  expect(missingFor(solution, builder.index("k"))).toEqual([]);
});

test("fits: rounded to the safe side, fixed facts left alone, gentlest first", () => {
  const builder = new SystemBuilder()
    .given({
      half: 29,
      offset: 0.7,
      width: 10.83,
    })
    .variable("limit", { given: 24.75, role: "measured" })
    .equation("center", "center", sub("half", "offset"))
    .equation("inner", "inner", sub("center", mul(0.5, "width")))
    .equation("gap", "gap", sub("limit", "inner"));
  const claim = builder.claim(compare("gap", ">=", 2));
  const solution = solve(builder.system());
  expect(verdictOf(solution, claim).nominal).toBe("fails");
  const fits = fitFor(solution, claim, (v) => (v === builder.index("width") ? 0.5 : 1 / 32));
  expect(fits.map((fit) => solution.system.variables[fit.variable]!.name)).toEqual([
    "offset",
    "half",
    "width",
  ]);
  const byName = new Map(fits.map((f) => [solution.system.variables[f.variable]!.name, f.value]));
  // gap = 24.75 − 29 + 0.7 + 5.415 = 1.865, so 0.135 is lacking.
  expect(byName.get("half")).toBeCloseTo(Math.floor((29 - 0.135) * 32) / 32, 12);
  expect(byName.get("offset")).toBeCloseTo(Math.ceil((0.7 + 0.135) * 32) / 32, 12);
  expect(byName.get("width")).toBeCloseTo(11.5, 12);
});

test("fits: nothing is offered that brings a new contradiction", () => {
  const builder = new SystemBuilder()
    .given({ a: 2, b: 3, s: 5 })
    .equation("sum", "s", add("a", "b"))
    .equation("double", "d", mul(2, "a"));
  const claim = builder.claim(compare("d", ">=", 6));
  expect(fitFor(solve(builder.system()), claim, () => 0.5)).toEqual([]);
});

test("fits through a curved relation land on the nearest increment", () => {
  const builder = new SystemBuilder()
    .given({ r: 2 })
    .equation("area", "area", mul(Math.PI, mul("r", "r")));
  const claim = builder.claim(compare("area", ">=", 20));
  const [fit] = fitFor(solve(builder.system()), claim, () => 0.01);
  expect(fit!.value).toBeCloseTo(Math.ceil(Math.sqrt(20 / Math.PI) * 100) / 100, 12);
});

test("a derivation leads to the givens, and an input used twice is one node", () => {
  const builder = new SystemBuilder()
    .given({ a: 2 })
    .equation("b", "b", mul(2, "a"))
    .equation("c", "c", add("a", 1))
    .equation("d", "d", mul("b", "c"));
  const solution = solve(builder.system());
  const top = explain(solution, builder.index("d"), 5)!;
  const [b, c] = top.inputs;
  expect(top.inputs.map((node) => node.variable)).toEqual([builder.index("b"), builder.index("c")]);
  expect(b!.inputs[0]).toBe(c!.inputs[0]);
  expect(b!.inputs[0]!.determination).toEqual({ how: "given" });
  const short = explain(solution, builder.index("d"), 1)!;
  expect(short.inputs[0]!.inputs).toEqual([]);
  expect(short.inputs[0]!.more).toBe(true);
  expect(explain(solution, 999)).toBeUndefined();
});

test("sensitivities pass through a block solved together", () => {
  const builder = new SystemBuilder()
    .given({ s: within(7, 0.1), p: 3 })
    .equation("sum", add("x", "y"), "s")
    .equation("difference", sub("x", "y"), "p");
  const solution = solve(builder.system());
  const found = sensitivities(solution, builder.quantity("x"));
  expect(found.get(builder.index("s"))).toBeCloseTo(0.5, 12);
  expect(found.get(builder.index("p"))).toBeCloseTo(0.5, 12);
  expect([...sensitivities(solution, builder.quantity("x"), "toleranced").keys()]).toEqual([
    builder.index("s"),
  ]);
});
