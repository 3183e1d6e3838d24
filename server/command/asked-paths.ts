/**
 * The values that the paths of a command line reach: a field by any path to it, or all fields of a
 * thing.
 *
 * Must not know: how values are written.
 */
import type { Analysis, Value } from "../analysis/analysis";
import type { Thing } from "../model/thing";
import type { CommandProblem } from "./problem";
import { noSuch } from "./session";

export interface AskedPath {
  /** As it was written. */
  readonly path: string;
  readonly values: readonly Value[];
  /** Set where there is such a field and nothing in the build leads to a value of it. */
  readonly silent?: { readonly thing: Thing; readonly field: string };
}

export function askedPath(path: string, analysis: Analysis): AskedPath | CommandProblem {
  const value = analysis.valueAt(path);
  if (value !== undefined) return { path, values: [value] };
  const thing = analysis.thingAt(path);
  if (thing !== undefined) return { path, values: valuesOf(thing, analysis) };
  const dot = path.lastIndexOf(".");
  const owner = dot < 0 ? undefined : analysis.thingAt(path.slice(0, dot));
  const field = path.slice(dot + 1);
  if (owner?.field(field) !== undefined)
    return { path, values: [], silent: { thing: owner, field } };
  // A designation's parts, and with them its word, are values below the field.
  const below = [...analysis.values.values()].filter((each) => each.path.startsWith(`${path}.`));
  if (below.length > 0) return { path, values: below };
  return noSuchPath(path, analysis);
}

// ───────────────────────────── helpers ─────────────────────────────

/** Of the thing and its parts, in the order of the build. */
function valuesOf(thing: Thing, analysis: Analysis): Value[] {
  const inside = new Set<Thing>();
  const add = (each: Thing): void => {
    if (inside.has(each)) return;
    inside.add(each);
    for (const part of each.parts.values()) if (part.owner === each) add(part);
    for (const child of each.children.values()) add(child);
  };
  add(thing);
  return [...analysis.values.values()].filter((value) => inside.has(value.thing));
}

/** Says how far the path leads, and what there is instead of the name that leads nowhere. */
function noSuchPath(path: string, analysis: Analysis): CommandProblem {
  const names = path.split(".");
  for (let length = names.length - 1; length > 0; length--) {
    const thing = analysis.thingAt(names.slice(0, length).join("."));
    if (thing === undefined) continue;
    const known = [...thing.kind.fields.keys(), ...thing.children.keys()];
    return noSuch(`field of ${names.slice(0, length).join(".")}`, names[length] ?? "", known);
  }
  const things = analysis.things
    .filter((thing) => thing.owner === undefined && thing.path !== "")
    .map((thing) => thing.path);
  return noSuch("thing", names[0] ?? "", things);
}
