/**
 * Why a value is what it is, as lines of Markdown: the relation in symbols, the same with numbers,
 * its source, and each input in turn.
 *
 *     face_to_face = left.half + right.half
 *     54 11/16 in = 27 13/32 in + 27 9/32 in
 *
 * Must not know: where the lines are shown.
 */
import type { Analysis, Reason, Value } from "../analysis/analysis";
import { whateverElse } from "../report/derivation";
import { forMarkdown, forTerminal } from "../text/untrusted-text";
import { inWords, toleranceOf } from "./figures";
import { fileName, locationOf } from "./place";

const mostInputs = 14;
const deepest = 3;

/** The relation a value comes from; nothing where it was given or is missing. */
export function derivation(analysis: Analysis, value: Value): string[] {
  const { reason } = value;
  if (reason === undefined) return [];
  const lines = [
    `**${forMarkdown(reason.title)}**${reason.kind === "relation" || reason.kind === "formula" ? "" : " (assumed)"}`,
    "```trammel",
    ...inFence(reason.formula),
    ...inFence(withNumbers(analysis, reason)),
    "```",
  ];
  const { source, because } = reason.remarks;
  if (because !== undefined) lines.push(`${forMarkdown(because)}  `);
  lines.push(
    `source: ${source === undefined ? "none stated" : forMarkdown(source)}${declaredIn(analysis, reason)}`,
  );
  if (reason.together.length > 1) {
    lines.push(
      "",
      `solved together with: ${reason.together
        .filter((title) => title !== reason.title)
        .map(forMarkdown)
        .join(", ")}`,
    );
  }
  if (reason.whatever !== undefined) lines.push("", whateverElse(reason.whatever));
  return lines;
}

/** Each figure a value is worked out from, and in turn what that one is. */
export function inputLines(analysis: Analysis, value: Value): string[] {
  const lines: string[] = [];
  const seen = new Set([value.path]);
  const walk = (path: string, depth: number): void => {
    const input = analysis.valueAt(path);
    if (input === undefined || lines.length >= mostInputs) return;
    const known = seen.has(path);
    seen.add(path);
    const place =
      input.standing === "given" || input.standing === "measured" ? linkTo(analysis, input) : "";
    lines.push(
      `${"  ".repeat(depth)}- \`${path}\` = ${forMarkdown(analysis.write(input))}, ${input.standing}${place}${becauseOf(input, depth)}`,
    );
    if (known || depth + 1 >= deepest) return;
    for (const next of input.reason?.inputs ?? []) if (next !== value.path) walk(next, depth + 1);
  };
  for (const path of value.reason?.inputs ?? []) walk(path, 0);
  return lines.length >= mostInputs ? [...lines, "- …"] : lines;
}

/** A formula with its names replaced by the values they stand for. */
export function withNumbers(analysis: Analysis, reason: Reason): string {
  return reason.pieces
    .map((piece) => {
      if (typeof piece === "string") return piece;
      const value = analysis.valueAt(piece.path);
      return value === undefined || value.standing === "missing"
        ? piece.text
        : analysis.write(value);
    })
    .join("");
}

/** The givens that the tolerance of a value comes from, the largest first. */
export function contributorLines(analysis: Analysis, value: Value): string[] {
  const contributors = value.outcome()?.contributors() ?? [];
  // What is made has no ± but that of its making.
  if (contributors.length === 1 && contributors[0]?.path === value.path) return [];
  return contributors.slice(0, 6).map(({ path, below, above, share }) => {
    const by = toleranceOf(Math.max(Math.abs(below), Math.abs(above)), value.measure, analysis);
    return `- \`${path}\`: ${by ?? ""}, ${Math.round(share * 100)} %`;
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** Lines of code between fences, which no line of theirs ends. */
function inFence(text: string): string[] {
  return text.split(/\r?\n/).map((line) => forTerminal(line).replace(/^(\s*)`/, "$1 `"));
}

/** Parentheses and blanks would end the target of a link. */
export function linkTarget(uri: string): string {
  return uri
    .replace(/[()<>\s]/g, encodeURIComponent)
    .replace(/[()]/g, (each) => (each === "(" ? "%28" : "%29"));
}

function becauseOf(input: Value, depth: number): string {
  if (input.reason === undefined) return "";
  if (input.reason.kind === "default") return "";
  return depth + 1 >= deepest ? "" : ` by ${forMarkdown(inWords(input.reason.title))}`;
}

/** ` in [build.trammel:12](file:///…#L12)` */
export function linkTo(analysis: Analysis, value: Value): string {
  const location = value.anchor === undefined ? undefined : locationOf(analysis, value.anchor);
  if (location === undefined) return "";
  const line = location.range.start.line + 1;
  return ` in [${forMarkdown(fileName(location.uri))}:${line}](${linkTarget(location.uri)}#L${line})`;
}

function declaredIn(analysis: Analysis, reason: Reason): string {
  const location = locationOf(analysis, reason.anchor);
  if (location === undefined) return "";
  const line = location.range.start.line + 1;
  return ` ([${forMarkdown(fileName(location.uri))}:${line}](${linkTarget(location.uri)}#L${line}))`;
}
