/**
 * What is wrong with what was done: out of order, before its prerequisites, to be done again, said
 * to be done and not, not held, never checked again.
 *
 * Must not know: how the plan was put in order.
 */

import type { Analysis } from "../analysis/analysis";
import type { OwnCode } from "../findings/codes";
import type { Finding } from "../findings/finding";
import { concessionFindings } from "./concession-findings";
import { dayOf, type Entry, isBefore, type MeasuredEvent, type Unread } from "./entries";
import { entryFindings } from "./entry-findings";
import { wordOf } from "./fields";
import type { Joint, Plan, Step } from "./plan";
import { found } from "./plan-findings";
import type { Progress } from "./progress";
import type { Records } from "./read-records";
import type { Act, Again, Facts, Missing } from "./step-state";
import { jointFields, kinds, odometerField, stepFields } from "./vocabulary";
import type { Waiting } from "./waiting";
import { actInWords, type FigureWriter, holdInWords, record as words } from "./wording";

const day = 24 * 3600;

export interface RecordView {
  readonly analysis: Analysis;
  readonly plan: Plan;
  readonly waiting: Waiting;
  readonly progress: Progress;
  readonly unread: readonly Unread[];
  readonly duplicates: Records["duplicates"];
  readonly facts: Facts;
  readonly writer: FigureWriter;
}

export function recordFindings(view: RecordView): Finding[] {
  return [
    ...entryFindings(view),
    ...orderFindings(view),
    ...againFindings(view),
    ...doneFindings(view),
    ...leftOutFindings(view),
    ...concessionFindings(view),
    ...recheckFindings(view),
  ];
}

// ───────────────────────────── order ─────────────────────────────

/** Every act is held against the steps it should have come after; one mistake is said once. */
function orderFindings(view: RecordView): Finding[] {
  const { plan, waiting, progress } = view;
  const findings: Finding[] = [];
  for (const step of plan.live) {
    if (step.inside.length > 0) continue;
    const said = new Set<Step>();
    const { early } = progress.state(step);
    for (const act of new Set(early.map((each) => each.act))) {
      const own = early.filter((each) => each.act === act && !said.has(each.before));
      const late = new Map(
        own.flatMap(({ before, first }) => (first === undefined ? [] : [[before, first]])),
      );
      const undone = own.flatMap(({ before, first }) => (first === undefined ? [before] : []));
      // Of steps that wait for each other the nearest says it all.
      for (const before of waiting.nearest([...late.keys()])) {
        const first = late.get(before);
        said.add(before);
        if (first !== undefined) findings.push(tooEarly(view, before, first, act));
      }
      for (const before of waiting.nearest(undone)) {
        said.add(before);
        const why = waiting.why(before, step, act.joint);
        const sentence = words.prerequisite(before, act, why, dayOf(act.entry));
        const related = [{ anchor: before.anchor, message: `${before.title} is here` }];
        findings.push(found("record/before-prerequisite", "warning", sentence, act.entry, related));
      }
    }
    findings.push(...holdFindings(view, step));
  }
  return findings;
}

function tooEarly(view: RecordView, before: Step, first: Entry, act: Act): Finding {
  const why = view.waiting.why(before, act.step, act.joint);
  const said = words.tooEarly(before, act, why, { before: dayOf(first), after: dayOf(act.entry) });
  const related = [{ anchor: first.anchor, message: `${before.title} is recorded here` }];
  const finding = found("record/out-of-order", "error", said, act.entry, related);
  const { caution } = act.step;
  return caution === undefined ? finding : { ...finding, caution };
}

/** What was done again or taken back is one mistake, whatever stands on it. */
function againFindings(view: RecordView): Finding[] {
  const { plan, progress, waiting } = view;
  const byCause = new Map<Entry, Again[]>();
  for (const step of plan.live) {
    for (const act of new Set(progress.state(step).again.map((each) => each.act))) {
      const own = progress
        .state(step)
        .again.filter(
          (each) => each.act === act && each.since !== undefined && each.because !== "early",
        )
        .sort((one, other) => (other.since?.place ?? 0) - (one.since?.place ?? 0));
      const [latest] = own;
      if (latest?.since === undefined) continue;
      byCause.set(latest.since, [...(byCause.get(latest.since) ?? []), latest]);
    }
  }
  return [...byCause].flatMap(([since, again]) => {
    const near = new Set(waiting.nearest([...new Set(again.map(({ act }) => act.step))]));
    const told = onePerStep(again.filter(({ act }) => near.has(act.step)));
    const [first] = told;
    if (first === undefined) return [];
    const related = told.map(({ act }) => ({
      anchor: act.entry.anchor,
      message: `${actInWords(act)} is recorded here`,
    }));
    const behind = new Set(again.map(({ act }) => act.step)).size - near.size;
    const said = words.again(first, told, dayOf(since), behind);
    return [found("record/again", "warning", said, since, related)];
  });
}

/** The tightening of a joint says more than the step it belongs to. */
function onePerStep(again: readonly Again[]): Again[] {
  const steps = new Map<Step, Again[]>();
  for (const each of again) steps.set(each.act.step, [...(steps.get(each.act.step) ?? []), each]);
  return [...steps.values()].flatMap((each) => {
    const joints = each.filter(({ act }) => act.joint !== undefined);
    return joints.length > 0 ? joints : each;
  });
}

// ───────────────────────────── holds ─────────────────────────────

function holdFindings({ plan, waiting, progress }: RecordView, step: Step): Finding[] {
  const { recorded, early } = progress.state(step);
  if (recorded === undefined) return [];
  const act: Act = { step, entry: recorded };
  return waiting.graph.before(step.index).flatMap((index) => {
    const before = plan.steps[index];
    if (before === undefined || early.some((each) => each.before === before)) return [];
    const done = progress.doings(before).filter((each) => !isBefore(recorded, each));
    const last = done[done.length - 1];
    const findings: Finding[] = [];
    const { hold, holdTime } = before;
    if (last !== undefined && hold !== undefined && holdTime !== undefined) {
      if (isTooSoon(last, recorded, holdTime)) {
        const time = holdInWords(before, wordOf(before.thing, stepFields.holdTime)) ?? "";
        findings.push(found("record/hold", "warning", words.hold(before, act, time), recorded));
      }
    }
    for (const joint of before.tighten) {
      const { cure } = joint;
      const tight = progress.joint(joint).completions.filter((each) => !isBefore(recorded, each));
      const latest = tight[tight.length - 1];
      if (cure === undefined || latest === undefined || !isTooSoon(latest, recorded, cure))
        continue;
      const time = wordOf(joint.thing, jointFields.cure) ?? "";
      findings.push(found("record/cure", "warning", words.cure(joint, act, time), recorded));
    }
    return findings;
  });
}

/** True where even the longest time there may have been between two entries, in seconds, is too short. */
function isTooSoon(first: Entry, next: Entry, wait: number): boolean {
  if (first.date === undefined || next.date === undefined) return false;
  const days = (Date.parse(next.date) - Date.parse(first.date)) / (day * 1000);
  if (!Number.isFinite(days)) return false;
  // One record is one sitting: its time of day says nothing about what lies between its lines.
  const known = first.record !== next.record;
  const start = known ? first.clock : undefined;
  const end = known ? next.clock : undefined;
  const most = days * day + ((end ?? 24 * 60) - (start ?? 0)) * 60;
  return start !== undefined && end !== undefined ? most < wait : most <= wait;
}

// ───────────────────────────── done ─────────────────────────────

/** What is said to be done and is not, at the word that says so; one finding for one kind of lack. */
function doneFindings(view: RecordView): Finding[] {
  const { plan, progress } = view;
  const lacks = new Map<Entry, Map<OwnCode, { step: Step; missing: Missing }[]>>();
  const findings: Finding[] = [];
  for (const step of plan.live) {
    const { recorded, missing, late } = progress.state(step);
    if (recorded === undefined || step.inside.length > 0) continue;
    for (const each of missing) {
      const codes = lacks.get(recorded) ?? new Map<OwnCode, { step: Step; missing: Missing }[]>();
      lacks.set(recorded, codes);
      const code = codeOf[each.is];
      codes.set(code, [...(codes.get(code) ?? []), { step, missing: each }]);
    }
    for (const { joint, entry } of late) {
      const related = [{ anchor: entry.anchor, message: "it was tightened here" }];
      const said = words.late(step, joint, dayOf(recorded), dayOf(entry));
      findings.push(found("record/done-too-soon", "warning", said, recorded, related));
    }
  }
  for (const [entry, codes] of lacks) {
    for (const [code, list] of codes) {
      const said = words.unfinished(list, dayOf(entry), view.writer);
      findings.push(found(code, "warning", said, entry));
    }
  }
  return findings;
}

const codeOf: Readonly<Record<Missing["is"], OwnCode>> = {
  joint: "record/not-tight",
  recheck: "record/not-rechecked",
  measure: "record/not-measured",
  figure: "record/open-figure",
  check: "record/out-of-limits",
  second: "record/second-person",
  sign: "record/not-signed",
  anew: "record/not-anew",
};

function leftOutFindings({ plan, progress }: RecordView): Finding[] {
  return plan.steps.flatMap((step) => {
    const { leftOut } = step;
    if (leftOut === undefined) return [];
    return progress
      .own(step)
      .filter(({ done }) => done)
      .map((event) => found("record/left-out", "warning", words.leftOut(step, leftOut), event));
  });
}

// ───────────────────────────── re-checks ─────────────────────────────

function recheckFindings(view: RecordView): Finding[] {
  const driven = new Odometer(view);
  const findings = [...driven.findings];
  for (const joint of view.plan.joints) findings.push(...driven.recheckOf(joint));
  const due = new Set(driven.due);
  return [...findings, ...overdueFindings(view, due)];
}

/** A re-check is due once all it waits for is done, and missing once later work is on record. */
function overdueFindings(view: RecordView, told: ReadonlySet<Joint>): Finding[] {
  const { plan, waiting, progress } = view;
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
    const joints = step.recheck.filter(
      (joint) => !told.has(joint) && progress.joint(joint).rechecked === undefined,
    );
    if (joints.length === 0) continue;
    const said = words.recheckMissing(joints, step, since);
    findings.push(found("record/recheck-missing", "warning", said, later));
  }
  return findings;
}

/** How far the vehicle had been driven on the days the records tell. */
class Odometer {
  readonly findings: Finding[] = [];
  readonly due: Joint[] = [];
  private readonly readings: (MeasuredEvent & { readonly distance: number })[] = [];

  constructor(private readonly view: RecordView) {
    const measured = [...view.progress.measured.values()].filter(
      ([first]) => first?.field === odometerField && first.thing.is(kinds.vehicle),
    );
    for (const event of measured.flat()) {
      if (event.reading === undefined) continue;
      const before = this.readings[this.readings.length - 1];
      const distance = event.reading.value;
      if (before !== undefined && isBefore(before, event) && distance < before.distance) {
        const related = [{ anchor: before.anchor, message: "the earlier reading is here" }];
        const said = words.odometerBack(this.write(distance), this.write(before.distance));
        this.findings.push(found("record/odometer", "warning", said, event, related));
        continue;
      }
      this.readings.push({ ...event, distance });
    }
  }

  recheckOf(joint: Joint): Finding[] {
    const { recheckAfter } = joint;
    const history = this.view.progress.joint(joint);
    const { full, rechecked } = history;
    const last = this.readings[this.readings.length - 1];
    if (recheckAfter === undefined || full === undefined || last === undefined) return [];
    const start = this.at(full);
    if (start === undefined) return [];
    const slack = 1 - 1e-9;
    const wanted = this.write(recheckAfter);
    const checked = rechecked === undefined ? undefined : this.at(rechecked, true);
    if (rechecked !== undefined && checked !== undefined) {
      const driven = checked - start;
      if (driven >= recheckAfter * slack) return [];
      const said = words.recheckEarly(joint, this.write(driven), wanted);
      return [found("record/recheck-early", "warning", said, rechecked)];
    }
    const driven = last.distance - start;
    if (rechecked !== undefined || driven < recheckAfter * slack) return [];
    this.due.push(joint);
    const said = words.recheckDue(joint, this.write(driven), wanted);
    return [found("record/recheck-due", "warning", said, last)];
  }

  /** In metres: the last reading by the day of an entry, or `exactly` one of that day. */
  private at({ date }: Entry, exactly = false): number | undefined {
    if (date === undefined) return undefined;
    let found: number | undefined;
    for (const reading of this.readings) {
      if (reading.date === undefined || reading.date > date) continue;
      if (!exactly || reading.date === date) found = reading.distance;
    }
    return found;
  }

  private write(distance: number): string {
    return this.view.writer.distance(distance);
  }
}
