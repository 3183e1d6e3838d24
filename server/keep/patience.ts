/**
 * How long whoever asked for a piece of work waits for it: asked between its parts, so that each part
 * is made whole or not at all.
 *
 *     pause(patience)          throws where nobody waits any longer; what is made by then is kept
 *     patience.isUp()      →   true where the time is used up: what is not made is left out, and told
 *
 * Must not know: clocks, who waits, what is made.
 */
export interface Patience {
  /** Nobody waits for the answer: it was taken back, or what it is about has changed. */
  isTakenBack(): boolean;
  /** The time there was is used up. */
  isUp(): boolean;
  /** How much there was, in seconds. */
  readonly seconds: number;
}

export const endless: Patience = {
  isTakenBack: () => false,
  isUp: () => false,
  seconds: Number.POSITIVE_INFINITY,
};

/** Thrown where nobody waits. */
export class TakenBack extends Error {
  constructor() {
    super("nobody waits for this any longer");
  }
}

export function pause(patience: Patience): void {
  if (patience.isTakenBack()) throw new TakenBack();
}
