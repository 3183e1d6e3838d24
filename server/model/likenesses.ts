/**
 * Things `like` others: what is not written of one is as written of the other, its parts too.
 *
 *     wheel winter like rear_wheel { offset: 5 mm }   →   size, studs, … of rear_wheel
 *
 * What was recorded of the other was read off the other: it is not taken over. Must not know: how
 * lines are written into things, values.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import { SmallMap } from "../keep/small-map";
import type { ThingId } from "../names/ids";
import { Binder, type Things } from "./binder";
import { roomForPart } from "./budget";
import type { Vocabulary } from "./definition";
import { impliedThing } from "./implied";
import { type UnknownTarget, unknownName } from "./target";
import { Thing } from "./thing";

/** `like path`, behind the head of a thing or part. */
export interface Like {
  readonly thing: Thing;
  readonly path: syntax.Path;
  readonly item: Item;
  readonly uri: string;
}

/** Where the first names of a path lead in a file, to a thing at the top of one. */
export type OtherThing =
  | { readonly is: "thing"; readonly thing: Thing; readonly rest: readonly syntax.Name[] }
  /** It is, by way of those, like what asks. */
  | { readonly is: "circle"; readonly by: readonly string[] }
  /** It is like others in its turn, by way of more than are followed. */
  | { readonly is: "too far"; readonly most: number }
  | { readonly is: "unknown"; readonly known: readonly string[] };

export interface OtherThings {
  find(uri: string, names: readonly syntax.Name[], asking: ThingId): OtherThing;
}

export const noOthers: OtherThings = { find: () => ({ is: "unknown", known: [] }) };

/**
 * Takes over all likenesses of one tree. Gives the things at the top of files that were asked, and what
 * they were.
 */
export function takeLikenesses(
  likes: readonly Like[],
  vocabulary: Vocabulary,
  outside: OtherThings,
  report: (found: Found) => void,
): ReadonlyMap<ThingId, Thing | undefined> {
  // Most things are like no other.
  if (likes.length === 0) return nobody;
  const likenesses = new Likenesses(likes, vocabulary, outside, report);
  for (const like of likes) likenesses.take(like);
  return likenesses.others;
}

const nobody: ReadonlyMap<ThingId, Thing | undefined> = new Map();

class Likenesses {
  readonly others = new SmallMap<ThingId, Thing | undefined>();
  private readonly done = new Set<Like>();
  private readonly under = new Set<Like>();

  constructor(
    private readonly likes: readonly Like[],
    private readonly vocabulary: Vocabulary,
    private readonly outside: OtherThings,
    private readonly report: (found: Found) => void,
  ) {}

  take(like: Like): void {
    if (this.done.has(like)) return;
    const { thing, path } = like;
    const other = this.otherOf(like);
    if (other === undefined) {
      this.done.add(like);
      return;
    }
    if (this.under.has(like) || isWithin(thing, other) || isWithin(other, thing)) {
      this.itself(like, []);
      this.done.add(like);
      return;
    }
    this.under.add(like);
    for (const before of this.likes)
      if (isWithin(before.thing, other) || isWithin(other, before.thing)) this.take(before);
    this.under.delete(like);
    if (this.done.has(like)) return;
    this.done.add(like);
    if (!thing.is(other.kind.name)) {
      this.report({
        is: "like/other-kind",
        path: thing.path,
        kind: thing.kind.name,
        other: other.path,
        otherKind: other.kind.name,
        anchor: { ...like, span: path.span },
      });
      return;
    }
    takeAfter(thing, other, this.vocabulary);
  }

  private otherOf(like: Like): Thing | undefined {
    const { thing, path, uri } = like;
    const [first, ...rest] = path.names;
    if (first.text === "") return undefined;
    for (let { owner } = thing; owner !== undefined; owner = owner.owner) {
      const inside = within(owner, first.text);
      if (inside !== undefined) return this.onward(like, inside, rest);
    }
    const found = this.outside.find(uri, path.names, thing.top.id);
    switch (found.is) {
      case "circle":
        this.itself(like, found.by);
        return undefined;
      case "too far":
        this.report({
          is: "build/too-much likes",
          path: thing.path,
          most: found.most,
          anchor: { ...like, span: path.span },
        });
        return undefined;
      case "unknown":
        this.unknown(like, unknownName(first, found.known));
        return undefined;
      case "thing":
        this.others.set(found.thing.id, found.thing);
        return this.onward(like, found.thing, found.rest);
    }
  }

  private onward(like: Like, from: Thing, names: readonly syntax.Name[]): Thing | undefined {
    let at = from;
    for (const name of names) {
      const next = within(at, name.text);
      if (next === undefined) {
        const known = [...at.parts.keys(), ...at.children.keys()];
        const told = { name: name.text, path: at.path };
        this.unknown(like, unknownName(name, known, { is: "name/unknown part", ...told }));
        return undefined;
      }
      at = next;
    }
    return at;
  }

  private unknown({ uri, item }: Like, target: UnknownTarget): void {
    const names = { vocabulary: this.vocabulary } as Things;
    const telling = new Binder(names, undefined, this.report);
    telling.unknownTarget(target, (span): Anchor => ({ uri, item, span }));
  }

  private itself({ thing, path, item, uri }: Like, by: readonly string[]): void {
    const anchor = { uri, item, span: path.span };
    this.report({ is: "like/itself", path: thing.path, by, anchor });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function within(owner: Thing, name: string): Thing | undefined {
  return owner.children.get(name) ?? owner.parts.get(name) ?? owner.standIns.get(name);
}

function isWithin(inner: Thing, outer: Thing): boolean {
  for (let at: Thing | undefined = inner; at !== undefined; at = at.owner)
    if (at === outer) return true;
  return false;
}

/** Takes over into `thing` what is said of `other` and not of it. */
function takeAfter(thing: Thing, other: Thing, vocabulary: Vocabulary): void {
  // What is said is found out before anything is taken over.
  const entries = [...other.entries].filter(
    ([key, { layer }]) => layer !== "record" && !isSaid(thing, key),
  );
  const asked = [...other.asked].filter(([key]) => !isSaid(thing, key));
  for (const [key, entry] of entries) {
    thing.entries.set(key, { ...entry, inherited: true });
    if (thing.parts.get(key)?.spoken === false) thing.parts.delete(key);
  }
  for (const [key, entry] of asked) thing.asked.set(key, { ...entry, inherited: true });
  takeParts(thing, other, "parts", vocabulary);
  takeParts(thing, other, "standIns", vocabulary);
  for (const [name, items] of other.lists) {
    if (thing.lists.has(name) || thing.entries.has(name)) continue;
    const copies = items.flatMap((item, index) =>
      copyOf(thing, `${name}.${index + 1}`, item, vocabulary),
    );
    thing.lists.set(name, copies);
  }
  for (const [name, child] of other.children) {
    const own = thing.children.get(name);
    if (own?.kind === child.kind) takeAfter(own, child, vocabulary);
    if (own !== undefined) continue;
    const [copy] = copyOf(thing, name, child, vocabulary);
    if (copy !== undefined) thing.children.set(name, copy);
  }
  takeStatements(thing.relations, other.relations);
  takeStatements(thing.checks, other.checks);
  takeStatements(thing.curves, other.curves);
}

function isSaid(thing: Thing, key: string): boolean {
  if (thing.entries.has(key) || thing.asked.has(key) || thing.lists.has(key)) return true;
  const [field = key] = key.split(".");
  // Parts of a designation go with the designation.
  if (field !== key && thing.entries.has(field)) return true;
  return (thing.parts.get(key) ?? thing.standIns.get(key))?.spoken === true;
}

function takeParts(
  thing: Thing,
  other: Thing,
  where: "parts" | "standIns",
  vocabulary: Vocabulary,
): void {
  for (const [name, part] of other[where]) {
    if (!part.spoken || thing.entries.has(name)) continue;
    let own = thing.parts.get(name) ?? thing.standIns.get(name);
    if (own === undefined) {
      if (!roomForPart(thing)) return;
      own = impliedThing(thing, name, part.kind, part.implied, vocabulary);
      thing[where].set(name, own);
    }
    if (own.kind === part.kind) takeAfter(own, part, vocabulary);
  }
}

/** None where there is no room for it. */
function copyOf(owner: Thing, step: string, other: Thing, vocabulary: Vocabulary): [] | [Thing] {
  if (!roomForPart(owner)) return [];
  const { name, kind, library, title } = other;
  const copy = new Thing({
    id: owner.id.inside(step),
    path: `${owner.path}.${step}`,
    name,
    kind,
    library,
    owner,
    anchor: undefined,
    implied: false,
    title,
  });
  takeAfter(copy, other, vocabulary);
  return [copy];
}

/** Those with a title give way to one's own of that title. */
function takeStatements<
  Statement extends { readonly node: { readonly title?: { readonly value: string } } },
>(own: Statement[], others: readonly Statement[]): void {
  const titles = new Set(own.map(({ node }) => node.title?.value));
  for (const other of others) {
    const { title } = other.node;
    if (title === undefined || !titles.has(title.value)) own.push(other);
  }
}
