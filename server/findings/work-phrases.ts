/**
 * Turns of phrase about the order of work: steps and joints by their paths, days, reasons, what is
 * still lacking.
 *
 * Must not know: how anything is found.
 */
import type { Anchor } from "../../grammar/anchor";
import { andList } from "./phrases";
import type { Writer } from "./writer";

/** Why one step waits for another. */
export type Because =
  | { readonly is: "written" | "inside" }
  | { readonly is: "rule"; readonly title: string; readonly because?: string }
  /** `joint` by its path. */
  | { readonly is: "final" | "climb" | "recheck"; readonly joint: string };

/** Something that was done: a step, or the tightening of one of its joints; by their paths. */
export interface Deed {
  readonly step: string;
  readonly joint?: string;
}

/** When an entry says that it was done; `clock` in minutes since midnight. */
export interface Day {
  readonly date?: string;
  readonly clock?: number;
}

/** Where something is written, and what it is called. */
export interface Titled {
  readonly title: string;
  readonly at: Anchor;
}

/** What keeps a joint from being tight. */
export type Lack =
  | { readonly is: "nothing" }
  | { readonly is: "passes"; readonly passes: readonly number[] }
  | { readonly is: "bolts"; readonly bolts: readonly number[] }
  | { readonly is: "torque" }
  | { readonly is: "held" }
  | { readonly is: "turn" }
  | { readonly is: "loosened" }
  | { readonly is: "moved" };

/** What a step that is on record as done still lacks; steps and joints by their paths. */
export type Lacking = { readonly step: string } & (
  | {
      readonly is: "joint";
      readonly joint: string;
      /** What the step brings it to, in N·m. */
      readonly torque: number | undefined;
      readonly lacks: readonly Lack[];
    }
  | { readonly is: "recheck"; readonly joint: string }
  | { readonly is: "measure"; readonly text: string }
  | { readonly is: "figure"; readonly text: string; readonly advice: string | undefined }
  | {
      readonly is: "part";
      readonly part: string;
      readonly title: string;
      /** When it came, where that is on record for later. */
      readonly came: Day | undefined;
    }
  | {
      readonly is: "check";
      readonly title: string;
      readonly known: boolean;
      /** The day up to which it was accepted. */
      readonly ranOut: string | undefined;
    }
  | {
      readonly is: "second";
      readonly of: string;
      readonly by: string | undefined;
      /** A shorter or longer name here that may be the same person's. */
      readonly alike: string | undefined;
    }
  | {
      readonly is: "sign";
      readonly who: string;
      readonly by: string | undefined;
      /** Whoever did it, by a shorter or longer name. */
      readonly alike: string | undefined;
      /** When it was signed, where that is before it was done. */
      readonly early: Day | undefined;
    }
  | { readonly is: "anew"; readonly before: string; readonly why: Because }
);

export function named(path: string): string {
  return `\`${path}\``;
}

export function here({ title, at }: Titled) {
  return { anchor: at, message: `${title} is here` };
}

/** "pass", "passes": by their number. */
export function plural(count: number | readonly unknown[], one: string, many = `${one}s`): string {
  return (typeof count === "number" ? count : count.length) === 1 ? one : many;
}

export function percent(share: number): string {
  return `${Number((share * 100).toFixed(1))} %`;
}

/** "`weld_left`", "the tightening of `bracket_bolts`" */
export function deedInWords({ step, joint }: Deed): string {
  return joint === undefined ? named(step) : `the tightening of ${named(joint)}`;
}

/** "on 2026-03-14 at 14:30" */
export function dayInWords({ date, clock }: Day): string {
  if (date === undefined) return "without a day";
  return clock === undefined ? `on ${date}` : `on ${date} at ${timeInWords(clock)}`;
}

/** "until it is cool to the touch"; `time` as the build writes it. */
export function holdInWords(hold: string, time: string | undefined): string {
  switch (hold) {
    case "until_cool":
      return "until it is cool to the touch";
    case "until_cured":
      return time === undefined ? "until it has cured" : `until it has cured, ${time}`;
    case "for_time":
      return time === undefined ? "for its time" : `for ${time}`;
    default:
      return hold.replaceAll("_", " ");
  }
}

/** Why one step waits for another, as the tail of a sentence; `after` by its path. */
export function reasonInWords(why: Because, after?: string): string {
  switch (why.is) {
    case "written":
      return after === undefined ? "as written" : `${named(after)} comes after it`;
    case "inside":
      return "it is part of it";
    case "rule":
      return `${why.title}${why.because === undefined ? "" : `, because ${why.because}`}`;
    case "final":
      return `${named(why.joint)} clamps what that step makes final`;
    case "climb":
      return `${named(why.joint)} goes from the lower torque to the higher`;
    case "recheck":
      return `${named(why.joint)} is checked again after it is tightened`;
  }
}

/** "neighbors one after the other: 1 and 2 and 3 and 4" */
export function pairsInWords(pairs: readonly (readonly [number, number])[]): string {
  return andList(pairs.map(([one, other]) => `${one} and ${other}`));
}

/** "go across the circle: 1, 3, 5, 2, 4"; `across`: round a circle, not along rows. */
export function betterOrder(across: boolean, better: readonly number[]): string {
  return `${across ? "go across the circle" : "go from the middle outwards"}: ${better.join(", ")}`;
}

/** "is not tightened", "lacks passes 3 and 4" */
export function lacksInWords(lacks: readonly Lack[]): string {
  return andList(lacks.map(lackInWords));
}

/** What a step lacks, as the tail of a sentence about it, and what to do. */
export function lackingInWords(
  lacking: Lacking,
  writer: Pick<Writer, "torque">,
): { readonly message: string; readonly hint: string } {
  switch (lacking.is) {
    case "joint": {
      const { joint, torque, lacks } = lacking;
      const full = torque === undefined ? "" : ` to ${writer.torque(torque)}`;
      return {
        message: `${named(joint)} ${lacksInWords(lacks)}`,
        hint: `tighten ${joint}${full} and put it on record`,
      };
    }
    case "recheck":
      return {
        message: `${named(lacking.joint)} is not checked again`,
        hint: `check it and write \`${lacking.joint}.rechecked: yes\``,
      };
    case "measure":
      return {
        message: `what it was to measure is not: \`${lacking.text}\``,
        hint: "put the measurements on record",
      };
    case "figure":
      return {
        message: `\`${lacking.text}\`, which it needs, is open`,
        hint: lacking.advice ?? "give the figure, or put a measurement on record",
      };
    case "part": {
      const { part, title, came } = lacking;
      return came === undefined
        ? {
            message: `a part it takes is not at hand: ${title}`,
            hint: `put on record when it came: \`${part}.at_hand: yes\``,
          }
        : {
            message: `a part it takes is on record as at hand only ${dayInWords(came)}: ${title}`,
            hint: "if one of the days is wrong, mend it; if another part went in, write it down as what the step takes",
          };
    }
    case "check": {
      const { step, title, known, ranOut } = lacking;
      const until = ranOut === undefined ? "" : `, which was accepted until ${ranOut}`;
      return known
        ? {
            message: `a limit it names does not hold: ${title}${until}`,
            hint: `mend the part, or have it accepted: \`${step} { accepted: ${step}; until: … }\``,
          }
        : {
            message: `a limit it names cannot be judged: ${title}`,
            hint: "measure what it is about",
          };
    }
    case "second":
      return {
        message:
          lacking.by === undefined
            ? `who did ${named(lacking.of)} and who did this is not`
            : lacking.alike === undefined
              ? `by ${lacking.by}, who did ${named(lacking.of)} too`
              : `by ${lacking.alike}, who may be the ${lacking.by} who did ${named(lacking.of)}`,
        hint: 'a second person has to do it: write both names, `by "…"`',
      };
    case "sign":
      return {
        message:
          lacking.by === undefined
            ? `${lacking.who} has not signed`
            : lacking.early !== undefined
              ? `signed by ${lacking.by} ${dayInWords(lacking.early)}, before it was done`
              : lacking.alike === undefined
                ? `signed by ${lacking.by}, who did it`
                : `signed by ${lacking.by}, who may be the ${lacking.alike} who did it`,
        hint: `have it looked at and write \`${lacking.step}.signed: "name"\``,
      };
    case "anew":
      return {
        message: `${named(lacking.before)} was not done anew before it: ${reasonInWords(lacking.why, lacking.step)}`,
        hint: `put ${named(lacking.before)} on record before it each time`,
      };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function lackInWords(lack: Lack): string {
  switch (lack.is) {
    case "nothing":
      return "is not tightened";
    case "passes":
      return `lacks ${plural(lack.passes, "pass", "passes")} ${andList(lack.passes.map(String))}`;
    case "bolts":
      return `lacks ${plural(lack.bolts, "fastener")} ${andList(lack.bolts.map(String))}`;
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

/** `14:30` */
function timeInWords(clock: number): string {
  const [hours, minutes] = [Math.floor(clock / 60), clock % 60];
  return `${String(hours).padStart(2, "0")}:${String(minutes).padStart(2, "0")}`;
}
