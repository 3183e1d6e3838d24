/**
 * What was accepted out of tolerance, by whom and until when: concessions (ISO 9000:2015, 3.12.5).
 *
 * A figure is accepted as it was measured by that day: a later reading that is no farther out is
 * accepted with it, one that is farther out is not. A step is accepted with the limits of its own
 * that do not hold. A joint is never accepted: it is tightened again. Of several the last one counts.
 *
 * Must not know: what is done about it, how anything is worded.
 */
import type { Lists } from "../keep/lists";
import type { AcceptedEvent, MeasuredEvent } from "./entries";
import { isBefore } from "./entries";
import type { Step } from "./plan";
import type { Facts } from "./step-state";

export interface Concession {
  readonly entry: AcceptedEvent;
  /** `nobody`: without a name or a day it counts for nothing; `nothing`: there is nothing to accept. */
  readonly standing: "in force" | "ran out" | "withdrawn" | "nobody" | "nothing";
  /** The reading of a figure that was accepted, the farthest out where there are several. */
  readonly reading?: MeasuredEvent;
}

export class Concessions {
  /** The last one about each thing, in the order they were made. */
  readonly list: readonly Concession[];
  private readonly ofFigures = new Map<string, Concession>();
  private readonly ofSteps = new Map<Step, Concession>();

  /** `specOf`: what a figure is to be, in SI; `today`: open where nobody says what day it is. */
  constructor(
    events: readonly AcceptedEvent[],
    measured: Lists<string, MeasuredEvent>,
    specOf: Facts["specOf"],
    today: string | undefined,
  ) {
    const last = new Map<unknown, AcceptedEvent>();
    for (const event of events) {
      const { what } = event;
      const key = what.is === "figure" ? what.path : what.is === "step" ? what.step : event.text;
      const before = last.get(key);
      // What ends one keeps what it was about.
      const ended = event.withdrawn && before !== undefined;
      last.set(key, ended ? { ...before, withdrawn: true } : event);
    }
    this.list = [...last.values()]
      .map((entry): Concession => {
        const { what } = entry;
        const readings = what.is === "figure" ? measured.of(what.path) : [];
        const reading = what.is === "figure" ? farthest(entry, readings, specOf(what)) : undefined;
        const isSomething = what.is === "step" || reading !== undefined;
        const standing = isSomething ? standingOf(entry, today) : "nothing";
        return { entry, standing, reading };
      })
      .sort((one, other) => one.entry.place - other.entry.place);
    for (const each of this.list) {
      const { what } = each.entry;
      if (what.is === "figure") this.ofFigures.set(what.path, each);
      if (what.is === "step") this.ofSteps.set(what.step, each);
    }
  }

  /** The one about a figure, whether or not it stands. */
  ofFigure(path: string): Concession | undefined {
    return this.ofFigures.get(path);
  }

  ofStep(step: Step): Concession | undefined {
    return this.ofSteps.get(step);
  }

  /** Whether a reading is no farther out than what is accepted now; `spec` in SI. */
  covers({ path, reading }: MeasuredEvent, spec: number): boolean {
    const concession = this.ofFigures.get(path);
    const accepted = concession?.reading?.reading;
    if (concession?.standing !== "in force" || accepted === undefined || reading === undefined)
      return false;
    const [far, allowed] = [reading.value - spec, accepted.value - spec];
    const room = reading.rounding + accepted.rounding;
    return far * allowed >= 0 && Math.abs(far) <= Math.abs(allowed) + room;
  }
}

function standingOf(entry: AcceptedEvent, today: string | undefined): Concession["standing"] {
  if (entry.withdrawn) return "withdrawn";
  if ((entry.by ?? "").trim() === "" || entry.date === undefined) return "nobody";
  const isOver = today !== undefined && entry.until !== undefined && entry.until < today;
  return isOver ? "ran out" : "in force";
}

/** Of the readings known by then the one farthest from the spec. */
function farthest(
  entry: AcceptedEvent,
  readings: readonly MeasuredEvent[],
  spec: number | undefined,
): MeasuredEvent | undefined {
  let found: MeasuredEvent | undefined;
  const far = (event: MeasuredEvent): number =>
    Math.abs((event.reading?.value ?? 0) - (spec ?? event.reading?.value ?? 0));
  for (const each of readings) {
    if (each.reading === undefined || isBefore(entry, each)) continue;
    if (found === undefined || far(each) >= far(found)) found = each;
  }
  return found;
}
