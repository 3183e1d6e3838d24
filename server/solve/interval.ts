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
  if (al === ah && (al === 1 || al === -1 || al === 0)) {
    low[i] = al === 1 ? bl : al === 0 ? 0 : -bh;
    high[i] = al === 1 ? bh : al === 0 ? 0 : -bl;
    return;
  }
  if (bl === bh && (bl === 1 || bl === -1 || bl === 0)) {
    low[i] = bl === 1 ? al : bl === 0 ? 0 : -ah;
    high[i] = bl === 1 ? ah : bl === 0 ? 0 : -al;
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
  const least = al > 0 ? al * al : ah < 0 ? ah * ah : 0;
  const most = Math.max(al * al, ah * ah);
  low[i] = least === 0 ? least : Math.max(0, down(least));
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
  if (al >= 0) set(low, high, i, al, ah);
  else if (ah <= 0) set(low, high, i, -ah, -al);
  else if (Number.isNaN(al)) empty(low, high, i);
  else set(low, high, i, 0, Math.max(-al, ah));
}

export function squareRoot(low: Places, high: Places, i: number, al: number, ah: number): boolean {
  if (!(ah >= 0)) return empty(low, high, i);
  low[i] = al > 0 ? Math.max(0, down(Math.sqrt(al))) : 0;
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
  low[i] = al > 0 ? downTwice(Math.log(al)) : Number.NEGATIVE_INFINITY;
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
  if (bl !== bh && al < 0 && Math.floor(bh) >= bl) {
    set(low, high, i, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
    return true;
  }
  if (ah < 0) return empty(low, high, i);
  const from = Math.max(0, al);
  const corners = [from ** bl, from ** bh, ah ** bl, ah ** bh];
  let least = Math.min(...corners);
  let most = Math.max(...corners);
  // x ^ y is 1 where the base is 1 or the exponent 0, whatever the other is.
  if ((from < 1 && ah > 1) || (bl < 0 && bh > 0)) {
    least = Math.min(least, 1);
    most = Math.max(most, 1);
  }
  low[i] = least === 0 ? 0 : Math.max(0, downTwice(least));
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
  if (exponent === 0) {
    set(low, high, i, 1, 1);
    return false;
  }
  if (exponent === 1) {
    set(low, high, i, al, ah);
    return false;
  }
  if (exponent < 0) {
    const size = -exponent;
    if (size === 1) set(low, high, i, al, ah);
    else wholePower(low, high, i, al, ah, size);
    return divide(low, high, i, 1, 1, low[i]!, high[i]!);
  }
  const even = exponent % 2 === 0;
  const one = al ** exponent;
  const other = ah ** exponent;
  if (!even || al >= 0) {
    low[i] = one === 0 ? 0 : downTwice(one);
    high[i] = other === 0 ? 0 : upTwice(other);
    if (even) low[i] = Math.max(0, low[i]!);
  } else if (ah <= 0) {
    low[i] = other === 0 ? 0 : Math.max(0, downTwice(other));
    high[i] = upTwice(one);
  } else set(low, high, i, 0, upTwice(Math.max(one, other)));
  return false;
}

const QUARTER = Math.PI / 2;

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
  // Far from 0 a turn is no longer told from its neighbors.
  if (!(ah - al < 6) || Math.abs(al) > 1e8 || Math.abs(ah) > 1e8) {
    set(low, high, i, -1, 1);
    return !Number.isFinite(al) || !Number.isFinite(ah);
  }
  // Crests stand at whole turns from the first, troughs half a turn further.
  const crest = 1 - quarters;
  const from = al / QUARTER - crest;
  const to = ah / QUARTER - crest;
  const slack = 1e-14 * (1 + Math.abs(from) + Math.abs(to));
  const reaches = (at: number): boolean =>
    Math.ceil((from - slack - at) / 4) <= Math.floor((to + slack - at) / 4);
  const one = of(al);
  const other = of(ah);
  low[i] = reaches(2) ? -1 : Math.max(-1, downTwice(Math.min(one, other)));
  high[i] = reaches(0) ? 1 : Math.min(1, upTwice(Math.max(one, other)));
  return false;
}

export function tangent(low: Places, high: Places, i: number, al: number, ah: number): boolean {
  if (Number.isNaN(al)) return empty(low, high, i);
  const turns = (x: number): number => (x / QUARTER - 1) / 2;
  const from = turns(al);
  const to = turns(ah);
  const slack = 1e-14 * (1 + Math.abs(from) + Math.abs(to));
  if (!(ah - al < 4) || Math.ceil(from - slack) <= Math.floor(to + slack)) {
    set(low, high, i, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
    return true;
  }
  set(low, high, i, downTwice(Math.tan(al)), upTwice(Math.tan(ah)));
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
