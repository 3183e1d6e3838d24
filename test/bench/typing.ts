/**
 * What people type into a build: a digit, a remark, a line left half typed, another name; there and
 * back again, line after line, so that no text is seen twice in a row.
 *
 *     typedInto(text, "a digit", 24)   →   edits of lines all over the text
 */
import type { Edit } from "./editing";

/** Each gives the line as it is after the edit, nothing where it cannot be made there. */
const kinds = {
  "a digit": (line: string) =>
    /^\s+\w+: \d/.test(line)
      ? line.replace(/(: \d*)(\d)/, (_, before: string, digit: string) => before + next(digit))
      : undefined,
  "a remark in a thing": (line: string) =>
    /^\s+\w+: [^#"]*[^#"{\s]$/.test(line) ? `${line}  # seen` : undefined,
  "a remark outside": (line: string) => (line.startsWith("#") ? `${line} once more` : undefined),
  "a figure half typed": (line: string) =>
    /^\s+\w+: \d/.test(line) ? line.replace(/: .*/, ":") : undefined,
  "another field's name": (line: string) =>
    /^\s+\w+: /.test(line) ? line.replace(/^(\s+\w+)/, "$1x") : undefined,
  "another thing's name": (line: string) =>
    /^\w+ \w+ .*\{$/.test(line) ? line.replace(/^(\w+ \w+)/, "$1x") : undefined,
} as const;

export type Typing = keyof typeof kinds;

export const typings = Object.keys(kinds) as Typing[];

/** `count` edits in all, each with its way back behind it; none where no line suits. */
export function typedInto(text: string, what: Typing, count: number): Edit[] {
  const places = text.split("\n").flatMap((line, number) => {
    const after = kinds[what](line);
    return after === undefined || after === line ? [] : [{ line: number, from: line, to: after }];
  });
  const edits: Edit[] = [];
  for (let turn = 0; edits.length < count; turn++) {
    const place = places[(turn * stride) % places.length];
    if (place === undefined) return [];
    edits.push({ about: what, ...place });
    edits.push({ about: what, line: place.line, from: place.to, to: place.from });
  }
  return edits.slice(0, count);
}

// ───────────────────────────── helpers ─────────────────────────────

/** Leads all over the text before it comes back. */
const stride = 7;

function next(digit: string): string {
  return String((Number(digit) + 1) % 10);
}
