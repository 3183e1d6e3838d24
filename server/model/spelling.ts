/**
 * Near names: what the builder may have meant.
 *
 *     nearest("face_to_fcae", ["face_to_face", "standoff"])   →   "face_to_face"
 */
import { distance } from "fastest-levenshtein";

/** The candidate closest to `name`, where it is close enough to be a slip of the finger. */
export function nearest(name: string, candidates: Iterable<string>): string | undefined {
  if (name.length > 60) return undefined;
  const wanted = name.toLowerCase();
  let best: string | undefined;
  let least = Math.max(1, Math.floor(wanted.length / 3)) + 0.5;
  for (const candidate of candidates) {
    // Whoever wrote it knows that name: something else about it is wrong.
    if (candidate === name) continue;
    const far = slips(wanted, candidate.toLowerCase());
    if (far < least || (far === least && best !== undefined && candidate < best)) {
      best = candidate;
      least = far;
    }
  }
  return best;
}

/** `did you mean …?`, or nothing. */
export function didYouMean(name: string, candidates: Iterable<string>): string | undefined {
  const near = nearest(name, candidates);
  return near === undefined ? undefined : `did you mean \`${near}\`?`;
}

/** The near name where there is one, else the first few of the names there are. */
export function nameHint(name: string, candidates: readonly string[]): string | undefined {
  return didYouMean(name, candidates) ?? knownHere(candidates);
}

/** `known here: a, b, c, …` */
export function knownHere(candidates: readonly string[]): string | undefined {
  const names = [...new Set(candidates)];
  if (names.length === 0) return undefined;
  return `known here: ${names.slice(0, mostListed).join(", ")}${names.length > mostListed ? ", …" : ""}`;
}

/** "an axle", "a road wheel": a name with its article, underscores as spaces. */
export function withArticle(name: string): string {
  const words = name.replaceAll("_", " ");
  return `${/^[aeiou]/i.test(words) ? "an" : "a"} ${words}`;
}

/** `2,000` */
export function inThousands(count: number): string {
  return count.toLocaleString("en-US");
}

// ───────────────────────────── helpers ─────────────────────────────

const mostListed = 10;

/** Letters to insert, delete or replace; two neighbours swapped count as one slip. */
function slips(one: string, other: string): number {
  if (one.length === other.length && one !== other) {
    const at = [...one].findIndex((letter, index) => letter !== other[index]);
    const swapped = `${one.slice(0, at)}${one[at + 1] ?? ""}${one[at] ?? ""}${one.slice(at + 2)}`;
    if (swapped === other) return 1;
  }
  return distance(one, other);
}
