/**
 * How long the work still takes: the longest way through the steps that are left, by their durations
 * and holds (critical path method), the day it can be done by, and the days of the steps where people
 * and machines are few.
 *
 *     scheduleOf(steps, { starts: "2026-04-06", hours: 8 * 3600, people: 2 })
 *
 * Work takes working hours, a hold runs on overnight. Must not know: how it is written.
 */
import { Calendar } from "./calendar";
import { leveled } from "./leveling";

export interface Timed {
  readonly path: string;
  readonly before: readonly string[];
  readonly done: boolean;
  /** In seconds of work; open where nobody says. */
  readonly duration?: number;
  /** In seconds by the clock, after it is done. */
  readonly holdTime?: number;
  readonly hands: number;
  readonly machines: readonly string[];
}

export interface Working {
  /** The first day of what is left. */
  readonly starts?: string;
  /** Seconds worked on a working day. */
  readonly hours: number;
  /** Who work at a time; open where as many as it takes do. */
  readonly people?: number;
  /** How many there are of machines, by what steps call them; of all others there is one. */
  readonly machines?: ReadonlyMap<string, number>;
}

export interface Schedule {
  /** In seconds of work along the longest way. */
  readonly work: number;
  /** In seconds of holds along it. */
  readonly holds: number;
  /** Steps of the longest way, in order. */
  readonly path: readonly string[];
  /** Steps left for which nobody says how long they take. */
  readonly unknown: readonly string[];
  /** The day it can be done by, where a day to begin is given: Saturdays and Sundays are free. */
  readonly doneBy?: string;
  /** With the people and machines there are: a good order, not proved the shortest. */
  readonly days?: Days;
}

export interface Days {
  readonly people?: number;
  /** In seconds from the beginning of the first day to the end of the last step, nights included. */
  readonly length: number;
  readonly doneBy?: string;
  /** Whether it takes longer than the longest way does. */
  readonly isLonger: boolean;
  /** When each step is done, in the order in which they begin. */
  readonly steps: readonly PlannedDays[];
  /** Steps that take more people than there are. */
  readonly short: readonly string[];
}

export interface PlannedDays {
  readonly path: string;
  readonly starts?: string;
  readonly ends?: string;
  /** What it waits for beside the steps before it, and the step that keeps that busy. */
  readonly waits?: { readonly for: string; readonly behind: string };
}

/** `undefined` where no step that is left says how long it takes. `steps` in an order they can be done in. */
export function scheduleOf(steps: readonly Timed[], working: Working): Schedule | undefined {
  const left = steps.filter(({ done }) => !done);
  if (!left.some(({ duration }) => duration !== undefined)) return undefined;
  const calendar = new Calendar(working.hours, working.starts);
  const reached = new Map<string, Reached>();
  const nothing: Reached = { work: 0, holds: 0, ends: 0, free: 0 };
  let longest = nothing;
  for (const { path, before, duration = 0, holdTime = 0 } of left) {
    let start = nothing;
    for (const each of before) {
      const other = reached.get(each);
      if (other !== undefined && other.free > start.free) start = other;
    }
    const ends = calendar.after(start.free, duration);
    const own = { path, after: start, work: start.work + duration, ends };
    const end: Reached = { ...own, holds: start.holds + (start.hold ?? 0), free: ends + holdTime };
    if (ends > longest.ends) longest = end;
    reached.set(path, { ...end, hold: holdTime });
  }
  const doneBy = dayBy(calendar, longest.ends);
  const days = daysOf(left, calendar, working, longest.ends);
  return {
    work: longest.work,
    holds: longest.holds,
    path: wayTo(longest),
    unknown: left.flatMap(({ path, duration }) => (duration === undefined ? [path] : [])),
    doneBy,
    days,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** A step on the longest way to it. */
interface Reached {
  readonly path?: string;
  readonly after?: Reached;
  readonly work: number;
  /** Along the way, its own left out. */
  readonly holds: number;
  readonly hold?: number;
  readonly ends: number;
  /** When what comes after it can begin. */
  readonly free: number;
}

function wayTo(last: Reached): string[] {
  const way: string[] = [];
  for (let at: Reached | undefined = last; at?.path !== undefined; at = at.after) way.push(at.path);
  return way.reverse();
}

function daysOf(
  left: readonly Timed[],
  calendar: Calendar,
  { people, machines }: Working,
  earliest: number,
): Days | undefined {
  const found = leveled(left, calendar, people, machines);
  if (found === undefined) return undefined;
  const { slots, ends, short } = found;
  const doneBy = dayBy(calendar, ends);
  return {
    people,
    length: ends,
    doneBy,
    isLonger: ends > earliest + 1,
    steps: slots.map(({ path, starts, ends: end, waits }): PlannedDays => {
      const [first, last] = [calendar.dateOf(calendar.begin(starts)), dayBy(calendar, end)];
      return {
        path,
        starts: first,
        ends: last,
        waits,
      };
    }),
    short,
  };
}

/** The day something is done by: what ends with the day's last hour is done on that day. */
function dayBy(calendar: Calendar, time: number): string | undefined {
  return calendar.dateOf(Math.max(0, time - 1));
}
