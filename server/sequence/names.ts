/**
 * Follows names to things after an analysis is made: the list fields of steps, what records name.
 *
 *     new Names(analysis).listed(step, "after")   →   the steps it comes after
 *
 * Must not know: what kinds of things there are.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import { Kept } from "../keep/kept";
import type { FieldDefinition } from "../model/definition";
import type { Entry, Thing } from "../model/thing";
import type { FileScope } from "../names/scope";

export interface Reached {
  readonly thing: Thing;
  /** Set where the name ends at a field of the thing that is no thing itself. */
  readonly field?: FieldDefinition;
}

/** One item of a list field: the name as written, its place, and where it leads. */
export interface Named {
  readonly text: string;
  readonly anchor: Anchor;
  readonly reached?: Reached;
}

/** Of so many builds at a time: all that is kept of one hangs on its key. */
const keys = new Kept<object>(8);

function namesIn({ files }: Analysis): string {
  const parts: string[] = [];
  for (const [uri, { scope }] of files) {
    parts.push(uri, scope.prefix);
    for (const [name, { id, node }] of scope.declarations)
      parts.push(name, id.uri, id.path, node.kind.text);
    for (const [name, { file }] of scope.namespaces) parts.push(name, file.uri);
  }
  return parts.join("\n");
}

/** Longer ways go in circles. */
const mostHops = 40;

export class Names {
  private readonly things: ReadonlyMap<string, Thing>;

  constructor(private readonly analysis: Analysis) {
    this.things = new Map(analysis.things.map((thing) => [thing.path, thing]));
  }

  /** Whether it is a thing of this reading, and not of one before an edit. */
  has(thing: Thing): boolean {
    return this.things.get(thing.path) === thing;
  }

  private known: object | undefined;

  /** The same object as long as names lead to the same declarations. */
  get key(): object {
    this.known ??= keys.get(namesIn(this.analysis), () => ({}));
    return this.known;
  }

  /** The items written in a list field, or the one written in its place; none where nothing is. */
  items(thing: Thing, fieldName: string): Named[] {
    const entry = thing.entries.get(fieldName);
    if (entry === undefined) return [];
    const items = entry.value.type === "list" ? entry.value.items : [entry.value];
    return items.flatMap((item) => {
      const anchor = { ...entry.anchor, span: item.span };
      if (item.type === "text") {
        const names = item.value
          .split(".")
          .map((text) => ({ type: "name" as const, text, span: item.span }));
        return [{ text: item.value, anchor, reached: this.named(thing, entry, names) }];
      }
      if (item.type !== "path") return [];
      const text = item.names.map((name) => name.text).join(".");
      return [{ text, anchor, reached: this.named(thing, entry, item.names) }];
    });
  }

  /** The things a list field names; what leads nowhere is left out, the model has said so. */
  listed(thing: Thing, fieldName: string): Thing[] {
    const written = thing.lists.get(fieldName) ?? [];
    const named = this.items(thing, fieldName).flatMap(({ reached }) =>
      reached === undefined || reached.field !== undefined ? [] : [reached.thing],
    );
    return [...new Set([...written, ...named])];
  }

  /** Where a path leads from inside a thing: its own names, its owners', then the file's. */
  resolve(
    inside: Thing | undefined,
    scope: FileScope,
    names: readonly syntax.Name[],
    hops = 0,
  ): Reached | undefined {
    const [first, ...rest] = names;
    if (first === undefined || hops > mostHops) return undefined;
    for (let at = inside; at !== undefined; at = at.owner) {
      if (at.children.has(first.text) || at.field(first.text) !== undefined) {
        return this.follow(at, names, hops);
      }
    }
    return this.fromFile(scope, first, rest, hops);
  }

  /** The thing a reference or part field of a thing stands for. */
  linked(thing: Thing, fieldName: string, hops = 0): Thing | undefined {
    const entry = thing.entries.get(fieldName);
    if (entry?.value.type === "path") {
      const reached = this.named(thing, entry, entry.value.names, hops + 1);
      if (reached !== undefined && reached.field === undefined) return reached.thing;
    }
    return thing.parts.get(fieldName);
  }

  // ── helpers ──

  /** A file's names come before fields where a thing is named: `wheel: wheel`. */
  private named(
    thing: Thing,
    entry: Entry,
    names: readonly syntax.Name[],
    hops = 0,
  ): Reached | undefined {
    const [first, ...rest] = names;
    const scope = this.analysis.files.get(entry.anchor.uri)?.scope;
    if (first === undefined || scope === undefined) return undefined;
    return (
      this.fromFile(scope, first, rest, hops) ??
      this.resolve(thing.owner, scope, names, hops) ??
      this.resolve(thing, scope, names, hops)
    );
  }

  private fromFile(
    scope: FileScope,
    first: syntax.Name,
    rest: readonly syntax.Name[],
    hops: number,
  ): Reached | undefined {
    const declaration = scope.declarations.get(first.text);
    if (declaration !== undefined) {
      const thing = this.things.get(`${declaration.prefix}${first.text}`);
      return thing === undefined ? undefined : this.follow(thing, rest, hops);
    }
    const namespace = scope.namespaces.get(first.text);
    const [next, ...others] = rest;
    return namespace === undefined || next === undefined
      ? undefined
      : this.fromFile(namespace, next, others, hops);
  }

  private follow(start: Thing, names: readonly syntax.Name[], hops: number): Reached | undefined {
    let at = start;
    if (hops > mostHops) return undefined;
    for (const [index, name] of names.entries()) {
      const child = at.children.get(name.text);
      if (child !== undefined) {
        at = child;
        continue;
      }
      const field = at.field(name.text);
      if (field === undefined) return undefined;
      if (field.type.form === "reference" || field.type.form === "part") {
        const next = this.linked(at, name.text, hops);
        if (next === undefined) return undefined;
        at = next;
        continue;
      }
      return index === names.length - 1 ? { thing: at, field } : undefined;
    }
    return { thing: at };
  }
}
