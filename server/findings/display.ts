/**
 * What is wrong with lines of a display block.
 *
 * Must not know: how a display is read.
 */
import { type Measure, measureInWords, unitsInWords } from "../units";
import { written } from "./phrases";
import type { Family } from "./said";

/** What is written, and what may have been meant, likeliest first. */
interface Meant {
  readonly text: string;
  readonly near: readonly string[];
}

export const displayFindings = {
  "display/unknown-measure": ({ text, near }: Meant, _, anchor) => ({
    message: `there is no measure called "${text}"${orMeant(near)}`,
    fixes: near.slice(0, 3).map((each) => written(each, each, anchor)),
  }),
  "display/unknown-unit": ({ text, near }: Meant, _, anchor) => ({
    message: `unknown unit "${text}"${orMeant(near)}`,
    fixes: near.slice(0, 3).map((each) => written(each, each, anchor)),
  }),
  "display/wrong-unit": ({ text, near, of }: Meant & { readonly of: Measure }, _, anchor) => ({
    message: `${measureInWords(of)} cannot be shown in ${text === "" ? "plain numbers" : text}: ${
      of.units.length === 0 ? "it is a plain number" : `use ${unitsInWords(of)}`
    }`,
    fixes: near.slice(0, 3).map((each) => written(each, each, anchor)),
  }),
  "display/bad-increment": ({ text, near }: Meant, _, anchor) => ({
    message: `"${text}" is no step to round to: write a fraction such as 1/32 or a number such as 0.001`,
    fixes: near.slice(0, 3).map((each) => written(each, each, anchor)),
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

function orMeant(near: readonly string[]): string {
  return near.length === 0 ? "" : `, did you mean ${near.join(" or ")}?`;
}
