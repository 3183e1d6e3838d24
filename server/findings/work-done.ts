/**
 * What is wrong with what was done: out of order, before its prerequisites, to be done again, said to
 * be done and not, never checked again. Steps and joints by their paths.
 *
 * Must not know: how the plan was put in order, how anything is found.
 */
import type { Anchor } from "../../grammar/anchor";
import { andList } from "./phrases";
import type { Family, Said } from "./said";
import {
  type Because,
  type Day,
  type Deed,
  dayInWords,
  deedInWords,
  here,
  holdInWords,
  type Lacking,
  lackingInWords,
  named,
  plural,
  reasonInWords,
  type Titled,
} from "./work-phrases";
import type { Writer } from "./writer";

/** Something that was done, and what should have come before it. */
interface After {
  readonly deed: Deed;
  readonly before: string;
}

interface TooEarly extends After {
  readonly day: Day;
  readonly why: Because;
  readonly there: Titled;
  /** What was done too early for the same cause, but for the first of it. */
  readonly more: readonly { readonly deed: Deed; readonly at: Anchor }[];
}

/** What a step said to be done still lacks, those of one kind together. */
interface Unfinished {
  readonly day: Day;
  readonly lacking: readonly Lacking[];
}

/** A joint that was checked again too early or is to be, in meters driven. */
interface Driven {
  readonly joint: string;
  readonly driven: number;
  readonly wanted: number;
}

export const doneFamily = {
  "record/out-of-order": ({
    deed,
    before,
    day,
    first,
    why,
    there,
    more,
    caution,
  }: TooEarly & { readonly first: Day; readonly caution: string | undefined }): Said => ({
    message: `${deedInWords(deed)} is recorded ${dayInWords(day)}, before ${named(before)} (${dayInWords(first)}): ${reasonInWords(why, deed.step)}${asWell(more)}`,
    hint: `undo ${plural([deed, ...more], "it, do it", "them, do them")} again in the right order, and put that on record; if only the dates are wrong, mend them`,
    related: [
      { anchor: there.at, message: `${there.title} is recorded here` },
      ...more.map(recordedHere),
    ],
    caution,
  }),
  "record/before-prerequisite": ({ deed, before, day, why, there, more }: TooEarly) => ({
    severity: "warning",
    message: `${deedInWords(deed)} is recorded ${dayInWords(day)}, ${named(before)} is not: ${reasonInWords(why, deed.step)}${asWell(more)}`,
    hint: `if ${named(before)} was done, put it on record with its day; if not, do it, then ${plural([deed, ...more], "this", "these")} again`,
    related: [here(there), ...more.map(recordedHere)],
  }),
  "record/hold": ({
    deed,
    before,
    hold,
    time,
  }: After & { readonly hold: string; readonly time: string | undefined }) => ({
    severity: "warning",
    message: `${deedInWords(deed)} is recorded too soon after ${named(before)}, which has to wait ${holdInWords(hold, time)}`,
    hint: "wait out the time, look at the part again, and put that on record",
  }),
  "record/cure": ({
    deed,
    joint,
    time,
  }: {
    readonly deed: Deed;
    readonly joint: string;
    readonly time: string;
  }) => ({
    severity: "warning",
    message: `${deedInWords(deed)} is recorded too soon after the tightening of ${named(joint)}, whose thread lock cures ${time}`,
    hint: "wait out the time, check the joint again, and put that on record",
  }),
  "record/again": ({
    before,
    why,
    cause,
    day,
    deeds,
    behind,
  }: {
    readonly before: string;
    readonly why: Because;
    readonly cause: "redone" | "undone";
    readonly day: Day;
    /** What stands on it, the first of them told with its reason. */
    readonly deeds: readonly { readonly deed: Deed; readonly date?: string; readonly at: Anchor }[];
    /** How many further steps stand on those. */
    readonly behind: number;
  }) => {
    const what = cause === "undone" ? "taken back" : "done again";
    const redone = why.is === "recheck" && cause === "redone" ? "tightened again" : what;
    const about = why.is === "recheck" ? why.joint : before;
    const told = new Set(
      deeds.map(({ deed, date }) => `${deedInWords(deed)} (${dayInWords({ date })})`),
    );
    const more =
      behind > 0 ? `, and ${behind} ${plural(behind, "step stands", "steps stand")} on that` : "";
    return {
      severity: "warning",
      message: `${named(about)} was ${redone} ${dayInWords(day)}, after ${andList([...told])}${more}: ${reasonInWords(why, deeds[0]?.deed.step)}`,
      hint: `do ${plural(deeds, "it", "them")} again after it, and put that on record`,
      related: deeds.map(recordedHere),
    };
  },
  "record/not-tight": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/not-rechecked": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/not-measured": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/open-figure": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/part-not-here": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/out-of-limits": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/second-person": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/not-signed": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/not-anew": (facts: Unfinished, writer) => unfinished(facts, writer),
  "record/done-too-soon": ({
    step,
    day,
    path,
    was,
    later,
    there,
  }: {
    readonly step: string;
    readonly day: Day;
    /** Of a joint, or of a figure. */
    readonly path: string;
    readonly was: "tightened" | "measured";
    readonly later: Day;
    readonly there: Anchor;
  }) => ({
    severity: "warning",
    message: `${named(step)} is on record as done ${dayInWords(day)}, ${named(path)} was ${was} ${day.date === later.date && later.clock === undefined ? "after that" : dayInWords(later)}`,
    hint: `put the step on record as done after ${was === "tightened" ? "the last joint is tight" : "what it measures is measured"}; if only the dates are wrong, mend them`,
    related: [{ anchor: there, message: `it was ${was} here` }],
  }),
  "record/left-out": ({ step, because }: { readonly step: string; readonly because: string }) => ({
    severity: "warning",
    message: `${named(step)} is on record as done, and this build does without it: ${because}`,
    hint: "take the entry out, or the step's `left_out`",
  }),
  "record/nothing-undone": ({ step, day }: { readonly step: string; readonly day: Day }) => ({
    severity: "note",
    message: `${named(step)} is taken back ${dayInWords(day)}, and is not on record as done by then`,
    hint: "mend the name of the step or the day; what was never done needs no taking back",
  }),
  "record/recheck-missing": ({
    joints,
    step,
    since,
  }: {
    readonly joints: readonly string[];
    readonly step: string;
    readonly since: string;
  }) => ({
    severity: "warning",
    message: `${andList(joints.map(named))} ${plural(joints, "has", "have")} not been checked again since ${since}: ${named(step)} is due`,
    hint: `check ${plural(joints, "it", "them")} and write \`${joints[0] ?? ""}.rechecked: yes\` into a record`,
  }),
  "record/recheck-due": ({ joint, driven, wanted }: Driven, writer) => ({
    severity: "warning",
    message: `${named(joint)} has been driven ${writer.distance(driven)} since it was tightened and not been checked again: ${writer.distance(wanted)} is when it is due`,
    hint: `check it and write \`${joint}.rechecked: yes\` into a record`,
  }),
  "record/recheck-early": ({ joint, driven, wanted }: Driven, writer) => ({
    severity: "warning",
    message: `${named(joint)} was checked again after ${writer.distance(driven)}, ${writer.distance(wanted)} is wanted`,
    hint: "joints settle in the first miles: check it once more after them",
  }),
  "record/recheck-early unread": ({ joint, driven, wanted }: Driven, writer) => ({
    severity: "note",
    message: `${named(joint)} was checked again ${writer.distance(driven)} after the odometer was first read, ${writer.distance(wanted)} from its tightening is wanted`,
    hint: "nobody can tell how far it was driven before: where it was not far, check it once more; read the odometer on the day it is tightened",
  }),
  "record/odometer": (
    {
      found,
      before,
      there,
    }: { readonly found: number; readonly before: number; readonly there: Anchor },
    writer,
  ) => ({
    severity: "warning",
    message: `the odometer shows ${writer.distance(found)}, less than the ${writer.distance(before)} of before`,
    hint: "mend the figure; if the instrument was changed, write the distance driven in all",
    related: [{ anchor: there, message: "the earlier reading is here" }],
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

/** `; x.b, x.c and 5 others are too early as well` */
function asWell(more: TooEarly["more"]): string {
  const names = [...new Set(more.map(({ deed }) => deedInWords(deed)))];
  if (names.length === 0) return "";
  const others = names.length - mostNamed;
  const told = others > 1 ? [...names.slice(0, mostNamed), `${others} others`] : names;
  return `; ${andList(told)} ${plural(names, "is", "are")} too early as well`;
}

/** Of more than one beyond these it is told how many there are. */
const mostNamed = 2;

function recordedHere({ deed, at }: { readonly deed: Deed; readonly at: Anchor }) {
  return { anchor: at, message: `${deedInWords(deed)} is recorded here` };
}

function unfinished({ day, lacking }: Unfinished, writer: Writer): Said {
  const steps = [...new Set(lacking.map(({ step }) => step))];
  const what = lacking.map((each) => lackingInWords(each, writer));
  return {
    severity: "warning",
    message: `${andList(steps.map(named))} ${plural(steps, "is", "are")} on record as done ${dayInWords(day)}, ${andList(what.map(({ message }) => message))}`,
    hint: [...new Set(what.map(({ hint }) => hint))].join("; "),
  };
}
