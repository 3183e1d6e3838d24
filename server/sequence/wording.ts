/**
 * The sentences of this room, in one place: what is wrong, what was expected against what was
 * found, and what to do about it.
 *
 * Must not know: how anything is found.
 */
import type { OrderDefinition } from "../model/definition";
import { type DisplayStyle, measureNamed, writeQuantity } from "../units";
import { isYes, wordOf } from "./fields";
import type { PassProblem } from "./passes";
import type { Joint, Step } from "./plan";
import { jointFields } from "./vocabulary";
import type { Broken, Why } from "./waiting";

export interface Said {
  readonly message: string;
  readonly hint: string;
}

/** Writes figures as the build shows them. */
export class FigureWriter {
  constructor(private readonly style: DisplayStyle) {}

  torque(si: number | undefined): string {
    return this.figure(si, "torque");
  }

  figure(si: number | undefined, measureName: string): string {
    const measure = measureNamed(measureName);
    if (si === undefined || measure === undefined) return "open";
    const written = writeQuantity(si, measure, this.style);
    if (written === undefined) return "open";
    return written.rounded ? (written.decimal ?? written.text) : written.text;
  }

  /** What to mind when tightening a joint. */
  jointNotes({ thing, recheckAfter, adjustable }: Joint): string[] {
    const notes: string[] = [];
    const surface = wordOf(thing, jointFields.surface);
    if (surface !== undefined && surface !== "unknown") {
      notes.push(
        `threads and faces: ${surface.replaceAll("_", " ")}, as the torque was worked out for`,
      );
    }
    const locking = wordOf(thing, jointFields.locking);
    if (locking !== undefined) notes.push(`locked with ${locking}`);
    if (isYes(thing, jointFields.singleUse)) notes.push("new fasteners each time");
    if (thing.entries.has(jointFields.runningTorque)) {
      notes.push("a locking nut: its running torque comes on top and is in the setting");
    }
    if (adjustable)
      notes.push("it clamps something set by moving it: check the setting after tightening");
    if (recheckAfter !== undefined) {
      notes.push(
        `check again after ${wordOf(thing, jointFields.recheckAfter) ?? "the first miles"}`,
      );
    }
    return notes;
  }
}

export function percent(share: number): string {
  return `${Number((share * 100).toFixed(1))} %`;
}

export function list(items: readonly string[], word = "and"): string {
  const last = items[items.length - 1] ?? "";
  return items.length <= 1 ? last : `${items.slice(0, -1).join(", ")} ${word} ${last}`;
}

/** A step or joint, as far as it is spoken of. */
interface Spoken {
  readonly path: string;
  readonly title: string;
}

/** What was done, in words, and the step it belongs to. */
export interface Act {
  readonly step: Step;
  /** "`weld_left`", "the tightening of `bracket_bolts`" */
  readonly act: string;
  /** Set where the act is the tightening of a joint. */
  readonly joint?: Joint;
}

export function named(each: Spoken): string {
  return `\`${each.path}\``;
}

// ───────────────────────────── the plan ─────────────────────────────

export const plan = {
  loop: (loop: readonly Step[]): Said => {
    const names = loop.map(named);
    const round = [...names, names[0] ?? ""];
    return {
      message:
        loop.length === 1
          ? `${names[0]} waits for itself`
          : `these steps wait for each other and none can start: ${round.join(" before ")}`,
      hint: `take one of them out of the other's \`after\``,
    };
  },
  stuck: (step: Step, loop: readonly Step[]): Said => ({
    message: `${named(step)} can never start: it waits for ${list(loop.map(named))}, which wait for each other`,
    hint: "break that loop first",
  }),
  broken: ({ before, after, why, way }: Broken): Said => ({
    message: `${named(after)} is planned before ${named(before)}${throughWay(way)}: ${reason(why, after)}`,
    hint: whatToMove(before, after),
  }),
  lacking: (step: Step, rule: OrderDefinition, needs: string): Said => ({
    message: `nothing comes before ${named(step)} that it needs: ${rule.title}${because(rule)}`,
    hint: `add ${needs}${step.on.length === 0 ? "" : `, \`on: ${step.on.join(", ")}\``}`,
  }),
  neverTightened: (joint: Joint): Said => ({
    message: `no step tightens ${named(joint)}`,
    hint: `name it in the \`tighten\` of the step that brings it to ${percent(1)}`,
  }),
  notFull: (joint: Joint, step: Step, share: number): Said => ({
    message: `${named(joint)} is never brought to its whole torque: ${named(step)} ends at ${percent(share)}`,
    hint: "add a later step that tightens it to 100 %",
  }),
  noTorque: (joint: Joint, step: Step): Said => ({
    message: `${named(step)} tightens ${named(joint)}, whose torque is open`,
    hint: "write its `torque` from the maker of the part, or the wanted `proof_share` with thread and grade",
  }),
  noRecheck: (joint: Joint): Said => ({
    message: joint.adjustable
      ? `${named(joint)} clamps something that is set by moving it, and nobody checks it again`
      : `${named(joint)} is to be checked again, and no step does`,
    hint: "name it in the `recheck` of a step after the first miles",
  }),
  passes: (joint: Joint, problem: PassProblem): Said => {
    const where = `the passes of ${named(joint)}`;
    switch (problem.is) {
      case "none":
        return {
          message: `${where} are empty`,
          hint: "write the shares, such as [30 %, 70 %, 100 %]",
        };
      case "falls":
        return {
          message: `${where} do not climb: pass ${problem.pass} is not above the one before it`,
          hint: "let every pass go higher than the last",
        };
      case "beyond":
        return {
          message: `${where} go past the torque: pass ${problem.pass} is ${percent(problem.share)} of it`,
          hint: "end at 100 %, or raise the torque if that is what is meant",
        };
      case "not-full":
        return {
          message: `${where} end at ${percent(problem.share)} of its torque`,
          hint: "let the last pass be 100 %",
        };
    }
  },
  neighbours: (
    joint: Joint,
    pairs: readonly (readonly [number, number])[],
    better: readonly number[],
  ): Said => ({
    message: `the order of ${named(joint)} tightens neighbours one after the other: ${list(pairs.map(([one, other]) => `${one} and ${other}`))}`,
    hint: `go across the circle: ${better.join(", ")}`,
  }),
  sequence: (
    joint: Joint,
    wrong: { missing: readonly number[]; twice: readonly number[]; unknown: readonly number[] },
    better: readonly number[],
  ): Said => {
    const parts = [
      ...(wrong.missing.length === 0 ? [] : [`leaves out ${list(wrong.missing.map(String))}`]),
      ...(wrong.twice.length === 0 ? [] : [`names ${list(wrong.twice.map(String))} twice`]),
      ...(wrong.unknown.length === 0
        ? []
        : [`names ${list(wrong.unknown.map(String))}, which is none of its ${joint.count}`]),
    ];
    return {
      message: `the order of ${named(joint)} ${list(parts)}`,
      hint: `name each fastener once, for example ${better.join(", ")}`,
    };
  },
  groups: (joint: Joint): Said => ({
    message: `the ${joint.count} fasteners of ${named(joint)} do not make ${joint.groups} equal groups`,
    hint: "write each group as a joint of its own, or mend `count` or `groups`",
  }),
};

// ───────────────────────────── the record ─────────────────────────────

export const record = {
  noDate: (): Said => ({
    message: "this record has no date, so nothing can be said about its order",
    hint: "write the day after the title: 2026-03-14",
  }),
  tooEarly: (
    before: Step,
    { step, act }: Act,
    why: Why,
    when: { before: string; after: string },
  ): Said => ({
    message: `${act} is recorded ${when.after}, before ${named(before)} (${when.before}): ${reason(why, step)}`,
    hint: "undo it, do it again in the right order, and put that on record; if only the dates are wrong, mend them",
  }),
  prerequisite: (before: Step, { step, act }: Act, why: Why, when: string): Said => ({
    message: `${act} is recorded ${when}, ${named(before)} is not: ${reason(why, step)}`,
    hint: `if ${named(before)} was done, put it on record with its day; if not, do it, then this again`,
  }),
  hold: (before: Step, { act }: Act, hold: string): Said => ({
    message: `${act} is recorded too soon after ${named(before)}, which has to wait ${hold}`,
    hint: "wait out the time, look at the part again, and put that on record",
  }),
  torqueOff: (
    joint: Joint,
    found: string,
    wanted: string,
    allowed: string,
    pass: string,
  ): Said => ({
    message: `${named(joint)} was tightened to ${found}${pass}, ${wanted} ± ${allowed} is wanted`,
    hint: "loosen it, tighten it again to its torque, and put that on record",
  }),
  passSkipped: (joint: Joint, pass: number, missing: readonly number[]): Said => ({
    message: `pass ${pass} of ${named(joint)} is on record, ${missing.length === 1 ? "pass" : "passes"} ${list(missing.map(String))} before it ${missing.length === 1 ? "is" : "are"} not`,
    hint: "loosen it and go through all passes, or put the missing ones on record with their day",
  }),
  noSuchPass: (joint: Joint, pass: number): Said => ({
    message: `${named(joint)} has ${joint.passes.length} ${joint.passes.length === 1 ? "pass" : "passes"}, pass ${pass} is on record`,
    hint: "mend the number, or the joint's `passes`",
  }),
  bolts: (joint: Joint, missing: readonly number[], pass: string): Said => ({
    message: `${named(joint)}: ${missing.length === 1 ? "fastener" : "fasteners"} ${list(missing.map(String))} of ${joint.count} ${missing.length === 1 ? "is" : "are"} not on record${pass}`,
    hint: "tighten what was left out, then go round once more at full torque, and put that on record",
  }),
  boltOrder: (
    joint: Joint,
    pairs: readonly (readonly [number, number])[],
    better: readonly number[],
  ): Said => ({
    message: `${named(joint)} was tightened with neighbours one after the other: ${list(pairs.map(([one, other]) => `${one} and ${other}`))}`,
    hint: `loosen it and go across the circle: ${better.join(", ")}`,
  }),
  notHeld: (joint: Joint): Said => ({
    message: `${named(joint)} turned again at the second click: it has not held its torque`,
    hint: "go on until the wrench clicks without turning; if it never does, the thread is yielding or stripped: take it out and look",
  }),
  secondClick: (joint: Joint): Said => ({
    message: `nobody put on record that ${named(joint)} held at the second click`,
    hint: "pull the wrench once more on each fastener and write `held: yes`",
  }),
  wrenchRange: (joint: Joint, torque: string, instrument: string, range: string): Said => ({
    message: `${named(joint)} was tightened to ${torque} with ${instrument}, which is to be used from ${range}`,
    hint: "tighten it again with a wrench of the right size, and put that on record",
  }),
  instrument: (
    path: string,
    reads: string,
    instrument: string,
    allowed: string,
    wanted: string,
  ): Said => ({
    message: `${instrument} reads to ${reads}, which is more than a tenth of the ${allowed} allowed for \`${path}\``,
    hint: `measure again with something that reads to ${wanted} or finer`,
  }),
  unknownInstrument: (name: string): Said => ({
    message: `nobody says how well "${name}" measures`,
    hint: `declare it, for example: instrument bench_gauge "${name}" { reads_to: 0.001 in }`,
  }),
  notMeasured: (step: Step, missing: readonly string[], when: string): Said => ({
    message: `${named(step)} is on record as done ${when}, what it was to measure is not: ${list(missing.map((path) => `\`${path}\``))}`,
    hint: "put the measurements on record",
  }),
  recheckMissing: (joint: Joint, step: Step, since: string): Said => ({
    message: `${named(joint)} has not been checked again since ${since}: ${named(step)} is due`,
    hint: `check it and write \`${joint.path}.rechecked: yes\` into a record`,
  }),
};

// ───────────────────────────── states ─────────────────────────────

export const blocked = {
  step: (before: Step, why: Why): string =>
    why.is === "written" || why.is === "inside"
      ? before.title
      : `${before.title} (${shortReason(why)})`,
  figure: (path: string, advice: string | undefined): string =>
    `\`${path}\` is open${advice === undefined ? "" : `: ${advice}`}`,
  check: (title: string): string => `not within its limits: ${title}`,
  unknownCheck: (title: string): string => `not known yet: ${title}`,
  loop: "steps that wait for each other",
};

/** A step's state in a few words, for a line beside it: "waits for Fit the shims (…)". */
export function stateInWords(step: {
  readonly state: "ready" | "done" | "blocked";
  readonly doneOn?: string;
  readonly doneBy?: string;
  readonly blockedBy: readonly {
    readonly is: "step" | "figure" | "check" | "loop";
    readonly text: string;
  }[];
}): string {
  switch (step.state) {
    case "ready":
      return "ready";
    case "blocked": {
      const steps = step.blockedBy.filter(({ is }) => is === "step" || is === "loop");
      const waits = steps.length === 0 ? [] : [`waits for ${list(steps.map(({ text }) => text))}`];
      const others = step.blockedBy.filter((each) => !steps.includes(each));
      return [...waits, ...others.map(({ text }) => text)].join("; ");
    }
    case "done": {
      const when = step.doneOn === undefined ? "" : ` on ${step.doneOn}`;
      return `done${when}${step.doneBy === undefined ? "" : ` by ${step.doneBy}`}`;
    }
  }
}

export const left = {
  step: (step: Spoken): string => `do ${step.title} (${step.path})`,
  tighten: (joint: Spoken, torque: string): string =>
    `tighten ${joint.title} (${joint.path}) to ${torque}`,
  recheck: (joint: Spoken): string => `check ${joint.title} (${joint.path}) again`,
  measure: (path: string): string => `measure \`${path}\``,
};

export function holdInWords(step: Step, time: string | undefined): string | undefined {
  switch (step.hold) {
    case undefined:
      return undefined;
    case "until_cool":
      return "until it is cool to the touch";
    case "until_cured":
      return time === undefined ? "until it has cured" : `until it has cured, ${time}`;
    case "for_time":
      return time === undefined ? "for its time" : `for ${time}`;
    default:
      return step.hold.replaceAll("_", " ");
  }
}

/** Why one step waits for another, as the tail of a sentence. */
export function reason(why: Why, after?: Spoken): string {
  switch (why.is) {
    case "written":
      return after === undefined ? "as written" : `${named(after)} comes after it`;
    case "inside":
      return "it is part of it";
    case "rule":
      return `${why.rule.title}${because(why.rule)}`;
    case "final":
      return `${named(why.joint)} clamps what that step makes final`;
    case "climb":
      return `${named(why.joint)} goes from the lower torque to the higher`;
    case "recheck":
      return `${named(why.joint)} is checked again after it is tightened`;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function shortReason(why: Why): string {
  return why.is === "rule" ? (why.rule.remarks.because ?? why.rule.title) : reason(why);
}

function because(rule: OrderDefinition): string {
  return rule.remarks.because === undefined ? "" : `, because ${rule.remarks.because}`;
}

function throughWay(way: readonly Step[]): string {
  const between = way.slice(1, -1);
  return between.length === 0 ? "" : ` (by way of ${list(between.map(named))})`;
}

function whatToMove(before: Step, after: Step): string {
  const apart =
    before.on.length > 0 && after.on.length > 0
      ? ""
      : "; if the two are done to different things, say so with `on`";
  return `let ${named(after)} come after ${named(before)}${apart}`;
}
