/**
 * How far the vehicle had been driven on the days the records tell.
 *
 *     odometer.by(entry)   →   what it showed at the last reading by the day of an entry, in m
 *
 * Must not know: joints, steps, what is due when.
 */
import type { Found } from "../findings/worded";
import { isBefore, type LogEntry, type MeasuredEvent } from "./entries";
import { kinds, odometerField } from "./vocabulary";

/** What it showed, in m. */
export type OdometerReading = MeasuredEvent & { readonly distance: number };

/** What only ever goes up. */
export function isOdometer({ thing, field }: MeasuredEvent): boolean {
  return field === odometerField && thing.is(kinds.vehicle);
}

export class Odometer {
  /** Readings lower than those before them: they count for nothing. */
  readonly findings: Found[] = [];
  private readonly readings: OdometerReading[] = [];

  constructor(measured: Iterable<readonly MeasuredEvent[]>) {
    for (const events of measured) {
      const [first] = events;
      if (first === undefined || !isOdometer(first)) continue;
      for (const event of events) this.add(event);
    }
  }

  get last(): OdometerReading | undefined {
    return this.readings[this.readings.length - 1];
  }

  /** At the last reading by the day of an entry, of that day at one that is not known to come after it. */
  by(entry: LogEntry): number | undefined {
    const { date } = entry;
    if (date === undefined) return undefined;
    const ofDay = this.readings.filter((each) => each.date === date);
    const last = ofDay.findLast((each) => !isBefore(entry, each)) ?? ofDay[0];
    return last?.distance ?? this.lastOf((day) => day < date);
  }

  /** At a reading of the very day of an entry. */
  on({ date }: LogEntry): number | undefined {
    return date === undefined ? undefined : this.lastOf((day) => day === date);
  }

  /** At the first reading after the day of an entry. */
  after({ date }: LogEntry): number | undefined {
    if (date === undefined) return undefined;
    return this.readings.find((each) => each.date !== undefined && each.date > date)?.distance;
  }

  private lastOf(fits: (day: string) => boolean): number | undefined {
    return this.readings.findLast(({ date }) => date !== undefined && fits(date))?.distance;
  }

  private add(event: MeasuredEvent): void {
    if (event.reading === undefined) return;
    const { last } = this;
    const distance = event.reading.value;
    if (last === undefined || !isBefore(last, event) || distance >= last.distance) {
      this.readings.push({ ...event, distance });
      return;
    }
    this.findings.push({
      is: "record/odometer",
      found: distance,
      before: last.distance,
      there: last.anchor,
      anchor: event.anchor,
    });
  }
}
