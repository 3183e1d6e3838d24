/**
 * What intervals come to, against ends known in closed form: no wider than rounding makes them, and
 * told where there is no value. Whether they hold all there is, `ranges.test.ts` draws by the
 * thousand; here they are held to say no more than that.
 */
import { describe, expect, test } from "vitest";
import {
  absolute,
  add,
  angle,
  arcCosine,
  arcSine,
  arcTangent,
  divide,
  down,
  exponential,
  hull,
  logarithm,
  multiply,
  power,
  square,
  squareRoot,
  subtract,
  tangent,
  up,
  wave,
} from "../../server/solve/interval";

const infinity = Number.POSITIVE_INFINITY;
const nothing = [Number.NaN, Number.NaN] as const;

const operations = {
  absolute,
  add,
  angle,
  arcCosine,
  arcSine,
  arcTangent,
  divide,
  exponential,
  logarithm,
  multiply,
  power,
  square,
  squareRoot,
  subtract,
  tangent,
};

type Operation = (low: Float64Array, high: Float64Array, at: number, ...ends: number[]) => unknown;

/** The result of an operation on intervals, and whether some part had no value. */
function come(operation: unknown, ...ends: number[]): [number, number, boolean] {
  const [low, high] = [new Float64Array(2).fill(7), new Float64Array(2).fill(7)];
  const partial = (operation as Operation)(low, high, 1, ...ends) === true;
  expect([low[0], high[0]]).toEqual([7, 7]);
  return [low[1] ?? 0, high[1] ?? 0, partial];
}

/** The ends lie where they are to, at most a few last digits outside. */
function tight([low, high]: readonly number[], [from, to]: readonly number[], label = ""): void {
  const told = `${label} ${low}..${high} for ${from}..${to}`;
  for (const [found = 0, wanted = 0, sign = 0] of [
    [low, from, -1],
    [high, to, 1],
  ]) {
    if (!Number.isFinite(wanted)) expect(found, told).toBe(wanted);
    else {
      const outside = sign * (found - wanted);
      expect(outside, told).toBeGreaterThanOrEqual(0);
      expect(outside, told).toBeLessThanOrEqual(3e-15 * Math.max(Math.abs(wanted), 1e-300));
    }
  }
}

describe("arithmetic", () => {
  test.each([
    ["add", [1, 2, 10, 20], [11, 22]],
    ["add", [0, 0, 10, 20], [10, 20]],
    ["add", [-3, 5, 3, -5], [0, 0]],
    ["subtract", [1, 2, 10, 20], [-19, -8]],
    ["multiply", [2, 3, 5, 7], [10, 21]],
    ["multiply", [-2, 3, 5, 7], [-14, 21]],
    ["multiply", [-2, 3, -7, 5], [-21, 15]],
    ["multiply", [-3, -2, -7, -5], [10, 21]],
    ["multiply", [1, 1, -7, 5], [-7, 5]],
    ["multiply", [-1, -1, -7, 5], [-5, 7]],
    ["multiply", [0, 0, -7, 5], [0, 0]],
    ["multiply", [-7, 5, 1, 1], [-7, 5]],
    ["multiply", [-7, 5, -1, -1], [-5, 7]],
    ["multiply", [-7, 5, 0, 0], [0, 0]],
    ["multiply", [1, 2, 1, 2], [1, 4]],
    ["multiply", [-1, 2, 3, 4], [-4, 8]],
    ["multiply", [0, 2, 3, infinity], [0, infinity]],
    ["multiply", [3, infinity, 0, 2], [0, infinity]],
    ["multiply", [0, 0, 3, infinity], [0, 0]],
    ["multiply", [0, 0.5, 0, 8], [0, 4]],
    ["square", [2, 3], [4, 9]],
    ["square", [-3, 2], [0, 9]],
    ["square", [-3, -2], [4, 9]],
    ["square", [-2, 3], [0, 9]],
    ["absolute", [2, 3], [2, 3]],
    ["absolute", [-3, -2], [2, 3]],
    ["absolute", [-3, 2], [0, 3]],
    ["absolute", [-2, 3], [0, 3]],
    ["arcTangent", [-1, 1], [-Math.PI / 4, Math.PI / 4]],
  ] as const)("%s of %j", (name, ends, wanted) => {
    const [low, high] = come(operations[name], ...ends);
    tight([low, high], wanted);
  });

  test.each([
    ["divide", [10, 20, 2, 5], [2, 10]],
    ["divide", [-10, 20, 2, 5], [-5, 10]],
    ["divide", [10, 20, -5, -2], [-10, -2]],
    ["divide", [-10, 20, 1, 1], [-10, 20]],
    ["squareRoot", [4, 9], [2, 3]],
    ["squareRoot", [0, 9], [0, 3]],
    ["exponential", [0, 1], [1, Math.E]],
    ["logarithm", [1, Math.E], [0, 1]],
    ["arcSine", [-1, 0.5], [-Math.PI / 2, Math.PI / 6]],
    ["arcCosine", [-1, 0.5], [Math.PI / 3, Math.PI]],
    ["arcCosine", [1, 1], [0, 0]],
    ["tangent", [-Math.PI / 4, Math.PI / 4], [-1, 1]],
    ["tangent", [0.5, 0.5], [Math.tan(0.5), Math.tan(0.5)]],
    ["tangent", [-1.57, 1.57], [-Math.tan(1.57), Math.tan(1.57)]],
    // Of 2 rad the tangent has come back from its pole.
    ["tangent", [2, 4], [Math.tan(2), Math.tan(4)]],
    ["power", [2, 3, 0, 0], [1, 1]],
    ["power", [-2, 3, 1, 1], [-2, 3]],
    ["power", [-2, 3, 2, 2], [0, 9]],
    ["power", [-3, 2, 2, 2], [0, 9]],
    ["power", [-3, -2, 2, 2], [4, 9]],
    ["power", [2, 3, 2, 2], [4, 9]],
    ["power", [-2, 3, 3, 3], [-8, 27]],
    ["power", [-3, -2, 3, 3], [-27, -8]],
    ["power", [2, 4, -1, -1], [0.25, 0.5]],
    ["power", [2, 4, -2, -2], [1 / 16, 0.25]],
    ["power", [-4, -2, -3, -3], [-0.125, -1 / 64]],
    ["power", [4, 9, 0.5, 0.5], [2, 3]],
    ["power", [4, 9, -0.5, 0.5], [1 / 3, 3]],
    ["power", [0.25, 4, 0.5, 2], [1 / 16, 16]],
    ["power", [2, 3, 2, 3], [4, 27]],
    ["power", [0, 4, 0.5, 0.5], [0, 2]],
    ["power", [0.5, 2, -1, 1.5], [0.5 ** 1.5, 2 ** 1.5]],
    ["angle", [1, 1, -1, 1], [Math.PI / 4, (3 * Math.PI) / 4]],
    ["angle", [-1, 1, 1, 1], [-Math.PI / 4, Math.PI / 4]],
    ["angle", [-1, -1, -1, 1], [(-3 * Math.PI) / 4, -Math.PI / 4]],
    ["angle", [-1, 1, -1, 1], [-Math.PI, Math.PI]],
    ["angle", [1, 2, -2, -1], [Math.PI - Math.atan(2), Math.PI - Math.atan(0.5)]],
  ] as const)("%s of %j, with a value everywhere", (name, ends, wanted) => {
    const [low, high, partial] = come(operations[name], ...ends);
    tight([low, high], wanted);
    expect(partial).toBe(false);
  });

  test.each([
    ["divide", [1, 2, 0, 4], [0.25, infinity]],
    ["divide", [-2, -1, 0, 4], [-infinity, -0.25]],
    ["divide", [1, 2, -4, 0], [-infinity, -0.25]],
    ["divide", [-2, -1, -4, 0], [0.25, infinity]],
    ["divide", [0, 2, 0, 4], [0, infinity]],
    ["divide", [-1, 2, 0, 4], [-infinity, infinity]],
    ["divide", [1, 2, -1, 4], [-infinity, infinity]],
    ["divide", [0, 0, -1, 4], [0, 0]],
    ["squareRoot", [-4, 9], [0, 3]],
    ["logarithm", [0, 1], [-infinity, 0]],
    ["logarithm", [-1, Math.E], [-infinity, 1]],
    ["arcSine", [-2, 0.5], [-Math.PI / 2, Math.PI / 6]],
    ["arcSine", [0.5, 2], [Math.PI / 6, Math.PI / 2]],
    ["arcCosine", [-2, 0.5], [Math.PI / 3, Math.PI]],
    ["arcCosine", [0.5, 2], [0, Math.PI / 3]],
    ["tangent", [1, 2], [-infinity, infinity]],
    ["tangent", [-0.5, 3.6], [-infinity, infinity]],
    ["power", [-1, 4, 0.5, 0.5], [0, 2]],
    ["power", [0, 4, -0.5, -0.5], [0.5, infinity]],
    ["power", [-1, 4, 0.5, 2], [-infinity, infinity]],
    // Of what is below 0 whole powers alone have a value.
    ["power", [-1, 4, 1, 1.5], [-infinity, infinity]],
    ["power", [-1, 4, 0.25, 0.5], [0, 2]],
    ["arcSine", [-2, -1], [-Math.PI / 2, -Math.PI / 2]],
    ["arcSine", [1, 2], [Math.PI / 2, Math.PI / 2]],
    ["arcCosine", [-2, -1], [Math.PI, Math.PI]],
    ["arcCosine", [1, 2], [0, 0]],
  ] as const)("%s of %j, told to lack a value somewhere", (name, ends, wanted) => {
    const [low, high, partial] = come(operations[name], ...ends);
    tight([low, high], wanted);
    expect(partial).toBe(true);
  });

  test.each([
    ["divide", [1, 2, 0, 0]],
    ["divide", [...nothing, 1, 2]],
    ["divide", [1, 2, ...nothing]],
    ["squareRoot", [-4, -1]],
    ["squareRoot", nothing],
    ["exponential", nothing],
    ["logarithm", [-2, 0]],
    ["logarithm", nothing],
    ["arcSine", [1.5, 2]],
    ["arcSine", [-3, -2]],
    ["arcCosine", [1.5, 2]],
    ["arcCosine", [-3, -2]],
    ["tangent", nothing],
    ["power", [-2, -1, 0.5, 0.5]],
    ["power", [-2, -1, 0.25, 0.5]],
    ["power", [...nothing, 2, 2]],
    ["power", [1, 2, ...nothing]],
    ["angle", [...nothing, 1, 2]],
    ["angle", [1, 2, ...nothing]],
  ] as const)("%s of %j has no value", (name, ends) => {
    expect(come(operations[name], ...ends)).toEqual([Number.NaN, Number.NaN, true]);
  });

  test("an empty operand leaves the others empty, and adds nothing to a hull", () => {
    for (const name of ["multiply", "subtract", "add"] as const) {
      expect(come(operations[name], ...nothing, 1, 2).slice(0, 2)).toEqual([...nothing]);
      expect(come(operations[name], 1, 2, ...nothing).slice(0, 2)).toEqual([...nothing]);
      expect(come(operations[name], 0, 0, ...nothing).slice(0, 2)).toEqual([...nothing]);
      expect(come(operations[name], ...nothing, 0, 0).slice(0, 2)).toEqual([...nothing]);
    }
    expect(come(absolute, ...nothing).slice(0, 2)).toEqual([...nothing]);
    expect(come(hull, ...nothing, 1, 2).slice(0, 2)).toEqual([1, 2]);
    expect(come(hull, 1, 2, ...nothing).slice(0, 2)).toEqual([1, 2]);
    expect(come(hull, 1, 2, -1, 1.5).slice(0, 2)).toEqual([-1, 2]);
  });

  test("what grows beyond all numbers is told", () => {
    expect(come(exponential, 0, 1000)[2]).toBe(true);
    expect(come(exponential, -1000, 0).slice(0, 1)).toEqual([0]);
    expect(down(infinity)).toBe(Number.MAX_VALUE);
    expect(up(-infinity)).toBe(-Number.MAX_VALUE);
    expect(down(0)).toBeLessThan(0);
    expect(up(0)).toBeGreaterThan(0);
    expect(up(1) - 1).toBe(Number.EPSILON);
    expect(down(-1) + 1).toBe(-Number.EPSILON);
  });

  // Crests and troughs of sine and cosine, counted in quarter turns.
  test.each([
    [0, 1, 0, [0, Math.sin(1)]],
    [1, 2, 0, [Math.sin(1), 1]],
    [2, 4, 0, [Math.sin(4), Math.sin(2)]],
    [4, 5, 0, [-1, Math.sin(4)]],
    [1, 5, 0, [-1, 1]],
    [0, 6.5, 0, [-1, 1]],
    [-1, 1, 0, [-Math.sin(1), Math.sin(1)]],
    [-2, -1, 0, [-1, -Math.sin(1)]],
    [7, 8, 0, [Math.sin(7), 1]],
    [0.5, 1, 1, [Math.cos(1), Math.cos(0.5)]],
    [-0.5, 1, 1, [Math.cos(1), 1]],
    [2, 4, 1, [-1, Math.cos(2)]],
    [4, 6, 1, [Math.cos(4), Math.cos(6)]],
    [6, 7, 1, [Math.cos(7), 1]],
    [-4, -2, 1, [-1, Math.cos(2)]],
  ] as const)("waves from %d to %d, %d quarters ahead", (from, to, quarters, wanted) => {
    const [low, high, partial] = come(wave, from, to, quarters);
    tight([low, high], wanted);
    expect(partial).toBe(false);
  });

  test("far out a wave is anything, and at infinity has no value", () => {
    expect(come(wave, 2e7, 2e7 + 1, 0)).toEqual([-1, 1, false]);
    expect(come(wave, -2e7 - 1, -2e7, 1)).toEqual([-1, 1, false]);
    // Up to 10 million radians it is what it comes to.
    tight(come(wave, 1e7, 1e7, 0).slice(0, 2) as number[], [Math.sin(1e7), Math.sin(1e7)]);
    tight(come(wave, -1e7, -1e7, 1).slice(0, 2) as number[], [Math.cos(1e7), Math.cos(1e7)]);
    expect(come(wave, 0, infinity, 0)).toEqual([-1, 1, true]);
    expect(come(wave, -infinity, 0, 0)).toEqual([-1, 1, true]);
    expect(come(wave, ...nothing, 0)).toEqual([...nothing, true]);
    expect(come(tangent, 0, infinity)).toEqual([-infinity, infinity, true]);
    expect(come(tangent, infinity, infinity)).toEqual([-infinity, infinity, true]);
  });
});
