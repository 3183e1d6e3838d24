/**
 * Collects what is found; the same facts at the same place are kept once.
 *
 * Must not know: how anything is worded.
 */
import type { Anchor } from "../../grammar/anchor";
import type { Item } from "../../grammar/syntax";
import type { Found, Problem } from "./worded";

export class Findings {
  readonly list: Found[] = [];
  private seen: Set<string> | undefined;

  add(found: Found): void {
    const { uri, item, span } = found.anchor;
    const key = `${this.keyOfItem(item)} ${uri} ${span.start} ${factsOf(found)}`;
    this.seen ??= new Set();
    if (this.seen.has(key)) return;
    this.seen.add(key);
    this.list.push(found);
  }

  /** Adds what is wrong in a formula or value that stands at `anchor`. */
  raise(problems: readonly Problem[], anchor: Anchor): void {
    for (const problem of problems) this.add(at(problem, anchor));
  }

  /** All but those that stand in some items. */
  without(items: ReadonlySet<Item> | undefined): readonly Found[] {
    if (this.list.length === 0) return nothing;
    return this.list.filter(({ anchor }) => items?.has(anchor.item) !== true);
  }

  private itemKeys: Map<object, number> | undefined;

  private keyOfItem(item: object): number {
    this.itemKeys ??= new Map();
    const key = this.itemKeys.get(item) ?? this.itemKeys.size;
    this.itemKeys.set(item, key);
    return key;
  }
}

/** Most rows have nothing wrong, and are kept by the thousand. */
const nothing: readonly Found[] = [];

/** A problem of something that stands at `anchor`. */
export function at(problem: Problem, anchor: Anchor): Found {
  return { ...problem, anchor: { ...anchor, span: problem.span } };
}

/** Whether two say the same, wherever they stand. */
export function sameFacts(one: Found, other: Found): boolean {
  return one === other || factsOf(one) === factsOf(other);
}

// ───────────────────────────── helpers ─────────────────────────────

const known = new WeakMap<Found, string>();

/** Worked out once: what is found in a row stays the same object from edit to edit. */
function factsOf(found: Found): string {
  let facts = known.get(found);
  if (facts === undefined) {
    facts = inOneLine(found);
    known.set(found, facts);
  }
  return facts;
}

/** Measures and dimensions by their names; places beside the finding's own do not tell two apart. */
function inOneLine(found: Found): string {
  return JSON.stringify(found, (_, value: unknown) => {
    if (typeof value !== "object" || value === null) return value;
    if ("item" in value) return undefined;
    if ("units" in value && "name" in value) return value.name;
    return "key" in value ? value.key : value;
  });
}
