/**
 * Codes of findings about how a build is written: its signs, its files, its size.
 *
 * Must not know: how anything is found.
 */
import type { CodeRow } from "./codes";

export const textCodes = {
  "syntax/missing-value": {
    what: "A value is missing where one has to stand.",
    todo: "Write the figure with its unit, or `?` to have it solved.",
  },
  "syntax/missing-name": {
    what: "A name is missing: a thing, a field or a kind has to be called something.",
    todo: "Write a name of letters, figures and underscores: `rear_wheel`.",
  },
  "syntax/missing-title": {
    what: "A check, relation or record says what it is about in a text in double quotes.",
    todo: 'Write the text before the `:` or the `{`: `check "the tire clears": …`.',
  },
  "syntax/missing-colon": {
    what: "A field takes its value after a colon.",
    todo: "Write `name: value`.",
  },
  "syntax/missing-brace": {
    what: "What is said of a thing stands in braces after its name.",
    todo: "Add `{ }`.",
  },
  "syntax/missing-part": {
    what: "Part of a line is missing.",
    todo: "Write what the message names; the page of the language shows the whole form.",
  },
  "syntax/unclosed-brace": {
    what: "A `{` is never closed, so that everything below would belong to it.",
    todo: "Add `}` where the thing ends.",
  },
  "syntax/unclosed-bracket": {
    what: "A `(` or `[` is never closed.",
    todo: "Add the bracket that is missing.",
  },
  "syntax/unclosed-text": {
    what: "A text in double quotes is never closed. It ends on the line it begins on.",
    todo: 'Add `"` before the end of the line.',
  },
  "syntax/stray-brace": {
    what: "A `}` closes nothing.",
    todo: "Take it out, or add the `{` that it was to close.",
  },
  "syntax/unexpected": {
    what: "Something stands where something else has to.",
    todo: "Write what the message expects, or take out what it found.",
  },
  "syntax/unknown-word": {
    what: "A word that says nothing where it stands: clauses and severities are few and fixed.",
    todo: "Use one of the words the message names.",
  },
  "syntax/misplaced": {
    what: "A part of the language stands where it means nothing, or is written twice.",
    todo: "Move it to the place the message names, or take it out.",
  },
  "syntax/spelling-of-sign": {
    what: "A sign as print has it, such as `≥` or `½`, where the language has another spelling.",
    todo: "Take the fix: `>=`, `1/2`.",
  },
  "syntax/inch-mark": {
    what: "Feet and inches are written with their units: the marks `'` and `\"` are quotes.",
    todo: "Write `ft` and `in`.",
  },
  "syntax/number": {
    what: "A number that is none: a fraction over 0, or more figures than can be kept.",
    todo: "Mend the number.",
  },
  "syntax/date": {
    what: "There is no such day in the calendar.",
    todo: "Write year-month-day: `2026-03-14`.",
  },
  "syntax/split-fraction": {
    what: "After a sign such as `/` a fraction could be read as two divisions.",
    todo: "Put the fraction in brackets: `10 in / (3/4 in)`.",
  },
  "syntax/comparison": {
    what: "Two comparisons in a row, such as `0 in < x < 2 in`.",
    todo: "Join them with `and`: `0 in < x and x < 2 in`.",
  },
  "syntax/too-deep": {
    what: "Brackets, braces or steps of a formula lie too deep in one another to be read.",
    todo: "Give part of it a field of its own, or use `sum`.",
  },
  "syntax/too-long": {
    what: "One declaration is longer than can be read.",
    todo: "Look for a brace that is never closed; else split it into several things.",
  },
  "syntax/conflict-marker": {
    what: "A merge left both versions in the file. Nothing else is said of either side.",
    todo: "Of entries in a log keep both, of anything else one; take out the marker lines.",
  },
  "syntax/not-text": {
    what: "The file is not text: a build is written in UTF-8, or in UTF-16 with its mark.",
    todo: "Save it anew as UTF-8.",
  },
  "use/missing": {
    what: "A `use` names a file that is not there.",
    todo: "Mend the path; it is read from the folder of the file it stands in.",
  },
  "use/unreadable": {
    what: "A `use` names a file that is there and cannot be read.",
    todo: "See what the message says of it: rights, size, a folder or a device in its place.",
  },
  "use/none": {
    what: "No file is like the pattern of a `use`.",
    todo: "Check the path and the pattern.",
  },
  "use/not-a-path": {
    what: "A `use` that is no path of a file beside this one.",
    todo: 'Write a path with forward slashes: `use "parts/wheels.trammel"`.',
  },
  "use/not-a-build": {
    what: "Only files that end with `.trammel` are taken in.",
    todo: "Name a build, or give the file that ending.",
  },
  "use/outside": {
    what: "A `use` leads out of the folder the build belongs to, by its path or by a link.",
    todo: "Keep the files of a build below one folder with `.git` or an empty file `.trammel-root` in it.",
  },
  "use/circular": {
    what: "Files use each other in a circle.",
    todo: "Move what both need into a third file.",
  },
  "use/too-many": {
    what: "A build takes in more files, or more text, than are read.",
    todo: "Put several lists into one file, or split the build.",
  },
  "use/has-errors": {
    what: "A file that is taken in here has errors, which spoil figures of this build.",
    todo: "Open the file and mend it.",
  },
  "build/too-much": {
    what: "Something holds more things, parts or sums than are gone through, or takes longer to read than there is time; the rest is left out.",
    todo: "Let kinds name other things instead of holding them; sum up once in a field of its own; split what is too large, or give it more time (`--time`).",
  },
  "build/left-alone": {
    what: "Reading this build took longer than can be waited for, or more memory than there is. Nothing is said of it, so that everything else is answered.",
    todo: "Look for what multiplies: `each` in `each`, lists of lists, figures that hang together by the hundred. It is read again once it is edited.",
  },
  "build/fault": {
    what: "A fault of Trammel's own: part of the build was not looked through.",
    todo: "Please report it, with the build where you can.",
  },
} as const satisfies Readonly<Record<string, CodeRow>>;
