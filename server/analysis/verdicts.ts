/**
 * Whether a check holds as a build comes out.
 *
 * Must not know: what would make it hold, how it is told.
 */

import type { Writer } from "../findings/writer";
import type { ModelClaim } from "../model/model";
import { verdictOf } from "../solve";
import type { Claim, Solution, Verdict } from "../solve/system";
import type { Reading } from "./reading";
import { Solved } from "./reasons";

/** What a check is asked of. */
export interface CheckSource {
  readonly writer: Writer;
  readonly reading: Reading;
}

/** What was judged once is not judged again. */
export function verdictOfClaim({ reading }: CheckSource, claim: ModelClaim): Verdict {
  if (!claim.applies) return notJudged;
  const solved = new Solved(reading, reading.cells.solvedFor(claim.figures, "outcome"));
  const { solution } = solved;
  const { condition, when, variables } = solved.local(claim);
  const known = verdicts.get(solution) ?? [];
  verdicts.set(solution, known);
  const same = known.find(
    (each) =>
      each.condition === condition &&
      each.when === when &&
      each.variables.every((variable, at) => variable === variables[at]),
  );
  if (same !== undefined) return same.verdict;
  const verdict = verdictOf(solution, { condition, when, variables });
  known.push({ condition, when, variables, verdict });
  return verdict;
}

/** What was judged of a solution already: a line that only moved asks nothing new of it. */
const verdicts = new WeakMap<Solution, (Claim & { readonly verdict: Verdict })[]>();

const notJudged: Verdict = { nominal: "unknown", rss: "unknown", worst: "unknown", open: [] };
