/**
 * A number is looked at before it is believed: what is written lies within what is usual for its
 * field, else the finding says so where it is written and asks for the likeliest slip.
 *
 *     van.wheelbase is 116 mm, 1000 mm to 8000 mm is usual   →   is `116 in` meant?
 *
 * Must not know: how anything was solved.
 */
import { textAt } from "../model/anchor";
import type { Finding } from "../model/finding";
import type { ModelVariable } from "../model/model";
import { nominalAnchor } from "../model/thing";
import type { Failure } from "../solve/system";
import type { FindingContext } from "./findings";
import { type Slip, slipsOf } from "./slips";
import type { Writer } from "./wording";

/** The finding about a figure that is written outside of its field's range. */
export function outOfRange(variable: ModelVariable, writer: Writer): Finding | undefined {
  const { entry, figure, name, part } = variable;
  const { range } = variable.variable;
  if (entry === undefined || figure === undefined || range === undefined) return undefined;
  const [low, high] = range;
  const { value, rounding } = figure;
  const slack = rounding + 1e-9 * Math.abs(value);
  if (value >= low - slack && value <= high + slack) return undefined;
  const like = (si: number): string => writer.like(variable, si);
  const usual = value < low ? `at least ${like(low)}` : `at most ${like(high)}`;
  const [slip] = slipsOf(variable, (si) => withinRange(si, range));
  return {
    code: "value/out-of-range",
    severity: "warning",
    message: `${name} is ${writtenText(variable) ?? like(value)}: ${usual} is ${part === undefined ? "usual" : "what there is"}`,
    hint: slip === undefined ? "measure again, or look at the figure as it was read" : ask(slip),
    anchor: entry.anchor,
    ...(slip === undefined ? {} : { fixes: [fixOf(slip)] }),
  };
}

/**
 * What fails or contradicts because a figure is written that is hardly meant: the finding is about
 * that figure.
 */
export function doubtedInput(
  { equations }: Pick<Failure, "equations">,
  { solved, writer }: FindingContext,
): Finding | undefined {
  for (const equation of equations) {
    for (const index of solved.solution.system.equations[equation]?.variables ?? []) {
      const variable = solved.figureAt(index);
      const finding = variable && outOfRange(variable, writer);
      if (finding !== undefined) return { ...finding, severity: "error" };
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
  writer: Writer,
): readonly { readonly about: readonly string[]; readonly finding: Finding }[] {
  const twins = new Map<string, ModelVariable[]>();
  for (const figure of figures) {
    const { twin, role } = figure.variable;
    if (twin === undefined || figure.figure === undefined || role === "wanted") continue;
    const group = twins.get(twin);
    if (group === undefined) twins.set(twin, [figure]);
    else group.push(figure);
  }
  return [...twins.values()].flatMap((group) => {
    const [one, other] = group;
    if (group.length !== 2 || one === undefined || other === undefined) return [];
    if (isNear(valueOf(one), valueOf(other), farApart)) return [];
    const slips = [slipTowards(one, other), slipTowards(other, one)].filter(
      (slip) => slip !== undefined,
    );
    const entry = other.entry ?? one.entry;
    if (slips.length === 0 || entry === undefined) return [];
    const [first, second] = slips;
    return [
      {
        about: [one.name, other.name],
        finding: {
          code: "value/unlike-twin",
          severity: "warning" as const,
          message: `${one.name} is ${writtenText(one) ?? writer.like(one, valueOf(one))} and ${other.name} is ${writtenText(other) ?? writer.like(other, valueOf(other))}: they are usually alike`,
          hint:
            second === undefined
              ? `${ask(first as Slip)} measure both again`
              : `is \`${first?.text}\` meant for ${one.name}, or \`${second.text}\` for ${other.name}? measure both again`,
          anchor: slips.length === 1 ? (first as Slip).anchor : entry.anchor,
          fixes: slips.map(fixOf),
        },
      },
    ];
  });
}

/** `is \`116 in\` meant?` */
export function ask({ text }: Slip): string {
  return `is \`${text}\` meant?`;
}

export function fixOf({ text, anchor }: Slip) {
  return { title: `write ${text}`, edits: [{ anchor, text }] };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Twins that differ by more than this share of the larger one are looked at. */
const farApart = 0.25;
/** A slip explains it where it brings them as near as this. */
const nearAgain = 0.04;

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
