/**
 * How exactly something is to be read, in words of the shop; and what can be read in its place.
 *
 *     noMore(0.0009, length, style)   // { si: 0.00079375, text: "± 1/32 in" }
 *
 * Must not know: why it is to be read so exactly.
 */
import { walk } from "../../grammar/walk";
import type { Value } from "../analysis/analysis";
import { type DisplayStyle, displayOf, type Measure, readUnit, writeTolerance } from "../units";

export interface Figure {
  readonly si: number;
  readonly text: string;
}

/** A tolerance as one reads it off a tape or a scale, never more than was worked out. */
export function noMore(si: number, measure: Measure, style: DisplayStyle): Figure | undefined {
  const { unit, increment } = displayOf(measure, style);
  const factor = readUnit(unit === "ft" ? "in" : unit, measure)?.factor ?? 1;
  const value = (si / factor) * (1 + 1e-9);
  const halved = 2 ** Math.floor(Math.log2(value));
  const finest = 1 / (2 * (increment?.denominator ?? 1));
  const tens = 10 ** Math.floor(Math.log10(value));
  const plain = [5, 2, 1].map((step) => step * tens).find((step) => step <= value) ?? tens;
  const taken = increment?.denominator !== undefined && halved >= finest ? halved : plain;
  const text = writeTolerance(taken * factor, measure, style)?.text;
  return text === undefined || !(taken > 0) ? undefined : { si: taken * factor, text };
}

/** What a tool may be off by: in one digit, where it is no fraction, never less than it is. */
export function noLess(si: number, measure: Measure, style: DisplayStyle): Figure | undefined {
  const written = (off: number) => writeTolerance(off, measure, style)?.text;
  const factor = readUnit(displayOf(measure, style).unit, measure)?.factor ?? 1;
  const ten = 10 ** Math.floor(Math.log10(si / factor) + 1e-9);
  const inDigit = Math.ceil(si / factor / ten - 1e-6) * ten * factor;
  const text = written(si)?.includes("/") === true ? written(si) : written(inDigit);
  return text === undefined ? undefined : { si, text };
}

/** What a figure follows from by one relation of its thing, where all of that can be read. */
export function insteadOf(
  { thing, field }: Value,
  valueAt: (path: string) => Value | undefined,
  isReadOff: (value: Value | undefined) => boolean,
): readonly string[] {
  for (const { node } of thing.kind.relations) {
    const names = new Set<string>();
    let further = false;
    walk(node, (each) => {
      if (!("type" in each) || each.type !== "path") return;
      const [name, ...more] = each.names;
      further ||= more.length > 0;
      if (name !== undefined) names.add(name.text);
    });
    if (further || node.word !== "relation" || !names.delete(field.name)) continue;
    const values = [...names].map((name) => valueAt(`${thing.path}.${name}`));
    if (values.length > 0 && values.every(isReadOff))
      return values.flatMap((each) => each?.path ?? []);
  }
  return [];
}
