/**
 * What is wrong with what was measured and tightened with, whatever was read off: nobody knows it, its
 * calibration ran out.
 *
 * Must not know: the order of work, how anything is worded.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Found } from "../findings/worded";
import { nearest } from "../model/spelling";
import type { JointEvent, MeasuredEvent } from "./entries";
import { type Instrument, instrumentCalled, knownInstruments } from "./instruments";
import type { RecordView } from "./record-findings";

const day = 24 * 3600;

/** `asked`: names that were asked about already. */
export function instrumentFindings(view: RecordView, asked: Set<string>): Found[] {
  return [...unknownWrenches(view, asked), ...calibrationFindings(view)];
}

/** Once for a name. `asked`: names that were asked about already. */
export function unknownInstrument(
  { analysis }: RecordView,
  event: MeasuredEvent | JointEvent,
  asked: Set<string>,
): Found[] {
  const { with: name = "" } = event;
  if (asked.has(name)) return [];
  asked.add(name);
  const near = nearest(
    name,
    knownInstruments(analysis).map((each) => each.name),
  );
  const anchor = namedIn(event);
  if (near !== undefined) return [{ is: "record/unknown-instrument near", name, near, anchor }];
  return event.is === "joint"
    ? [{ is: "record/unknown-instrument wrench", name, anchor }]
    : [{ is: "record/unknown-instrument", name, anchor }];
}

/** What joints were tightened with that nobody declared. */
function unknownWrenches(view: RecordView, asked: Set<string>): Found[] {
  const { analysis, plan, progress } = view;
  const events = plan.joints.flatMap((joint) => progress.joint(joint).events);
  return events.flatMap((event) =>
    event.with === undefined || instrumentCalled(event.with, analysis) !== undefined
      ? []
      : unknownInstrument(view, event, asked),
  );
}

/** Where a record names what it was measured with. */
export function namedIn({ record: { anchor, node } }: MeasuredEvent | JointEvent): Anchor {
  const clause = node.clauses.find(({ word }) => word.text === "with");
  return clause === undefined ? anchor : { ...anchor, span: clause.value.span };
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
