/**
 * What is wrong with an entry of a log by itself, whatever came before it: not a yes or no, no day or
 * one to come, the same words twice.
 *
 * Must not know: steps and joints, but for their paths.
 */
import type { Anchor } from "../../grammar/anchor";
import { written } from "./phrases";
import type { Family, Said } from "./said";
import { named } from "./work-phrases";

/** A field, and what stands there. */
interface Unread {
  readonly field: string;
  readonly text: string;
}

export const entryFamily = {
  "record/no-date": () => ({
    severity: "warning",
    message: "this record has no date, so nothing can be said about its order",
    hint: "write the day after the title: 2026-03-14",
  }),
  "record/future": ({ date, today }: { readonly date: string; readonly today: string }) => ({
    severity: "warning",
    message: `this record is of ${date}, and it is ${today}`,
    hint: "mend the day, or the year; what is still to be done is no record yet",
  }),
  "record/duplicate": ({ same }: { readonly same: Anchor }) => ({
    severity: "note",
    message: "this entry is on record twice, word for word: it counts once",
    hint: 'take one of them out; if it was done twice on that day, give each its time: `at "14:30"`',
    related: [{ anchor: same, message: "the same entry is here" }],
  }),
  "record/no-photo": ({ path }: { readonly path: string }) => ({
    severity: "warning",
    message: `there is no picture "${path}" beside this log`,
    hint: "paths are read from the folder of the log; put the file there, or mend its name",
  }),
  "record/not-yes-no": ({ field, text }: Unread, _, anchor) => ({
    message: `\`${field}\` is yes or no, not \`${text}\``,
    hint: "write yes or no; as it stands the entry says nothing",
    fixes: [written("yes", "yes", anchor, true), written("no", "no", anchor, false)],
  }),
  "record/not-a-count": ({ field, text }: Unread) => ({
    message: `\`${field}\` is told by number, not by \`${text}\``,
    hint:
      field === "bolts"
        ? "write the places, such as [1, 3, 5, 2, 4]"
        : "write its number, such as 1",
  }),
  "record/not-a-figure": ({ field, text }: Unread) => ({
    message: `\`${field}\` is what was read off, not \`${text}\``,
    hint: "write the figure with its unit",
  }),
  "record/not-a-day": ({ field, text }: Unread) => ({
    message: `\`${field}\` is a day, not \`${text}\``,
    hint: "write year, month and day: 2027-01-31",
  }),
  "record/not-a-text": ({ field, text }: Unread) => ({
    message: `\`${field}\` is a text, not \`${text}\``,
    hint: field === "photos" ? 'write the path: "photos/left-end.jpg"' : 'write it in quotes: "…"',
  }),
  "record/blank": ({ field }: Pick<Unread, "field">) => ({
    severity: "warning",
    message: `\`${field}\` is still to be filled in`,
    hint: "write what was read in place of the `?`",
  }),
  "record/no-time": ({ text }: Pick<Unread, "text">) => ({
    severity: "warning",
    message: `"${text}" is no time of day`,
    hint: 'write hours and minutes: `at "14:30"`',
  }),
  "record/spec-field": ({ joint }: { readonly joint: string }, _, anchor): Said => ({
    severity: "warning",
    message: `\`torque\` is what ${named(joint)} is to be tightened to; a record says what it was tightened to`,
    hint: "write `tightened` in its place",
    fixes: [written("tightened", `${joint}.tightened`, anchor)],
  }),
} satisfies Family;
