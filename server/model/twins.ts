/**
 * Parts of a thing that mirror each other: the two parts of one kind that its kind declares. What
 * is said of `both` is said of each of them.
 *
 *     both { inner_gap: 1 in }   →   left { inner_gap: 1 in }, right { inner_gap: 1 in }
 *
 * Must not know: what the parts are called, how lines are written into things.
 */

import type * as syntax from "../../grammar/syntax";
import { madeOnce } from "../keep/once";
import { both } from "../names/follow";
import type { FieldDefinition, KindDefinition } from "./definition";
import type { Target } from "./target";

/**
 * The two that `both` stands for; none where the kind has no pair of parts, or several, or a field
 * of that name.
 */
export function twinsOf(kind: KindDefinition): readonly FieldDefinition[] {
  return madeOnce(twinsByKind, kind, () => {
    const [pair = [], ...others] = kind.fields.has(both) ? [] : pairsOf(kind);
    return others.length === 0 ? pair : [];
  });
}

/** A line about `both`, at that name of its path, as one line about each. The same objects each time. */
export function lineOfEach<Line extends syntax.Given | syntax.Part>(
  line: Line,
  at: number,
  twins: readonly FieldDefinition[],
): readonly Line[] {
  const known = madeOnce(linesOfEach, line, () => new Map<string, syntax.Given | syntax.Part>());
  const lineOf = (name: string): Line => {
    const names = line.path.names.map((each, index) =>
      index === at ? { ...each, text: name } : each,
    );
    const made: Line = { ...line, path: { ...line.path, names } };
    shared.add(made);
    return made;
  };
  return twins.map(({ name }) => madeOnce(known, `${at} ${name}`, () => lineOf(name)) as Line);
}

/** A line whose path goes by way of `both` as one line for each; none where it does not. */
export function eachOfBoth<Line extends syntax.Given | syntax.Part>(
  line: Line,
  resolve: (names: readonly syntax.Name[]) => Target,
): readonly Line[] {
  const { names } = line.path;
  const at = names.findIndex(({ text }) => text === both);
  if (at < 0 || (line.type === "given" && at === names.length - 1)) return [];
  const whole = resolve(names.slice(0, at + 1));
  const owner = whole.is === "list" ? whole.things[0]?.owner : undefined;
  return owner === undefined ? [] : lineOfEach(line, at, twinsOf(owner.kind));
}

/** Whether a line is one of those written once for several parts. */
export function isWrittenForEach(line: syntax.Given | syntax.Part): boolean {
  return shared.has(line);
}

// ───────────────────────────── helpers ─────────────────────────────

const twinsByKind = new WeakMap<KindDefinition, readonly FieldDefinition[]>();
const linesOfEach = new WeakMap<object, Map<string, syntax.Given | syntax.Part>>();
const shared = new WeakSet<object>();

function pairsOf({ fields }: KindDefinition): FieldDefinition[][] {
  const groups = new Map<string, FieldDefinition[]>();
  for (const field of fields.values()) {
    if (field.type.form !== "part") continue;
    const group = groups.get(field.type.kind) ?? [];
    groups.set(field.type.kind, group);
    group.push(field);
  }
  return [...groups.values()].filter((group) => group.length === 2);
}
