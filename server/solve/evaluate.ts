/**
 * Values of expressions, by running their tapes.
 *
 * Comparisons and `round`, `floor`, `ceil` forgive what rounding of the inputs explains (see
 * `rounding-noise.ts`), so that a gap of exactly 5/8 in which was reached through a dozen additions
 * still is `>= 5/8 in`; table keys forgive a relative difference of 1e-9 beside that.
 * Where an operation has no value (0/0, the root of a negative number, outside a table) the result
 * is NaN, and NaN spreads to everything that uses it; nothing here throws.
 *
 * Must not know: equations, variables, systems.
 *
 *   evaluate(tapeOf({ op: "slot", index: 0 }), Float64Array.of(7), [0])   // 7
 */
import { spend } from "../keep/patience";
import type { LookupCurve } from "./expression";
import { NOISE, sizeOf } from "./rounding-noise";
import type { Tape } from "./tape";
import * as op from "./tape";

/** Two numbers closer than this, relative to the larger, count as equal. */
export const CLOSE = 1e-9;

/**
 * Value of a tape's (first) result; `variables[i]` says where in `values` slot i is found. `sizes`
 * says how large the numbers are that each variable came from; without it, they are as large as it.
 */
export function evaluate(
  tape: Tape,
  values: Float64Array,
  variables: ArrayLike<number>,
  sizes?: Float64Array,
): number {
  load(tape, values, variables, sizes);
  run(tape);
  return tape.work[tape.results[0]!]!;
}

/** Puts the slots' values on the tape. */
export function load(
  tape: Tape,
  values: Float64Array,
  variables: ArrayLike<number>,
  sizes?: Float64Array,
): void {
  const { work, slotPositions, slotIndices } = tape;
  for (let i = 0; i < slotPositions.length; i++) {
    work[slotPositions[i]!] = values[variables[slotIndices[i]!]!]!;
  }
  if (tape.kinked) loadSizes(tape, variables, sizes);
}

/** Puts the slots' sizes on the tape, after their values. */
function loadSizes(tape: Tape, variables: ArrayLike<number>, sizes?: Float64Array): void {
  const { work, slotPositions, slotIndices } = tape;
  for (let i = 0; i < slotPositions.length; i++) {
    const at = slotPositions[i]!;
    const own = Math.abs(work[at]!);
    const told = sizes?.[variables[slotIndices[i]!]!] ?? 0;
    tape.sizes[at] = Math.max(told, own);
  }
}

/** Runs the operations over whatever the slots hold. */
export function run(tape: Tape): void {
  const { codes, first, second, third, work, sizes, kinked } = tape;
  spend(codes.length);
  for (let i = tape.start; i < codes.length; i++) {
    const a = work[first[i]!]!;
    const b = work[second[i]!]!;
    switch (codes[i]) {
      case op.ADD:
        work[i] = a + b;
        break;
      case op.SUBTRACT:
        work[i] = a - b;
        break;
      case op.MULTIPLY:
        work[i] = a * b;
        break;
      case op.DIVIDE:
        work[i] = b === 0 ? Number.NaN : a / b;
        break;
      case op.NEGATE:
        work[i] = -a;
        break;
      case op.IF:
        work[i] = Number.isNaN(a) ? Number.NaN : a === 1 ? b : work[third[i]!]!;
        sizes[i] = sizes[a === 1 ? second[i]! : third[i]!]!;
        continue;
      case op.LOOKUP:
        work[i] = lookUp(tape.curves[i]!, a, NOISE * sizes[first[i]!]!);
        break;
      default:
        work[i] = apply(codes[i]!, a, b, NOISE * sizes[first[i]!]!, NOISE * sizes[second[i]!]!);
    }
    if (kinked) {
      sizes[i] = sizeOf(codes[i]!, a, b, work[i]!, sizes[first[i]!]!, sizes[second[i]!]!);
    }
  }
}

/**
 * Size of a tape's (first) result after `evaluate`: how large the numbers are that it came from.
 * Works out for tapes without kinks what was not needed to run them.
 */
export function resultSize(
  tape: Tape,
  variables: ArrayLike<number>,
  sizes: Float64Array | undefined,
): number {
  workOutSizes(tape, variables, sizes);
  return tape.sizes[tape.results[0]!]!;
}

/** Sizes at all positions of a tape that was just run. */
export function workOutSizes(
  tape: Tape,
  variables: ArrayLike<number>,
  sizes: Float64Array | undefined,
): void {
  if (tape.kinked) return;
  loadSizes(tape, variables, sizes);
  const { codes, first, second, work } = tape;
  for (let i = tape.start; i < codes.length; i++) {
    const a = first[i]!;
    const b = second[i]!;
    tape.sizes[i] = sizeOf(codes[i]!, work[a]!, work[b]!, work[i]!, tape.sizes[a]!, tape.sizes[b]!);
  }
}

/** `noiseA`, `noiseB`: what rounding explains in each input. */
function apply(code: number, a: number, b: number, noiseA: number, noiseB: number): number {
  switch (code) {
    case op.POWER:
      // NaN ^ 0 would be 1.
      return Number.isNaN(a) ? a : finite(a ** b);
    case op.ABS:
      return Math.abs(a);
    case op.SQRT:
      return Math.sqrt(a);
    case op.MIN:
      return Math.min(a, b);
    case op.MAX:
      return Math.max(a, b);
    case op.EXP:
      return finite(Math.exp(a));
    case op.LOG:
      return finite(Math.log(a));
    case op.SIN:
      return Math.sin(a);
    case op.COS:
      return Math.cos(a);
    case op.TAN:
      return Math.tan(a);
    case op.ASIN:
      return Math.asin(a);
    case op.ACOS:
      return Math.acos(a);
    case op.ATAN:
      return Math.atan(a);
    case op.ATAN2:
      return Math.atan2(a, b);
    case op.ROUND:
    case op.FLOOR:
    case op.CEIL:
      return toStep(code, a, b, noiseA);
    // A false side settles an "and", a true side an "or", whatever the other side may be.
    case op.AND:
      return a === 0 || b === 0 ? 0 : a * b;
    case op.OR:
      return a === 1 || b === 1 ? 1 : a + b;
    case op.NOT:
      return 1 - a;
    default:
      return compare(code, a, b, noiseA + noiseB);
  }
}

/** 1 or 0, or NaN where a side has no value; sides that differ by rounding alone are equal. */
function compare(code: number, a: number, b: number, noise: number): number {
  if (Number.isNaN(a - b)) return Number.NaN;
  const equal = Math.abs(a - b) <= noise;
  switch (code) {
    case op.AT_LEAST:
      return a >= b || equal ? 1 : 0;
    case op.AT_MOST:
      return a <= b || equal ? 1 : 0;
    case op.MORE:
      return a > b && !equal ? 1 : 0;
    case op.LESS:
      return a < b && !equal ? 1 : 0;
    case op.EQUAL:
      return equal ? 1 : 0;
    case op.UNEQUAL:
      return equal ? 0 : 1;
    default:
      return Number.NaN;
  }
}

export function close(a: number, b: number): boolean {
  return Math.abs(a - b) <= CLOSE * Math.max(Math.abs(a), Math.abs(b));
}

function finite(value: number): number {
  return Number.isFinite(value) ? value : Number.NaN;
}

/** A value to a step: to the nearest (halves away from 0), the one below or the one above. */
export function toStep(code: number, value: number, step: number, noise = 0): number {
  const size = Math.abs(step);
  const count = value / size;
  if (size === 0 || !Number.isFinite(count)) return Number.NaN;
  const room = (NOISE * Math.abs(value) + noise) / size;
  const nearest = Math.round(count);
  if (Math.abs(nearest - count) <= room) return nearest * size + 0;
  if (code === op.FLOOR) return Math.floor(count) * size + 0;
  if (code === op.CEIL) return Math.ceil(count) * size + 0;
  return Math.sign(count) * Math.floor(Math.abs(count) + 0.5 + room) * size + 0;
}

/** Value of a curve at a key, or NaN where it has none. `noise`: what rounding explains in the key. */
export function lookUp(curve: LookupCurve, key: number, noise = 0): number {
  const { keys, values } = curve;
  const close = (one: number, other: number): boolean => isNear(one, other, noise);
  const at = segmentOf(curve, key, noise);
  if (at < 0) return Number.NaN;
  const left = keys[at]!;
  if (curve.method !== "linear") {
    if (curve.method === "step" || close(left, key)) return values[at]!;
    return at + 1 < keys.length && close(keys[at + 1]!, key) ? values[at + 1]! : Number.NaN;
  }
  if (at + 1 >= keys.length) return values[at]!;
  const right = keys[at + 1]!;
  if (key <= left) return values[at]!;
  if (key >= right) return values[at + 1]!;
  const share = (key - left) / (right - left);
  return values[at]! + share * (values[at + 1]! - values[at]!);
}

/**
 * Number of the last key not above the asked one, -1 outside the keys (a `step` table has no upper
 * end: its last value holds for all that is larger). For `linear` the last
 * segment also holds the last key; for the others a key that is just missed by rounding counts.
 */
export function segmentOf(curve: LookupCurve, key: number, noise = 0): number {
  const { keys } = curve;
  const close = (one: number, other: number): boolean => isNear(one, other, noise);
  const count = Math.min(keys.length, curve.values.length);
  if (count === 0 || Number.isNaN(key)) return -1;
  const lowest = keys[0]!;
  const highest = keys[count - 1]!;
  if (key < lowest) return close(key, lowest) ? 0 : -1;
  if (key > highest && !close(key, highest) && curve.method !== "step") return -1;
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    const bound = keys[middle]!;
    if (bound <= key || (curve.method !== "linear" && close(bound, key))) low = middle;
    else high = middle - 1;
  }
  return curve.method === "linear" ? Math.min(low, Math.max(0, count - 2)) : low;
}

function isNear(a: number, b: number, noise: number): boolean {
  return Math.abs(a - b) <= CLOSE * Math.max(Math.abs(a), Math.abs(b)) + noise;
}
