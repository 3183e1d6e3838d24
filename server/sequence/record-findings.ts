/**
 * What is wrong with what was done: out of order, before its prerequisites, to be done again, said
 * to be done and not, not held, never checked again.
 *
 * Must not know: how the plan was put in order, how anything is worded.
 */

import type { Found } from "../findings/worded";
import type { Because, Deed, Lacking } from "../findings/work-phrases";
import { Lists } from "../keep/lists";
import { madeOnce } from "../keep/once";
import { isAbove } from "./close";
import { concessionFindings } from "./concession-findings";
import { dayOf, isBefore, type LogEntry } from "./entries";
import { entryFindings } from "./entry-findings";
import { chain, type Ends, holdFindings } from "./hold-findings";
import type { NotedBuild } from "./noted-build";
import type { Joint, Plan, Step } from "./plan";
import type { Progress } from "./progress";
import type { Records } from "./read-records";
import type { Act, Again, Facts } from "./step-state";
import { becauseOf, type Waiting } from "./waiting";

export interface RecordView {
  readonly build: NotedBuild;
  readonly plan: Plan;
  readonly waiting: Waiting;
  readonly progress: Progress;
  readonly unread: Records["unread"];
  readonly duplicates: Records["duplicates"];
  readonly facts: Facts;
}

export function recordFindings(view: RecordView): Found[] {
  return [
    ...entryFindings(view),
    ...orderFindings(view),
    ...againFindings(view),
    ...doneFindings(view),
    ...leftOutFindings(view),
    ...nothingUndone(view),
    ...concessionFindings(view),
    ...recheckFindings(view),
  ];
}

// ───────────────────────────── order ─────────────────────────────

/** Something done too early, and the step that should have been done by then. */
interface Overtook {
  readonly act: Act;
  /** The step that is missing or late, where the act waits for one that holds it. */
  readonly cause: Step;
  /** What the act waits for. */
  readonly before: Step;
  /** When that came, where it did. */
  readonly first: LogEntry | undefined;
}

/** Every act is held against the steps it should have come after; one cause is told once. */
function orderFindings(view: RecordView): Found[] {
  const { plan } = view;
  const byCause = new Lists<Step, Overtook>();
  const steps = plan.live.filter(({ inside }) => inside.length === 0);
  for (const step of steps)
    for (const each of overtookIn(view, step)) byCause.add(each.cause, each);
  const found = [...byCause.values()].map((all) => tooEarly(view, all));
  const ends: Ends = new Map();
  return [...found, ...steps.flatMap((step) => holdFindings(view, step, ends))];
}

/** What a step was done before; of steps that wait for each other the nearest says it all. */
function overtookIn(view: RecordView, step: Step): Overtook[] {
  const { waiting, progress } = view;
  const { early } = progress.state(step);
  const said = new Set<Step>();
  return [...new Set(early.map((each) => each.act))].flatMap((act) => {
    const own = early.filter((each) => each.act === act && !said.has(each.before));
    const late = own.filter(({ first }) => first !== undefined);
    const undone = own.filter(({ first }) => first === undefined);
    return [late, undone].flatMap((some) => {
      const nearest = new Set(waiting.nearest(some.map(({ before }) => before)));
      return some.flatMap(({ before, first }): Overtook[] => {
        if (!nearest.has(before)) return [];
        said.add(before);
        return causesOf(view, before, act).map((cause) => ({ act, cause, before, first }));
      });
    });
  });
}

/** A step that holds others is not done for want of some of these. */
function causesOf(view: RecordView, step: Step, act: Act): Step[] {
  const { plan, progress } = view;
  const lacking = step.inside
    .map((index) => plan.steps[index]!)
    .filter((each) => each.leftOut === undefined && !progress.wasDoneBy(each, act.entry));
  return lacking.length === 0 ? [step] : lacking.flatMap((each) => causesOf(view, each, act));
}

/** The first of all that was done before its cause; one that waits for that itself goes first. */
function tooEarly({ waiting, progress }: RecordView, all: readonly Overtook[]): Found {
  const [told, ...others] = [...all].sort(
    (one, other) =>
      Number(one.before !== one.cause) - Number(other.before !== other.cause) ||
      one.act.entry.place - other.act.entry.place,
  ) as [Overtook, ...Overtook[]];
  const { act, cause, before, first } = told;
  const more = others
    .filter((each) => each.act !== act)
    .map((each) => ({ deed: deedOf(each.act), at: each.act.entry.anchor }));
  const facts = {
    deed: deedOf(act),
    before: cause.path,
    day: dayOf(act.entry),
    why: because(waiting, before, act),
    more,
    anchor: act.entry.anchor,
  };
  const came = first === undefined ? undefined : (progress.firstDone(cause) ?? first);
  if (came === undefined)
    return {
      is: "record/before-prerequisite",
      ...facts,
      there: { title: cause.title, at: cause.anchor },
    };
  const there = { title: cause.title, at: came.anchor };
  const { caution } = act.step;
  return { is: "record/out-of-order", ...facts, there, first: dayOf(came), caution };
}

function because(waiting: Waiting, before: Step, { step, joint }: Act): Because {
  return becauseOf(waiting.why(before, step, joint));
}

function deedOf({ step, joint }: Act): Deed {
  return { step: step.path, joint: joint?.path };
}

/** What was done again or taken back is one mistake, whatever stands on it. */
function againFindings(view: RecordView): Found[] {
  const { plan, progress, waiting } = view;
  const byCause = new Lists<LogEntry, Again>();
  for (const step of plan.live) {
    for (const act of new Set(progress.state(step).again.map((each) => each.act))) {
      const own = progress
        .state(step)
        .again.filter(
          (each) => each.act === act && each.since !== undefined && each.because !== "early",
        )
        .sort((one, other) => other.since!.place - one.since!.place);
      const [latest] = own;
      if (latest?.since === undefined) continue;
      byCause.add(latest.since, latest);
    }
  }
  return [...byCause].flatMap(([since, again]): Found[] => {
    const near = new Set(waiting.nearest([...new Set(again.map(({ act }) => act.step))]));
    const told = onePerStep(again.filter(({ act }) => near.has(act.step)));
    const [first] = told;
    if (first === undefined) return [];
    return [
      {
        is: "record/again",
        before: first.before.path,
        why: becauseOf(first.why),
        cause: first.because === "undone" ? "undone" : "redone",
        day: dayOf(since),
        deeds: told.map(({ act }) => ({
          deed: deedOf(act),
          date: act.entry.date,
          at: act.entry.anchor,
        })),
        behind: new Set(again.map(({ act }) => act.step)).size - near.size,
        anchor: since.anchor,
      },
    ];
  });
}

/** The tightening of a joint says more than the step it belongs to. */
function onePerStep(again: readonly Again[]): Again[] {
  const steps = new Lists<Step, Again>();
  for (const each of again) steps.add(each.act.step, each);
  return [...steps.values()].flatMap((each) => {
    const joints = each.filter(({ act }) => act.joint !== undefined);
    return joints.length > 0 ? joints : each;
  });
}

// ───────────────────────────── done ─────────────────────────────

/** What is said to be done and is not, at the word that says so; one finding for one kind of lack. */
function doneFindings(view: RecordView): Found[] {
  const { plan, progress } = view;
  const lacks = new Map<LogEntry, Lists<Lacking["is"], Lacking>>();
  const findings: Found[] = [];
  for (const step of plan.live) {
    const { recorded, missing, late } = progress.state(step);
    if (recorded === undefined || step.inside.length > 0) continue;
    for (const each of missing) {
      madeOnce(lacks, recorded, () => new Lists<Lacking["is"], Lacking>()).add(each.is, each);
    }
    for (const { is: was, path, entry } of late) {
      findings.push({
        is: "record/done-too-soon",
        step: step.path,
        day: dayOf(recorded),
        path,
        was,
        later: dayOf(entry),
        there: entry.anchor,
        anchor: recorded.anchor,
      });
    }
  }
  for (const [entry, kinds] of lacks) {
    const { anchor } = entry;
    for (const [is, lacking] of kinds)
      findings.push({ is: unfinished[is], day: dayOf(entry), lacking, anchor });
  }
  return findings;
}

const unfinished = {
  joint: "record/not-tight",
  recheck: "record/not-rechecked",
  measure: "record/not-measured",
  figure: "record/open-figure",
  part: "record/part-not-here",
  check: "record/out-of-limits",
  second: "record/second-person",
  sign: "record/not-signed",
  anew: "record/not-anew",
} as const satisfies Readonly<Record<Lacking["is"], Found["is"]>>;

function leftOutFindings({ plan, progress }: RecordView): Found[] {
  return plan.steps.flatMap((step) => {
    const { path, leftOut: because } = step;
    if (because === undefined) return [];
    return progress
      .own(step)
      .filter(({ done }) => done)
      .map(({ anchor }): Found => ({ is: "record/left-out", step: path, because, anchor }));
  });
}

/** Of all that is said of a step, of what it belongs to and of what is in it, nothing was to be taken back. */
function nothingUndone({ plan, progress }: RecordView): Found[] {
  return plan.steps.flatMap((step) => {
    const undone = progress.own(step).filter(({ done }) => !done);
    if (undone.length === 0) return [];
    const around = new Set([...chain(plan, step, "within"), ...chain(plan, step, "inside")]);
    const doings = [...around].flatMap((each) => progress.own(each).filter(({ done }) => done));
    return undone
      .filter((each) => doings.every((doing) => isBefore(each, doing)))
      .map(
        (each): Found => ({
          is: "record/nothing-undone",
          step: step.path,
          day: dayOf(each),
          anchor: each.anchor,
        }),
      );
  });
}

// ───────────────────────────── re-checks ─────────────────────────────

function recheckFindings(view: RecordView): Found[] {
  const { plan, progress } = view;
  // Where a step says that it was checked again, what is not on record is told there.
  const said = new Set(
    plan.live.flatMap((step) =>
      progress.state(step).missing.flatMap((each) => (each.is === "recheck" ? [each.joint] : [])),
    ),
  );
  const driven = plan.joints.flatMap((joint) => {
    const found = recheckOf(progress, joint);
    const isTold = found?.is === "record/recheck-due" && said.has(joint.path);
    return found === undefined || isTold ? [] : [{ joint, found }];
  });
  const due = driven.filter(({ found }) => found.is === "record/recheck-due");
  return [
    ...progress.odometer.findings,
    ...driven.map(({ found }) => found),
    ...overdueFindings(view, new Set(due.map(({ joint }) => joint))),
  ];
}

/** A re-check is due once all it waits for is done, and missing once later work is on record. */
function overdueFindings(view: RecordView, told: ReadonlySet<Joint>): Found[] {
  const { plan, waiting, progress } = view;
  const findings: Found[] = [];
  for (const step of plan.live) {
    if (step.recheck.length === 0 || progress.lastDone(step) !== undefined) continue;
    const before = waiting.graph.before(step.index).map((index) => plan.steps[index]!);
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
    findings.push({
      is: "record/recheck-missing",
      joints: joints.map(({ path }) => path),
      step: step.path,
      since,
      anchor: later.anchor,
    });
  }
  return findings;
}

/** Whether it was checked again after the distance it asks for, as far as the odometer tells. */
function recheckOf(progress: Progress, joint: Joint): Found | undefined {
  const { recheckAfter: wanted, path } = joint;
  const { full, rechecked } = progress.joint(joint);
  const { odometer } = progress;
  const { last } = odometer;
  if (wanted === undefined || full === undefined || last === undefined) return undefined;
  const known = odometer.by(full);
  // Where it was first read later it had been driven at least so far since.
  const start = known ?? odometer.after(full);
  if (start === undefined) return undefined;
  const checked = rechecked === undefined ? undefined : odometer.on(rechecked);
  if (rechecked !== undefined && checked !== undefined) {
    const driven = checked - start;
    if (!isAbove(wanted, driven)) return undefined;
    const { anchor } = rechecked;
    if (known !== undefined)
      return { is: "record/recheck-early", joint: path, driven, wanted, anchor };
    return driven > 0
      ? { is: "record/recheck-early unread", joint: path, driven, wanted, anchor }
      : undefined;
  }
  const driven = last.distance - start;
  if (rechecked !== undefined || isAbove(wanted, driven)) return undefined;
  return { is: "record/recheck-due", joint: path, driven, wanted, anchor: last.anchor };
}
