/**
 * How long the work still takes: the longest way through the steps that are left, by their durations
 * and holds (critical path method), and the day it can be done by.
 *
 *     scheduleOf(steps, { starts: "2026-04-06", hours: 8 * 3600 })
 *
 * Work takes working hours, a hold runs on overnight. Must not know: how it is written.
 */

export interface Timed {
  readonly path: string;
  readonly before: readonly string[];
  readonly done: boolean;
  /** In seconds of work; open where nobody says. */
  readonly duration?: number;
  /** In seconds by the clock, after it is done. */
  readonly holdTime?: number;
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
}

const day = 24 * 3600;
const most = 10_000;

/** `undefined` where no step that is left says how long it takes. `steps` in an order they can be done in. */
export function scheduleOf(
  steps: readonly Timed[],
  calendar: { readonly starts?: string; readonly hours: number },
): Schedule | undefined {
  const left = steps.filter(({ done }) => !done);
  if (!left.some(({ duration }) => duration !== undefined)) return undefined;
  const reached = new Map<string, { work: number; holds: number; way: readonly string[] }>();
  let longest = { work: 0, holds: 0, way: [] as readonly string[] };
  const daysOf = (each: { work: number; holds: number }): number =>
    each.work / calendar.hours + each.holds / day;
  for (const { path, before, duration = 0, holdTime = 0 } of left) {
    let start = { work: 0, holds: 0, way: [] as readonly string[] };
    for (const each of before) {
      const other = reached.get(each);
      if (other !== undefined && daysOf(other) > daysOf(start)) start = other;
    }
    const end = { work: start.work + duration, holds: start.holds, way: [...start.way, path] };
    if (daysOf(end) > daysOf(longest)) longest = end;
    reached.set(path, { ...end, holds: end.holds + holdTime });
  }
  const doneBy =
    calendar.starts === undefined
      ? undefined
      : dayAfter(calendar.starts, longest.work / calendar.hours, longest.holds / day);
  return {
    work: longest.work,
    holds: longest.holds,
    path: longest.way,
    unknown: left.flatMap(({ path, duration }) => (duration === undefined ? [path] : [])),
    ...(doneBy === undefined ? {} : { doneBy }),
  };
}

// ───────────────────────────── helpers ─────────────────────────────

function dayAfter(starts: string, workDays: number, holdDays: number): string | undefined {
  const first = Date.parse(starts);
  if (!Number.isFinite(first) || workDays > most || holdDays > most) return undefined;
  let at = first;
  const isFree = (): boolean => [0, 6].includes(new Date(at).getUTCDay());
  const next = (): void => {
    at += day * 1000;
  };
  while (isFree()) next();
  // The last day of work counts to its end.
  for (let left = Math.ceil(workDays - 1e-9) - 1; left > 0; left--) {
    next();
    while (isFree()) next();
  }
  at += Math.ceil(holdDays - 1e-9) * day * 1000;
  while (isFree()) next();
  return new Date(at).toISOString().slice(0, 10);
}
