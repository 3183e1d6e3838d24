/**
 * Arithmetic over intervals, rounded outward, so that what it says of a range is true to the last
 * bit: whatever stands in the operands' ranges, the result stands in the result's.
 *
 * Each operation writes its result into two arrays at one place. An operand of NaN is empty (it has
 * no value anywhere), and so is what comes of it. Where an operation has a value for a part of its
 * operands only, it says so by returning true.
 *
 *   multiply(low, high, 3, -1, 2, 5, 5)   // low[3], high[3] = −5, 10
 *
 * Must not know: tapes, equations, variables.
 */

type Places = Float64Array;

const STEP = 2.3e-16;
const LARGEST = Number.MAX_VALUE;

/** The next number below, or a little lower. */
export function down(x: number): number {
  if (x === Number.POSITIVE_INFINITY) return LARGEST;
  return x - (Math.abs(x) * STEP + Number.MIN_VALUE);
}

export function up(x: number): number {
  if (x === Number.NEGATIVE_INFINITY) return -LARGEST;
  return x + (Math.abs(x) * STEP + Number.MIN_VALUE);
}

/** As `down`, for functions whose last digit the language does not promise. */
function downTwice(x: number): number {
  return down(down(down(x)));
}

function upTwice(x: number): number {
  return up(up(up(x)));
}

export function set(low: Places, high: Places, i: number, from: number, to: number): void {
  low[i] = from;
  high[i] = to;
}

function empty(low: Places, high: Places, i: number): true {
  low[i] = Number.NaN;
  high[i] = Number.NaN;
  return true;
}

/** Adding nothing is exact, and so is a sum that comes to nothing. */
export function add(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  bl: number,
  bh: number,
): void {
  const least = al + bl;
  const most = ah + bh;
  low[i] = bl === 0 ? al : al === 0 ? bl : least === 0 ? 0 : down(least);
  high[i] = bh === 0 ? ah : ah === 0 ? bh : most === 0 ? 0 : up(most);
}

export function subtract(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  bl: number,
  bh: number,
): void {
  add(low, high, i, al, ah, -bh, -bl);
}

/** 0 · ∞ is 0: what is nothing stays nothing however large the other is. */
function times(a: number, b: number): number {
  return a === 0 || b === 0 ? 0 : a * b;
}

export function multiply(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  bl: number,
  bh: number,
): void {
  if (Number.isNaN(al) || Number.isNaN(bl)) {
    empty(low, high, i);
    return;
  }
  if (al === ah && (al === 1 || al === -1)) {
    low[i] = al === 1 ? bl : -bh;
    high[i] = al === 1 ? bh : -bl;
    return;
  }
  if (bl === bh && (bl === 1 || bl === -1)) {
    low[i] = bl === 1 ? al : -ah;
    high[i] = bl === 1 ? ah : -al;
    return;
  }
  const one = times(al, bl);
  const two = times(al, bh);
  const three = times(ah, bl);
  const four = times(ah, bh);
  const least = Math.min(one, two, three, four);
  const most = Math.max(one, two, three, four);
  low[i] = least === 0 ? 0 : down(least);
  high[i] = most === 0 ? 0 : up(most);
}

export function square(low: Places, high: Places, i: number, al: number, ah: number): void {
  const nearest = Math.max(0, al, -ah);
  const most = Math.max(al * al, ah * ah);
  low[i] = Math.max(0, down(nearest * nearest));
  high[i] = most === 0 ? most : up(most);
}

/** Nothing is divided by 0; where the divisor can come to 0 the quotient has no limit. */
export function divide(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  bl: number,
  bh: number,
): boolean {
  if (Number.isNaN(al) || Number.isNaN(bl)) return empty(low, high, i);
  if (bl === 0 && bh === 0) return empty(low, high, i);
  if (bl > 0 || bh < 0) {
    if (bl === 1 && bh === 1) {
      low[i] = al;
      high[i] = ah;
      return false;
    }
    const one = over(al, bl);
    const two = over(al, bh);
    const three = over(ah, bl);
    const four = over(ah, bh);
    const least = Math.min(one, two, three, four);
    const most = Math.max(one, two, three, four);
    low[i] = least === 0 ? 0 : down(least);
    high[i] = most === 0 ? 0 : up(most);
    return false;
  }
  if (al === 0 && ah === 0) {
    set(low, high, i, 0, 0);
    return true;
  }
  const infinite = Number.POSITIVE_INFINITY;
  if (bl === 0 && al >= 0) set(low, high, i, Math.max(0, down(al / bh)), infinite);
  else if (bl === 0 && ah <= 0) set(low, high, i, -infinite, Math.min(0, up(ah / bh)));
  else if (bh === 0 && al >= 0) set(low, high, i, -infinite, Math.min(0, up(al / bl)));
  else if (bh === 0 && ah <= 0) set(low, high, i, Math.max(0, down(ah / bl)), infinite);
  else set(low, high, i, -infinite, infinite);
  return true;
}

/** ∞ / ∞ is 0, the least it can come to beside the other corners. */
function over(a: number, b: number): number {
  const quotient = a / b;
  return Number.isNaN(quotient) ? 0 : quotient;
}

export function absolute(low: Places, high: Places, i: number, al: number, ah: number): void {
  set(low, high, i, Math.max(0, al, -ah), Math.max(-al, ah));
}

export function squareRoot(low: Places, high: Places, i: number, al: number, ah: number): boolean {
  if (!(ah >= 0)) return empty(low, high, i);
  low[i] = Math.max(0, down(Math.sqrt(Math.max(0, al))));
  high[i] = ah === 0 ? 0 : up(Math.sqrt(ah));
  return al < 0;
}

export function exponential(low: Places, high: Places, i: number, al: number, ah: number): boolean {
  if (Number.isNaN(al)) return empty(low, high, i);
  low[i] = Math.max(0, downTwice(Math.exp(al)));
  high[i] = upTwice(Math.exp(ah));
  return high[i] === Number.POSITIVE_INFINITY;
}

export function logarithm(low: Places, high: Places, i: number, al: number, ah: number): boolean {
  if (!(ah > 0)) return empty(low, high, i);
  low[i] = downTwice(Math.log(Math.max(0, al)));
  high[i] = upTwice(Math.log(ah));
  return al <= 0;
}

/** A base below 0 has powers for whole exponents only. */
export function power(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  bl: number,
  bh: number,
): boolean {
  if (Number.isNaN(al) || Number.isNaN(bl)) return empty(low, high, i);
  if (bl === bh && Number.isInteger(bl)) return wholePower(low, high, i, al, ah, bl);
  if (al < 0 && Math.floor(bh) >= bl) {
    set(low, high, i, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
    return true;
  }
  // It rises or falls all along each side; below 0 there is no value, and so it is empty.
  const from = Math.max(0, al);
  const corners = [from ** bl, from ** bh, ah ** bl, ah ** bh];
  const most = Math.max(...corners);
  low[i] = Math.max(0, downTwice(Math.min(...corners)));
  high[i] = most === 0 ? 0 : upTwice(most);
  return al < 0 || most === Number.POSITIVE_INFINITY;
}

function wholePower(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  exponent: number,
): boolean {
  if (exponent < 0) {
    wholePower(low, high, i, al, ah, -exponent);
    return divide(low, high, i, 1, 1, low[i]!, high[i]!);
  }
  if (exponent === 1) {
    set(low, high, i, al, ah);
    return false;
  }
  const even = exponent % 2 === 0;
  const least = (even ? Math.max(0, al, -ah) : al) ** exponent;
  const most = (even ? Math.max(-al, ah) : ah) ** exponent;
  low[i] = least === 0 ? 0 : downTwice(least);
  high[i] = most === 0 ? 0 : upTwice(most);
  return false;
}

const QUARTER = Math.PI / 2;
/** Beyond so many radians a wave may be anything. */
const FAR = 1e7;

/** Sine where `quarters` is 0, cosine where it is 1: the number of quarter turns it runs ahead. */
export function wave(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  quarters: 0 | 1,
): boolean {
  if (Number.isNaN(al)) return empty(low, high, i);
  const of = quarters === 0 ? Math.sin : Math.cos;
  const furthest = Math.max(-al, ah);
  // Nearer by, what rounding hides of a crest is no more than the ends are rounded outward by.
  if (furthest > FAR) {
    set(low, high, i, -1, 1);
    return furthest === Number.POSITIVE_INFINITY;
  }
  // Crests stand at whole turns from the first, troughs half a turn further.
  const crest = 1 - quarters;
  const from = al / QUARTER - crest;
  const to = ah / QUARTER - crest;
  const reaches = (at: number): boolean => Math.ceil((from - at) / 4) <= Math.floor((to - at) / 4);
  const one = of(al);
  const other = of(ah);
  low[i] = reaches(2) ? -1 : Math.max(-1, downTwice(Math.min(one, other)));
  high[i] = reaches(0) ? 1 : Math.min(1, upTwice(Math.max(one, other)));
  return false;
}

/** It rises all along but where it comes to a pole: of less than half a turn it has risen or met one. */
export function tangent(low: Places, high: Places, i: number, al: number, ah: number): boolean {
  if (Number.isNaN(al)) return empty(low, high, i);
  const from = Math.tan(al);
  const to = Math.tan(ah);
  if (!(ah - al <= 3.14) || from > to) {
    set(low, high, i, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
    return true;
  }
  set(low, high, i, downTwice(from), upTwice(to));
  return false;
}

export function arcSine(low: Places, high: Places, i: number, al: number, ah: number): boolean {
  if (!(ah >= -1) || !(al <= 1)) return empty(low, high, i);
  low[i] = downTwice(Math.asin(Math.max(-1, al)));
  high[i] = upTwice(Math.asin(Math.min(1, ah)));
  return al < -1 || ah > 1;
}

export function arcCosine(low: Places, high: Places, i: number, al: number, ah: number): boolean {
  if (!(ah >= -1) || !(al <= 1)) return empty(low, high, i);
  low[i] = Math.max(0, downTwice(Math.acos(Math.min(1, ah))));
  high[i] = upTwice(Math.acos(Math.max(-1, al)));
  return al < -1 || ah > 1;
}

export function arcTangent(low: Places, high: Places, i: number, al: number, ah: number): void {
  low[i] = downTwice(Math.atan(al));
  high[i] = upTwice(Math.atan(ah));
}

/** Angle of the point across `b`, up `a`; where the box lies across the half turn, any angle. */
export function angle(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  bl: number,
  bh: number,
): boolean {
  if (Number.isNaN(al) || Number.isNaN(bl)) return empty(low, high, i);
  if (bl <= 0 && al <= 0 && ah >= 0) {
    set(low, high, i, downTwice(-Math.PI), upTwice(Math.PI));
    return false;
  }
  const corners = [Math.atan2(al, bl), Math.atan2(al, bh), Math.atan2(ah, bl), Math.atan2(ah, bh)];
  low[i] = downTwice(Math.min(...corners));
  high[i] = upTwice(Math.max(...corners));
  return false;
}

/** Everything in either; an empty one adds nothing. */
export function hull(
  low: Places,
  high: Places,
  i: number,
  al: number,
  ah: number,
  bl: number,
  bh: number,
): void {
  if (Number.isNaN(al)) set(low, high, i, bl, bh);
  else if (Number.isNaN(bl)) set(low, high, i, al, ah);
  else set(low, high, i, Math.min(al, bl), Math.max(ah, bh));
}
