/**
 * The sentences of this room, in one place: what is wrong, what was expected against what was
 * found, and what to do about it.
 *
 * Must not know: how anything is found.
 */
import { type Because, reasonInWords } from "../findings/work-plan";
import { type DisplayStyle, type Measure, measureNamed, writeAlike, writeQuantity } from "../units";
import { isYes, wordOf } from "./fields";
import type { Lack } from "./joint-history";
import type { Joint, Step } from "./plan";
import type { Act, Again, Missing } from "./step-state";
import { jointFields } from "./vocabulary";
import type { Why } from "./waiting";

export interface Said {
  readonly message: string;
  readonly hint: string;
}

/** Writes figures as the build shows them. */
export class FigureWriter {
  constructor(readonly style: DisplayStyle) {}

  torque(si: number | undefined): string {
    return this.figure(si, "torque");
  }

  /** Driven distances are no lengths of the shop: miles or kilometres. */
  distance(si: number): string {
    const [size, unit] = this.style.system === "metric" ? [1000, "km"] : [1609.344, "mi"];
    return `${Number((si / size).toFixed(1))} ${unit}`;
  }

  /** Work and waiting: minutes below an hour, then hours. */
  duration(si: number): string {
    const [size, unit] = si < 3600 ? [60, "min"] : [3600, "h"];
    return `${Number((si / size).toFixed(1))} ${unit}`;
  }

  /** Those of one sentence. */
  alike(figures: readonly number[], measure: Measure): readonly string[] {
    return writeAlike(figures, measure, this.style);
  }

  figure(si: number | undefined, of: Measure | string): string {
    const measure = typeof of === "string" ? measureNamed(of) : of;
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

export function list(items: readonly string[], word = "and"): string {
  const last = items[items.length - 1] ?? "";
  return items.length <= 1 ? last : `${items.slice(0, -1).join(", ")} ${word} ${last}`;
}

/** A step or joint, as far as it is spoken of. */
interface Spoken {
  readonly path: string;
  readonly title: string;
}

/** "`weld_left`", "the tightening of `bracket_bolts`" */
export function actInWords({ step, joint }: Act): string {
  return joint === undefined ? named(step) : `the tightening of ${named(joint)}`;
}

export function named(each: Spoken): string {
  return `\`${each.path}\``;
}

// ───────────────────────────── the record ─────────────────────────────

export const record = {
  noDate: (): Said => ({
    message: "this record has no date, so nothing can be said about its order",
    hint: "write the day after the title: 2026-03-14",
  }),
  tooEarly: (before: Step, act: Act, why: Why, when: { before: string; after: string }): Said => ({
    message: `${actInWords(act)} is recorded ${when.after}, before ${named(before)} (${when.before}): ${reason(why, act.step)}`,
    hint: "undo it, do it again in the right order, and put that on record; if only the dates are wrong, mend them",
  }),
  prerequisite: (before: Step, act: Act, why: Why, when: string): Said => ({
    message: `${actInWords(act)} is recorded ${when}, ${named(before)} is not: ${reason(why, act.step)}`,
    hint: `if ${named(before)} was done, put it on record with its day; if not, do it, then this again`,
  }),
  hold: (before: Step, act: Act, hold: string): Said => ({
    message: `${actInWords(act)} is recorded too soon after ${named(before)}, which has to wait ${hold}`,
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
    hint: `loosen it and ${goAcross(joint)}: ${better.join(", ")}`,
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
  outOfTolerance: (
    {
      path,
      date,
      isOver,
      how,
    }: {
      readonly path: string;
      readonly date: string | undefined;
      readonly isOver: boolean;
      /** `the spec has` */
      readonly how: string;
    },
    figures: { readonly found: string; readonly spec: string; readonly far: string },
    allowed: { readonly low: string; readonly high: string } | undefined,
    /** What it means as built. */
    means: string,
  ): Said => ({
    message: `\`${path}\` was measured ${figures.found}${date === undefined ? "" : ` on ${date}`}, ${how} ${figures.spec}: ${figures.far} ${isOver ? "over" : "under"}${allowed === undefined ? "" : `, ${allowed.low} to ${allowed.high} is allowed`}`,
    hint: `measure again; if it stands, mend the part or the spec, or have it accepted; as built ${means}`,
  }),
  tooClose: (
    { path, found, sure }: { readonly path: string; readonly found: string; readonly sure: string },
    allowed: { readonly low: string; readonly high: string },
  ): Said => ({
    message: `\`${path}\` was measured ${found} ± ${sure}, ${allowed.low} to ${allowed.high} is allowed: too close to call`,
    hint: "measure again, more surely: a check hangs on it",
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
  unknownInstrument: (name: string, system: string): Said => ({
    message: `nobody says how well "${name}" measures`,
    hint: `declare it, for example: instrument bench_gauge "${name}" { reads_to: ${system === "metric" ? "0.02 mm" : "0.001 in"} }`,
  }),
  instrumentRange: (path: string, figure: string, instrument: string, range: string): Said => ({
    message: `\`${path}\` was measured ${figure} with ${instrument}, which measures ${range}`,
    hint: "measure again with something of the right size, or mend the name of the instrument",
  }),
  calibration: (name: string, calibrated: string, due: string, date: string): Said => ({
    message: `${name} was used on ${date}, its calibration of ${calibrated} ran out on ${due}`,
    hint: "have it calibrated and check again what was measured or tightened with it; if it was calibrated since, mend `calibrated`",
  }),
  contradiction: (path: string, one: string, other: string, date: string): Said => ({
    message: `\`${path}\` was measured ${one} and ${other} on ${date}, farther apart than both are sure to`,
    hint: 'measure again; if something was changed in between, give both entries their time: `at "14:30"`',
  }),
  notYesNo: (field: string, text: string): Said => ({
    message: `\`${field}\` is yes or no, not \`${text}\``,
    hint: "write yes or no; as it stands the entry says nothing",
  }),
  notACount: (field: string, text: string): Said => ({
    message: `\`${field}\` is told by number, not by \`${text}\``,
    hint:
      field === "bolts"
        ? "write the places, such as [1, 3, 5, 2, 4]"
        : "write its number, such as 1",
  }),
  notAFigure: (field: string, text: string): Said => ({
    message: `\`${field}\` is what was read off, not \`${text}\``,
    hint: "write the figure with its unit",
  }),
  notADay: (field: string, text: string): Said => ({
    message: `\`${field}\` is a day, not \`${text}\``,
    hint: "write year, month and day: 2027-01-31",
  }),
  notAText: (field: string, text: string): Said => ({
    message: `\`${field}\` is a text, not \`${text}\``,
    hint: field === "photos" ? 'write the path: "photos/left-end.jpg"' : 'write it in quotes: "…"',
  }),
  future: (date: string, today: string): Said => ({
    message: `this record is of ${date}, and it is ${today}`,
    hint: "mend the day, or the year; what is still to be done is no record yet",
  }),
  runningOff: (joint: Joint, found: string, planned: string, allowed: string): Said => ({
    message: `the running torque of ${named(joint)} was measured ${found}, the plan has ${planned} ± ${allowed}: what the wrench is set to rests on it`,
    hint: "write it into the joint's `running_torque` and tighten again by the setting that comes out; a nut that turns too lightly no longer locks, one that turns too hard has a damaged thread",
  }),
  wrongInstrument: (done: string, name: string, what: string): Said => ({
    message: `${done} with ${name}, which is ${what}`,
    hint: "mend the name of the instrument; if nothing else was at hand, do it again with the right one",
  }),
  finerThanRead: (what: string, found: string, instrument: string, step: string): Said => ({
    message: `${what} is recorded ${found}, finer than ${instrument} can be read: it shows ${step}`,
    hint: "write what was read off, no finer than the instrument shows it",
  }),
  blank: (field: string): Said => ({
    message: `\`${field}\` is still to be filled in`,
    hint: "write what was read in place of the `?`",
  }),
  noTime: (text: string): Said => ({
    message: `"${text}" is no time of day`,
    hint: 'write hours and minutes: `at "14:30"`',
  }),
  specField: (joint: Joint): Said => ({
    message: `\`torque\` is what ${named(joint)} is to be tightened to; a record says what it was tightened to`,
    hint: "write `tightened` in its place",
  }),
  noPhoto: (path: string): Said => ({
    message: `there is no picture "${path}" beside this log`,
    hint: "paths are read from the folder of the log; put the file there, or mend its name",
  }),
  duplicate: (): Said => ({
    message: "this entry is on record twice, word for word: it counts once",
    hint: 'take one of them out; if it was done twice on that day, give each its time: `at "14:30"`',
  }),
  moved: (joint: Joint): Said => ({
    message: `${named(joint)} moved when it was checked again`,
    hint: "find out why, tighten it again to its torque, and have it checked once more",
  }),
  noSuchBolt: (joint: Joint, unknown: readonly number[]): Said => ({
    message: `${named(joint)} has ${joint.count} ${joint.count === 1 ? "fastener" : "fasteners"}, ${list(unknown.map(String))} ${unknown.length === 1 ? "is" : "are"} on record`,
    hint: "places are numbered from 1; mend the numbers, or the joint's `count`",
  }),
  boltTwice: (joint: Joint, twice: readonly number[], pass: string): Said => ({
    message: `${named(joint)}: ${list(twice.map(String))} ${twice.length === 1 ? "is" : "are"} on record twice${pass}`,
    hint: "name each fastener once in a pass",
  }),
  fallingPass: (joint: Joint, pass: number, from: number): Said => ({
    message: `pass ${pass} of ${named(joint)} is recorded after pass ${from}: passes climb`,
    hint: "if it was undone and begun again, say so: `loosened: yes`, then begin with pass 1; if only the numbers are wrong, mend them",
  }),
  notRenewed: (joint: Joint): Said => ({
    message: `${named(joint)} was tightened again, and nobody put new fasteners on record`,
    hint: "its fasteners are used once: put new ones in and write `renewed: yes`",
  }),
  wrenchReading: (joint: Joint, found: string, wanted: string): Said => ({
    message: `${found} is what the wrench is set to for ${named(joint)}, the nut gets ${wanted}`,
    hint: "write what the wrench showed as `reading`, or what the nut got as `tightened`",
  }),
  turnOff: (joint: Joint, found: string, wanted: string): Said => ({
    message: `${named(joint)} was turned on by ${found}, ${wanted} is wanted`,
    hint: "take out what was turned too far; begin again with new fasteners where the maker asks for them",
  }),
  again: (first: Again, all: readonly Again[], when: string, more: number): Said => {
    const { before, why, act, because: cause } = first;
    const what = cause === "undone" ? "taken back" : "done again";
    const acts = list([
      ...new Set(all.map((each) => `${actInWords(each.act)} (${dayIn(each.act)})`)),
    ]);
    const behind =
      more > 0 ? `, and ${more} ${more === 1 ? "step stands" : "steps stand"} on that` : "";
    return {
      message: `${why.is === "recheck" ? named(why.joint) : named(before)} was ${why.is === "recheck" && cause === "redone" ? "tightened again" : what} ${when}, after ${acts}${behind}: ${reason(why, act.step)}`,
      hint: `do ${all.length === 1 ? "it" : "them"} again after it, and put that on record`,
    };
  },
  unfinished: (
    missing: readonly { readonly step: Step; readonly missing: Missing }[],
    when: string,
    writer: FigureWriter,
  ): Said => unfinished(missing, when, writer),
  late: (step: Step, joint: Joint, done: string, tightened: string): Said => ({
    message: `${named(step)} is on record as done ${done}, ${named(joint)} was tightened ${tightened}`,
    hint: "put the step on record as done after the last joint is tight; if only the dates are wrong, mend them",
  }),
  leftOut: (step: Step, because: string): Said => ({
    message: `${named(step)} is on record as done, and this build does without it: ${because}`,
    hint: "take the entry out, or the step's `left_out`",
  }),
  cure: (joint: Joint, act: Act, time: string): Said => ({
    message: `${actInWords(act)} is recorded too soon after the tightening of ${named(joint)}, whose thread lock cures ${time}`,
    hint: "wait out the time, check the joint again, and put that on record",
  }),
  recheckMissing: (joints: readonly Joint[], step: Step, since: string): Said => ({
    message: `${list(joints.map(named))} ${joints.length === 1 ? "has" : "have"} not been checked again since ${since}: ${named(step)} is due`,
    hint: `check ${joints.length === 1 ? "it" : "them"} and write \`${joints[0]?.path ?? ""}.rechecked: yes\` into a record`,
  }),
  recheckDue: (joint: Joint, driven: string, wanted: string): Said => ({
    message: `${named(joint)} has been driven ${driven} since it was tightened and not been checked again: ${wanted} is when it is due`,
    hint: `check it and write \`${joint.path}.rechecked: yes\` into a record`,
  }),
  recheckEarly: (joint: Joint, driven: string, wanted: string): Said => ({
    message: `${named(joint)} was checked again after ${driven}, ${wanted} is wanted`,
    hint: "joints settle in the first miles: check it once more after them",
  }),
  odometerBack: (found: string, before: string): Said => ({
    message: `the odometer shows ${found}, less than the ${before} of before`,
    hint: "mend the figure; if the instrument was changed, write the distance driven in all",
  }),
};

/** What a step said to be done still lacks, those of one kind together. */
function unfinished(
  missing: readonly { readonly step: Step; readonly missing: Missing }[],
  when: string,
  writer: FigureWriter,
): Said {
  const steps = [...new Set(missing.map(({ step }) => step))];
  const what = missing.map((each) => lacking(each.missing, each.step, writer));
  return {
    message: `${list(steps.map(named))} ${steps.length === 1 ? "is" : "are"} on record as done ${when}, ${list(what.map(({ message }) => message))}`,
    hint: [...new Set(what.map(({ hint }) => hint))].join("; "),
  };
}

function lacking(missing: Missing, step: Step, writer: FigureWriter): Said {
  switch (missing.is) {
    case "joint": {
      const torque = missing.joint.torque;
      const full = torque === undefined ? undefined : torque * step.tightenTo;
      return {
        message: `${named(missing.joint)} ${lacksInWords(missing.lacks)}`,
        hint: `tighten ${missing.joint.path}${full === undefined ? "" : ` to ${writer.torque(full)}`} and put it on record`,
      };
    }
    case "recheck":
      return {
        message: `${named(missing.joint)} is not checked again`,
        hint: `check it and write \`${missing.joint.path}.rechecked: yes\``,
      };
    case "measure":
      return {
        message: `what it was to measure is not: \`${missing.text}\``,
        hint: "put the measurements on record",
      };
    case "figure":
      return {
        message: `\`${missing.text}\`, which it needs, is open`,
        hint: missing.advice ?? "give the figure, or put a measurement on record",
      };
    case "check":
      return missing.known
        ? {
            message: `a limit it names does not hold: ${missing.title}${missing.ranOut === undefined ? "" : `, which was accepted until ${missing.ranOut}`}`,
            hint: `mend the part, or have it accepted: \`${step.path} { accepted: ${step.path}; until: … }\``,
          }
        : {
            message: `a limit it names cannot be judged: ${missing.title}`,
            hint: "measure what it is about",
          };
    case "second":
      return {
        message:
          missing.by === undefined
            ? `who did ${named(missing.of)} and who did this is not`
            : `by ${missing.by}, who did ${named(missing.of)} too`,
        hint: 'a second person has to do it: write both names, `by "…"`',
      };
    case "sign":
      return {
        message:
          missing.by === undefined
            ? `${missing.who} has not signed`
            : `signed by ${missing.by}, who did it`,
        hint: `have it looked at and write \`${step.path}.signed: "name"\``,
      };
    case "anew":
      return {
        message: `${named(missing.before)} was not done anew before it: ${reason(missing.why, step)}`,
        hint: `put ${named(missing.before)} on record before it each time`,
      };
  }
}

/** "is not tightened", "lacks passes 3 and 4" */
export function lacksInWords(lacks: readonly Lack[]): string {
  return list(lacks.map(lackInWords));
}

function lackInWords(lack: Lack): string {
  switch (lack.is) {
    case "nothing":
      return "is not tightened";
    case "passes":
      return `lacks ${lack.passes.length === 1 ? "pass" : "passes"} ${list(lack.passes.map(String))}`;
    case "bolts":
      return `lacks ${lack.bolts.length === 1 ? "fastener" : "fasteners"} ${list(lack.bolts.map(String))}`;
    case "torque":
      return "is not at its torque";
    case "held":
      return "has not held";
    case "turn":
      return "is not turned on by its angle";
    case "loosened":
      return "was undone";
    case "moved":
      return "moved when it was checked";
  }
}

function dayIn({ entry }: Act): string {
  return entry.date === undefined ? "without a day" : `on ${entry.date}`;
}

function goAcross({ pattern }: Joint): string {
  return pattern === "cross" ? "go across the circle" : "go from the middle outwards";
}

// ───────────────────────────── states ─────────────────────────────

/** Why a step that is on record as done is open. */
export const again = {
  lacks: (missing: Missing, step: Step, writer: FigureWriter): string =>
    lacking(missing, step, writer).message,
  again: ({ before, because: cause, since, why, act }: Again): string => {
    const when = since?.date === undefined ? "" : ` on ${since.date}`;
    const what =
      cause === "stands"
        ? "is to be done again"
        : cause === "undone"
          ? `was taken back${when}`
          : cause === "early"
            ? `came after ${act.joint === undefined ? "it" : actInWords(act)}${when}`
            : `was done again${when}`;
    return why.is === "recheck" && cause === "redone"
      ? `${why.joint.title} was tightened again${when}`
      : `${before.title} ${what}: ${reason(why, act.step)}`;
  },
};

export const blocked = {
  step: (before: Step, why: Why): string =>
    why.is === "written" || why.is === "inside"
      ? before.title
      : `${before.title} (${shortReason(why)})`,
  figure: (path: string, advice: string | undefined): string =>
    `\`${path}\` is open${advice === undefined ? "" : `: ${advice}`}`,
  part: (title: string): string => `${title} is not at hand`,
  check: (title: string): string => `not within its limits: ${title}`,
  unknownCheck: (title: string): string => `not known yet: ${title}`,
  loop: "steps that wait for each other",
};

/** A step's state in a few words, for a line beside it: "waits for Fit the shims (…)". */
export function stateInWords(step: {
  readonly state: "ready" | "done" | "blocked" | "again";
  readonly again?: readonly string[];
  readonly doneOn?: string;
  readonly doneBy?: string;
  readonly blockedBy: readonly {
    readonly is: "step" | "figure" | "check" | "loop" | "part";
    readonly text: string;
  }[];
}): string {
  switch (step.state) {
    case "ready":
      return "ready";
    case "again":
      return `to be done again: ${(step.again ?? []).join("; ")}`;
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
  return reasonInWords(becauseOf(why), after?.path);
}

/** The same as data. */
export function becauseOf(why: Why): Because {
  switch (why.is) {
    case "rule":
      return { is: "rule", title: why.rule.title, because: why.rule.remarks.because };
    case "written":
    case "inside":
      return { is: why.is };
    default:
      return { is: why.is, joint: why.joint.path };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function shortReason(why: Why): string {
  return why.is === "rule" ? (why.rule.remarks.because ?? why.rule.title) : reason(why);
}
