/**
 * Where what stands in one row stands in another one that begins and ends like it: after an edit nearly
 * all of it does, moved by what came or went between.
 *
 *     aligned(["a", "b", "c"], ["a", "x", "b", "c"])(1)   →   2
 *
 * Must not know: what stands there.
 */

/** For a place in the one its place in the other, which has each once; nothing where it is not there. */
export function aligned<T>(
  one: readonly T[],
  other: readonly T[],
  /** What it is known by. */
  keyOf: (each: T) => unknown = (each) => each,
): (place: number) => number | undefined {
  const same = (place: number, there: number): boolean =>
    keyOf(one[place] as T) === keyOf(other[there] as T);
  const most = Math.min(one.length, other.length);
  let first = 0;
  while (first < most && same(first, first)) first++;
  const moved = other.length - one.length;
  let end = one.length;
  while (end > first && end + moved > first && same(end - 1, end - 1 + moved)) end--;
  const between = new Map<unknown, number>();
  for (let place = first; place < end + moved; place++)
    between.set(keyOf(other[place] as T), place);
  const middle = one.slice(first, end).map((each) => between.get(keyOf(each)));
  return (place) => (place < first ? place : place >= end ? place + moved : middle[place - first]);
}
