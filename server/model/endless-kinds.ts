/**
 * Finds kinds that would hold themselves, and cuts them where they close the circle, so that
 * everything after can follow parts and owners to their ends.
 *
 *     kind box { inner: part box }   →   a box would hold itself without end; `inner` holds nothing
 *
 * Must not know: things, values, how declarations are read.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Found } from "../findings/worded";
import type { FieldDefinition, KindDefinition } from "./definition";

type Report = (found: Found) => void;

/** `ownerAnchor`: where a kind says whose part it is. Changes `kinds`. */
export function cutEndlessKinds(
  kinds: Map<string, KindDefinition>,
  ownerAnchor: (kind: KindDefinition) => Anchor,
  report: Report,
): void {
  // Kinds of the library speak of each other only, and are looked over by its own tests.
  const own = [...kinds.values()].filter((kind) => !kind.library);
  for (const { name } of own) cutOwners(name, kinds, ownerAnchor, report);
  const done = new Set<string>();
  for (const { name } of own) cutParts(name, kinds, done, report);
}

// ───────────────────────────── helpers ─────────────────────────────

function cutOwners(
  start: string,
  kinds: Map<string, KindDefinition>,
  ownerAnchor: (kind: KindDefinition) => Anchor,
  report: Report,
): void {
  const way: string[] = [];
  for (let kind = kinds.get(start); kind?.owner !== undefined; kind = kinds.get(kind.owner)) {
    way.push(kind.name);
    if (!way.includes(kind.owner)) continue;
    const round = way.slice(way.indexOf(kind.owner) + 1);
    report({ is: "name/circular owner", name: kind.owner, by: round, anchor: ownerAnchor(kind) });
    kinds.set(kind.name, { ...kind, owner: undefined });
    return;
  }
}

/** More steps of a way round than are told. */
const mostTold = 10;

/** A part that is being followed: which fields of its kind are still to be looked at. */
interface Opened {
  readonly kind: KindDefinition;
  readonly left: Iterator<FieldDefinition>;
  /** The field being followed. */
  field?: FieldDefinition;
}

/** Depth first, with a list of its own instead of calls: chains of kinds may be long. */
function cutParts(
  start: string,
  kinds: Map<string, KindDefinition>,
  done: Set<string>,
  report: Report,
): void {
  const open: Opened[] = [];
  const inside = new Set<string>();
  const enter = (name: string): void => {
    const kind = kinds.get(name);
    if (kind === undefined || done.has(name)) return;
    inside.add(name);
    open.push({ kind, left: kind.fields.values() });
  };
  enter(start);
  for (let at = open.at(-1); at !== undefined; at = open.at(-1)) {
    const next = at.left.next();
    if (next.done === true) {
      open.pop();
      inside.delete(at.kind.name);
      done.add(at.kind.name);
      continue;
    }
    const field = next.value;
    if (field.type.form !== "part") continue;
    at.field = field;
    if (!inside.has(field.type.kind)) {
      enter(field.type.kind);
      continue;
    }
    const first = open.findIndex(({ kind }) => kind.name === (field.type as { kind: string }).kind);
    tell(open.slice(first), field.type.kind, field, report);
    cut(at.kind, field, kinds);
  }
}

function tell(
  round: readonly Opened[],
  name: string,
  closing: FieldDefinition,
  report: Report,
): void {
  const steps = round.slice(0, mostTold).map(({ kind, field }, at) => ({
    kind: kind.name,
    field: field?.name ?? "",
    to: round[at + 1]?.kind.name ?? name,
  }));
  report({ is: "name/circular", name, steps, closing: closing.name, anchor: closing.anchor });
}

/** What was taken over keeps its place in the list of fields. */
function cut(kind: KindDefinition, field: FieldDefinition, kinds: Map<string, KindDefinition>) {
  const now = kinds.get(kind.name) ?? kind;
  const fields = new Map(now.fields);
  fields.set(field.name, { ...field, type: { form: "unknown" } });
  kinds.set(kind.name, { ...now, fields });
}
