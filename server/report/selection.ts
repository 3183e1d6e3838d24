/**
 * Which values of a build a reader sees first: those asked for and the headline figures of things.
 *
 * Must not know: where they are written to.
 */
import type { Analysis, Value } from "../analysis/analysis";
import type { Thing } from "../model/thing";

export interface ThingValues {
  readonly thing: Thing;
  readonly values: readonly Value[];
}

/** Values asked for with `?`, and headline figures; things in file order, asked values first. */
export function headlines(analysis: Analysis): ThingValues[] {
  const asked = askedPaths(analysis);
  const wanted = (value: Value): boolean => asked.has(value.path) || isHeadline(value);
  return byThing([...analysis.values.values()].filter(wanted), analysis);
}

/** Groups values by thing; things in the order of the build, those of values not in it last. */
export function byThing(values: readonly Value[], analysis: Analysis): ThingValues[] {
  const asked = askedPaths(analysis);
  const groups = new Map<Thing, Value[]>();
  for (const value of values) {
    const group = groups.get(value.thing);
    if (group === undefined) groups.set(value.thing, [value]);
    else group.push(value);
  }
  const rank = (value: Value): number => (asked.has(value.path) ? 0 : isHeadline(value) ? 1 : 2);
  const order = new Map(analysis.things.map((thing, index) => [thing, index]));
  return [...groups]
    .map(([thing, group]) => ({
      thing,
      values: group.toSorted((one, other) => rank(one) - rank(other)),
    }))
    .sort(
      (one, other) => (order.get(one.thing) ?? order.size) - (order.get(other.thing) ?? order.size),
    );
}

export function askedPaths(analysis: Analysis): ReadonlySet<string> {
  return new Set(analysis.asked.map(({ value }) => value.path));
}

/** A headline figure its thing carries; one that stands open says nothing until it is asked for. */
export function isHeadline(value: Value): boolean {
  return value.field.shown && value.standing !== "missing" && !value.thing.implied;
}

/** The path within its thing: `size.width` of `rear_wheel.size.width`. */
export function nameInThing(value: Value): string {
  const { path } = value.thing;
  return value.path.startsWith(`${path}.`) ? value.path.slice(path.length + 1) : value.path;
}
