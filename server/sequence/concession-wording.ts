/**
 * The sentences about what is accepted out of tolerance.
 *
 * Must not know: how anything is found.
 */
import type { Accepted } from "./accepted";
import type { Concession } from "./concessions";
import type { AcceptedEvent } from "./entries";
import type { Step } from "./plan";
import { list, named, type Said } from "./wording";

export const concession = {
  nobody: ({ text, by }: AcceptedEvent): Said => ({
    message: `\`${text}\` is accepted by nobody: ${(by ?? "").trim() === "" ? "the record does not say who" : "the record has no day"}`,
    hint: 'whoever accepts it writes name and day: `record 2026-04-04 by "name" { … }`',
  }),
  ofNothing: ({ text, what }: AcceptedEvent): Said => {
    if (what.is === "other" && what.joint !== undefined)
      return {
        message: `${named(what.joint)} is a joint: what is wrong with it is not accepted as it is`,
        hint: "loosen it, tighten it again to its torque, and put that on record",
      };
    return what.is === "figure"
      ? {
          message: `\`${text}\` is accepted as it was measured, and no reading of it is on record by then`,
          hint: "put the reading on record first",
        }
      : {
          message: `\`${text}\` is accepted, and it is neither a figure of this build nor a step`,
          hint: "name what was measured, rear_housing.face_to_face, or the step whose limits do not hold",
        };
  },
  notNeeded: ({ text }: AcceptedEvent): Said => ({
    message: `\`${text}\` is accepted, and all of its limits hold`,
    hint: "nothing has to be accepted any more; `withdrawn` ends it",
  }),
  limits: (step: Step, titles: readonly string[], entry: AcceptedEvent): Said => ({
    message: `${acceptsInWords(entry)}, though ${named(step)} is not within its limits: ${list(titles)}`,
    hint: entry.follows ?? "look at it again before that day",
  }),
  figure: ({ message }: Said, entry: AcceptedEvent): Said => ({
    message: `${message}; ${acceptsInWords(entry)}`,
    hint: entry.follows ?? "the figures that come of it are in the as-built view",
  }),
  notCovered: (
    { message, hint }: Said,
    { by = "", until }: AcceptedEvent,
    standing: Concession["standing"],
    reading: string,
  ): Said => {
    switch (standing) {
      case "ran out":
        return {
          message: `${message}; it was accepted until ${until ?? "then"}`,
          hint: "mend it now, or have it accepted anew",
        };
      case "in force":
        return {
          message: `${message}; ${by} accepts ${reading} and no farther`,
          hint: "measure again; if it stands, have that reading accepted, or mend the part",
        };
      default:
        return { message, hint };
    }
  },
};

/** "Ida Foreman accepts it until 2027-01-31: spacer behind the left flange" */
export function acceptsInWords({ by = "nobody", until, because }: AcceptedEvent): string {
  const end = until === undefined ? "for good" : `until ${until}`;
  return `${by} accepts it ${end}${because === undefined ? "" : `: ${because.replace(/\.$/, "")}`}`;
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
