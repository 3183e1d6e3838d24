/**
 * A step as the plan shows it: its state, what it waits for and why, what it tightens and measures.
 *
 * Must not know: terminals, paper, what is wrong in the records.
 */
import type { FigureWriter } from "../findings/figure-writer";
import { lackingInWords, reasonInWords } from "../findings/work-phrases";
import type { Joint, Plan, Step } from "./plan";
import { againInWords, blocked, holdOf } from "./plan-words";
import type { Progress } from "./progress";
import type { Blocker, PlannedJoint, PlannedStep } from "./sequence";
import type { Facts } from "./step-state";
import { titleOf } from "./step-texts";
import { becauseOf, type Waiting } from "./waiting";

export interface PlanParts {
  readonly plan: Plan;
  readonly waiting: Waiting;
  readonly progress: Progress;
  readonly facts: Facts;
  readonly writer: FigureWriter;
  /** The value a path has, as the build writes it; nothing where it is open. */
  write(path: string): string | undefined;
}

export class StepPlanner {
  constructor(
    private readonly parts: PlanParts,
    private readonly joints: ReadonlyMap<Joint, PlannedJoint>,
  ) {}

  step(step: Step): PlannedStep {
    const { plan, waiting, progress } = this.parts;
    const { recorded, done } = progress.state(step);
    const finished = done ? recorded : undefined;
    const again = this.again(step);
    const blockedBy = done ? [] : this.blockers(step);
    const before = waiting.graph.before(step.index).map((index) => plan.steps[index]!);
    const open = blockedBy.length > 0 ? "blocked" : again.length > 0 ? "again" : "ready";
    return {
      path: step.path,
      title: step.title,
      anchor: step.anchor,
      holdsSteps: step.inside.length > 0,
      within: this.chain(step),
      work: step.work,
      on: step.on,
      state: done ? "done" : open,
      doneOn: finished?.date,
      doneBy: finished?.by,
      again,
      blockedBy,
      waitsFor: before
        .filter((each) => !step.inside.includes(each.index))
        .map((each) => {
          const why = waiting.why(each, step);
          return {
            path: each.path,
            title: each.title,
            because: reasonInWords(becauseOf(why), step.path),
            written: why.is === "written",
            hold: holdOf(each),
          };
        }),
      tighten: this.planned(step.tighten),
      tightenTo: step.tightenTo,
      recheck: this.planned(step.recheck),
      measure: step.measure.map(({ text, reached }) => ({
        path: text,
        measured:
          reached?.field !== undefined &&
          progress.measured.has(`${reached.thing.path}.${reached.field.name}`),
      })),
      needs: step.needs.map(({ text }) => text),
      needsInWords: step.needs.map(({ text, reached }) => {
        const measured = reached?.field?.type.form === "measure";
        const written = measured ? this.parts.write(text) : undefined;
        return written === undefined ? text : `${text} ${written}`;
      }),
      checks: this.parts.facts.checksOf(step),
      hold: holdOf(step),
      hands: step.hands,
      duration: step.duration,
      machines: step.machines,
      parts: step.parts.map((part) => ({
        path: part.path,
        title: titleOf(part),
        atHand: progress.isAtHand(part),
      })),
      signOff: step.signOff,
      otherThan: step.otherThan.map((index) => plan.steps[index]!.title),
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
      if (seen.has(index)) continue;
      const whole = this.parts.plan.steps[index]!;
      seen.add(index);
      chain.push(whole.path);
      queue.push(...whole.within);
    }
    return chain;
  }

  private planned(joints: readonly Joint[]): PlannedJoint[] {
    return joints.flatMap((joint) => this.joints.get(joint) ?? []);
  }

  /** Why it is to be done again, or what it lacks, though it is on record as done. */
  private again(step: Step): string[] {
    const { progress, writer } = this.parts;
    const { missing, again } = progress.state(step);
    return [
      ...new Set([
        ...missing.map((each) => lackingInWords(each, writer).message),
        ...again.map((each) => againInWords(each)),
      ]),
    ];
  }

  private blockers(step: Step): Blocker[] {
    const { plan, waiting, progress, facts } = this.parts;
    const blockers: Blocker[] = [];
    if (waiting.graph.ancestors(step.index).has(step.index) || waiting.stuck.has(step)) {
      blockers.push({ is: "loop", text: blocked.loop });
    }
    const undone = waiting.graph
      .before(step.index)
      .map((index) => plan.steps[index]!)
      .filter((before) => !progress.state(before).done);
    for (const before of waiting.nearest(undone)) {
      const why = waiting.why(before, step);
      blockers.push({ is: "step", path: before.path, text: blocked.step(before, why) });
    }
    for (const need of step.needs) {
      if (!facts.isOpen(need)) continue;
      const { text, reached } = need;
      const advice = reached?.field?.needs;
      blockers.push({ is: "figure", path: text, text: blocked.figure(text, advice) });
    }
    for (const part of step.parts) {
      if (progress.isAtHand(part)) continue;
      blockers.push({ is: "part", path: part.path, text: blocked.part(titleOf(part)) });
    }
    for (const { title, known } of progress.limits(step)) {
      const text = known ? blocked.check(title) : blocked.unknownCheck(title);
      blockers.push({ is: "check", text });
    }
    return blockers;
  }
}
