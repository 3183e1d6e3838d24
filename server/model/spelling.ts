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
    const far = distance(wanted, candidate.toLowerCase());
    if (far < least || (far === least && best !== undefined && candidate < best)) {
      best = candidate;
      least = far;
    }
  }
  return best;
}

/** ` did you mean …` as the tail of a sentence, or nothing. */
export function didYouMean(name: string, candidates: Iterable<string>): string | undefined {
  const near = nearest(name, candidates);
  return near === undefined ? undefined : `did you mean \`${near}\`?`;
}
