/**
 * Figures that differ by no more than arithmetic does are equal.
 *
 *     isAbove(0.1 + 0.2, 0.3)   →   false
 *
 * Must not know: what is compared.
 */

/** As a share of the limit. */
const slack = 1e-9;

export function isAbove(one: number, limit: number): boolean {
  return one > limit + slack * Math.abs(limit);
}

/** Whether a share of a torque is all of it. */
export function isWhole(share: number): boolean {
  return !isAbove(1, share);
}
