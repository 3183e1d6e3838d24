/**
 * Figures that stand alone in some combination of rows: what is told is multiplied out, and that
 * nothing is passed over is asked of the rank of the rows in whole numbers, counted modulo a prime.
 */
import { expect, test } from "vitest";
import { workDone } from "../../server/keep/patience";
import { standingAlone } from "../../server/solve/standing-alone";
import { randoms } from "./random-systems";

const PRIME = 46_337;

/** By Gauss' elimination in the whole numbers modulo a prime whose square is exact. */
function rankOf(rows: readonly (readonly number[])[]): number {
  const left = rows.map((row) => row.map((entry) => ((entry % PRIME) + PRIME) % PRIME));
  let rank = 0;
  for (let column = 0; column < (rows[0]?.length ?? 0); column++) {
    const pivot = left.findIndex((row, at) => at >= rank && row[column] !== 0);
    if (pivot < 0) continue;
    [left[rank], left[pivot]] = [left[pivot]!, left[rank]!];
    const lead = left[rank]!;
    // Fermat: the inverse is the power to the prime less two.
    let inverse = 1;
    for (let power = PRIME - 2, base = lead[column]!; power > 0; power >>= 1) {
      if (power % 2 === 1) inverse = (inverse * base) % PRIME;
      base = (base * base) % PRIME;
    }
    for (let at = rank + 1; at < left.length; at++) {
      const share = (left[at]![column]! * inverse) % PRIME;
      left[at] = left[at]!.map(
        (entry, each) => (((entry - share * lead[each]!) % PRIME) + PRIME) % PRIME,
      );
    }
    rank++;
  }
  return rank;
}

/** Holds what is told of whole rows, of which the largest entry is `size`, against their rank. */
function hold(rows: readonly (readonly number[])[], size: number): number {
  const figures = rows[0]!.length;
  const entries = rows.map(
    (row) =>
      new Map(row.flatMap((entry, at) => (entry === 0 ? [] : [[at, entry / size] as const]))),
  );
  const alone = standingAlone(new Map(entries.map((row, at) => [10 * at + 3, row])));
  const rank = rankOf(rows);
  for (let figure = 0; figure < figures; figure++) {
    const axis = Array.from({ length: figures }, (_, at) => (at === figure ? 1 : 0));
    const stands = rankOf([...rows, axis]) === rank;
    expect(alone.has(figure)).toBe(stands);
    if (!stands) continue;
    const { factor, weights } = alone.get(figure)!;
    const sums = new Array<number>(figures).fill(0);
    for (const [row, weight] of weights) {
      expect(row % 10).toBe(3);
      for (const [at, entry] of entries[(row - 3) / 10]!) sums[at]! += weight * entry;
    }
    expect(Math.abs(factor)).toBeGreaterThan(1e-9);
    expect(sums).toEqual(axis.map((each) => expect.closeTo(each * factor, 9)));
  }
  return alone.size;
}

test("all that stand alone are told, with a combination that leaves them alone", () => {
  const random = randoms(411);
  let found = 0;
  let passed = 0;
  for (let round = 0; round < 250; round++) {
    const figures = 2 + Math.floor(random() * 7);
    const density = 0.25 + 0.6 * random();
    const rows = Array.from({ length: 1 + Math.floor(random() * 7) }, () =>
      Array.from({ length: figures }, () =>
        random() < density ? Math.floor(random() * 9) - 4 : 0,
      ),
    ).filter((row) => row.some((entry) => entry !== 0));
    if (rows.length === 0) continue;
    // One that says what two others say together.
    if (rows.length > 2 && random() < 0.4) {
      rows.push(rows[0]!.map((entry, at) => entry - 2 * rows[1]![at]!));
    }
    const alone = hold(rows, 12);
    found += alone;
    passed += figures - alone;
  }
  expect(found).toBeGreaterThan(300);
  expect(passed).toBeGreaterThan(300);
});

test("along a chain, in a ring, and where one has next to nothing of its own figure", () => {
  const n = 9;
  const axis = (...own: readonly (readonly [number, number])[]): number[] => {
    const row = new Array<number>(n).fill(0);
    for (const [at, entry] of own) row[at] = entry;
    return row;
  };
  const chain = Array.from({ length: n - 1 }, (_, at) => axis([at, 1], [at + 1, -2]));
  expect(hold(chain, 2)).toBe(0);
  expect(hold([...chain, axis([4, 1])], 2)).toBe(n);
  // Of differences round a ring one follows from the others; of sums round an odd one all follow.
  const ring = (sign: number) =>
    Array.from({ length: n }, (_, at) => axis([at, 1], [(at + 1) % n, sign]));
  expect(hold(ring(-1), 1)).toBe(0);
  expect(hold(ring(1), 1)).toBe(n);
  expect(hold([axis([0, 1], [1, 2000], [2, 2000]), axis([1, 1], [2, 1])], 2000)).toBe(1);
  expect(hold([axis([0, 1], [1, 2000], [2, 1]), axis([1, 1]), axis([2, 3], [3, 1])], 2000)).toBe(1);
});

/** Rows told with the work they take: entries that were put together with others, ten to each. */
function worked(rows: readonly (readonly (readonly [figure: number, entry: number])[])[]) {
  const before = workDone();
  const { size } = standingAlone(new Map(rows.map((row, at) => [at, new Map(row)])));
  return { size, work: workDone() - before };
}

test("rows that can be taken off one after the other are not put together with others", () => {
  const n = 120;
  const chain = Array.from({ length: n }, (_, at) => [[at, 1] as const, [at + 1, -0.5] as const]);
  expect(worked(chain)).toEqual({ size: 0, work: 0 });
  expect(worked([...chain, [[n, 1]]])).toEqual({ size: n + 1, work: 0 });
  expect(worked([...chain, [[0, 1]]])).toEqual({ size: n + 1, work: 0 });
  // Every row with two figures of its own: none can stand alone.
  const combs = chain.map((row, at) => [...row, [1000 + at, 1] as const, [2000 + at, 1] as const]);
  expect(worked(combs)).toEqual({ size: 0, work: 0 });
  // A ring has to be put together.
  const ring = worked([...chain.slice(0, -1), [[n - 1, 1] as const, [0, -0.5] as const]]);
  expect(ring.size).toBe(n);
  expect(ring.work).toBeGreaterThan(10 * n);
});

test("rows in which too much runs together are given up, and not looked through for long", () => {
  const random = randoms(7);
  const dense = (n: number) =>
    Array.from({ length: n }, () =>
      Array.from({ length: n }, (_, figure) => [figure, 2 * random() - 1] as const),
    );
  expect(worked(dense(40)).size).toBe(40);
  const { size, work } = worked(dense(200));
  expect(size).toBe(0);
  expect(work).toBeGreaterThan(1e7);
  expect(work).toBeLessThan(3e7);
});
