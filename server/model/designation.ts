/**
 * Reading designations: what the trade writes as one word, taken apart by its kind's forms.
 *
 *     readDesignation(tireSize, "275/50R17 101W")   →   width 0.275, aspect 0.5, rim 0.4318, …
 *
 * Must not know: which designations there are.
 */
import type { DesignationDefinition } from "./definition";

export type DesignationParts = ReadonlyMap<string, number | string>;

const known = new WeakMap<DesignationDefinition, Map<string, DesignationParts | undefined>>();
const mostKnown = 2_000;
const mostFormsShown = 4;

/** The parts by name, numbers in SI; `undefined` where no form fits. */
export function readDesignation(
  definition: DesignationDefinition,
  text: string,
): DesignationParts | undefined {
  const readings = known.get(definition) ?? new Map<string, DesignationParts | undefined>();
  known.set(definition, readings);
  if (readings.has(text)) return readings.get(text);
  if (readings.size >= mostKnown) readings.clear();
  const parts = read(definition, text);
  readings.set(text, parts);
  return parts;
}

function read(definition: DesignationDefinition, text: string): DesignationParts | undefined {
  const clean = text.trim().replace(/\s+/g, " ");
  for (const pattern of definition.patterns) {
    const found = pattern.read(clean);
    if (found === undefined) continue;
    const parts = new Map<string, number | string>();
    for (const [name, value] of found) parts.set(name, "si" in value ? value.si : value.text);
    return parts;
  }
  return undefined;
}

/** The units that would make a text whole whose last figure lacks one: `in` and `mm` of `5x200`. */
export function missingUnits(definition: DesignationDefinition, text: string): readonly string[] {
  const units = [...definition.parts.values()].flatMap(({ type }) =>
    type.form === "measure" && type.measure.units.length > 0
      ? [type.measure.inch.unit, type.measure.metric.unit]
      : [],
  );
  return [...new Set(units)].filter(
    (unit) => readDesignation(definition, `${text.trim()} ${unit}`) !== undefined,
  );
}

/** `written like 275/50R17 or 31x10.50R15`: the forms as a reader sees them. */
export function formsInWords(definition: DesignationDefinition): string {
  const forms = definition.forms.map((form) =>
    form
      .replaceAll(/\[[^\][]*(\[[^\][]*\][^\][]*)*\]/g, "")
      .replaceAll(/\{(\w+)[^}]*\}/g, (_, name: string) => `‹${name.replaceAll("_", " ")}›`),
  );
  const different = [...new Set(forms)];
  const shown = different.slice(0, mostFormsShown);
  return `${shown.join(" or ")}${different.length > shown.length ? " or in another way of the trade" : ""}`;
}
