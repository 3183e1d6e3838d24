/**
 * What became of one joint, entry by entry: rounds of tightening with their passes, whether it is
 * tight now, when it was checked again.
 *
 *     const history = historyOf(joint, events, judge);
 *     history.isFull; history.lacks   →   false, [{ is: "passes", passes: [3, 4] }]
 *
 * A round begins with the first pass, with an entry that brings it to its torque in one go, or after
 * it was undone. A joint that was tightened wrongly is not tightened. Must not know: steps, how
 * anything is worded.
 */

import type { Lack } from "../findings/work-phrases";
import { Alike } from "../keep/alike";
import { isAbove, isWhole } from "./close";
import { counts } from "./counts";
import { isBefore, type JointEvent } from "./entries";
import type { Joint } from "./plan";
import { isSame } from "./same";
import { upTo } from "./tightening-order";
import type { Judge, Judgment } from "./torque-judgment";

/** One go at it, from the first pass to the last. */
export interface Round {
  readonly events: readonly JointEvent[];
  /** The entry with which it was brought to its whole torque. */
  readonly completed?: JointEvent;
  /** Passes below the highest on record that are not on record themselves. */
  readonly skipped: readonly number[];
  /** Fasteners left out in a pass, at the last entry of that pass. */
  readonly left: readonly { readonly event: JointEvent; readonly bolts: readonly number[] }[];
}

/** Kept as long as the joint, what is on record of it and how that is judged are the same. */
export function historyOf(joint: Joint, events: readonly JointEvent[], judge: Judge): JointHistory {
  const judgments = events.map(judge);
  const known = histories.find(
    joint,
    (each) =>
      each.events.length === events.length &&
      each.events.every(
        (event, at) => event === events[at] && isSame(each.judgment(event), judgments[at]),
      ),
  );
  if (known !== undefined) return known;
  counts.histories++;
  const judged = new Map(events.map((event, at) => [event, judgments[at]!]));
  return histories.keep(joint, new JointHistory(joint, events, judged));
}

const histories = new Alike<Joint, JointHistory>(3);
/** Of an entry that names none of them. */
const everyOne: ReadonlySet<number> = new Set();

/** Key of what was tightened in one go, without a pass number. */
const inOneGo = 0;
/** Key of what was brought to a share of its torque that is none of its passes. */
const partWay = -1;

export class JointHistory {
  readonly rounds: readonly Round[];
  /** Passes that go down again although nothing was undone. */
  readonly falling: readonly { readonly event: JointEvent; readonly from: number }[];
  /** Entries with which the joint was brought to its whole torque, one for each round. */
  readonly completions: readonly JointEvent[];
  readonly rechecks: readonly JointEvent[];
  /** What keeps it from being tight now; empty where it is. */
  readonly lacks: readonly Lack[];
  private readonly roundOf = new Map<JointEvent, number>();
  private lastComplete = -1;

  constructor(
    readonly joint: Joint,
    readonly events: readonly JointEvent[],
    private readonly judgments: ReadonlyMap<JointEvent, Judgment>,
  ) {
    const drafts: Draft[] = [];
    const falling: { event: JointEvent; from: number }[] = [];
    const rechecks: JointEvent[] = [];
    let draft = new Draft(joint);
    let undone: Lack | undefined;
    const begin = (): void => {
      if (draft.events.length > 0) drafts.push(draft);
      draft = new Draft(joint);
    };
    for (const event of inOrder(events)) {
      if (event.loosened === true) {
        begin();
        undone = { is: "loosened" };
      }
      if (event.rechecked !== undefined) {
        if (event.rechecked && event.held !== false && this.isRight(event)) rechecks.push(event);
        else {
          begin();
          undone = { is: "moved" };
        }
        continue;
      }
      if (!tightens(event)) {
        if (event.held !== undefined) draft.hold(event, event.held);
        continue;
      }
      if (draft.beginsAnew(event)) begin();
      const from = draft.fallsFrom(event);
      if (from !== undefined) falling.push({ event, from });
      draft.add(event, this.judgment(event));
      undone = undefined;
    }
    begin();
    this.rounds = drafts.map((each) => each.round());
    for (const [index, round] of this.rounds.entries()) {
      for (const event of round.events) this.roundOf.set(event, index);
      if (round.completed !== undefined) this.lastComplete = index;
    }
    this.falling = falling;
    this.rechecks = rechecks;
    this.completions = this.rounds.flatMap(({ completed }) => completed ?? []);
    this.lacks =
      undone !== undefined ? [undone] : (drafts[drafts.length - 1]?.lacks() ?? [{ is: "nothing" }]);
  }

  get isFull(): boolean {
    return this.lacks.length === 0;
  }

  /** The entry that brought it to its whole torque, where it still stands. */
  get full(): JointEvent | undefined {
    return this.isFull ? this.completions[this.completions.length - 1] : undefined;
  }

  /** Whether the round it is in has it how hard a locking nut turns; once tight, it begins anew. */
  get isRunningRead(): boolean {
    if (this.isFull || this.lacks.some(({ is }) => is === "loosened" || is === "moved"))
      return false;
    return this.rounds.at(-1)?.events.some(({ running }) => running !== undefined) === true;
  }

  /** The last good check since it was last tightened. */
  get rechecked(): JointEvent | undefined {
    const last = this.rechecks[this.rechecks.length - 1];
    const { full } = this;
    return last === undefined || full === undefined || isBefore(last, full) ? undefined : last;
  }

  /** The last entry that brought it at least to a share of its torque. */
  reached(share: number): JointEvent | undefined {
    if (isWhole(share)) return this.full;
    return this.lastOf(
      (event) => !isAbove(share, this.judgment(event).share) && this.isRight(event),
    );
  }

  judgment(event: JointEvent): Judgment {
    return this.judgments.get(event)!;
  }

  /** Whether it was brought to its torque after an entry: what was wrong with that is mended. */
  isMended(event: JointEvent): boolean {
    const last = this.completions[this.completions.length - 1];
    return last !== undefined && last !== event && isBefore(event, last);
  }

  /** Whether it was gone through from the first pass after the round an entry belongs to. */
  isRedone(event: JointEvent): boolean {
    return (this.roundOf.get(event) ?? this.rounds.length) < this.lastComplete;
  }

  private isRight(event: JointEvent): boolean {
    return this.judgment(event).verdict !== "off";
  }

  private lastOf(holds: (event: JointEvent) => boolean): JointEvent | undefined {
    return this.rounds.at(-1)?.events.findLast(holds);
  }
}

/** A round while its entries come in. */
class Draft {
  readonly events: JointEvent[] = [];
  /** By pass, those brought to its torque. */
  private readonly good = new Map<number, ReadonlySet<number>>();
  private readonly last = new Map<number, JointEvent>();
  private completed: JointEvent | undefined;
  private highest = 0;
  private offBy: JointEvent | undefined;
  private turnedBy: JointEvent | undefined;
  private heldBack = false;

  constructor(private readonly joint: Joint) {}

  beginsAnew({ pass }: JointEvent): boolean {
    if (this.events.length === 0) return false;
    if (this.completed !== undefined) {
      // Once more round at full torque belongs to the round.
      const isFull =
        pass !== undefined && pass > 1 && isWhole(this.joint.passes[pass - 1]?.share ?? 0);
      return pass === undefined || (pass <= this.highest && !isFull);
    }
    return pass === 1 && this.isComplete(1);
  }

  /** The higher pass that came before, where that is known. */
  fallsFrom(event: JointEvent): number | undefined {
    // A pass that the joint does not have stands nowhere.
    if (event.pass === undefined || this.joint.passes[event.pass - 1] === undefined)
      return undefined;
    if (event.pass >= this.highest) return undefined;
    const higher = this.last.get(this.highest);
    return higher !== undefined && isBefore(higher, event) ? this.highest : undefined;
  }

  hold(event: JointEvent, held: boolean): void {
    this.heldBack = !held;
    this.events.push(event);
    if (!held) this.completed = undefined;
    else if (this.completed === undefined && this.offBy === undefined && this.isWhole())
      this.completed = event;
  }

  add(event: JointEvent, { share, verdict, turned }: Judgment): void {
    this.events.push(event);
    const key = event.pass ?? this.passOf(event, share);
    this.last.set(key, event);
    if (event.pass !== undefined) this.highest = Math.max(this.highest, event.pass);
    if (event.held !== undefined) this.heldBack = !event.held;
    if (turned === true) this.turnedBy = event;
    if (verdict === "off" || turned === false) {
      this.offBy = event;
      this.good.delete(key);
      this.completed = undefined;
      return;
    }
    if (isWhole(share)) this.offBy = undefined;
    const before = this.good.get(key);
    if (event.bolts === undefined) this.good.set(key, everyOne);
    else if (before !== everyOne) this.good.set(key, new Set([...(before ?? []), ...event.bolts]));
    if (!this.heldBack && this.isWhole()) this.completed = event;
  }

  /** Some fasteners at full torque by themselves were left out in the pass before. */
  private passOf({ bolts }: JointEvent, share: number): number {
    const { passes } = this.joint;
    if (!isWhole(share)) {
      const at = passes.findIndex((pass) => near(pass.share, share));
      return at < 0 ? partWay : at + 1;
    }
    const isFull = isWhole(passes[this.highest - 1]?.share ?? 0);
    return bolts !== undefined && isFull ? this.highest : inOneGo;
  }

  lacks(): Lack[] {
    if (this.completed !== undefined) return [];
    if (this.heldBack) return [{ is: "held" }];
    if (this.offBy !== undefined) return [{ is: "torque" }];
    const { joint } = this;
    const lacks: Lack[] = [];
    if (joint.turn !== undefined && this.turnedBy === undefined) lacks.push({ is: "turn" });
    const bolts = [...this.last.keys()].flatMap((key) => this.missing(key));
    if (bolts.length > 0)
      lacks.push({ is: "bolts", bolts: [...new Set(bolts)].sort((one, other) => one - other) });
    if (!this.good.has(inOneGo)) {
      const passes = this.torquePasses().filter((number) => !this.good.has(number));
      if (passes.length > 0) lacks.push({ is: "passes", passes });
    }
    return lacks.length > 0 ? lacks : [{ is: "nothing" }];
  }

  round(): Round {
    const skipped = this.good.has(inOneGo)
      ? []
      : upTo(this.highest - 1).filter(
          (number) => !this.last.has(number) && this.joint.passes[number - 1] !== undefined,
        );
    // Who went over all of them in one go made good what a pass had left out.
    const told = this.isComplete(inOneGo) ? [] : [...this.last];
    const left = told.flatMap(([key, event]) => {
      const bolts = this.good.has(key) ? this.missing(key) : [];
      return bolts.length === 0 ? [] : [{ event, bolts }];
    });
    return { events: this.events, completed: this.completed, skipped, left };
  }

  private isWhole(): boolean {
    const { joint } = this;
    if (joint.turn !== undefined && this.turnedBy === undefined) return false;
    if (this.isComplete(inOneGo)) return true;
    const passes = this.torquePasses();
    return passes.length > 0 && passes.every((number) => this.isComplete(number));
  }

  /** The turn has an entry of its own, with or without its number. */
  private torquePasses(): number[] {
    return this.joint.passes.filter(({ turn }) => turn === undefined).map(({ number }) => number);
  }

  private isComplete(key: number): boolean {
    return this.good.has(key) && this.missing(key).length === 0;
  }

  private missing(key: number): readonly number[] {
    const bolts = this.good.get(key);
    if (bolts === undefined || bolts === everyOne) return [];
    return upTo(this.joint.count).filter((place) => !bolts.has(place));
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function tightens({ torque, reading, pass, bolts, turned }: JointEvent): boolean {
  return (
    torque !== undefined ||
    reading !== undefined ||
    pass !== undefined ||
    bolts !== undefined ||
    turned !== undefined
  );
}

/** Within a day whose order is not known the passes tell it. */
function inOrder(events: readonly JointEvent[]): readonly JointEvent[] {
  const days: JointEvent[][] = [];
  for (const event of events) {
    const day = days[days.length - 1];
    if (day?.[0] !== undefined && day[0].date === event.date) day.push(event);
    else days.push([event]);
  }
  return days.flatMap((day) => {
    const known = day.every((event, at) => {
      const next = day[at + 1];
      return next === undefined || isBefore(event, next);
    });
    if (known) return day;
    return [...day].sort(
      (one, other) =>
        (one.clock ?? 0) - (other.clock ?? 0) ||
        (one.pass ?? 99) - (other.pass ?? 99) ||
        one.place - other.place,
    );
  });
}

function near(one: number, other: number): boolean {
  return Math.abs(one - other) < 1e-6;
}
