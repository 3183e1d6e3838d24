/**
 * The things a job is about, whichever of its files is read: what is put together of others, and
 * what that leads to. A tire on the shelf that nothing refers to is not among them.
 *
 * Must not know: sheets.
 */
import type { Analysis } from "../analysis/analysis";
import type { Thing } from "../model/thing";
import { references } from "../report/in-use";

export function thingsAtWork(analysis: Analysis): Thing[] {
  const leading = references(analysis);
  const reached = new Set([...leading.values()].flatMap((each) => [...each.values()]));
  const waiting = analysis.things
    .filter(
      ({ path, owner, implied, library }) =>
        owner === undefined &&
        !implied &&
        !library &&
        !reached.has(path) &&
        (leading.get(path)?.size ?? 0) > 0,
    )
    .map(({ path }) => path);
  const used = new Set<string>();
  for (let path = waiting.pop(); path !== undefined; path = waiting.pop()) {
    if (used.has(path)) continue;
    used.add(path);
    waiting.push(...(leading.get(path)?.values() ?? []));
  }
  return analysis.things.filter(({ path, implied }) => used.has(path) && !implied);
}
