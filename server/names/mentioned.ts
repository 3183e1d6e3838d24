/**
 * Which names an item mentions, and which declarations they lead to as far as files alone tell: enough
 * to know what an item has to do with, before anything is made.
 *
 *     leadsTo(scope, namesIn(item).paths[0])   →   the declaration of `rear`
 *
 * Must not know: what things hold.
 */
import type { Item } from "../../grammar/syntax";
import { walkInAnyOrder } from "../../grammar/walk";
import { compact } from "../keep/compact";
import type { Declaration, FileScope } from "./scope";

export interface NamesInItem {
  /** Every path in it. */
  readonly paths: readonly (readonly Called[])[];
  /** It speaks of each thing of a kind itself. */
  readonly each: boolean;
  /** Kinds of the things in it. */
  readonly kinds: readonly string[];
  /** What things and parts in it are like. */
  readonly likes: readonly (readonly Called[])[];
}

/** A name of a path, with or without its place. */
interface Called {
  readonly text: string;
}

const known = new WeakMap<Item, NamesInItem>();

export function namesIn(item: Item): NamesInItem {
  const before = known.get(item);
  if (before !== undefined) return before;
  const paths: (readonly Called[])[] = [];
  const kinds: string[] = [];
  const likes: (readonly Called[])[] = [];
  let each = false;
  walkInAnyOrder(item.node, (node) => {
    if (!("type" in node)) return undefined;
    if ((node.type === "thing" || node.type === "part") && node.like !== undefined)
      likes.push(node.like.names);
    if (node.type === "path") {
      paths.push(node.names);
    } else if (node.type === "text" && /^[A-Za-z_][\w.]{0,60}$/.test(node.value)) {
      // A record names an instrument or a person in quotes.
      paths.push(node.value.split(".").map((text) => ({ text })));
    } else if (node.type === "thing") {
      kinds.push(node.kind.text);
    } else if (node.type === "call" && node.callee.names[0]?.text === "each") {
      each = true;
    }
    return node.type === "path" || node.type === "quantity" ? "enough" : undefined;
  });
  const names = { paths: compact(paths), each, kinds: compact(kinds), likes: compact(likes) };
  known.set(item, names);
  return names;
}

export function leadsTo(scope: FileScope, names: readonly Called[]): Declaration | undefined {
  let at: FileScope | undefined = scope;
  for (const { text: name } of names) {
    const declaration: Declaration | undefined = at?.declarations.get(name);
    if (declaration !== undefined) return declaration;
    at = at?.namespaces.get(name);
    if (at === undefined) return undefined;
  }
  return undefined;
}
