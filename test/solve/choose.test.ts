import fc from "fast-check";
import { expect, test } from "vitest";
import { type ChoiceProblem, choose } from "../../server/solve";
import { add, compare, exactly, mul, SystemBuilder, sub } from "./build";

/** Three rows of parts, each with a length, a mass and a price; the lengths must add up to fit. */
function parts(rows: readonly (readonly (readonly [number, number, number])[])[], room: number) {
  const builder = new SystemBuilder().given({ room });
  const letters = rows.map((_, row) => String.fromCharCode(97 + row));
  const sum = (what: string) =>
    letters
      .map((letter) => `${letter}.${what}`)
      .reduce<ReturnType<typeof add>>((left, name) => add(left, name), add(0, 0));
  builder
    .equation("length", "length", sum("length"))
    .equation("mass", "mass", sum("mass"))
    .equation("price", "price", sum("price"))
    .equation("gap", "gap", sub("room", "length"));
  const claims = [
    builder.claim(compare("gap", ">=", 0)),
    builder.claim(compare("gap", "<=", 3)),
    builder.claim(compare("mass", "<=", mul(12, letters.length))),
    builder.claim(compare("a.mass", "<=", "b.length")),
  ];
  const problem: ChoiceProblem = {
    claims,
    aims: [builder.quantity("price")],
    slots: rows.map((candidates, row) => ({
      candidates: candidates.map(([length, mass, price]) => ({
        givens: [
          { variable: builder.index(`${letters[row]}.length`), given: exactly(length) },
          { variable: builder.index(`${letters[row]}.mass`), given: exactly(mass) },
          { variable: builder.index(`${letters[row]}.price`), given: exactly(price) },
        ],
      })),
    })),
    keep: 3,
    system: builder.system(),
  };
  return problem;
}

function byTrying(rows: readonly (readonly (readonly [number, number, number])[])[], room: number) {
  const all: { picks: number[]; aims: number[]; unjudged: number[] }[] = [];
  const walk = (picks: number[]): void => {
    if (picks.length < rows.length) {
      rows[picks.length]!.forEach((_, pick) => {
        walk([...picks, pick]);
      });
      return;
    }
    const chosen = picks.map((pick, row) => rows[row]![pick]!);
    const total = (at: 0 | 1 | 2): number => chosen.reduce((sum, part) => sum + part[at], 0);
    const gap = room - total(0);
    if (gap < 0 || gap > 3 || total(1) > 12 * rows.length) return;
    if (chosen[0]![1] > chosen[1]![0]) return;
    all.push({ picks, aims: [total(2)], unjudged: [] });
  };
  walk([]);
  const order = (one: (typeof all)[0], other: (typeof all)[0]): number => {
    const at = one.picks.findIndex((pick, slot) => pick !== other.picks[slot]);
    return one.aims[0]! - other.aims[0]! || (at < 0 ? 0 : one.picks[at]! - other.picks[at]!);
  };
  return all.sort(order);
}

const part = fc.tuple(
  fc.integer({ min: 1, max: 20 }),
  fc.integer({ min: 1, max: 20 }),
  fc.integer({ min: 1, max: 50 }),
);

test("the best combinations are those that trying all of them finds", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.array(part, { minLength: 1, maxLength: 6 }), { minLength: 2, maxLength: 4 }),
      fc.integer({ min: 5, max: 60 }),
      async (rows, room) => {
        const answer = await choose(parts(rows, room));
        const wanted = byTrying(rows, room);
        expect(answer.choices).toEqual(wanted.slice(0, 3));
        expect(answer.complete).toBe(true);
        if (wanted.length === 0) expect(answer.blocking).toBeTypeOf("number");
      },
    ),
    { numRuns: 60 },
  );
});

function many(counts: readonly number[]) {
  let seed = 1;
  const next = (below: number): number => {
    seed = (seed * 48271) % 2147483647;
    return 1 + (seed % below);
  };
  return counts.map((count) =>
    Array.from({ length: count }, () => [next(20), next(20), next(900)] as const),
  );
}

test("50 × 50 × 20 combinations are settled well within two seconds", async () => {
  const rows = many([50, 50, 20]);
  const since = process.cpuUsage();
  const answer = await choose(parts(rows, 31));
  const { user, system } = process.cpuUsage(since);
  expect((user + system) / 1000).toBeLessThan(2000);
  expect(answer.choices).toEqual(byTrying(rows, 31).slice(0, 3));
});

test("a search can be cancelled, tells how far it is, and lets others work meanwhile", async () => {
  // The claim can only be tried once all slots are filled, so that thirteen million are to be tried.
  const rows = many([60, 60, 60, 60]);
  const { aims: [price] = [], ...problem } = parts(rows, 4);
  const impossible = {
    condition: compare(price!.expression, ">=", 1e9),
    variables: price!.variables,
  };
  const shares: number[] = [];
  let calls = 0;
  let others = 0;
  const ticking = setInterval(() => others++, 1);
  const answer = await choose(
    { ...problem, claims: [impossible] },
    { cancelled: () => ++calls >= 5, progress: (share) => shares.push(share) },
  );
  clearInterval(ticking);
  expect(calls).toBe(5);
  expect(others).toBeGreaterThan(0);
  expect(answer.complete).toBe(false);
  expect(answer.choices).toEqual([]);
  expect(shares).toHaveLength(5);
  expect([...shares].sort((a, b) => a - b)).toEqual(shares);
  for (const share of shares) expect(share).toBeLessThan(1);
});

test("candidates may leave different things open", async () => {
  const builder = new SystemBuilder()
    .equation("gap", "gap", sub("room", "length"))
    .equation("usual", "room", 10, "default");
  const slot = {
    candidates: [
      { givens: [{ variable: builder.index("length"), given: exactly(12) }] },
      {
        givens: [
          { variable: builder.index("length"), given: exactly(12) },
          { variable: builder.index("room"), given: exactly(13) },
        ],
      },
    ],
  };
  const answer = await choose({
    claims: [builder.claim(compare("gap", ">=", 0))],
    slots: [slot],
    system: builder.system(),
  });
  expect(answer.choices.map((choice) => choice.picks)).toEqual([[1]]);
});

test("a pick that contradicts what is given is none", async () => {
  const builder = new SystemBuilder()
    .given({ whole: 10, rest: 4 })
    .equation("sum", "whole", add("part", "rest"));
  const answer = await choose({
    claims: [],
    slots: [
      {
        candidates: [5, 6, 7].map((value) => ({
          givens: [{ variable: builder.index("part"), given: exactly(value) }],
        })),
      },
    ],
    system: builder.system(),
  });
  expect(answer.choices.map((choice) => choice.picks)).toEqual([[1]]);
});

test("what a candidate says too little for is not judged with it, and ranks behind", async () => {
  const builder = new SystemBuilder();
  const [length, mass, price] = ["length", "mass", "price"].map((name) => builder.index(name));
  const claims = [
    builder.claim(compare("mass", "<=", 5)),
    builder.claim(compare("length", "<=", 9)),
  ];
  const candidate = (figures: readonly (readonly [number | undefined, number])[]) => ({
    givens: figures.map(([variable, value]) => ({ variable: variable!, given: exactly(value) })),
  });
  const answer = await choose({
    claims,
    aims: [builder.quantity("price")],
    slots: [
      {
        candidates: [
          // The cheapest says nothing of its mass; the next is too heavy; the last two fit.
          candidate([
            [length, 3],
            [price, 1],
          ]),
          candidate([
            [length, 3],
            [mass, 7],
            [price, 2],
          ]),
          candidate([
            [length, 3],
            [mass, 4],
            [price, 4],
          ]),
          candidate([
            [length, 3],
            [mass, 2],
            [price, 3],
          ]),
        ],
      },
    ],
    system: builder.system(),
  });
  expect(answer.choices.map(({ picks, unjudged }) => [picks[0], unjudged])).toEqual([
    [3, []],
    [2, []],
    [0, [0]],
  ]);
});

test("judged at the level that is asked for", async () => {
  const builder = new SystemBuilder();
  const gap = builder.index("gap");
  const candidates = [
    { value: 1, by: 2 },
    { value: 3, by: 2 },
  ].map(({ value, by }) => ({
    givens: [{ variable: gap, given: { value, low: value - by, high: value + by, rounding: 0 } }],
  }));
  const problem: ChoiceProblem = {
    claims: [builder.claim(compare("gap", ">=", 0))],
    slots: [{ candidates }],
    system: builder.system(),
  };
  expect((await choose(problem)).choices.map(({ picks }) => picks[0])).toEqual([0, 1]);
  expect(
    (await choose({ ...problem, level: "worst" })).choices.map(({ picks }) => picks[0]),
  ).toEqual([1]);
});

test("several aims: what no other combination beats in all of them, by trying all", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.array(part, { minLength: 1, maxLength: 6 }), { minLength: 2, maxLength: 3 }),
      fc.integer({ min: 5, max: 60 }),
      async (rows, room) => {
        const builder = new SystemBuilder();
        const { system, claims, slots } = parts(rows, room);
        for (const { name } of system.variables) builder.index(name);
        // The least price, and the most mass.
        const mass = builder.quantity("mass");
        const aims = [
          builder.quantity("price"),
          { ...mass, expression: { op: "negate", of: mass.expression } as const },
        ];
        const answer = await choose({ system, claims, slots, aims });
        const fitting = byTrying(rows, room).map(({ picks, aims: [price] }) => ({
          picks,
          price: price!,
          mass: picks.reduce((sum, pick, row) => sum + rows[row]![pick]![1], 0),
        }));
        const front = fitting.filter(
          (one) =>
            !fitting.some(
              (other) =>
                other.price <= one.price &&
                other.mass >= one.mass &&
                (other.price < one.price || other.mass > one.mass),
            ),
        );
        const marks = new Set(front.map(({ price, mass: heavy }) => `${price} ${-heavy}`));
        expect(new Set(answer.choices.map(({ aims: [a, b] }) => `${a} ${b}`))).toEqual(marks);
        expect(answer.choices).toHaveLength(marks.size);
      },
    ),
    { numRuns: 60 },
  );
});

test("an aim that is a product of several slots is bounded, and the best is found", async () => {
  const rows = many([60, 60, 60]);
  const { system, slots } = parts(rows, 1000);
  const builder = new SystemBuilder();
  for (const { name } of system.variables) builder.index(name);
  const product = builder.quantity(mul("a.price", "b.price", "c.price"));
  const since = process.cpuUsage();
  const answer = await choose({ system, slots, claims: [], aims: [product], keep: 1 });
  const { user } = process.cpuUsage(since);
  const least = rows.map((row) => Math.min(...row.map(([, , price]) => price)));
  expect(answer.choices[0]!.aims[0]).toBe(least.reduce((one, other) => one * other));
  // 216,000 combinations; few of them are looked at.
  expect(user / 1000).toBeLessThan(500);
});

test("where nothing fits, the combinations that fail the fewest claims, by trying all", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.array(part, { minLength: 1, maxLength: 5 }), { minLength: 2, maxLength: 3 }),
      async (rows) => {
        const problem = parts(rows, 4);
        const answer = await choose(problem);
        if (answer.choices.length > 0) return;
        const counts: number[] = [];
        const walk = (picks: number[]): void => {
          if (picks.length < rows.length) {
            rows[picks.length]!.forEach((_, pick) => {
              walk([...picks, pick]);
            });
            return;
          }
          const chosen = picks.map((pick, row) => rows[row]![pick]!);
          const total = (at: 0 | 1): number => chosen.reduce((sum, each) => sum + each[at], 0);
          const gap = 4 - total(0);
          const failing = [gap < 0, gap > 3, total(1) > 12 * rows.length];
          failing.push(chosen[0]![1] > chosen[1]![0]);
          counts.push(failing.filter(Boolean).length);
        };
        walk([]);
        const fewest = counts.sort((one, other) => one - other).slice(0, 3);
        expect(answer.nearest.map(({ failing }) => failing.length)).toEqual(fewest);
      },
    ),
    { numRuns: 60 },
  );
});

test("each candidate is planned as its own case asks", async () => {
  // Thin ones are held twice; the condition is decided by the pick.
  const builder = new SystemBuilder()
    .equation("thin", "room", sub("wall", 1), "relation", compare("wall", "<", 5))
    .equation("thick", "room", mul(2, "wall"), "relation", compare("wall", ">=", 5));
  const walls = [2, 4, 5, 7, 3];
  const candidates = walls.map((value) => ({
    givens: [{ variable: builder.index("wall"), given: exactly(value) }],
  }));
  const claims = [builder.claim(compare("room", ">=", 3))];
  const aims = [builder.quantity("room")];
  const answer = await choose({ system: builder.system(), slots: [{ candidates }], claims, aims });
  const byHand = walls
    .map((wall, pick) => ({ pick, room: wall < 5 ? wall - 1 : 2 * wall }))
    .filter(({ room }) => room >= 3)
    .sort((one, other) => one.room - other.room);
  expect(answer.choices.map(({ picks, aims: [room] }) => [picks[0], room])).toEqual(
    byHand.map(({ pick, room }) => [pick, room]),
  );
});

test("of what there are only so many no more are picked, by trying all", async () => {
  // The same five parts for three places; of some there is one, of one none.
  const rows = [4, 6, 7, 9, 3].map((length, at) => [length, 5, 10 + at] as const);
  const counts = [1, 2, 0, undefined, 1];
  const problem = parts([rows, rows, rows], 20);
  const limited: ChoiceProblem = {
    ...problem,
    keep: 200,
    slots: problem.slots.map(({ candidates }) => ({
      candidates: candidates.map((candidate, at) => {
        const count = counts[at];
        return count === undefined
          ? candidate
          : { ...candidate, stock: { of: `part ${at}`, count } };
      }),
    })),
  };
  const expected = byTrying([rows, rows, rows], 20).filter(({ picks }) =>
    counts.every(
      (count, at) => count === undefined || picks.filter((pick) => pick === at).length <= count,
    ),
  );
  const answer = await choose(limited);
  expect(expected.length).toBeGreaterThan(3);
  expect(answer.choices).toEqual(expected);
  expect(answer.short).toContain("part 2");
});
