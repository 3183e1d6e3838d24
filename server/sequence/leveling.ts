/**
 * Days for steps where people and machines are few: each step as early as those it waits for, hands and
 * machines let it, the one with the most behind it first (list scheduling with priority by the latest
 * start). A good order, not proved the shortest: to find that is out of reach for any method in general
 * (Blazewicz, Lenstra and Rinnooy Kan 1983, from memory).
 *
 *     leveled(steps, calendar, 2)   →   when each begins and ends, and what it had to wait for
 *
 * Must not know: how it is written.
 */
import type { Calendar } from "./calendar";
import type { Timed } from "./schedule";

/** When a step is done, in seconds of the calendar. */
export interface Slot {
  readonly path: string;
  readonly starts: number;
  readonly ends: number;
  /** What it could have begun earlier but for, and the step that kept that busy. */
  readonly waits?: { readonly for: "people" | string; readonly behind: string };
}

export interface Leveled {
  /** In the order in which they begin. */
  readonly slots: readonly Slot[];
  readonly ends: number;
  /** Steps that take more people than there are. */
  readonly short: readonly string[];
}

/** Beyond it nobody reads days. */
const mostSteps = 2000;

/**
 * `steps` that are left, in an order they can be done in; `people`: how many work at a time, as many as
 * it takes where nobody says; `machines`: how many there are of each, one where nobody says.
 */
export function leveled(
  steps: readonly Timed[],
  calendar: Calendar,
  people: number | undefined,
  machines: ReadonlyMap<string, number> = new Map(),
): Leveled | undefined {
  if (steps.length > mostSteps) return undefined;
  const there: There = { crew: people ?? Number.POSITIVE_INFINITY, machines };
  const behind = timeBehind(steps);
  const placed = new Map<string, Slot & { readonly step: Timed; readonly free: number }>();
  const waiting = new Set(steps);
  const known = new Set(steps.map(({ path }) => path));
  const isNext = ({ before }: Timed): boolean =>
    before.every((each) => !known.has(each) || placed.has(each));
  while (waiting.size > 0) {
    let next: Timed | undefined;
    for (const step of waiting) {
      if (!isNext(step)) continue;
      if (next === undefined || (behind.get(step) ?? 0) > (behind.get(next) ?? 0)) next = step;
    }
    if (next === undefined) return undefined;
    waiting.delete(next);
    const ready = Math.max(0, ...next.before.map((each) => placed.get(each)?.free ?? 0));
    const slot = place(next, ready, [...placed.values()], calendar, there);
    placed.set(next.path, { ...slot, step: next, free: slot.ends + (next.holdTime ?? 0) });
  }
  const slots = [...placed.values()]
    .map(
      ({ path, starts, ends, waits }): Slot => ({
        path,
        starts,
        ends,
        waits,
      }),
    )
    .sort((one, other) => one.starts - other.starts);
  return {
    slots,
    ends: Math.max(0, ...slots.map(({ ends }) => ends)),
    short: steps.flatMap(({ path, hands }) => (hands > there.crew ? [path] : [])),
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** How long it takes from the beginning of each step to the end of all, if nothing is scarce. */
function timeBehind(steps: readonly Timed[]): ReadonlyMap<Timed, number> {
  const behind = new Map<Timed, number>();
  const after = new Map<string, number>();
  for (const step of [...steps].reverse()) {
    const own = (step.duration ?? 0) + (step.holdTime ?? 0) + (after.get(step.path) ?? 0);
    behind.set(step, own);
    for (const each of step.before) after.set(each, Math.max(after.get(each) ?? 0, own));
  }
  return behind;
}

/** Who and what work is done with. */
interface There {
  readonly crew: number;
  readonly machines: ReadonlyMap<string, number>;
}

interface Busy extends Slot {
  readonly step: Timed;
}

function place(
  step: Timed,
  ready: number,
  placed: readonly Busy[],
  calendar: Calendar,
  there: There,
): Slot {
  const { path, duration = 0 } = step;
  if (duration <= 0) {
    const ends = calendar.after(ready, 0);
    return { path, starts: ends, ends };
  }
  let starts = calendar.begin(ready);
  let waits: Slot["waits"];
  for (;;) {
    const ends = calendar.after(starts, duration);
    const beside = placed.filter((each) => each.starts < ends && each.ends > starts);
    const scarce = scarceFor(step, starts, beside, there);
    if (scarce === undefined) return { path, starts, ends, waits };
    waits = { for: scarce.for, behind: scarce.behind.path };
    starts = calendar.begin(scarce.behind.ends);
  }
}

/** What there is not enough of while a step is done, and the first that gives some of it free. */
function scarceFor(
  step: Timed,
  starts: number,
  beside: readonly Busy[],
  { crew, machines }: There,
): { readonly for: string; readonly behind: Busy } | undefined {
  const first = (some: readonly Busy[]): Busy | undefined =>
    some.reduce<Busy | undefined>(
      (best, each) => (best === undefined || each.ends < best.ends ? each : best),
      undefined,
    );
  const times = [starts, ...beside.map((each) => each.starts).filter((at) => at > starts)];
  const lacking = (most: number, takes: (each: Timed) => number): Busy | undefined => {
    const own = Math.min(takes(step), most);
    if (own === 0) return undefined;
    for (const time of times) {
      const busy = beside.filter(
        (each) => each.starts <= time && each.ends > time && takes(each.step) > 0,
      );
      const taken = busy.reduce((sum, each) => sum + Math.min(takes(each.step), most), 0);
      if (taken + own > most) return first(busy);
    }
    return undefined;
  };
  for (const machine of new Set(step.machines)) {
    const behind = lacking(machines.get(machine) ?? 1, (each) => howMany(each, machine));
    if (behind !== undefined) return { for: machine, behind };
  }
  const behind = lacking(crew, ({ hands }) => hands);
  return behind && { for: "people", behind };
}

/** A step may name a machine as often as it takes one of them. */
function howMany({ machines }: Timed, machine: string): number {
  return machines.filter((each) => each === machine).length;
}
