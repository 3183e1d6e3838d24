/**
 * What can be folded away: things, parts and other blocks, and rows of comment lines.
 *
 * Must not know: what anything means.
 */
import { type FoldingRange, FoldingRangeKind } from "vscode-languageserver";
import type { Item, SourceFile, Span } from "../../grammar/syntax";
import { children, type SyntaxNode } from "../../grammar/walk";

const mostFolds = 5_000;

export function foldingRanges(source: SourceFile): FoldingRange[] {
  const folds: FoldingRange[] = [];
  for (const item of source.items) {
    const lineAt = (at: number): number => source.positionAt(source.offsetOf(item, at)).line;
    for (const { start, end, closed } of bodiesIn(item)) {
      if (folds.length >= mostFolds) break;
      const startLine = lineAt(start);
      // The line of the closing brace stays in sight.
      const endLine = lineAt(Math.max(end - 1, start)) - (closed ? 1 : 0);
      if (endLine > startLine) folds.push({ startLine, endLine });
    }
  }
  return [...folds, ...commentFolds(source)];
}

// ───────────────────────────── helpers ─────────────────────────────

interface Body extends Span {
  readonly closed: boolean;
}

const known = new WeakMap<Item, readonly Body[]>();

/** What stands in braces, for as long as the item does. */
function bodiesIn(item: Item): readonly Body[] {
  const before = known.get(item);
  if (before !== undefined) return before;
  const bodies: Body[] = [];
  const stack: SyntaxNode[] = [item.node];
  for (
    let node = stack.pop();
    node !== undefined && bodies.length < mostFolds;
    node = stack.pop()
  ) {
    if ("body" in node) bodies.push({ ...node.body, closed: item.text[node.body.end - 1] === "}" });
    if (mayFold(node)) stack.push(...children(node));
  }
  known.set(item, bodies);
  return bodies;
}

function mayFold(node: SyntaxNode): boolean {
  return "members" in node || "fields" in node;
}

/** Rows of remarks, and of lines that use other files. */
function commentFolds(source: SourceFile): FoldingRange[] {
  const folds: FoldingRange[] = [];
  const text = source.text.includes("\r") ? source.text.replaceAll(/\r\n?/g, "\n") : source.text;
  const uses: number[] = [];
  let first: number | undefined;
  let line = 0;
  const close = (): void => {
    if (first !== undefined && line - 1 > first)
      folds.push({ startLine: first, endLine: line - 1, kind: FoldingRangeKind.Comment });
    first = undefined;
  };
  for (let start = 0; start <= text.length; line++) {
    const newline = text.indexOf("\n", start);
    const end = newline < 0 ? text.length : newline;
    let at = start;
    while (at < end && (text[at] === " " || text[at] === "\t")) at++;
    if (text[at] === "#" && at < end) first ??= line;
    else close();
    if (text.startsWith("use", start) && /^use\b/.test(text.slice(start, start + 4)))
      uses.push(line);
    start = end + 1;
  }
  close();
  const [top] = uses;
  const last = uses.at(-1);
  if (top !== undefined && last !== undefined && last > top && last - top < uses.length * 2) {
    folds.push({ startLine: top, endLine: last, kind: FoldingRangeKind.Imports });
  }
  return folds;
}
