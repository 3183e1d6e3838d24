/**
 * More is given than fits, and what is over would land in a figure nobody wrote, outside of what it
 * can be: seen with assumed figures as they usually are, the givens disagree, and say so better.
 *
 * Must not know: how the figure came to be asked for.
 */
import type { Finding } from "../model/finding";
import { readFigure } from "../model/literal";
import type { ModelVariable } from "../model/model";
import { solveOverlay } from "../solve";
import type { Failure, GivenNumber } from "../solve/system";
import { conflictFinding, type FindingContext } from "./findings";

export function againstDefault(
  { why, variables }: Failure,
  context: FindingContext,
): Finding | undefined {
  const { solved } = context;
  const [index = -1] = variables;
  const usual = usualOf(solved.figureAt(index));
  if (why !== "no-root" || variables.length !== 1 || usual === undefined) return undefined;
  const assumed = new Map([[index, usual]]);
  for (const [other, { how }] of solved.solution.determinations.entries()) {
    const figure = how === "assumed" ? usualOf(solved.figureAt(other)) : undefined;
    if (figure !== undefined) assumed.set(other, figure);
  }
  const solution = solveOverlay(solved.solution, { givens: assumed });
  const conflict = solution.conflicts.find(({ givens }) =>
    givens.some((each) => each.variable === index),
  );
  return conflict && conflictFinding(conflict, { ...context, solved: solved.with(solution) });
}

// ───────────────────────────── helpers ─────────────────────────────

/** The written default of a figure, as if it were given. */
function usualOf(variable: ModelVariable | undefined): GivenNumber | undefined {
  const node = (variable?.part ?? variable?.field)?.default;
  if (variable === undefined || node === undefined) return undefined;
  const reading = readFigure(node, variable.measure, () => "");
  if (reading.is !== "figure") return undefined;
  const { value, low, high } = reading.figure;
  return { value, low, high, rounding: 0 };
}
