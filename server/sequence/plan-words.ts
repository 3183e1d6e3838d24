/**
 * How the plan is told: what a step waits for, why it is to be done again, what is left, what to mind
 * at a joint, what was accepted. What is wrong is told in `server/findings/`.
 *
 * Must not know: how anything is worked out.
 */
import { andList } from "../findings/phrases";
import { deedInWords, holdInWords, reasonInWords } from "../findings/work-phrases";
import type { Accepted } from "./accepted";
import { isYes, wordOf } from "./fields";
import type { Joint, Step } from "./plan";
import type { Again } from "./step-state";
import { jointFields, stepFields } from "./vocabulary";
import { becauseOf, type Why } from "./waiting";

/** A step or joint, as far as it is spoken of. */
interface Spoken {
  readonly path: string;
  readonly title: string;
}

/** What to mind when tightening a joint. */
export function jointNotes({ thing, recheckAfter, adjustable }: Joint): string[] {
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
    notes.push(`check again after ${wordOf(thing, jointFields.recheckAfter) ?? "the first miles"}`);
  }
  return notes;
}

/** Why a step that is on record as done is to be done again. */
export function againInWords({ before, because: cause, since, why, act }: Again): string {
  const when = since?.date === undefined ? "" : ` on ${since.date}`;
  if (why.is === "recheck" && cause === "redone")
    return `${why.joint.title} was tightened again${when}`;
  const what = {
    stands: "is to be done again",
    undone: `was taken back${when}`,
    early: `came after ${act.joint === undefined ? "it" : deedInWords({ step: act.step.path, joint: act.joint.path })}${when}`,
    redone: `was done again${when}`,
  }[cause];
  return `${before.title} ${what}: ${reasonInWords(becauseOf(why), act.step.path)}`;
}

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
      const texts = steps.map(({ text }) => text);
      const waits = steps.length === 0 ? [] : [`waits for ${andList(texts)}`];
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

/** "until it is cool to the touch"; nothing where it need not wait. */
export function holdOf({ hold, thing }: Step): string | undefined {
  return hold === undefined ? undefined : holdInWords(hold, wordOf(thing, stepFields.holdTime));
}

/** "`rear.width` 55 3/4 in for 55 in, accepted by Ida Foreman on 2026-04-04 until 2027-01-31" */
export function acceptedInWords(each: Accepted): string {
  const { what, found, spec, by, on, until, standing } = each;
  const figures =
    found === undefined ? "" : ` ${found}${spec === undefined ? "" : ` in place of ${spec}`}`;
  const day = on === undefined ? "" : ` on ${on}`;
  const end = until === undefined ? "for good" : `until ${until}`;
  switch (standing) {
    case "in force":
      return `${what}${figures}, accepted by ${by}${day} ${end}`;
    case "ran out":
      return `${what}${figures}, was accepted by ${by} until ${until}: to be mended or accepted anew`;
    case "withdrawn":
      return `${what}${figures}, no longer accepted`;
    case "nobody":
      return `${what}${figures}, accepted by nobody yet`;
    case "nothing":
      return `${what}, nothing that can be accepted`;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function shortReason(why: Why): string {
  return why.is === "rule"
    ? (why.rule.remarks.because ?? why.rule.title)
    : reasonInWords(becauseOf(why));
}
