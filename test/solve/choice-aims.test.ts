/** What aims can still come to while slots are being filled, against trying every combination. */
import { expect, test } from "vitest";
import { ChoiceAims } from "../../server/solve/choice-aims";
import { executionOf } from "../../server/solve/execution";
import { solve } from "../../server/solve/solve";
import { add, call, mul, neg, pow, SystemBuilder, sub, type Term } from "./build";

const names = ["a", "b", "c", "p", "q", "r"] as const;
type Name = (typeof names)[number];

/** Which slots each figure rests on; the first three are what is picked. */
const resting: Readonly<Record<Name, readonly number[]>> = {
  a: [0],
  b: [1],
  c: [2],
  p: [0],
  q: [0, 1],
  r: [0, 1, 2],
};

const formulas: Readonly<Record<"p" | "q" | "r", Term>> = {
  p: add(mul(2, "a"), 1),
  q: mul("p", "b"),
  r: sub("q", pow("c", 2)),
};

interface Aim {
  readonly term: Term;
  readonly of: (a: number, b: number, c: number) => number;
  /** A figure stands in no two of its summands and in none twice: its least is what all can come to. */
  readonly exact: boolean;
}

const aims: readonly Aim[] = [
  { term: add("a", neg("b"), mul(3, "c")), of: (a, b, c) => a - b + 3 * c, exact: true },
  { term: sub(2, sub("p", "c")), of: (a, _, c) => 2 - (2 * a + 1 - c), exact: true },
  { term: "r", of: (a, b, c) => (2 * a + 1) * b - c * c, exact: true },
  { term: neg(mul("a", "c")), of: (a, _, c) => -(a * c), exact: true },
  { term: sub("b", mul("a", "c")), of: (a, b, c) => b - a * c, exact: true },
  { term: sub("r", "a"), of: (a, b, c) => (2 * a + 1) * b - c * c - a, exact: false },
  { term: mul("r", "c"), of: (a, b, c) => ((2 * a + 1) * b - c * c) * c, exact: false },
  {
    term: mul("q", "r"),
    of: (a, b, c) => (2 * a + 1) * b * ((2 * a + 1) * b - c * c),
    exact: false,
  },
  { term: call("max", "a", "c"), of: (a, _, c) => Math.max(a, c), exact: true },
];

const candidates: readonly (readonly number[])[] = [
  [-2, 0.5, 3],
  [-1, 4],
  [-3, 1, 2.5],
];

const builder = new SystemBuilder().given({ a: 1, b: 1, c: 1 });
for (const [name, formula] of Object.entries(formulas)) builder.equation(name, name, formula);
const quantities = aims.map(({ term }) => builder.quantity(term));

test.each([[[0, 1, 2]], [[2, 0, 1]], [[1, 2, 0]], [[2, 1, 0]]])(
  "with the slots filled in the order of %j",
  (placeOf) => {
    const execution = executionOf(solve(builder.system()));
    const at = Object.fromEntries(names.map((name) => [name, builder.index(name)]));
    const values = execution.values.slice();
    const nameOf = new Map(names.map((name) => [builder.index(name), name]));
    const follow = (): void => {
      values[at.p!] = 2 * values[at.a!]! + 1;
      values[at.q!] = values[at.p!]! * values[at.b!]!;
      values[at.r!] = values[at.q!]! - values[at.c!]! ** 2;
    };
    const own = (["a", "b", "c"] as const).map((name) => at[name]!);
    const search = new ChoiceAims(
      {
        execution,
        values,
        slotsOf: (variables) => [
          ...new Set(variables.flatMap((each) => resting[nameOf.get(each)!])),
        ],
        placeOf,
        eachOf: (slot, see) => {
          for (const candidate of candidates[slot]!) {
            values[own[slot]!] = candidate;
            follow();
            see();
          }
        },
      },
      quantities,
    );
    const order = [0, 1, 2].map((place) => placeOf.indexOf(place));
    const bound = new Float64Array(aims.length);
    const picks = [0, 0, 0];
    let tight = 0;
    const leastOf = (aim: Aim, place: number): number => {
      if (place === 3) return aim.of(...(picks as [number, number, number]));
      let least = Number.POSITIVE_INFINITY;
      const slot = order[place]!;
      const before = picks[slot]!;
      for (const candidate of candidates[slot]!) {
        picks[slot] = candidate;
        least = Math.min(least, leastOf(aim, place + 1));
      }
      picks[slot] = before;
      return least;
    };
    const fill = (place: number): void => {
      if (place === 3) return;
      const slot = order[place]!;
      for (const candidate of candidates[slot]!) {
        picks[slot] = candidate;
        values[own[slot]!] = candidate;
        follow();
        search.at(place, bound);
        aims.forEach((aim, number) => {
          const least = leastOf(aim, place + 1);
          // A range is wider by its last digit.
          if (aim.exact || place === 2) expect(bound[number]).toBeCloseTo(least, 9);
          else expect(bound[number]).toBeLessThanOrEqual(least + 1e-9);
          if (Number.isFinite(bound[number])) tight++;
        });
        fill(place + 1);
      }
    };
    fill(0);
    expect(tight).toBeGreaterThan(150);
  },
);
