/**
 * What one reading of a build differs in from another, and what that difference rests on: told of an
 * edit and of something laid over the build alike. Two differences of which neither touches what the
 * other rests on have nothing to do with each other, and what is known of one stays so.
 *
 *     independent(footprintOf(beforeEdit, afterEdit), footprintOf(spec, underOption))
 *
 * Must not know: what any difference is about.
 */

import type { Binder } from "../model/binder";
import { mostTermsOfAll } from "../model/budget";
import type { Row } from "../model/model";
import type { Questions } from "../model/questions";
import type { ThingId } from "../names/ids";
import { type BuildCell, topsOf } from "./build-cells";
import type { Reading } from "./reading";
import type { RowResult } from "./row-result";

export interface Footprint {
  /** Things at the top of files that are others, or of which something unknown comes out otherwise. */
  readonly writes: ReadonlySet<ThingId>;
  /** Those and all that was asked to find it out. */
  readonly reads: ReadonlySet<ThingId>;
  /** Files whose names are others, and files whose names were asked for. */
  readonly named: ReadonlySet<string>;
  readonly asked: ReadonlySet<string>;
  /** All things of a kind were asked for. */
  readonly overall: boolean;
  /** It has to do with what a build has but one of: its kits, its one currency. */
  readonly common: boolean;
  readonly currencies: boolean;
  /** Sums took so many terms that there may not be enough for all. */
  readonly costly: boolean;
}

/** `results`: those that are in one and not in the other. */
export function footprintOf(
  before: Reading,
  after: Reading,
  results: { readonly gone: readonly RowResult[]; readonly come: readonly RowResult[] },
): Footprint {
  const writes = new Set(after.changedSince(before));
  const reads = new Set<ThingId>();
  const asked = new Set<string>();
  let overall = false;
  let common = false;
  const cells = new Set<BuildCell>();
  const learn = (questions: Questions<Binder>): void => {
    for (const top of questions.asked) reads.add(top);
    for (const uri of questions.files) asked.add(uri);
    overall ||= questions.overall;
  };
  for (const [some, other] of [
    [results.gone, after],
    [results.come, before],
  ] as const) {
    for (const result of some) {
      for (const [cell, figure] of result.cells) {
        const opposite = other.cells.cellOf(figure);
        if (opposite?.core === cell.core) continue;
        cells.add(cell);
        if (opposite !== undefined) cells.add(opposite);
      }
    }
  }
  // What is solved together speaks of one set of things.
  const spoken = new Set<ReadonlySet<ThingId>>();
  for (const result of [...results.gone, ...results.come]) {
    const { row } = result.of;
    for (const figure of result.named) reads.add(figure.thing.top);
    learn(row.questions);
    common ||= row.stacks.length > 0;
    for (const tops of result.about) spoken.add(tops);
  }
  for (const tops of spoken) for (const top of tops) reads.add(top);
  for (const cell of cells) {
    for (const top of topsOf(cell)) reads.add(top);
    for (const top of unknownTopsOf(cell)) writes.add(top);
  }
  for (const questions of after.laidOver) learn(questions);
  for (const [one, other] of [
    [before.records, after.records],
    [after.records, before.records],
  ] as const)
    for (const [item, { questions }] of one)
      if (other.get(item)?.questions !== questions) learn(questions);
  for (const overlay of after.overlays) if (overlay.is === "lines") asked.add(overlay.uri);
  for (const top of writes) reads.add(top);
  // What a row that is there in both is priced at is the same in both.
  const shared = new Set(results.gone.map(({ of }) => of.row));
  const [gone, come] = [new Set(shared), new Set<Row>()];
  for (const { of } of results.come) if (!gone.delete(of.row)) come.add(of.row);
  const currenciesIn = (some: readonly RowResult[], rows: ReadonlySet<Row>) =>
    currenciesOf(some.filter(({ of }) => rows.has(of.row)));
  const currencies = !sameSet(currenciesIn(results.gone, gone), currenciesIn(results.come, come));
  const named = after.renamedSince(before);
  const costly = Math.max(before.spent, after.spent) > mostTermsOfAll / 3;
  return { writes, reads, named, asked, overall, currencies, common: common || currencies, costly };
}

/** Whether what one does, the other neither sees nor does. */
export function independent(one: Footprint, other: Footprint): boolean {
  return (
    !(one.costly || other.costly) &&
    !(one.common && other.common) &&
    !(one.overall && other.writes.size > 0) &&
    !(other.overall && one.writes.size > 0) &&
    apart(one.writes, other.reads) &&
    apart(other.writes, one.reads) &&
    apart(one.named, other.asked) &&
    apart(other.named, one.asked)
  );
}

// ───────────────────────────── helpers ─────────────────────────────

function apart<T>(one: ReadonlySet<T>, other: ReadonlySet<T>): boolean {
  const [few, many] = one.size < other.size ? [one, other] : [other, one];
  for (const each of few) if (many.has(each)) return false;
  return true;
}

/** The things at the top that have something open in a cell. */
function unknownTopsOf({ keys, core }: BuildCell): Set<ThingId> {
  const tops = new Set<ThingId>();
  for (const [place, { thing }] of keys.entries())
    if (core.system.variables[place]?.given === undefined) tops.add(thing.top);
  return tops;
}

function currenciesOf(results: readonly RowResult[]): Set<string | undefined> {
  return new Set(results.flatMap(({ priced }) => priced.map(({ figure }) => figure?.currency)));
}

function sameSet<T>(one: ReadonlySet<T>, other: ReadonlySet<T>): boolean {
  return one.size === other.size && [...one].every((each) => other.has(each));
}
