/**
 * How long whoever asked for a piece of work waits for it: asked between its parts, and within those
 * that may be long, so that each part is made whole or not at all.
 *
 *     pause(patience)          throws where nobody waits any longer; what is made by then is kept
 *     timeIsUp(patience)   →   true where the time is used up: what is not made is left out, and told
 *     goOn(work)               within a part that may be long: throws where nobody waits, or where the
 *                              time is used up
 *     spend(work)              counts work between two of these, and asks nobody
 *     workDone()           →   all that was counted, the same on every machine
 *     inTime(make, otherwise)  what such a part comes to, `otherwise` where there is no time to end it
 *
 * Must not know: clocks, who waits, what is made.
 */
export interface Patience {
  /** Nobody waits for the answer: it was taken back, or what it is about has changed. */
  isTakenBack(): boolean;
  /** The time there was, or a share of it, is used up: once it is, it stays so. */
  isUp(share?: number): boolean;
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
/** Steps from one look at the clock to the next: well below a thousandth of a second. */
const stepsEach = 20_000;
let next = stepsEach;
let spent = 0;
/** For whom something was left out: nothing that was made for them is gone on from. */
const cutShort = new WeakSet<Patience>();

export function pause(patience = asked): void {
  if (patience.isTakenBack()) throw new TakenBack();
}

export function workFor(patience: Patience): void {
  asked = patience;
}

/** Who waits now: the same as long as it is the same question. */
export function patienceAsked(): Patience {
  return asked;
}

/** Asked where something would be left out if it is. */
export function timeIsUp(patience = asked): boolean {
  if (!patience.isUp()) return false;
  cutShort.add(patience);
  return true;
}

/** Whether anything was left out for want of time. */
export function wasCutShort(patience: Patience): boolean {
  return cutShort.has(patience);
}

/**
 * `work`: how many multiplications, or what takes as long, there are to the next time it is asked.
 * Costs next to nothing: clocks are looked at once in so many.
 */
export function goOn(work = 50): void {
  steps += work;
  if (steps < next) return;
  next = steps + stepsEach;
  pause(asked);
  if (timeIsUp(asked)) throw new TimeUp(asked.seconds);
}

/** Work as `goOn` counts it, where nothing may be broken off. */
export function spend(work: number): void {
  spent += work;
}

/** All work that was counted: what a change costs is seen by it, and on a busy machine too. */
export function workDone(): number {
  return steps + spent;
}

/** Of nothing that comes out `otherwise` anything may be kept that outlives the reading. */
export function inTime<T>(make: () => T, otherwise: T): T {
  if (timeIsUp()) return otherwise;
  try {
    return make();
  } catch (error) {
    if (error instanceof TimeUp) return otherwise;
    throw error;
  }
}
