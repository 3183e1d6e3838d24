/** What must be so for every system. */
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Solution, System } from "../../server/solve";
import { quantityValue, sensitivities, solve, solveOverlay, spreadOf } from "../../server/solve";
import { solveLike } from "../../server/solve/solve";
import { add, call, exactly, mul, SystemBuilder, shuffled, sub, within } from "./build";
import { chain, chainArbitrary, linear, linearArbitrary, randoms } from "./random-systems";

const unknowns = (system: System): number[] =>
  system.variables.flatMap((variable, at) => (variable.given === undefined ? [at] : []));

test("a chain of relations is solved to the end, and nothing is left over", () => {
  fc.assert(
    fc.property(chainArbitrary, (parts) => {
      const solution = solve(chain(parts).system());
      expect(solution.conflicts).toEqual([]);
      expect(solution.redundant).toEqual([]);
      for (const determination of solution.determinations)
        expect(determination.how).not.toBe("open");
    }),
    { numRuns: 200 },
  );
});

test("swap a given with a value solved from it, and get the given back", () => {
  let swaps = 0;
  fc.assert(
    fc.property(chainArbitrary, fc.nat(1000), fc.nat(1000), (parts, which, what) => {
      const builder = chain(parts);
      const system = builder.system();
      const first = solve(system);
      fc.pre(first.failures.length === 0);
      const given = builder.index(`g${which % parts.givens.length}`);
      const value = first.system.variables[given]!.given!.value;
      const targets = unknowns(system).filter((v) => {
        const by = sensitivities(first, { expression: { op: "slot", index: 0 }, variables: [v] });
        const share = (Math.abs(by.get(given) ?? 0) * value) / Math.abs(first.values[v]!);
        return share > 1e-2;
      });
      fc.pre(targets.length > 0);
      const solved = targets[what % targets.length]!;
      // The search stays near the known answer, so that only one root is meant.
      const near = (v: number): readonly [number, number] => {
        const at = first.values[v]!;
        return at > 0 ? [at / 1.02, at * 1.02] : [at * 1.02, at / 1.02];
      };
      const bounded: System = {
        variables: system.variables.map((variable, v) => ({ ...variable, range: near(v) })),
        equations: system.equations,
      };
      const swapped = solveOverlay(solve(bounded), {
        givens: new Map([
          [given, undefined],
          [solved, exactly(first.values[solved]!)],
        ]),
      });
      const back = swapped.values[given]!;
      if (swapped.failures.some((failure) => failure.why === "several-roots")) return;
      swaps++;
      expect(swapped.failures).toEqual([]);
      expect(Math.abs(back - value)).toBeLessThanOrEqual(1e-9 * Math.abs(value) * 10);
    }),
    { numRuns: 300 },
  );
  expect(swaps).toBeGreaterThan(100);
});

test("random linear systems: what is determined is right, and what is too much agrees", () => {
  fc.assert(
    fc.property(linearArbitrary, (parts) => {
      const solution = solve(linear(parts).system());
      expect(solution.conflicts).toEqual([]);
      expect(solution.failures).toEqual([]);
      for (let j = 0; j < parts.size; j++) {
        const value = solution.values[j]!;
        if (!Number.isNaN(value)) expect(value).toBeCloseTo(parts.answer[j]!, 7);
      }
    }),
    { numRuns: 300 },
  );
});

function sameAnswer(one: Solution, other: Solution, variableOrder: readonly number[]): void {
  expect([...other.values]).toEqual(variableOrder.map((old) => one.values[old]!));
  expect(other.determinations.map((d) => d.how)).toEqual(
    variableOrder.map((old) => one.determinations[old]!.how),
  );
  const names = (solution: Solution, list: readonly number[]): string[] =>
    list.map((e) => solution.system.equations[e]!.name);
  expect(names(other, other.redundant)).toEqual(names(one, one.redundant));
  expect(other.conflicts.map((c) => names(other, c.equations))).toEqual(
    one.conflicts.map((c) => names(one, c.equations)),
  );
  expect(other.failures.map((f) => names(other, f.equations))).toEqual(
    one.failures.map((f) => names(one, f.equations)),
  );
}

test("putting variables and equations in another order changes nothing, not even a digit", () => {
  const builders = fc.oneof(
    chainArbitrary.map((parts) => chain(parts)),
    linearArbitrary.map((parts) => linear(parts)),
  );
  fc.assert(
    fc.property(builders, fc.infiniteStream(fc.nat(1 << 20)), (builder, numbers) => {
      const system = builder.system();
      const order = (count: number): number[] => {
        const keys = Array.from({ length: count }, () => numbers.next().value as number);
        return [...keys.keys()].sort((a, b) => keys[a]! - keys[b]!);
      };
      const variableOrder = order(system.variables.length);
      const other = shuffled(system, variableOrder, order(system.equations.length));
      sameAnswer(solve(system), solve(other), variableOrder);
    }),
    { numRuns: 200 },
  );
});

test("a reused plan and an overlay give what solving afresh gives", () => {
  fc.assert(
    fc.property(
      chainArbitrary,
      fc.nat(10),
      fc.double({ min: 1, max: 5, noNaN: true }),
      (parts, which, value) => {
        const builder = chain(parts);
        const first = solve(builder.system());
        const changes = new Map([
          [builder.index(`g${which % parts.givens.length}`), exactly(value)],
        ]);
        const overlay = solveOverlay(first, { givens: changes });
        const reused = solveLike(overlay.system, first.plan);
        const fresh = solve(overlay.system);
        expect([...overlay.values]).toEqual([...fresh.values]);
        expect([...reused.values]).toEqual([...fresh.values]);
        expect(overlay.determinations.map((d) => d.how)).toEqual(
          fresh.determinations.map((d) => d.how),
        );
        expect(overlay.failures).toEqual(fresh.failures);
      },
    ),
    { numRuns: 150 },
  );
});

test("sensitivities agree with central differences", () => {
  let compared = 0;
  fc.assert(
    fc.property(chainArbitrary, (parts) => {
      const builder = chain(parts);
      const solution = solve(builder.system());
      fc.pre(solution.failures.length === 0);
      const last = builder.quantity(`v${parts.links.length - 1}`);
      const found = sensitivities(solution, last);
      parts.givens.forEach((value, at) => {
        const variable = builder.index(`g${at}`);
        const step = 1e-5 * value;
        const moved = (by: number): number =>
          quantityValue(
            solveOverlay(solution, { givens: new Map([[variable, exactly(value + by)]]) }),
            last,
          )!;
        const slope = (by: number): number => (moved(by) - moved(-by)) / (2 * by);
        const difference = slope(step);
        // Beside a pole differences tell nothing: then halving the step changes them.
        if (Math.abs(difference - slope(step / 2)) > 1e-6 * Math.abs(difference)) return;
        compared++;
        const own = found.get(variable) ?? 0;
        const size = 1 + Math.abs(difference) + Math.abs(quantityValue(solution, last)! / value);
        expect(Math.abs(own - difference)).toBeLessThan(1e-5 * size);
      });
    }),
    { numRuns: 100 },
  );
  expect(compared).toBeGreaterThan(100);
});

test("worst case and root sum square against 100,000 random draws", () => {
  const builder = new SystemBuilder()
    .given({
      a: within(40, 0.1),
      b: within(25, 0.05),
      c: within(2, 0.03),
      angle: within(0.3, 0.002),
    })
    .equation("stack", "gap", sub("a", "b", "c"))
    .equation("slope", "rise", mul("gap", call("sin", "angle")))
    .equation("total", "total", add("rise", mul(0.1, "a")));
  const solution = solve(builder.system());
  const spread = spreadOf(solution, builder.quantity("total"))!;
  const random = randoms(7);
  const draw = (): number => 2 * random() - 1;
  const nominal = 13 * Math.sin(0.3) + 4;
  let sum = 0;
  let squares = 0;
  let lowest = 0;
  let highest = 0;
  const draws = 100_000;
  for (let i = 0; i < draws; i++) {
    const a = 40 + 0.1 * draw();
    const total =
      (a - (25 + 0.05 * draw()) - (2 + 0.03 * draw())) * Math.sin(0.3 + 0.002 * draw()) + 0.1 * a;
    const off = total - nominal;
    sum += off;
    squares += off * off;
    lowest = Math.min(lowest, off);
    highest = Math.max(highest, off);
  }
  // An even draw within ± t has the standard deviation t / √3, and so has the root sum square.
  const deviation = Math.sqrt(squares / draws - (sum / draws) ** 2);
  expect(Math.abs(deviation * Math.sqrt(3) - spread.rss)).toBeLessThan(0.01 * spread.rss);
  expect(highest).toBeLessThanOrEqual(spread.worstAbove * 1.001);
  expect(-lowest).toBeLessThanOrEqual(spread.worstBelow * 1.001);
  expect(highest).toBeGreaterThan(0.8 * spread.worstAbove);
  expect(-lowest).toBeGreaterThan(0.8 * spread.worstBelow);
});
