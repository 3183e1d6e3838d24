/**
 * How steep a formula can be while its inputs keep within their ranges: a sweep back over the last run
 * over intervals. An undecided `if` and the slope of a step are told by slopes that cover every branch.
 *
 *   runRanges(tape); slopeRanges(tape, [1]);
 *   rangesOf(tape).slopeHigh[tape.slotPositions[0]]   // nowhere is it steeper in its first slot
 *
 * Must not know: equations, variables, systems.
 */
import { spend } from "../keep/patience";
import { segmentOf } from "./evaluate";
import type { LookupCurve } from "./expression";
import {
  add,
  divide,
  logarithm,
  multiply,
  power,
  set,
  square,
  squareRoot,
  subtract,
  wave,
} from "./interval";
import * as op from "./tape";
import { rangesOf, type Tape } from "./tape";

const INFINITE = Number.POSITIVE_INFINITY;
const scratchLow = new Float64Array(2);
const scratchHigh = new Float64Array(2);

/**
 * Sweeps back over the last run over ranges: afterwards `slopeLow` and `slopeHigh` hold, at each
 * position, all that d result / d (value there) can be. `seeds` weigh the results.
 */
export function slopeRanges(tape: Tape, seeds: readonly number[]): void {
  const ranges = rangesOf(tape);
  const { low, high, slopeLow, slopeHigh } = ranges;
  const { codes, first, second, third } = tape;
  spend(codes.length);
  slopeLow.fill(0);
  slopeHigh.fill(0);
  for (let i = 0; i < seeds.length; i++) {
    slopeLow[tape.results[i]!]! += seeds[i]!;
    slopeHigh[tape.results[i]!]! += seeds[i]!;
  }
  /** Adds weight · [from, to] to what is left of position `at`. */
  const pass = (at: number, wl: number, wh: number, from: number, to: number): void => {
    multiply(scratchLow, scratchHigh, 0, wl, wh, from, to);
    add(slopeLow, slopeHigh, at, slopeLow[at]!, slopeHigh[at]!, scratchLow[0]!, scratchHigh[0]!);
  };
  for (let i = codes.length - 1; i >= tape.start; i--) {
    const wl = slopeLow[i]!;
    const wh = slopeHigh[i]!;
    if (wl === 0 && wh === 0) continue;
    const a = first[i]!;
    const b = second[i]!;
    const al = low[a]!;
    const ah = high[a]!;
    const bl = low[b]!;
    const bh = high[b]!;
    switch (codes[i]) {
      case op.ADD:
        pass(a, wl, wh, 1, 1);
        pass(b, wl, wh, 1, 1);
        break;
      case op.SUBTRACT:
        pass(a, wl, wh, 1, 1);
        pass(b, wl, wh, -1, -1);
        break;
      case op.MULTIPLY:
        pass(a, wl, wh, bl, bh);
        pass(b, wl, wh, al, ah);
        break;
      case op.DIVIDE:
        if (a === b) break;
        divide(scratchLow, scratchHigh, 1, 1, 1, bl, bh);
        if (Number.isNaN(scratchLow[1]!)) set(scratchLow, scratchHigh, 1, -INFINITE, INFINITE);
        pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        if (codes[b] !== op.CONSTANT) {
          multiply(
            scratchLow,
            scratchHigh,
            1,
            low[i]!,
            high[i]!,
            -scratchHigh[1]!,
            -scratchLow[1]!,
          );
          pass(b, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        }
        break;
      case op.NEGATE:
        pass(a, wl, wh, -1, -1);
        break;
      case op.POWER:
        powerSlopes(tape, i, wl, wh, pass);
        break;
      case op.ABS:
        pass(a, wl, wh, al >= 0 ? 1 : -1, ah <= 0 ? -1 : 1);
        break;
      case op.SQRT:
        divide(scratchLow, scratchHigh, 1, 0.5, 0.5, Math.max(0, low[i]!), high[i]!);
        if (Number.isNaN(scratchLow[1]!)) set(scratchLow, scratchHigh, 1, 0, INFINITE);
        pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        break;
      case op.MIN:
      case op.MAX: {
        // Where either can be the one, each has a share in it.
        const lower = codes[i] === op.MIN;
        const first = lower ? ah < bl : al > bh;
        const second = lower ? bh < al : bl > ah;
        if (a === b || first) pass(a, wl, wh, 1, 1);
        else if (second) pass(b, wl, wh, 1, 1);
        else {
          pass(a, wl, wh, 0, 1);
          pass(b, wl, wh, 0, 1);
        }
        break;
      }
      case op.EXP:
        pass(a, wl, wh, low[i]!, high[i]!);
        break;
      case op.LOG:
        divide(scratchLow, scratchHigh, 1, 1, 1, Math.max(0, al), ah);
        if (Number.isNaN(scratchLow[1]!)) set(scratchLow, scratchHigh, 1, 0, INFINITE);
        pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        break;
      case op.SIN:
        wave(scratchLow, scratchHigh, 1, al, ah, 1);
        pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        break;
      case op.COS:
        wave(scratchLow, scratchHigh, 1, al, ah, 0);
        pass(a, wl, wh, -scratchHigh[1]!, -scratchLow[1]!);
        break;
      case op.TAN:
        square(scratchLow, scratchHigh, 1, low[i]!, high[i]!);
        add(scratchLow, scratchHigh, 1, scratchLow[1]!, scratchHigh[1]!, 1, 1);
        pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        break;
      case op.ASIN:
      case op.ACOS:
        arcSlope(al, ah);
        if (codes[i] === op.ASIN) pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        else pass(a, wl, wh, -scratchHigh[1]!, -scratchLow[1]!);
        break;
      case op.ATAN:
        square(scratchLow, scratchHigh, 1, al, ah);
        add(scratchLow, scratchHigh, 1, scratchLow[1]!, scratchHigh[1]!, 1, 1);
        divide(scratchLow, scratchHigh, 1, 1, 1, scratchLow[1]!, scratchHigh[1]!);
        pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        break;
      case op.ATAN2:
        angleSlopes(tape, i, wl, wh, pass);
        break;
      case op.ROUND:
      case op.FLOOR:
      case op.CEIL:
        // Flat, or rising without limit at a step; a step that varies may do either.
        if (!isLevel(tape, i)) {
          pass(a, wl, wh, 0, INFINITE);
          if (bl !== bh) pass(b, wl, wh, -INFINITE, INFINITE);
        }
        break;
      case op.LOOKUP:
        curveSlope(tape.curves[i]!, al, ah);
        pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
        break;
      case op.IF:
        if (al === 1) pass(b, wl, wh, 1, 1);
        else if (ah === 0) pass(third[i]!, wl, wh, 1, 1);
        else {
          pass(b, wl, wh, 0, 1);
          pass(third[i]!, wl, wh, 0, 1);
          pass(a, wl, wh, -INFINITE, INFINITE);
        }
        break;
      default:
        // A comparison that is decided is flat; one that is not passes on that anything may be.
        if (al === ah && bl === bh && low[i] === high[i]) break;
        if (low[i] === high[i]) break;
        pass(a, wl, wh, -INFINITE, INFINITE);
        if (codes[i] !== op.NOT) pass(b, wl, wh, -INFINITE, INFINITE);
    }
  }
}

function isLevel(tape: Tape, i: number): boolean {
  const { low, high } = rangesOf(tape);
  const b = tape.second[i]!;
  const width = high[i]! - low[i]!;
  return low[b] === high[b] && width <= 1e-15 * (Math.abs(low[i]!) + Math.abs(high[i]!));
}

type Pass = (at: number, wl: number, wh: number, from: number, to: number) => void;

function powerSlopes(tape: Tape, i: number, wl: number, wh: number, pass: Pass): void {
  const { low, high } = rangesOf(tape);
  const a = tape.first[i]!;
  const b = tape.second[i]!;
  const bl = low[b]!;
  const bh = high[b]!;
  if (tape.codes[b] === op.CONSTANT) {
    power(scratchLow, scratchHigh, 1, low[a]!, high[a]!, bl - 1, bl - 1);
    if (Number.isNaN(scratchLow[1]!)) set(scratchLow, scratchHigh, 1, -INFINITE, INFINITE);
    multiply(scratchLow, scratchHigh, 1, bl, bl, scratchLow[1]!, scratchHigh[1]!);
    pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
    return;
  }
  if (!(low[a]! > 0)) {
    pass(a, wl, wh, -INFINITE, INFINITE);
    pass(b, wl, wh, -INFINITE, INFINITE);
    return;
  }
  divide(scratchLow, scratchHigh, 1, low[i]!, high[i]!, low[a]!, high[a]!);
  multiply(scratchLow, scratchHigh, 1, bl, bh, scratchLow[1]!, scratchHigh[1]!);
  pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
  logarithm(scratchLow, scratchHigh, 1, low[a]!, high[a]!);
  multiply(scratchLow, scratchHigh, 1, low[i]!, high[i]!, scratchLow[1]!, scratchHigh[1]!);
  pass(b, wl, wh, scratchLow[1]!, scratchHigh[1]!);
}

/** 1 / √(1 − x²) at scratch place 1. */
function arcSlope(al: number, ah: number): void {
  square(scratchLow, scratchHigh, 1, Math.max(-1, al), Math.min(1, ah));
  subtract(scratchLow, scratchHigh, 1, 1, 1, scratchLow[1]!, scratchHigh[1]!);
  squareRoot(scratchLow, scratchHigh, 1, scratchLow[1]!, scratchHigh[1]!);
  divide(scratchLow, scratchHigh, 1, 1, 1, Math.max(0, scratchLow[1]!), scratchHigh[1]!);
  if (Number.isNaN(scratchLow[1]!)) set(scratchLow, scratchHigh, 1, 0, INFINITE);
}

function angleSlopes(tape: Tape, i: number, wl: number, wh: number, pass: Pass): void {
  const { low, high } = rangesOf(tape);
  const a = tape.first[i]!;
  const b = tape.second[i]!;
  const [al, ah, bl, bh] = [low[a]!, high[a]!, low[b]!, high[b]!];
  square(scratchLow, scratchHigh, 0, al, ah);
  square(scratchLow, scratchHigh, 1, bl, bh);
  add(scratchLow, scratchHigh, 1, scratchLow[0]!, scratchHigh[0]!, scratchLow[1]!, scratchHigh[1]!);
  const from = scratchLow[1]!;
  const to = scratchHigh[1]!;
  const slope = (numeratorLow: number, numeratorHigh: number): void => {
    divide(scratchLow, scratchHigh, 1, numeratorLow, numeratorHigh, Math.max(0, from), to);
    if (Number.isNaN(scratchLow[1]!)) set(scratchLow, scratchHigh, 1, -INFINITE, INFINITE);
  };
  // Across the half turn the angle jumps.
  const jumps = bl <= 0 && al <= 0 && ah >= 0;
  if (jumps) {
    pass(a, wl, wh, -INFINITE, INFINITE);
    pass(b, wl, wh, -INFINITE, INFINITE);
    return;
  }
  slope(bl, bh);
  pass(a, wl, wh, scratchLow[1]!, scratchHigh[1]!);
  slope(-ah, -al);
  pass(b, wl, wh, scratchLow[1]!, scratchHigh[1]!);
}

/** Slopes of a table's segments between two keys, at scratch place 1. */
function curveSlope(curve: LookupCurve, from: number, to: number): void {
  const count = Math.min(curve.keys.length, curve.values.length);
  if (curve.method !== "linear") {
    const one = segmentOf(curve, from);
    const level = one === segmentOf(curve, to);
    if (level) set(scratchLow, scratchHigh, 1, 0, 0);
    else set(scratchLow, scratchHigh, 1, -INFINITE, INFINITE);
    return;
  }
  let least = INFINITE;
  let most = -INFINITE;
  for (let at = 0; at + 1 < count; at++) {
    if (curve.keys[at]! > to || curve.keys[at + 1]! < from) continue;
    const slope =
      (curve.values[at + 1]! - curve.values[at]!) / (curve.keys[at + 1]! - curve.keys[at]!);
    least = Math.min(least, slope);
    most = Math.max(most, slope);
  }
  if (least > most) set(scratchLow, scratchHigh, 1, 0, 0);
  else {
    const room = 1e-15 * Math.max(Math.abs(least), Math.abs(most));
    set(scratchLow, scratchHigh, 1, least - room, most + room);
  }
}
