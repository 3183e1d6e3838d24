/**
 * What is said of figures that look odd: out of the usual, unlike their twin, against a default.
 *
 * Must not know: how anything is found.
 */
import type { Anchor } from "../../grammar/anchor";
import type { Fix } from "./finding";
import { andList, written } from "./phrases";
import type { Family } from "./said";
import type { Shown, Writer } from "./writer";

/** A figure as it stands in the build, and what it may have been meant to be. */
interface Doubted extends Shown {
  readonly si: number;
  /** As written, without tolerance. */
  readonly written?: string;
}

/** What a written figure was likely meant to be. */
interface Meant {
  readonly text: string;
  readonly anchor: Anchor;
}

export const looks = {
  "value/out-of-range": (
    {
      figure,
      range: [low, high],
      ofPart,
      failing,
      slip,
    }: {
      readonly figure: Doubted;
      readonly range: readonly [number, number];
      /** It is part of a designation, of which there are only so many. */
      readonly ofPart: boolean;
      /** Something fails or contradicts because of it. */
      readonly failing: boolean;
      readonly slip?: Meant;
    },
    writer,
  ) => {
    const { path, si } = figure;
    const usual =
      si < low ? `at least ${writer.like(figure, low)}` : `at most ${writer.like(figure, high)}`;
    return {
      severity: failing ? "error" : "warning",
      message: `${path} is ${asWritten(figure, writer)}: ${usual} is ${ofPart ? "what there is" : "usual"}`,
      hint: slip === undefined ? "measure again, or look at the figure as it was read" : ask(slip),
      fixes: slip === undefined ? [] : [putting(slip)],
    };
  },
  "value/out-of-range tolerance": (
    { figure, by }: { readonly figure: Doubted; readonly by: number },
    writer,
  ) => ({
    severity: "warning",
    message: `${figure.path} is ${asWritten(figure, writer)} ± ${writer.like(figure, by)}: by that it could be less than nothing`,
    hint: "write how far it may be off, not how large it is",
  }),
  "value/unlike-twin": (
    {
      one,
      other,
      first,
      second,
    }: {
      readonly one: Doubted;
      readonly other: Doubted;
      readonly first: Meant;
      readonly second?: Meant;
    },
    writer,
  ) => ({
    severity: "warning",
    message: `${one.path} is ${asWritten(one, writer)} and ${other.path} is ${asWritten(other, writer)}: they are usually alike`,
    hint:
      second === undefined
        ? `${ask(first)} measure both again`
        : `is \`${first.text}\` meant for ${one.path}, or \`${second.text}\` for ${other.path}? measure both again`,
    fixes: [first, ...(second === undefined ? [] : [second])].map(putting),
  }),
  "given/against-default": (
    {
      figure,
      field,
      usual,
      givens,
    }: {
      /** What it would have to be. */
      readonly figure: Shown;
      readonly field: string;
      /** Its default, in SI. */
      readonly usual: number;
      /** What settles it otherwise. */
      readonly givens: readonly { readonly path: string; readonly elsewhere?: Anchor }[];
    },
    writer,
  ) => ({
    severity: "warning",
    message: `${figure.path} would have to be ${writer.fine(figure.si, figure.measure)}: ${writer.fine(usual, figure.measure)} is usual`,
    hint: `check ${andList(givens.map(({ path }) => path))}; where it is so, write ${field}: ${writer.like(figure, figure.si)}`,
    related: givens.flatMap(({ path, elsewhere }) =>
      elsewhere === undefined ? [] : [{ anchor: elsewhere, message: `${path} is given here` }],
    ),
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

/** `is \`116 in\` meant?` */
function ask({ text }: Meant): string {
  return `is \`${text}\` meant?`;
}

function putting({ text, anchor }: Meant): Fix {
  return written(text, text, anchor);
}

function asWritten(figure: Doubted, writer: Writer): string {
  return figure.written ?? writer.like(figure, figure.si);
}
