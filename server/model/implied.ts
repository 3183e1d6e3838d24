/**
 * Parts that every thing of a kind has, and what stands in for a reference that nobody set.
 *
 * Must not know: how names are followed, what is written into things.
 */
import { roomForPart } from "./budget";
import type { KindDefinition, Vocabulary } from "./definition";
import { Thing } from "./thing";

/** A part or reference that nobody opened, with the parts every thing of its kind has. */
export function impliedThing(
  owner: Thing,
  name: string,
  kind: KindDefinition,
  implied: boolean,
  vocabulary: Vocabulary,
): Thing {
  const thing = new Thing({
    id: owner.id.inside(name),
    path: `${owner.path}.${name}`,
    name,
    kind,
    library: owner.library,
    owner,
    anchor: undefined,
    implied,
  });
  addParts(thing, vocabulary);
  return thing;
}

/** A part exists with its thing, whether anyone opens it or not. */
export function addParts(thing: Thing, vocabulary: Vocabulary): void {
  for (const field of thing.kind.fields.values()) {
    if (field.type.form !== "part" || thing.parts.has(field.name)) continue;
    const kind = vocabulary.kinds.get(field.type.kind);
    if (kind === undefined || thing.entries.has(field.name)) continue;
    if (!roomForPart(thing)) return;
    thing.parts.set(field.name, impliedThing(thing, field.name, kind, false, vocabulary));
  }
}

/** How deep it lies among things nobody wrote; endless where its own kind is among them. */
export function impliedDepth(thing: Thing, kind: KindDefinition): number {
  let depth = 0;
  for (let inside: Thing | undefined = thing; inside?.implied; inside = inside.owner) {
    if (inside.kind === kind) return Number.POSITIVE_INFINITY;
    depth++;
  }
  return depth;
}
