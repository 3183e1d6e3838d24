/**
 * Where a dotted name leads: to a field, a thing, several things, or nowhere.
 *
 *     rear.wheel.offset   →   the field `offset` of the thing `rear.wheel`
 *
 * Must not know: how names are followed, what is written into fields.
 */
import type * as syntax from "../../grammar/syntax";
import type { Problem, UnknownName } from "../findings/worded";
import { both } from "../names/follow";
import type { FieldDefinition } from "./definition";
import { misnamed } from "./spelling";
import type { Thing } from "./thing";
import { twinsOf } from "./twins";

/** Where a dotted name led. */
export type Target =
  | {
      readonly is: "field";
      readonly thing: Thing;
      readonly field: FieldDefinition;
      readonly part?: FieldDefinition;
    }
  | { readonly is: "thing"; readonly thing: Thing }
  | {
      readonly is: "list";
      readonly things: readonly Thing[];
      readonly rest: readonly syntax.Name[];
    }
  /** An optional reference that nobody set. */
  | { readonly is: "unset" }
  | UnknownTarget;

/** A name that leads nowhere, and the names there are. */
export interface UnknownTarget {
  readonly is: "unknown";
  readonly name: syntax.Name;
  /** What there is to say, but for the names there are. */
  readonly fact: UnknownName;
  readonly candidates: readonly string[];
}

export function unknownName(
  name: syntax.Name,
  candidates: readonly string[],
  fact: UnknownName = { is: "name/unknown", name: name.text },
): UnknownTarget {
  return { is: "unknown", name, fact, candidates };
}

/** A name that leads nowhere, as a problem of what it stands in. */
export function problemOf({ name, fact, candidates }: UnknownTarget): Problem {
  return { ...fact, ...misnamed(name.text, candidates), span: name.span };
}

/** A field that a thing does not have. */
export function unknownField(thing: Thing, name: syntax.Name): UnknownTarget {
  const { kind } = thing;
  if (name.text === both) {
    const twins = twinsOf(kind).map((twin) => twin.name);
    const told = { name: name.text, kind: kind.name, twins };
    return unknownName(name, [], { is: "name/unknown-field both", ...told });
  }
  // What the kind declares itself comes before what it takes over.
  const fields = [...kind.fields.values()];
  const own = fields.filter((field) => field.owner === kind.name);
  const others = fields.filter((field) => field.owner !== kind.name);
  return unknownName(
    name,
    [...[...own, ...others].map((field) => field.name), ...thing.children.keys()],
    { is: "name/unknown-field", name: name.text, kind: kind.name },
  );
}

/** A name that would have to be a part of what a field holds. */
export function notAPart({ name: field, type }: FieldDefinition, name: syntax.Name): UnknownTarget {
  return type.form === "designation"
    ? unknownName(name, [...type.designation.parts.keys()], {
        is: "name/unknown no-part",
        name: name.text,
        field,
      })
    : unknownName(name, [], { is: "name/unknown single", name: name.text, path: field });
}

/** Nothing can be written into what is not there, or into several things at once. */
export function notOneThing(
  owner: Exclude<Target, UnknownTarget | { is: "thing" }>,
  names: readonly syntax.Name[],
): UnknownTarget {
  const last = names.at(-1)!;
  const path = names.map((name) => name.text).join(".");
  const facts = { name: last.text, path };
  switch (owner.is) {
    case "unset":
      return unknownName(last, [], { is: "name/unknown not-there", ...facts });
    case "list":
      return unknownName(last, [], { is: "name/unknown several", ...facts });
    case "field":
      return unknownName(last, [], { is: "name/unknown single", ...facts });
  }
}
