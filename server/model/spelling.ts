/**
 * Near names: what the builder may have meant.
 *
 *     nearest("face_to_fcae", ["face_to_face", "standoff"])   →   "face_to_face"
 */
import { distance } from "fastest-levenshtein";
import { mostListed } from "../findings/phrases";

/** Words of fewer letters than this say too little to be what two names have in common. */
const shortestWord = 3;

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

/**
 * What is told of a name that is not among those there are: a near one, or the first few, those
 * before all others that have a word in common with it (`diameter`: `overall_diameter`).
 */
export function misnamed(
  name: string,
  candidates: Iterable<string>,
): { readonly near?: string; readonly known: readonly string[] } {
  const all = [...candidates];
  const near = nearest(name, all);
  if (near !== undefined) return { near, known: [] };
  const alike = all.filter((candidate) => shareAWord(name, candidate));
  return { known: firstFew([...alike, ...all]) };
}

/** The first few names, one more than are told. */
export function firstFew(names: readonly string[]): readonly string[] {
  return [...new Set(names)].slice(0, mostListed + 1);
}

/** Letters to insert, delete or replace; two neighbors swapped count as one slip. */
export function slips(one: string, other: string): number {
  if (one.length === other.length && one !== other) {
    const at = [...one].findIndex((letter, index) => letter !== other[index]);
    const swapped = `${one.slice(0, at)}${one[at + 1] ?? ""}${one[at] ?? ""}${one.slice(at + 2)}`;
    if (swapped === other) return 1;
  }
  return distance(one, other);
}

// ───────────────────────────── helpers ─────────────────────────────

/** Whether a word of one name begins a word of the other: `link` and `linkage`, not `in` and `inner`. */
function shareAWord(one: string, other: string): boolean {
  const words = other.toLowerCase().split("_");
  return one
    .toLowerCase()
    .split("_")
    .filter((word) => word.length >= shortestWord)
    .some((word) =>
      words.some(
        (its) => its.startsWith(word) || (its.length >= shortestWord && word.startsWith(its)),
      ),
    );
}
