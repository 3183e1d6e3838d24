/**
 * What is wrong with the text itself: signs and words left out, misplaced, spelled otherwise.
 *
 * Must not know: how the text is read.
 */
import type { Anchor } from "../../grammar/anchor";
import type { SyntaxFact } from "../../grammar/problems";
import type { Fix } from "./finding";
import { written } from "./phrases";
import type { Family } from "./said";

type Facts<Is extends SyntaxFact["is"]> = Extract<SyntaxFact, { readonly is: Is }>;
interface Missing {
  readonly after: string;
  readonly found: string;
}

export const textFamily = {
  "syntax/missing-value": ({ after, found }: Missing, _, anchor) => ({
    message: `expected a value after ${after}, found ${found}`,
    fixes: [
      adding(
        "?",
        "ask for the solved value: `?`",
        anchor,
        anchor.span.start,
        after.endsWith("(`") ? "" : " ",
      ),
    ],
  }),
  "syntax/missing-value operand": ({ after, found }: Missing) => ({
    message: `expected a value after ${after}, found ${found}`,
  }),
  "syntax/missing-part": ({ what, after, found }: Missing & { readonly what: string }) => ({
    message: `expected ${what} after ${after}, found ${found}`,
  }),
  "syntax/missing-name": ({ after, found }: Missing) => ({
    message: `expected a name after ${after}, found ${found}`,
  }),
  "syntax/missing-title": ({ what, after, found }: Missing & { readonly what: string }) => ({
    message: `expected ${what} after ${after}, found ${found}`,
  }),
  "syntax/missing-colon": ({ after, found, at }: Missing & { readonly at: number }, _, anchor) => ({
    message: `expected \`:\` after ${after}, found ${found}`,
    fixes: [adding(":", "add `:`", anchor, at)],
  }),
  "syntax/missing-colon equals": ({ name }: { readonly name: string }, _, anchor) => ({
    message: `a field takes its value after \`:\`, expected \`${name}:\`, found \`${name} =\``,
    fixes: [written("`:`", ":", anchor, true)],
  }),
  "syntax/missing-colon lone": ({ name, found }: Facts<"syntax/missing-colon lone">) => ({
    message: `expected \`:\` and a value after \`${name}\`, found ${found}`,
  }),
  "syntax/missing-brace": ({ after, found, at }: Missing & { readonly at: number }, _, anchor) => ({
    message: `expected \`{\` after ${after}, found ${found}`,
    fixes: [adding("{ }", "add `{ }`", anchor, at, " ")],
  }),
  "syntax/unclosed-brace": ({ head, at, closing }: Facts<"syntax/unclosed-brace">, _, anchor) => ({
    message: `\`${head}\` is never closed: add \`}\``,
    fixes: [adding(closing, "add `}`", anchor, at)],
  }),
  "syntax/unclosed-bracket": (
    { open, close, at }: Facts<"syntax/unclosed-bracket">,
    _,
    anchor,
  ) => ({
    message: `\`${open}\` is never closed: add \`${close}\``,
    fixes: [adding(close, `add \`${close}\``, anchor, at)],
  }),
  "syntax/unclosed-text": (_facts: unknown, _, anchor) => ({
    message: 'a text in quotes is never closed: add `"` before the end of the line',
    fixes: [adding('"', 'add `"`', anchor, anchor.span.end)],
  }),
  "syntax/stray-brace": (_facts: unknown, _, anchor) => ({
    message: "this `}` closes nothing: take it out",
    fixes: [putting("", "take out `}`", anchor)],
  }),
  "syntax/unexpected": ({ expected, found }: Facts<"syntax/unexpected">) => ({
    message: `expected ${expected}, found ${found}`,
  }),
  "syntax/unexpected plus": (_facts: unknown, _, anchor) => ({
    message: "`+` stands before a figure, or between two values",
    fixes: [putting("", "take out `+`", anchor)],
  }),
  "syntax/spelling-of-sign": ({ sign, spelling }: Facts<"syntax/spelling-of-sign">, _, anchor) => ({
    message: `\`${sign}\` is written \`${spelling}\``,
    fixes: [written(`\`${spelling}\``, spelling, anchor, true)],
  }),
  "syntax/spelling-of-sign quotes": ({ value }: { readonly value: string }, _, anchor) => ({
    message: 'a text stands in straight quotes `"…"`, found curly ones',
    fixes: [putting(`"${value.replaceAll('"', '\\"')}"`, "write straight quotes", anchor)],
  }),
  "syntax/inch-mark": ({ number }: { readonly number: string }, _, anchor) => ({
    message: `inches are written \`in\`: expected \`${number} in\`, found \`${number}"\``,
    fixes: [putting(" in", "write `in`", anchor)],
  }),
  "syntax/inch-mark foot": ({ number }: { readonly number: string }, _, anchor) => ({
    message: `feet are written \`ft\`: expected \`${number} ft\`, found \`${number}'\``,
    fixes: [putting(" ft", "write `ft`", anchor)],
  }),
  "syntax/number": ({ text }: { readonly text: string }) => {
    const why = text.includes("/")
      ? "the lower figure of a fraction cannot be 0, nor have more than nine figures"
      : "it has too many figures";
    return { message: `\`${text}\` is not a number: ${why}` };
  },
  "syntax/date": ({ text }: { readonly text: string }) => ({
    message: `there is no such day: \`${text}\`, a date is year-month-day`,
  }),
  "syntax/split-fraction": ({ fraction, before }: Facts<"syntax/split-fraction">, _, anchor) => ({
    message: `after \`${before}\` the fraction \`${fraction}\` stands in brackets: \`(${fraction})\``,
    fixes: [written(`\`(${fraction})\``, `(${fraction})`, anchor, true)],
  }),
  "syntax/comparison": ({ first, second }: Facts<"syntax/comparison">, _, anchor) => {
    const both = `${first} and ${second}`;
    return {
      message: `two comparisons are joined by \`and\`: expected \`${both}\``,
      fixes: [written(`\`${both}\``, both, anchor, true)],
    };
  },
  "syntax/unknown-word": ({ word, near }: Word, _, anchor) => ({
    message:
      near === undefined
        ? `\`${word}\` says nothing here, expected \`source\`, \`because\`, \`advise\` or another such word before a text`
        : `\`${word}\` says nothing here, did you mean \`${near}\`?`,
    fixes: meaning(near, anchor),
  }),
  "syntax/unknown-word severity": ({ word, near }: Word, _, anchor) => ({
    message: `a severity is \`error\`, \`warning\` or \`note\`, not \`${word}\``,
    fixes: meaning(near, anchor),
  }),
  "syntax/misplaced": ({ what, where }: Facts<"syntax/misplaced">) => ({
    message: `${what} stands ${where}`,
  }),
  "syntax/misplaced clause": ({ word }: { readonly word: string }) => ({
    message: `\`${word}\` has nothing to speak of: it follows a value, a field, a relation or a check`,
  }),
  "syntax/misplaced repeated": ({ what }: { readonly what: string }) => ({
    message: `${what} is already written: keep one of the two`,
  }),
  "syntax/too-deep": ({ what, levels }: Facts<"syntax/too-deep">) => ({
    message: `${what} lie too deep in one another: expected at most ${levels} levels`,
  }),
  "syntax/too-deep steps": ({ steps }: { readonly steps: number }) => ({
    message: `this has too many steps in a row: expected at most ${steps}, use \`sum\` or a field of its own`,
  }),
  "syntax/too-long": ({ characters }: { readonly characters: number }) => ({
    message: `this declaration is too long to read: expected at most ${characters} characters`,
  }),
  "syntax/conflict-marker": () => ({
    message:
      "a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
  }),
  "syntax/not-text": () => ({
    message: "this does not look like text: expected a build in UTF-8",
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

interface Word {
  readonly word: string;
  readonly near: string | undefined;
}

function putting(text: string, title: string, anchor: Anchor): Fix {
  return { title, edits: [{ anchor, text }], preferred: true };
}

function adding(text: string, title: string, anchor: Anchor, at: number, gap = ""): Fix {
  return putting(`${gap}${text}`, title, { ...anchor, span: { start: at, end: at } });
}

function meaning(near: string | undefined, anchor: Anchor): Fix[] {
  return near === undefined ? [] : [written(`\`${near}\``, near, anchor, true)];
}
