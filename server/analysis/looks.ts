/**
 * A number is looked at before it is believed: what is written lies within what is usual for its
 * field, else the finding says so where it is written and asks for the likeliest slip.
 *
 *     van.wheelbase is 116 mm, 1000 mm to 8000 mm is usual   →   is `116 in` meant?
 *
 * Must not know: how anything was solved.
 */

import { textAt } from "../../grammar/anchor";
import type { Found } from "../findings/worded";
import type { ModelVariable } from "../model/model";
import { nominalAnchor } from "../model/thing";
import type { Failure } from "../solve/system";
import type { FindingContext } from "./findings";
import { shown } from "./reasons";
import { type Slip, slipsOf } from "./slips";

/** The finding about a figure that is written outside of its field's range, or with a ± larger than itself. */
export function outOfRange(
  variable: ModelVariable,
  failing = false,
  /** What it was to be, SI, where that is known. */
  expectedOf: () => number | undefined = () => undefined,
): Found | undefined {
  const { entry, figure, part } = variable;
  const { range } = variable.variable;
  if (entry === undefined || figure === undefined || range === undefined) return undefined;
  const [low, high] = range;
  const { value, rounding } = figure;
  const slack = rounding + 1e-9 * Math.abs(value);
  if (value >= low - slack && value <= high + slack) {
    // What cannot be less than nothing is not so by its ± either.
    const lessThanNothing = figure.toleranced && low >= 0 && value > 0 && figure.low < -slack;
    if (!lessThanNothing || part !== undefined) return undefined;
    const told = { figure: doubted(variable), by: value - figure.low };
    return { is: "value/out-of-range tolerance", ...told, anchor: entry.anchor };
  }
  const expected = expectedOf();
  const [slip] = slipsOf(variable, (si) => {
    const within = withinRange(si, range);
    const isNearIt = expected !== undefined && isNear(si, expected, nearAgain);
    return isNearIt && Number.isFinite(within) ? -1 : within;
  });
  const told = { figure: doubted(variable), range, ofPart: part !== undefined, failing, slip };
  return { is: "value/out-of-range", ...told, anchor: entry.anchor };
}

/**
 * What fails or contradicts because a figure is written that is hardly meant: the finding is about
 * that figure.
 */
export function doubtedInput(
  { equations }: Pick<Failure, "equations">,
  { solved }: FindingContext,
): Found | undefined {
  for (const equation of equations) {
    for (const index of solved.solution.system.equations[equation]?.variables ?? []) {
      const variable = solved.figureAt(index);
      const finding = variable && outOfRange(variable, true);
      if (finding !== undefined) return finding;
    }
  }
  return undefined;
}

/**
 * Figures that mirror each other, such as left and right, and are far apart, where a slip in one of
 * them explains it.
 */
export function unlikeTwins(
  figures: readonly ModelVariable[],
): readonly { readonly about: readonly string[]; readonly finding: Found }[] {
  let twins: Map<string, ModelVariable[]> | undefined;
  for (const figure of figures) {
    if (figure.figure === undefined) continue;
    const { twin, role } = figure.variable;
    if (twin === undefined || role === "wanted") continue;
    twins ??= new Map();
    const group = twins.get(twin);
    if (group === undefined) twins.set(twin, [figure]);
    else group.push(figure);
  }
  return [...(twins?.values() ?? [])].flatMap((group) => {
    const [one, other] = group;
    if (group.length !== 2 || one === undefined || other === undefined) return [];
    if (isNear(valueOf(one), valueOf(other), farApart)) return [];
    // What is told by itself needs no twin to be doubted.
    if (group.some((each) => outOfRange(each) !== undefined)) return [];
    const slips = [slipTowards(one, other), slipTowards(other, one)].filter(
      (slip) => slip !== undefined,
    );
    const entry = other.entry ?? one.entry;
    const [first, second] = slips;
    if (first === undefined || entry === undefined) return [];
    const told = { one: doubted(one), other: doubted(other), first, second };
    const anchor = second === undefined ? first.anchor : entry.anchor;
    const about = [one.name, other.name];
    return [{ about, finding: { is: "value/unlike-twin" as const, ...told, anchor } }];
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** Twins that differ by more than this share of the larger one are looked at. */
const farApart = 0.25;
/** A slip explains it where it brings them as near as this. */
const nearAgain = 0.04;

function doubted(variable: ModelVariable) {
  const si = valueOf(variable);
  return { ...shown(variable), si, written: writtenText(variable) };
}

function valueOf({ figure }: ModelVariable): number {
  return figure?.value ?? Number.NaN;
}

function isNear(one: number, other: number, share: number): boolean {
  return Math.abs(one - other) <= share * Math.max(Math.abs(one), Math.abs(other));
}

function slipTowards(figure: ModelVariable, twin: ModelVariable): Slip | undefined {
  const aim = valueOf(twin);
  const range = figure.variable.range ?? [-Infinity, Infinity];
  const [slip] = slipsOf(figure, (si) =>
    si >= range[0] && si <= range[1] && isNear(si, aim, nearAgain)
      ? Math.abs(si - aim) / Math.abs(aim)
      : Number.POSITIVE_INFINITY,
  );
  return slip;
}

/** A figure as it stands in the build, without its tolerance. */
function writtenText({ entry, part }: ModelVariable): string | undefined {
  const anchor = entry === undefined || part !== undefined ? undefined : nominalAnchor(entry);
  return anchor && textAt(anchor).replaceAll(/\s+/g, " ");
}

/** How far from the middle of a range, by ratio where it has one; infinite outside of it. */
function withinRange(si: number, [low, high]: readonly [number, number]): number {
  if (!(si >= low && si <= high)) return Number.POSITIVE_INFINITY;
  if (low > 0) {
    return Math.abs(Math.log(si / Math.sqrt(low * high))) / Math.log(high / low);
  }
  return Math.abs(si - (low + high) / 2) / (high - low);
}
