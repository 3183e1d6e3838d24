/**
 * Who records say did something, and whether that is somebody else.
 *
 *     isSecond("T. Varga", "Tess Varga and O. Linde")   →   false
 *
 * Must not know: what was done.
 */

/**
 * Whether `name` holds somebody who is not among `others`; nobody named is no second, nor is a
 * shorter name of the same person.
 */
export function isSecond(name: string | undefined, others: string | undefined): boolean {
  const first = people(others);
  return people(name).some((each) => !first.some((other) => mayBe(each, other)));
}

/** Whether somebody in `name` is not written as any of `others`. */
export function isOther(name: string | undefined, others: string | undefined): boolean {
  const first = people(others);
  return people(name).some((each) => !first.includes(each));
}

/** "J. Brandt, certified welder and R. Calder": what stands behind a comma is no name; lower case. */
export function people(names: string | undefined): string[] {
  return (names ?? "")
    .toLowerCase()
    .split(/\s*(?:;|&|\/|\band\b|\+)\s*/)
    .map((each) => each.replace(/,.*$/, "").trim())
    .filter((each) => each !== "");
}

// ───────────────────────────── helpers ─────────────────────────────

/** "tess", "t. varga" and "tess varga" may be one. */
function mayBe(one: string, other: string): boolean {
  const [short = [], long = []] = [one, other]
    .map((name) => name.split(/[\s.]+/).filter((word) => word !== ""))
    .sort((first, second) => first.length - second.length);
  const used = new Set<string>();
  return short.every((word) => {
    const like = long.find((each) => !used.has(each) && isShortFor(word, each));
    if (like !== undefined) used.add(like);
    return like !== undefined;
  });
}

function isShortFor(one: string, other: string): boolean {
  const initial = one.length === 1 || other.length === 1;
  return one === other || (initial && one.charAt(0) === other.charAt(0));
}
