/**
 * What is left out of a build since there is too much of it, or no time for it.
 *
 * Must not know: how much is too much.
 */
import type { Anchor } from "../../grammar/anchor";
import { inThousands } from "./phrases";
import type { Family } from "./said";

export const limitFindings = {
  "build/too-much parts": ({
    path,
    most,
    from,
  }: {
    readonly path: string;
    readonly most: number;
    readonly from: string;
  }) => ({
    message: `\`${path}\` would hold more than ${inThousands(most)} parts, those from \`${from}\` on are left out`,
    hint: "let its kind, or a kind it holds, name other things instead of holding parts",
  }),
  "build/too-much terms": ({
    most,
    here,
  }: {
    readonly most: number;
    /** Of this thing alone, not of all of the build. */
    readonly here: boolean;
  }) => ({
    message: here
      ? `lists and \`each\` go through more than ${inThousands(most)} things here: what needs more is left open`
      : `lists and \`each\` go through more than ${inThousands(most)} things in this build: what needs more, from here on, is left open`,
    hint: "sum up once, in a field of its own, and use that field",
  }),
  "build/too-much things": ({ most, from }: { readonly most: number; readonly from: string }) => ({
    message: `this file holds more than ${inThousands(most)} things, those from \`${from}\` on are left out`,
    hint: "split it into several builds",
  }),
  "build/too-much likes": ({ path, most }: { readonly path: string; readonly most: number }) => ({
    message: `\`${path}\` would be like others by way of more than ${inThousands(most)} things: nothing is taken over here`,
    hint: "let it be like the thing that says most itself",
  }),
  "build/too-much time": ({
    left,
    seconds,
  }: {
    readonly left: readonly LeftOut[];
    readonly seconds: number;
  }) => ({
    message: `the ${inThousands(seconds)} s there are for reading this build are used up: ${left.slice(0, 1).map(leftOutInWords).join("")}`,
    hint: "split it into several builds, or give it more time with `--time`",
    related: left
      .slice(1)
      .map((each) => ({ anchor: each.anchor, message: `and ${leftOutInWords(each)}` })),
  }),
  "build/too-much base": ({
    name,
    most,
    levels,
  }: {
    readonly name: string;
    readonly most: number;
    readonly levels: number;
  }) => ({
    message: `\`${name}\` would take over more than there is room for: kinds take over at most ${inThousands(most)} fields, relations and checks, by way of at most ${levels} others`,
    hint: "take over from fewer kinds, or from smaller ones",
  }),
} satisfies Family;

/** Work of one sort that was left out, where there was no time for it. */
interface LeftOut {
  readonly part: LeftOutPart;
  /** The first that was left out, and how many were. */
  readonly name: string;
  readonly count: number;
  readonly anchor: Anchor;
}

export type LeftOutPart =
  | "things"
  | "figures"
  | "objections"
  | "options"
  | "fits"
  | "advice"
  | "order of work"
  | "answers";
// ───────────────────────────── helpers ─────────────────────────────

function leftOutInWords({ part, name, count }: LeftOut): string {
  const from = count === 1 ? `\`${name}\`` : `\`${name}\` and ${inThousands(count - 1)} more`;
  switch (part) {
    case "things":
      return `${from} ${count === 1 ? "is" : "are"} not read, and what hangs on that stays open`;
    case "figures":
      return `the figures of ${from} are not worked out`;
    case "answers":
      return "not all that was asked of it is worked out";
    case "objections":
      return `what there is to object to in ${from} is not told`;
    case "options":
      return `what goes wrong with option ${from} is not told`;
    case "order of work":
      return "the order of work and the records are not looked through";
    case "advice":
      return `what would settle ${from} is not told`;
    case "fits":
      return `what would make ${from} hold is not told`;
  }
}
