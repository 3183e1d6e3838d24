/**
 * What is worked out when it is first asked for, and then stays.
 *
 *     const limits = once(() => work());   limits();   limits()   // worked once
 *     madeOnce(ranges, field, () => readRange(field))             // once for each field
 *
 * Must not know: what it comes to.
 */
export function once<T>(make: () => T): () => T {
  let made: { readonly of: T } | undefined;
  return () => {
    made ??= { of: make() };
    return made.of;
  };
}

/** What a map holds for a key, made where it holds nothing yet. */
export function madeOnce<K, V>(
  map: {
    get(key: K): V | undefined;
    has(key: K): boolean;
    set(key: K, value: V): unknown;
  },
  key: K,
  make: () => V,
): V {
  const before = map.get(key);
  if (before !== undefined || map.has(key)) return before as V;
  const made = make();
  map.set(key, made);
  return made;
}
