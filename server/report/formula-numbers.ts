/**
 * A relation with the figures of one case put in for its names:
 *
 *     housing.face_to_face = left.half + right.half   →   54.679 in = 27.402 in + 27.277 in
 *
 * Must not know: how relations are solved, where the text is written to.
 */

import type * as syntax from "../../grammar/syntax";
import { children, type SyntaxNode } from "../../grammar/walk";
import type { Analysis, Reason, Value } from "../analysis/analysis";
import type { Thing } from "../model/thing";

/** `undefined` where a name cannot be told from another for sure. */
export function formulaWithNumbers(
  reason: Reason,
  value: Value,
  analysis: Analysis,
  write: (value: Value) => string,
): string | undefined {
  const written = formulaIn(reason);
  if (written === undefined) return undefined;
  const paths = pathsIn(written.nodes);
  const wanted = new Set([value.path, ...reason.inputs]);
  for (const thing of candidates(reason, value, analysis)) {
    const found = paths.map((path) => ({ path, value: reached(path, thing, analysis) }));
    const figures = new Set(
      found.flatMap((each) => (each.value?.measure === undefined ? [] : [each.value.path])),
    );
    // The right thing is the one whose names lead to just the figures of this relation.
    if ([...wanted].every((path) => figures.has(path)))
      return substituted(written, found, write, reason);
  }
  return undefined;
}

// ───────────────────────────── helpers ─────────────────────────────

interface WrittenFormula {
  readonly text: string;
  /** Where the text begins in its item. */
  readonly start: number;
  readonly nodes: readonly SyntaxNode[];
}

/** The formula's place in its item: both sides of a relation, the value of a field. */
function formulaIn({ anchor, kind }: Reason): WrittenFormula | undefined {
  const stack: SyntaxNode[] = [anchor.item.node];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    if (!("type" in node)) continue;
    if (
      node.type === "relation" &&
      holds(node, anchor.span) &&
      kind !== "formula" &&
      kind !== "default"
    ) {
      return cut(anchor.item.text, [node.left, node.right]);
    }
    if (
      kind === "formula" &&
      node.span.start === anchor.span.start &&
      node.span.end === anchor.span.end
    ) {
      return cut(anchor.item.text, [node]);
    }
    stack.push(...children(node));
  }
  return undefined;
}

function cut(text: string, nodes: readonly SyntaxNode[]): WrittenFormula {
  const start = Math.min(...nodes.map((node) => node.span.start));
  const end = Math.max(...nodes.map((node) => node.span.end));
  return { text: text.slice(start, end), start, nodes };
}

function holds(node: syntax.AnyNode, span: syntax.Span): boolean {
  return node.span.start <= span.start && span.end <= node.span.end;
}

/** Names in the formula, those of functions and tables apart. */
function pathsIn(nodes: readonly SyntaxNode[]): syntax.Path[] {
  const found: syntax.Path[] = [];
  const stack: SyntaxNode[] = [...nodes];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    if (!("type" in node)) stack.push(...children(node));
    else if (node.type === "path") found.push(node);
    else if (node.type === "call") stack.push(...node.arguments);
    else stack.push(...children(node));
  }
  return found.sort((one, other) => one.span.start - other.span.start);
}

/** Things the relation may be of: those near the quantities in it. */
function candidates(reason: Reason, value: Value, analysis: Analysis): Set<Thing | undefined> {
  const things = new Set<Thing | undefined>();
  const add = (from: Thing | undefined): void => {
    for (let thing = from; thing !== undefined; thing = thing.owner) things.add(thing);
  };
  add(value.thing);
  for (const input of reason.inputs) add(analysis.values.get(input)?.thing);
  // A relation may be of a thing none of whose own fields stand in it.
  const declares = (thing: Thing): boolean =>
    thing.kind.relations.some(
      ({ anchor }) =>
        anchor.item === reason.anchor.item && anchor.span.start === reason.anchor.span.start,
    );
  for (const thing of analysis.things) if (declares(thing)) things.add(thing);
  things.add(undefined);
  return things;
}

/** The value a name leads to from inside a thing, its owners or the file. */
function reached(
  path: syntax.Path,
  from: Thing | undefined,
  analysis: Analysis,
): Value | undefined {
  const name = path.names.map(({ text }) => text).join(".");
  for (let thing = from; thing !== undefined; thing = thing.owner) {
    const value = analysis.valueAt(`${thing.path}.${name}`);
    if (value !== undefined) return value;
  }
  return analysis.valueAt(name);
}

function substituted(
  { text, start }: WrittenFormula,
  found: readonly { readonly path: syntax.Path; readonly value: Value | undefined }[],
  write: (value: Value) => string,
  reason: Reason,
): string {
  let result = "";
  let at = 0;
  for (const { path, value } of found) {
    if (value === undefined) continue;
    const from = path.span.start - start;
    result +=
      text.slice(at, from) +
      bracketed(write(value), text.slice(0, from), text.slice(path.span.end - start));
    at = path.span.end - start;
  }
  result += text.slice(at);
  const name = reason.kind === "formula" ? `${reason.formula.split(" = ")[0]} = ` : "";
  return `${name}${result}`.replaceAll(/\s+/g, " ").trim();
}

/** A negative figure or one with a unit needs brackets where a sign or a power follows it. */
function bracketed(figure: string, before: string, after: string): string {
  const negative = figure.startsWith("-") && /[-+*/^]\s*$/.test(before);
  const powered = /^\s*\^/.test(after) && /[ -]/.test(figure);
  return negative || powered ? `(${figure})` : figure;
}
