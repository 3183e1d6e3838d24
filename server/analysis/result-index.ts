/**
 * Where among the results of a build something is to be found, by what they say of it: kept from edit to
 * edit, so that nobody looks through all of them.
 *
 *     ResultIndex.of(results, (result) => result.tops).placesOf(wheel)   →   [3, 17]
 *
 * It may lead to results that no longer say so, never past one that does. Must not know: what they say.
 */
import { LayeredMap } from "../keep/layered-map";

export class ResultIndex<K, R> {
  private constructor(
    private readonly results: readonly R[],
    private readonly keysOf: (result: R) => Iterable<K>,
    private readonly places: LayeredMap<K, Places>,
  ) {}

  static of<K, R>(results: readonly R[], keysOf: (result: R) => Iterable<K>): ResultIndex<K, R> {
    const places = new Map<K, number | number[]>();
    for (let place = 0; place < results.length; place++)
      for (const key of keysOf(results[place] as R)) {
        const there = places.get(key);
        if (there === undefined) places.set(key, place);
        else if (typeof there === "number") {
          if (there !== place) places.set(key, [there, place]);
        } else if (there.at(-1) !== place) there.push(place);
      }
    return new ResultIndex(results, keysOf, LayeredMap.of(places));
  }

  /** The same of other results, most of which are these. */
  of(results: readonly R[]): ResultIndex<K, R> {
    const { keysOf } = this;
    if (results.length !== this.results.length) return ResultIndex.of(results, keysOf);
    const come = new Map<K, Places>();
    for (let place = 0; place < results.length; place++) {
      const result = results[place] as R;
      if (this.results[place] === result) continue;
      for (const key of keysOf(result)) {
        const there = listed(come.get(key) ?? this.places.get(key));
        if (!there.includes(place)) come.set(key, [...there, place]);
      }
    }
    return new ResultIndex(results, keysOf, this.places.with(come));
  }

  placesOf(key: K): readonly number[] {
    return listed(this.places.get(key));
  }

  /** Of several keys, from the first place to the last. */
  inAny(keys: Iterable<K>): readonly number[] {
    const found = new Set<number>();
    for (const key of keys) for (const place of this.placesOf(key)) found.add(place);
    return [...found].sort((one, other) => one - other);
  }
}

/** The same where many results say one long set of keys: each set is gone through once. */
export class SharedIndex<K, R> {
  private constructor(
    private readonly results: readonly R[],
    private readonly setsOf: (result: R) => Iterable<ReadonlySet<K>>,
    private readonly bySet: ResultIndex<ReadonlySet<K>, R>,
    private readonly sets: LayeredMap<K, readonly ReadonlySet<K>[]>,
    /** So many sets came since it was made: as many may be there that nothing says any more. */
    private readonly come: number,
  ) {}

  static of<K, R>(
    results: readonly R[],
    setsOf: (result: R) => Iterable<ReadonlySet<K>>,
  ): SharedIndex<K, R> {
    const none = ResultIndex.of<ReadonlySet<K>, R>([], setsOf);
    const empty = new SharedIndex([], setsOf, none, LayeredMap.of(new Map()), 0);
    const { sets } = empty.among(results);
    return new SharedIndex(results, setsOf, ResultIndex.of(results, setsOf), sets, 0);
  }

  /** The same of other results, most of which are these. */
  of(results: readonly R[]): SharedIndex<K, R> {
    const { setsOf, bySet } = this;
    const { sets, count } = this.among(results);
    const come = this.come + count;
    if (results.length !== this.results.length || come > mostCome)
      return SharedIndex.of(results, setsOf);
    return new SharedIndex(results, setsOf, bySet.of(results), sets, come);
  }

  /** Of several keys, from the first place to the last. */
  inAny(keys: Iterable<K>): readonly number[] {
    const found = new Set<ReadonlySet<K>>();
    for (const key of keys) for (const set of this.sets.get(key) ?? []) found.add(set);
    return this.bySet.inAny(found);
  }

  /** Which sets hold each key, those of some results among them. */
  private among(results: readonly R[]): { sets: SharedIndex<K, R>["sets"]; count: number } {
    const come = new Set<ReadonlySet<K>>();
    for (let place = 0; place < results.length; place++) {
      const result = results[place] as R;
      if (this.results[place] === result) continue;
      for (const set of this.setsOf(result))
        if (this.bySet.placesOf(set).length === 0) come.add(set);
    }
    const holding = new Map<K, ReadonlySet<K>[]>();
    for (const set of come)
      for (const key of set) {
        const known = holding.get(key);
        if (known === undefined) holding.set(key, [...(this.sets.get(key) ?? []), set]);
        else known.push(set);
      }
    return { sets: this.sets.with(holding), count: come.size };
  }
}

/** Going through all results once more is less than what so many sets weigh that nothing says. */
const mostCome = 64;

// ───────────────────────────── helpers ─────────────────────────────

/** Most keys are said in one place. */
type Places = number | readonly number[];

const nowhere: readonly number[] = [];

function listed(places: Places | undefined): readonly number[] {
  if (places === undefined) return nowhere;
  return typeof places === "number" ? [places] : places;
}
