/**
 * The order of work of a build: steps in a valid order with their state, joints with their passes,
 * what is done, what is left, and what is wrong in the plan and in the records.
 *
 *     const { steps, joints, findings } = sequenceOf(analysis)
 *
 * Pure over an analysis, all of it but its findings, among which these come to stand; nothing is
 * written into it. Must not know: editors, terminals, paper.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Analysis, CheckResult } from "../analysis/analysis";
import { FigureWriter } from "../findings/figure-writer";
import type { Finding } from "../findings/finding";
import type { Found } from "../findings/worded";
import { Alike } from "../keep/alike";
import { madeOnce } from "../keep/once";
import type { DisplayStyle } from "../units";
import { type Accepted, acceptedOf } from "./accepted";
import type { Event } from "./entries";
import { factsOf } from "./facts";
import { figureOf, wordOf } from "./fields";
import { NotedBuild } from "./noted-build";
import { type Overview, overviewOf } from "./overview";
import type { Joint, Plan } from "./plan";
import { left as leftWords } from "./plan-words";
import { plannedJoint } from "./planned-joint";
import { StepPlanner } from "./planned-step";
import { type Schedule, scheduleOf, type Timed, type Working } from "./schedule";
import type { FastenerPoint } from "./tightening-order";
import { kinds, procedureFields } from "./vocabulary";

export interface Sequence {
  /** Steps that can start, in a valid order; then those that cannot. */
  readonly steps: readonly PlannedStep[];
  /** Steps of one group can go on side by side; each group waits for the one before. */
  readonly groups: readonly (readonly PlannedStep[])[];
  readonly joints: readonly PlannedJoint[];
  readonly events: readonly Event[];
  /** Steps this build does without, and why. */
  readonly leftOut: readonly {
    readonly path: string;
    readonly title: string;
    readonly because: string;
  }[];
  /** What is still to be done, in order. */
  readonly left: readonly Left[];
  /** What was accepted out of tolerance. */
  readonly accepted: readonly Accepted[];
  readonly findings: readonly Finding[];
  /** The same before it is worded. */
  readonly found: readonly Found[];
  /** How long it still takes, where steps say how long they do. */
  readonly schedule?: Schedule;
  /** How the build writes figures. */
  readonly style: DisplayStyle;
}

/** `again`: on record as done, but open: something is lacking, or what it stands on was done again. */
export type State = "ready" | "done" | "blocked" | "again";

export interface PlannedStep {
  readonly path: string;
  readonly title: string;
  /** Where it is written, or where the build takes it in. */
  readonly anchor: Anchor;
  /** True for a procedure or a step that holds others. */
  readonly holdsSteps: boolean;
  /** Paths of the procedures and steps it lies in, nearest first. */
  readonly within: readonly string[];
  readonly work?: string;
  readonly on: readonly string[];
  readonly state: State;
  /** The day it was done, where a record says so. */
  readonly doneOn?: string;
  readonly doneBy?: string;
  /** Where it is on record as done and is not: what it lacks, or why it has to be done again. */
  readonly again: readonly string[];
  readonly blockedBy: readonly Blocker[];
  /** Steps right before it, with the reason. */
  readonly waitsFor: readonly {
    readonly path: string;
    readonly title: string;
    readonly because: string;
    /** True where the build says so itself, and there is no more to the reason. */
    readonly written: boolean;
    readonly hold?: string;
  }[];
  readonly tighten: readonly PlannedJoint[];
  readonly tightenTo: number;
  readonly recheck: readonly PlannedJoint[];
  /** What it measures, by the path as written. */
  readonly measure: readonly { readonly path: string; readonly measured: boolean }[];
  /** Paths or names as written. */
  readonly needs: readonly string[];
  /** The figures among them with their values: `rear.left.tape_reading 28 1/16 in`. */
  readonly needsInWords: readonly string[];
  /** Values that have to lie within limits. */
  readonly checks: readonly CheckResult[];
  /** "until it is cool to the touch" */
  readonly hold?: string;
  readonly hands: number;
  /** In seconds of work. */
  readonly duration?: number;
  readonly machines: readonly string[];
  /** What it takes that is bought or made, and whether it is here. */
  readonly parts: readonly {
    readonly path: string;
    readonly title: string;
    readonly atHand: boolean;
  }[];
  /** Who looks at it and signs before anything goes on: a hold point. */
  readonly signOff?: string;
  /** Titles of steps whose doer may not do this one. */
  readonly otherThan: readonly string[];
  readonly caution?: string;
  readonly note?: string;
}

export interface Blocker {
  readonly is: "step" | "figure" | "check" | "loop" | "part";
  /** For a reader: "tack the left end (ends are tacked before welding)". */
  readonly text: string;
  /** Of the step or figure. */
  readonly path?: string;
}

export interface PlannedJoint {
  readonly path: string;
  readonly title: string;
  readonly anchor: Anchor;
  readonly thread?: string;
  readonly grade?: string;
  readonly count: number;
  readonly groups: number;
  readonly pattern: Joint["pattern"];
  /** Where each fastener of one group stands (of all of them where they have coordinates), by place. */
  readonly places: readonly FastenerPoint[];
  /** In N·m. */
  readonly torque?: number;
  /** What it takes to turn a locking nut before it seats, as planned, in N·m; 0 for all others. */
  readonly running: number;
  /** Whether that is on record of the round of tightening it is in. */
  readonly isRunningRead: boolean;
  /** What to set the wrench to at full torque, in N·m; open where an adapter leaves it open. */
  readonly setting?: number;
  /** False where an adapter is in between and nobody says how long the wrench is. */
  readonly settingKnown: boolean;
  readonly wrench?: string;
  readonly passes: readonly PlannedPass[];
  /** Fasteners of each group in the order they are tightened. */
  readonly order: readonly (readonly number[])[];
  /** "new fasteners each time", "running torque on top", … */
  readonly notes: readonly string[];
  /** The day it was brought to its whole torque, where that still stands. */
  readonly tightenedOn?: string;
  readonly recheckedOn?: string;
  /** What the odometer shows when it is due to be checked again, in m. */
  readonly recheckAt?: number;
  /** What keeps it from being tight, in words: "lacks pass 4"; none where it is or nothing was done. */
  readonly lacks?: string;
}

export interface PlannedPass {
  readonly number: number;
  readonly share: number;
  /** In N·m. */
  readonly torque?: number;
  /** What to set the wrench to, in N·m, in steps it can be set in. */
  readonly setting?: number;
  /** In rad: set for the pass in which each is turned on instead of brought to a torque. */
  readonly turn?: number;
  /** True for the closing pass, once round. */
  readonly circular: boolean;
  readonly order: readonly (readonly number[])[];
  /** False where the wrench is not to be used at this torque. */
  readonly withinWrench: boolean;
}

export interface Left {
  readonly is: "step" | "tighten" | "recheck" | "measure";
  readonly path: string;
  readonly text: string;
}

/** What is wrong in the plan and in the records, for an analyzer to count among a build's findings. */
export function orderFindings(analysis: Analysis): readonly Found[] {
  return overviewOf(analysis).found;
}

/** What the records say, entry by entry. */
export function recordedIn(analysis: Analysis): readonly Event[] {
  return overviewOf(analysis).events;
}

const kept = new WeakMap<Analysis["core"], Sequence>();

/** Worked out once for an analysis, which never changes; of an edit only what it has to do with. */
export function sequenceOf(analysis: Analysis): Sequence {
  return madeOnce(kept, analysis.core, () => makeSequence(analysis));
}

function makeSequence(analysis: Analysis): Sequence {
  const overview = overviewOf(analysis);
  const { plan, events, found, progress } = overview;
  return {
    ...shownOf(analysis, overview),
    events,
    leftOut: plan.steps.flatMap(({ path, title, leftOut }) =>
      leftOut === undefined ? [] : [{ path, title, because: leftOut }],
    ),
    accepted: acceptedOf(analysis, progress, new FigureWriter(analysis.style)),
    found,
    get findings() {
      return analysis.inWords(found);
    },
    style: analysis.style,
  };
}

type Shown = Pick<Sequence, "steps" | "groups" | "joints" | "left" | "schedule">;

const keptShown = new Alike<Overview, { readonly build: NotedBuild; readonly shown: Shown }>(1);

/** The order of work as a reader goes through it. */
function shownOf(analysis: Analysis, overview: Overview): Shown {
  const before = keptShown.find(overview, ({ build }) => build.holdsIn(analysis));
  if (before !== undefined) return before.shown;
  const build = new NotedBuild(analysis);
  return keptShown.keep(overview, { build, shown: makeShown(build, overview) }).shown;
}

function makeShown(build: NotedBuild, { plan, waiting, progress, events }: Overview): Shown {
  const writer = new FigureWriter(build.analysis.style);
  const facts = factsOf(build, plan, events);
  const joints = new Map(plan.joints.map((joint) => [joint, plannedJoint(build, joint, progress)]));
  const planner = new StepPlanner(
    { plan, waiting, progress, facts, writer, write: (path) => written(build, path) },
    joints,
  );
  const planned = new Map(plan.live.map((step) => [step.index, planner.step(step)]));
  const pick = (indices: readonly number[]): PlannedStep[] =>
    indices.flatMap((index) => planned.get(index) ?? []);
  const order = waiting.graph.order();
  const stuck = [...waiting.graph.stuck()].sort((one, other) => one - other);
  const steps = pick([...order, ...stuck]);
  const schedule = scheduleOf(
    order.flatMap((index): Timed[] => {
      const step = plan.steps[index]!;
      if (step.leftOut !== undefined) return [];
      const before = waiting.graph.before(index).map((at) => plan.steps[at]!.path);
      const isWhole = step.inside.length > 0;
      const { path, duration, holdTime, hands, machines } = step;
      const timed = { path, before, done: progress.state(step).done };
      return isWhole
        ? [{ ...timed, duration: 0, hands: 0, machines: [] }]
        : [{ ...timed, duration, holdTime, hands, machines }];
    }),
    workingOn(build, plan),
  );
  return {
    steps,
    groups: waiting.graph
      .waves()
      .map((wave) => pick(wave).filter((step) => !step.holdsSteps))
      .filter((wave) => wave.length > 0),
    joints: [...joints.values()],
    left: leftOf(steps, writer),
    schedule,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

function written(build: NotedBuild, path: string): string | undefined {
  const value = build.valueAt(path);
  return value?.si === undefined ? undefined : build.analysis.write(value);
}

/** By the first procedure that says when the work begins; what is begun already goes on today. */
function workingOn(build: NotedBuild, { steps, machines }: Plan): Working {
  const procedures = steps.filter(({ thing }) => thing.is(kinds.procedure));
  const begun = procedures.find(({ thing }) => wordOf(thing, procedureFields.starts) !== undefined);
  const thing = (begun ?? procedures[0])?.thing;
  if (thing === undefined) return { hours: defaultHours, machines };
  const hours = figureOf(build, thing, procedureFields.hours) ?? defaultHours;
  const people = figureOf(build, thing, procedureFields.people);
  const written = wordOf(thing, procedureFields.starts);
  const { today, records } = build.analysis;
  const goesOn = written !== undefined && today !== undefined && records.length > 0;
  const starts = goesOn && today > written ? today : written;
  return {
    hours,
    machines,
    people,
    starts,
  };
}

const defaultHours = 8 * 3600;

function leftOf(steps: readonly PlannedStep[], writer: FigureWriter): Left[] {
  const left: Left[] = [];
  for (const step of steps) {
    if (step.holdsSteps || step.state === "done") continue;
    left.push({ is: "step", path: step.path, text: leftWords.step(step) });
    for (const { path, measured } of step.measure) {
      if (!measured) left.push({ is: "measure", path, text: leftWords.measure(path) });
    }
    for (const joint of step.tighten) {
      if (joint.tightenedOn !== undefined && step.state !== "again") continue;
      const torque = joint.torque === undefined ? undefined : joint.torque * step.tightenTo;
      left.push({
        is: "tighten",
        path: joint.path,
        text: leftWords.tighten(joint, writer.torque(torque)),
      });
    }
    for (const joint of step.recheck) {
      if (joint.recheckedOn !== undefined) continue;
      left.push({ is: "recheck", path: joint.path, text: leftWords.recheck(joint) });
    }
  }
  return left;
}
