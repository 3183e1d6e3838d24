/**
 * Where in the language the cursor stands while someone types: worked out from the characters
 * before it, since the text is seldom whole then.
 *
 *     writingPlace("axle rear {\n  track: 5", 24)   →   after a number, in the field `track` of `axle rear`
 *
 * Must not know: kinds, fields, values.
 */

import { opensComment } from "../../grammar/number-sign";

/** A brace that is open around the cursor, by what stands before it. */
export type Opener =
  | { readonly is: "thing"; readonly kind: string; readonly name: string }
  | { readonly is: "part"; readonly path: readonly string[] }
  | { readonly is: "kind"; readonly name: string }
  | {
      readonly is: "option" | "record" | "display" | "designation" | "table";
      readonly name: string;
    };

export interface WritingPlace {
  /** Outermost first. */
  readonly openers: readonly Opener[];
  /** The member being written, from its first word to the word at the cursor. */
  readonly lead: string;
  /** The word the cursor is in or after; empty where there is none. */
  readonly word: string;
  /** Where that word begins. */
  readonly start: number;
  /** Names and dots before the word: `["rear", "left"]` of `rear.left.in`. */
  readonly path: readonly string[];
  readonly inside: "text" | "comment" | "code";
}

/** `from`: where the declaration around the cursor begins. */
export function writingPlace(text: string, offset: number, from: number): WritingPlace {
  const heads: string[] = [];
  let member = from;
  let inside: WritingPlace["inside"] = "code";
  let depth = 0;
  for (let at = from; at < offset; at++) {
    const letter = text[at];
    if (inside !== "code") {
      if (letter === "\n" || letter === "\r") inside = "code";
      else if (inside === "text" && letter === '"') inside = "code";
      else if (inside === "text" && letter === "\\") at++;
      if (inside !== "code" || letter === '"') continue;
    }
    if (letter === "#" && opensComment(text, at)) inside = "comment";
    else if (letter === '"') inside = "text";
    else if (letter === "(" || letter === "[") depth++;
    else if (letter === ")" || letter === "]") depth = Math.max(0, depth - 1);
    else if (letter === "{") {
      heads.push(text.slice(member, at));
      member = at + 1;
      depth = 0;
    } else if (letter === "}") {
      heads.pop();
      member = at + 1;
      depth = 0;
    } else if (letter === ";" || (depth === 0 && (letter === "\n" || letter === "\r"))) {
      // A value may follow its colon on the next line.
      if (!/[:=]\s*$/.test(text.slice(member, at)) && !goesOn(text.slice(member, at)))
        member = at + 1;
    }
  }
  const lead = text.slice(member, offset);
  const word = /[\p{L}_][\p{L}\p{N}_]*$/u.exec(lead)?.[0] ?? "";
  const before = lead.slice(0, lead.length - word.length);
  const dotted = /((?:[\p{L}_][\p{L}\p{N}_]*\.)+)$/u.exec(before)?.[1] ?? "";
  return {
    openers: heads.map(openerOf).filter((opener) => opener !== undefined),
    lead: before,
    word,
    start: offset - word.length,
    path: dotted.split(".").slice(0, -1),
    inside,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Whether a line ends in the midst of a formula. */
function goesOn(line: string): boolean {
  return /(?:[-+*/^<>=,]|\b(?:and|or|not|then|else|if))\s*$/.test(line);
}

function openerOf(head: string): Opener | undefined {
  const words = head
    .replace(/"[^"\n]*"?/g, " ")
    .replace(/\slike\s+[\p{L}_][\p{L}\p{N}_.]*\s*$/u, " ")
    .split(/[^\p{L}\p{N}_.]+/u)
    .filter((word) => word !== "");
  // Members may follow each other on one line: the head is made of the words after the last value.
  const [first = "", second] = words;
  switch (first) {
    case "display":
      return { is: "display", name: "" };
    case "record":
      return { is: "record", name: "" };
    case "option":
    case "table":
    case "designation":
      if (second !== undefined) return { is: first, name: second };
      break;
    case "kind":
      if (second !== undefined) return { is: "kind", name: second };
      break;
    default:
      break;
  }
  const afterValue = /:/.test(head) ? words.slice(-1) : words.slice(-2);
  const [kind = "", name] = afterValue;
  if (kind === "") return undefined;
  if (name === undefined || kind.includes("."))
    return { is: "part", path: (name ?? kind).split(".") };
  return { is: "thing", kind, name };
}
