/**
 * What is wrong with what was measured, and with what it was measured with: out of tolerance or of all
 * that is usual, a second reading of the day that says otherwise, an instrument of the wrong kind or
 * size, too coarse, or none. The newest reading of a figure is the one that counts.
 *
 * Must not know: steps, joints, the order of work, how anything is worded.
 */

import type { Analysis, Value } from "../analysis/analysis";
import { consequencesOf } from "../analysis/consequences";
import { acceptanceOf, heldAgainst } from "../analysis/records";
import type { Found } from "../findings/worded";
import { readRange } from "../model/kind-environment";
import { twinsOf } from "../model/twins";
import type { Measure } from "../units";
import { isAbove } from "./close";
import { isBefore, type MeasuredEvent, offOf } from "./entries";
import { instrumentFindings, namedIn, unknownInstrument } from "./instrument-findings";
import {
  declaredGauges,
  type Instrument,
  instrumentIn,
  isFiner,
  stepOf,
  uncertainty,
} from "./instruments";
import { isOdometer } from "./odometer";
import type { RecordView } from "./record-findings";

/** Common practice, no source: an instrument reads to a tenth of what is allowed. */
const tenth = 1 / 10;
/** Worse than this share of what is allowed, a reading decides nothing. */
const quarter = 1 / 4;

export function measurementFindings(view: RecordView): Found[] {
  const asked = new Set<string>();
  return [
    ...[...view.progress.measured.values()].flatMap((all) => {
      const unusual = unusualReadings(all);
      const events = all.filter((event) => !unusual.has(event));
      const latest = ofLastDay(events);
      return [
        ...latest.flatMap((event) =>
          isLast(event, latest) ? readingFindings(view, event, asked) : [],
        ),
        ...contradictions(latest),
      ];
    }),
    ...instrumentFindings(view, asked),
  ];
}

/** Those that no later day decides about; they stand in the order of their days. */
function ofLastDay(events: readonly MeasuredEvent[]): readonly MeasuredEvent[] {
  const last = events.findLast(({ date }) => date !== undefined)?.date;
  return events.filter(({ date }) => date === undefined || date === last);
}

/** Whether no other reading of the figure is known to come after it. */
function isLast(event: MeasuredEvent, events: readonly MeasuredEvent[]): boolean {
  return !events.some((other) => isBefore(event, other));
}

// ───────────────────────────── one reading ─────────────────────────────

/** `asked`: instruments that were asked about already. */
function readingFindings(view: RecordView, event: MeasuredEvent, asked: Set<string>): Found[] {
  const { build } = view;
  const { anchor } = event;
  const type = event.thing.field(event.field)?.type;
  if (event.reading === undefined || type?.form !== "measure") return [];
  const { value: found, sureness } = event.reading;
  const { path } = event;
  const { measure } = type;
  const value = build.figureOf(event.thing, event.field);
  if (value === undefined) return [];
  const findings: Found[] = [];
  const sure = offOf(event.reading);
  const { low, high, acceptance } = heldAgainst(value, found, sure);
  const band = low === undefined || high === undefined ? undefined : { low, high };
  const spec = value.outcome()?.si ?? value.si;
  if (acceptance === "outside" && spec !== undefined && band !== undefined)
    findings.push(outOfTolerance(view, event, { value, measure, found, spec, band }));
  const off = band === undefined ? 0 : Math.max(band.low - found, found - band.high);
  if (acceptance === "unclear" && off > 0 && band !== undefined && build.ask(hangsOn, undefined)) {
    const reading = { path, measure, found, sure, written: value.anchor };
    findings.push({ is: "record/too-close", ...reading, ...band, anchor });
  }
  const instrument = event.with === undefined ? undefined : instrumentIn(build, event.with);
  const room = band === undefined ? 0 : band.high - band.low;
  const isCoarse = (by: number): boolean => room > 0 && isAbove(by, tenth * room);
  const coarse = (by: number) => ({
    severity: isAbove(by, quarter * room) ? ("warning" as const) : ("note" as const),
    reads: by,
    band: room,
    wanted: tenth * room,
  });
  // What is made has the room of its making, not one that somebody asked for.
  const isUnsure = isSpec(value) && acceptance === "unclear" && isCoarse(sureness);
  if (isUnsure && findings.length === 0)
    findings.push({
      is: "record/instrument own",
      path,
      measure,
      found,
      ...coarse(sureness),
      anchor,
    });
  if (instrument === undefined) {
    if (event.with !== undefined) return [...findings, ...unknownInstrument(view, event, asked)];
    // Asked of a shop that keeps account of what it measures with.
    if (room <= 0 || !build.ask(hasGauges, measure.name)) return findings;
    const wanted = tenth * room;
    return [...findings, { is: "record/no-instrument", path, measure, band: room, wanted, anchor }];
  }
  const about = { path, measure, instrument: instrument.name };
  if (instrument.isWrench && measure.name !== "torque") {
    const wrong = {
      is: "record/wrong-instrument wrench",
      path,
      instrument: instrument.name,
    } as const;
    return [...findings, { ...wrong, anchor: namedIn(event) }];
  }
  const range = measure.name === "length" ? outOfRange(instrument, found) : undefined;
  if (range !== undefined)
    findings.push({ is: "record/instrument-range", ...about, found, ...range, anchor });
  const reads = uncertainty(instrument, measure.name, found);
  if (reads === undefined) return findings;
  // Where the reading is inside or outside all the same, nothing hangs on a finer instrument.
  const told = band === undefined ? undefined : acceptanceOf(found, reads, band);
  if (told === "unclear" && !isUnsure && isCoarse(reads))
    findings.push({ is: "record/instrument", ...about, ...coarse(reads), anchor });
  const step = stepOf(instrument, measure.name);
  if (isFiner(event.reading, step))
    findings.push({ is: "record/finer-than-read", ...about, found, step: step!, anchor });
  return findings;
}

/** Readings of one figure outside of what is usual for it, most likely slips: they decide nothing. */
function unusualReadings(events: readonly MeasuredEvent[]): ReadonlySet<MeasuredEvent> {
  const [first] = events;
  const field = first?.thing.field(first.field);
  const [low, high] = (field && readRange(field)) ?? [];
  if (field?.type.form !== "measure" || low === undefined || high === undefined) return new Set();
  // That they are is told with all other figures outside of what is usual.
  return new Set(
    events.filter(({ reading }) => {
      if (reading === undefined) return false;
      const { value, rounding } = reading;
      return isAbove(low, value + rounding) || isAbove(value - rounding, high);
    }),
  );
}

/** Written, not following from anything nor made to come near a wish. */
function isSpec({ standing, wanted }: Value): boolean {
  return wanted === undefined && standing === "given";
}

/**
 * The same figure of the part that mirrors this one, where the reading would do for it and what was
 * read there, if anything, does not: the two may have been taken for each other.
 */
function twinItFits({ build, progress }: RecordView, event: MeasuredEvent): string | undefined {
  const { thing, field, path } = event;
  const { owner } = thing;
  if (owner === undefined) return undefined;
  const twins = twinsOf(owner.kind).map(({ name }) => owner.parts.get(name));
  const twin = twins.includes(thing) ? twins.find((each) => each !== thing) : undefined;
  const other = twin && build.figureOf(twin, field);
  if (other === undefined || path !== `${thing.path}.${field}`) return undefined;
  const fits = ({ reading }: MeasuredEvent): boolean => {
    if (reading === undefined) return false;
    const { acceptance } = heldAgainst(other, reading.value, offOf(reading));
    return acceptance !== undefined && acceptance !== "outside";
  };
  const there = ofLastDay(progress.measured.of(other.path));
  return fits(event) && !there.some(fits) ? other.path : undefined;
}

/** Somebody may accept it as it is. */
function outOfTolerance(
  view: RecordView,
  event: MeasuredEvent,
  {
    value,
    measure,
    found,
    spec,
    band,
  }: {
    readonly value: Value;
    readonly measure: Measure;
    readonly found: number;
    readonly spec: number;
    readonly band: { readonly low: number; readonly high: number };
  },
): Found {
  const {
    build,
    progress: { concessions },
  } = view;
  const { path } = value;
  const { anchor, date } = event;
  const off = {
    path,
    measure,
    date,
    found,
    spec,
    allowed: band.high > band.low ? band : undefined,
    // What follows or is made comes out so; what is written the spec has.
    isSpec: isSpec(value),
    asBuilt: build.ask(asBuilt, undefined),
    twin: twinItFits(view, event),
    written: value.anchor,
  };
  const concession = concessions.ofFigure(path);
  if (concession === undefined)
    return { is: "record/out-of-tolerance", ...off, accepted: undefined, anchor };
  const { entry } = concession;
  const { by, until, because, follows } = entry;
  if (concessions.covers(event, spec)) {
    const accepted = { by, until, because, follows, entry: entry.anchor };
    return { is: "concession/accepted figure", ...off, accepted, anchor };
  }
  const reading = concession.reading?.reading?.value;
  const accepted = { standing: concession.standing, by, until, reading, entry: entry.anchor };
  return { is: "record/out-of-tolerance", ...off, accepted, anchor };
}

/** Whether it declares anything to read a measure off. */
function hasGauges(analysis: Analysis, measureName: string): boolean {
  return declaredGauges(analysis).some((each) => stepOf(each, measureName) !== undefined);
}

/** Whether a check is left open or failing as built: where none is, nobody needs to know better. */
function hangsOn(analysis: Analysis): boolean {
  const { fails, unsure } = consequencesOf(analysis);
  return fails.length + unsure.length > 0;
}

/** What of it is worth a word. */
function asBuilt(analysis: Analysis) {
  const { wishes, fails } = consequencesOf(analysis);
  return {
    wishes: wishes.slice(0, 2).flatMap(({ value: { path, measure }, si, miss }) => {
      if (measure === undefined || Math.abs(miss) <= 1e-6 * measure.scale) return [];
      return [{ path, measure, si, miss }];
    }),
    fails: fails.slice(0, 3).map(({ thing, title }) => ({ path: thing?.path, title })),
  };
}

function outOfRange(
  { fromLength, toLength }: Instrument,
  si: number,
): { readonly least: number; readonly most: number | undefined } | undefined {
  const isUnder = fromLength !== undefined && si < fromLength;
  const isOver = toLength !== undefined && si > toLength;
  return isUnder || isOver ? { least: fromLength ?? 0, most: toLength } : undefined;
}

// ───────────────────────────── several readings ─────────────────────────────

/** Two readings of one figure on one day that their own ± do not bring together. */
function contradictions(events: readonly MeasuredEvent[]): Found[] {
  const findings: Found[] = [];
  for (const [index, event] of events.entries()) {
    const before = events[index - 1];
    const [one, other] = [before?.reading, event.reading];
    if (one === undefined || other === undefined || before === undefined) continue;
    if (before.date === undefined || before.date !== event.date) continue;
    // With a time of day each, something was changed in between; a later day decides.
    if (before.clock !== event.clock && before.clock !== undefined && event.clock !== undefined)
      continue;
    if (isOdometer(event) && other.value >= one.value) continue;
    const room = one.sureness + other.sureness + one.rounding + other.rounding;
    if (!isAbove(Math.abs(one.value - other.value), room)) continue;
    const { path, date, anchor } = event;
    const type = event.thing.field(event.field)?.type;
    findings.push({
      is: "record/contradiction",
      path,
      measure: type?.form === "measure" ? type.measure : undefined,
      one: one.value,
      other: other.value,
      date,
      there: before.anchor,
      anchor,
    });
  }
  return findings;
}
