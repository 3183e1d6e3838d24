/**
 * What is looked up among the results of a build: what a thing comes to, which results speak of it, which
 * read its words. Each index is made when it is first asked, and goes on with the next edit.
 *
 * Must not know: what any of them says.
 */
import type { ThingId } from "../names/ids";
import { ResultIndex } from "./result-index";
import type { RowResult } from "./row-result";

const tellers = {
  /** The thing at the top that it is of. */
  own: ({ of: { row } }: RowResult): Iterable<ThingId> =>
    row.thing === undefined ? [] : [row.thing.id],
  /** The things at the top whose figures it, or one of its cells, speaks of. */
  speaking: ({ about }: RowResult): Iterable<ThingId> => inAny(about),
  /** The things whose words it reads. */
  wording: ({ of: { row } }: RowResult): Iterable<ThingId> => row.words.keys(),
};
type Index = ResultIndex<ThingId, RowResult>;

export class BuildIndexes {
  private readonly made: { -readonly [Name in keyof typeof tellers]?: Index } = {};
  private byPath: ResultIndex<string, RowResult> | undefined;

  constructor(private readonly results: readonly RowResult[]) {}

  /** The same of other results. */
  of(results: readonly RowResult[]): BuildIndexes {
    const next = new BuildIndexes(results);
    next.byPath = this.byPath?.of(results);
    for (const name of Object.keys(this.made) as (keyof typeof tellers)[])
      next.made[name] = this.made[name]?.of(results);
    return next;
  }

  resultOf(top: ThingId): RowResult | undefined {
    return this.find(this.index("own").placesOf(top), ({ of: { row } }) => row.thing?.id === top);
  }

  /** Of a thing at the top by the path it is called by in this build. */
  resultAt(path: string): RowResult | undefined {
    this.byPath ??= ResultIndex.of(this.results, pathsOf);
    return this.find(this.byPath.placesOf(path), ({ of: { row } }) => row.thing?.path === path);
  }

  /** The places of those that speak of some things at the top, and maybe of others. */
  speakingOf(tops: Iterable<ThingId>): readonly number[] {
    return this.index("speaking").inAny(tops);
  }

  readsWord(thing: ThingId, field: string): boolean {
    const reads = ({ of: { row } }: RowResult) => row.words.get(thing)?.has(field) === true;
    return this.find(this.index("wording").placesOf(thing), reads) !== undefined;
  }

  private index(name: keyof typeof tellers): Index {
    const made = this.made[name] ?? ResultIndex.of(this.results, tellers[name]);
    this.made[name] = made;
    return made;
  }

  private find(
    places: readonly number[],
    does: (result: RowResult) => boolean,
  ): RowResult | undefined {
    for (const place of places) {
      const result = this.results[place];
      if (result !== undefined && does(result)) return result;
    }
    return undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function pathsOf({ of: { row } }: RowResult): Iterable<string> {
  return row.thing === undefined ? [] : [row.thing.path];
}

function* inAny<T>(sets: readonly ReadonlySet<T>[]): Generator<T> {
  for (const set of sets) yield* set;
}
