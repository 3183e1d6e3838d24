/**
 * Reads fields of things, written or by default: figures, words, lists of figures.
 *
 * Must not know: what kinds of things there are.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import { madeOnce } from "../keep/once";
import { readFigure } from "../model/literal";
import type { Thing } from "../model/thing";
import type { Measure } from "../units";

/** A text, choice or yes/no, as written or else by default. */
export function wordOf(thing: Thing, fieldName: string): string | undefined {
  const entry = thing.entries.get(fieldName);
  const node = entry?.value ?? thing.field(fieldName)?.default;
  switch (node?.type) {
    case "text":
      return node.value;
    case "path":
      return node.names.map((name) => name.text).join(".");
    case "yes_no":
      return node.value ? "yes" : "no";
    case "designation":
    case "date":
      return node.text;
    default:
      return entry === undefined ? undefined : textAt(entry.anchor).trim();
  }
}

export function isYes(thing: Thing, fieldName: string): boolean {
  return wordOf(thing, fieldName) === "yes";
}

/** A figure in SI: solved or given, else the default where that is a plain number. */
export function figureOf(
  build: Pick<Analysis, "figureOf">,
  thing: Thing,
  fieldName: string,
): number | undefined {
  const field = thing.field(fieldName);
  if (field?.type.form !== "measure") return undefined;
  const value = build.figureOf(thing, fieldName);
  if (value !== undefined) return value.si;
  const node = thing.entries.get(fieldName)?.value;
  if (node !== undefined) return literal(node, field.type.measure);
  return field.default === undefined ? undefined : defaultOf(field.default, field.type.measure);
}

const defaults = new WeakMap<syntax.Expression, number | undefined>();

/** Read once for all the things of a kind. */
function defaultOf(node: syntax.Expression, measure: Measure): number | undefined {
  return madeOnce(defaults, node, () => literal(node, measure));
}

/** The figures of a list, in SI, as written or else by default; `written` tells which. */
export function figuresOf(
  thing: Thing,
  fieldName: string,
): { readonly figures: readonly number[]; readonly written: boolean; readonly anchor?: Anchor } {
  const field = thing.field(fieldName);
  const entry = thing.entries.get(fieldName);
  const node = entry?.value ?? field?.default;
  if (node === undefined || field?.type.form !== "list" || field.type.of.form !== "measure") {
    return { figures: [], written: entry !== undefined };
  }
  const figures = listed(node, field.type.of.measure);
  return { figures, written: entry !== undefined, anchor: entry?.anchor };
}

/** The figures of `node`, a list or one figure; what cannot be read is left out. */
export function listed(node: syntax.Expression, measure: Measure): number[] {
  const items = node.type === "list" ? node.items : [node];
  return items.flatMap((item) => literal(item, measure) ?? []);
}

export function literal(node: syntax.Expression, measure: Measure): number | undefined {
  const reading = readFigure(node, measure);
  return reading.is === "figure" ? reading.figure.value : undefined;
}
