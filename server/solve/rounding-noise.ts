/**
 * How much rounding can have gathered in a number: its size is the sum, over every way by which
 * inputs flow into it, of how much each contributes, the ways that cancel counted too. A sum that
 * comes to 1e-17 out of numbers around 3 has the size of those numbers, and is as good as 0.
 *
 * Must not know: tapes' order, equations, variables.
 */
import * as op from "./tape";

/** Differences below this share of the size are rounding: a millionth of an inch is still seen. */
export const NOISE = 1e-12;

/** Size of an operation's result, from its inputs, their sizes, and the result. */
export function sizeOf(
  code: number,
  a: number,
  b: number,
  value: number,
  sizeA: number,
  sizeB: number,
): number {
  const own = Math.abs(value);
  const flowed = flow(code, a, b, own, sizeA, sizeB);
  return Number.isNaN(flowed) ? own : Math.max(flowed, own);
}

function flow(
  code: number,
  a: number,
  b: number,
  value: number,
  sizeA: number,
  sizeB: number,
): number {
  switch (code) {
    case op.ADD:
    case op.SUBTRACT:
      return sizeA + sizeB;
    case op.MULTIPLY:
      return Math.abs(a) * sizeB + Math.abs(b) * sizeA;
    case op.DIVIDE:
      return (sizeA + value * sizeB) / Math.abs(b);
    case op.NEGATE:
    case op.ABS:
    case op.SIN:
    case op.COS:
    case op.ATAN:
      return sizeA;
    case op.MIN:
    case op.MAX:
      return Math.max(sizeA, sizeB);
    case op.SQRT:
      return value > 0 ? sizeA / (2 * value) : 0;
    case op.POWER:
      return a === 0 ? 0 : value * ((Math.abs(b) * sizeA) / Math.abs(a) + logSize(a) * sizeB);
    case op.EXP:
      return value * sizeA;
    case op.LOG:
      return sizeA / Math.abs(a);
    case op.TAN:
      return (1 + value * value) * sizeA;
    case op.ASIN:
    case op.ACOS:
      return Math.abs(a) < 1 ? sizeA / Math.sqrt(1 - a * a) : 0;
    case op.ATAN2:
      return (sizeA * Math.abs(b) + sizeB * Math.abs(a)) / (a * a + b * b);
    case op.LOOKUP:
      return a === 0 ? 0 : (value * sizeA) / Math.abs(a);
    default:
      // Steps and comparisons come out as round as they are.
      return 0;
  }
}

function logSize(a: number): number {
  return a > 0 ? Math.abs(Math.log(a)) : 0;
}
