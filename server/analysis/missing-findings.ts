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
import type { Finding } from "../model/finding";
import type { AskedValue, MissingValue, Need } from "./analysis";
import { andList } from "./wording";

/** `told`: items in which something is wrong that is told already; what is open there follows. */
export function missingFindings(
  missing: readonly MissingValue[],
  told: ReadonlySet<Item>,
): Finding[] {
  const open = missing.filter(({ anchor }) => !told.has(anchor.item));
  return grouped(open).flatMap((group) => {
    const [first, ...others] = group;
    if (first === undefined) return [];
    return [
      {
        code: "missing/value",
        severity: "warning",
        message: headline(group),
        hint: first.failed === true ? undefined : wayOut(first.needs),
        anchor: first.anchor,
        related: others.map(({ anchor, path }) => ({
          anchor,
          message: `${path} is asked for here`,
        })),
      },
    ];
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

/** `give rear.wheel.offset (read the offset stamped in the wheel)`; the next best where it is short. */
export function wayOut(needs: readonly (readonly Need[])[]): string | undefined {
  const ways = needs.map((set) => andList(set.map(needInWords)));
  const [first, second] = ways;
  if (first === undefined) return undefined;
  const both = `give ${first}, or ${second}`;
  return second !== undefined && both.length <= longestHint ? both : `give ${first}`;
}

// ───────────────────────────── helpers ─────────────────────────────

const longestHint = 160;
const mostNamed = 3;

function headline(group: readonly MissingValue[]): string {
  const [first] = group;
  if (group.length === 1 && first !== undefined) return first.message;
  const named = group.slice(0, mostNamed).map(({ path }) => path);
  const more = group.length - named.length;
  const names = more === 0 ? andList(named) : `${named.join(", ")} and ${more} more`;
  return `${names} cannot be worked out yet`;
}

function needInWords({ path, advice }: Need): string {
  return advice === undefined ? path : `${path} (${advice})`;
}

/** Those that share a figure that would settle them, in the order they are asked for. */
function grouped(missing: readonly MissingValue[]): MissingValue[][] {
  const groups: { values: MissingValue[]; paths: Set<string> }[] = [];
  for (const value of missing) {
    const paths = new Set(value.needs.flatMap((set) => set.map(({ path }) => path)));
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
