/**
 * Whether two rows say the same: figures, words and lists by what they hold; things, pieces of text
 * and results of an analysis by being the very same, since an analysis keeps these where they are.
 *
 *     isSame({ count: 4, thing }, { count: 4, thing })   →   true
 *
 * Must not know: what rows are about.
 */

/** Rows hold lists of lists, and no more than that. */
const deepest = 4;

export function isSame(one: unknown, other: unknown, depth = 0): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null)
    return false;
  if (depth > deepest || Object.getPrototypeOf(one) !== Object.getPrototypeOf(other)) return false;
  if (Array.isArray(one)) {
    if (!Array.isArray(other) || one.length !== other.length) return false;
    return one.every((each, at) => isSame(each, other[at], depth + 1));
  }
  if (Object.getPrototypeOf(one) !== Object.prototype) return false;
  const keys = Object.keys(one);
  if (keys.length !== Object.keys(other).length) return false;
  return keys.every((key) => {
    const [left, right] = [one[key as keyof typeof one], other[key as keyof typeof other]];
    return identities.has(key) ? left === right : isSame(left, right, depth + 1);
  });
}

/** What stands behind these is kept by whoever made it. */
const identities: ReadonlySet<string> = new Set(["thing", "item", "field"]);
