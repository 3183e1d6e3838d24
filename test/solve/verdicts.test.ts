/**
 * What is said of one comparison: of a sum whose parts are known to ± 0.3 and ± 0.4, which may be off
 * by 0.7 at worst and by 0.5 likely (root sum of squares), on both sides of each of its limits.
 */
import { describe, expect, test } from "vitest";
import type { Condition } from "../../server/solve/expression";
import { solve } from "../../server/solve/solve";
import { chanceOf, failsBelow, marginOf, verdictOf } from "../../server/solve/verdict";
import { add, compare, SystemBuilder, sub, within } from "./build";

type Relation = Parameters<typeof compare>[1];
type Level = "holds" | "fails" | "unknown";

function built() {
  const builder = new SystemBuilder()
    .given({ x: within(2, 0.3), y: within(1, 0.4), zero: 0, one: 1, w: within(5, 1) })
    .variable("u")
    .equation("sum", "s", add("x", "y"))
    .equation("open", "v", add("u", 1));
  return { builder, solution: solve(builder.system()) };
}

/** Of s beside a limit that leaves so much. */
function levels(condition: Condition, when?: Condition): readonly Level[] {
  const { builder, solution } = built();
  const { nominal, rss, worst } = verdictOf(solution, builder.claim(condition, when));
  return [nominal, rss, worst];
}

const [H, F, U] = ["holds", "fails", "unknown"] as const;
const tiny = 1e-6;

describe("one comparison", () => {
  // s is 3; what is left is 3 less the limit, or the limit less 3.
  const cases: [left: number, levels: readonly Level[]][] = [
    [0.7 + tiny, [H, H, H]],
    [0.7 - tiny, [H, H, F]],
    [0.5 + tiny, [H, H, F]],
    [0.5 - tiny, [H, F, F]],
    [tiny, [H, F, F]],
    [-tiny, [F, F, F]],
    [-2, [F, F, F]],
  ];

  test.each(cases)("with %d left", (left, wanted) => {
    for (const relation of [">=", ">"] as const) {
      expect(levels(compare("s", relation, 3 - left)), relation).toEqual(wanted);
      expect(levels(compare(3 - left, relation === ">" ? "<" : "<=", "s"))).toEqual(wanted);
      const opposite = { ">=": "<", ">": "<=" } as const;
      expect(levels({ op: "not", of: compare("s", opposite[relation], 3 - left) })).toEqual(wanted);
    }
    for (const relation of ["<=", "<"] as const)
      expect(levels(compare("s", relation, 3 + left)), relation).toEqual(wanted);
  });

  test("with as much left as it may be off: it still holds, unless more is asked for", () => {
    expect(levels(compare("s", ">=", 2.3))).toEqual([H, H, H]);
    expect(levels(compare("s", ">", 2.3))).toEqual([H, H, F]);
    expect(levels(compare("s", ">=", 3))).toEqual([H, F, F]);
    expect(levels(compare("s", ">", 3))).toEqual([F, F, F]);
    expect(levels(compare("s", "<=", 3.7))).toEqual([H, H, H]);
    expect(levels(compare("s", "<", 3.7))).toEqual([H, H, F]);
  });

  // That two figures that may be off are the very same is never likely; at worst they are.
  test.each<[apart: number, equal: readonly Level[], unequal: readonly [Level, Level, boolean]]>([
    [0, [H, H, H], [F, F, false]],
    [tiny, [F, H, H], [H, H, false]],
    [0.5 - tiny, [F, H, H], [H, H, false]],
    [0.5 + tiny, [F, F, H], [H, H, false]],
    [0.7 - tiny, [F, F, H], [H, H, false]],
    [0.7 + tiny, [F, F, F], [H, H, true]],
  ])("%d apart: as large as, other than", (apart, equal, [nominal, rss, surely]) => {
    for (const limit of [3 - apart, 3 + apart]) {
      expect(levels(compare("s", "==", limit)), `== ${limit}`).toEqual(equal);
      for (const other of [
        compare("s", "!=", limit),
        { op: "not", of: compare("s", "==", limit) } as const,
      ]) {
        const [plain, likely, worst] = levels(other);
        expect([plain, likely, worst === "holds"], `!= ${limit}`).toEqual([nominal, rss, surely]);
      }
    }
  });

  test("tells what is left, by how much that moves, and what is open", () => {
    const { builder, solution } = built();
    const said = verdictOf(solution, builder.claim(compare("s", ">=", 2.9)));
    expect(said.margin).toBeCloseTo(0.1, 12);
    expect(said.spread?.worstBelow).toBeCloseTo(0.7, 9);
    expect(said.spread?.rss).toBeCloseTo(0.5, 12);
    expect(said.open).toEqual([]);
    // The worst place: both at their least.
    expect([...(said.witness ?? [])].length).toBeGreaterThan(0);
    const equal = verdictOf(solution, builder.claim(compare("s", "==", 2.9)));
    expect(equal.margin).toBeCloseTo(-0.1, 9);
    expect(equal.spread?.worstAbove).toBeCloseTo(0.7, 9);
    const exact = verdictOf(solution, builder.claim(compare("one", ">=", 0.5)));
    expect([exact.nominal, exact.rss, exact.worst, exact.margin]).toEqual([H, H, H, 0.5]);
    const open = verdictOf(solution, builder.claim(compare(add("u", "v", "u"), ">=", "s")));
    expect([open.nominal, open.rss, open.worst]).toEqual([U, U, U]);
    expect(open.open.map((at) => solution.system.variables[at]!.name).sort()).toEqual(["u", "v"]);
    expect(open.margin).toBeUndefined();
  });

  test("that compares nothing is so or not, whatever is open", () => {
    expect(levels({ op: "always", value: true })).toEqual([H, H, H]);
    expect(levels({ op: "not", of: { op: "always", value: true } })).toEqual([F, F, F]);
  });

  test("of which one side settles it holds, though the other is open", () => {
    const either: Condition = {
      op: "or",
      left: compare("s", ">=", 1),
      right: compare("u", ">=", 1),
    };
    expect(levels(either)).toEqual([H, U, U]);
    const both: Condition = {
      op: "and",
      left: compare("s", ">=", 9),
      right: compare("u", ">=", 1),
    };
    expect(levels(both)).toEqual([F, F, F]);
  });
});

describe("several comparisons in one", () => {
  const wide = compare("w", ">=", 1);
  const always = (value: boolean): Condition => ({ op: "always", value });

  test("ask for more than the edge where one of them does", () => {
    for (const op of ["and", "or"] as const) {
      const far = op === "and" ? wide : compare("w", ">=", 20);
      for (const [edge, level] of [
        [compare("s", ">=", 2.3), H],
        [compare("s", ">", 2.3), F],
      ] as const) {
        expect(levels({ op, left: edge, right: far }), op).toEqual([H, H, level]);
        expect(levels({ op, left: far, right: edge }), op).toEqual([H, H, level]);
      }
    }
  });

  test("leave as much as the one that can be less or more, whatever is always so", () => {
    const { builder, solution } = built();
    const left = (condition: Condition) => verdictOf(solution, builder.claim(condition)).margin;
    const near = compare("s", ">=", 2.9);
    for (const [condition, margin] of [
      [{ op: "and", left: near, right: wide }, 0.1],
      [{ op: "or", left: near, right: wide }, 4],
      [{ op: "and", left: near, right: always(true) }, 0.1],
      [{ op: "and", left: always(true), right: near }, 0.1],
      [{ op: "or", left: always(false), right: near }, 0.1],
      [{ op: "not", of: { op: "or", left: always(false), right: near } }, -0.1],
      [{ op: "not", of: { op: "or", left: near, right: wide } }, -4],
    ] as const)
      expect(left(condition), JSON.stringify(condition)).toBeCloseTo(margin, 12);
    expect(left({ op: "and", left: always(true), right: always(true) })).toBeUndefined();
  });

  test("fail below nothing left, or at it where more is asked for", () => {
    const { builder, solution } = built();
    const fails = (relation: Relation, margins: readonly number[]) => {
      const claim = builder.claim(compare("s", relation, 2));
      return margins.map(failsBelow(solution, claim, marginOf(claim)!));
    };
    const margins = [-0.1, 0, 0.1, Number.NaN];
    expect(fails(">=", margins)).toEqual([true, false, false, true]);
    expect(fails(">", margins)).toEqual([true, true, false, true]);
  });
});

describe("a comparison that speaks only under a condition", () => {
  const [right, near, wrong] = [2, 2.9, 9].map((limit) => compare("s", ">=", limit)) as [
    Condition,
    Condition,
    Condition,
  ];
  const surely = compare("w", ">=", 3);
  const maybe = compare("w", ">=", 4.5);
  const maybeNot = compare("w", ">=", 5.5);
  const never = compare("w", ">=", 9);
  const open = compare("u", ">=", 1);

  test.each<[name: string, condition: Condition, when: Condition, wanted: readonly Level[]]>([
    ["that surely holds", right, surely, [H, H, H]],
    ["that surely holds, and it may fail", near, surely, [H, F, F]],
    ["that surely holds, and it fails", wrong, surely, [F, F, F]],
    ["that holds, and it does", right, maybe, [H, H, H]],
    ["that holds, and it may fail", near, maybe, [H, F, F]],
    ["that holds, and it fails", wrong, maybe, [F, F, F]],
    ["that may come about, and it does", right, maybeNot, [H, H, H]],
    ["that may come about, and it fails", wrong, maybeNot, [H, F, F]],
    ["that never holds, and it fails", wrong, never, [H, H, H]],
    ["that is open", right, open, [U, U, U]],
    // Wherever s is 3 it is 2.9.
    ["without which it might fail", near, compare("s", ">=", 3), [H, H, H]],
    ["that surely holds, of two that may be alike", compare("s", "==", 3.6), surely, [F, F, H]],
  ])("%s", (_, condition, when, wanted) => {
    expect(levels(condition, when)).toEqual(wanted);
  });

  test("is passed over where that does not hold, and says so", () => {
    const { builder, solution } = built();
    const of = (condition: Condition, when: Condition) =>
      verdictOf(solution, builder.claim(condition, when));
    expect(of(wrong, never).idle).toBe(true);
    expect(of(wrong, maybeNot).idle).toBe(true);
    expect(of(wrong, maybeNot).witness).toBeDefined();
    expect(of(wrong, never).witness).toBeUndefined();
    expect(of(right, maybe).idle).toBeUndefined();
    expect(of(right, surely).idle).toBeUndefined();
    expect(of(near, maybe).margin).toBeCloseTo(0.1, 12);
    const names = of(compare("v", ">=", 1), open).open.map(
      (at) => solution.system.variables[at]!.name,
    );
    expect(names.sort()).toEqual(["u", "v"]);
  });
});

describe("how likely", () => {
  const chance = (condition: Condition) => {
    const { builder, solution } = built();
    return chanceOf(solution, builder.claim(condition));
  };

  test("is told of what compares figures that may be off, and of nothing else", () => {
    for (const relation of [">=", ">"] satisfies Relation[]) {
      // At the middle it is one in two.
      expect(chance(compare("s", relation, 3))?.share, relation).toBeCloseTo(0.5, 1);
      expect(chance(compare("s", relation, 2))?.share, relation).toBeCloseTo(1, 3);
    }
    expect(chance(compare("s", "==", 3))).toBeUndefined();
    expect(chance(compare("one", ">=", 0.5))).toBeUndefined();
    expect(chance(compare(sub("u", "s"), ">=", 1))).toBeUndefined();
    expect(chance({ op: "always", value: true })).toBeUndefined();
  });
});
