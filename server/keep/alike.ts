/**
 * Keeps the last few values made for one object, for as long as that lives: what comes out the same
 * once more is the same value, so that what is made of it need not be made again.
 *
 *     const joints = new Alike<Thing, Joint>(3); joints.same(thing, made, isSame)
 *
 * Must not know: what is kept.
 */
export class Alike<K extends object, V> {
  private readonly map = new WeakMap<K, V[]>();

  constructor(private readonly most: number) {}

  /** The newest one that still holds. */
  find(key: K, holds: (value: V) => boolean): V | undefined {
    return this.map.get(key)?.find(holds);
  }

  keep(key: K, value: V): V {
    const before = this.map.get(key);
    if (before === undefined) this.map.set(key, [value]);
    else this.map.set(key, [value, ...before.slice(0, this.most - 1)]);
    return value;
  }

  /** One kept before where it is the same as `made`. */
  same(key: K, made: V, isSame: (one: V, other: V) => boolean): V {
    return this.find(key, (kept) => isSame(kept, made)) ?? this.keep(key, made);
  }
}
