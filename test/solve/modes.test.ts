/**
 * Equations that hold under a condition, against every combination tried by hand: which modes stand
 * is worked out by enumeration, apart from the solver.
 */
import { describe, expect, test } from "vitest";
import { verdictOf } from "../../server/solve";
import { draw } from "../../server/solve/draw";
import { executionOf } from "../../server/solve/execution";
import type { Condition } from "../../server/solve/expression";
import { solve, solveOverlay } from "../../server/solve/solve";
import type { System } from "../../server/solve/system";
import { analyzed } from "../model/build";
import {
  add,
  compare,
  determinationNamed,
  exactly,
  mul,
  pow,
  restsOnNames,
  SystemBuilder,
  sub,
  type Term,
  valueNamed,
} from "./build";

interface Row {
  readonly name: string;
  readonly left: Term;
  readonly right: Term;
  readonly when?: Condition;
}

/** A system of rows, those with a condition holding only under it. */
function systemOf(givens: Readonly<Record<string, number>>, rows: readonly Row[]): System {
  const builder = new SystemBuilder().given(givens);
  for (const row of rows) builder.equation(row.name, row.left, row.right, "relation", row.when);
  return builder.system();
}

const upAndDown = (spacer: number): System =>
  systemOf({ spacer, face: 10, offset: 1 }, [
    {
      name: "with",
      left: "center",
      right: sub(add("face", "spacer"), "offset"),
      when: compare("spacer", ">", 0),
    },
    {
      name: "without",
      left: "center",
      right: sub("face", "offset"),
      when: compare("spacer", "<=", 0),
    },
  ]);

describe("conditions over givens", () => {
  test("decide which equation holds", () => {
    expect(valueNamed(solve(upAndDown(0.5)), "center")).toBe(9.5);
    expect(valueNamed(solve(upAndDown(0)), "center")).toBe(9);
  });

  test("leave open what none of them speaks of", () => {
    const solution = solve(
      systemOf({ x: 1 }, [{ name: "r", left: "y", right: 2, when: compare("x", ">", 3) }]),
    );
    expect(solution.determinations.map(({ how }) => how)).toContain("open");
    expect(solution.failures).toEqual([]);
  });
});

describe("conditions and equations that decide each other", () => {
  // y = a where y > 0, y = b where y ≤ 0: which modes stand is plain.
  const rows = (a: number, b: number): readonly Row[] => [
    { name: "above", left: "y", right: mul("k", a), when: compare("y", ">", 0) },
    { name: "below", left: "y", right: mul("k", b), when: compare("y", "<=", 0) },
  ];
  for (const a of [-2, -1, 0, 1, 2]) {
    for (const b of [-2, -1, 0, 1, 2]) {
      const standing = [...(a > 0 ? [a] : []), ...(b <= 0 ? [b] : [])];
      test(`${a} above nothing, ${b} below: ${standing.length} stand`, () => {
        const solution = solve(systemOf({ k: 1 }, rows(a, b)));
        const [failure] = solution.failures;
        if (standing.length === 1) {
          expect(valueNamed(solution, "y")).toBe(standing[0]! + 0);
          expect(failure).toBeUndefined();
        } else {
          expect(failure?.why).toBe(standing.length === 0 ? "no-mode" : "several-modes");
          expect(valueNamed(solution, "y")).toBeNaN();
        }
      });
    }
  }

  test("sixty in a row, each by the one before", () => {
    const chain = Array.from({ length: 60 }, (_, i): Row[] => [
      {
        name: `a${i}`,
        left: `x${i + 1}`,
        right: add(`x${i}`, 1),
        when: compare(`x${i}`, "<", 30),
      },
      { name: `b${i}`, left: `x${i + 1}`, right: `x${i}`, when: compare(`x${i}`, ">=", 30) },
    ]).flat();
    expect(valueNamed(solve(systemOf({ x0: 0 }, chain)), "x60")).toBe(30);
  });
});

describe("a check under a condition", () => {
  const judged = (wall: number, heat: number) => {
    const builder = new SystemBuilder().given({ wall, heat });
    const condition = compare("heat", "<=", 30);
    const when = compare("wall", "<", 0.25);
    return verdictOf(solve(builder.system()), builder.claim(condition, when));
  };

  test("speaks only of where that holds", () => {
    expect(judged(0.2, 20)).toMatchObject({ nominal: "holds" });
    expect(judged(0.2, 40)).toMatchObject({ nominal: "fails" });
    expect(judged(0.3, 40)).toMatchObject({ nominal: "holds", idle: true });
  });
});

describe("as written in a build", () => {
  const kinds = `kind plate { wall: length  heat: length  depth: length }
`;
  const findings = (text: string): readonly string[] =>
    analyzed(kinds + text).findings.map(({ code, message }) => `${code} ${message}`);

  test("a check and a relation under conditions with numbers", () => {
    const build = (wall: string): string => `plate p { wall: ${wall}  heat: 2 in  depth: ? }
check "thin plate" when p.wall < 0.25 in: p.heat <= 1 in
relation "deep" when p.wall < 0.25 in: p.depth = 2 * p.wall
relation "shallow" when p.wall >= 0.25 in: p.depth = p.wall
`;
    const thin = analyzed(kinds + build("0.2 in"));
    expect(thin.valueAt("p.depth")?.si).toBeCloseTo(0.4 * 0.0254, 12);
    expect(thin.findings.map(({ code }) => code)).toEqual(["check/own"]);
    const thick = analyzed(kinds + build("0.3 in"));
    expect(thick.valueAt("p.depth")?.si).toBeCloseTo(0.3 * 0.0254, 12);
    expect(thick.findings).toEqual([]);
  });

  test("a condition that cannot be understood is told", () => {
    expect(
      findings('plate p { wall: 1 in }\ncheck "x" when p.wal < 1 in: p.wall > 0 in\n'),
    ).toEqual([expect.stringMatching(/^name\/unknown-field /)]);
  });

  test("two that stand, and none, are findings", () => {
    const build = (above: string, below: string): string => `plate p { depth: ? }
relation "above" when p.depth > 1 in: p.depth = ${above}
relation "below" when p.depth <= 1 in: p.depth = ${below}
`;
    expect(findings(build("2 in", "1/2 in"))[0]).toContain("solve/several-cases");
    expect(findings(build("1/2 in", "2 in"))[0]).toContain("solve/no-case");
    expect(findings(build("2 in", "3 in"))).toEqual([]);
  });
});

describe("a figure that is open in a case", () => {
  // Along a grid that holds every limit: which values of the figure satisfy what each case says.
  const grid = Array.from({ length: 161 }, (_, i) => (i - 80) / 4);

  test("is what the case leaves of it, found by trying every value", () => {
    let ones = 0;
    let nones = 0;
    let open = 0;
    for (const face of [8, 10]) {
      for (const reach of [7, 8, 10, 12]) {
        for (const [low, high] of [
          [0, 20],
          [-5, 20],
          [0, 3],
        ] as const) {
          for (const strict of [true, false]) {
            const system = new SystemBuilder()
              .given({ face, reach })
              .variable("spacer", { range: [low, high] })
              .equation(
                "with",
                "reach",
                add("face", "spacer"),
                "relation",
                compare("spacer", strict ? ">" : ">=", 0),
              )
              .equation(
                "without",
                "reach",
                "face",
                "relation",
                compare("spacer", strict ? "<=" : "<", 0),
              )
              .system();
            const fitting = grid.filter((spacer) => {
              if (spacer < low || spacer > high) return false;
              const isWith = strict ? spacer > 0 : spacer >= 0;
              return reach === (isWith ? face + spacer : face);
            });
            const solution = solve(system);
            const value = valueNamed(solution, "spacer");
            if (fitting.length === 1) {
              ones++;
              expect(value).toBe(fitting[0]);
              // It follows from the case that it is in.
              const isWith = strict ? value > 0 : value >= 0;
              expect(determinationNamed(solution, "spacer").how).toBe("solved");
              expect(restsOnNames(solution, "spacer")).toEqual([]);
              const own = determinationNamed(solution, "spacer");
              const block = own.how === "solved" ? own.block : [];
              expect(block.map((each) => system.equations[each]!.name)).toEqual([
                isWith ? "with" : "without",
              ]);
            } else {
              expect(value).toBeNaN();
              const told = solution.failures.some(({ why }) => why === "no-mode");
              expect(told, `${face} ${reach} ${low} ${high} ${strict}`).toBe(fitting.length === 0);
              if (fitting.length === 0) nones++;
              else open++;
            }
          }
        }
      }
    }
    expect([ones, nones, open].every((count) => count > 3)).toBe(true);
  });
});

test("what is fixed while others stay open is so beside a condition too, and what is laid over it", () => {
  const builder = new SystemBuilder()
    .given({ g: 4 })
    .equation("sum", add("x", "y", "z"), 6)
    .equation("difference", sub(add("x", "y"), "z"), 0)
    .equation("stout", "w", mul(2, "z"), "relation", compare("g", ">", 3))
    .equation("thin", "w", "z", "relation", compare("g", "<=", 3))
    .equation("wanted", "w", 5, "wanted")
    .equation("also", "z", 1, "wanted");
  const solution = draw(builder.system());
  expect(valueNamed(solution, "z")).toBeCloseTo(3, 12);
  expect(valueNamed(solution, "w")).toBeCloseTo(6, 12);
  // What it was worked out with stands in the system that is told.
  for (const { equations } of executionOf(solution).steps)
    for (const each of equations) expect(solution.system.equations[each]).toBeDefined();
  const thin = solveOverlay(solution, { givens: new Map([[builder.index("g"), exactly(2)]]) });
  expect(valueNamed(thin, "w")).toBeCloseTo(3, 12);
});

describe("steps that each come in once a sum reaches them", () => {
  // y = c + how many of the steps are in; a step is in where y is at least its threshold.
  const cascade = (thresholds: readonly number[], c: number) => {
    const builder = new SystemBuilder().given({ c });
    let sum: Term = "c";
    thresholds.forEach((threshold, i) => {
      builder
        .equation(`step ${i}`, `s${i}`, 1, "relation", compare("y", ">=", threshold))
        .equation(`usual ${i}`, `s${i}`, 0, "default");
      sum = add(sum, `s${i}`);
    });
    return builder.equation("sum", "y", sum).system();
  };
  /** Values of y that bear out their own steps, by trying every number of steps. */
  const standing = (thresholds: readonly number[], c: number): number[] =>
    Array.from({ length: thresholds.length + 1 }, (_, n) => c + n).filter(
      (y) => thresholds.filter((threshold) => y >= threshold).length === y - c,
    );
  const upTo = (most: number): number[] => Array.from({ length: most }, (_, i) => i + 0.5);

  test.each<[name: string, thresholds: readonly number[], c: number]>([
    ["one, in", [0.5], 1],
    ["one, out", [1.5], 1],
    ["one, either", [0.5], 0],
    ["three, one after the other", upTo(3), 1],
    ["three, any number of them", upTo(3), 0],
    ["three, all or none", [2.5, 2.5, 2.5], 0],
    ["four, two of them", [0.5, 1.5, 4.5, 6.5], 1],
    ["four from below nothing", [-3.5, -2.5, -1.5, -0.5], -3],
    ["seven, any number of them", upTo(7), 0],
  ])("%s", (_, thresholds, c) => {
    const wanted = standing(thresholds, c);
    const solution = solve(cascade(thresholds, c));
    if (wanted.length === 1) {
      expect(valueNamed(solution, "y")).toBe(wanted[0]);
      expect(solution.failures).toEqual([]);
      thresholds.forEach((threshold, i) => {
        expect(valueNamed(solution, `s${i}`)).toBe(wanted[0]! >= threshold ? 1 : 0);
      });
    } else {
      expect(wanted.length).toBeGreaterThan(1);
      expect(solution.failures.map(({ why }) => why)).toEqual(["several-modes"]);
      expect(valueNamed(solution, "y")).toBeNaN();
      expect(valueNamed(solution, "c")).toBe(c);
    }
    expect(solution.conflicts).toEqual([]);
  });

  test("more than are tried in all combinations, each by the one before", () => {
    for (const thresholds of [upTo(9), [...upTo(8), 20], [...upTo(4), 20, 21, 22, 23]]) {
      const wanted = standing(thresholds, 1);
      const solution = solve(cascade(thresholds, 1));
      expect(wanted).toHaveLength(1);
      expect(valueNamed(solution, "y")).toBe(wanted[0]);
      expect([solution.failures, solution.conflicts]).toEqual([[], []]);
    }
  });
});

describe("a mode in which its own figures have no answer", () => {
  test("does not stand, whatever its condition", () => {
    // Above 0, y² = −1 has none; at 0 or below y is −2.
    for (const [name, square] of [
      ["none", -1],
      ["one", 9],
    ] as const) {
      const builder = new SystemBuilder()
        .variable("y", { range: [-10, 10] })
        .variable("z", { range: [0, 10] })
        .given({ k: square })
        .equation("above", pow("z", 2), "k", "relation", compare("y", ">", 0))
        .equation("above too", "y", 3, "relation", compare("y", ">", 0))
        .equation("below", "y", -2, "relation", compare("y", "<=", 0));
      const solution = solve(builder.system());
      if (name === "none") {
        expect(valueNamed(solution, "y")).toBe(-2);
        expect(solution.failures).toEqual([]);
      } else {
        expect(valueNamed(solution, "y")).toBeNaN();
        expect(solution.failures.map(({ why }) => why)).toEqual(["several-modes"]);
      }
    }
  });
});
