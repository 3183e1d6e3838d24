/**
 * A map that is never written to: each change makes another, which shares what did not change.
 *
 *     const next = map.with([["left", 3], ["right", undefined]]);   // `map` stays as it was
 *
 * A change costs what it changes, and now and then one copy of the whole.
 *
 * Must not know: what is kept in it.
 */
export class LayeredMap<K, V> {
  private constructor(
    private readonly base: ReadonlyMap<K, V>,
    private readonly over: ReadonlyMap<K, V | undefined>,
  ) {}

  static of<K, V>(entries: ReadonlyMap<K, V>): LayeredMap<K, V> {
    return new LayeredMap(entries, new Map());
  }

  get isEmpty(): boolean {
    return this.base.size === 0 && this.over.size === 0;
  }

  get(key: K): V | undefined {
    if (this.over.size === 0) return this.base.get(key);
    const value = this.over.get(key);
    return value !== undefined || this.over.has(key) ? value : this.base.get(key);
  }

  /** `undefined` takes a key away. */
  with(changes: ReadonlyMap<K, V | undefined>): LayeredMap<K, V> {
    if (changes.size === 0) return this;
    if (this.isEmpty) return LayeredMap.of(present(changes));
    const over = new Map(this.over);
    for (const [key, value] of changes) over.set(key, value);
    if (over.size < smallest || over.size * largestShare < this.base.size)
      return new LayeredMap(this.base, over);
    const base = new Map(this.base);
    for (const [key, value] of over) {
      if (value === undefined) base.delete(key);
      else base.set(key, value);
    }
    return new LayeredMap(base, new Map());
  }

  *entries(): Generator<[K, V]> {
    for (const [key, value] of this.base) if (!this.over.has(key)) yield [key, value];
    for (const [key, value] of this.over) if (value !== undefined) yield [key, value];
  }
}

function present<K, V>(changes: ReadonlyMap<K, V | undefined>): ReadonlyMap<K, V> {
  for (const value of changes.values()) {
    if (value !== undefined) continue;
    return new Map([...changes].filter((entry): entry is [K, V] => entry[1] !== undefined));
  }
  return changes as ReadonlyMap<K, V>;
}

/** Below so many changes, or below this share of the whole, they are laid over it. */
const smallest = 64;
const largestShare = 8;
