/**
 * Where something is told to be wrong: what is open because of that is not told besides.
 *
 *     told.covers(asked.anchor.item)   told.isBehind("rear.wheel.offset")
 *
 * Must not know: what is wrong there, how it is told.
 */
import type { Anchor } from "../../grammar/anchor";
import type { Item, Span } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import { Lists } from "../keep/lists";
import { anchorOfThing } from "../model/thing";
import type { Value } from "./analysis";

export class ToldPlaces {
  private readonly spans = new Lists<Item, Span>();

  constructor(
    found: Iterable<Found>,
    private readonly valueAt: (path: string) => Value | undefined,
  ) {
    for (const { is, anchor } of found)
      if (/^(?:name|unit|value)\//.test(is)) this.spans.add(anchor.item, anchor.span);
  }

  /** What is wrong with a thing's words is behind its gaps. */
  covers(item: Item): boolean {
    return item.problems.length > 0 || this.spans.has(item);
  }

  /** Whether what is written for a figure cannot be read, or its thing is half-typed. */
  isBehind(path: string): boolean {
    const value = this.valueAt(path);
    if (value === undefined) return false;
    const written = value.thing.entries.get(value.field.name)?.anchor;
    const anchor = written ?? anchorOfThing(value.thing);
    if (anchor === undefined) return false;
    return anchor.item.problems.length > 0 || (written !== undefined && this.touches(written));
  }

  private touches({ item, span }: Anchor): boolean {
    return this.spans.of(item).some(({ start, end }) => start <= span.end && span.start <= end);
  }
}
