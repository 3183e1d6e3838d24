/**
 * How long whoever asked for a piece of work waits for it: asked between its parts, so that each part
 * is made whole or not at all.
 *
 *     pause(patience)          throws where nobody waits any longer; what is made by then is kept
 *     pause()                  the same within work that ends by itself, such as a search of so many boxes
 *     patience.isUp()      →   true where the time is used up: what is not made is left out, and told
 *     goOn()                   within a part that may be long, each time round: throws where nobody
 *                              waits, or where the time is used up
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

/** Thrown within a part there is no time to end: who asked for the part leaves it out. */
export class TimeUp extends Error {
  constructor(seconds: number) {
    super(`the ${seconds} s there are for reading this build are used up`);
  }
}

/** Of whoever waits for what is worked on now: one thread works on one thing at a time. */
let asked: Patience = endless;
let steps = 0;

export function pause(patience = asked): void {
  if (patience.isTakenBack()) throw new TakenBack();
}

export function workFor(patience: Patience): void {
  asked = patience;
}

/** Costs next to nothing: clocks are looked at once in so many times. */
export function goOn(): void {
  if (++steps % stepsEach !== 0) return;
  pause(asked);
  if (asked.isUp()) throw new TimeUp(asked.seconds);
}

const stepsEach = 256;
