/**
 * Values in words, as hints, hovers and outlines tell them.
 *
 *     standingInWords(value)   →   "solved", "assumed", "given", …
 *
 * Must not know: where the words are shown.
 */
import type { Analysis, Need, Value } from "../analysis/analysis";
import type { FieldDefinition, FieldType } from "../model/definition";
import type { Thing } from "../model/thing";
import { told } from "../report/comes-out";
import { isFoundOnly } from "../report/figure";
import { forMarkdown } from "../text/untrusted-text";
import { defaultStyle, type Measure, unitsInWords, writeQuantity, writeTolerance } from "../units";

/** `mount width` of `mount_width`. */
export function inWords(name: string): string {
  return name.replaceAll("_", " ");
}

/** What a figure's units and digits are looked up by. */
type Figure = Pick<Value, "si" | "measure">;

/** `54.679 in` beside `54 11/16 in`, where the two differ. */
export function decimalOf(analysis: Analysis, { si, measure }: Figure): string | undefined {
  if (si === undefined || measure === undefined) return undefined;
  const written = writeQuantity(si, measure, analysis.style);
  return written?.decimal === undefined || written.decimal === written.text
    ? undefined
    : written.decimal;
}

/** The same in the units of the other half of the trade: `1494.8 mm`. */
export function otherSystem({ si, measure }: Figure, own: string): string | undefined {
  if (si === undefined || measure === undefined || measure.name === "money") return undefined;
  const metric = writeQuantity(si, measure, defaultStyle("metric"))?.text;
  if (metric !== undefined && unitPart(metric) !== unitPart(own)) return metric;
  const inch = writeQuantity(si, measure, defaultStyle("inch"));
  const text = inch?.decimal ?? inch?.text;
  return text === undefined || unitPart(text) === unitPart(own) ? undefined : text;
}

/** `± 1/32 in at worst, ± 0.023 in likely`, as it comes out; nothing where there is no tolerance. */
export function toleranceInWords(analysis: Analysis, value: Value): string | undefined {
  const { tolerance } = told(value, analysis);
  if (tolerance === undefined) return undefined;
  const { worst, rss } = tolerance;
  const how = isFoundOnly(value) ? "at worst, as far as was found" : "at worst";
  const draws = value.outcome()?.spread?.draws ?? 0;
  const way = draws === 0 ? "root sum square" : `from ${draws.toLocaleString("en")} draws`;
  return worst === rss ? `${worst} ${how}` : `${worst} ${how}, ${rss} likely (${way})`;
}

export function toleranceOf(
  by: number,
  measure: Measure | undefined,
  analysis: Analysis,
): string | undefined {
  return measure === undefined ? undefined : writeTolerance(by, measure, analysis.style)?.text;
}

/** `length (in, mm or ft)`, `a wheel`, `red or green`. */
export function typeInWords(type: FieldType): string {
  switch (type.form) {
    case "measure": {
      const units = unitsInWords(type.measure);
      return units === "" ? type.measure.title : `${type.measure.title} (${units})`;
    }
    case "text":
      return "text";
    case "yes_no":
      return "yes or no";
    case "date":
      return "date";
    case "choice":
      return type.choices.join(" or ");
    case "designation":
      return type.designation.title.toLowerCase();
    case "reference":
      return `a ${inWords(type.kind)}`;
    case "part":
      return `part: ${inWords(type.kind)}`;
    case "list":
      return `list of ${typeInWords(type.of)}`;
    case "unknown":
      return "unknown";
  }
}

/** `{size}x{width}` patterns as a person would speak them: `diameter in x width in`. */
export function formInWords(form: string): string {
  return form.replace(/\{([^}]*)\}/g, (_, part: string) => `‹${part.trim()}›`);
}

/**
 * Headline figures of a thing that are not written in it: first what has to be made and is solved,
 * since that is what the saw waits for, then the kind's own, in its order.
 */
export function headlines(thing: Thing, valueAt: (path: string) => Value | undefined): Value[] {
  const made: Value[] = [];
  const shown: Value[] = [];
  for (const field of thing.kind.fields.values()) {
    if (field.type.form !== "measure" || (!field.shown && field.role !== "made")) continue;
    const value = valueAt(`${thing.path}.${field.name}`);
    if (value?.si === undefined || value.standing === "given") continue;
    if (field.role === "made" && value.standing === "solved") made.push(value);
    else if (field.shown) shown.push(value);
  }
  return [...made, ...shown];
}

/** `rear_wheel.offset`, or less of it where the thing is the one spoken of. */
export function shortPath(path: string, thing: Thing): string {
  return path.startsWith(`${thing.path}.`) ? path.slice(thing.path.length + 1) : path;
}

export function needInWords(need: Need): string {
  return need.advice === undefined
    ? `\`${need.path}\``
    : `\`${need.path}\`: ${forMarkdown(need.advice)}`;
}

/** The figure a field's name in a path ends with: `offset` of `rear_wheel.offset`. */
export function titleOf(field: FieldDefinition): string {
  return field.description ?? inWords(field.name);
}

// ───────────────────────────── helpers ─────────────────────────────

function unitPart(text: string): string {
  return text.replace(/^[-−]?[\d\s./,]+/, "");
}
