/**
 * What is asked for and cannot be worked out, one finding for each cause: figures that the same
 * further figures would settle are told of together.
 *
 *     missingFindings(missing, errors)
 *       // rear.track and 2 more cannot be worked out yet   to do: give rear.wheel.offset (…)
 *
 * Must not know: how anything was solved, how findings are shown.
 */
import type { Item } from "../../grammar/syntax";
import type { Missing } from "../findings/values";
import type { Found } from "../findings/worded";
import type { Anchor } from "../model/anchor";
import type { AskedValue } from "./analysis";

/** What is asked for, cannot be worked out, and why. */
export interface OpenValue {
  readonly why: Missing;
  readonly anchor: Anchor;
}

/**
 * `told`: items in which something is wrong that is told already; what is open there follows.
 * `own`: what it is about: a cause behind nothing of that is left out.
 */
export function missingFindings(
  missing: readonly OpenValue[],
  told: ReadonlySet<Item>,
  own: ReadonlySet<Anchor>,
): Found[] {
  const open = missing.filter(({ anchor }) => !told.has(anchor.item));
  return grouped(open).flatMap((group) => {
    const [first] = group;
    if (first === undefined || !group.some(({ anchor }) => own.has(anchor))) return [];
    const { anchor } = first;
    const missing = group.map(({ why, anchor: asked }) => ({ ...why, asked }));
    return [{ is: "missing/value", missing, anchor }];
  });
}

/** Ways that lead over another figure that is `open` itself are no way out. */
export function withoutOpen(
  asked: readonly AskedValue[],
  openValues: readonly AskedValue[],
): AskedValue[] {
  const open = new Set(openValues.map(({ value }) => value.path));
  return asked.map((each) => {
    const needs = each.needs.filter((set) => set.every(({ path }) => !open.has(path)));
    return needs.length === each.needs.length ? each : { ...each, needs };
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** Those that share a figure that would settle them, in the order they are asked for. */
function grouped(missing: readonly OpenValue[]): OpenValue[][] {
  const groups: { values: OpenValue[]; paths: Set<string> }[] = [];
  for (const value of missing) {
    const paths = new Set(value.why.needs.flatMap((set) => set.map(({ path }) => path)));
    const joined = groups.filter((group) => [...paths].some((path) => group.paths.has(path)));
    const [home] = joined;
    if (home === undefined) {
      groups.push({ values: [value], paths });
      continue;
    }
    for (const group of joined.slice(1)) {
      home.values.push(...group.values);
      for (const path of group.paths) home.paths.add(path);
      groups.splice(groups.indexOf(group), 1);
    }
    home.values.push(value);
    for (const path of paths) home.paths.add(path);
  }
  return groups.map(({ values }) => values);
}
