/**
 * Values of expressions, by running their tapes.
 *
 * Comparisons, `round`, `floor`, `ceil` and table keys forgive a relative difference of 1e-9, so
 * that a gap of exactly 5/8 in which was reached through a dozen additions still is `>= 5/8 in`.
 * Where an operation has no value (0/0, the root of a negative number, outside a table) the result
 * is NaN, and NaN spreads to everything that uses it; nothing here throws.
 *
 * Must not know: equations, variables, systems.
 *
 *   evaluate(tapeOf({ op: "slot", index: 0 }), Float64Array.of(7), [0])   // 7
 */
import type { LookupCurve } from "./expression";
import {
  ABS,
  ACOS,
  ADD,
  AND,
  ASIN,
  AT_LEAST,
  AT_MOST,
  ATAN,
  ATAN2,
  CEIL,
  COS,
  DIVIDE,
  EQUAL,
  EXP,
  FLOOR,
  IF,
  LESS,
  LOG,
  LOOKUP,
  MAX,
  MIN,
  MORE,
  MULTIPLY,
  NEGATE,
  NOT,
  OR,
  POWER,
  ROUND,
  SIN,
  SQRT,
  SUBTRACT,
  TAN,
  type Tape,
  UNEQUAL,
} from "./tape";

/** Two numbers closer than this, relative to the larger, count as equal. */
export const CLOSE = 1e-9;
/** Value of a tape's (first) result; `variables[i]` says where in `values` slot i is found. */
export function evaluate(tape: Tape, values: Float64Array, variables: ArrayLike<number>): number {
  load(tape, values, variables);
  run(tape);
  return tape.work[tape.results[0]!]!;
}

/** Puts the slots' values on the tape. */
export function load(tape: Tape, values: Float64Array, variables: ArrayLike<number>): void {
  const { work, slotPositions, slotIndices } = tape;
  for (let i = 0; i < slotPositions.length; i++) {
    work[slotPositions[i]!] = values[variables[slotIndices[i]!]!]!;
  }
}

/** Runs the operations over whatever the slots hold. */
export function run(tape: Tape): void {
  const { codes, first, second, third, work } = tape;
  for (let i = tape.start; i < codes.length; i++) {
    const a = work[first[i]!]!;
    const b = work[second[i]!]!;
    switch (codes[i]) {
      case ADD:
        work[i] = a + b;
        break;
      case SUBTRACT:
        work[i] = a - b;
        break;
      case MULTIPLY:
        work[i] = a * b;
        break;
      case DIVIDE:
        work[i] = b === 0 ? Number.NaN : a / b;
        break;
      case NEGATE:
        work[i] = -a;
        break;
      case IF:
        work[i] = Number.isNaN(a) ? Number.NaN : a === 1 ? b : work[third[i]!]!;
        break;
      case LOOKUP:
        work[i] = lookUp(tape.curves[i]!, a);
        break;
      default:
        work[i] = apply(codes[i]!, a, b);
    }
  }
}

function apply(code: number, a: number, b: number): number {
  switch (code) {
    case POWER:
      return finite(a ** b);
    case ABS:
      return Math.abs(a);
    case SQRT:
      return Math.sqrt(a);
    case MIN:
      return Math.min(a, b);
    case MAX:
      return Math.max(a, b);
    case EXP:
      return finite(Math.exp(a));
    case LOG:
      return finite(Math.log(a));
    case SIN:
      return Math.sin(a);
    case COS:
      return Math.cos(a);
    case TAN:
      return Math.tan(a);
    case ASIN:
      return Math.asin(a);
    case ACOS:
      return Math.acos(a);
    case ATAN:
      return Math.atan(a);
    case ATAN2:
      return Math.atan2(a, b);
    case ROUND:
      return toStep(a, b, roundHalfAway);
    case FLOOR:
      return toStep(a, b, Math.floor);
    case CEIL:
      return toStep(a, b, Math.ceil);
    case AT_LEAST:
      return Number.isNaN(a - b) ? Number.NaN : a >= b || close(a, b) ? 1 : 0;
    case AT_MOST:
      return Number.isNaN(a - b) ? Number.NaN : a <= b || close(a, b) ? 1 : 0;
    case MORE:
      return Number.isNaN(a - b) ? Number.NaN : a > b && !close(a, b) ? 1 : 0;
    case LESS:
      return Number.isNaN(a - b) ? Number.NaN : a < b && !close(a, b) ? 1 : 0;
    case EQUAL:
      return Number.isNaN(a - b) ? Number.NaN : close(a, b) ? 1 : 0;
    case UNEQUAL:
      return Number.isNaN(a - b) ? Number.NaN : close(a, b) ? 0 : 1;
    // A false side settles an "and", a true side an "or", whatever the other side may be.
    case AND:
      return a === 0 || b === 0 ? 0 : a * b;
    case OR:
      return a === 1 || b === 1 ? 1 : a + b;
    case NOT:
      return 1 - a;
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

function roundHalfAway(value: number): number {
  return Math.sign(value) * Math.floor(Math.abs(value) + 0.5 + CLOSE);
}

function toStep(value: number, step: number, way: (value: number) => number): number {
  const size = Math.abs(step);
  const count = value / size;
  if (size === 0 || !Number.isFinite(count)) return Number.NaN;
  const nearest = Math.round(count);
  return (close(nearest, count) ? nearest : way(count)) * size;
}

/** Value of a curve at a key, or NaN where it has none. */
export function lookUp(curve: LookupCurve, key: number): number {
  const { keys, values } = curve;
  const at = segmentOf(curve, key);
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
export function segmentOf(curve: LookupCurve, key: number): number {
  const { keys } = curve;
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
