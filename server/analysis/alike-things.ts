/**
 * Which things at the top of files are like which others: what `like` leads to, and what has to be
 * made again when one of them is.
 *
 * Must not know: how a thing takes after another.
 */
import type * as syntax from "../../grammar/syntax";
import type { OtherThing, OtherThings } from "../model/likenesses";
import type { Thing } from "../model/thing";
import type { ThingId } from "../names/ids";
import { leadsTo, namesIn } from "../names/mentioned";
import type { Declaration, FileScope } from "../names/scope";

/** So many things one may be like by way of others. */
const mostLikes = 40;

export class AlikeThings implements OtherThings {
  private readonly tooFar: Set<ThingId> = new Set();
  private readonly likeThis: Map<ThingId, ThingId[]> = new Map();
  private readonly likes: Map<ThingId, readonly Declaration[]> = new Map();

  constructor(
    declarations: Iterable<Declaration>,
    private readonly scopeOf: (uri: string) => FileScope | undefined,
    /** Without what was recorded of it. */
    private readonly specOf: (id: ThingId) => Thing | undefined,
    /** Those of another reading of the same declarations. */
    same?: AlikeThings,
  ) {
    if (same !== undefined) {
      ({ tooFar: this.tooFar, likeThis: this.likeThis, likes: this.likes } = same);
      return;
    }
    for (const { id, item, uri } of declarations) {
      const { likes } = namesIn(item);
      if (likes.length === 0) continue;
      const scope = scopeOf(uri);
      this.likes.set(
        id,
        likes.flatMap((names) => (scope && leadsTo(scope, names)) ?? []),
      );
    }
    this.cutOff();
    for (const [id, others] of this.likes)
      for (const other of others)
        this.likeThis.set(other.id, [...(this.likeThis.get(other.id) ?? []), id]);
  }

  /**
   * Lets go of what leads further than is followed, so that no row of things, however long, goes
   * deeper; each begins anew behind it.
   */
  private cutOff(): void {
    const far = new Map<ThingId, number>();
    for (const start of this.likes.keys()) {
      if (far.has(start)) continue;
      const way = new Set([start]);
      const stack = [start];
      for (let id = stack.at(-1); id !== undefined; id = stack.at(-1)) {
        const others = this.likes.get(id) ?? [];
        const next = others.find((other) => !far.has(other.id) && !way.has(other.id));
        if (next !== undefined) {
          way.add(next.id);
          stack.push(next.id);
          continue;
        }
        // What leads in a circle is told as that.
        let reach = 0;
        for (const other of others) reach = Math.max(reach, 1 + (far.get(other.id) ?? 0));
        if (reach > mostLikes) this.tooFar.add(id);
        far.set(id, reach > mostLikes ? 0 : reach);
        way.delete(id);
        stack.pop();
      }
    }
    for (const id of this.tooFar) this.likes.set(id, []);
  }

  /** Things that take after it; none where they go in circles. */
  likeThe(id: ThingId): readonly ThingId[] {
    return (this.likeThis.get(id) ?? []).filter((other) => this.wayTo(other, other) === undefined);
  }

  find(uri: string, names: readonly syntax.Name[], asking: ThingId): OtherThing {
    if (this.tooFar.has(asking)) return { is: "too far", most: mostLikes };
    let scope = this.scopeOf(uri);
    for (const [index, { text }] of names.entries()) {
      const declaration = scope?.declarations.get(text);
      if (declaration !== undefined) {
        const way = declaration.id === asking ? [] : this.wayTo(declaration.id, asking);
        if (way !== undefined) return { is: "circle", by: way };
        const thing = this.specOf(declaration.id);
        return thing === undefined
          ? { is: "unknown", known: [] }
          : { is: "thing", thing, rest: names.slice(index + 1) };
      }
      const inner: FileScope | undefined = scope?.namespaces.get(text);
      if (inner === undefined) break;
      scope = inner;
    }
    return { is: "unknown", known: [...(scope?.declarations.keys() ?? [])] };
  }

  /** By way of what one is like another, itself first; undefined where it is not. */
  private wayTo(from: ThingId, to: ThingId): readonly string[] | undefined {
    const before = new Map<ThingId, ThingId | undefined>([[from, undefined]]);
    for (const [id] of before) {
      for (const { id: next } of this.likes.get(id) ?? []) {
        if (next === to) return wayBack(before, id);
        if (!before.has(next)) before.set(next, id);
      }
    }
    return undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** The names of those that led to one, in their order. */
function wayBack(before: ReadonlyMap<ThingId, ThingId | undefined>, last: ThingId): string[] {
  const names: string[] = [];
  for (let at: ThingId | undefined = last; at !== undefined; at = before.get(at))
    names.unshift(at.step);
  return names;
}
