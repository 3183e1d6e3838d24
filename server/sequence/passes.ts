/**
 * The passes in which a joint is brought to its torque.
 *
 *     passesOf([0.3, 0.7, 1], 80)   →   24, 56 and 80, then once round at 80
 *
 * Must not know: things, units, how a pass is written.
 */

export interface Pass {
  /** Counted from 1. */
  readonly number: number;
  /** Share of the joint's torque. */
  readonly share: number;
  /** In the unit of the torque given; `undefined` where the torque is open. */
  readonly torque: number | undefined;
  /** True for the closing pass that goes round from one fastener to the next. */
  readonly circular: boolean;
  /** In rad: set for the pass in which each is turned on instead of brought to a torque. */
  readonly turn?: number;
}

/** Shares closer than this are one and the same. */
const close = 1e-6;

/**
 * `circular`: whether a closing pass at full torque goes once round; `turn`, in rad: how far each is
 * turned on after that.
 */
export function passesOf(
  shares: readonly number[],
  torque: number | undefined,
  circular = true,
  turn?: number,
): Pass[] {
  const passes = shares.map(
    (share, index): Pass => ({
      number: index + 1,
      share,
      torque: torque === undefined ? undefined : share * torque,
      circular: false,
    }),
  );
  if (circular && passes.length > 0) {
    passes.push({ number: passes.length + 1, share: 1, torque, circular: true });
  }
  if (turn !== undefined && passes.length > 0) {
    passes.push({ number: passes.length + 1, share: 1, torque, circular: false, turn });
  }
  return passes;
}

export type PassProblem =
  | { readonly is: "none" }
  | { readonly is: "falls"; readonly pass: number }
  | { readonly is: "not-full"; readonly share: number }
  | { readonly is: "beyond"; readonly pass: number; readonly share: number };

/** Whether shares climb, end at the whole torque and never pass it; `slack` as a share. */
export function passProblem(shares: readonly number[], slack = close): PassProblem | undefined {
  if (shares.length === 0) return { is: "none" };
  for (const [index, share] of shares.entries()) {
    const before = shares[index - 1];
    if (share > 1 + slack) return { is: "beyond", pass: index + 1, share };
    if (share <= 0 || (before !== undefined && share <= before + close)) {
      return { is: "falls", pass: index + 1 };
    }
  }
  const last = shares[shares.length - 1] ?? 0;
  return last < 1 - slack ? { is: "not-full", share: last } : undefined;
}
