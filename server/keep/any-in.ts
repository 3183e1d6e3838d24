/**
 * Whether two sets have anything in common.
 *
 * Must not know: what is in them.
 */
export function anyIn<T>(some: ReadonlySet<T>, others: ReadonlySet<T>): boolean {
  const [few, many] = some.size < others.size ? [some, others] : [others, some];
  for (const each of few) if (many.has(each)) return true;
  return false;
}
