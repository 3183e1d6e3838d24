/**
 * Tapes run over intervals: what a formula can come to while its inputs keep within theirs. Rounded
 * outward, so that it holds to the last bit.
 *
 *   loadRanges(tape, low, high, [0]); runRanges(tape);
 *   rangesOf(tape).high[tape.results[0]]   // no value of the formula lies above
 *
 * A comparison that holds somewhere and not elsewhere is the interval from 0 to 1. Comparisons and
 * `round` forgive rounding as single numbers do, by the sizes of the last run over such.
 *
 * Must not know: equations, variables, systems.
 */
import { spend } from "../keep/patience";
import { CLOSE, lookUp, toStep } from "./evaluate";
import type { LookupCurve } from "./expression";
import {
  absolute,
  add,
  angle,
  arcCosine,
  arcSine,
  arcTangent,
  divide,
  exponential,
  hull,
  logarithm,
  multiply,
  power,
  set,
  square,
  squareRoot,
  subtract,
  tangent,
  wave,
} from "./interval";
import { NOISE } from "./rounding-noise";
import * as op from "./tape";
import { rangesOf, type Tape } from "./tape";

/** Puts the slots' ranges on the tape; `variables[i]` says where in `low` and `high` slot i is found. */
export function loadRanges(
  tape: Tape,
  low: Float64Array,
  high: Float64Array,
  variables: ArrayLike<number>,
): void {
  const ranges = rangesOf(tape);
  const { slotPositions, slotIndices } = tape;
  for (let i = 0; i < slotPositions.length; i++) {
    const variable = variables[slotIndices[i]!]!;
    ranges.low[slotPositions[i]!] = low[variable]!;
    ranges.high[slotPositions[i]!] = high[variable]!;
  }
}

/** Runs the operations over whatever ranges the slots hold. */
export function runRanges(tape: Tape): void {
  const ranges = rangesOf(tape);
  const { low, high } = ranges;
  const { codes, first, second } = tape;
  spend(codes.length);
  // Which operations lack a value somewhere; told of those that the result takes in.
  let partial: Set<number> | undefined;
  for (let i = tape.start; i < codes.length; i++) {
    const a = first[i]!;
    const b = second[i]!;
    const al = low[a]!;
    const ah = high[a]!;
    const bl = low[b]!;
    const bh = high[b]!;
    let lacks = false;
    switch (codes[i]) {
      case op.ADD:
        if (a === b) multiply(low, high, i, 2, 2, al, ah);
        else add(low, high, i, al, ah, bl, bh);
        break;
      case op.SUBTRACT:
        if (a === b && !Number.isNaN(al)) set(low, high, i, 0, 0);
        else subtract(low, high, i, al, ah, bl, bh);
        break;
      case op.MULTIPLY:
        if (a === b) square(low, high, i, al, ah);
        else multiply(low, high, i, al, ah, bl, bh);
        break;
      case op.DIVIDE:
        lacks = divide(low, high, i, al, ah, bl, bh);
        if (a === b && !Number.isNaN(low[i]!)) set(low, high, i, 1, 1);
        break;
      case op.NEGATE:
        set(low, high, i, -ah, -al);
        break;
      case op.POWER:
        lacks = power(low, high, i, al, ah, bl, bh);
        break;
      case op.ABS:
        absolute(low, high, i, al, ah);
        break;
      case op.SQRT:
        lacks = squareRoot(low, high, i, al, ah);
        break;
      case op.MIN:
        set(low, high, i, Math.min(al, bl), Math.min(ah, bh));
        break;
      case op.MAX:
        set(low, high, i, Math.max(al, bl), Math.max(ah, bh));
        break;
      case op.EXP:
        lacks = exponential(low, high, i, al, ah);
        break;
      case op.LOG:
        lacks = logarithm(low, high, i, al, ah);
        break;
      case op.SIN:
        lacks = wave(low, high, i, al, ah, 0);
        break;
      case op.COS:
        lacks = wave(low, high, i, al, ah, 1);
        break;
      case op.TAN:
        lacks = tangent(low, high, i, al, ah);
        break;
      case op.ASIN:
        lacks = arcSine(low, high, i, al, ah);
        break;
      case op.ACOS:
        lacks = arcCosine(low, high, i, al, ah);
        break;
      case op.ATAN:
        arcTangent(low, high, i, al, ah);
        break;
      case op.ATAN2:
        lacks = angle(low, high, i, al, ah, bl, bh);
        break;
      case op.ROUND:
      case op.FLOOR:
      case op.CEIL:
        lacks = steps(tape, i);
        break;
      case op.LOOKUP:
        lacks = lookUpRange(tape.curves[i]!, low, high, i, al, ah);
        break;
      case op.IF:
        lacks = branch(tape, i, partial);
        break;
      default:
        decide(tape, i);
    }
    if (Number.isNaN(low[i]!)) lacks = true;
    if (!lacks && partial !== undefined && codes[i] !== op.IF) {
      lacks = partial.has(a) || partial.has(b);
    }
    if (lacks) {
      partial ??= new Set();
      partial.add(i);
    }
  }
  ranges.partial = false;
  if (partial === undefined) return;
  for (const result of tape.results) if (partial.has(result)) ranges.partial = true;
}

/** `round`, `floor`, `ceil` rise with their input, for a step that is one number. */
function steps(tape: Tape, i: number): boolean {
  const { low, high } = rangesOf(tape);
  const a = tape.first[i]!;
  const b = tape.second[i]!;
  const al = low[a]!;
  const ah = high[a]!;
  if (Number.isNaN(al) || Number.isNaN(low[b]!)) {
    set(low, high, i, Number.NaN, Number.NaN);
    return true;
  }
  const size = Math.max(Math.abs(low[b]!), Math.abs(high[b]!));
  if (low[b] !== high[b] || size === 0 || !Number.isFinite(al) || !Number.isFinite(ah)) {
    // A step that varies rounds by at most the largest of it.
    add(low, high, i, al, ah, -size, size);
    return low[b]! <= 0 && high[b]! >= 0;
  }
  const code = tape.codes[i]!;
  const noise = NOISE * tape.sizes[a]! || 0;
  const least = toStep(code, al, low[b]!, noise);
  const most = toStep(code, ah, low[b]!, noise);
  low[i] = least - Math.abs(least) * 4e-16;
  high[i] = most + Math.abs(most) * 4e-16;
  return false;
}

function branch(tape: Tape, i: number, partial: ReadonlySet<number> | undefined): boolean {
  const { low, high } = rangesOf(tape);
  const condition = tape.first[i]!;
  const yes = tape.second[i]!;
  const no = tape.third[i]!;
  const unsure = partial?.has(condition) ?? false;
  if (low[condition] === 1) {
    set(low, high, i, low[yes]!, high[yes]!);
    return unsure || (partial?.has(yes) ?? false);
  }
  if (high[condition] === 0) {
    set(low, high, i, low[no]!, high[no]!);
    return unsure || (partial?.has(no) ?? false);
  }
  hull(low, high, i, low[yes]!, high[yes]!, low[no]!, high[no]!);
  const lacks = (each: number): boolean =>
    Number.isNaN(low[each]!) || (partial?.has(each) ?? false);
  return unsure || lacks(yes) || lacks(no);
}

/** Comparisons and what joins them: 1, 0, or from 0 to 1 where both can be. */
function decide(tape: Tape, i: number): void {
  const { low, high } = rangesOf(tape);
  const a = tape.first[i]!;
  const b = tape.second[i]!;
  const al = low[a]!;
  const ah = high[a]!;
  const bl = low[b]!;
  const bh = high[b]!;
  // Of what has no value nothing can be told; what joins comparisons always has one.
  if (Number.isNaN(al) || Number.isNaN(bl)) {
    set(low, high, i, 0, 1);
    return;
  }
  // Rounding is forgiven as it is where single numbers are compared.
  const noise = NOISE * (tape.sizes[a]! + tape.sizes[b]!) || 0;
  const say = (surely: boolean, possibly: boolean): void =>
    set(low, high, i, surely ? 1 : 0, possibly ? 1 : 0);
  switch (tape.codes[i]) {
    case op.AT_LEAST:
      say(al >= bh - noise, ah >= bl - 2 * noise);
      break;
    case op.AT_MOST:
      say(ah <= bl + noise, al <= bh + 2 * noise);
      break;
    case op.MORE:
      say(al > bh + 2 * noise, ah > bl + noise);
      break;
    case op.LESS:
      say(ah < bl - 2 * noise, al < bh - noise);
      break;
    case op.EQUAL:
      say(ah - bl <= noise && bh - al <= noise, al <= bh + 2 * noise && bl <= ah + 2 * noise);
      break;
    case op.UNEQUAL:
      say(al > bh + 2 * noise || bl > ah + 2 * noise, !(ah - bl <= noise && bh - al <= noise));
      break;
    case op.AND:
      set(low, high, i, Math.min(al, bl), Math.min(ah, bh));
      break;
    case op.OR:
      set(low, high, i, Math.max(al, bl), Math.max(ah, bh));
      break;
    default:
      // NOT.
      set(low, high, i, 1 - ah, 1 - al);
  }
}

/** All that a table says between two keys. */
function lookUpRange(
  curve: LookupCurve,
  low: Float64Array,
  high: Float64Array,
  i: number,
  from: number,
  to: number,
): boolean {
  const count = Math.min(curve.keys.length, curve.values.length);
  let least = Number.NaN;
  let most = Number.NaN;
  const see = (value: number): void => {
    if (Number.isNaN(value)) return;
    if (!(least <= value)) least = value;
    if (!(most >= value)) most = value;
  };
  const one = lookUp(curve, from);
  const other = lookUp(curve, to);
  see(one);
  see(other);
  for (let at = 0; at < count; at++) {
    const key = curve.keys[at]!;
    // A key that is just missed by rounding may count.
    const slack = curve.method === "linear" ? 0 : CLOSE * Math.abs(key);
    if (key >= from - slack && key <= to + slack) see(curve.values[at]!);
  }
  const straight = curve.method === "linear";
  low[i] = straight ? least - Math.abs(least) * 1e-15 : least;
  high[i] = straight ? most + Math.abs(most) * 1e-15 : most;
  const ends = Number.isNaN(one) || Number.isNaN(other);
  return ends || (curve.method === "exact" && from !== to);
}
