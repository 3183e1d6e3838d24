/**
 * What was left out of a reading since the time for it was used up, told where it began.
 *
 *     leftOut.note("options", uri, item); leftOut.finding(60)
 *
 * Must not know: what is read, how it is told.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Item } from "../../grammar/syntax";
import type { LeftOutPart } from "../findings/limits";
import type { Found } from "../findings/worded";
import { madeOnce } from "../keep/once";

export class LeftOutWork {
  private readonly items = new Map<LeftOutPart, Map<Item, string>>();

  note(part: LeftOutPart, uri: string, item: Item): void {
    madeOnce(this.items, part, () => new Map<Item, string>()).set(item, uri);
  }

  get isEmpty(): boolean {
    return this.items.size === 0;
  }

  /** One for all of it, where it began. */
  finding(seconds: number): Found | undefined {
    const left = inOrder.flatMap((part) => {
      const items = this.items.get(part) ?? new Map<Item, string>();
      const [first] = items;
      if (first === undefined) return [];
      const [item, uri] = first;
      return [{ part, count: items.size, ...placeOf(uri, item) }];
    });
    const [first] = left;
    if (first === undefined) return undefined;
    return { is: "build/too-much time", left, seconds, anchor: first.anchor };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** What was left out first, and what hangs on it after that. */
const inOrder: readonly LeftOutPart[] = [
  "things",
  "figures",
  "objections",
  "options",
  "fits",
  "advice",
  "order of work",
  "answers",
];

/** What the line that begins an item calls it. */
function placeOf(uri: string, item: Item): { readonly name: string; readonly anchor: Anchor } {
  const { node } = item;
  const name = "name" in node ? node.name : undefined;
  const title = "title" in node ? node.title?.value : undefined;
  const { start } = node.span;
  const span = name?.span ?? { start, end: Math.min(node.span.end, start + node.type.length) };
  return { name: name?.text ?? title ?? node.type, anchor: { uri, item, span } };
}
