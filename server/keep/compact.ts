/**
 * A list as it is kept by the thousand: with no room for more, and one and the same where it is of nothing.
 *
 *     compact([]) === compact([])
 *
 * Must not know: what is in it.
 */
export function compact<T>(list: readonly T[]): readonly T[] {
  return list.length === 0 ? nothing : list.slice();
}

const nothing: readonly never[] = [];
