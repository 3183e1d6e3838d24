/**
 * Things of a kind within a thing at the top of a file, found once for each.
 *
 * Must not know: what a kind is about.
 */

import { everythingIn } from "../model/elaborate";
import type { Thing } from "../model/thing";

const kindLists = new WeakMap<Thing, Map<string, readonly Thing[]>>();

/** Owners before their parts. */
export function ofKind(top: Thing, kind: string): readonly Thing[] {
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
