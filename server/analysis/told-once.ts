/**
 * Findings in words: the same words at the same place are told once.
 *
 *     toldOnce(found, writer)
 *
 * Must not know: what is found, how words are chosen.
 */
import type { Item } from "../../grammar/syntax";
import type { Finding } from "../findings/finding";
import { type Found, worded } from "../findings/worded";
import type { Writer } from "../findings/writer";
import { madeOnce } from "../keep/once";

export function toldOnce(found: readonly Found[], writer: Writer): Finding[] {
  const told: Finding[] = [];
  const places = new Map<Item, Set<string>>();
  for (const each of found) {
    const finding = worded(each, writer);
    if (finding === undefined) continue;
    const there = madeOnce(places, finding.anchor.item, () => new Set<string>());
    const key = placeAndWords(finding);
    if (!there.has(key)) told.push(finding);
    there.add(key);
  }
  return told;
}

// ───────────────────────────── helpers ─────────────────────────────

const keys = new WeakMap<Finding, string>();

/** Within an item; long texts are put together and hashed once. */
function placeAndWords(finding: Finding): string {
  let key = keys.get(finding);
  if (key === undefined) {
    const { code, message, anchor } = finding;
    key = `${code} ${anchor.uri} ${anchor.span.start} ${message}`;
    keys.set(finding, key);
  }
  return key;
}
