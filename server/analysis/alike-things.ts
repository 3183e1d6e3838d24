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

export class AlikeThings implements OtherThings {
  private readonly likeThis = new Map<ThingId, ThingId[]>();
  private readonly likes = new Map<ThingId, readonly Declaration[]>();

  constructor(
    declarations: Iterable<Declaration>,
    private readonly scopeOf: (uri: string) => FileScope | undefined,
    /** Without what was recorded of it. */
    private readonly specOf: (id: ThingId) => Thing | undefined,
  ) {
    for (const { id, item, uri } of declarations) {
      const { likes } = namesIn(item);
      if (likes.length === 0) continue;
      const scope = scopeOf(uri);
      const others = likes.flatMap((names) => (scope && leadsTo(scope, names)) ?? []);
      this.likes.set(id, others);
      for (const other of others)
        this.likeThis.set(other.id, [...(this.likeThis.get(other.id) ?? []), id]);
    }
  }

  /** Things that take after it; none where they go in circles. */
  likeThe(id: ThingId): readonly ThingId[] {
    return (this.likeThis.get(id) ?? []).filter((other) => this.wayTo(other, other) === undefined);
  }

  find(uri: string, names: readonly syntax.Name[], asking: ThingId): OtherThing {
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
    const seen = new Set<ThingId>();
    const follow = (id: ThingId): readonly string[] | undefined => {
      if (seen.has(id)) return undefined;
      seen.add(id);
      for (const { id: next } of this.likes.get(id) ?? []) {
        const way = next === to ? [] : follow(next);
        if (way !== undefined) return [id.step, ...way];
      }
      return undefined;
    };
    return follow(from);
  }
}
