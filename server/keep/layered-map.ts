/**
 * A map that is never written to: each change makes another, which shares what did not change.
 *
 *     const next = map.with([["left", 3], ["right", undefined]]);   // `map` stays as it was
 *
 * A change costs what it changes, and now and then one copy of what changed since the last time.
 *
 * Must not know: what is kept in it.
 */
type Changes<K, V> = ReadonlyMap<K, V | undefined>;

export class LayeredMap<K, V> {
  private constructor(
    private readonly base: ReadonlyMap<K, V>,
    /** Laid over it one upon the other, each with fewer changes than the one below: few in all. */
    private readonly layers: readonly Changes<K, V>[],
  ) {}

  static of<K, V>(entries: ReadonlyMap<K, V>): LayeredMap<K, V> {
    return new LayeredMap(entries, []);
  }

  get isEmpty(): boolean {
    return this.base.size === 0 && this.layers.length === 0;
  }

  get(key: K): V | undefined {
    const { layers } = this;
    for (let at = layers.length - 1; at >= 0; at--) {
      const layer = layers[at] as Changes<K, V>;
      const value = layer.get(key);
      if (value !== undefined || layer.has(key)) return value;
    }
    return this.base.get(key);
  }

  /** `undefined` takes a key away. */
  with(changes: Changes<K, V>): LayeredMap<K, V> {
    if (changes.size === 0) return this;
    if (this.isEmpty) return LayeredMap.of(present(changes));
    const layers = this.layers.slice();
    let over = changes;
    const isLayerOver = (below: Changes<K, V>): boolean =>
      Math.max(over.size, smallest) * step <= below.size;
    for (let below = layers.at(-1); below !== undefined && !isLayerOver(below); ) {
      over = laid(over, below);
      layers.pop();
      below = layers.at(-1);
    }
    if (layers.length > 0 || isLayerOver(this.base))
      return new LayeredMap(this.base, [...layers, over]);
    return LayeredMap.of(present(laid(over, this.base)));
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function laid<K, V>(over: Changes<K, V>, below: Changes<K, V>): Changes<K, V> {
  const both = new Map(below);
  for (const [key, value] of over) both.set(key, value);
  return both;
}

function present<K, V>(changes: Changes<K, V>): ReadonlyMap<K, V> {
  for (const value of changes.values()) {
    if (value !== undefined) continue;
    return new Map([...changes].filter((entry): entry is [K, V] => entry[1] !== undefined));
  }
  return changes as ReadonlyMap<K, V>;
}

/** A layer has so many times fewer changes than the one below; less than these count as these. */
const smallest = 64;
const step = 8;
