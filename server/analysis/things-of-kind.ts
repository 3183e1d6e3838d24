/**
 * Things of a kind: within a thing at the top of a file, found once for each, and in a whole reading,
 * where an edit that has to do with none of them leaves the list as it is.
 *
 * Must not know: what a kind is about.
 */

import { everythingIn } from "../model/elaborate";
import type { Thing } from "../model/thing";
import type { ThingId } from "../names/ids";
import type { Placed } from "./taken-in";

const none: readonly Thing[] = [];
const kindLists = new WeakMap<Thing, Map<string, readonly Thing[]>>();

/** Owners before their parts. */
export function ofKind(top: Thing, kind: string): readonly Thing[] {
  // What is one thing is looked at more quickly than a list is found.
  const { parts, standIns, children, lists: within } = top;
  if (parts.size + standIns.size + children.size + within.size === 0)
    return top.is(kind) ? [top] : none;
  let lists = kindLists.get(top);
  if (lists === undefined) {
    lists = new Map();
    kindLists.set(top, lists);
  }
  let found = lists.get(kind);
  if (found === undefined) {
    found = everythingIn(top).filter((thing) => thing.is(kind));
    lists.set(kind, found);
  }
  return found;
}

/** The reading they are found in. */
interface World {
  readonly placed: readonly Placed[];
  treeOf(top: ThingId): Thing | undefined;
}

export class ThingsOfKind {
  private readonly lists = new Map<string, readonly Thing[]>();

  constructor(private readonly world: World) {}

  each(kind: string): readonly Thing[] {
    let found = this.lists.get(kind);
    if (found === undefined) {
      found = this.world.placed.flatMap(({ declaration }) => {
        const thing = declaration && this.world.treeOf(declaration.id);
        return thing === undefined ? [] : ofKind(thing, kind);
      });
      this.lists.set(kind, found);
    }
    return found;
  }

  /** `changed`: things at the top that are not what they were in the reading before. */
  takeOver(before: ThingsOfKind, changed: ReadonlySet<ThingId>): void {
    if (before.lists.size === 0 || !sameOrder(before.world.placed, this.world.placed)) return;
    const trees = [...changed].flatMap((top) =>
      [before.world, this.world].flatMap((world) => world.treeOf(top) ?? []),
    );
    for (const [kind, things] of before.lists)
      if (!this.lists.has(kind) && trees.every((tree) => ofKind(tree, kind).length === 0))
        this.lists.set(kind, things);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function sameOrder(one: readonly Placed[], other: readonly Placed[]): boolean {
  return (
    one === other ||
    (one.length === other.length &&
      one.every(({ declaration }, place) => declaration?.id === other[place]?.declaration?.id))
  );
}
