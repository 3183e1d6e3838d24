/**
 * How a figure comes out, and what was wanted of it.
 *
 *     outcomeOfFigure(reading, gap)   →   { si: 0.0221, worst: 0.004, rss: 0.002, … }
 *
 * Must not know: how anything is worded or shown.
 */
import { textAt } from "../model/anchor";
import type { ModelVariable } from "../model/model";
import { nominalAnchor } from "../model/thing";
import { makingOff, spreadOf, toStep } from "../solve";
import type { Outcome, Wanted } from "./analysis";
import type { Reading } from "./reading";

/** Nothing where the figure is open. */
export function outcomeOfFigure(
  { cells }: Reading,
  { id, variable }: ModelVariable,
): Outcome | undefined {
  const solved = cells.solvedFor([id], "outcome");
  const { solution } = solved;
  const place = solved.placeOf(id) ?? -1;
  const value = solution.values[place];
  if (value === undefined || !Number.isFinite(value)) return undefined;
  const quantity = { expression: { op: "slot", index: 0 }, variables: [place] } as const;
  const spread = spreadOf(solution, quantity);
  const { role, making, given } = variable;
  // What is made and follows from others is made to its step all the same; made or given, it is no
  // surer than its making.
  const made = role === "made" && making !== undefined;
  const si = made && given === undefined ? toStep(value, making.step) : value;
  const said = given !== undefined && given.high > given.low;
  const least = made && !said ? makingOff(making, value) : 0;
  const below = Math.max(spread?.worstBelow ?? 0, least);
  const above = Math.max(spread?.worstAbove ?? 0, least);
  return {
    si,
    spread,
    worst: Math.max(below, above),
    rss: Math.max(spread?.rss ?? 0, least),
    low: si - below,
    high: si + above,
  };
}

/** What is written of a figure that is wanted and no more. */
export function wantedOf({ cells }: Reading, about: ModelVariable): Wanted | undefined {
  const { id, variable, figure, entry } = about;
  const { wish } = variable;
  const cell = cells.cellOf(id);
  if (wish === undefined || figure === undefined || cell === undefined) return undefined;
  const place = cell.placeOf(id) ?? -1;
  const near = (value: number | undefined): boolean =>
    value !== undefined &&
    Math.abs(value - wish.value) <= 1e-9 * Math.max(Math.abs(wish.value), variable.scale);
  const anchor = entry === undefined ? undefined : nominalAnchor(entry);
  return {
    si: wish.value,
    low: wish.low,
    high: wish.high,
    toleranced: figure.toleranced,
    written: anchor === undefined ? undefined : textAt(anchor).replaceAll(/\s+/g, " "),
    met: near(cell.solution.values[place]),
    get held() {
      return near(cell.core.outcome.values[place]);
    },
  };
}
