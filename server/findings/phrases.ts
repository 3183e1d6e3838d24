/**
 * Turns of phrase that sentences share: lists, articles, counts, near names.
 *
 * Must not know: what is told.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Span } from "../../grammar/syntax";
import type { Fix } from "./finding";

/** "a, b or c" */
export function orList(items: readonly string[]): string {
  return joined(items, "or");
}

/** "a, b and c" */
export function andList(items: readonly string[]): string {
  return joined(items, "and");
}

/** Numbers that rise, as runs of neighbors: 1, 3, 4, 5 are 1 to 1 and 3 to 5. */
export function runsOf(numbers: readonly number[]): Run[] {
  const runs: { first: number; last: number }[] = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run !== undefined && run.last === number - 1) run.last = number;
    else runs.push({ first: number, last: number });
  }
  return runs;
}

export interface Run {
  readonly first: number;
  readonly last: number;
}

/** "an axle", "a road wheel": a name with its article, underscores as spaces. */
export function withArticle(name: string): string {
  const words = name.replaceAll("_", " ");
  return `${/^[aeiou]/i.test(words) ? "an" : "a"} ${words}`;
}

/** `2,000` */
export function inThousands(count: number): string {
  return count.toLocaleString("en-US");
}

export function comparisonInWords(relation: ">=" | "<=" | ">" | "<" | "==" | "!="): string {
  switch (relation) {
    case ">=":
      return "at least";
    case "<=":
      return "at most";
    case ">":
      return "more than";
    case "<":
      return "less than";
    case "==":
      return "exactly";
    case "!=":
      return "anything but";
  }
}

/** A name that is not among those there are: the near one, where it is a slip, and the first few. */
export interface Misnamed {
  readonly near?: string;
  readonly known?: readonly string[];
}

/** `did you mean …?`, or nothing. */
export function didYouMean({ near }: Misnamed): string | undefined {
  return near === undefined ? undefined : `did you mean \`${near}\`?`;
}

/** The near name where there is one, else the first few of the names there are. */
export function nameHint(misnamed: Misnamed): string | undefined {
  return didYouMean(misnamed) ?? knownHere(misnamed.known ?? []);
}

/** `known here: a, b, c, …` */
export function knownHere(names: readonly string[]): string | undefined {
  if (names.length === 0) return undefined;
  return `known here: ${names.slice(0, mostListed).join(", ")}${names.length > mostListed ? ", …" : ""}`;
}

/** More names than this are not listed. */
export const mostListed = 10;

/** The near name written in place of what is there. */
export function nearFix({ near }: Misnamed, anchor: Anchor): Fix[] {
  return near === undefined ? [] : [written(`\`${near}\``, near, anchor, true)];
}

/** "write 12 mm": a text put in place of what is there, or of a span beside it. */
export function written(
  shown: string,
  text: string,
  anchor: Anchor,
  preferred?: boolean,
  span: Span = anchor.span,
): Fix {
  return { title: `write ${shown}`, edits: [{ anchor: { ...anchor, span }, text }], preferred };
}

// ───────────────────────────── helpers ─────────────────────────────

function joined(items: readonly string[], word: string): string {
  const last = items[items.length - 1];
  if (items.length <= 1) return last ?? "";
  return `${items.slice(0, -1).join(", ")} ${word} ${last}`;
}
