/**
 * Working time laid out over days: so many hours a day from Monday to Friday, waiting by the clock.
 *
 *     const calendar = new Calendar(8 * 3600, "2026-04-03");
 *     calendar.dateOf(calendar.after(0, 10 * 3600))   →   2026-04-06, the Monday after that Friday
 *
 * Times are seconds from the hour at which work begins on the first day. Must not know: steps.
 */

const day = 24 * 3600;
/** Of a rest of an hour a millionth is no work. */
const nothing = 1e-3;
/** Some three hundred thousand years: beyond it a day more is no other time any more. */
const farthest = 1e13;

export class Calendar {
  private readonly first: number | undefined;
  /** 0 for Sunday; without a day to begin on no day is free. */
  private readonly weekday: number | undefined;
  private readonly hours: number;

  /** `hours`: seconds worked on a working day. */
  constructor(hours: number, starts?: string) {
    const first = starts === undefined ? Number.NaN : Date.parse(starts);
    this.first = Number.isFinite(first) ? first : undefined;
    this.weekday = this.first === undefined ? undefined : new Date(first).getUTCDay();
    this.hours = Math.min(day, Math.max(1, hours));
  }

  /** The first time from `time` on at which somebody works. */
  begin(time: number): number {
    let at = Math.max(0, time);
    for (;;) {
      if (!(at < farthest)) return at;
      const index = Math.floor(at / day);
      if (!this.isFree(index) && at - index * day < this.hours - nothing) return at;
      at = (index + 1) * day;
    }
  }

  /** When so many seconds of work that begin at `time` are done; no work is done on no free day either. */
  after(time: number, work: number): number {
    if (!(time + work < farthest)) return time + work;
    if (work <= 0) return this.isFree(Math.floor(time / day)) ? this.begin(time) : time;
    let at = this.begin(time);
    let left = work;
    // Whole weeks at once: a plan may take years.
    const perWeek = (this.weekday === undefined ? 7 : 5) * this.hours;
    const weeks = Math.max(0, Math.floor(left / perWeek) - 1);
    at += weeks * 7 * day;
    left -= weeks * perWeek;
    for (;;) {
      if (!(at < farthest)) return at + left;
      const today = Math.floor(at / day) * day;
      const room = today + this.hours - at;
      if (left <= room + nothing) return at + left;
      left -= room;
      at = this.begin(today + day);
    }
  }

  /** `2026-04-06`: the day on which something ends; `undefined` without a day to begin on. */
  dateOf(time: number): string | undefined {
    if (this.first === undefined) return undefined;
    const date = new Date(this.first + Math.floor(time / day) * day * 1000);
    return Number.isFinite(date.getTime()) ? date.toISOString().slice(0, 10) : undefined;
  }

  private isFree(index: number): boolean {
    return this.weekday !== undefined && [0, 6].includes((this.weekday + index) % 7);
  }
}
