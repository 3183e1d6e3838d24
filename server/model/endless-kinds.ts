/**
 * Finds kinds that would hold themselves, and cuts them where they close the circle, so that
 * everything after can follow parts and owners to their ends.
 *
 *     kind box { inner: part box }   →   a box would hold itself without end; `inner` holds nothing
 *
 * Must not know: things, values, how declarations are read.
 */
import type { Anchor } from "./anchor";
import type { DeclarationFindings } from "./declaration-findings";
import type { FieldDefinition, KindDefinition } from "./definition";
import { withArticle } from "./spelling";

/** `ownerAnchor`: where a kind says whose part it is. Changes `kinds`. */
export function cutEndlessKinds(
  kinds: Map<string, KindDefinition>,
  ownerAnchor: (kind: KindDefinition) => Anchor,
  findings: DeclarationFindings,
): void {
  // Kinds of the library speak of each other only, and are looked over by its own tests.
  const own = [...kinds.values()].filter((kind) => !kind.library);
  for (const { name } of own) cutOwners(name, kinds, ownerAnchor, findings);
  const done = new Set<string>();
  for (const { name } of own) cutParts(name, kinds, done, findings);
}

// ───────────────────────────── helpers ─────────────────────────────

function cutOwners(
  start: string,
  kinds: Map<string, KindDefinition>,
  ownerAnchor: (kind: KindDefinition) => Anchor,
  findings: DeclarationFindings,
): void {
  const way: string[] = [];
  for (let kind = kinds.get(start); kind?.owner !== undefined; kind = kinds.get(kind.owner)) {
    way.push(kind.name);
    if (!way.includes(kind.owner)) continue;
    const round = way.slice(way.indexOf(kind.owner) + 1);
    findings.say(
      "name/circular",
      round.length === 0
        ? `the kind \`${kind.name}\` is always part of itself`
        : `the kind \`${kind.owner}\` is always part of itself, by way of ${round.join(" and ")}`,
      ownerAnchor(kind),
      "make it part of another kind, or leave out what it is a part of",
    );
    kinds.set(kind.name, { ...kind, owner: undefined });
    return;
  }
}

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
  findings: DeclarationFindings,
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
    tell(open.slice(first), field.type.kind, field, findings);
    cut(at.kind, field, kinds);
  }
}

function tell(
  round: readonly Opened[],
  name: string,
  closing: FieldDefinition,
  findings: DeclarationFindings,
): void {
  const steps = round.map(({ kind, field }) => {
    const to = field?.type.form === "part" ? field.type.kind : name;
    return `\`${kind.name}.${field?.name ?? ""}\` is ${withArticle(to)}`;
  });
  const shown = steps.length > 6 ? [...steps.slice(0, 5), "and so on"] : steps;
  findings.say(
    "name/circular",
    `${withArticle(name)} would hold itself without end: ${shown.join(", ")}`,
    closing.anchor,
    `leave \`part\` out of \`${closing.name}\`: it then names another ${name.replaceAll("_", " ")}`,
  );
}

/** What was taken over keeps its place in the list of fields. */
function cut(kind: KindDefinition, field: FieldDefinition, kinds: Map<string, KindDefinition>) {
  const now = kinds.get(kind.name) ?? kind;
  const fields = new Map(now.fields);
  fields.set(field.name, { ...field, type: { form: "unknown" } });
  kinds.set(kind.name, { ...now, fields });
}
