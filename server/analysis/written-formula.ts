/**
 * A formula as it is written, parted where the name of a figure stands, each with the figure it is.
 *
 *     backspace = width / 2 + offset   →   rear_wheel.backspace, " = ", rear_wheel.width, " / 2 + ", …
 *
 * Names are followed once more from the thing whose formula it is: nobody has to guess them back out
 * of the text. Must not know: values, how a formula is shown.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import { children, type SyntaxNode } from "../../grammar/walk";
import type { Binder } from "../model/binder";
import { type Origin, pathOf } from "../model/model";
import type { Thing } from "../model/thing";

/** Text as it is, or a name with the path of the figure it stands for. */
export type FormulaPiece = string | { readonly text: string; readonly path: string };

/** `thing`: whose formula it is; nothing for a relation at the top of a file. */
export function writtenFormula(
  origin: Origin,
  thing: Thing | undefined,
  binder: Binder,
): FormulaPiece[] {
  switch (origin.is) {
    case "relation": {
      const { node, anchor } = origin.relation;
      const uri = thing?.uri ?? anchor.uri;
      return cut(anchor, [node.left, node.right], thing, uri, binder);
    }
    case "wish":
    case "formula": {
      const { field, value, anchor } = origin.entry;
      const own = { text: field.text, path: `${thing?.path}.${field.text}` };
      return [own, " = ", ...cut(anchor, [value], thing, anchor.uri, binder)];
    }
    case "default": {
      const { name, anchor, default: node } = origin.field;
      const own = { text: name, path: `${thing?.path}.${name}` };
      if (node === undefined) return [own];
      return [own, " = ", ...cut(anchor, [node], thing, thing?.uri ?? anchor.uri, binder)];
    }
  }
}

/** The formula as one text. */
export function textOf(pieces: readonly FormulaPiece[]): string {
  return pieces.map((piece) => (typeof piece === "string" ? piece : piece.text)).join("");
}

// ───────────────────────────── helpers ─────────────────────────────

function cut(
  anchor: Anchor,
  sides: readonly syntax.Expression[],
  thing: Thing | undefined,
  uri: string,
  binder: Binder,
): FormulaPiece[] {
  const start = Math.min(...sides.map(({ span }) => span.start));
  const end = Math.max(...sides.map(({ span }) => span.end));
  const pieces: FormulaPiece[] = [];
  let at = start;
  const text = (from: number, to: number): string =>
    textAt({ ...anchor, span: { start: from, end: to } }).replaceAll(/\s+/g, " ");
  for (const path of namesIn(sides)) {
    const target = binder.resolve(thing, uri, path.names);
    if (target.is !== "field") continue;
    if (path.span.start > at) pieces.push(text(at, path.span.start));
    pieces.push({ text: text(path.span.start, path.span.end), path: pathOf(target) });
    at = path.span.end;
  }
  if (at < end) pieces.push(text(at, end));
  return pieces;
}

/** Names in the order they are written, those of functions, tables and whole kinds apart. */
function namesIn(nodes: readonly SyntaxNode[]): syntax.Path[] {
  const found: syntax.Path[] = [];
  const stack: SyntaxNode[] = [...nodes];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    if (!("type" in node)) stack.push(...children(node));
    else if (node.type === "path") found.push(node);
    else if (node.type === "call") {
      if (node.callee.names[0]?.text !== "each") stack.push(...node.arguments);
    } else stack.push(...children(node));
  }
  return found.sort((one, other) => one.span.start - other.span.start);
}
