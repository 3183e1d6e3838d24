/** Where answers are looked for first: fixed places that lie evenly in what is allowed, and never beyond it. */
import { describe, expect, test } from "vitest";
import type { Block } from "../../server/solve/block";
import { starts } from "../../server/solve/starts";

const infinity = Number.POSITIVE_INFINITY;

/** A block as far as starts ask of it: some unknowns alike. */
function block(unknowns: number, low: number, high: number, scale = 1, guess = Number.NaN): Block {
  const all = <T>(value: T): T[] => Array.from({ length: unknowns }, () => value);
  return {
    facts: [],
    slots: [],
    preference: [],
    unknowns: [...all(0).keys()],
    scales: all(scale),
    lows: all(low),
    highs: all(high),
    guesses: all(guess),
  };
}

describe("places to start from", () => {
  test("are as many as asked for, one number for each unknown, the same each time", () => {
    for (const count of [1, 3, 14]) {
      const found = starts(block(4, 0, 1), count);
      expect(found.map((each) => each.length)).toEqual(Array.from({ length: count }, () => 4));
      expect(starts(block(4, 0, 1), count)).toEqual(found);
    }
    expect(starts(block(2, 0, 1), 0)).toEqual([]);
  });

  test("within limits lie between them, evenly: no gap is three times its share", () => {
    for (const [low, high] of [
      [0, 1],
      [-30, 50],
      [100, 101],
    ] as const) {
      for (const count of [7, 14]) {
        const all = starts(block(3, low, high), count);
        for (const j of [0, 1, 2]) {
          const places = all.map((each) => (each[j]! - low) / (high - low)).sort((a, b) => a - b);
          expect(places[0]).toBeGreaterThan(0);
          expect(places.at(-1)).toBeLessThan(1);
          const gaps = [...places, 1].map((place, at) => place - (places[at - 1] ?? 0));
          expect(Math.max(...gaps), `${count} in ${low}..${high}`).toBeLessThan(3 / count);
        }
        // No two unknowns are in step with each other.
        for (const [one, other] of [
          [0, 1],
          [1, 2],
          [0, 2],
        ] as const)
          for (const each of all) expect(each[one]).not.toBeCloseTo(each[other]!, 6);
      }
    }
  });

  test("begin in the middle, or near what is guessed", () => {
    const [middle] = starts(block(5, -10, 30), 7);
    for (const place of middle!) expect(Math.abs(place - 10)).toBeLessThanOrEqual(0.05 * 40);
    for (const guess of [12, -7]) {
      const [near, next] = starts(block(5, -20, 30, 1, guess), 7);
      for (const place of near!) {
        expect(Math.abs(place - guess)).toBeLessThanOrEqual(0.05 * Math.abs(guess) + 1e-12);
        expect(place).not.toBe(guess);
      }
      expect([...next!].some((place) => Math.abs(place - guess) > 1)).toBe(true);
    }
    // The two by which it is seen whether anything is curved are anywhere.
    const [one, other] = starts(block(3, -20, 30, 1, 12), 2);
    expect([...one!].every((place) => Math.abs(place - 12) <= 0.6)).toBe(false);
    for (const j of [0, 1, 2]) expect(Math.abs(one![j]! - other![j]!)).toBeGreaterThan(1);
  });

  test("beside one limit lie on its other side, by sizes from a twentieth to hundreds of the natural one", () => {
    for (const scale of [1, 1e-3]) {
      const above = starts(block(2, 5, infinity, scale), 14).map((each) => (each[0]! - 5) / scale);
      const below = starts(block(2, -infinity, 5, scale), 14).map((each) => (5 - each[0]!) / scale);
      for (const sizes of [above, below]) {
        expect(Math.min(...sizes)).toBeGreaterThan(0.04);
        expect(Math.min(...sizes)).toBeLessThan(0.16);
        expect(Math.max(...sizes)).toBeGreaterThan(499);
        expect(Math.max(...sizes)).toBeLessThan(1501);
        expect(sizes[0]).toBeGreaterThanOrEqual(0.5);
        expect(sizes[0]).toBeLessThanOrEqual(1.5);
      }
    }
  });

  test("without limits lie on both sides of 0, the first at the natural size", () => {
    for (const scale of [1, 2e-3]) {
      const found = starts(block(3, -infinity, infinity, scale), 14);
      const places = found.flatMap((each) => [...each].map((place) => place / scale));
      for (const j of [0, 1, 2]) {
        const below = found.filter((each) => each[j]! < 0).length;
        expect(below).toBeGreaterThan(2);
        expect(below).toBeLessThan(8);
      }
      const sizes = places.map(Math.abs);
      expect(Math.min(...sizes)).toBeGreaterThan(0.04);
      expect(Math.max(...sizes)).toBeGreaterThan(499);
      expect(Math.max(...sizes)).toBeLessThan(1501);
      for (const place of found[0]!) {
        expect(place / scale).toBeGreaterThanOrEqual(0.5);
        expect(place / scale).toBeLessThanOrEqual(1.5);
      }
    }
  });
});
