/**
 * Things of a build: a tree of named things and parts with what was written into their fields.
 *
 * Must not know: formulas, the solver, files' names.
 */
import type * as syntax from "../../grammar/syntax";
import type { Role } from "../solve/system";
import type { Anchor } from "./anchor";
import type { FieldDefinition, KindDefinition } from "./definition";
import type { FileScope } from "./scope";

/** Where a written value comes from; a later layer replaces an earlier one. */
export type Layer = "spec" | "option" | "record";

/** `field: value` as written. */
export interface Entry {
  readonly field: syntax.Name;
  readonly value: syntax.Expression;
  /** The value's place. */
  readonly anchor: Anchor;
  /** What it is, where it is something else than its field says. */
  readonly role?: Role;
  /** Where it is asked for: what making it may miss by. */
  readonly tolerance?: syntax.Expression;
  /** The step it is made to. */
  readonly step?: syntax.Expression;
  /** Where names in the value are looked for. */
  readonly scope: FileScope;
  readonly layer: Layer;
  /** Where records give it: the day it was measured. */
  readonly date?: string;
}

export class Thing {
  readonly entries = new Map<string, Entry>();
  /** Parts, and references opened or implied in place, by field name. */
  readonly parts = new Map<string, Thing>();
  /** Index of the variable of each figure that has one, by field (`offset`) or part (`size.width`). */
  readonly figures = new Map<string, number>();
  /** Items of list fields, by field name. */
  readonly lists = new Map<string, Thing[]>();
  /** Things declared inside this one, by name. */
  readonly children = new Map<string, Thing>();
  readonly relations: { readonly node: syntax.Relation; readonly anchor: Anchor }[] = [];
  readonly checks: { readonly node: syntax.Check; readonly anchor: Anchor }[] = [];
  readonly curves: { readonly node: syntax.Curve; readonly anchor: Anchor }[] = [];

  constructor(
    /** How the root file calls it: `rear.left`, `brakes.rear_disc`. */
    readonly path: string,
    readonly name: string,
    readonly kind: KindDefinition,
    readonly scope: FileScope,
    readonly owner: Thing | undefined,
    /** Where it is opened; nothing where it is only implied by a reference or part field. */
    readonly anchor: Anchor | undefined,
    /** True for a reference nobody set: it stands in so that its fields can be named and solved. */
    readonly implied: boolean,
    readonly title?: string,
  ) {}

  field(name: string): FieldDefinition | undefined {
    return this.kind.fields.get(name);
  }

  /** Whether the builder wrote anything into it or its parts. */
  get written(): boolean {
    if (this.anchor !== undefined || this.entries.size > 0) return true;
    for (const part of this.parts.values()) if (part.written) return true;
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

/** Where the builder opened the thing, or the nearest owner of it that was opened. */
export function anchorOfThing(thing: Thing | undefined): Anchor | undefined {
  for (let at = thing; at !== undefined; at = at.owner)
    if (at.anchor !== undefined) return at.anchor;
  return undefined;
}
