/**
 * What putting a build together may cost: no text, however short, makes parts or sums without
 * measure. Who spends the last of it is told at the place that spent it; everything else goes on.
 *
 *     roomForPart(thing)          →   false where its top-level thing holds too many parts already
 *     terms.spend(400, place)     →   false where the formulas of a thing have taken too many terms
 *
 * Counts, not clocks, and in the order of the text: the same text always gives the same answer,
 * whatever was edited before. Must not know: why something is made.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Found } from "../findings/worded";
import type { Thing } from "./thing";

/** Parts that nobody wrote, in one thing at the top of a file; far more than any real one has. */
const mostParts = 2_000;

/** Things and figures that lists and `each` go through, in the formulas of one thing and of all. */
const mostTermsOfOne = 50_000;
export const mostTermsOfAll = 200_000;

/** Asked before a part that nobody wrote is made inside of `owner`. */
export function roomForPart(owner: Thing): boolean {
  const { top } = owner;
  top.impliedParts++;
  if (top.impliedParts <= mostParts) return true;
  top.overfullFrom ??= owner.path;
  return false;
}

/** What is wrong with a thing that has no room for its parts. */
export function overfullFinding({ path, overfullFrom, anchor }: Thing): Found | undefined {
  if (overfullFrom === undefined || anchor === undefined) return undefined;
  const from = shortened(overfullFrom);
  return { is: "build/too-much parts", path, most: mostParts, from, anchor };
}

/** The terms of one thing's formulas, or of one check or relation at the top of a file. */
export class Terms {
  readonly limit: number;
  spent = 0;

  /** `left`: what those before it in the text have left. */
  constructor(
    left: number,
    private readonly report: (found: Found) => void,
  ) {
    this.limit = limitOf(left);
  }

  /** Asked before so many more items of lists are gone through, for a formula at `place`. */
  spend(count: number, place: Anchor | undefined): boolean {
    const before = this.spent;
    this.spent += count;
    if (this.spent <= Math.max(0, this.limit)) return true;
    // Below zero, who took the last of it has been told.
    if (before <= this.limit && place !== undefined) {
      const here = this.limit === mostTermsOfOne;
      const most = here ? mostTermsOfOne : mostTermsOfAll;
      this.report({ is: "build/too-much terms", most, here, anchor: place });
    }
    return false;
  }

  /** Whether what was made with so many left would be the same with `left`. */
  static same({ limit, spent }: Pick<Terms, "limit" | "spent">, left: number): boolean {
    const now = limitOf(left);
    return now === limit || (spent <= limit && spent <= now);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function limitOf(left: number): number {
  return Math.max(-1, Math.min(left, mostTermsOfOne));
}

function shortened(path: string): string {
  return path.length <= 60 ? path : `${path.slice(0, 59)}…`;
}
