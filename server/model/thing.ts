/**
 * Things of a build: a tree of named things and parts with what was written into their fields.
 * Once a tree is made nothing is written into it again; a changed line makes another tree.
 *
 * Must not know: formulas, the solver, files' names.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import { SmallMap } from "../keep/small-map";
import type { ThingId } from "../names/ids";
import type { Distribution, Role } from "../solve/system";
import type { FieldDefinition, KindDefinition } from "./definition";
import type { ModelVariable } from "./model";

/** Where a written value comes from; a later layer replaces an earlier one. */
export type Layer = "spec" | "option" | "record";

/** `field: value` as written. */
export interface Entry {
  readonly field: syntax.Name;
  readonly value: syntax.Expression;
  /** The value's place; names in it are looked for in that file. */
  readonly anchor: Anchor;
  /** What it is, where it is something else than its field says. */
  readonly role?: Role;
  /** Where it is asked for: what making it may miss by. */
  readonly tolerance?: syntax.Expression;
  /** The step it is made to. */
  readonly step?: syntax.Expression;
  /** Where it is asked for: of several answers the nearest to this is meant, or the one within it. */
  readonly near?: syntax.Expression;
  /** How values lie within its limits. */
  readonly distribution?: Distribution;
  /** What it moves together with. */
  readonly together?: string;
  /** Whether it is written in a file that ships with Trammel. */
  readonly library: boolean;
  readonly layer: Layer;
  /** Written once for several parts, so that another text there changes all of them. */
  readonly shared: boolean;
  /** Taken over from what its thing is like. */
  readonly inherited: boolean;
  /** Where records give it: the day it was measured. */
  readonly date?: string;
}

/** What is known of a thing before anything is written into it. */
export interface ThingHead {
  readonly id: ThingId;
  /** How the root file calls it: `rear.left`, `brakes.rear_disc`. */
  readonly path: string;
  readonly name: string;
  readonly kind: KindDefinition;
  /** True for what a file that ships with Trammel declares. */
  readonly library: boolean;
  readonly owner: Thing | undefined;
  /** Where it is opened; nothing where it is only implied by a reference or part field. */
  readonly anchor: Anchor | undefined;
  /** True for a reference nobody set: it stands in so that its fields can be named and solved. */
  readonly implied: boolean;
  readonly title?: string;
}

export class Thing implements ThingHead {
  readonly id: ThingId;
  readonly path: string;
  readonly name: string;
  readonly kind: KindDefinition;
  readonly library: boolean;
  readonly owner: Thing | undefined;
  readonly anchor: Anchor | undefined;
  readonly implied: boolean;
  readonly title: string | undefined;
  /** The thing at the top of a file that it belongs to. */
  readonly top: Thing;
  readonly entries = new SmallMap<string, Entry>();
  /** Where `?` is written, by field; an option's or record's `?` goes before what the spec says. */
  readonly asked = new SmallMap<string, Entry>();
  /** Parts, and references opened in place, by field name. */
  readonly parts = new SmallMap<string, Thing>();
  /** What stands in for references nobody set, made when a name first leads there. */
  readonly standIns = new SmallMap<string, Thing>();
  /** What is known of its figures from itself alone, by field or part; made when first asked for. */
  readonly figures = new SmallMap<string, ModelVariable>();
  /** Of a thing at the top: parts in it that nobody wrote, and whose parts there is no room for. */
  impliedParts = 0;
  overfullFrom: string | undefined;
  /** Items of list fields, by field name. */
  readonly lists = new SmallMap<string, Thing[]>();
  /** Things declared inside this one, by name. */
  readonly children = new SmallMap<string, Thing>();
  readonly relations: { readonly node: syntax.Relation; readonly anchor: Anchor }[] = [];
  readonly checks: { readonly node: syntax.Check; readonly anchor: Anchor }[] = [];
  readonly curves: { readonly node: syntax.Curve; readonly anchor: Anchor }[] = [];

  constructor(head: ThingHead) {
    this.id = head.id;
    this.path = head.path;
    this.name = head.name;
    this.kind = head.kind;
    this.library = head.library;
    this.owner = head.owner;
    this.anchor = head.anchor;
    this.implied = head.implied;
    this.title = head.title;
    this.top = head.owner?.top ?? this;
  }

  /** The file whose names it sees. */
  get uri(): string {
    return this.id.uri;
  }

  field(name: string): FieldDefinition | undefined {
    return this.kind.fields.get(name);
  }

  /** Whether the builder wrote anything into it or its parts. */
  get written(): boolean {
    if (this.anchor !== undefined || this.entries.size > 0) return true;
    for (const part of this.parts.values()) if (part.written) return true;
    for (const standIn of this.standIns.values()) if (standIn.written) return true;
    return false;
  }

  /** Whether anything is written or asked for in it: of a stand-in, that it counts as a thing. */
  get spoken(): boolean {
    if (this.anchor !== undefined || this.entries.size > 0 || this.asked.size > 0) return true;
    for (const part of this.parts.values()) if (part.spoken) return true;
    for (const standIn of this.standIns.values()) if (standIn.spoken) return true;
    return false;
  }

  is(kind: string): boolean {
    return this.kind.lineage.includes(kind);
  }
}

/**
 * Where the figure itself is written, its tolerance left out: what a fix replaces. Nothing where
 * only limits or a formula are written.
 */
export function nominalAnchor({ value, anchor }: Entry): Anchor | undefined {
  const nominal = value.type === "tolerance" || value.type === "limits" ? value.nominal : value;
  if (nominal === undefined) return undefined;
  const literal = ["number", "quantity", "unary", "designation"].includes(nominal.type);
  return literal ? { ...anchor, span: nominal.span } : undefined;
}

/** The same where nothing else is said by what is written there: a change of it is a change of the one figure. */
export function placeToChange(entry: Entry): Anchor | undefined {
  return entry.shared || entry.inherited ? undefined : nominalAnchor(entry);
}

/** Where the builder opened the thing, or the nearest owner of it that was opened. */
export function anchorOfThing(thing: Thing | undefined): Anchor | undefined {
  for (let at = thing; at !== undefined; at = at.owner)
    if (at.anchor !== undefined) return at.anchor;
  return undefined;
}
