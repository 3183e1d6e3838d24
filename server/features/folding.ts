/**
 * What can be folded away: things, parts and other blocks, and rows of comment lines.
 *
 * Must not know: what anything means.
 */
import { type FoldingRange, FoldingRangeKind } from "vscode-languageserver";
import type { SourceFile } from "../../grammar/syntax";
import { children, type SyntaxNode } from "../../grammar/walk";

const mostFolds = 5_000;

export function foldingRanges(source: SourceFile): FoldingRange[] {
  const folds: FoldingRange[] = [];
  for (const item of source.items) {
    const lineAt = (at: number): number => source.positionAt(source.offsetOf(item, at)).line;
    const stack: SyntaxNode[] = [item.node];
    for (
      let node = stack.pop();
      node !== undefined && folds.length < mostFolds;
      node = stack.pop()
    ) {
      if ("body" in node) {
        const startLine = lineAt(node.body.start);
        // The line of the closing brace stays in sight.
        const closed = item.text[node.body.end - 1] === "}";
        const endLine = lineAt(Math.max(node.body.end - 1, node.body.start)) - (closed ? 1 : 0);
        if (endLine > startLine) folds.push({ startLine, endLine });
      }
      if (mayFold(node)) stack.push(...children(node));
    }
  }
  return [...folds, ...commentFolds(source)];
}

// ───────────────────────────── helpers ─────────────────────────────

function mayFold(node: SyntaxNode): boolean {
  return "members" in node || "fields" in node;
}

function commentFolds({ text }: SourceFile): FoldingRange[] {
  const folds: FoldingRange[] = [];
  let start: number | undefined;
  const lines = text.split(/\r\n|\n|\r/);
  for (const [line, content] of [...lines, ""].entries()) {
    const comment = /^\s*#/.test(content);
    if (comment) start ??= line;
    else if (start !== undefined) {
      if (line - 1 > start)
        folds.push({ startLine: start, endLine: line - 1, kind: FoldingRangeKind.Comment });
      start = undefined;
    }
  }
  const uses = lines.flatMap((content, line) => (/^use\b/.test(content) ? [line] : []));
  const [first] = uses;
  const last = uses.at(-1);
  if (first !== undefined && last !== undefined && last > first && last - first < uses.length * 2) {
    folds.push({ startLine: first, endLine: last, kind: FoldingRangeKind.Imports });
  }
  return folds;
}
