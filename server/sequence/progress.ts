import type { Lack, Lacking } from "../findings/work-phrases";
import { Lists } from "../keep/lists";
import { madeOnce } from "../keep/once";
import { goOn } from "../keep/patience";
import type { Thing } from "../model/thing";
import { Concessions } from "./concessions";
import {
  type AcceptedEvent,
  type DoneEvent,
  dayOf,
  type Event,
  isBefore,
  type JointEvent,
  type LogEntry,
  type MeasuredEvent,
  type PartEvent,
  type PhotoEvent,
  type SignedEvent,
} from "./entries";
import { isYes } from "./fields";
import { historyOf, type JointHistory } from "./joint-history";
import { Odometer } from "./odometer";
import { isOther, isSecond } from "./people";
import type { Joint, Plan, Step } from "./plan";
import type { Act, Again, Early, Facts, StepState } from "./step-state";
import { titleOf } from "./step-texts";
import { atHandField } from "./vocabulary";
import { becauseOf, type Waiting } from "./waiting";

export class Progress {
  readonly measured = new Lists<string, MeasuredEvent>();
  readonly photos: PhotoEvent[] = [];
  private driven: Odometer | undefined;
  private readonly parts = new Lists<Thing, PartEvent>();
  readonly concessions: Concessions;
  private readonly doneEvents = new Lists<Step, DoneEvent>();
  private readonly signed = new Lists<Step, SignedEvent>();
  private readonly histories = new Map<Joint, JointHistory>();
  private readonly done = new Map<Step, readonly DoneEvent[]>();
  private readonly lists = new Map<Step, readonly DoneEvent[]>();
  private readonly states = new Map<Step, StepState>();

  constructor(
    private readonly plan: Plan,
    private readonly waiting: Waiting,
    readonly events: readonly Event[],
    private readonly facts: Facts,
  ) {
    const joints = new Lists<Joint, JointEvent>();
    const accepted: AcceptedEvent[] = [];
    for (const event of events) {
      if (event.is === "done") this.doneEvents.add(event.step, event);
      else if (event.is === "signed") this.signed.add(event.step, event);
      else if (event.is === "joint") joints.add(event.joint, event);
      else if (event.is === "measured") this.measured.add(event.path, event);
      else if (event.is === "photo") this.photos.push(event);
      else if (event.is === "part") this.parts.add(event.thing, event);
      else accepted.push(event);
    }
    for (const joint of plan.joints) {
      this.histories.set(joint, historyOf(joint, joints.of(joint), facts.judge));
    }
    const { specOf, today } = facts;
    this.concessions = new Concessions(accepted, this.measured, specOf, today);
    // What comes first is settled first, so that what stands on it can ask.
    for (const index of waiting.graph.order()) this.settle(plan.steps[index]!);
    for (const step of plan.live) this.settle(step);
  }

  state(step: Step): StepState {
    return this.states.get(step) ?? nothingYet;
  }

  joint(joint: Joint): JointHistory {
    return this.histories.get(joint) ?? historyOf(joint, [], this.facts.judge);
  }

  get odometer(): Odometer {
    this.driven ??= new Odometer(this.measured.values());
    return this.driven;
  }

  /** The entries that say a step is done, its own and those of what it belongs to, in their order. */
  doings(step: Step): readonly DoneEvent[] {
    return madeOnce(this.done, step, () => this.told(step).filter(({ done }) => done));
  }

  /** What records say of a step itself, be it left out or not. */
  own(step: Step): readonly DoneEvent[] {
    return this.doneEvents.of(step);
  }

  /** When a step was last finished; a step with steps inside is finished with the last of them. */
  lastDone(step: Step): LogEntry | undefined {
    return this.state(step).recorded;
  }

  firstDone(step: Step, seen: ReadonlySet<Step> = new Set()): LogEntry | undefined {
    const [own] = this.doings(step);
    if (own !== undefined || seen.has(step)) return own;
    return this.lastOf(step, (child) => this.firstDone(child, new Set([...seen, step])));
  }

  /** Whether it was done, and not taken back, by the time of an entry. */
  wasDoneBy(step: Step, entry: LogEntry, seen: ReadonlySet<Step> = new Set()): boolean {
    goOn();
    const told = this.told(step);
    const last = told.findLast((each) => !isBefore(entry, each));
    if (last !== undefined) {
      // Of one day in no known order either may have been last; what is taken back for good was not
      // there before, or is not there since.
      return last.done || (!isBefore(last, entry) && last !== told[told.length - 1]);
    }
    if (seen.has(step)) return false;
    const inside = this.live(step.inside);
    const within = new Set([...seen, step]);
    return inside.length > 0 && inside.every((child) => this.wasDoneBy(child, entry, within));
  }

  // ── one step ──

  private settle(step: Step): void {
    if (this.states.has(step)) return;
    this.states.set(step, nothingYet);
    this.states.set(step, step.inside.length > 0 ? this.ofWhole(step) : this.ofStep(step));
  }

  /** A procedure is done when its steps are, whoever says so. */
  private ofWhole(step: Step): StepState {
    const inside = this.live(step.inside);
    for (const child of inside) this.settle(child);
    const done = inside.length > 0 && inside.every((child) => this.state(child).done);
    const own = this.doings(step);
    const recorded =
      own[own.length - 1] ?? this.lastOf(step, (child) => this.state(child).recorded);
    return { ...nothingYet, recorded, done };
  }

  private ofStep(step: Step): StepState {
    const told = this.told(step);
    const last = told[told.length - 1];
    const recorded = last?.done === true ? last : undefined;
    const before = this.doings(step).slice(0, -1).pop();
    const acts = this.actsOf(step, recorded);
    const early = acts.flatMap((act) => this.early(act));
    const again = [
      ...acts.flatMap((act) => this.again(act)),
      ...early.flatMap((each) => this.overtaken(each)),
      ...(recorded === undefined ? [] : this.retightened({ step, entry: recorded })),
    ];
    const missing = recorded === undefined ? [] : this.missing(step, recorded, before);
    const late = recorded === undefined ? [] : this.late(step, recorded, before);
    const done = recorded !== undefined && missing.length === 0 && again.length === 0;
    return { recorded, done, missing, again, early, late };
  }

  private actsOf(step: Step, recorded: LogEntry | undefined): Act[] {
    const acts: Act[] = [];
    for (const joint of step.tighten) {
      if (step.tightenTo < 1 && this.isLower(step, joint)) continue;
      const { completions } = this.joint(joint);
      const last = completions[completions.length - 1];
      if (last === undefined || (recorded !== undefined && !isBefore(last, recorded))) continue;
      acts.push({ step, joint, entry: last });
    }
    if (recorded !== undefined) acts.push({ step, entry: recorded });
    return acts;
  }

  /** Another step brings the joint further. */
  private isLower(step: Step, joint: Joint): boolean {
    return this.plan.live.some(
      (other) => other.tighten.includes(joint) && other.tightenTo > step.tightenTo,
    );
  }

  private early(act: Act): Early[] {
    const found: Early[] = [];
    for (const before of this.before(act.step)) {
      if (this.wasDoneBy(before, act.entry)) continue;
      const first =
        this.doings(before).find((each) => isBefore(act.entry, each)) ?? this.firstDone(before);
      const later = first !== undefined && isBefore(act.entry, first);
      found.push({ act, before, first: later ? first : undefined });
    }
    return found;
  }

  private again(act: Act): Again[] {
    const found: Again[] = [];
    const { step, entry } = act;
    for (const before of this.before(step)) {
      if (!this.wasDoneBy(before, entry)) continue;
      const why = this.waiting.repeats(before, step, "last", act.joint);
      const own = step.ownAfter.includes(before.index);
      if (why === undefined && !own) continue;
      const reason = why ?? this.waiting.why(before, step, act.joint);
      const told = this.told(before).filter((each) => isBefore(entry, each));
      const undone = told.find(({ done }) => !done);
      const last = this.lastDone(before);
      // A joint that was not tightened again needs no other look, whatever is said of its step.
      const stands = why?.is === "recheck" && !this.isTightenedAfter(why.joint, entry);
      const redone = last !== undefined && isBefore(entry, last) && !stands ? last : undefined;
      if (why !== undefined && redone !== undefined)
        found.push({ act, before, why, because: "redone", since: redone });
      else if (undone !== undefined)
        found.push({ act, before, why: reason, because: "undone", since: undone });
      else if (why !== undefined && this.state(before).again.length > 0)
        found.push({ act, before, why, because: "stands" });
    }
    return found;
  }

  private isTightenedAfter(joint: Joint, entry: LogEntry): boolean {
    return this.joint(joint).completions.some((each) => isBefore(entry, each));
  }

  /** What it stands on was done only afterwards. */
  private overtaken({ act, before, first }: Early): Again[] {
    const why = this.waiting.repeats(before, act.step, "last", act.joint);
    if (first === undefined || why === undefined) return [];
    return [{ act, before, why, because: "early", since: first }];
  }

  /** A joint that is tightened again after it was checked is to be checked again. */
  private retightened(act: Act): Again[] {
    return act.step.recheck.flatMap((joint) => {
      const { full, rechecks } = this.joint(joint);
      const last = rechecks[rechecks.length - 1];
      const before = this.plan.live.find((step) => step.tighten.includes(joint));
      if (full === undefined || last === undefined || before === undefined) return [];
      if (!isBefore(last, full)) return [];
      return [{ act, before, why: { is: "recheck", joint }, because: "redone", since: full }];
    });
  }

  private missing(step: Step, recorded: DoneEvent, before: LogEntry | undefined): Lacking[] {
    const since = (entry: LogEntry | undefined): boolean =>
      entry !== undefined && (before === undefined || !isNotAfter(entry, before));
    const missing: Lacking[] = [];
    const at = { step: step.path };
    for (const joint of step.tighten) {
      const history = this.joint(joint);
      const reached = history.reached(step.tightenTo);
      if (since(reached)) continue;
      const lacks: readonly Lack[] = reached === undefined ? history.lacks : [{ is: "nothing" }];
      const torque = joint.torque === undefined ? undefined : joint.torque * step.tightenTo;
      missing.push({ is: "joint", ...at, joint: joint.path, torque, lacks });
    }
    for (const joint of step.recheck) {
      const { rechecks } = this.joint(joint);
      if (!since(rechecks[rechecks.length - 1]))
        missing.push({ is: "recheck", ...at, joint: joint.path });
    }
    for (const { text, reached } of step.measure) {
      if (reached?.field === undefined) continue;
      const path = `${reached.thing.path}.${reached.field.name}`;
      if (!this.measured.of(path).some(since)) missing.push({ is: "measure", ...at, text });
    }
    for (const need of step.needs) {
      if (!this.facts.isOpen(need)) continue;
      missing.push({ is: "figure", ...at, text: need.text, advice: need.reached?.field?.needs });
    }
    for (const part of step.parts) {
      // What went in the first time is there.
      const not = this.doings(step).map((each) => this.notHere(part, each));
      const [first] = not;
      if (first === undefined || not.includes(undefined)) continue;
      const came = first.came && dayOf(first.came);
      missing.push({ is: "part", ...at, part: part.path, title: titleOf(part), came });
    }
    for (const { title, known } of this.limits(step)) {
      const { standing, entry } = this.concessions.ofStep(step) ?? {};
      const ranOut = known && standing === "ran out" ? entry?.until : undefined;
      missing.push({ is: "check", ...at, title, known, ranOut });
    }
    for (const other of this.live(step.otherThan)) {
      const by = this.lastDone(other)?.by;
      if (isSecond(recorded.by, by)) continue;
      const alike = isOther(recorded.by, by) ? recorded.by : undefined;
      missing.push({ is: "second", ...at, of: other.path, by, alike });
    }
    if (step.signOff !== undefined) {
      const { signOff: who } = step;
      const signatures = this.signed.of(step).filter(since);
      const seconds = signatures.filter(({ name }) => isSecond(name, recorded.by));
      const [early] = seconds;
      const by = (early ?? signatures[0])?.name;
      const alike = early === undefined && isOther(by, recorded.by) ? recorded.by : undefined;
      if (seconds.every((each) => isOfEarlierTime(each, recorded)))
        missing.push({ is: "sign", ...at, who, by, alike, early: early && dayOf(early) });
    }
    const anew = this.anew(step, recorded);
    if (anew !== undefined) missing.push(anew);
    return missing;
  }

  /** Whether a part is here, by the last entry that says so, else as the build has it. */
  isAtHand(part: Thing): boolean {
    const last = this.parts.of(part).at(-1);
    return last?.atHand ?? isYes(part, atHandField);
  }

  /**
   * What is said against a part having been here at an entry, by the build or by what is on record;
   * of entries in no known order either may have come first.
   */
  private notHere(
    part: Thing,
    entry: LogEntry,
  ): { readonly came: LogEntry | undefined } | undefined {
    const told = this.parts.of(part);
    const gone = told.filter((each) => !each.atHand && isBefore(each, entry));
    const isThen = (each: LogEntry): boolean =>
      each.record === entry.record || !isBefore(entry, each);
    const came = told.filter(({ atHand }) => atHand);
    const stayed = came.filter((each) => !gone.some((other) => isBefore(each, other)));
    if (stayed.some(isThen)) return undefined;
    if (gone.length === 0 && isYes(part, atHandField)) return undefined;
    const late = came.find((each) => !isThen(each));
    const isSaid = gone.length > 0 || part.entries.has(atHandField);
    return isSaid || late !== undefined ? { came: late } : undefined;
  }

  /** Limits of a step that keep it from being done: what is accepted as it is does not. */
  limits(step: Step): readonly { readonly title: string; readonly known: boolean }[] {
    const isAccepted = this.concessions.ofStep(step)?.standing === "in force";
    return this.facts
      .checksOf(step)
      .filter(({ verdict: { nominal } }) =>
        nominal === "fails" ? !isAccepted : nominal === "unknown",
      )
      .map(({ title, verdict }) => ({ title, known: verdict.nominal === "fails" }));
  }

  /** Work that wants something done afresh each time it is done; what was taken back was not done. */
  private anew(step: Step, recorded: DoneEvent): Lacking | undefined {
    const told = this.told(step);
    const before = told[told.lastIndexOf(recorded) - 1];
    if (before === undefined || !before.done) return undefined;
    for (const first of this.before(step)) {
      const why = this.waiting.repeats(first, step, "every");
      if (why === undefined) continue;
      const between = this.doings(first).some(
        (each) => !isBefore(each, before) && !isBefore(recorded, each),
      );
      if (!between) return { is: "anew", step: step.path, before: first.path, why: becauseOf(why) };
    }
    return undefined;
  }

  private late(step: Step, recorded: LogEntry, before: LogEntry | undefined): StepState["late"] {
    const joints = step.tightenTo < 1 ? [] : step.tighten;
    const deeds = [
      ...joints.map((joint) => ({
        is: "tightened" as const,
        path: joint.path,
        entries: this.joint(joint).completions,
      })),
      ...step.measure.flatMap(({ reached }) => {
        if (reached?.field === undefined) return [];
        const path = `${reached.thing.path}.${reached.field.name}`;
        return [{ is: "measured" as const, path, entries: this.measured.of(path) }];
      }),
    ];
    return deeds.flatMap(({ is, path, entries }) => {
      const since = entries.filter((each) => before === undefined || !isNotAfter(each, before));
      const inTime = since.some((each) => isNotAfter(each, recorded) || !isBefore(recorded, each));
      const [entry] = since;
      return inTime || entry === undefined ? [] : [{ is, path, entry }];
    });
  }

  // ── helpers ──

  private before(step: Step): Step[] {
    return this.waiting.graph
      .before(step.index)
      .map((index) => this.plan.steps[index]!)
      .filter((each) => each !== step);
  }

  private live(indices: readonly number[]): Step[] {
    return indices
      .map((index) => this.plan.steps[index]!)
      .filter(({ leftOut }) => leftOut === undefined);
  }

  /** What records say of a step itself and of all it belongs to, in order. */
  private told(step: Step): readonly DoneEvent[] {
    return madeOnce(this.lists, step, () => this.telling(step));
  }

  private telling(step: Step): readonly DoneEvent[] {
    const seen = new Set<Step>([step]);
    const told = [...this.doneEvents.of(step)];
    const queue = [...step.within];
    for (let index = queue.shift(); index !== undefined; index = queue.shift()) {
      const whole = this.plan.steps[index]!;
      if (seen.has(whole)) continue;
      seen.add(whole);
      told.push(...this.doneEvents.of(whole));
      queue.push(...whole.within);
    }
    const list: DoneEvent[] = [];
    for (const event of told.sort((one, other) => one.place - other.place)) {
      // Whoever says that the whole is done speaks of what was not done by then.
      const last = list[list.length - 1];
      const speaks =
        event.step === step || (event.done ? last?.done !== true : last?.step === event.step);
      if (speaks) list.push(event);
    }
    return list;
  }

  private lastOf(step: Step, entryOf: (child: Step) => LogEntry | undefined): LogEntry | undefined {
    let last: LogEntry | undefined;
    for (const child of this.live(step.inside)) {
      const entry = entryOf(child);
      if (entry === undefined) return undefined;
      if (last === undefined || last.place < entry.place) last = entry;
    }
    return last;
  }
}

const nothingYet: StepState = { done: false, missing: [], again: [], early: [], late: [] };

/** By the days, and the times where both tell one; not by who wrote first. */
function isOfEarlierTime(one: LogEntry, other: LogEntry): boolean {
  if (one.date === undefined || other.date === undefined) return false;
  if (one.date !== other.date) return one.date < other.date;
  return one.clock !== undefined && other.clock !== undefined && one.clock < other.clock;
}

/** In one record what belongs together may stand in any order. */
function isNotAfter(one: LogEntry, other: LogEntry): boolean {
  return one.record === other.record || isBefore(one, other);
}
