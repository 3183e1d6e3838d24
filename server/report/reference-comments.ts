/**
 * What the remarks of a library file say: what its subject is about, and lines of a build to try it with.
 *
 * Must not know: what its kinds hold.
 */
import { Analyzer } from "../analysis/analyzer";
import { memoryHost } from "../analysis/host";
import type { Library } from "../analysis/library";
import { orderFindings } from "../sequence";
import { figureOf } from "./figure";
import { headlines } from "./selection";

/** The builds that a library file gives as examples, as texts. */
export function exampleTexts(text: string): string[] {
  return commentBlocks(text).flatMap(({ lines: [first = "", ...rest] }) =>
    /^Example\b/.test(first.trim()) ? [unindented(rest)] : [],
  );
}

/** Runs the example, so that what the page shows is what comes out. */
export function exampleSection(block: CommentBlock, library: Library): string[] {
  const [first = "", ...rest] = block.lines;
  const title = /^Example\b:?\s*(.*)$/.exec(first.trim());
  if (title === null) return [];
  const text = unindented(rest);
  const uri = "file:///example/build.trammel";
  const analysis = new Analyzer(memoryHost(new Map([[uri, text]])), library, [
    orderFindings,
  ]).analyze(uri);
  if (analysis === undefined) return [];
  const figures = headlines(analysis)
    .flatMap(({ values }) => values.filter(({ standing }) => standing !== "given"))
    .map((value) => {
      return `${value.path} = ${figureOf(value, analysis).full}: ${value.standing}`;
    });
  const findings = analysis.findings.map(
    ({ severity, message, code }) => `${severity}: ${message} [${code}]`,
  );
  return [
    `## Example${title[1] === "" || title[1] === undefined ? "" : `: ${title[1]}`}`,
    "",
    "```trammel",
    text.trimEnd(),
    "```",
    "",
    "comes out at",
    "",
    "```text",
    ...figures,
    ...findings,
    "```",
  ];
}

interface CommentBlock {
  readonly lines: readonly string[];
}

/** Runs of comment lines at the start of a line, without their marks. */
export function commentBlocks(text: string): CommentBlock[] {
  const blocks: string[][] = [];
  let open = false;
  for (const line of text.split(/\r?\n/)) {
    if (!line.startsWith("#")) {
      open = false;
      continue;
    }
    if (!open) blocks.push([]);
    open = true;
    blocks.at(-1)?.push(line.replace(/^# ?/, ""));
  }
  return blocks.map((lines) => ({ lines }));
}

/** The first comment of the file, if it stands before anything else and is no example. */
export function introduction(blocks: readonly CommentBlock[]): string[] {
  const [first] = blocks;
  return first === undefined || first.lines[0]?.startsWith("Example") === true
    ? []
    : [first.lines.join(" ").replaceAll(/\s+/g, " ").trim()];
}

// ───────────────────────────── helpers ─────────────────────────────

function unindented(lines: readonly string[]): string {
  const least = Math.min(
    ...lines
      .filter((line) => line.trim() !== "")
      .map((line) => line.length - line.trimStart().length),
  );
  return `${lines
    .map((line) => line.slice(Number.isFinite(least) ? least : 0))
    .join("\n")
    .trim()}\n`;
}
