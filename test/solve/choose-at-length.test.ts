/**
 * What is chosen, against solving every combination by itself: cases, figures between the picks and
 * the claims, relations left over, aims that bend, candidates that say different things.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  bestOf,
  type Candidate,
  type Choice,
  type ChoiceProblem,
  choose,
  quantityValue,
  solve,
  verdictOf,
  withGivens,
} from "../../server/solve";
import type { Claim, GivenNumber, Quantity } from "../../server/solve/system";
import { add, call, compare, exactly, mul, pow, SystemBuilder, sub, within } from "./build";

interface Tried extends Choice {
  readonly failing: readonly number[];
  readonly shortfall: number;
}

/** Every combination there is enough of, solved by itself. */
function tried(problem: ChoiceProblem): Tried[] {
  const { system, slots, claims, aims = [], level = "nominal" } = problem;
  const found: Tried[] = [];
  const walk = (picks: readonly number[]): void => {
    const slot = slots[picks.length];
    if (slot !== undefined) {
      for (const at of slot.candidates.keys()) walk([...picks, at]);
      return;
    }
    const candidates = picks.map((pick, at) => slots[at]!.candidates[pick]!);
    const taken = new Map<string, number>();
    for (const { stock } of candidates)
      if (stock !== undefined) taken.set(stock.of, (taken.get(stock.of) ?? 0) + 1);
    if (candidates.some(({ stock }) => stock !== undefined && taken.get(stock.of)! > stock.count))
      return;
    const givens = new Map(
      candidates.flatMap((each) => each.givens.map(({ variable, given }) => [variable, given])),
    );
    const solution = solve(withGivens(system, givens));
    if (solution.conflicts.length > 0) return;
    const failing: number[] = [];
    const unjudged: number[] = [];
    for (const [number, claim] of claims.entries()) {
      const verdict = verdictOf(solution, claim);
      if (verdict.nominal === "fails" || verdict[level] === "fails") failing.push(number);
      else if (verdict.nominal === "unknown") unjudged.push(number);
    }
    const values = aims.map((aim) => quantityValue(solution, aim));
    found.push({ picks, aims: values, unjudged, failing, shortfall: 0 });
  };
  walk([]);
  return found;
}

const gaps = ({ aims, unjudged }: Choice): number =>
  unjudged.length + aims.filter((aim) => aim === undefined).length;
const inOrder = (one: Choice, other: Choice): number => {
  const at = one.picks.findIndex((pick, slot) => pick !== other.picks[slot]);
  const aims = one.aims.map((aim, each) => (aim ?? 0) - (other.aims[each] ?? 0));
  return (
    gaps(one) - gaps(other) ||
    aims.find((apart) => Math.abs(apart) > 1e-9) ||
    (at < 0 ? 0 : one.picks[at]! - other.picks[at]!)
  );
};
const plain = ({ picks, aims, unjudged }: Choice) => ({
  picks,
  aims: aims.map((aim) => (aim === undefined ? aim : expect.closeTo(aim, 9))),
  unjudged,
});

/** The first, by one aim or none; what no other beats by several. */
async function agrees(problem: ChoiceProblem): Promise<number> {
  const all = tried(problem);
  const fitting = all.filter(({ failing }) => failing.length === 0).sort(inOrder);
  const answer = await choose(problem);
  expect(answer.complete).toBe(true);
  expect(answer.choices).toEqual(fitting.slice(0, problem.keep ?? 5).map(plain));
  expect(answer.blocking !== undefined).toBe(
    fitting.length === 0 && all.some(({ failing }) => failing.length > 0),
  );
  if (fitting.length === 0 && all.length > 0) {
    const counts = all.map(({ failing }) => failing.length).sort((one, other) => one - other);
    expect(answer.nearest.map(({ failing }) => failing.length)).toEqual(counts.slice(0, 3));
    for (const { picks, failing } of answer.nearest) {
      const same = all.find((each) => each.picks.join() === picks.join());
      expect(same?.failing).toEqual(failing);
    }
  } else expect(answer.nearest).toEqual([]);
  return fitting.length;
}

const size = fc.integer({ min: 1, max: 12 });
const rowsOf = (slots: number) =>
  fc.array(fc.array(fc.tuple(size, size, size), { minLength: 1, maxLength: 4 }), {
    minLength: slots,
    maxLength: slots,
  });

type Rows = readonly (readonly (readonly [number, number, number])[])[];

/** Parts in a row: each of a length, a mass and a price, with figures that follow in several steps. */
function build(rows: Rows, more: (builder: SystemBuilder) => SystemBuilder) {
  const names = rows.map((_, at) => String.fromCharCode(97 + at));
  let builder = new SystemBuilder().given({ room: 20 });
  const total = (what: string) => names.map((name) => `${name}.${what}`);
  builder = more(
    builder
      .equation("length", "length", add(0, ...total("length")))
      .equation("gap", "gap", sub("room", "length"))
      .equation("mass", "mass", add(0, ...total("mass"))),
  );
  const given = (name: string, value: number | GivenNumber) => ({
    variable: builder.index(name),
    given: typeof value === "number" ? exactly(value) : value,
  });
  const slots = rows.map((candidates, row) => ({
    candidates: candidates.map(([length, mass, price]): Candidate => {
      const name = names[row]!;
      return {
        givens: [
          given(`${name}.length`, length),
          given(`${name}.mass`, mass),
          given(`${name}.price`, price),
        ],
      };
    }),
  }));
  return { builder, slots };
}

const problemOf = (
  { builder, slots }: ReturnType<typeof build>,
  claims: readonly Claim[],
  aims: readonly Quantity[],
  more: Partial<ChoiceProblem> = {},
): ChoiceProblem => ({ claims, aims, slots, keep: 3, ...more, system: builder.system() });

describe("every combination solved by itself", () => {
  const runs = { numRuns: 25, seed: 4 };

  test("aims that bend, over figures that follow in several steps", async () => {
    let fitted = 0;
    await fc.assert(
      fc.asyncProperty(rowsOf(3), fc.nat(5), async (rows, which) => {
        const parts = build(rows, (builder) =>
          builder
            .equation("area", "area", mul("a.length", "b.length"))
            .equation("load", "load", sub(mul("area", 2), "c.mass")),
        );
        const { builder } = parts;
        const aim = [
          mul("load", "gap"),
          sub(mul("a.price", "b.mass"), mul(3, "c.price")),
          sub(0, mul("area", "c.length")),
          call("max", "a.price", "b.price", "c.price"),
          pow(sub("gap", 4), 2),
          call("abs", sub("mass", mul("a.length", 2))),
        ][which]!;
        const claims = [
          builder.claim(compare("gap", ">=", 0)),
          builder.claim(compare("load", ">", "a.mass")),
          builder.claim(compare("mass", "<=", mul(1.5, "length"))),
        ];
        fitted += await agrees(problemOf(parts, claims, [builder.quantity(aim)]));
      }),
      runs,
    );
    expect(fitted).toBeGreaterThan(50);
  });

  test("without an aim in the order of the candidates, and with a last word on each", async () => {
    await fc.assert(
      fc.asyncProperty(rowsOf(3), async (rows) => {
        const parts = build(rows, (builder) => builder);
        const claims = [parts.builder.claim(compare("gap", ">=", 0))];
        await agrees(problemOf(parts, claims, []));
        const odd = (picks: readonly number[]): boolean =>
          picks.reduce((sum, pick) => sum + pick, 0) % 2 === 1;
        const problem = problemOf(parts, claims, [], { accepts: odd });
        const { choices } = await choose(problem);
        const expected = tried(problem)
          .filter(({ failing, picks }) => failing.length === 0 && odd(picks))
          .sort(inOrder);
        expect(choices.map(({ picks }) => picks)).toEqual(
          expected.slice(0, 3).map(({ picks }) => picks),
        );
      }),
      runs,
    );
  });

  test("relations that a pick may contradict", async () => {
    let fitted = 0;
    await fc.assert(
      fc.asyncProperty(rowsOf(3), async (rows) => {
        // What two of them are long the third must not be heavier than, and their prices agree.
        const parts = build(rows, (builder) =>
          builder.equation("same", call("floor", "a.price", 4), call("floor", "b.price", 4)),
        );
        const { builder } = parts;
        const claims = [builder.claim(compare("c.mass", "<=", add("a.length", "b.length")))];
        fitted += await agrees(problemOf(parts, claims, [builder.quantity("mass")]));
      }),
      runs,
    );
    expect(fitted).toBeGreaterThan(50);
  });

  test("equations that hold in some cases only", async () => {
    let fitted = 0;
    await fc.assert(
      fc.asyncProperty(rowsOf(3), async (rows) => {
        const thin = compare("a.length", "<", 6);
        const parts = build(rows, (builder) =>
          builder
            .equation("thin", "reserve", sub("b.mass", 3), "relation", thin)
            .equation("thick", "reserve", mul(2, "c.mass"), "relation", { op: "not", of: thin }),
        );
        const { builder } = parts;
        const claims = [
          builder.claim(compare("reserve", ">=", 4)),
          builder.claim(compare("gap", ">=", 0), compare("b.length", ">", 2)),
        ];
        fitted += await agrees(problemOf(parts, claims, [builder.quantity("reserve")]));
      }),
      runs,
    );
    expect(fitted).toBeGreaterThan(50);
  });

  test("candidates that leave something out, of which there are only so many", async () => {
    await fc.assert(
      fc.asyncProperty(rowsOf(3), fc.infiniteStream(fc.nat(9)), async (rows, chance) => {
        const parts = build(rows, (builder) => builder);
        const next = (): number => chance.next().value as number;
        const slots = parts.slots.map(({ candidates }) => ({
          candidates: candidates.map(({ givens }, at): Candidate => {
            const left = next();
            const kept = givens.filter((_, field) => field === 0 || field !== left);
            return next() < 4
              ? { givens: kept, stock: { of: `part ${at}`, count: next() % 3 } }
              : { givens: kept };
          }),
        }));
        const { builder } = parts;
        const claims = [
          builder.claim(compare("gap", ">=", 0)),
          builder.claim(compare("mass", "<=", 20)),
        ];
        const aims = [builder.quantity(add("a.price", "b.price", "c.price"))];
        await agrees({ ...problemOf(parts, claims, aims), slots });
      }),
      runs,
    );
  });

  test("at worst, with the ± of each pick", async () => {
    let fitted = 0;
    await fc.assert(
      fc.asyncProperty(rowsOf(2), async (rows) => {
        const parts = build(rows, (builder) => builder);
        const slots = parts.slots.map(({ candidates }) => ({
          candidates: candidates.map(({ givens }) => ({
            givens: givens.map(({ variable, given }) => ({
              variable,
              given: within(given.value, given.value / 8),
            })),
          })),
        }));
        const { builder } = parts;
        const claims = [
          builder.claim(compare("gap", ">=", 3)),
          builder.claim(compare("mass", "<=", 18)),
        ];
        const aims = [builder.quantity(add("a.price", "b.price"))];
        for (const level of ["nominal", "rss", "worst"] as const)
          fitted += await agrees({ ...problemOf(parts, claims, aims, { level }), slots });
      }),
      runs,
    );
    expect(fitted).toBeGreaterThan(50);
  });
});

describe("what is told where nothing fits", () => {
  test("the nearest miss by how far beside its size", async () => {
    const builder = new SystemBuilder().given({ limit: 100 });
    const slot = (...values: number[]) => ({
      candidates: values.map((value) => ({
        givens: [{ variable: builder.index("x"), given: exactly(value) }],
      })),
    });
    const claims = [builder.claim(compare("x", ">=", "limit"))];
    const answer = await choose({
      claims,
      slots: [slot(50, 99, 80, 97, 20)],
      system: builder.system(),
    });
    expect(answer.nearest.map(({ picks }) => picks[0])).toEqual([1, 3, 2]);
    expect(answer.nearest[0]!.shortfall).toBeCloseTo(1 / 100, 9);
    expect(answer.nearest[1]!.shortfall).toBeCloseTo(3 / 100, 9);
    expect(answer.ruledOut).toEqual([5]);
    expect(answer.blocking).toBe(0);
  });

  test("how many combinations each claim ruled out, those counted that were not looked at", async () => {
    // a decides the first claim alone, a and b the second: 2 of 3 times 4, then 1 of 1 times 4.
    const builder = new SystemBuilder().given({ one: 1 });
    const slot = (name: string, ...values: number[]) => ({
      candidates: values.map((value) => ({
        givens: [{ variable: builder.index(name), given: exactly(value) }],
      })),
    });
    const slots = [slot("a", 1, 2, 9), slot("b", 1, 2, 3, 4)];
    const claims = [builder.claim(compare("a", ">=", 5)), builder.claim(compare("b", ">", "a"))];
    const answer = await choose({ claims, slots, system: builder.system() });
    expect(answer.choices).toEqual([]);
    expect(answer.ruledOut).toEqual([8, 4]);
    expect(answer.blocking).toBe(0);
    // With no candidate for a slot there is nothing, and nobody is to blame.
    const empty = await choose({
      claims,
      slots: [slots[0]!, { candidates: [] }],
      system: builder.system(),
    });
    expect([empty.choices, empty.blocking, empty.complete]).toEqual([[], undefined, true]);
    const none = await choose({ claims, slots: [], system: builder.system() });
    expect(none.choices).toEqual([]);
  });
});

describe("answers put together", () => {
  const choice = (
    aim: number | undefined,
    pick: number,
    unjudged: readonly number[] = [],
  ): Choice => ({
    picks: [pick],
    aims: [aim],
    unjudged,
  });
  const aims = [{ expression: { op: "number", value: 0 } as const, variables: [] }];

  test("are the best of all of them, those that could be judged first", () => {
    const all = [
      choice(5, 0),
      choice(undefined, 1),
      choice(3, 2),
      choice(1, 3, [0]),
      choice(3, 4),
      choice(4, 5),
    ];
    const picks = (keep: number) => bestOf(all, { aims, keep }).map((each) => each.picks[0]);
    expect(picks(2)).toEqual([2, 4]);
    expect(picks(9)).toEqual([2, 4, 5, 0, 1, 3]);
    expect(picks(0)).toEqual([2]);
    expect(picks(2.9)).toEqual([2, 4]);
    expect(bestOf(all, { aims }).length).toBe(5);
  });

  test("of several aims, those that no other one beats", () => {
    const pair = (one: number, other: number, pick: number): Choice => ({
      picks: [pick],
      aims: [one, other],
      unjudged: [],
    });
    const all = [
      pair(1, 9, 0),
      pair(2, 8, 1),
      pair(2, 9, 2),
      pair(3, 3, 3),
      pair(3, 3, 4),
      pair(9, 1, 5),
    ];
    const found = bestOf(all, { aims: [...aims, ...aims], keep: 1 });
    expect(found.map((each) => each.picks[0])).toEqual([0, 1, 3, 5]);
  });
});
