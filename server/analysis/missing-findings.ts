/**
 * What is asked for and cannot be worked out, one finding for each cause: figures that the same
 * further figures would settle are told of together.
 *
 *     missingFindings(missing, errors)
 *       // rear.track and 2 more cannot be worked out yet   to do: give rear.wheel.offset (…)
 *
 * Must not know: how anything was solved, how findings are shown.
 */

import type { Anchor } from "../../grammar/anchor";
import type { CasesPassedOver, FollowsFrom, Missing, Needs } from "../findings/outcomes";
import type { Found } from "../findings/worded";
import type { Asked } from "./asked";
import type { ToldPlaces } from "./told-places";

/** What is asked for and cannot be worked out. */
export interface OpenValue {
  readonly asked: Asked;
  /** What failed behind it. */
  readonly failed: Found | undefined;
  /** Whether some equation of its cell speaks of it. */
  isSpokenOf(): boolean;
  /** The cases that speak of it, where none of them holds and nothing else speaks of it. */
  passedOver(): CasesPassedOver;
  /** What it would follow from where some of that is asked for, too. */
  followsFrom(): FollowsFrom | undefined;
}

/** Why it is missing; without advice where that is not worked out. */
export function whyMissing(open: OpenValue): Missing {
  const { asked, failed, isSpokenOf, followsFrom } = open;
  const { path, field } = asked.value;
  const needs = asked.advised ? asked.needs : undefined;
  const stuck = failed === undefined && needs?.length === 0;
  const from = stuck ? followsFrom() : undefined;
  const advice = field.needs;
  const why = { path, needs, failed, spokenOf: stuck && isSpokenOf(), advice };
  if (from !== undefined) return { ...why, followsFrom: from };
  const passedOver = stuck ? open.passedOver() : [];
  return passedOver.length === 0 ? why : { ...why, passedOver };
}

/**
 * `told`: where something is wrong that is told already; what is open there, or would not be but for
 * that, follows.
 * `own`: what it is about: a cause behind nothing of that is left out.
 */
export function missingFindings(
  missing: readonly OpenValue[],
  told: ToldPlaces,
  own: ReadonlySet<Anchor>,
): Found[] {
  const open = missing
    .filter(({ asked }) => !told.covers(asked.anchor.item))
    .map((each) => ({ ...each, why: whyMissing(each) }))
    .filter(({ why: { needs = [] } }) => !needs.some((set) => isBehind(set, told)));
  return grouped(open).flatMap((group) => {
    const [first] = group;
    if (first === undefined || !group.some(({ asked }) => own.has(asked.anchor))) return [];
    const { anchor } = first.asked;
    const missing = group.map(({ why, asked }) => ({ ...why, asked: asked.anchor }));
    return [{ is: "missing/value", missing, anchor }];
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function isBehind(set: Needs[number], told: ToldPlaces): boolean {
  return set.length > 0 && set.every(({ path }) => told.isBehind(path));
}

interface Told extends OpenValue {
  readonly why: Missing;
}

/**
 * Those that share a figure that would settle them, in the order they are asked for; as long as
 * nobody knows what would, those that hang together.
 */
function grouped(missing: readonly Told[]): Told[][] {
  const groups: { values: Told[]; shared: Set<unknown> }[] = [];
  for (const value of missing) {
    const { asked, why } = value;
    const ways = why.needs?.flatMap((set) => set.map(({ path }) => path));
    const shared = new Set<unknown>(ways ?? [asked.cell ?? asked]);
    const joined = groups.filter((group) => [...shared].some((each) => group.shared.has(each)));
    const [home] = joined;
    if (home === undefined) {
      groups.push({ values: [value], shared });
      continue;
    }
    for (const group of joined.slice(1)) {
      home.values.push(...group.values);
      for (const each of group.shared) home.shared.add(each);
      groups.splice(groups.indexOf(group), 1);
    }
    home.values.push(value);
    for (const each of shared) home.shared.add(each);
  }
  return groups.map(({ values }) => values);
}
