/**
 * Exact derivatives of a tape by one reverse sweep: all slots at once, for the price of a few
 * evaluations. At a kink (min, max, abs, if, table points) it is the one-sided derivative of the
 * branch taken; `round`, `floor`, `ceil`, step and exact look-ups have derivative 0.
 *
 * Must not know: equations, variables, systems.
 *
 *   differentiate(tape, [1]);   // after a run: d result / d slot stands at the slot's position
 */
import { spend } from "../keep/patience";
import { segmentOf } from "./evaluate";
import {
  ABS,
  ACOS,
  ADD,
  ASIN,
  ATAN,
  ATAN2,
  CONSTANT,
  COS,
  DIVIDE,
  EXP,
  IF,
  LOG,
  LOOKUP,
  MAX,
  MIN,
  MULTIPLY,
  NEGATE,
  POWER,
  SIN,
  SQRT,
  SUBTRACT,
  TAN,
  type Tape,
} from "./tape";

/**
 * Sweeps back over the last run of the tape. `seeds[i]` is the weight of result i; afterwards
 * `tape.adjoint` holds, at each position, d (Σ seeds · results) / d (value there).
 */
export function differentiate(tape: Tape, seeds: readonly number[]): void {
  differentiateAt(tape, tape.results, seeds);
}

/** The same for any positions on the tape instead of its results. */
export function differentiateAt(
  tape: Tape,
  positions: ArrayLike<number>,
  seeds: readonly number[],
): void {
  const { codes, first, second, third, work, adjoint } = tape;
  spend(codes.length);
  adjoint.fill(0);
  for (let i = 0; i < seeds.length; i++) adjoint[positions[i]!]! += seeds[i]!;
  for (let i = codes.length - 1; i >= tape.start; i--) {
    const weight = adjoint[i]!;
    // A branch that was not taken has weight 0; its own derivatives, which may be NaN, do not count.
    if (weight === 0) continue;
    const left = first[i]!;
    const right = second[i]!;
    const a = work[left]!;
    const b = work[right]!;
    const value = work[i]!;
    switch (codes[i]) {
      case ADD:
        adjoint[left]! += weight;
        adjoint[right]! += weight;
        break;
      case SUBTRACT:
        adjoint[left]! += weight;
        adjoint[right]! -= weight;
        break;
      case MULTIPLY:
        adjoint[left]! += weight * b;
        adjoint[right]! += weight * a;
        break;
      case DIVIDE:
        adjoint[left]! += weight / b;
        adjoint[right]! -= (weight * value) / b;
        break;
      case NEGATE:
        adjoint[left]! -= weight;
        break;
      case POWER:
        adjoint[left]! += weight * (b === 0 ? 0 : b * a ** (b - 1));
        // Only a varying exponent needs the logarithm, and only a positive base has one.
        if (codes[right] !== CONSTANT)
          adjoint[right]! += weight * (a === 0 ? 0 : value * Math.log(a));
        break;
      case ABS:
        adjoint[left]! += a < 0 ? -weight : weight;
        break;
      case SQRT:
        adjoint[left]! += weight / (2 * value);
        break;
      case MIN:
        adjoint[a <= b ? left : right]! += weight;
        break;
      case MAX:
        adjoint[a >= b ? left : right]! += weight;
        break;
      case EXP:
        adjoint[left]! += weight * value;
        break;
      case LOG:
        adjoint[left]! += weight / a;
        break;
      case SIN:
        adjoint[left]! += weight * Math.cos(a);
        break;
      case COS:
        adjoint[left]! -= weight * Math.sin(a);
        break;
      case TAN:
        adjoint[left]! += weight * (1 + value * value);
        break;
      case ASIN:
        adjoint[left]! += weight / Math.sqrt(1 - a * a);
        break;
      case ACOS:
        adjoint[left]! -= weight / Math.sqrt(1 - a * a);
        break;
      case ATAN:
        adjoint[left]! += weight / (1 + a * a);
        break;
      case ATAN2: {
        const square = a * a + b * b;
        adjoint[left]! += (weight * b) / square;
        adjoint[right]! -= (weight * a) / square;
        break;
      }
      case IF:
        adjoint[work[left] === 1 ? right : third[i]!]! += weight;
        break;
      case LOOKUP:
        adjoint[left]! += weight * slopeOf(tape, i, a);
        break;
      default:
        // Steps and conditions: flat wherever they have a derivative at all.
        break;
    }
  }
}

function slopeOf(tape: Tape, position: number, key: number): number {
  const curve = tape.curves[position]!;
  if (curve.method !== "linear") return 0;
  const at = segmentOf(curve, key);
  if (at < 0 || at + 1 >= curve.keys.length) return 0;
  return (curve.values[at + 1]! - curve.values[at]!) / (curve.keys[at + 1]! - curve.keys[at]!);
}
