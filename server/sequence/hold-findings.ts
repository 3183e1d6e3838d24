/**
 * What was done before the wait that something before it asks for was over: a hold of a step, of a whole
 * procedure what its last steps ask for, and the time its thread lock takes to cure.
 *
 * Must not know: the order of steps by itself, how anything is worded.
 */

import type { Found } from "../findings/worded";
import { madeOnce } from "../keep/once";
import { isBefore, type LogEntry } from "./entries";
import { wordOf } from "./fields";
import type { Plan, Step } from "./plan";
import type { RecordView } from "./record-findings";
import { jointFields, stepFields } from "./vocabulary";

const day = 24 * 3600;

export function holdFindings(view: RecordView, step: Step, ends: Ends): Found[] {
  const { progress } = view;
  const { recorded, early } = progress.state(step);
  if (recorded === undefined) return [];
  const deed = { step: step.path };
  const { anchor } = recorded;
  return heldBy(view, step, ends).flatMap((before) => {
    if (early.some((each) => each.before === before)) return [];
    const last = progress.doings(before).findLast((each) => !isBefore(recorded, each));
    const findings: Found[] = [];
    const { hold, holdTime } = before;
    if (last !== undefined && hold !== undefined && holdTime !== undefined) {
      const time = wordOf(before.thing, stepFields.holdTime);
      if (isTooSoon(last, recorded, holdTime))
        findings.push({ is: "record/hold", deed, before: before.path, hold, time, anchor });
    }
    for (const joint of before.tighten) {
      const { cure } = joint;
      // What is only brought together cures later.
      if (before.tightenTo < 1) continue;
      const { completions } = progress.joint(joint);
      const latest = completions.findLast((each) => !isBefore(recorded, each));
      if (cure === undefined || latest === undefined || !isTooSoon(latest, recorded, cure))
        continue;
      const time = wordOf(joint.thing, jointFields.cure) ?? "";
      findings.push({ is: "record/cure", deed, joint: joint.path, time, anchor });
    }
    return findings;
  });
}

/** What a step comes after: of a whole procedure the steps that nothing else in it comes after. */
function heldBy({ plan, waiting: { graph } }: RecordView, step: Step, ends: Ends): Step[] {
  const direct = graph.before(step.index).map((index) => plan.steps[index]!);
  return direct.flatMap((before) => {
    if (before.inside.length === 0) return [before];
    // What comes after all of it is held up by it already.
    if (direct.some(({ index }) => graph.has(before.index, index))) return [];
    return madeOnce(ends, before, () => endsOf(before));
  });

  function endsOf(whole: Step): Step[] {
    const all = [...chain(plan, whole, "inside")].filter((each) => each !== whole);
    const inside = new Set(all.map(({ index }) => index));
    const isStep = (index: number): boolean => plan.steps[index]!.inside.length === 0;
    // Of a part of the procedure goes on what comes after that part.
    const goesOn = (index: number, seen: Set<number>): boolean =>
      graph.after(index).some((next) => {
        if (!inside.has(next) || seen.has(next)) return false;
        return isStep(next) || goesOn(next, seen.add(next));
      });
    return all.filter(({ index }) => isStep(index) && !goesOn(index, new Set()));
  }
}

/** By the procedure. */
export type Ends = Map<Step, readonly Step[]>;

/** True where even the longest time there may have been between two entries, in seconds, is too short. */
function isTooSoon(first: LogEntry, next: LogEntry, wait: number): boolean {
  if (first.date === undefined || next.date === undefined) return false;
  // Of a day that no calendar has nothing is too soon.
  const days = (Date.parse(next.date) - Date.parse(first.date)) / (day * 1000);
  // One record is one sitting: its time of day says nothing about what lies between its lines.
  const known = first.record !== next.record;
  const start = known ? first.clock : undefined;
  const end = known ? next.clock : undefined;
  const most = days * day + ((end ?? 24 * 60) - (start ?? 0)) * 60;
  return start !== undefined && end !== undefined ? most < wait : most <= wait;
}

/** A step and all it belongs to, or all that is in it. */
export function chain({ steps }: Plan, step: Step, by: "within" | "inside"): ReadonlySet<Step> {
  const found = new Set([step]);
  for (const each of found) for (const index of each[by]) found.add(steps[index]!);
  return found;
}
