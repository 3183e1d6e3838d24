/** How equations hang together and what they are in each figure, by hand and by enumeration. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { stronglyConnected } from "../../server/solve/components";
import { evaluate } from "../../server/solve/evaluate";
import { choice, type Expression, type LookupCurve } from "../../server/solve/expression";
import { factsOf, magnitude, residual, residualAndGradient } from "../../server/solve/form";
import { listedFor } from "../../server/solve/listed";
import { Matching } from "../../server/solve/matching";
import { moversOf, toleranceOf } from "../../server/solve/movers";
import { byRankAndName, connectedEquations, isGiven, networkOf } from "../../server/solve/network";
import { RowSums } from "../../server/solve/row-sums";
import { RowOfSlopes } from "../../server/solve/slope-row";
import { compile, tapeOf } from "../../server/solve/tape";
import { add, call, compare, div, exactly, mul, neg, of, pow, SystemBuilder, sub } from "./build";

const slot = (index: number): Expression => ({ op: "slot", index });
const [x, y] = [slot(0), slot(1)];
const curve = (method: LookupCurve["method"], ...keys: number[]): LookupCurve => ({
  name: "t",
  method,
  keys,
  values: keys.map((key) => 10 * key),
});
const lookUp = (table: LookupCurve, key: Expression): Expression => ({
  op: "lookup",
  curve: table,
  of: key,
});

describe("what an equation is in a figure", () => {
  const facts = (left: Expression, right: Expression = of(7)) =>
    factsOf({ left, right, slots: 2 }).slots.map(({ determines, straight, grade }) =>
      determines ? (straight ? "line" : grade === 0 ? "once" : "several") : "flat",
    );

  test.each([
    ["x + 2y = 7", add(x, mul(2, y)), ["line", "line"]],
    ["x − y/3 = 7", sub(x, div(y, 3)), ["line", "line"]],
    ["−x = 7", neg(x), ["line", "flat"]],
    ["xy = 7", mul(x, y), ["line", "line"]],
    ["x/y = 7", div(x, y), ["line", "once"]],
    ["x·x = 7", mul(x, x), ["several", "flat"]],
    ["(x + y)·x = 7", mul(add(x, y), x), ["several", "line"]],
    ["x² = 7", pow(x, 2), ["several", "flat"]],
    ["x³ = 7", pow(x, 3), ["once", "flat"]],
    ["√x + y = 7", add(call("sqrt", x), y), ["once", "line"]],
    ["exp x = 7", call("exp", x), ["once", "flat"]],
    ["|x| = 7", call("abs", x), ["several", "flat"]],
    ["round x + y = 7", add(call("round", x), y), ["flat", "line"]],
    ["floor x = 7", call("floor", x), ["flat", "flat"]],
    ["step(x) + y = 7", add(lookUp(curve("step", 1, 2), x), y), ["flat", "line"]],
    ["line(x) = 7", lookUp(curve("linear", 0, 1, 2), x), ["once", "flat"]],
    ["3·(x + 1) = 7", mul(3, add(x, 1)), ["line", "flat"]],
  ] as const)("%s", (_, left, wanted) => {
    expect(facts(left)).toEqual(wanted);
  });

  test("on either side, and where a condition speaks of it", () => {
    expect(facts(of(7), add(x, y))).toEqual(["line", "line"]);
    const either = choice(compare(x, ">", 0), y, neg(y));
    expect(facts(either)[0]).toBe("flat");
    expect(facts(either)[1]).not.toBe("line");
    expect(facts(add(either, x))[0]).not.toBe("line");
  });

  test("left less right, with its slopes, by differences", () => {
    const form = { left: mul(x, add(y, 2)), right: sub(pow(x, 3), y), slots: 2 };
    const own = factsOf(form);
    const values = Float64Array.of(1.5, -0.5);
    const at = (a: number, b: number): number => a * (b + 2) - (a ** 3 - b);
    expect(residual(own, values, [0, 1])).toBeCloseTo(at(1.5, -0.5), 12);
    expect(magnitude(own)).toBeCloseTo(1.5 * 1.5 + (1.5 ** 3 + 0.5), 12);
    const gradient = new Float64Array(4).fill(9);
    expect(residualAndGradient(own, values, [0, 1], gradient, 1)).toBeCloseTo(at(1.5, -0.5), 12);
    const h = 1e-6;
    expect(gradient[0]).toBe(9);
    expect(gradient[1]).toBeCloseTo((at(1.5 + h, -0.5) - at(1.5 - h, -0.5)) / (2 * h), 6);
    expect(gradient[2]).toBeCloseTo((at(1.5, -0.5 + h) - at(1.5, -0.5 - h)) / (2 * h), 6);
    expect(gradient[3]).toBe(9);
  });
});

describe("tapes", () => {
  test("lay the same operation once, and each number once", () => {
    const sum = add(x, y);
    const tape = compile([mul(sum, add(x, y)), sub(add(x, y), 3), of(3)]);
    // 3, 1 and 0, two figures, one sum, one product, one difference.
    expect(tape.codes.length).toBe(8);
    evaluate(tape, Float64Array.of(2, 5), [0, 1]);
    expect([...tape.results].map((at) => tape.work[at])).toEqual([49, 4, 3]);
    expect(tape.kinked).toBe(false);
  });

  test("say whether something in them has a kink", () => {
    for (const name of ["abs", "min", "max", "round", "floor", "ceil"] as const)
      expect(compile([call(name, x, y)]).kinked, name).toBe(true);
    for (const name of ["sqrt", "exp", "log", "sin", "cos", "tan", "asin", "acos", "atan"] as const)
      expect(compile([call(name, x)]).kinked, name).toBe(false);
    expect(compile([lookUp(curve("linear", 0, 1), x)]).kinked).toBe(true);
    expect(compile([choice(compare(x, ">", 0), x, y)]).kinked).toBe(true);
  });

  test("which numbers a figure can be that tables list", () => {
    const exact = (...keys: number[]) => lookUp(curve("exact", ...keys), x);
    expect(listedFor(tapeOf(exact(1, 2, 3)), 0)).toEqual([1, 2, 3]);
    expect(listedFor(tapeOf(add(exact(1, 2, 3), exact(2, 3, 4))), 0)).toEqual([2, 3]);
    expect(listedFor(tapeOf(add(exact(1, 2), y)), 1)).toBeUndefined();
    expect(listedFor(tapeOf(lookUp(curve("step", 1, 2), x)), 0)).toBeUndefined();
    expect(listedFor(tapeOf(lookUp(curve("exact", 1, 2), add(x, 1))), 0)).toBeUndefined();
  });
});

describe("what hangs together", () => {
  test("through what is not known, by enumeration", () => {
    fc.assert(
      fc.property(
        fc.array(fc.uniqueArray(fc.nat(7), { minLength: 1, maxLength: 3 }), {
          minLength: 1,
          maxLength: 8,
        }),
        fc.uniqueArray(fc.nat(7), { maxLength: 4 }),
        (equations, givens) => {
          const builder = new SystemBuilder();
          for (let v = 0; v < 8; v++)
            builder.variable(`v${v}`, givens.includes(v) ? { given: v } : {});
          equations.forEach((variables, at) => {
            builder.equation(`e${at}`, add(0, ...variables.map((v) => `v${v}`)), 1);
          });
          const network = networkOf(builder.system());
          const touch = (one: number, other: number): boolean =>
            equations[one]!.some((v) => !givens.includes(v) && equations[other]!.includes(v));
          const wanted = new Set([0]);
          for (let grown = 0; grown !== wanted.size; ) {
            grown = wanted.size;
            for (const one of [...wanted])
              equations.forEach((_, other) => {
                if (touch(one, other)) wanted.add(other);
              });
          }
          const found = connectedEquations(network, [0, 0]);
          expect([...found].sort()).toEqual([...wanted].sort());
        },
      ),
    );
  });

  test("a given without a number is none", () => {
    const builder = new SystemBuilder().given({ a: 1, b: exactly(Number.NaN) }).variable("c");
    const { variables } = builder.system();
    expect(variables.map(isGiven)).toEqual([true, false, false]);
    expect([...networkOf(builder.system()).known]).toEqual([1, 0, 0]);
  });

  test("firm equations stand before soft ones, then by name", () => {
    const builder = new SystemBuilder()
      .equation("b", "x", 1, "asked")
      .equation("a", "x", 1, "asked")
      .equation("z", "x", 1, "relation")
      .equation("c", "x", 1, "wanted")
      .equation("d", "x", 1, "default")
      .equation("e", "x", 1, "assumed");
    const { equations } = builder.system();
    const order = [...equations.keys()].sort(byRankAndName(equations));
    expect(order.map((at) => equations[at]!.name).join("")).toBe("zdceab");
  });

  test("components, by who reaches whom", () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.nat(6), { maxLength: 3 }), { minLength: 7, maxLength: 7 }),
        (edges) => {
          const reach = edges.map((_, from) => {
            const seen = new Set<number>();
            const queue = [...edges[from]!];
            for (let at = queue.pop(); at !== undefined; at = queue.pop()) {
              if (seen.has(at)) continue;
              seen.add(at);
              queue.push(...edges[at]!);
            }
            return seen;
          });
          const found = stronglyConnected([...edges.keys()], 7, (node) => edges[node]!);
          expect(found.flat().sort()).toEqual([0, 1, 2, 3, 4, 5, 6]);
          const placeOf = new Map(found.flatMap((nodes, at) => nodes.map((node) => [node, at])));
          for (let one = 0; one < 7; one++) {
            for (let other = 0; other < 7; other++) {
              const together = one === other || (reach[one]!.has(other) && reach[other]!.has(one));
              expect(placeOf.get(one) === placeOf.get(other)).toBe(together);
              // Each after everything it leads to.
              if (reach[one]!.has(other))
                expect(placeOf.get(other)!).toBeLessThanOrEqual(placeOf.get(one)!);
            }
          }
        },
      ),
    );
  });

  test("as many pairs as can be, those tried first kept, by enumeration", () => {
    const most = (edges: readonly (readonly number[])[], used: readonly number[] = []): number => {
      const [first, ...rest] = edges;
      if (first === undefined) return 0;
      const taken = first
        .filter((unknown) => !used.includes(unknown))
        .map((unknown) => 1 + most(rest, [...used, unknown]));
      return Math.max(most(rest, used), ...taken);
    };
    fc.assert(
      fc.property(
        fc.array(fc.uniqueArray(fc.nat(4), { maxLength: 3 }), { minLength: 1, maxLength: 6 }),
        (edges) => {
          const matching = new Matching(edges.length, 5);
          edges.forEach((unknowns, equation) => {
            const paired = matching.admit(equation, unknowns);
            const before = most(edges.slice(0, equation));
            expect(paired).toBe(most(edges.slice(0, equation + 1)) > before);
          });
          edges.forEach((unknowns, equation) => {
            const unknown = matching.unknownOf[equation]!;
            if (unknown < 0) return;
            expect(unknowns).toContain(unknown);
            expect(matching.equationOf[unknown]).toBe(equation);
          });
        },
      ),
    );
  });
});

describe("sums of slopes", () => {
  const inputs = moversOf(
    Array.from({ length: 4 }, (_, i) => ({
      name: `g${i}`,
      scale: 1,
      askedFirst: false,
      given: { value: 0, low: -1, high: 1, rounding: 0 },
    })),
    [0, 1, 2, 3],
    toleranceOf,
  );
  const box = {
    low: Float64Array.of(-1, 0, -1, -1),
    high: Float64Array.of(1, 0, 1, 2),
    middle: Float64Array.of(0, 0, 0, 0),
  };
  const row = (at: number[], low: number[], high: number[], nominal: number[]) =>
    RowOfSlopes.of(
      {
        at: Int32Array.from(at),
        low: Float64Array.from(low),
        high: Float64Array.from(high),
        nominal: Float64Array.from(nominal),
      },
      inputs,
      box,
    );
  const near = (found: ArrayLike<number> | undefined, wanted: number[]): void => {
    expect(Array.from(found ?? [])).toEqual(wanted.map((each) => expect.closeTo(each, 9)));
  };

  test("by hand: rows times slopes, and what they move", () => {
    const sums = new RowSums(inputs);
    sums.add(row([0, 2], [1, 2], [2, 3], [1.5, 2.5]), 1, 1, 1);
    sums.add(row([2, 3], [1, -1], [1, 1], [1, 0]), -2, 3, 2);
    // Input 2: 2..3 and −2..3; input 3: −1..1 times −2..3.
    const taken = sums.take(box);
    near([taken.totals.movedLow, taken.totals.movedHigh], [-2 - 6 - 6, 2 + 6 + 6]);
    expect(Array.from(taken.slopes?.at ?? [])).toEqual([0, 2, 3]);
    near(taken.slopes?.low, [1, 0, -3]);
    near(taken.slopes?.high, [2, 6, 3]);
    near(taken.slopes?.nominal, [1.5, 4.5, 0]);
    // They begin at nothing again.
    expect(sums.take(box).slopes?.at.length).toBe(0);
    sums.add(row([2], [1], [1], [1]), 1, 1, 1);
    near(sums.take(box).slopes?.low, [1]);
  });

  test("a sum without a common input is kept as one, and comes to what it does written out", () => {
    const near9 = (x: number) => expect.closeTo(x, 9);
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            by: fc.integer({ min: -9, max: 9 }).map((n) => n / 4),
            // Off 0 at the nominal: a slope of 0 says of neither corner that it is the worse one.
            low: fc.integer({ min: -20, max: 20 }).map((n) => n / 8 + 1 / 64),
            wide: fc.integer({ min: 0, max: 5 }).map((n) => n / 16),
          }),
          { minLength: 4, maxLength: 4 },
        ),
        (each) => {
          const parts = each.map(({ low, wide }, at) =>
            row([at], [low], [low + wide], [low + wide / 2]),
          );
          const sums = new RowSums(inputs);
          // A sum of sums: both are kept as such.
          for (const at of [3, 1]) sums.add(parts[at]!, each[at]!.by, each[at]!.by, each[at]!.by);
          const pair = sums.take(box);
          expect(pair.kept).toBe(0);
          sums.add(pair, -2, -2, -2);
          for (const at of [0, 2]) sums.add(parts[at]!, each[at]!.by, each[at]!.by, each[at]!.by);
          // 1 lies between 0 and 3, so this one cannot be: it is written out.
          const mixed = sums.take(box);
          const whole = new RowSums(inputs);
          for (const [at, { by }] of each.entries()) whole.add(parts[at]!, by, by, by);
          const linked = whole.take(box);
          expect(linked.kept).toBe(0);
          for (const found of [pair, mixed, linked]) {
            const again = RowOfSlopes.of(found.slopes!, inputs, box).totals;
            const { reachUp, reachDown, bend, span, movedLow, movedHigh } = found.totals;
            expect(found.totals).toMatchObject({
              variance: near9(again.variance),
              shift: near9(again.shift),
              normal: true,
            });
            // What it comes to may be told less sharply, never more so.
            expect(bend).toBeGreaterThanOrEqual(again.bend - 1e-9);
            expect(span).toBeGreaterThanOrEqual(again.span - 1e-9);
            expect(reachUp).toBeLessThanOrEqual(again.reachUp + 1e-9);
            expect(reachDown).toBeLessThanOrEqual(again.reachDown + 1e-9);
            near([movedLow, movedHigh], [again.movedLow, again.movedHigh]);
          }
        },
      ),
      { numRuns: 200 },
    );
  });
});
