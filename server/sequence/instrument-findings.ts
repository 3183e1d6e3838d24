/**
 * What is wrong with what was measured and tightened with, whatever was read off: nobody knows it, its
 * calibration ran out.
 *
 * Must not know: the order of work, how anything is worded.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Analysis } from "../analysis/analysis";
import type { Found } from "../findings/worded";
import { nearest } from "../model/spelling";
import type { JointEvent, MeasuredEvent } from "./entries";
import { type Instrument, instrumentIn, knownInstruments } from "./instruments";
import type { NotedBuild } from "./noted-build";
import type { RecordView } from "./record-findings";

const day = 24 * 3600;

/** `asked`: names that were asked about already. */
export function instrumentFindings(view: RecordView, asked: Set<string>): Found[] {
  const { build, progress } = view;
  const findings: Found[] = [];
  const known = new Map<string, Used>();
  // In the order of days: of a calibration that ran out the first use is told.
  for (const event of progress.events) {
    if ((event.is !== "joint" && event.is !== "measured") || event.with === undefined) continue;
    const used = known.get(event.with) ?? usedAs(event.with, build);
    known.set(event.with, used);
    if (used.instrument === undefined && event.is === "joint")
      findings.push(...unknownInstrument(view, event, asked));
    const { instrument, due } = used;
    const { date, anchor } = event;
    if (instrument === undefined || due === undefined || date === undefined || date <= due)
      continue;
    const { name, calibrated = "" } = instrument;
    findings.push({ is: "record/calibration", name, calibrated, due, date, anchor });
    known.set(event.with, { instrument });
  }
  return findings;
}

interface Used {
  readonly instrument: Instrument | undefined;
  /** The last day its calibration is good for; open where that is told already. */
  readonly due?: string;
}

function usedAs(name: string, build: NotedBuild): Used {
  const instrument = instrumentIn(build, name);
  return { instrument, due: instrument && dueOf(instrument) };
}

/** Once for a name. `asked`: names that were asked about already. */
export function unknownInstrument(
  { build }: RecordView,
  event: MeasuredEvent | JointEvent,
  asked: Set<string>,
): Found[] {
  const { with: name = "" } = event;
  if (asked.has(name)) return [];
  asked.add(name);
  const near = build.ask(nearInstrument, name);
  const anchor = namedIn(event);
  if (near !== undefined) return [{ is: "record/unknown-instrument near", name, near, anchor }];
  return event.is === "joint"
    ? [{ is: "record/unknown-instrument wrench", name, anchor }]
    : [{ is: "record/unknown-instrument", name, anchor }];
}

function nearInstrument(analysis: Analysis, name: string): string | undefined {
  return nearest(
    name,
    knownInstruments(analysis).map((each) => each.name),
  );
}

/** Where a record names what it was measured with. */
export function namedIn({ record: { anchor, node } }: MeasuredEvent | JointEvent): Anchor {
  const clause = node.clauses.find(({ word }) => word.text === "with");
  return clause === undefined ? anchor : { ...anchor, span: clause.value.span };
}

function dueOf({ calibrated, calibrationEvery }: Instrument): string | undefined {
  const start = calibrated === undefined ? Number.NaN : Date.parse(calibrated);
  if (calibrationEvery === undefined || !Number.isFinite(start)) return undefined;
  const due = start + Math.floor(calibrationEvery / day) * day * 1000;
  return Number.isFinite(due) && Math.abs(due) < 8e15
    ? new Date(due).toISOString().slice(0, 10)
    : undefined;
}
