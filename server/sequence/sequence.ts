/**
 * The order of work of a build: steps in a valid order with their state, joints with their passes,
 * what is done, what is left, and what is wrong in the plan and in the records.
 *
 *     const { steps, joints, findings } = sequenceOf(analysis)
 *
 * Pure over an analysis, all of it but its findings, among which these come to stand; nothing is
 * written into it. Must not know: editors, terminals, paper.
 */
import type { Analysis, CheckResult } from "../analysis/analysis";
import type { Anchor } from "../model/anchor";
import type { Finding } from "../model/finding";
import type { DisplayStyle } from "../units";
import { wordOf } from "./fields";
import { type Joint, type Plan, readPlan, type Step, valueOf } from "./plan";
import { planFindings } from "./plan-findings";
import { Progress } from "./progress";
import { type Event, readRecords } from "./read-records";
import { recordFindings } from "./record-findings";
import { jointFields, stepFields } from "./vocabulary";
import { type Waiting, waitingOf } from "./waiting";
import { blocked, FigureWriter, holdInWords, left as leftWords, reason } from "./wording";

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
  readonly findings: readonly Finding[];
  /** How the build writes figures. */
  readonly style: DisplayStyle;
}

export type State = "ready" | "done" | "blocked";

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
  /** Values that have to lie within limits. */
  readonly checks: readonly CheckResult[];
  /** "until it is cool to the touch" */
  readonly hold?: string;
  readonly hands: number;
  readonly caution?: string;
  readonly note?: string;
}

export interface Blocker {
  readonly is: "step" | "figure" | "check" | "loop";
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
  readonly pattern: Joint["pattern"];
  /** In N·m. */
  readonly torque?: number;
  /** What to set the wrench to at full torque, in N·m. */
  readonly setting?: number;
  readonly wrench?: string;
  readonly passes: readonly PlannedPass[];
  /** Fasteners of each group in the order they are tightened. */
  readonly order: readonly (readonly number[])[];
  /** "new fasteners each time", "running torque on top", … */
  readonly notes: readonly string[];
  readonly tightenedOn?: string;
  readonly recheckedOn?: string;
}

export interface PlannedPass {
  readonly number: number;
  readonly share: number;
  /** In N·m. */
  readonly torque?: number;
  /** What to set the wrench to, in N·m. */
  readonly setting?: number;
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

/** What is wrong in the plan and in the records, for an analyser to count among a build's findings. */
export function orderFindings(analysis: Analysis): readonly Finding[] {
  return sequenceOf(analysis).findings;
}

const kept = new WeakMap<Analysis, Sequence>();

/** Worked out once for an analysis, which never changes. */
export function sequenceOf(analysis: Analysis): Sequence {
  const before = kept.get(analysis);
  if (before !== undefined) return before;
  const made = makeSequence(analysis);
  kept.set(analysis, made);
  return made;
}

function makeSequence(analysis: Analysis): Sequence {
  const plan = readPlan(analysis);
  const waiting = waitingOf(analysis, plan);
  const events = readRecords(analysis, plan);
  const progress = new Progress(plan, events);
  const writer = new FigureWriter(analysis.style);
  const joints = new Map(
    plan.joints.map((joint) => [joint, plannedJoint(joint, progress, writer)]),
  );
  const planner = new Planner(analysis, plan, waiting, progress, joints);
  const planned = new Map(plan.live.map((step) => [step.index, planner.step(step)]));
  const pick = (indices: readonly number[]): PlannedStep[] =>
    indices.flatMap((index) => planned.get(index) ?? []);
  const order = waiting.graph.order();
  const stuck = [...waiting.graph.stuck()].sort((one, other) => one - other);
  const steps = pick([...order, ...stuck]);
  return {
    steps,
    groups: waiting.graph
      .waves()
      .map((wave) => pick(wave).filter((step) => !step.holdsSteps))
      .filter((wave) => wave.length > 0),
    joints: plan.joints.flatMap((joint) => joints.get(joint) ?? []),
    events,
    leftOut: plan.steps.flatMap(({ path, title, leftOut }) =>
      leftOut === undefined ? [] : [{ path, title, because: leftOut }],
    ),
    left: leftOf(steps, writer),
    findings: [
      ...planFindings(plan, waiting),
      ...recordFindings({ analysis, plan, waiting, progress, writer }),
    ],
    style: analysis.style,
  };
}

class Planner {
  private readonly checks: ReadonlyMap<string, readonly CheckResult[]>;

  constructor(
    private readonly analysis: Analysis,
    private readonly plan: Plan,
    private readonly waiting: Waiting,
    private readonly progress: Progress,
    private readonly joints: ReadonlyMap<Joint, PlannedJoint>,
  ) {
    const asked = plan.steps.some((step) => step.checks.length > 0);
    this.checks = asked ? builtChecks(analysis) : new Map();
  }

  step(step: Step): PlannedStep {
    const done = this.progress.lastDone(step);
    const blockedBy = done === undefined ? this.blockers(step) : [];
    const { steps } = this.plan;
    const before = this.waiting.graph.before(step.index).flatMap((index) => steps[index] ?? []);
    return {
      path: step.path,
      title: step.title,
      anchor: step.anchor,
      holdsSteps: step.inside.length > 0,
      within: this.chain(step),
      work: step.work,
      on: step.on,
      state: done !== undefined ? "done" : blockedBy.length > 0 ? "blocked" : "ready",
      doneOn: done?.date,
      doneBy: done?.by,
      blockedBy,
      waitsFor: before
        .filter((each) => !step.inside.includes(each.index))
        .map((each) => {
          const why = this.waiting.why(each, step);
          return {
            path: each.path,
            title: each.title,
            because: reason(why, step),
            written: why.is === "written",
            hold: this.hold(each),
          };
        }),
      tighten: this.planned(step.tighten),
      tightenTo: step.tightenTo,
      recheck: this.planned(step.recheck),
      measure: step.measure.map(({ text, reached }) => ({
        path: text,
        measured:
          reached?.field !== undefined &&
          this.progress.measured.has(`${reached.thing.path}.${reached.field.name}`),
      })),
      needs: step.needs.map(({ text }) => text),
      checks: this.checks.get(step.path) ?? step.checks,
      hold: this.hold(step),
      hands: step.hands,
      caution: step.caution,
      note: step.note,
    };
  }

  /** Nearest first. */
  private chain(step: Step): string[] {
    const seen = new Set<number>([step.index]);
    const queue = [...step.within];
    const chain: string[] = [];
    for (let index = queue.shift(); index !== undefined; index = queue.shift()) {
      const whole = this.plan.steps[index];
      if (whole === undefined || seen.has(index)) continue;
      seen.add(index);
      chain.push(whole.path);
      queue.push(...whole.within);
    }
    return chain;
  }

  private hold(step: Step): string | undefined {
    return holdInWords(step, wordOf(step.thing, stepFields.holdTime));
  }

  private planned(joints: readonly Joint[]): PlannedJoint[] {
    return joints.flatMap((joint) => this.joints.get(joint) ?? []);
  }

  private blockers(step: Step): Blocker[] {
    const blockers: Blocker[] = [];
    if (this.waiting.graph.ancestors(step.index).has(step.index) || this.waiting.stuck.has(step)) {
      blockers.push({ is: "loop", text: blocked.loop });
    }
    const undone = this.waiting.graph
      .before(step.index)
      .flatMap((index) => this.plan.steps[index] ?? [])
      .filter((before) => this.progress.lastDone(before) === undefined);
    for (const before of this.waiting.nearest(undone)) {
      const why = this.waiting.why(before, step);
      blockers.push({ is: "step", path: before.path, text: blocked.step(before, why) });
    }
    for (const need of step.needs) {
      const { reached, text } = need;
      if (reached?.field?.type.form !== "measure") continue;
      const path = `${reached.thing.path}.${reached.field.name}`;
      const value = valueOf(this.analysis, need);
      const known = value?.si !== undefined || this.progress.measured.has(path);
      if (!known) {
        blockers.push({
          is: "figure",
          path: text,
          text: blocked.figure(text, reached.field.needs),
        });
      }
    }
    for (const check of this.checks.get(step.path) ?? step.checks) {
      const { nominal } = check.verdict;
      if (nominal === "fails") blockers.push({ is: "check", text: blocked.check(check.title) });
      if (nominal === "unknown")
        blockers.push({ is: "check", text: blocked.unknownCheck(check.title) });
    }
    return blockers;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** What was measured goes before what is planned where a step asks for a value within limits. */
function builtChecks(analysis: Analysis): Map<string, CheckResult[]> {
  const checks = new Map<string, CheckResult[]>();
  const built = analysis.records.length === 0 ? analysis : analysis.asBuilt();
  for (const check of built.checks) {
    if (check.thing === undefined || !check.own) continue;
    const list = checks.get(check.thing.path) ?? [];
    checks.set(check.thing.path, list);
    list.push(check);
  }
  return checks;
}

function plannedJoint(joint: Joint, progress: Progress, writer: FigureWriter): PlannedJoint {
  const { thing, torque, setting, wrench, wrenchRange } = joint;
  const full = progress.full(joint);
  // The wrench shows the same share of its setting as the joint has of its torque.
  const ratio =
    setting === undefined || torque === undefined || torque === 0 ? 1 : setting / torque;
  const passes = joint.passes.map((pass): PlannedPass => {
    const at = pass.torque === undefined ? undefined : pass.torque * ratio;
    const round = joint.order.map((group) => [...group].sort((one, other) => one - other));
    return {
      ...pass,
      setting: at,
      order: pass.circular ? round : joint.order,
      withinWrench:
        at === undefined ||
        wrenchRange === undefined ||
        (at >= wrenchRange.least * (1 - 1e-9) && at <= wrenchRange.most * (1 + 1e-9)),
    };
  });
  return {
    path: joint.path,
    title: joint.title,
    anchor: joint.anchor,
    thread: wordOf(thing, jointFields.thread),
    grade: wordOf(thing, jointFields.grade),
    count: joint.count,
    pattern: joint.pattern,
    torque,
    setting,
    wrench: wrench === undefined ? undefined : (wrench.title ?? wrench.name),
    passes,
    order: joint.order,
    notes: writer.jointNotes(joint),
    tightenedOn: full[full.length - 1]?.date,
    recheckedOn: progress.rechecked(joint)?.date,
  };
}

function leftOf(steps: readonly PlannedStep[], writer: FigureWriter): Left[] {
  const left: Left[] = [];
  for (const step of steps) {
    if (step.holdsSteps || step.state === "done") continue;
    left.push({ is: "step", path: step.path, text: leftWords.step(step) });
    for (const { path, measured } of step.measure) {
      if (!measured) left.push({ is: "measure", path, text: leftWords.measure(path) });
    }
    for (const joint of step.tighten) {
      if (joint.tightenedOn !== undefined) continue;
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
