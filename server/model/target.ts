/**
 * Where a dotted name leads: to a field, a thing, several things, or nowhere.
 *
 *     rear.wheel.offset   →   the field `offset` of the thing `rear.wheel`
 *
 * Must not know: how names are followed, what is written into fields.
 */
import type * as syntax from "../../grammar/syntax";
import type { FieldDefinition } from "./definition";
import { withArticle } from "./spelling";
import type { Thing } from "./thing";
import { both, twinsOf } from "./twins";

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
  | {
      readonly is: "unknown";
      readonly code: "name/unknown" | "name/unknown-field";
      readonly name: syntax.Name;
      readonly message: string;
      /** What to do, where a near name is not all there is to say. */
      readonly hint?: string;
      readonly candidates: readonly string[];
    };

export type UnknownName = Extract<Target, { is: "unknown" }>;

export function unknownName(
  name: syntax.Name,
  message: string,
  candidates: readonly string[],
): UnknownName {
  return { is: "unknown", code: "name/unknown", name, message, candidates };
}

/** A finding for a name that leads nowhere. */
export function unknownField(thing: Thing, name: syntax.Name): Target {
  const { kind } = thing;
  if (name.text === both) {
    const hint = twinsOf(kind)
      .map((twin) => `\`${twin.name}\``)
      .join(" and ");
    return {
      ...unknownName(
        name,
        hint === ""
          ? `${withArticle(kind.name)} has no two parts of one kind that \`both\` could stand for`
          : `\`both\` stands for ${hint}, which are no single value`,
        [],
      ),
      code: "name/unknown-field",
      hint:
        hint === ""
          ? "write the name of the part that is meant"
          : "open it with braces: `both { … }`",
    };
  }
  // What the kind declares itself comes before what it takes over.
  const fields = [...kind.fields.values()];
  const own = fields.filter((field) => field.owner === kind.name);
  const others = fields.filter((field) => field.owner !== kind.name);
  return {
    ...unknownName(name, `${withArticle(kind.name)} has no field \`${name.text}\``, [
      ...[...own, ...others].map((field) => field.name),
      ...thing.children.keys(),
    ]),
    code: "name/unknown-field",
  };
}

/** Nothing can be written into what is not there, or into several things at once. */
export function notOneThing(
  owner: Exclude<Target, UnknownName | { is: "thing" }>,
  names: readonly syntax.Name[],
): UnknownName {
  const last = names[names.length - 1] as syntax.Name;
  const path = names.map((name) => name.text).join(".");
  switch (owner.is) {
    case "unset":
      return {
        ...unknownName(last, `\`${path}\` is not there yet`, []),
        hint: `say first which one it is, \`${last.text}: …\`, or open it there with braces`,
      };
    case "list":
      return {
        ...unknownName(last, `\`${path}\` stands for several things`, []),
        hint: "write it into the one that is meant, by its own name",
      };
    case "field":
      return unknownName(last, `\`${path}\` is a single value and has nothing inside`, []);
  }
}

/** Nothing of that name is within a single value. */
export function notAPart(
  field: FieldDefinition,
  name: syntax.Name,
): Extract<Target, { is: "unknown" }> {
  const { type } = field;
  return {
    is: "unknown",
    code: "name/unknown",
    name,
    message:
      type.form === "designation"
        ? `\`${field.name}\` has no part \`${name.text}\``
        : `\`${field.name}\` is a single value and has nothing inside`,
    candidates: type.form === "designation" ? [...type.designation.parts.keys()] : [],
  };
}
