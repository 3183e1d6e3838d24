/**
 * Splits a build into groups of items that have to do with each other, so that an edit only
 * costs its own group: items are joined where one names what another declares.
 *
 * Must not know: what items mean beyond the names in them.
 */

import type { Item } from "../../grammar/syntax";
import { walkInAnyOrder } from "../../grammar/walk";
import type { Vocabulary } from "../model/definition";
import type { Declaration, FileScope } from "../model/scope";
import type { BuildFiles } from "./files";

/** One item in the file it stands in. */
export interface Placed {
  readonly item: Item;
  readonly scope: FileScope;
  readonly declaration?: Declaration;
}

export interface Group {
  /** In file order, root file first; the same items give the same group. */
  readonly members: readonly Placed[];
  /** Names that lead nowhere: a new declaration may answer them. */
  readonly hasUnknownNames: boolean;
}

/**
 * Groups that hold at least one item of the root file or of a library file it takes in, in file
 * order. A shop's list of parts is only taken in as far as the build names them. `further` items
 * are tried out with the build without standing in a file.
 */
export function groupsOf(build: BuildFiles, further: readonly Placed[] = []): Group[] {
  const placed = [...placedItems(build), ...further];
  const sets = new DisjointSets(placed.length);
  const indexOf = new Map<Item, number>(placed.map((each, index) => [each.item, index]));
  const unknown = new Set<number>();
  const overall = kindsUsingEach(build.vocabulary);
  let firstOverall: number | undefined;
  for (const [index, { item, scope }] of placed.entries()) {
    const names = namesIn(item);
    for (const name of names.paths) {
      const target = leadsTo(scope, name);
      const other = target === undefined ? undefined : indexOf.get(target.item);
      if (other !== undefined) sets.join(index, other);
      else if (!names.inside.has(name[0] ?? "")) unknown.add(index);
    }
    if (names.each || names.kinds.some((kind) => overall.has(kind))) {
      if (firstOverall === undefined) firstOverall = index;
      else sets.join(index, firstOverall);
    }
  }
  if (firstOverall !== undefined) {
    for (const [index, { item }] of placed.entries())
      if (item.node.type === "thing") sets.join(index, firstOverall);
  }
  const rootUri = build.root.uri;
  const byRoot = new Map<number, { members: Placed[]; inRoot: boolean; unknown: boolean }>();
  for (const [index, each] of placed.entries()) {
    const key = sets.find(index);
    const group = byRoot.get(key) ?? { members: [], inRoot: false, unknown: false };
    byRoot.set(key, group);
    group.members.push(each);
    group.inRoot ||= each.scope.file.uri === rootUri || each.scope.file.library;
    group.unknown ||= unknown.has(index);
  }
  return [...byRoot.values()]
    .filter((group) => group.inRoot)
    .map((group) => ({ members: group.members, hasUnknownNames: group.unknown }));
}

/** Whether two groups hold the same items under the same names: then what was solved still holds. */
export function sameMembers(one: Group, other: Group): boolean {
  return (
    one.members.length === other.members.length &&
    one.members.every((member, index) => {
      const match = other.members[index];
      return (
        member.item === match?.item &&
        member.scope.prefix === match.scope.prefix &&
        (member.declaration === undefined) === (match.declaration === undefined)
      );
    })
  );
}

// ───────────────────────────── helpers ─────────────────────────────

function placedItems(build: BuildFiles): Placed[] {
  const placed: Placed[] = [];
  for (const file of build.files) {
    for (const item of file.source.items) {
      const { node } = item;
      switch (node.type) {
        case "thing": {
          const declaration = file.scope.declarations.get(node.name.text);
          placed.push({
            item,
            scope: file.scope,
            declaration: declaration?.item === item ? declaration : undefined,
          });
          break;
        }
        case "check":
        case "relation":
        case "curve":
        case "given":
        case "option":
        case "record":
          placed.push({ item, scope: file.scope });
          break;
        default:
          break;
      }
    }
  }
  return placed;
}

interface Names {
  /** The first two names of every path, enough to find what a prefixed name declares. */
  readonly paths: readonly (readonly string[])[];
  /** Names that fields inside the item itself answer to. */
  readonly inside: ReadonlySet<string>;
  /** It speaks of each thing of a kind itself. */
  readonly each: boolean;
  /** Kinds of the things in it. */
  readonly kinds: readonly string[];
}

const known = new WeakMap<Item, Names>();

function namesIn(item: Item): Names {
  const before = known.get(item);
  if (before !== undefined) return before;
  const paths = new Map<string, readonly string[]>();
  const inside = new Set<string>();
  const kinds: string[] = [];
  let each = false;
  walkInAnyOrder(item.node, (node) => {
    if (!("type" in node)) return;
    if (node.type === "path") {
      const names = node.names.map((name) => name.text).slice(0, 4);
      paths.set(names.join("."), names);
    } else if (node.type === "given" || node.type === "part") {
      const [first] = node.path.names;
      // A given at the top stands in no thing whose field could answer to its name.
      if (first !== undefined && node.path.names.length === 1 && node !== item.node)
        inside.add(first.text);
    } else if (node.type === "text" && /^[A-Za-z_][\w.]{0,60}$/.test(node.value)) {
      // A record names an instrument or a person in quotes.
      paths.set(node.value, node.value.split(".").slice(0, 4));
    } else if (node.type === "thing") {
      kinds.push(node.kind.text);
    } else if (node.type === "call" && node.callee.names[0]?.text === "each") {
      each = true;
    }
  });
  const names: Names = { paths: [...paths.values()], inside, each, kinds };
  known.set(item, names);
  return names;
}

function leadsTo(scope: FileScope, names: readonly string[]): Declaration | undefined {
  const [first = "", ...rest] = names;
  const declaration = scope.declarations.get(first);
  if (declaration !== undefined) return declaration;
  const namespace = scope.namespaces.get(first);
  return namespace === undefined || rest.length === 0 ? undefined : leadsTo(namespace, rest);
}

const eachKnown = new WeakMap<Vocabulary, ReadonlySet<string>>();

/** Kinds whose own formulas speak of each thing of a kind: where one is, all things belong together. */
function kindsUsingEach(vocabulary: Vocabulary): ReadonlySet<string> {
  const before = eachKnown.get(vocabulary);
  if (before !== undefined) return before;
  const found = new Set<string>();
  for (const kind of vocabulary.kinds.values()) {
    for (const { anchor } of [...kind.relations, ...kind.checks]) {
      const text = anchor.item.text.slice(anchor.span.start, anchor.span.end);
      if (/\beach\s*\(/.test(text)) found.add(kind.name);
    }
  }
  eachKnown.set(vocabulary, found);
  return found;
}

class DisjointSets {
  private readonly parents: Int32Array;

  constructor(size: number) {
    this.parents = Int32Array.from({ length: size }, (_, index) => index);
  }

  find(index: number): number {
    let root = index;
    while (this.parents[root] !== root) root = this.parents[root] ?? root;
    for (let at = index; at !== root; ) {
      const next = this.parents[at] ?? root;
      this.parents[at] = root;
      at = next;
    }
    return root;
  }

  join(one: number, other: number): void {
    const left = this.find(one);
    const right = this.find(other);
    // The earlier item leads, so that groups come out in file order.
    if (left < right) this.parents[right] = left;
    else if (right < left) this.parents[left] = right;
  }
}
