/**
 * Arithmetic over ranges against trying every pair of places of a grid in them: all that comes out lies
 * within, nothing at the ends is given away, and where a value lacks it is told.
 */
import { describe, expect, test } from "vitest";
import {
  absolute,
  add,
  angle,
  arcCosine,
  arcSine,
  divide,
  hull,
  multiply,
  power,
  square,
  squareRoot,
  subtract,
  tangent,
  wave,
} from "../../server/solve/interval";
import { randoms } from "./random-systems";

type Box = readonly [from: number, to: number];
type Operation = (low: Float64Array, high: Float64Array, at: number, ...ends: number[]) => unknown;

const ends = [-2, -1, 0, 0.5, 1, 2];
const boxes = ends.flatMap((from) => ends.filter((to) => to >= from).map((to): Box => [from, to]));
const grid = ([from, to]: Box): number[] =>
  Array.from({ length: 4 * (to - from) + 1 }, (_, k) => from + k / 4);

function come(operation: Operation, ...of: number[]): [number, number, boolean] {
  const [low, high] = [Float64Array.of(7), Float64Array.of(7)];
  const partial = operation(low, high, 0, ...of) === true;
  return [low[0]!, high[0]!, partial];
}

/** A range holds all that was met; where it ends somewhere, it ends at what was met. */
function holds(
  [low, high]: readonly [low: number, high: number, partial?: boolean],
  values: readonly number[],
  label: string,
  isTight = true,
  isExact = true,
): void {
  const [least, most] = [Math.min(...values), Math.max(...values)];
  expect(low, label).toBeLessThanOrEqual(least);
  expect(high, label).toBeGreaterThanOrEqual(most);
  if (!isTight) return;
  if (!isExact) {
    expect(low, label).toBeCloseTo(least, 12);
    expect(high, label).toBeCloseTo(most, 12);
    return;
  }
  // What comes to nothing does so to the last digit: it is what a sign hangs on.
  if (least === 0) expect(Math.abs(low), label).toBe(0);
  if (most === 0) expect(Math.abs(high), label).toBe(0);
  expect(low, label).toBeGreaterThanOrEqual(least - 1e-14 * (1 + Math.abs(least)));
  expect(high, label).toBeLessThanOrEqual(most + 1e-14 * (1 + Math.abs(most)));
}

const pairs = (a: Box, b: Box, of: (one: number, other: number) => number): number[] =>
  grid(a).flatMap((one) => grid(b).map((other) => of(one, other)));

describe("two ranges", () => {
  test.each<[string, Operation, (a: number, b: number) => number]>([
    ["added", add, (a, b) => a + b],
    ["subtracted", subtract, (a, b) => a - b],
    ["multiplied", multiply, (a, b) => a * b],
  ])("%s", (_, operation, of) => {
    for (const a of boxes)
      for (const b of boxes) {
        const [low, high] = come(operation, ...a, ...b);
        holds([low, high], pairs(a, b, of), `${a} and ${b}`);
        // Whole numbers of these sizes come out as they are where one of the two is 0 or 1 alone.
        for (const [one, other] of [
          [a, b],
          [b, a],
        ] as const) {
          if (one[0] !== one[1] || operation === subtract) continue;
          if (one[0] === 0 && operation === add) expect([low, high]).toEqual([...other]);
          if (one[0] === 1 && operation === multiply) expect([low, high]).toEqual([...other]);
          if (one[0] === 0 && operation === multiply) expect([low + 0, high + 0]).toEqual([0, 0]);
          if (one[0] === -1 && operation === multiply)
            expect([low + 0, high + 0]).toEqual([0 - other[1], 0 - other[0]]);
        }
      }
  });

  test("divided: no limit where the divisor comes to nothing, and all there is elsewhere", () => {
    for (const a of boxes)
      for (const b of boxes) {
        const label = `${a} by ${b}`;
        const [low, high, partial] = come(divide, ...a, ...b);
        const values = pairs(a, b, (one, other) => (other === 0 ? Number.NaN : one / other));
        const there = values.filter((value) => !Number.isNaN(value));
        expect(partial, label).toBe(there.length < values.length);
        if (there.length === 0) {
          expect([low, high], label).toEqual([Number.NaN, Number.NaN]);
          continue;
        }
        const open = b[0] <= 0 && b[1] >= 0;
        holds([low, high], there, label, !open);
        if (b[0] === 1 && b[1] === 1) expect([low, high], label).toEqual([...a]);
        if (!open) continue;
        const none = a[0] === 0 && a[1] === 0;
        const [up, down] = [
          (b[1] > 0 && a[1] > 0) || (b[0] < 0 && a[0] < 0),
          (b[1] > 0 && a[0] < 0) || (b[0] < 0 && a[1] > 0),
        ];
        expect(high === Number.POSITIVE_INFINITY, label).toBe(!none && up);
        expect(low === Number.NEGATIVE_INFINITY, label).toBe(!none && down);
        // The end that is there stands where the grid meets it.
        if (Number.isFinite(low)) expect(low, label).toBeCloseTo(Math.min(...there), 12);
        if (Number.isFinite(high)) expect(high, label).toBeCloseTo(Math.max(...there), 12);
      }
  });

  test("of which either may be: all of both, and of nothing and another the other", () => {
    for (const a of boxes) {
      for (const b of boxes)
        expect(come(hull, ...a, ...b).slice(0, 2)).toEqual([
          Math.min(a[0], b[0]),
          Math.max(a[1], b[1]),
        ]);
      expect(come(hull, Number.NaN, Number.NaN, ...a).slice(0, 2)).toEqual([...a]);
      expect(come(hull, ...a, Number.NaN, Number.NaN).slice(0, 2)).toEqual([...a]);
    }
  });

  test("raised to whole powers, and to half ones", () => {
    for (const a of boxes)
      for (const exponent of [-3, -2, -1, 0, 1, 2, 3, 4, 5, 0.5, 1.5, -0.5]) {
        const label = `${a} to the ${exponent}`;
        const [low, high, partial] = come(power, ...a, exponent, exponent);
        const isPole = (one: number): boolean => one === 0 && exponent < 0;
        const values = grid(a).map((one) => (isPole(one) ? Number.NaN : one ** exponent));
        const there = values.filter((value) => !Number.isNaN(value));
        expect(partial, label).toBe(there.length < values.length);
        if (there.length === 0) continue;
        if (exponent === 1) expect([low, high], label).toEqual([...a]);
        const open = exponent < 0 && a[0] <= 0 && a[1] >= 0;
        holds([low, high], there, label, !open);
      }
  });

  test("raised by a range: the base is 0 or more, or it has no value somewhere", () => {
    for (const a of boxes.filter(([from]) => from >= 0))
      for (const b of boxes.filter(([from, to]) => from < to)) {
        if (a[0] === 0 && b[0] <= 0) continue;
        const [low, high, partial] = come(power, ...a, ...b);
        expect(partial).toBe(false);
        holds(
          [low, high],
          pairs(a, b, (one, other) => one ** other),
          `${a} to the ${b}`,
        );
      }
  });

  test("as an angle: all there is but across the half turn", () => {
    for (const a of boxes)
      for (const b of boxes) {
        const [low, high] = come(angle, ...a, ...b);
        const across = b[0] <= 0 && a[0] <= 0 && a[1] >= 0;
        const values = pairs(a, b, (up, over) => Math.atan2(up, over));
        holds([low, high], values, `${a} over ${b}`, !across, false);
        if (across) {
          expect(low).toBeCloseTo(-Math.PI, 12);
          expect(high).toBeCloseTo(Math.PI, 12);
        }
      }
  });
});

test("one range: squares, roots and magnitudes", () => {
  for (const a of boxes) {
    holds(
      come(square, ...a),
      grid(a).map((one) => one * one),
      `square of ${a}`,
    );
    holds(come(absolute, ...a), grid(a).map(Math.abs), `magnitude of ${a}`);
    const [low, high, partial] = come(squareRoot, ...a);
    const there = grid(a).filter((one) => one >= 0);
    expect(partial).toBe(a[0] < 0);
    if (there.length === 0) expect([low, high]).toEqual([Number.NaN, Number.NaN]);
    else {
      const least = Math.max(0, a[0]);
      holds([low, high], [...there, least].map(Math.sqrt), `root of ${a}`);
    }
    // No square and no root lies below nothing.
    expect(come(square, ...a)[0]).toBeGreaterThanOrEqual(0);
  }
});

test.each<[string, Operation, (x: number) => number]>([
  ["sine", arcSine, Math.asin],
  ["cosine", arcCosine, Math.acos],
])("one range: the angle of a %s", (_, operation, of) => {
  for (const a of boxes) {
    const [low, high, partial] = come(operation, ...a);
    const there = grid(a).filter((one) => Math.abs(one) <= 1);
    expect(partial, `${a}`).toBe(a[0] < -1 || a[1] > 1);
    if (there.length === 0) expect([low, high]).toEqual([Number.NaN, Number.NaN]);
    else holds([low, high], there.map(of), `${a}`, true, false);
  }
});

test("waves and tangents hold what is met in them far out, too, and are cut down nearer by", () => {
  const random = randoms(29);
  const counts = { cut: 0, poles: 0, whole: 0 };
  for (const far of [3, 1e3, 1e6, 1e9, 1e12]) {
    for (let round = 0; round < 60; round++) {
      const from = (2 * random() - 1) * far;
      const to = from + 8 * random() ** 2;
      const places = Array.from({ length: 201 }, (_, k) => from + ((to - from) * k) / 200);
      const inside = places.filter((place) => place >= from && place <= to);
      for (const [quarters, of] of [Math.sin, Math.cos].entries()) {
        const [low, high] = come(wave as Operation, from, to, quarters);
        holds([low, high], inside.map(of), `${from}..${to}`, false);
        if (far > 1e6) continue;
        // Of 200 places one is next to each crest: no further off than 1 − cos(0.02).
        expect(low).toBeGreaterThanOrEqual(Math.min(...inside.map(of)) - 3e-4);
        expect(high).toBeLessThanOrEqual(Math.max(...inside.map(of)) + 3e-4);
        if (high - low < 1) counts.cut++;
      }
      const [low, high, partial] = come(tangent, from, to);
      const slopes = inside.map(Math.tan);
      holds([low, high], slopes, `${from}..${to}`, false);
      const isRising = slopes.every((one, k) => k === 0 || one >= slopes[k - 1]!);
      expect(partial, `${from}..${to}`).toBe(!isRising || to - from > 3.14);
      expect(low === Number.NEGATIVE_INFINITY && high === Number.POSITIVE_INFINITY).toBe(partial);
      counts[partial ? "poles" : "whole"]++;
    }
  }
  expect(Math.min(...Object.values(counts))).toBeGreaterThan(50);
});

test("products of whole numbers beyond the last digit hold what these come to", () => {
  const random = randoms(31);
  for (let round = 0; round < 100; round++) {
    const [one, other] = [0, 1].map(() => Math.floor(2 ** 31 * (1 + random()))) as [number, number];
    const exact = BigInt(one);
    for (const [operation, ends, wanted] of [
      [square, [one, one], exact ** 2n],
      [square, [-one, -one], exact ** 2n],
      [multiply, [one, one, other, other], exact * BigInt(other)],
      [power, [one, one, 2, 2], exact ** 2n],
      [power, [-one, -one, 3, 3], -(exact ** 3n)],
    ] as const) {
      const [low, high] = come(operation as Operation, ...ends);
      expect(BigInt(low) <= wanted && wanted <= BigInt(high)).toBe(true);
      expect(high - low).toBeLessThan(4e-15 * Math.abs(high));
    }
  }
});
