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
import { sensitivities, toStep } from "../solve";
import type { Wanted } from "./analysis";
import { outcomeOfFigure, wantedOf } from "./outcome";
import type { Reading } from "./reading";
import { Solved, shown } from "./reasons";

export function wishFindings(reading: Reading, figures: readonly ModelVariable[]): Found[] {
  return figures.flatMap((variable): Found[] => {
    const wanted = wantedOf(reading, variable);
    if (wanted === undefined || variable.entry === undefined) return [];
    if (isMet(reading, variable, wanted)) return [];
    const comes = outcomeOfFigure(reading, variable);
    if (comes === undefined) return [];
    return [
      {
        is: "wanted/missed",
        figure: shown(variable),
        wanted: wanted.si,
        comes: comes.si,
        accepted: wanted.toleranced ? wanted : undefined,
        against: againstIt(reading, variable, wanted.si),
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
  if (wanted.met) return true;
  const drawn = cell.solution.values[place] ?? Number.NaN;
  return !(Math.abs(drawn - wanted.si) > slack);
}

/** The figure that stands most against a wish, and what it would have to be. */
function againstIt(
  reading: Reading,
  variable: ModelVariable,
  wanted: number,
): Fact<"wanted/missed">["against"] {
  const cell = reading.cells.cellOf(variable.id);
  const place = cell?.placeOf(variable.id);
  if (cell === undefined || place === undefined) return undefined;
  const { solution } = cell;
  const solved = new Solved(reading, cell);
  const quantity = { expression: { op: "slot", index: 0 }, variables: [place] } as const;
  // What was read of a thing that is made already stands first: nothing else has changed.
  const order = ["made", undefined, "bought", "measured"];
  const [against] = [...sensitivities(solution, quantity)]
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
