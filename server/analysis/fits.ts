/**
 * What would make a failing check hold: one figure changed, else two, put into the build as if it
 * were written there.
 *
 *     fitsOf(source, claim)   →   [{ offers: [{ path: "w.offset", shown: "6 mm" }], moves: […], breaks: […] }]
 *
 * Must not know: how changes are offered.
 */

import type { Fix } from "../findings/finding";
import type { Writer } from "../findings/writer";
import { timeIsUp } from "../keep/patience";
import type { ModelClaim, ModelVariable } from "../model/model";
import { anchorOfThing } from "../model/thing";
import { mendsFor } from "../solve";
import { displayOf, readUnit } from "../units";
import { fixOf, linesOf, type PlacedFit, placedChange } from "./placed-changes";
import { SolvedCell } from "./reasons";
import { byEffect, effectOf, holdsAt } from "./tried";
import type { CheckSource } from "./verdicts";

/** Those that break nothing first, of these the gentlest. */
export function fitsOf(source: CheckSource, claim: ModelClaim): PlacedFit[] {
  const { reading, writer } = source;
  if (!claim.applies) return [];
  const cell = reading.cells.wholeFor(claim.figures);
  const solved = new SolvedCell(reading, cell);
  const increment = (index: number) => incrementOf(solved.figureAt(index), solved, writer);
  const { patience } = reading.workshop;
  const mends = mendsFor(solved.solution, cell.core.outcome, solved.local(claim), increment);
  const fits = mends.flatMap(({ variable, value, also, holds }) => {
    if (timeIsUp(patience)) {
      const { uri, item } = claim.thing?.anchor ?? claim.check.anchor;
      reading.leftOut.note("fits", uri, item);
      return [];
    }
    const changes = [{ variable, value }, ...(also === undefined ? [] : [also])];
    const offers = changes.flatMap((each) => {
      const about = solved.figureAt(each.variable);
      return about === undefined ? [] : [placedChange(source, about, each.value)];
    });
    if (offers.length < changes.length) return [];
    const written = new Set(offers.map(({ figure }) => figure));
    const goal = holdsAt(source, claim, holds);
    const effect = effectOf(source, goal, { lines: linesOf(offers), written });
    return effect === undefined ? [] : [{ offers, holds, ...effect }];
  });
  return byEffect(fits, ({ offers }) => offers);
}

/** Changes that would make a failing check hold, as edits. */
export function fitFixes(source: CheckSource, claim: ModelClaim): Fix[] {
  const places = [anchorOfThing(claim.thing), claim.check.anchor];
  return fitsOf(source, claim).flatMap((fit) => fixOf(source, fit, places));
}

// ───────────────────────────── helpers ─────────────────────────────

/**
 * The step a builder can work to: that in which it is made, else that of the unit they wrote; none for
 * what is not theirs to change.
 */
function incrementOf(
  variable: ModelVariable | undefined,
  solved: SolvedCell,
  writer: Writer,
): number | undefined {
  const { figure, entry, part, measure } = variable ?? {};
  if (variable === undefined || measure === undefined || part !== undefined) return undefined;
  if (entry === undefined ? !isDefault(variable, solved) : figure === undefined) return undefined;
  if (measure.whole) return 1;
  const { step: made } = variable.variable.making ?? {};
  if (made !== undefined) return made;
  const display = displayOf(measure, writer.style);
  const step = display.increment?.step;
  if (step !== undefined && (figure === undefined || figure.unit === display.unit)) {
    return step * (readUnit(display.unit, measure)?.factor ?? 1);
  }
  // Another unit than the build is shown in: as finely as it was written.
  if (figure !== undefined && figure.rounding > 0) return 2 * figure.rounding;
  const size = Math.abs(
    figure?.value ?? solved.solution.values[solved.placeOf(variable.id) ?? -1] ?? 0,
  );
  return size > 0 ? 10 ** (Math.floor(Math.log10(size)) - 2) : measure.scale;
}

/** Nobody wrote it: it is what its field says as long as nothing else is said. */
function isDefault({ id, variable }: ModelVariable, solved: SolvedCell): boolean {
  if (variable.role === "limit") return false;
  const determination = solved.solution.determinations[solved.placeOf(id) ?? -1];
  if (determination?.how !== "assumed") return false;
  return solved.equationAt(determination.equation)?.origin.is === "default";
}
