/**
 * The sets named by contradictions in random linear systems, against exact elimination over fractions:
 * with a set and all relations there is no solution, with any one of the set left out there is.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { repairsFor } from "../../server/solve/repair";
import { solve } from "../../server/solve/solve";
import type { System } from "../../server/solve/system";
import { withGivens } from "../../server/solve/with-givens";
import { add, exactly, mul, SystemBuilder } from "./build";

/** A fraction as numerator and denominator. */
type Fraction = readonly [bigint, bigint];

const reduced = (top: bigint, bottom: bigint): Fraction => {
  let [a, b] = [top < 0n ? -top : top, bottom < 0n ? -bottom : bottom];
  while (b !== 0n) [a, b] = [b, a % b];
  const by = (a === 0n ? 1n : a) * (bottom < 0n ? -1n : 1n);
  return [top / by, bottom / by];
};
const minus = ([a, b]: Fraction, [c, d]: Fraction): Fraction => reduced(a * d - c * b, b * d);
const times = ([a, b]: Fraction, [c, d]: Fraction): Fraction => reduced(a * c, b * d);
const over = ([a, b]: Fraction, [c, d]: Fraction): Fraction => reduced(a * d, b * c);

/** Whether rows of factors and a right side have a solution (Gauss and Jordan). */
function isConsistent(rows: readonly (readonly number[])[], width: number): boolean {
  const left = rows.map((row) => row.map((each): Fraction => [BigInt(each), 1n]));
  let done = 0;
  for (let column = 0; column < width; column++) {
    const at = left.findIndex((row, place) => place >= done && row[column]![0] !== 0n);
    if (at < 0) continue;
    [left[done], left[at]] = [left[at]!, left[done]!];
    const pivot = left[done]!;
    for (const [place, row] of left.entries()) {
      if (place === done || row[column]![0] === 0n) continue;
      const share = over(row[column]!, pivot[column]!);
      left[place] = row.map((each, k) => minus(each, times(share, pivot[k]!)));
    }
    done++;
  }
  return left.slice(done).every((row) => row[width]![0] === 0n);
}

interface Case {
  readonly count: number;
  /** `factors · x = 0`, each over two or three figures. */
  readonly relations: readonly (readonly (readonly [number, number])[])[];
  readonly givens: readonly (readonly [number, number])[];
}

const cases: fc.Arbitrary<Case> = fc.integer({ min: 4, max: 8 }).chain((count) =>
  fc.record({
    count: fc.constant(count),
    relations: fc.array(
      fc.uniqueArray(
        fc.tuple(fc.integer({ min: 0, max: count - 1 }), fc.constantFrom(-2, -1, 1, 2, 3)),
        { minLength: 2, maxLength: 3, selector: ([variable]) => variable },
      ),
      { minLength: 2, maxLength: 7 },
    ),
    givens: fc.uniqueArray(
      fc.tuple(fc.integer({ min: 0, max: count - 1 }), fc.integer({ min: 1, max: 9 })),
      { minLength: 2, maxLength: count, selector: ([variable]) => variable },
    ),
  }),
);

const nameOf = (variable: number): string => `x${variable}`;

function systemOf({ relations, givens }: Case): System {
  const builder = new SystemBuilder();
  for (const [variable, value] of givens) builder.given({ [nameOf(variable)]: exactly(value) });
  for (const [at, relation] of relations.entries()) {
    const [first, ...rest] = relation.map(([variable, factor]) => mul(factor, nameOf(variable)));
    builder.equation(`r${at}`, add(first!, ...rest), 0);
  }
  return builder.system();
}

/** Whether all relations hold together with some of the givens. */
function holds({ count, relations }: Case, held: readonly (readonly [number, number])[]): boolean {
  const row = (entries: readonly (readonly [number, number])[], right: number): number[] => {
    const made = new Array<number>(count + 1).fill(0);
    for (const [variable, factor] of entries) made[variable] = factor;
    made[count] = right;
    return made;
  };
  const rows = relations.map((relation) => row(relation, 0));
  rows.push(...held.map(([variable, value]) => row([[variable, 1]], value)));
  return isConsistent(rows, count);
}

test("no set is smaller, and none is missed", () => {
  let found = 0;
  fc.assert(
    fc.property(cases, (one) => {
      const solution = solve(systemOf(one));
      expect(solution.conflicts.length === 0).toBe(holds(one, one.givens));
      for (const { givens } of solution.conflicts) {
        const names = new Set(
          givens.map(({ variable }) => solution.system.variables[variable]!.name),
        );
        const set = one.givens.filter(([variable]) => names.has(nameOf(variable)));
        expect(set).toHaveLength(names.size);
        expect(holds(one, set)).toBe(false);
        for (const left of set) {
          expect(
            holds(
              one,
              set.filter((other) => other !== left),
            ),
          ).toBe(true);
        }
        found++;
      }
    }),
    { numRuns: 600, seed: 11 },
  );
  expect(found).toBeGreaterThan(200);
});

test("several contradictions at once: no repair is smaller", () => {
  let found = 0;
  fc.assert(
    fc.property(cases, (one) => {
      const solution = solve(systemOf(one));
      if (solution.conflicts.length < 2) return;
      const repairs = repairsFor(solution);
      const without = (left: readonly number[]): boolean =>
        holds(
          one,
          one.givens.filter((_, at) => !left.includes(at)),
        );
      const places = one.givens.map((_, at) => at);
      const fewest = [
        places.map((a) => [a]),
        places.flatMap((a) => places.map((b) => [a, b])),
        places.flatMap((a) => places.flatMap((b) => places.map((c) => [a, b, c]))),
      ].findIndex((sets) => sets.some(without));
      if (fewest < 0) {
        expect(repairs).toEqual([]);
        return;
      }
      expect(repairs.length).toBeGreaterThan(0);
      for (const { changes } of repairs) {
        expect(changes).toHaveLength(fewest + 1);
        const names = changes.map(({ variable }) => solution.system.variables[variable]!.name);
        const freed = places.filter((at) => names.includes(nameOf(one.givens[at]![0])));
        expect(without(freed)).toBe(true);
        // What it comes to, written in, makes all of them agree.
        const values = new Map(
          changes.map(({ variable, value }) => [
            variable,
            value === undefined ? undefined : exactly(value),
          ]),
        );
        expect(solve(withGivens(solution.system, values)).conflicts).toEqual([]);
        found++;
      }
    }),
    { numRuns: 600, seed: 12 },
  );
  expect(found).toBeGreaterThan(100);
});
