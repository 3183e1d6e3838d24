/**
 * Designations: what is written as one word, read by a pattern and written by the same pattern.
 *
 *     const pattern = compilePattern("{count}x{across length}", [
 *       { name: "count", measure: number }, { name: "across", measure: length },
 *     ]);
 *     pattern.read("5x5 in")  // count 5, across 0.127 m
 *
 * In a pattern, characters stand for themselves (upper and lower case differ, but `x` is also read
 * as `X`), `[…]` may be left out, `{part}` is a plain number, `{part unit}` a number counted in that unit, `{part measure}` a
 * number with a unit of that measure after it, `{part text}` capitals with up to two digits after
 * them. `{part unit fraction}` reads as `{part unit}` and is written as a fraction;
 * `{part unit decimal}` only reads a number with a decimal point. Numbers are decimals, fractions or mixed. Blanks may stand or be missing between any two of these.
 *
 * Reading tries the ways a text can be divided and never the same place twice, so the work is
 * bounded by the length of the text times that of the pattern.
 *
 * Must not know: which designations there are, anything of the trade.
 */
import { type DesignationValue, flatten, matchAt, run, wordPattern } from "./designation-match";
import {
  type DesignationPart,
  type FormProblem,
  type PatternNode,
  parsePattern,
  partNames,
} from "./designation-pattern";
import type { Measure } from "./measure";
import { fromSi, readUnit, unitFits } from "./unit";
import { compactNumber, fractionNumber } from "./write-number";

export type { DesignationPart, DesignationValue, FormProblem };

/** A longer text is no designation. */
const longestText = 120;

export interface DesignationPattern {
  /** The pattern as written. */
  readonly form: string;
  /** Names of the parts in it, in order. */
  readonly parts: readonly string[];
  /** What is wrong with the pattern, for its author; a pattern with problems reads and writes nothing. */
  readonly problems: readonly FormProblem[];
  /** The parts of a text that fits from end to end, left-out ones missing; otherwise `undefined`. */
  read(text: string): ReadonlyMap<string, DesignationValue> | undefined;
  /** The text for these values; `undefined` where a part that must stand has none. */
  write(values: ReadonlyMap<string, DesignationValue>): string | undefined;
}

export function compilePattern(
  form: string,
  parts: readonly DesignationPart[],
): DesignationPattern {
  const { nodes, problems } = parsePattern(form, parts);
  const usable = problems.length === 0;
  const program = usable ? flatten(nodes) : [];
  return {
    form,
    parts: partNames(nodes),
    problems,
    read: (text) => (usable && text.length <= longestText ? run(program, text.trim()) : undefined),
    write: (values) => (usable ? writeNodes(nodes, values)?.trim() : undefined),
  };
}

// ───────────────────────────── writing ─────────────────────────────

function writeNodes(
  nodes: readonly PatternNode[],
  values: ReadonlyMap<string, DesignationValue>,
): string | undefined {
  let text = "";
  for (const node of nodes) {
    const piece =
      node.type === "optional" ? writeOptional(node.nodes, values) : writeNode(node, values);
    if (piece === undefined) return undefined;
    text += piece;
  }
  return text;
}

/** Written where it holds a part and all its own parts have values; marks alone say nothing. */
function writeOptional(
  nodes: readonly PatternNode[],
  values: ReadonlyMap<string, DesignationValue>,
): string {
  const own = partNames(nodes);
  if (!own.some((name) => values.has(name))) return "";
  return writeNodes(nodes, values) ?? "";
}

function writeNode(
  node: Exclude<PatternNode, { readonly type: "optional" }>,
  values: ReadonlyMap<string, DesignationValue>,
): string | undefined {
  if (node.type === "literal") return node.text;
  if (node.type === "blank") return " ";
  const value = values.get(node.part);
  if (node.type === "text") {
    const text = value !== undefined && "text" in value ? value.text : undefined;
    return text !== undefined && text.length === matchAt(wordPattern, text, 0)?.length
      ? text
      : undefined;
  }
  if (value === undefined || !("si" in value) || !Number.isFinite(value.si)) return undefined;
  if (node.type === "quantity") return writeWithUnit(value.si, value.unit, node.measure);
  const number = fromSi(value.si, node.unit);
  return node.decimal ? number.toFixed(2) : writeNumber(number, node.fraction);
}

function writeNumber(value: number, fraction: boolean): string | undefined {
  if (value < 0) return undefined;
  const asFraction = fraction ? fractionNumber(value, 64, "-") : undefined;
  const text = asFraction ?? compactNumber(value, 12);
  return text.includes("e") ? undefined : text;
}

/** In the unit it was read in; otherwise in the one of the measure's two natural units that takes fewer digits. */
function writeWithUnit(si: number, wish: string | undefined, measure: Measure): string | undefined {
  const wished = wish === undefined ? undefined : readUnit(wish, measure);
  const symbols =
    wish !== undefined && wished !== undefined && unitFits(wished, measure)
      ? [wish]
      : [measure.inch.unit, measure.metric.unit];
  const texts = symbols.flatMap((symbol) => {
    const unit = readUnit(symbol, measure);
    const number = unit === undefined ? undefined : writeNumber(fromSi(si, unit), false);
    return number === undefined ? [] : [{ digits: number.length, text: `${number} ${symbol}` }];
  });
  const [first, second] = texts;
  if (first === undefined) return undefined;
  return second !== undefined && second.digits < first.digits ? second.text : first.text;
}
