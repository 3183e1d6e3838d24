/**
 * How far the work has come: which steps and joints the records show as done.
 *
 * Must not know: what is wrong with the records, how anything is worded.
 */
import type { Joint, Plan, Step } from "./plan";
import { type DoneEvent, type Entry, type Event, isBefore, type JointEvent } from "./read-records";

/** Below this share of its torque a joint without a pass number is not counted as tightened. */
const nearlyFull = 0.9;

export class Progress {
  private readonly doneEvents = new Map<Step, DoneEvent[]>();
  private readonly jointEvents = new Map<Joint, JointEvent[]>();
  readonly measured = new Map<string, Entry[]>();

  constructor(
    private readonly plan: Plan,
    readonly events: readonly Event[],
  ) {
    for (const event of events) {
      if (event.is === "done") push(this.doneEvents, event.step, event);
      else if (event.is === "joint") push(this.jointEvents, event.joint, event);
      else push(this.measured, event.path, event);
    }
  }

  /** When a step was last finished; a step with steps inside is finished with the last of them. */
  lastDone(step: Step): Entry | undefined {
    return this.done(step, "last", new Set());
  }

  firstDone(step: Step): Entry | undefined {
    return this.done(step, "first", new Set());
  }

  joint(joint: Joint): readonly JointEvent[] {
    return this.jointEvents.get(joint) ?? [];
  }

  /** The events that brought a joint to its whole torque. */
  full(joint: Joint): readonly JointEvent[] {
    return this.joint(joint).filter((event) => isFull(event));
  }

  rechecked(joint: Joint): Entry | undefined {
    return this.joint(joint).find((event) => event.rechecked === true);
  }

  /** Passes of a joint that are on record, ascending. */
  passes(joint: Joint): number[] {
    const numbers = this.joint(joint).flatMap((event) => event.pass ?? []);
    return [...new Set(numbers)].sort((one, other) => one - other);
  }

  private done(step: Step, which: "first" | "last", seen: Set<Step>): Entry | undefined {
    if (seen.has(step)) return undefined;
    seen.add(step);
    const own = this.doneEvents.get(step) ?? [];
    const undone = own[own.length - 1]?.done === false;
    if (undone) return undefined;
    const finished = own.filter((event) => event.done);
    if (finished.length > 0) return which === "first" ? finished[0] : finished[finished.length - 1];
    if (step.inside.length === 0) return this.withWhole(step);
    let last = this.withWhole(step);
    if (last !== undefined) return last;
    for (const index of step.inside) {
      const child = this.plan.steps[index];
      if (child?.leftOut !== undefined) continue;
      const entry = child === undefined ? undefined : this.done(child, which, seen);
      if (entry === undefined) return undefined;
      if (last === undefined || isBefore(last, entry) || last.place < entry.place) last = entry;
    }
    return last;
  }

  /** Whoever puts a whole procedure on record as done has done its steps. */
  private withWhole(step: Step): Entry | undefined {
    const seen = new Set<number>();
    const queue = [...step.within];
    for (let index = queue.shift(); index !== undefined; index = queue.shift()) {
      const whole = this.plan.steps[index];
      if (whole === undefined || seen.has(index)) continue;
      seen.add(index);
      const events = this.doneEvents.get(whole) ?? [];
      const last = events[events.length - 1];
      if (last?.done === true) return last;
      queue.push(...whole.within);
    }
    return undefined;
  }
}

/** Whether an event brought its joint to the whole torque: by its pass, else by its torque. */
export function isFull(event: JointEvent): boolean {
  const { joint, pass, torque } = event;
  if (pass !== undefined) return (joint.passes[pass - 1]?.share ?? 0) >= 1 - 1e-6;
  if (torque === undefined) return false;
  return joint.torque === undefined || torque.value >= nearlyFull * joint.torque;
}

// ───────────────────────────── helpers ─────────────────────────────

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key) ?? [];
  map.set(key, list);
  list.push(value);
}
