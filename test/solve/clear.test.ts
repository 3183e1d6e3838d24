/**
 * Checks that hold by far, decided by what each figure can come to by itself: against draws within
 * the tolerances, none of which may fail, and against the close look at the parts solved as one.
 */
import { expect, test } from "vitest";
import { atAGlance, seenGiven, seenIn } from "../../server/solve/clear";
import type { Expression } from "../../server/solve/expression";
import { solve } from "../../server/solve/solve";
import type { Claim } from "../../server/solve/system";
import { verdictOf } from "../../server/solve/verdict";
import { add, call, compare, div, mul, SystemBuilder, sub, within } from "./build";

/** Numbers from 0 to 1, the same row for the same seed (Lehmer's generator). */
function rollsOf(seed: number): () => number {
  let state = seed * 7919 + 1;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

const formulas: readonly {
  readonly of: (a: string, b: string) => Expression;
  readonly at: (a: number, b: number) => number;
}[] = [
  { of: (a, b) => mul(a, b), at: (a, b) => a * b },
  { of: (a, b) => sub(mul(a, a), b), at: (a, b) => a * a - b },
  { of: (a, b) => div(a, b), at: (a, b) => a / b },
  { of: (a, b) => call("abs", sub(a, b)), at: (a, b) => Math.abs(a - b) },
  { of: (a, b) => call("sqrt", add(mul(a, a), mul(b, b))), at: (a, b) => Math.hypot(a, b) },
  { of: (a, b) => call("min", a, mul(b, 2)), at: (a, b) => Math.min(a, 2 * b) },
];

/** Two parts that share nothing, or one given, and a claim over what comes of each and a limit. */
function caseOf(seed: number) {
  const roll = rollsOf(seed);
  const given = () => within(1 + 4 * roll(), 0.4 * roll(), 0.4 * roll());
  const givens = { a: given(), b: given(), c: given(), d: given(), limit: given() };
  const [one, other] = [
    formulas[seed % formulas.length]!,
    formulas[(seed >> 3) % formulas.length]!,
  ];
  const second = seed % 2 === 0 ? "c" : "a";
  const relation = ([">=", ">", "<=", "<", "!="] as const)[seed % 5]!;
  const condition = compare(add("x", mul("y", 0.3)), relation, mul("limit", 4 * roll()));
  const left = new SystemBuilder().given(givens).equation("x", "x", one.of("a", "b"));
  const right = new SystemBuilder().given(givens).equation("y", "y", other.of(second, "d"));
  const whole = new SystemBuilder()
    .given(givens)
    .equation("x", "x", one.of("a", "b"))
    .equation("y", "y", other.of(second, "d"));
  return { roll, givens, one, other, second, left, right, whole, condition } as const;
}

test("what holds clearly holds wherever it is drawn, and by a close look", () => {
  let clear = 0;
  let held = 0;
  for (let seed = 1; seed <= 600; seed++) {
    const { roll, givens, one, other, second, left, right, whole, condition } = caseOf(seed);
    const claim: Claim = whole.claim(condition);
    const { variables } = whole.system();
    const figures = claim.variables.map((at) => {
      const { name } = variables[at]!;
      if (name === "x") return seenIn(solve(left.system()), left.index("x"));
      if (name === "y") return seenIn(solve(right.system()), right.index("y"));
      return seenGiven(variables[at]!);
    });
    const closely = verdictOf(solve(whole.system()), claim);
    if (closely.worst === "holds") held++;
    const glance = atAGlance(claim.condition, figures);
    expect(glance, `seed ${seed}`).not.toBe("open");
    if (glance !== "holds") continue;
    clear++;
    expect(closely, `seed ${seed}`).toMatchObject({
      nominal: "holds",
      rss: "holds",
      worst: "holds",
    });
    if (condition.op !== "compare") throw new Error("a comparison is meant");
    for (let draw = 0; draw < 100; draw++) {
      const value = (name: keyof typeof givens): number => {
        const { low, high } = givens[name];
        return low + (high - low) * roll();
      };
      const at = { a: value("a"), b: value("b"), c: value("c"), d: value("d") };
      const x = one.at(at.a, at.b);
      const y = other.at(second === "a" ? at.a : at.c, at.d);
      for (const [place, figure] of figures.entries()) {
        const { name } = variables[claim.variables[place]!]!;
        const own = name === "x" ? x : name === "y" ? y : undefined;
        if (own === undefined) continue;
        const [low, high] = figure.limits()!;
        expect(own, `seed ${seed}`).toBeGreaterThanOrEqual(low);
        expect(own, `seed ${seed}`).toBeLessThanOrEqual(high);
      }
    }
  }
  // Not by chance: of what holds in the worst case most is clear.
  expect(clear).toBeGreaterThan(100);
  expect(clear / held).toBeGreaterThan(0.5);
});

test("a check that hangs on both sides being the same figure is not clear, and no equality is", () => {
  const builder = new SystemBuilder()
    .given({ a: within(2, 1) })
    .equation("x", "x", mul("a", 2))
    .equation("y", "y", mul("a", 2));
  const solution = solve(builder.system());
  const of = (name: string) => seenIn(solution, builder.index(name));
  const same = builder.claim(compare(add("x", 1), ">", "y"));
  expect(atAGlance(same.condition, [of("x"), of("y")])).toBe("unclear");
  expect(verdictOf(solution, same).worst).toBe("holds");
  const equal = builder.claim(compare("x", "==", "y"));
  expect(atAGlance(equal.condition, [of("x"), of("y")])).toBe("unclear");
});

test("what something open leaves open is so at a glance and by a close look, and nothing else is", () => {
  const verdicts = new Map<string, number>();
  for (let seed = 1; seed <= 60; seed++) {
    const { givens, one, other, second } = caseOf(seed);
    const builder = new SystemBuilder()
      .given(givens)
      .equation("x", "x", one.of("a", "b"))
      .equation("y", "y", other.of(second, "e"));
    const solution = solve(builder.system());
    const known = compare("x", ">=", "limit");
    const unknown = compare("y", ">=", "limit");
    for (const condition of [
      known,
      unknown,
      { op: "and", left: known, right: unknown } as const,
      { op: "or", left: known, right: unknown } as const,
      compare(add("x", "y"), "==", "limit"),
    ]) {
      const claim = builder.claim(condition);
      const glance = atAGlance(
        claim.condition,
        claim.variables.map((at) => seenIn(solution, at)),
      );
      const { nominal } = verdictOf(solution, claim);
      expect(glance === "open", `seed ${seed}`).toBe(nominal === "unknown");
      verdicts.set(glance, (verdicts.get(glance) ?? 0) + 1);
    }
  }
  expect([...verdicts.keys()].sort()).toEqual(["holds", "open", "unclear"]);
});
