/**
 * Roots of a function of one number by scanning a range and closing in on every change of sign.
 * Finds touching roots too, where the scan sees the function dip towards zero, and tells poles from
 * roots. How fine the scan is bounds what can be missed: two roots closer than 1/256 of the range.
 *
 * Must not know: equations, variables.
 *
 *   rootsOf((x) => x * x - 2, { low: 0, high: 10, scale: 1 })   // [1.4142135623730951]
 */
export interface Search {
  /** May be infinite: then powers of ten of `scale` are scanned on that side. */
  readonly low: number;
  readonly high: number;
  readonly scale: number;
  /** Whether a value of the function is as good as zero at x; given to tell roots from poles. */
  readonly isRoot: (x: number, value: number) => boolean;
}

export interface Roots {
  /** Ascending, all different. */
  readonly roots: readonly number[];
  /** False where the function had no value anywhere on the scan. */
  readonly defined: boolean;
}

const POINTS = 256;

export function rootsOf(value: (x: number) => number, search: Search): Roots {
  const points = scanPoints(search);
  const heights = points.map(value);
  const roots: number[] = [];
  const keep = (x: number): void => {
    if (Number.isFinite(x) && search.isRoot(x, value(x))) roots.push(x);
  };
  let defined = false;
  for (let i = 0; i < points.length; i++) {
    const here = heights[i]!;
    if (Number.isNaN(here)) continue;
    defined = true;
    if (here === 0) keep(points[i]!);
    const after = heights[i + 1];
    if (after !== undefined && here * after < 0) {
      keep(closeIn(value, points[i]!, points[i + 1]!, here, after));
    }
    const before = heights[i - 1];
    if (before === undefined || after === undefined) continue;
    const dips =
      before * here > 0 &&
      after * here > 0 &&
      Math.abs(here) <= Math.abs(before) &&
      Math.abs(here) <= Math.abs(after);
    if (dips) touchingRoots(value, points[i - 1]!, points[i + 1]!, Math.sign(here), keep);
  }
  roots.sort((a, b) => a - b);
  const apart = roots.filter((root, at) => {
    const before = roots[at - 1];
    return before === undefined || Math.abs(root - before) > 1e-7 * (Math.abs(root) + search.scale);
  });
  return { roots: apart, defined };
}

/** Even steps over a finite range, with powers of the scale wherever the range is wide or open. */
function scanPoints({ low, high, scale }: Search): number[] {
  const points: number[] = [];
  if (Number.isFinite(low) && Number.isFinite(high)) {
    for (let i = 0; i <= POINTS; i++) points.push(low + ((high - low) * i) / POINTS);
  }
  const centre =
    low > 0 && Number.isFinite(low) ? low : high < 0 && Number.isFinite(high) ? high : 0;
  for (let i = 0; i <= POINTS; i++) {
    const size = scale * 10 ** (-6 + (15 * i) / POINTS);
    points.push(centre + size, centre - size);
  }
  points.push(centre);
  return [...new Set(points.filter((x) => x >= low && x <= high))].sort((a, b) => a - b);
}

/** Brent's method (1973): inverse interpolation, held in by bisection. */
export function closeIn(
  value: (x: number) => number,
  low: number,
  high: number,
  lowHeight: number,
  highHeight: number,
): number {
  let a = low;
  let b = high;
  let fa = lowHeight;
  let fb = highHeight;
  let c = a;
  let fc = fa;
  let step = b - a;
  let last = step;
  for (let i = 0; i < 200; i++) {
    if (fb * fc > 0) {
      c = a;
      fc = fa;
      step = b - a;
      last = step;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      a = b;
      b = c;
      c = a;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const tolerance = 2 * Number.EPSILON * Math.abs(b) + Number.MIN_VALUE;
    const middle = (c - b) / 2;
    if (fb === 0 || Math.abs(middle) <= tolerance || Number.isNaN(fb)) return b;
    if (Math.abs(last) >= tolerance && Math.abs(fa) > Math.abs(fb)) {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * middle * s;
        q = 1 - s;
      } else {
        const r = fb / fc;
        const t = fa / fc;
        p = s * (2 * middle * t * (t - r) - (b - a) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      if (2 * p < Math.min(3 * middle * q - Math.abs(tolerance * q), Math.abs(last * q))) {
        last = step;
        step = p / q;
      } else {
        step = middle;
        last = middle;
      }
    } else {
      step = middle;
      last = middle;
    }
    a = b;
    fa = fb;
    b += Math.abs(step) > tolerance ? step : middle > 0 ? tolerance : -tolerance;
    fb = value(b);
  }
  return b;
}

/** Follows a dip of |value|: either it crosses zero between scan points, or it touches it. */
function touchingRoots(
  value: (x: number) => number,
  from: number,
  to: number,
  side: number,
  keep: (x: number) => void,
): void {
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = from;
  let high = to;
  let left = high - golden * (high - low);
  let right = low + golden * (high - low);
  let leftHeight = side * value(left);
  let rightHeight = side * value(right);
  for (let i = 0; i < 90 && high - low > 1e-15 * Math.abs(low + high); i++) {
    const crossing = leftHeight < 0 ? left : rightHeight < 0 ? right : undefined;
    if (crossing !== undefined) {
      keep(closeIn(value, from, crossing, value(from), value(crossing)));
      keep(closeIn(value, crossing, to, value(crossing), value(to)));
      return;
    }
    if (leftHeight < rightHeight) {
      high = right;
      right = left;
      rightHeight = leftHeight;
      left = high - golden * (high - low);
      leftHeight = side * value(left);
    } else {
      low = left;
      left = right;
      leftHeight = rightHeight;
      right = low + golden * (high - low);
      rightHeight = side * value(right);
    }
  }
  keep(leftHeight < rightHeight ? left : right);
}
