/**
 * What is wrong with what was done: out of order, before its prerequisites, not to its torque, not
 * held, with the wrong instrument, never measured, never checked again.
 *
 * Must not know: how the plan was put in order.
 */
import type { Analysis } from "../analysis/analysis";
import { measurementsOf } from "../analysis/records";
import type { Finding } from "../model/finding";
import { wordOf } from "./fields";
import { instrumentCalled, uncertainty } from "./instruments";
import type { Joint, Plan, Step } from "./plan";
import { found } from "./plan-findings";
import type { Progress } from "./progress";
import { type DoneEvent, dayOf, type Entry, isBefore, type JointEvent } from "./read-records";
import { gapsOfOrder, neighboursInSuccession, tighteningOrder } from "./tightening-order";
import { jointFields, stepFields } from "./vocabulary";
import type { Waiting } from "./waiting";
import {
  type Act,
  type FigureWriter,
  holdInWords,
  named,
  percent,
  record as words,
} from "./wording";

/** ISO 6789-1: what a torque wrench may be off above 10 N·m; where no instrument says otherwise. */
const usualDeviation = 0.04;
/** Common practice, no source: an instrument reads to a tenth of what is allowed. */
const tenth = 1 / 10;
/** Worse than this share of what is allowed, a reading decides nothing. */
const quarter = 1 / 4;
const day = 24 * 3600;

export interface RecordView {
  readonly analysis: Analysis;
  readonly plan: Plan;
  readonly waiting: Waiting;
  readonly progress: Progress;
  readonly writer: FigureWriter;
}

export function recordFindings(view: RecordView): Finding[] {
  const { progress } = view;
  return [
    ...dateFindings(view),
    ...orderFindings(view),
    ...progress.events.flatMap((event) => (event.is === "joint" ? jointFindings(view, event) : [])),
    ...view.plan.joints.flatMap((joint) => passFindings(view, joint)),
    ...instrumentFindings(view),
    ...progress.events.flatMap((event) =>
      event.is === "done" ? measuredFindings(view, event) : [],
    ),
    ...recheckFindings(view),
  ];
}

// ───────────────────────────── order ─────────────────────────────

function dateFindings({ progress }: RecordView): Finding[] {
  const undated = new Set(
    progress.events.filter(({ date }) => date === undefined).map(({ record }) => record),
  );
  return [...undated].map(({ anchor }) =>
    found("record/no-date", "warning", words.noDate(), { anchor }),
  );
}

/** Every act is held against the steps it should have come after; one mistake is said once. */
function orderFindings(view: RecordView): Finding[] {
  const { plan, progress } = view;
  const findings: Finding[] = [];
  for (const step of plan.live) {
    if (step.inside.length > 0) continue;
    const said = new Set<Step>();
    const done = progress.lastDone(step);
    for (const joint of step.tightenTo < 1 ? [] : step.tighten) {
      const full = progress.full(joint);
      const last = full[full.length - 1];
      if (last === undefined || (done !== undefined && !isBefore(last, done))) continue;
      findings.push(
        ...against(view, last, { step, joint, act: `the tightening of ${named(joint)}` }, said),
      );
    }
    if (done !== undefined) findings.push(...against(view, done, { step, act: named(step) }, said));
  }
  return findings;
}

function against(view: RecordView, entry: Entry, act: Act, said: Set<Step>): Finding[] {
  const { step } = act;
  const { plan, waiting, progress } = view;
  const findings: Finding[] = [];
  const undone: Step[] = [];
  const late = new Map<Step, Entry>();
  for (const index of waiting.graph.before(step.index)) {
    const before = plan.steps[index];
    if (before === undefined || before === step || said.has(before)) continue;
    const first = progress.firstDone(before);
    if (first === undefined) undone.push(before);
    else if (isBefore(entry, first)) late.set(before, first);
    else findings.push(...holdFindings(before, first, entry, act));
  }
  // Of steps that wait for each other the nearest says it all.
  for (const before of waiting.nearest([...late.keys()])) {
    const first = late.get(before);
    said.add(before);
    if (first !== undefined) findings.push(tooEarly(view, before, entry, first, act));
  }
  for (const before of waiting.nearest(undone)) {
    said.add(before);
    const sentence = words.prerequisite(
      before,
      act,
      waiting.why(before, step, act.joint),
      dayOf(entry),
    );
    const related = [{ anchor: before.anchor, message: `${before.title} is here` }];
    findings.push(found("record/before-prerequisite", "warning", sentence, entry, related));
  }
  return findings;
}

function tooEarly(view: RecordView, before: Step, entry: Entry, first: Entry, act: Act): Finding {
  const why = view.waiting.why(before, act.step, act.joint);
  const said = words.tooEarly(before, act, why, { before: dayOf(first), after: dayOf(entry) });
  const related = [{ anchor: first.anchor, message: `${before.title} is recorded here` }];
  const finding = found("record/out-of-order", "error", said, entry, related);
  const { caution } = act.step;
  return caution === undefined ? finding : { ...finding, caution };
}

/** Records know days only, so a hold is held against them where it takes a day or more. */
function holdFindings(before: Step, first: Entry, entry: Entry, act: Act): Finding[] {
  const { holdTime } = before;
  if (before.hold === undefined || holdTime === undefined || holdTime < day) return [];
  const passed = daysBetween(first.date, entry.date);
  if (passed === undefined || (passed + 1) * day > holdTime) return [];
  const hold = holdInWords(before, wordOf(before.thing, stepFields.holdTime)) ?? "";
  return [found("record/hold", "warning", words.hold(before, act, hold), entry)];
}

// ───────────────────────────── joints ─────────────────────────────

function jointFindings(view: RecordView, event: JointEvent): Finding[] {
  const { joint, pass, held, bolts } = event;
  const findings: Finding[] = [];
  const say = (
    code: string,
    severity: Finding["severity"],
    said: { message: string; hint: string },
  ): void => {
    findings.push(found(code, severity, said, event));
  };
  if (pass !== undefined && joint.passes[pass - 1] === undefined) {
    say("record/no-such-pass", "warning", words.noSuchPass(joint, pass));
    return findings;
  }
  findings.push(...torqueFindings(view, event));
  if (held === false) say("record/not-held", "error", words.notHeld(joint));
  if (bolts !== undefined) {
    const { missing, twice, unknown } = gapsOfOrder(bolts, joint.count);
    const elsewhere = boltsOf(view, joint, pass);
    const left = missing.filter((bolt) => !elsewhere.has(bolt));
    const where = pass === undefined ? "" : ` for pass ${pass}`;
    if (left.length > 0 && isLastOfPass(view, event))
      say("record/bolts", "warning", words.bolts(joint, left, where));
    const circular = pass !== undefined && joint.passes[pass - 1]?.circular === true;
    const comparable = missing.length + twice.length + unknown.length === 0 && joint.groups === 1;
    const better = tighteningOrder(joint.count, "cross");
    const pairs = neighboursInSuccession(bolts, joint.count);
    if (
      comparable &&
      !circular &&
      joint.pattern === "cross" &&
      pairs.length > neighboursInSuccession(better, joint.count).length
    ) {
      say("record/bolt-order", "warning", words.boltOrder(joint, pairs, better));
    }
  }
  return findings;
}

function torqueFindings(view: RecordView, event: JointEvent): Finding[] {
  const { analysis, writer } = view;
  const { joint, torque, pass } = event;
  if (torque === undefined || joint.torque === undefined) return [];
  const findings: Finding[] = [];
  const instrument = event.with === undefined ? undefined : instrumentCalled(event.with, analysis);
  const full = joint.torque;
  const stated = statedTolerance(view, joint);
  const allowedAt = (target: number): number =>
    (stated ?? (instrument?.accuracy ?? usualDeviation) * target) + torque.rounding;
  const isAt = (target: number): boolean =>
    Math.abs(torque.value - target) <= allowedAt(target) * (1 + 1e-9);
  const lower = lowerShares(view, joint);
  // Without a pass number the torque tells which pass it was.
  const share =
    pass === undefined
      ? (lower.find((each) => isAt(each * full)) ?? 1)
      : (joint.passes[pass - 1]?.share ?? 1);
  const isLower = share < 1 - 1e-6;
  const wanted = share * full;
  const allowed = allowedAt(wanted);
  const targets = [wanted, share * (joint.applied ?? full), share * (joint.setting ?? full)];
  // Lower passes only bring the joint together; what counts is that they do not go past it.
  const wrong = isLower ? torque.value > full + allowed : !targets.some(isAt);
  if (wrong) {
    const which = pass === undefined ? "" : ` in pass ${pass} (${percent(share)})`;
    const said = words.torqueOff(
      joint,
      writer.torque(torque.value),
      writer.torque(wanted),
      writer.torque(allowed),
      which,
    );
    findings.push(found("record/torque-off", "error", said, event));
  }
  const { least, most } = instrument ?? {};
  if (least !== undefined && most !== undefined && (torque.value > most || torque.value < least)) {
    const range = `${writer.torque(least)} to ${writer.torque(most)}`;
    const said = words.wrenchRange(
      joint,
      writer.torque(torque.value),
      instrument?.name ?? "",
      range,
    );
    findings.push(found("record/wrench-range", "warning", said, event));
  }
  return findings;
}

/** Shares below the whole torque that the joint is brought to on the way. */
function lowerShares({ plan }: RecordView, joint: Joint): number[] {
  const steps = plan.live.filter((step) => step.tighten.includes(joint));
  const shares = [
    ...joint.passes.map(({ share }) => share),
    ...steps.map((step) => step.tightenTo),
  ];
  return shares.filter((share) => share < 1 - 1e-6);
}

/** The ± written with the joint's torque, if any. */
function statedTolerance({ analysis }: RecordView, joint: Joint): number | undefined {
  const spread = analysis.valueAt(`${joint.path}.${jointFields.torque}`)?.spread();
  if (spread === undefined) return undefined;
  const half = Math.max(spread.worstBelow, spread.worstAbove);
  return half > 0 ? half : undefined;
}

function passFindings({ progress }: RecordView, joint: Joint): Finding[] {
  const events = progress.joint(joint);
  const findings: Finding[] = [];
  const numbers = progress.passes(joint);
  const highest = numbers[numbers.length - 1];
  if (highest !== undefined) {
    const missing = Array.from({ length: highest - 1 }, (_, index) => index + 1).filter(
      (number) => !numbers.includes(number) && joint.passes[number - 1] !== undefined,
    );
    const at = events.find((event) => event.pass === highest);
    if (missing.length > 0 && at !== undefined) {
      findings.push(
        found("record/pass-skipped", "warning", words.passSkipped(joint, highest, missing), at),
      );
    }
  }
  const full = progress.full(joint);
  const last = full[full.length - 1];
  if (last !== undefined && !events.some((event) => event.held !== undefined)) {
    findings.push(found("record/second-click", "note", words.secondClick(joint), last));
  }
  return findings;
}

// ───────────────────────────── measurements and re-checks ─────────────────────────────

function instrumentFindings({ analysis, writer }: RecordView): Finding[] {
  const findings: Finding[] = [];
  const unknown = new Set<string>();
  for (const { record, value, si, low, high, anchor } of measurementsOf(analysis)) {
    const name = record.node.clauses.find(({ word }) => word.text === "with")?.value;
    if (name?.type !== "text" || value.measure === undefined) continue;
    const instrument = instrumentCalled(name.value, analysis);
    if (instrument === undefined) {
      if (!unknown.has(name.value)) {
        unknown.add(name.value);
        const at = { anchor: { ...record.anchor, span: name.span } };
        findings.push(
          found("record/unknown-instrument", "note", words.unknownInstrument(name.value), at),
        );
      }
      continue;
    }
    const reads = uncertainty(instrument, value.measure.name, si);
    const band = low === undefined || high === undefined ? 0 : high - low;
    if (reads === undefined || band <= 0 || reads <= tenth * band * (1 + 1e-9)) continue;
    const figure = (each: number): string => writer.figure(each, value.measure?.name ?? "");
    const said = words.instrument(
      value.path,
      figure(reads),
      instrument.name,
      figure(band),
      figure(tenth * band),
    );
    const severity = reads > quarter * band * (1 + 1e-9) ? "warning" : "note";
    findings.push(found("record/instrument", severity, said, { anchor }));
  }
  return findings;
}

/** A step that was to measure something is done when the measurements are on record. */
function measuredFindings({ progress }: RecordView, event: DoneEvent): Finding[] {
  if (!event.done) return [];
  const missing = event.step.measure.flatMap(({ text, reached }) => {
    if (reached?.field === undefined) return [];
    return progress.measured.has(`${reached.thing.path}.${reached.field.name}`) ? [] : [text];
  });
  if (missing.length === 0) return [];
  return [
    found(
      "record/not-measured",
      "warning",
      words.notMeasured(event.step, missing, dayOf(event)),
      event,
    ),
  ];
}

/** A re-check is due once all it waits for is done, and missing once later work is on record. */
function recheckFindings({ plan, waiting, progress }: RecordView): Finding[] {
  const findings: Finding[] = [];
  for (const step of plan.live) {
    if (step.recheck.length === 0 || progress.lastDone(step) !== undefined) continue;
    const before = waiting.graph.before(step.index).flatMap((index) => plan.steps[index] ?? []);
    const done = before.map((each) => progress.lastDone(each));
    if (done.length === 0 || done.some((entry) => entry === undefined)) continue;
    const dates = done.flatMap((entry) => entry?.date ?? []).sort();
    const since = dates[dates.length - 1];
    if (since === undefined) continue;
    const later = progress.events.find(({ date }) => date !== undefined && date > since);
    if (later === undefined) continue;
    for (const joint of step.recheck) {
      if (progress.rechecked(joint) !== undefined) continue;
      findings.push(
        found("record/recheck-missing", "warning", words.recheckMissing(joint, step, since), later),
      );
    }
  }
  return findings;
}

// ───────────────────────────── helpers ─────────────────────────────

function boltsOf({ progress }: RecordView, joint: Joint, pass: number | undefined): Set<number> {
  const events = progress.joint(joint).filter((event) => event.pass === pass);
  return new Set(events.flatMap((event) => event.bolts ?? []));
}

function isLastOfPass({ progress }: RecordView, event: JointEvent): boolean {
  const same = progress
    .joint(event.joint)
    .filter(({ pass, bolts }) => pass === event.pass && bolts !== undefined);
  return same[same.length - 1] === event;
}

function daysBetween(from: string | undefined, to: string | undefined): number | undefined {
  if (from === undefined || to === undefined) return undefined;
  const days = (Date.parse(to) - Date.parse(from)) / (day * 1000);
  return Number.isFinite(days) ? days : undefined;
}
