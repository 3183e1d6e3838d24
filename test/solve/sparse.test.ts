/** A sparse factorisation against full ones of an algebra library, and large blocks against their answers. */
import { lusolve } from "mathjs";
import { describe, expect, test } from "vitest";
import { solve } from "../../server/solve/solve";
import { factorSparse } from "../../server/solve/sparse-lu";
import { spreadOf } from "../../server/solve/spread";
import { add, exactly, mul, SystemBuilder, sub, valueNamed, within } from "./build";
import { randoms } from "./random-systems";

describe("factors", () => {
  test("agree with an algebra library, transposed too", () => {
    const random = randoms(5);
    for (let round = 0; round < 12; round++) {
      const size = 5 + round * 4;
      const full = Array.from({ length: size }, () => new Array<number>(size).fill(0));
      for (let i = 0; i < size; i++) {
        for (let k = 0; k < 4; k++) full[i]![Math.floor(random() * size)] = random() * 2 - 1;
        full[i]![(i * 7 + 3) % size] = 1.5;
      }
      const rows = full.map((row) => {
        const columns = [...row.keys()].filter((j) => row[j] !== 0);
        return { columns, entries: columns.map((j) => row[j]!) };
      });
      const right = Array.from({ length: size }, () => random());
      const solver = factorSparse(rows);
      if (!(solver.smallestPivot > 1e-6)) continue;
      const plain = (matrix: number[][]): number[] =>
        (lusolve(matrix, right) as number[][]).map(([x]) => x!);
      const turned = full.map((_, j) => full.map((row) => row[j]!));
      plain(full).forEach((x, i) => {
        expect(solver.solve(right)[i]).toBeCloseTo(x, 8);
      });
      plain(turned).forEach((x, i) => {
        expect(solver.solveTransposed(right)[i]).toBeCloseTo(x, 8);
      });
    }
  });

  test("a matrix without an inverse has none", () => {
    const row = { columns: [0, 1], entries: [1, 2] };
    expect(factorSparse([row, row]).smallestPivot).toBeLessThan(1e-12);
  });
});

describe("large blocks", () => {
  test("a ladder of four thousand rungs", () => {
    // Each rung is the mean of its neighbors, the ends given: a straight line.
    const builder = new SystemBuilder().given({ r0: 0, r4001: 4001 });
    for (let i = 1; i <= 4000; i++) {
      builder.equation(`e${i}`, mul(2, `r${i}`), add(`r${i - 1}`, `r${i + 1}`));
    }
    const before = performance.now();
    const solution = solve(builder.system());
    expect(performance.now() - before).toBeLessThan(4000);
    for (const i of [1, 1999, 4000]) expect(valueNamed(solution, `r${i}`)).toBeCloseTo(i, 6);
  });

  test("a grid of thirty by thirty, bent a little", () => {
    const side = 30;
    const name = (i: number, j: number): string => `g${i}.${j}`;
    const builder = new SystemBuilder();
    for (let i = 0; i <= side + 1; i++) {
      for (let j = 0; j <= side + 1; j++) {
        const inside = i > 0 && j > 0 && i <= side && j <= side;
        if (!inside) builder.given({ [name(i, j)]: 1 });
        else {
          builder.equation(
            `e${i}.${j}`,
            add(mul(4, name(i, j)), mul(0.01, name(i, j), name(i, j), name(i, j))),
            sub(add(name(i - 1, j), name(i + 1, j), name(i, j - 1), name(i, j + 1)), -0.01),
          );
        }
      }
    }
    // 1 everywhere: 4 + 0.01 = 4 + 0.01.
    const solution = solve(builder.system());
    expect(valueNamed(solution, name(15, 15))).toBeCloseTo(1, 9);
  });

  test.each(["straight", "bent"])(
    "a row of 120 springs, %s: bounds are proved, and no draw leaves them",
    (kind) => {
      const count = 120;
      const builder = new SystemBuilder().given({ r0: within(0, 0.02), r121: within(121, 0.02) });
      for (let i = 1; i <= count; i++) {
        builder.given({ [`s${i}`]: within(0.002 * (i % 4), 0.001) });
        const own = kind === "bent" ? mul(2e-4, `r${i}`, `r${i}`) : mul(2e-4, `r${i}`);
        builder.equation(
          `e${i}`,
          add(mul(2, `r${i}`), own),
          add(`r${i - 1}`, `r${i + 1}`, `s${i}`),
        );
      }
      const system = builder.system();
      const solution = solve(system);
      const looked = [1, 60, 120].map((i) => builder.index(`r${i}`));
      const spreads = looked.map(
        (variable) =>
          spreadOf(solution, { expression: { op: "slot", index: 0 }, variables: [variable] })!,
      );
      for (const { above, below, worstAbove } of spreads) {
        expect([above.known, below.known]).toEqual(["proved", "proved"]);
        // What was found comes near to what is proved.
        expect(above.found).toBeGreaterThan(0.8 * worstAbove);
      }
      const random = randoms(7);
      const givens = system.variables.flatMap(({ given }, at) => (given === undefined ? [] : [at]));
      for (let draw = 0; draw < 50; draw++) {
        const corner = draw % 2 === 0;
        const again = solve({
          ...system,
          variables: system.variables.map((variable, at) => {
            if (!givens.includes(at)) return variable;
            const { low, high } = variable.given!;
            const share = corner ? Math.round(random()) : random();
            return { ...variable, given: exactly(low + share * (high - low)) };
          }),
        });
        for (const [k, variable] of looked.entries()) {
          const off = again.values[variable]! - solution.values[variable]!;
          expect(off).toBeLessThanOrEqual(spreads[k]!.worstAbove + 1e-9);
          expect(-off).toBeLessThanOrEqual(spreads[k]!.worstBelow + 1e-9);
        }
      }
    },
  );
});
