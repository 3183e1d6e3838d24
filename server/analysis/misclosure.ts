/**
 * Readings that are joined by relations and do not agree: how far apart they are, what
 * their ± explains, and which of them is likely wrong, where that can be told.
 *
 *     misclosure(misclosed, context)   →   { is: "record/misclosure", parties: [width, halves], … }
 *
 * Must not know: how findings are worded.
 */
import type { Found } from "../findings/worded";
import { type FindingContext, latest } from "./findings";
import { shown } from "./reasons";
import type { Misclosed } from "./reconciled";

/** One finding for all readings that hang together. */
export function misclosure(
  { readings, conflict, adjustment, suspect }: Misclosed,
  context: FindingContext,
): Found | undefined {
  const { solved } = context;
  const isRead = (variable: number): boolean => {
    const figure = solved.idAt(variable);
    return figure !== undefined && readings.has(figure);
  };
  const figure = (variable: number) => solved.figureAt(variable);
  const parties = conflict.givens.flatMap(({ variable }) => figure(variable) ?? []);
  const last = latest(parties, context);
  const measure = solved.equationAt(conflict.equation)?.measure;
  if (last?.entry === undefined || measure === undefined) return undefined;
  const read = adjustment.readings.filter(({ variable }) => isRead(variable));
  const as = ({ variable }: (typeof read)[number], si: number) => {
    const found = figure(variable);
    return found === undefined ? [] : [shown(found, si)];
  };
  const told = (each: (typeof read)[number]) => as(each, each.adjusted);
  const off = (each: (typeof read)[number]): number =>
    Number(Math.abs(each.adjusted - each.read).toPrecision(6));
  const moved = [...read].sort((a, b) => off(b) - off(a) || b.variable - a.variable);
  const [again] = moved.flatMap(told);
  return {
    is: "record/misclosure",
    parties: parties.map((each) => shown(each, each.figure?.value)),
    gap: { si: Math.abs(conflict.gap), measure },
    explained: conflict.allowed,
    suspect: suspect && as(suspect, suspect.byOthers)[0],
    again,
    best: moved.slice(0, 4).flatMap(told),
    elsewhere: parties.flatMap(({ entry, name }) =>
      entry === undefined || entry === last.entry ? [] : [{ path: name, anchor: entry.anchor }],
    ),
    anchor: last.entry.anchor,
  };
}
