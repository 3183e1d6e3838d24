/**
 * What the syntax tree holds at a place of a file.
 *
 *     spotAt(source, offset)?.nodes   →   [thing, given, path, name]
 *
 * Must not know: what names mean.
 */
import type * as syntax from "../../grammar/syntax";
import type { Item, SourceFile } from "../../grammar/syntax";
import { children, nodeAt, type SyntaxNode } from "../../grammar/walk";

export interface Spot {
  readonly source: SourceFile;
  readonly item: Item;
  /** Counted as spans of the item's nodes are. */
  readonly offset: number;
  readonly inComment: boolean;
  /** From the item's node to the innermost one around the offset. */
  readonly nodes: readonly syntax.AnyNode[];
}

/** The nodes around an offset of the file; a node that ends there counts as around it. */
export function spotAt(source: SourceFile, offset: number): Spot | undefined {
  const item = source.itemAt(offset);
  if (item === undefined) return undefined;
  const inside = source.insideOf(item, offset);
  // In a remark or an empty line: what ends before it is not around it.
  const stands = source.offsetOf(item, inside);
  if (stands > offset) return undefined;
  const behind = stands < offset ? inside : -1;
  // Rows and columns have no name of their own: what is in them counts as in what holds them.
  const nodes = nodeAt(item, inside).filter(
    (node) => isTyped(node) && node.span.end !== behind,
  ) as syntax.AnyNode[];
  const at = offset - source.offsetOf(item);
  const inComment = source.standing(item).comments.some(({ start, end }) => start < at && at < end);
  return nodes.length === 0 ? undefined : { source, item, offset: inside, inComment, nodes };
}

/** Every name of a tree with the nodes it stands in, innermost last. */
export function* namesOf(
  node: syntax.AnyNode,
): Generator<{ readonly name: syntax.Name; readonly nodes: readonly syntax.AnyNode[] }> {
  const stack: { node: SyntaxNode; above: readonly syntax.AnyNode[] }[] = [{ node, above: [] }];
  for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
    const nodes = isTyped(at.node) ? [...at.above, at.node] : at.above;
    if (isTyped(at.node) && at.node.type === "name") {
      if (at.node.text !== "") yield { name: at.node, nodes };
      continue;
    }
    for (const child of children(at.node).reverse()) stack.push({ node: child, above: nodes });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function isTyped(node: SyntaxNode): node is syntax.AnyNode & SyntaxNode {
  return "type" in node;
}
