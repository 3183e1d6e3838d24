/**
 * What the formatter has to know about an item beyond its tokens: where members begin, which
 * parentheses call, which minus is a sign, what must stay as typed.
 *
 *     itemMarks(item).members.has(offset)  // a member begins there
 *
 * Must not know: how any of it is laid out.
 */
import type { Expression, Item, Path, Span } from "./syntax";
import { type SyntaxNode, walk } from "./walk";

export interface LayoutMarks {
  /** Where the members of blocks begin, and the item's own declaration. */
  readonly members: ReadonlySet<number>;
  /** Those of them that are rows of a table. */
  readonly rows: ReadonlySet<number>;
  /** Opening parentheses that follow a name without a blank. */
  readonly calls: ReadonlySet<number>;
  /** Minus signs that stand before a value. */
  readonly signs: ReadonlySet<number>;
  /** From each opening brace to behind its closing one. */
  readonly blocks: ReadonlyMap<number, number>;
  /** Places where blanks stay as typed, in their order. */
  readonly verbatim: readonly Span[];
}

export function itemMarks(item: Item): LayoutMarks {
  const marks = {
    members: new Set<number>([item.node.span.start]),
    rows: new Set<number>(),
    calls: new Set<number>(),
    signs: new Set<number>(),
    blocks: new Map<number, number>(),
    verbatim: [] as Span[],
  };
  const nextParenthesis = (from: number): void => {
    const at = item.text.indexOf("(", from);
    if (at >= 0) marks.calls.add(at);
  };
  const visit = (node: SyntaxNode): void => {
    for (const member of membersOf(node, item.text)) marks.members.add(member);
    if ("body" in node) marks.blocks.set(node.body.start, node.body.end);
    if (!("type" in node)) {
      if ("cells" in node) marks.rows.add(node.span.start);
      else if (node.unit !== undefined) marks.verbatim.push(node.unit.span);
      return;
    }
    switch (node.type) {
      case "display":
        marks.blocks.set(item.text.indexOf("{", node.span.start), node.span.end);
        break;
      case "given":
        if (isTight(node.value, item.text)) marks.verbatim.push(node.value.span);
        break;
      case "call":
        nextParenthesis(node.callee.span.end);
        break;
      case "type":
        if (node.form === "choice") nextParenthesis(node.span.start);
        break;
      case "unary":
        if (node.operator === "-") marks.signs.add(node.span.start);
        break;
    }
  };
  walk(item.node, visit);
  marks.verbatim.sort((one, other) => one.start - other.start);
  return marks;
}

function membersOf(node: SyntaxNode, text: string): number[] {
  if (!("type" in node)) return [];
  switch (node.type) {
    case "thing":
    case "part":
    case "option":
    case "record":
    case "kind":
      return node.members.map(startOf);
    case "display":
      return node.entries.map(startOf);
    case "table":
      return [...node.columns, ...node.rows, ...node.clauses].map(startOf);
    case "designation_declaration": {
      // A form has no place of its own: it begins at the word before its pattern.
      const forms = node.forms.map(({ pattern }) => text.lastIndexOf("form", pattern.span.start));
      return [...[...node.fields, ...node.clauses].map(startOf), ...forms];
    }
    default:
      return [];
  }
}

function startOf(node: { readonly span: Span }): number {
  return node.span.start;
}

/**
 * A value typed without a blank may be a name of the trade that reads like arithmetic (`G1/2`,
 * `8-18`): its figures stay together.
 */
function isTight(value: Expression | Path, text: string): boolean {
  const typed = text.slice(value.span.start, value.span.end);
  return /^[\w.]*\d[\w./-]*$|^[\w./-]*\d$/.test(typed) && /[-/]/.test(typed.slice(1));
}
