/**
 * Which things a build stands for: a parts list holds more than one build uses.
 *
 * A thing is in use where something in use refers to it, or where it stands in the build's own file
 * and nothing refers to it under any of the build's options, so that it is not one of several to
 * choose from.
 *
 * Must not know: where this is used.
 */
import type { Analysis } from "../analysis/analysis";
import type { Thing } from "../model/thing";

/** The build as it is and under each of its options. */
export function variantsOf(spec: Analysis): Analysis[] {
  return [spec, ...spec.options.flatMap(({ name }) => spec.under(name) ?? [])];
}

/** In the order of the build. `variants` are all readings of the build. */
export function thingsInUse(analysis: Analysis, variants: readonly Analysis[]): Thing[] {
  const anywhere = referredTo(variants);
  const own = references(analysis);
  const used = new Set<string>();
  const waiting = analysis.things
    .filter(
      (thing) =>
        thing.owner === undefined && thing.uri === analysis.rootUri && !anywhere.has(thing.path),
    )
    .map((thing) => thing.path);
  for (let path = waiting.pop(); path !== undefined; path = waiting.pop()) {
    if (used.has(path)) continue;
    used.add(path);
    waiting.push(...(own.get(path)?.values() ?? []));
  }
  return analysis.things.filter((thing) => used.has(thing.path));
}

/** By path of a thing: what its fields lead to, by the name of the field. */
export function references(analysis: Analysis): ReadonlyMap<string, ReadonlyMap<string, string>> {
  const before = known.get(analysis);
  if (before !== undefined) return before;
  const found = new Map<string, Map<string, string>>();
  for (const thing of analysis.things) {
    const others = new Map<string, string>();
    for (const [name, part] of [...thing.parts, ...thing.children]) others.set(name, part.path);
    for (const [name, items] of thing.lists)
      for (const [index, item] of items.entries()) others.set(`${name} ${index}`, item.path);
    for (const field of thing.kind.fields.values()) {
      if (field.type.form !== "reference") continue;
      const other = analysis.thingAt(`${thing.path}.${field.name}`);
      if (other !== undefined && other.path !== thing.path) others.set(field.name, other.path);
    }
    found.set(thing.path, others);
  }
  known.set(analysis, found);
  return found;
}

// ───────────────────────────── helpers ─────────────────────────────

/** Paths of all things that something refers to, in any of them; asked again for each. */
function referredTo(variants: readonly Analysis[]): ReadonlySet<string> {
  let paths = pathsIn.get(variants);
  if (paths === undefined) {
    const found = new Set<string>();
    for (const variant of variants)
      for (const each of references(variant).values())
        for (const path of each.values()) found.add(path);
    paths = found;
    pathsIn.set(variants, paths);
  }
  return paths;
}

const pathsIn = new WeakMap<readonly Analysis[], ReadonlySet<string>>();

const known = new WeakMap<Analysis, ReadonlyMap<string, ReadonlyMap<string, string>>>();
