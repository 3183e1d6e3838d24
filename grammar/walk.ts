/**
 * Walking the syntax tree without knowing each node's shape.
 *
 *     nodeAt(item, offset).at(-1)        // the innermost node that holds the offset
 *     textOf(item, node.span)            // what was typed there
 *
 * Must not know: what any node means.
 */
import type {
  Clause,
  Designation,
  DisplayEntry,
  Expression,
  Field,
  Item,
  ItemNode,
  Kind,
  Member,
  Name,
  Path,
  Span,
  Table,
  TableColumn,
  Text,
  TypeReference,
  UnitReference,
} from "./syntax";

/** Anything in a tree that has a place of its own. Rows, columns and the like have no `type`. */
export type SyntaxNode =
  | ItemNode
  | Member
  | Expression
  | Clause
  | Name
  | Path
  | Text
  | UnitReference
  | TypeReference
  | Field
  | Kind["members"][number]
  | TableColumn
  | Table["rows"][number]
  | DisplayEntry;

/** The parts of a node that are written in it, in their order. */
export function children(node: SyntaxNode): SyntaxNode[] {
  const parts: SyntaxNode[] = [];
  for (const value of Object.values(node)) collect(value, parts);
  // Parts are stored by meaning; a title may be stored before the name it follows.
  return parts.sort(inOrder);
}

/**
 * The nodes that hold an offset, from the item's node to the innermost; a node also holds the place
 * right behind it, since that is where a cursor stands after typing. Empty outside the node.
 */
export function nodeAt(item: Item, offset: number): SyntaxNode[] {
  const path: SyntaxNode[] = [];
  let node: SyntaxNode | undefined = holds(item.node.span, offset) ? item.node : undefined;
  while (node !== undefined) {
    path.push(node);
    // Where one part ends and the next begins, the one that begins there is meant.
    node = children(node).findLast((part) => holds(part.span, offset));
  }
  return path;
}

/** What was typed at a place in an item. */
export function textOf(item: Item, span: Span): string {
  return item.text.slice(span.start, span.end);
}

/** Calls `visit` for the node and everything in it, parents first. */
export function walk(node: SyntaxNode, visit: (node: SyntaxNode) => void): void {
  visit(node);
  for (const part of children(node)) walk(part, visit);
}

/**
 * The same for those who do not mind the order of what stands in one node: no lists are made. Where
 * `visit` has seen enough of a node, what is in it is passed over.
 */
export function walkInAnyOrder(node: SyntaxNode, visit: Visit): void {
  if (visit(node) === "enough" || ("type" in node && leaves.has(node.type))) return;
  for (const key in node) {
    if (key === "span" || key === "body") continue;
    const value: unknown = node[key as keyof SyntaxNode];
    if (typeof value === "object") into(value, visit);
  }
}

type Visit = (node: SyntaxNode) => "enough" | undefined;

// ───────────────────────────── helpers ─────────────────────────────

/** Nodes that hold no others: most of a tree. */
const leaves: ReadonlySet<string> = new Set([
  "name",
  "number",
  "unit",
  "yes_no",
  "date",
  "text",
  "ask",
]);

function collect(value: unknown, into: SyntaxNode[]): void {
  if (Array.isArray(value)) {
    for (const each of value) collect(each, into);
  } else if (isNode(value)) {
    if (!isTakenOver(value)) into.push(value);
  } else if (isGroup(value)) {
    // A form with its clauses, a number with its unit: no place of their own.
    for (const each of Object.values(value)) collect(each, into);
  }
}

function into(value: unknown, visit: Visit): void {
  if (Array.isArray(value)) {
    for (const each of value) into(each, visit);
  } else if (isNode(value)) {
    if (!isTakenOver(value)) walkInAnyOrder(value, visit);
  } else if (isGroup(value)) {
    for (const key in value) into(value[key as keyof typeof value], visit);
  }
}

function isNode(value: unknown): value is SyntaxNode {
  return typeof value === "object" && value !== null && "span" in value;
}

/** The unit a bare lower limit takes over from the upper one is not written where it stands. */
function isTakenOver(node: SyntaxNode): boolean {
  return (
    "type" in node && node.type === "unit" && node.text !== "" && node.span.start === node.span.end
  );
}

/** Spans are objects too, but hold nothing. */
function isGroup(value: unknown): value is Designation["forms"][number] | object {
  return typeof value === "object" && value !== null && !("start" in value && "end" in value);
}

function inOrder(one: SyntaxNode, other: SyntaxNode): number {
  return one.span.start - other.span.start || one.span.end - other.span.end;
}

function holds(span: Span, offset: number): boolean {
  return span.start <= offset && offset <= span.end;
}
