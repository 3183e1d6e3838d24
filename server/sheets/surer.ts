/**
 * How sure readings have to be for something to be so.
 *
 *     neededFor(new Map([["rear.left.inner_limit", 0.0008]]), stands)   // half of that would do
 *
 * Must not know: what is read, and for what.
 */

/**
 * Which readings have to be surer than what they are read with, and how sure: where one alone is
 * enough, that which has to be so least, and those that would have to be as much so; all others as
 * they are read. Else all by the same share.
 */
export function neededFor(
  off: ReadonlyMap<string, number>,
  stands: (off: ReadonlyMap<string, number>) => boolean,
): ReadonlyMap<string, number> {
  const shareOf = (paths: readonly string[]): number | undefined => {
    const surer = (share: number) =>
      new Map([...off].map(([path, by]) => [path, paths.includes(path) ? share * by : by]));
    return stands(surer(0)) ? largest((share) => stands(surer(share)), 1) : undefined;
  };
  const all = [...off.keys()];
  const alone = all.length > mostTriedAlone ? [] : all.map((path) => shareOf([path]) ?? 0);
  const most = Math.max(0, ...alone);
  // Of those that mirror each other none is singled out.
  const chosen = most > 0 ? all.filter((_, at) => (alone[at] ?? 0) > 0.99 * most) : all;
  const share = shareOf(chosen);
  return new Map(
    share === undefined ? [] : chosen.map((path) => [path, share * (off.get(path) ?? 0)]),
  );
}

/** Of more readings none is looked at by itself. */
const mostTriedAlone = 8;

/** The largest share up to `most` with which something is so; it is so for all that are smaller. */
export function largest(isSo: (share: number) => boolean, most: number): number | undefined {
  if (isSo(most)) return most;
  let [inside, outside] = [0, most];
  for (let round = 0; round < halvings; round++) {
    const middle = (inside + outside) / 2;
    if (isSo(middle)) inside = middle;
    else outside = middle;
  }
  return inside > 0 ? inside : undefined;
}

/** Until a round figure that is enough is not missed by a hair. */
const halvings = 40;
