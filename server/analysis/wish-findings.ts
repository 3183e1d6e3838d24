/**
 * Wishes that do not come out: what was wanted, what comes out, and what stands against it.
 *
 *     left.inner_gap was wanted 7/8 in and comes out 0.854 in, 0.021 in under
 *
 * A wish that misses by no more than what it is made to is met; one with a ± of its own is met within.
 *
 * Must not know: how anything was solved.
 */
import type { Fact, Found } from "../findings/worded";
import type { ModelVariable } from "../model/model";
import { answersOf, sensitivities, toStep, wishOf } from "../solve";
import type { Solution } from "../solve/system";
import type { Wanted } from "./analysis";
import { outcomeOfFigure, wantedOf } from "./outcome";
import type { Reading } from "./reading";
import { SolvedCell, shown } from "./reasons";

export function wishFindings(reading: Reading, figures: readonly ModelVariable[]): Found[] {
  return figures.flatMap((variable): Found[] => {
    if (variable.variable.wish === undefined || variable.entry === undefined) return [];
    const wanted = wantedOf(reading, variable);
    if (wanted === undefined) return [];
    if (isMet(reading, variable, wanted)) return [];
    const comes = outcomeOfFigure(reading, variable);
    if (comes === undefined) return [];
    const shares = answersBoth(reading, variable, wanted);
    return [
      {
        is: "wanted/missed",
        figure: shown(variable),
        wanted: wanted.si,
        comes: comes.si,
        accepted: wanted.toleranced ? wanted : undefined,
        against: shares === undefined ? againstIt(reading, variable, wanted) : undefined,
        shares,
        anchor: variable.entry.anchor,
      },
    ];
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function isMet({ cells }: Reading, { id, figure }: ModelVariable, wanted: Wanted): boolean {
  const cell = cells.cellOf(id);
  const place = cell?.placeOf(id) ?? -1;
  const comes = cell?.core.outcome.values[place] ?? Number.NaN;
  if (cell === undefined || !Number.isFinite(comes)) return true;
  const nothing = 1e-9 * Math.abs(wanted.si);
  if (wanted.toleranced) {
    return comes >= wanted.low - nothing && comes <= wanted.high + nothing;
  }
  const slack = (figure?.rounding ?? 0) + nothing;
  const drawn = cell.solution.values[place] ?? Number.NaN;
  if (!wanted.met && Math.abs(drawn - wanted.si) > slack) return false;
  const off = Math.abs(comes - wanted.si);
  if (off <= slack) return true;
  // By no more than the steps of what is made.
  const { outcome } = cell.core;
  const made = answersOf(cell.solution, outcome);
  const steps = [...slopesOf(outcome, place)].reduce((sum, [other, slope]) => {
    const step = made.has(other) ? outcome.system.variables[other]?.making?.step : undefined;
    return sum + Math.abs(slope) * (step ?? 0);
  }, 0);
  return off <= slack + steps;
}

function slopesOf(solution: Solution, place: number): ReadonlyMap<number, number> {
  return sensitivities(solution, {
    expression: { op: "slot", index: 0 },
    variables: [place],
  });
}

/** What answers a wish and another one at once, where as drawn it is met. */
function answersBoth(
  reading: Reading,
  { id }: ModelVariable,
  wanted: Wanted,
): Fact<"wanted/missed">["shares"] {
  const cell = reading.cells.cellOf(id);
  const place = cell?.placeOf(id);
  if (cell === undefined || place === undefined || !wanted.met) return undefined;
  const solved = new SolvedCell(reading, cell);
  const { solution, core } = cell;
  const wish = wishOf(solution, place);
  const slopes = slopesOf(core.outcome, place);
  for (const [variable, wishes] of answersOf(solution, core.outcome)) {
    if (wish === undefined || !wishes.includes(wish) || wishes.length < 2) continue;
    if ((slopes.get(variable) ?? 0) === 0) continue;
    const made = solved.figureAt(variable);
    const others = wishes.flatMap((equation) => {
      const [first = -1] = solution.system.equations[equation]?.variables ?? [];
      return equation === wish ? [] : (solved.figureAt(first)?.name ?? []);
    });
    if (made !== undefined)
      return { made: shown(made, core.outcome.values[variable]), wishes: others };
  }
  return undefined;
}

/** The figure that stands most against a wish, and what it would have to be. */
function againstIt(
  reading: Reading,
  variable: ModelVariable,
  { si: wanted, met }: Wanted,
): Fact<"wanted/missed">["against"] {
  const cell = reading.cells.cellOf(variable.id);
  const place = cell?.placeOf(variable.id);
  if (cell === undefined || place === undefined) return undefined;
  // What is met as drawn is missed by what is made.
  const solution = met ? cell.core.outcome : cell.solution;
  const solved = new SolvedCell(reading, cell);
  // What was read of a thing that is made already stands first: nothing else has changed.
  const order = ["made", undefined, "bought", "measured"];
  const [against] = [...slopesOf(solution, place)]
    .flatMap(([other, slope]) => {
      const found = solved.figureAt(other);
      if (found?.figure === undefined || found.part !== undefined || slope === 0) return [];
      const recorded = found.entry?.layer === "record" && found.field.role !== "measured";
      const rank = recorded ? 0 : order.indexOf(found.variable.role) + 1;
      return rank < 1 && !recorded ? [] : [{ found, slope, rank }];
    })
    .sort(
      (one, other) =>
        one.rank - other.rank ||
        Math.abs(other.slope) - Math.abs(one.slope) ||
        (one.found.name < other.found.name ? -1 : 1),
    );
  if (against === undefined) return undefined;
  const { found, slope } = against;
  const { role, given } = found.variable;
  const now = given?.value ?? 0;
  const needed = now + (wanted - (solution.values[place] ?? wanted)) / slope;
  const step = role === "made" ? found.variable.making?.step : undefined;
  const isRead = role === "measured" && found.entry?.layer !== "record";
  return { ...shown(found, now), role, needed: isRead ? undefined : toStep(needed, step) };
}
