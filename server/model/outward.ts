/**
 * Lines that write into things from outside of them: where each of them leads.
 *
 *     targetsOf(line, binder, report)   →   the things whose fields it sets or which it opens
 *
 * Must not know: how things are made and filled, values.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Span } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import type { FileScope } from "../names/scope";
import { Binder } from "./binder";
import type { Vocabulary } from "./definition";
import { notAPart, notOneThing, type UnknownTarget, unknownField, unknownName } from "./target";
import type { Thing } from "./thing";
import { eachOfBoth } from "./twins";
import type { Write } from "./write-field";

/** A thing, and where a part of the designation in one of its fields is meant, that field. */
interface LedTo {
  readonly thing: Thing;
  readonly designation?: string;
}

/**
 * Where a line from outside writes, a line about `both` once for each; nowhere where its names lead
 * nowhere: `report` is told why.
 */
export function targetsOf(
  line: { readonly from: Thing | undefined; readonly write: Write },
  binder: Binder,
  report: (found: Found) => void,
): readonly (LedTo & { readonly write: Write })[] {
  const { from, write } = line;
  const each = eachOfBoth(write.node, (names) => binder.resolve(from, write.uri, names));
  if (each.length > 0)
    return each.flatMap((node) => targetsOf({ from, write: { ...write, node } }, binder, report));
  const target = targetOf(line, binder, report);
  return target === undefined ? [] : [{ ...target, write }];
}

/**
 * Where a line from outside writes: the thing whose field it sets or which it opens. Undefined
 * where it leads nowhere; `report` is told why.
 */
function targetOf(
  { from, write }: { readonly from: Thing | undefined; readonly write: Write },
  binder: Binder,
  report: (found: Found) => void,
): LedTo | undefined {
  const { node, uri, item } = write;
  const names = node.path.names;
  const [first] = names;
  const last = names.at(-1)!;
  if (first.text === "") return undefined;
  const say = (target: UnknownTarget): undefined => {
    const telling = new Binder(binder.names, undefined, report);
    telling.unknownTarget(target, (span: Span): Anchor => ({ uri, item, span }));
    return undefined;
  };
  const until = node.type === "given" ? names.slice(0, -1) : names;
  if (until.length === 0) {
    const scope = binder.names.scopeOf(uri);
    const owners = scope === undefined ? [] : thingsWithField(binder.vocabulary, scope, last.text);
    const name = last.text;
    return say(unknownName(last, [], { is: "name/unknown stands-alone", name, owners }));
  }
  const owner = binder.resolve(from, uri, until);
  switch (owner.is) {
    case "thing":
      return node.type === "given" && owner.thing.field(last.text) === undefined
        ? say(unknownField(owner.thing, last))
        : owner;
    case "unknown":
      return say(owner);
    case "field":
      if (owner.part === undefined && node.type === "given") {
        const { type } = owner.field;
        const known = type.form === "designation" && type.designation.parts.has(last.text);
        return known
          ? { thing: owner.thing, designation: owner.field.name }
          : say(notAPart(owner.field, last));
      }
      return say(notOneThing(owner, until));
    default:
      return say(notOneThing(owner, until));
  }
}

/** Whether a line decides what other names lead to. */
export function redirects(thing: Thing, { node }: Write): boolean {
  if (node.type === "part") return true;
  const form = thing.field(node.path.names.at(-1)!.text)?.type.form;
  return form === "reference" || form === "part" || form === "list";
}

// ───────────────────────────── helpers ─────────────────────────────

/** The first few things that have such a field. */
function thingsWithField(
  { kinds }: Vocabulary,
  scope: FileScope,
  field: string,
): readonly string[] {
  return [...scope.declarations]
    .filter(([, { node }]) => kinds.get(node.kind.text)?.fields.has(field))
    .map(([name]) => name)
    .slice(0, 3);
}
