/**
 * A joint as the plan shows it: its passes with what to set the wrench to, its order, how far it has
 * come.
 *
 * Must not know: steps, terminals, paper.
 */
import { lacksInWords } from "../findings/work-phrases";
import { isAbove } from "./close";
import { figureOf, wordOf } from "./fields";
import type { NotedBuild } from "./noted-build";
import type { Joint } from "./plan";
import { jointNotes } from "./plan-words";
import type { Progress } from "./progress";
import type { PlannedJoint, PlannedPass } from "./sequence";
import { pointsOf } from "./tightening-order";
import { instrumentFields, jointFields } from "./vocabulary";

export function plannedJoint(build: NotedBuild, joint: Joint, progress: Progress): PlannedJoint {
  const { thing, torque, wrench } = joint;
  const history = progress.joint(joint);
  const setting = settingOf(build, joint);
  const passes = joint.passes.map((pass): PlannedPass => {
    const at = pass.turn === undefined ? setting.at(pass.torque) : undefined;
    const round = joint.order.map((group) => [...group].sort((one, other) => one - other));
    return {
      ...pass,
      setting: at,
      order: pass.circular ? round : joint.order,
      withinWrench: isWithin(joint, at),
    };
  });
  return {
    path: joint.path,
    title: joint.title,
    anchor: joint.anchor,
    thread: wordOf(thing, jointFields.thread),
    grade: wordOf(thing, jointFields.grade),
    count: joint.count,
    groups: joint.groups,
    pattern: joint.pattern,
    places: pointsOf(joint),
    torque,
    running: joint.running,
    isRunningRead: history.isRunningRead,
    setting: setting.at(torque),
    settingKnown: setting.known,
    wrench: wrench === undefined ? undefined : (wrench.title ?? wrench.name),
    passes,
    order: joint.order,
    notes: jointNotes(joint),
    tightenedOn: history.full?.date,
    recheckedOn: history.rechecked?.date,
    recheckAt: recheckAt(joint, progress),
    ...(history.events.length === 0 || history.isFull
      ? {}
      : { lacks: lacksInWords(history.lacks) }),
  };
}

/** Where the odometer was read by the day it was tightened, that and the distance it asks for. */
function recheckAt(joint: Joint, progress: Progress): number | undefined {
  const { recheckAfter } = joint;
  const { full } = progress.joint(joint);
  if (recheckAfter === undefined || full === undefined) return undefined;
  const start = progress.odometer.by(full);
  return start === undefined ? undefined : start + recheckAfter;
}

interface Setting {
  readonly known: boolean;
  /** What to set the wrench to for a torque of the nut, both in N·m. */
  at(torque: number | undefined): number | undefined;
}

/** The running torque comes on top of each pass, before the adapter makes it another figure. */
function settingOf(build: NotedBuild, joint: Joint): Setting {
  const { applied, running, setting, wrench } = joint;
  const known = setting !== undefined || !joint.adapter;
  const ratio =
    setting === undefined || applied === undefined || applied === 0 ? 1 : setting / applied;
  const step =
    wrench === undefined ? undefined : figureOf(build, wrench, instrumentFields.scaleStep);
  const settable = (exact: number): number =>
    step === undefined || step <= 0 ? exact : Math.max(step, Math.round(exact / step) * step);
  return {
    known,
    at: (nut) => (nut === undefined || !known ? undefined : settable((nut + running) * ratio)),
  };
}

function isWithin({ wrenchRange }: Joint, setting: number | undefined): boolean {
  if (setting === undefined || wrenchRange === undefined) return true;
  return !isAbove(wrenchRange.least, setting) && !isAbove(setting, wrenchRange.most);
}
