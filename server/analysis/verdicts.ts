/**
 * Whether a check holds as a build comes out.
 *
 * Must not know: what would make it hold, how it is told.
 */

import type { Writer } from "../findings/writer";
import { inTime } from "../keep/patience";
import type { ModelClaim } from "../model/model";
import { atAGlance, seenGiven, seenIn, verdictOf } from "../solve";
import type { Claim, Solution, Verdict } from "../solve/system";
import type { Reading } from "./reading";
import { SolvedCell } from "./reasons";

/** What a check is asked of. */
export interface CheckSource {
  readonly writer: Writer;
  readonly reading: Reading;
}

/** Most checks hold by far, or something they need is open; the others are looked at closely. */
export function verdictOfClaim(source: CheckSource, claim: ModelClaim): Verdict {
  if (!claim.applies) return notJudged;
  switch (seen(source, claim)) {
    case "holds":
      return clear(source, claim);
    case "open":
      return open(source, claim);
    default:
      return judged(source, claim);
  }
}

function seen({ reading: { cells } }: CheckSource, claim: ModelClaim) {
  if (claim.when !== undefined || claim.figures.length === 0) return "unclear";
  const figures = [];
  for (const id of claim.figures) {
    const cell = cells.cellOf(id);
    if (cell?.hasModes === true) return "unclear";
    figures.push(
      cell === undefined
        ? seenGiven(cells.variable(id))
        : seenIn(cell.core.outcome, cell.placeOf(id) ?? -1),
    );
  }
  return atAGlance(claim.condition, figures);
}

/** How much is left is worked out when it is first read. */
function clear(source: CheckSource, claim: ModelClaim): Verdict {
  return {
    nominal: "holds",
    rss: "holds",
    worst: "holds",
    get margin() {
      return inTime(() => judged(source, claim).margin, undefined);
    },
    get spread() {
      return inTime(() => judged(source, claim).spread, undefined);
    },
    open: [],
  };
}

/** What it lacks is looked for when it is first read. */
function open(source: CheckSource, claim: ModelClaim): Verdict {
  return {
    nominal: "unknown",
    rss: "unknown",
    worst: "unknown",
    get open() {
      return inTime(() => judged(source, claim).open, []);
    },
  };
}

/** What was judged once is not judged again. */
function judged({ reading }: CheckSource, claim: ModelClaim): Verdict {
  const solved = new SolvedCell(reading, reading.cells.solvedFor(claim.figures, "outcome"));
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

/** Of what does not apply, and of what there was no time for. */
export const notJudged: Verdict = {
  nominal: "unknown",
  rss: "unknown",
  worst: "unknown",
  open: [],
};
