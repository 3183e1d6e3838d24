/**
 * Readings on record that are joined by relations and do not agree: how far apart they are, what
 * their ± explains, and which of them is likely wrong, where that can be told.
 *
 *     misclosure(cell, context)   →   { is: "record/misclosure", parties: [width, halves], … }
 *
 * Must not know: how findings are worded.
 */
import type { Found } from "../findings/worded";
import { adjusted } from "../solve";
import type { BuildCell } from "./build-cells";
import { type FindingContext, latest } from "./findings";
import { shown } from "./reasons";

/** One finding for all the readings of a cell; nothing where no record takes part. */
export function misclosure({ solution }: BuildCell, context: FindingContext): Found | undefined {
  const { solved } = context;
  const isRead = (variable: number): boolean =>
    solved.figureAt(variable)?.entry?.layer === "record";
  const conflicts = solution.conflicts.filter(({ givens }) =>
    givens.some(({ variable }) => isRead(variable)),
  );
  const [first, ...others] = conflicts;
  if (first === undefined) return undefined;
  const worst = others.reduce(
    (most, each) => (Math.abs(each.gap) > Math.abs(most.gap) ? each : most),
    first,
  );
  const joined = adjusted(solution, [
    ...conflicts.map(({ equation }) => equation),
    ...solution.redundant,
  ]);
  const figure = (variable: number) => solved.figureAt(variable);
  const parties = worst.givens.flatMap(({ variable }) => figure(variable) ?? []);
  const last = latest(parties, context);
  const measure = solved.equationAt(worst.equation)?.measure;
  if (joined === undefined || last?.entry === undefined || measure === undefined) return undefined;
  const read = joined.readings.filter(({ variable }) => isRead(variable));
  const [one, next] = read;
  // With one condition among them all are under the same suspicion.
  const stands =
    joined.redundancy > 1 &&
    one !== undefined &&
    one.standardized > (next?.standardized ?? 0) * (1 + 1e-6);
  const as = ({ variable }: (typeof read)[number], si: number) => {
    const found = figure(variable);
    return found === undefined ? [] : [shown(found, si)];
  };
  const told = (each: (typeof read)[number]) => as(each, each.adjusted);
  const off = (each: (typeof read)[number]): number =>
    Number(Math.abs(each.adjusted - each.read).toPrecision(6));
  const moved = [...read].sort((a, b) => off(b) - off(a) || b.variable - a.variable);
  const [suspect] = stands && one !== undefined ? as(one, one.byOthers) : [];
  const [again] = moved.flatMap(told);
  return {
    is: "record/misclosure",
    parties: parties.map((each) => shown(each, each.figure?.value)),
    gap: { si: Math.abs(worst.gap), measure },
    explained: worst.allowed,
    suspect,
    again,
    best: moved.slice(0, 4).flatMap(told),
    elsewhere: parties.flatMap(({ entry, name }) =>
      entry === undefined || entry === last.entry ? [] : [{ path: name, anchor: entry.anchor }],
    ),
    anchor: last.entry.anchor,
  };
}
