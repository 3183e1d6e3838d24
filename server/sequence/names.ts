/**
 * What the fields of steps and joints name, and what records speak of, as the build follows names.
 *
 *     new PlanNames(build).listed(step, "after")   →   the steps it comes after
 *
 * Must not know: what kinds of things there are, how a name is followed.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import { madeOnce } from "../keep/once";
import type { FieldDefinition } from "../model/definition";
import type { Target } from "../model/target";
import type { Thing } from "../model/thing";
import type { NotedBuild } from "./noted-build";

export interface Reached {
  readonly thing: Thing;
  /** Set where the name ends at a field of the thing that is no thing itself. */
  readonly field?: FieldDefinition;
}

/** One item of a list field: the name as written, its place, and where it leads. */
export interface NamedItem {
  readonly text: string;
  readonly anchor: Anchor;
  readonly reached?: Reached;
}

export class PlanNames {
  constructor(private readonly build: NotedBuild) {}

  /** Whether it is a thing of this reading, and not of one before an edit. */
  has(thing: Thing): boolean {
    return this.build.has(thing);
  }

  /** The same object as long as names lead to the same declarations. */
  get key(): object {
    return this.build.analysis.names;
  }

  /** The items written in a list field, or the one written in its place; none where nothing is. */
  items(thing: Thing, fieldName: string): NamedItem[] {
    const entry = thing.entries.get(fieldName);
    if (entry === undefined) return [];
    const items = entry.value.type === "list" ? entry.value.items : [entry.value];
    return items.flatMap((item) => {
      if (item.type !== "text" && item.type !== "path") return [];
      const names = item.type === "path" ? item.names : namesOf(item);
      const text = pathOf(names);
      const reached = this.reached(this.build.binder.named(thing, entry, names));
      return [{ text, anchor: { ...entry.anchor, span: item.span }, reached }];
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
    uri: string,
    names: readonly syntax.Name[],
  ): Reached | undefined {
    // A log names the same things over and over.
    const around = inside ?? uri;
    const known = madeOnce(this.resolved, around, () => new Map<string, Reached | undefined>());
    return madeOnce(known, pathOf(names), () =>
      this.reached(this.build.binder.resolve(inside, uri, names)),
    );
  }

  /** By the thing or the file they are looked for in, and by what is written. */
  private readonly resolved = new Map<Thing | string, Map<string, Reached | undefined>>();

  /** The thing a reference or part field of a thing stands for, where somebody wrote one. */
  linked(thing: Thing, fieldName: string): Thing | undefined {
    const field = thing.field(fieldName);
    const linked = field === undefined ? undefined : this.build.binder.linked(thing, field);
    return linked?.implied === true ? undefined : linked;
  }

  // ── helpers ──

  private reached(target: Target): Reached | undefined {
    // The binder follows names into all there is, a build takes in what it has to do with.
    if ((target.is !== "thing" && target.is !== "field") || !this.has(target.thing.top))
      return undefined;
    if (target.is === "thing") return { thing: target.thing };
    return target.part === undefined ? { thing: target.thing, field: target.field } : undefined;
  }
}

function pathOf(names: readonly syntax.Name[]): string {
  return names.map(({ text }) => text).join(".");
}

function namesOf({ value, span }: syntax.Text): syntax.Names {
  const named = (text: string): syntax.Name => ({ type: "name", text, span });
  return value.split(".").map(named) as [syntax.Name];
}
