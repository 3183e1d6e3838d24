/**
 * A map of mostly none or a few: in a row of keys and values as long as there are few, which weighs a
 * fifth of a map. Things are made by the thousand, and most hold next to nothing.
 *
 *     new SmallMap<string, Thing>().set("left", left).get("left")
 *
 * Must not know: what is in it.
 */

/** Beyond so many a map finds them sooner. */
const FEW = 8;

export class SmallMap<K, V> implements ReadonlyMap<K, V> {
  /** Key, value, key, value, …, in the order in which they came. */
  private row: unknown[] | undefined;
  private map: Map<K, V> | undefined;

  get size(): number {
    return this.map?.size ?? (this.row?.length ?? 0) / 2;
  }

  get(key: K): V | undefined {
    if (this.map !== undefined) return this.map.get(key);
    const at = this.placeOf(key);
    return at < 0 ? undefined : (this.row![at + 1] as V);
  }

  has(key: K): boolean {
    return this.map !== undefined ? this.map.has(key) : this.placeOf(key) >= 0;
  }

  set(key: K, value: V): this {
    if (this.map !== undefined) {
      this.map.set(key, value);
      return this;
    }
    const at = this.placeOf(key);
    if (at >= 0) this.row![at + 1] = value;
    else if (this.row === undefined) this.row = [key, value];
    // Pushed, it would take room for a dozen more.
    else if (this.row.length < 2 * FEW) this.row = this.row.concat([key, value]);
    else {
      this.map = new Map(this.entries());
      this.row = undefined;
      this.map.set(key, value);
    }
    return this;
  }

  delete(key: K): boolean {
    if (this.map !== undefined) return this.map.delete(key);
    const at = this.placeOf(key);
    if (at < 0) return false;
    this.row = this.row!.filter((_, place) => place !== at && place !== at + 1);
    return true;
  }

  entries(): MapIterator<[K, V]> {
    return this.map?.entries() ?? new Walk<[K, V]>(this, "entries");
  }

  [Symbol.iterator](): MapIterator<[K, V]> {
    return this.entries();
  }

  keys(): MapIterator<K> {
    return this.map?.keys() ?? new Walk<K>(this, "keys");
  }

  values(): MapIterator<V> {
    return this.map?.values() ?? new Walk<V>(this, "values");
  }

  forEach(each: (value: V, key: K, map: ReadonlyMap<K, V>) => void): void {
    for (const [key, value] of this.entries()) each(value, key, this);
  }

  /** Key, value, key, value, …; nothing where there are none, or more than a few. */
  get few(): readonly unknown[] | undefined {
    return this.row;
  }

  private placeOf(key: K): number {
    const { row } = this;
    if (row !== undefined)
      for (let at = 0; at < row.length; at += 2) if (row[at] === key) return at;
    return -1;
  }
}

/** Goes through a row. Whoever does may add to it, as to any map, until a map is made of it. */
class Walk<T> implements MapIterator<T> {
  private done = 0;
  private rest: MapIterator<unknown> | undefined;

  constructor(
    private readonly of: SmallMap<unknown, unknown>,
    private readonly what: "keys" | "values" | "entries",
  ) {}

  [Symbol.iterator](): this {
    return this;
  }

  next(): IteratorResult<T, undefined> {
    const { of, what, done } = this;
    if (this.rest !== undefined) return this.rest.next() as IteratorResult<T, undefined>;
    const { few } = of;
    if (few !== undefined && 2 * done < few.length) {
      this.done++;
      const [key, value] = [few[2 * done], few[2 * done + 1]];
      const found = what === "keys" ? key : what === "values" ? value : [key, value];
      return { done: false, value: found as T };
    }
    if (few !== undefined || of.size === 0) return { done: true, value: undefined };
    this.rest = of[what]();
    for (let met = 0; met < done; met++) this.rest.next();
    return this.next();
  }
}
