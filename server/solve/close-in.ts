/**
 * The place between two at which a function of one number changes sign.
 *
 *   closeIn((x) => x * x - 2, 0, 10, -2, 98)   // 1.4142135623730951
 *
 * Must not know: equations, variables.
 */

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
