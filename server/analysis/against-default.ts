/**
 * More is given than fits, and what is over lands in a figure nobody wrote. Outside of what that can
 * be, the givens disagree: seen with assumed figures as they usually are they say so better. Within
 * it, its default is displaced: the build says so, at the givens.
 *
 * Must not know: how the figure came to be asked for.
 */
import type { Found } from "../findings/worded";
import { readFigure } from "../model/literal";
import type { ModelVariable } from "../model/model";
import { quantityValue, solveOverlay } from "../solve";
import type { Failure, GivenNumber } from "../solve/system";
import type { Contradiction } from "./analysis";
import { contradicted } from "./contradicted";
import { type FindingContext, failureFinding, latest } from "./findings";
import { type SolvedCell, shown } from "./reasons";
import type { CheckSource } from "./verdicts";

export function againstDefault(
  failure: Failure,
  context: FindingContext & CheckSource,
): Contradiction | undefined {
  const { solved } = context;
  const [index = -1] = failure.variables;
  const usual = usualOf(solved.figureAt(index), solved);
  const meant = usual ?? nearestPossible(failure, solved);
  if (failure.why !== "no-root" || failure.variables.length !== 1 || meant === undefined)
    return undefined;
  const assumed = new Map([[index, meant]]);
  for (const [other, { how }] of solved.solution.determinations.entries()) {
    const figure = how === "assumed" ? usualOf(solved.figureAt(other), solved) : undefined;
    if (figure !== undefined) assumed.set(other, figure);
  }
  const solution = solveOverlay(solved.solution, { givens: assumed });
  const before = new Set(solved.solution.conflicts.map(({ equation }) => equation));
  const conflict = solution.conflicts.find(({ equation }) => !before.has(equation));
  if (conflict === undefined) return undefined;
  // Left open it would not be what it can be: it takes part, whether or not that alone would mend it.
  const takesPart = conflict.givens.some(({ variable }) => variable === index);
  const givens = takesPart ? conflict.givens : [...conflict.givens, { variable: index }];
  const seen = { ...context, solved: solved.with(solution) };
  if (usual !== undefined) return contradicted({ ...conflict, givens }, [], seen);
  const finding = failureFinding(failure, context);
  return finding && contradicted({ ...conflict, givens }, [], seen, finding);
}

/** Nobody wrote it or asks for it, and it has a default that is not meant to be found out. */
export function mayBeDisplaced({ field, part, thing, entry }: ModelVariable): boolean {
  const { foundOut, default: usual } = part ?? field;
  return usual !== undefined && !foundOut && entry === undefined && !thing.asked.has(field.name);
}

/**
 * `w.flange would have to be 0.660 in, 1/2 in is usual`: the givens settle otherwise what has a
 * default, by more than their tolerances and rounding. Nothing where it is asked for, or meant to be
 * found out.
 */
export function displacedDefault(
  variable: ModelVariable,
  context: FindingContext,
): Found | undefined {
  const { solved, orderOf } = context;
  const { id, field } = variable;
  const usual = mayBeDisplaced(variable) ? usualOf(variable, solved) : undefined;
  if (usual === undefined) return undefined;
  const place = solved.placeOf(id) ?? -1;
  const value = solved.solution.values[place];
  if (solved.solution.determinations[place]?.how !== "solved" || value === undefined)
    return undefined;
  const { scale } = variable.variable;
  if (Math.abs(value - usual.value) <= 1e-6 * Math.max(scale, Math.abs(value))) return undefined;
  const { conflicts } = solveOverlay(solved.solution, { givens: new Map([[place, usual]]) });
  const conflict = conflicts.find(({ givens }) => givens.some((each) => each.variable === place));
  const givens = (conflict?.givens ?? []).flatMap((each) => {
    const found = each.variable === place ? undefined : solved.figureAt(each.variable);
    return found?.entry === undefined ? [] : [found];
  });
  const last = latest(givens, { orderOf });
  if (last?.entry === undefined) return undefined;
  return {
    is: "given/against-default",
    figure: shown(variable, value),
    field: field.name,
    usual: usual.value,
    givens: givens.map((each) => ({
      path: each.name,
      elsewhere: each === last ? undefined : each.entry?.anchor,
    })),
    anchor: last.entry.anchor,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** The end of its range that a figure lies beyond. */
function nearestPossible(
  { outside, variables }: Failure,
  solved: SolvedCell,
): GivenNumber | undefined {
  const range = solved.figureAt(variables[0] ?? -1)?.variable.range;
  if (outside === undefined || range === undefined) return undefined;
  const value = outside < range[0] ? range[0] : range[1];
  return { value, low: value, high: value, rounding: 0 };
}

/** The default of a figure, as if it were given; of a formula what it comes to. */
function usualOf(variable: ModelVariable | undefined, solved: SolvedCell): GivenNumber | undefined {
  const field = variable?.part ?? variable?.field;
  const node = field?.default;
  if (variable === undefined || node === undefined) return undefined;
  const reading = readFigure(node, variable.measure);
  if (reading.is === "figure") {
    const { value, low, high } = reading.figure;
    return { value, low, high, rounding: 0 };
  }
  const { solution } = solved;
  const place = solved.placeOf(variable.id) ?? -1;
  const index = solution.system.equations.findIndex(({ variables }, at) => {
    const { origin, equation } = (variables.includes(place) && solved.equationAt(at)) || {};
    const ofField = origin?.is === "default" && origin.field === field;
    return ofField && equation?.figures.at(-1) === variable.id;
  });
  const equation = solution.system.equations[index];
  if (equation === undefined) return undefined;
  const expression = {
    op: "subtract",
    left: equation.form.left,
    right: equation.form.right,
  } as const;
  const off = quantityValue(solution, { expression, variables: equation.variables });
  const value = (solution.values[place] ?? Number.NaN) - (off ?? Number.NaN);
  return Number.isFinite(value) ? { value, low: value, high: value, rounding: 0 } : undefined;
}
