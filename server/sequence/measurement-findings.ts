/**
 * What is wrong with what was measured, and with what it was measured with: out of tolerance, a
 * second reading of the day that says otherwise, an instrument nobody knows, of the wrong kind or
 * size, too coarse, past its calibration. The newest reading of a figure is the one that counts.
 *
 * Must not know: steps, joints, the order of work, how anything is worded.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Analysis, Value } from "../analysis/analysis";
import { consequencesOf } from "../analysis/consequences";
import { acceptanceOf, heldAgainst } from "../analysis/records";
import type { Found } from "../findings/worded";
import type { Measure } from "../units";
import { isBefore, type MeasuredEvent } from "./entries";
import { type Instrument, instrumentCalled, isFiner, uncertainty } from "./instruments";
import type { RecordView } from "./record-findings";

/** Common practice, no source: an instrument reads to a tenth of what is allowed. */
const tenth = 1 / 10;
/** Worse than this share of what is allowed, a reading decides nothing. */
const quarter = 1 / 4;
const day = 24 * 3600;

export function measurementFindings(view: RecordView): Found[] {
  const asked = new Set<string>();
  return [
    ...[...view.progress.measured.values()].flatMap((events) => {
      const latest = ofLastDay(events);
      return [
        ...latest.flatMap((event) =>
          isLast(event, latest) ? readingFindings(view, event, asked) : [],
        ),
        ...contradictions(latest),
      ];
    }),
    ...calibrationFindings(view),
  ];
}

/** Those that no later day decides about; they stand in the order of their days. */
function ofLastDay(events: readonly MeasuredEvent[]): readonly MeasuredEvent[] {
  const last = events.findLast(({ date }) => date !== undefined)?.date;
  const isOf = ({ date }: MeasuredEvent): boolean => date === undefined || date === last;
  return events.length < 2 || events.every(isOf) ? events : events.filter(isOf);
}

/** Whether no other reading of the figure is known to come after it. */
function isLast(event: MeasuredEvent, events: readonly MeasuredEvent[]): boolean {
  return !events.some((other) => isBefore(event, other));
}

// ───────────────────────────── one reading ─────────────────────────────

/** `asked`: instruments that were asked about already. */
function readingFindings(view: RecordView, event: MeasuredEvent, asked: Set<string>): Found[] {
  const { analysis } = view;
  const { anchor } = event;
  const value = analysis.valueAt(event.path);
  if (event.reading === undefined || value?.measure === undefined) return [];
  const { value: found, rounding, sureness } = event.reading;
  const { measure, path } = value;
  const findings: Found[] = [];
  const sure = sureness === 0 ? rounding : sureness;
  const { low, high, acceptance } = heldAgainst(value, found, sure);
  const band = low === undefined || high === undefined ? undefined : { low, high };
  const spec = value.outcome()?.si ?? value.si;
  if (acceptance === "outside" && spec !== undefined && band !== undefined)
    findings.push(outOfTolerance(view, event, { value, measure, found, spec, band }));
  const off = band === undefined ? 0 : Math.max(band.low - found, found - band.high);
  if (acceptance === "unclear" && off > 0 && band !== undefined && hangsOn(analysis)) {
    const reading = { path, measure, found, sure, written: value.anchor };
    findings.push({ is: "record/too-close", ...reading, ...band, anchor });
  }
  const instrument = event.with === undefined ? undefined : instrumentCalled(event.with, analysis);
  if (instrument === undefined) {
    if (event.with === undefined || asked.has(event.with)) return findings;
    asked.add(event.with);
    const unknown = { is: "record/unknown-instrument", name: event.with } as const;
    return [...findings, { ...unknown, anchor: namedIn(event) }];
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
  const room = band === undefined ? 0 : band.high - band.low;
  if (room > 0 && told === "unclear" && reads > tenth * room * (1 + 1e-9)) {
    const severity = reads > quarter * room * (1 + 1e-9) ? "warning" : "note";
    const figures = { reads, band: room, wanted: tenth * room };
    findings.push({ is: "record/instrument", ...about, ...figures, severity, anchor });
  }
  if (isFiner(event.reading, reads))
    findings.push({ is: "record/finer-than-read", ...about, found, step: reads, anchor });
  return findings;
}

/** Somebody may accept it as it is. */
function outOfTolerance(
  { analysis, progress: { concessions } }: RecordView,
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
  const { path, standing, wanted } = value;
  const { anchor, date } = event;
  const off = {
    path,
    measure,
    date,
    found,
    spec,
    allowed: band.high > band.low ? band : undefined,
    // What follows or is made comes out so; what is written the spec has.
    isSpec: wanted === undefined && standing === "given",
    asBuilt: asBuilt(analysis),
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

/** Where a record names what it was measured with. */
function namedIn({ record: { anchor, node } }: MeasuredEvent): Anchor {
  const clause = node.clauses.find(({ word }) => word.text === "with");
  return clause === undefined ? anchor : { ...anchor, span: clause.value.span };
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
    const room = one.sureness + other.sureness + one.rounding + other.rounding;
    if (Math.abs(one.value - other.value) <= room * (1 + 1e-9)) continue;
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

// ───────────────────────────── calibration ─────────────────────────────

/** Once for an instrument: what was measured after its calibration ran out. */
function calibrationFindings({ analysis, plan, progress }: RecordView): Found[] {
  const findings: Found[] = [];
  const dueBy = new Map<string, string | undefined>();
  const used = [
    ...plan.joints.flatMap((joint) => progress.joint(joint).events),
    ...[...progress.measured.values()].flat(),
  ].sort((one, other) => one.place - other.place);
  for (const event of used) {
    const { with: tool, date, anchor } = event;
    if (tool === undefined || date === undefined) continue;
    const instrument = instrumentCalled(tool, analysis);
    if (instrument?.calibrated === undefined) continue;
    if (!dueBy.has(tool)) dueBy.set(tool, dueOf(instrument));
    const due = dueBy.get(tool);
    if (due === undefined || date <= due) continue;
    dueBy.set(tool, undefined);
    const { name, calibrated } = instrument;
    findings.push({ is: "record/calibration", name, calibrated, due, date, anchor });
  }
  return findings;
}

function dueOf({ calibrated, calibrationEvery }: Instrument): string | undefined {
  const start = calibrated === undefined ? Number.NaN : Date.parse(calibrated);
  if (calibrationEvery === undefined || !Number.isFinite(start)) return undefined;
  const due = start + Math.floor(calibrationEvery / day) * day * 1000;
  return Number.isFinite(due) && Math.abs(due) < 8e15
    ? new Date(due).toISOString().slice(0, 10)
    : undefined;
}
