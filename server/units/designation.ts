/**
 * Designations: what is written as one word, read by a pattern and written by the same pattern.
 *
 *     const pattern = compilePattern("{count}x{across length}", [
 *       { name: "count", measure: number }, { name: "across", measure: length },
 *     ]);
 *     pattern.read("5x4.75 in")  // count 5, across 0.12065 m
 *
 * In a pattern, characters stand for themselves (upper and lower case differ), `[…]` may be left
 * out, `{part}` is a plain number, `{part unit}` a number counted in that unit, `{part measure}` a
 * number with a unit of that measure after it, `{part text}` capitals with up to two digits after
 * them. `{part unit fraction}` reads as `{part unit}` and is written as a fraction. Numbers are
 * decimals, fractions or mixed. Blanks may stand or be missing between any two of these.
 *
 * Reading tries the ways a text can be divided and never the same place twice, so the work is
 * bounded by the length of the text times that of the pattern.
 *
 * Must not know: which designations there are, anything of the trade.
 */
import { type Measure, measureInWords, measureNamed } from "./measure";
import { readNumber } from "./number";
import { fromSi, plainUnit, readUnit, toSi, type Unit, unitFits } from "./unit";
import { compactNumber, fractionNumber } from "./write-number";

export interface DesignationPart {
  readonly name: string;
  readonly measure: Measure | "text";
}

/** A part as read: coherent SI with the unit it was counted in, or a word. */
export type DesignationValue =
  | { readonly si: number; readonly unit?: string }
  | { readonly text: string };

export interface DesignationPattern {
  /** The pattern as written. */
  readonly form: string;
  /** Names of the parts in it, in order. */
  readonly parts: readonly string[];
  /** What is wrong with the pattern, for its author; a pattern with problems reads and writes nothing. */
  readonly problems: readonly string[];
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

// ───────────────────────────── the pattern ─────────────────────────────

type Node =
  | { readonly type: "literal"; readonly text: string }
  | { readonly type: "blank" }
  | {
      readonly type: "number";
      readonly part: string;
      readonly unit: Unit;
      readonly fraction: boolean;
    }
  | { readonly type: "quantity"; readonly part: string; readonly measure: Measure }
  | { readonly type: "text"; readonly part: string }
  | { readonly type: "optional"; readonly nodes: readonly Node[] };

const longestForm = 300;
const longestText = 120;
const deepestNesting = 12;

function parsePattern(
  form: string,
  parts: readonly DesignationPart[],
): { nodes: readonly Node[]; problems: readonly string[] } {
  const problems: string[] = [];
  if (form.trim() === "") problems.push("it is empty");
  if (form.length > longestForm) problems.push(`it is longer than ${longestForm} characters`);
  if (problems.length > 0) return { nodes: [], problems };

  const known = new Map(parts.map((part) => [part.name, part.measure] as const));
  const used = new Set<string>();
  let at = 0;

  const readNodes = (depth: number): Node[] => {
    const nodes: Node[] = [];
    while (at < form.length) {
      const character = form[at] ?? "";
      at += 1;
      if (character === "]") {
        if (depth > 0) return nodes;
        problems.push('a "]" without its "["');
      } else if (character === "[") {
        if (depth >= deepestNesting) problems.push("too many brackets inside each other");
        const inner = readNodes(depth + 1);
        if (form[at - 1] !== "]") problems.push('a "[" without its "]"');
        else if (inner.length > 0) nodes.push({ type: "optional", nodes: inner });
      } else if (character === "{") {
        const end = form.indexOf("}", at);
        if (end < 0) {
          problems.push('a "{" without its "}"');
          at = form.length;
        } else {
          const node = readPart(form.slice(at, end));
          if (node !== undefined) nodes.push(node);
          at = end + 1;
        }
      } else if (character === "}") {
        problems.push('a "}" without its "{"');
      } else if (/\s/.test(character)) {
        nodes.push({ type: "blank" });
      } else {
        nodes.push({ type: "literal", text: character });
      }
    }
    return nodes;
  };

  const readPart = (inside: string): Node | undefined => {
    const [name = "", second, third, ...rest] = inside.trim().split(/\s+/);
    const measure = known.get(name);
    if (name === "" || rest.length > 0 || (third !== undefined && third !== "fraction")) {
      problems.push(`"{${inside}}" is not a part name with a unit, a measure or "text" after it`);
      return undefined;
    }
    if (measure === undefined) {
      problems.push(`there is no part \`${name}\``);
      return undefined;
    }
    if (used.has(name)) {
      problems.push(`\`${name}\` stands in it twice`);
      return undefined;
    }
    used.add(name);
    if (second === "text" || measure === "text") {
      if (measure === "text" && (second === undefined || second === "text"))
        return { type: "text", part: name };
      problems.push(
        `\`${name}\` is ${measure === "text" ? "a text and has no unit" : `${measureInWords(measure)}, not a text`}`,
      );
      return undefined;
    }
    if (second === undefined) {
      if (unitFits(plainUnit, measure))
        return { type: "number", part: name, unit: plainUnit, fraction: false };
      problems.push(`\`${name}\` needs a unit of ${measure.title} after it`);
      return undefined;
    }
    // A unit goes before a measure of the same name: there is none today, but units are the shorter.
    const unit = readUnit(second, measure);
    if (unit !== undefined) {
      if (unitFits(unit, measure))
        return { type: "number", part: name, unit, fraction: third === "fraction" };
      problems.push(`\`${name}\` is ${measureInWords(measure)}, which ${second} does not measure`);
      return undefined;
    }
    if (measureNamed(second)?.name === measure.name)
      return { type: "quantity", part: name, measure };
    problems.push(
      `"${second}" after \`${name}\` is neither a unit of ${measure.title} nor that measure`,
    );
    return undefined;
  };

  const nodes = readNodes(0);
  return { nodes, problems };
}

function partNames(nodes: readonly Node[]): string[] {
  return nodes.flatMap((node) => {
    if (node.type === "optional") return partNames(node.nodes);
    return "part" in node ? [node.part] : [];
  });
}

// ───────────────────────────── reading ─────────────────────────────

/** One step of the matcher; a fork tries the next step first and `otherwise` after it. */
type Step =
  | Exclude<Node, { readonly type: "optional" }>
  | { readonly type: "fork"; readonly otherwise: number };

function flatten(nodes: readonly Node[]): readonly Step[] {
  const steps: Step[] = [];
  const add = (each: readonly Node[]): void => {
    for (const node of each) {
      if (node.type !== "optional") {
        steps.push(node);
        continue;
      }
      const fork = steps.length;
      steps.push({ type: "blank" });
      add(node.nodes);
      steps[fork] = { type: "fork", otherwise: steps.length };
    }
  };
  add(nodes);
  return steps;
}

interface Capture {
  readonly name: string;
  readonly value: DesignationValue;
  readonly before: Capture | undefined;
}

interface Place {
  readonly step: number;
  readonly at: number;
  readonly captured: Capture | undefined;
}

function run(
  steps: readonly Step[],
  text: string,
): ReadonlyMap<string, DesignationValue> | undefined {
  const seen = new Set<number>();
  // Last in, first out: alternatives are pushed in reverse, so the first one is tried first.
  const waiting: Place[] = [{ step: 0, at: 0, captured: undefined }];
  for (let place = waiting.pop(); place !== undefined; place = waiting.pop()) {
    const mark = place.step * (text.length + 1) + place.at;
    if (seen.has(mark)) continue;
    seen.add(mark);
    const step = steps[place.step];
    if (step === undefined) {
      if (place.at === text.length) return collect(place.captured);
      continue;
    }
    if (step.type === "fork") {
      waiting.push({ ...place, step: step.otherwise }, { ...place, step: place.step + 1 });
      continue;
    }
    for (const way of waysOf(step, text, skipBlanks(text, place.at)).reverse()) {
      const captured =
        way.value === undefined || !("part" in step)
          ? place.captured
          : { name: step.part, value: way.value, before: place.captured };
      waiting.push({ step: place.step + 1, at: way.end, captured });
    }
  }
  return undefined;
}

function collect(last: Capture | undefined): ReadonlyMap<string, DesignationValue> {
  const found: [string, DesignationValue][] = [];
  for (let each = last; each !== undefined; each = each.before) found.push([each.name, each.value]);
  return new Map(found.reverse());
}

interface Way {
  readonly end: number;
  readonly value?: DesignationValue;
}

function waysOf(step: Exclude<Step, { readonly type: "fork" }>, text: string, at: number): Way[] {
  switch (step.type) {
    case "blank":
      return [{ end: at }];
    case "literal":
      return text.startsWith(step.text, at) ? [{ end: at + step.text.length }] : [];
    case "text": {
      const word = matchAt(wordPattern, text, at);
      return word === undefined ? [] : [{ end: at + word.length, value: { text: word } }];
    }
    case "number":
      return numbersFor(step.unit, text, at).map(({ value, end }) => ({
        end,
        value: { si: toSi(value, step.unit), unit: step.unit.symbol },
      }));
    case "quantity":
      return numbersAt(text, at).flatMap(({ value, end }) => {
        const from = skipBlanks(text, end);
        const symbol = matchAt(symbolPattern, text, from) ?? "";
        const unit = readUnit(symbol, step.measure);
        if (unit === undefined || !unitFits(unit, step.measure)) return [];
        return [{ end: from + symbol.length, value: { si: toSi(value, unit), unit: symbol } }];
      });
  }
}

const wordPattern = /[A-Z]{1,12}\d{0,2}/y;
const symbolPattern = /[A-Za-z_%°µμΩ][A-Za-z_%°µμΩ*/^²³⁴-]*(?:\^\d)?/y;
/** Longest reading first: `3/8-24` may be 3/8 or 3, `1-1/8-12` may be 1-1/8 or 1. */
const numberPatterns = [
  /\d{1,9}(?:[ \t]+|-)\d{1,9}\/\d{1,9}/y,
  /\d{1,9}\/\d{1,9}/y,
  /(?:\d{1,15}(?:\.\d{0,15})?|\.\d{1,15})/y,
];

function numbersAt(text: string, at: number): { value: number; end: number }[] {
  return numberPatterns.flatMap((pattern) => {
    const written = matchAt(pattern, text, at);
    const number = written === undefined ? undefined : readNumber(written);
    if (written === undefined || number === undefined) return [];
    return [{ value: number.value, end: at + written.length }];
  });
}

/** A counted number is rarely a fraction: `116/112` are two of them. Lengths and the like often are. */
function numbersFor(unit: Unit, text: string, at: number): { value: number; end: number }[] {
  const found = numbersAt(text, at);
  return unit === plainUnit ? found.reverse() : found;
}

function matchAt(pattern: RegExp, text: string, at: number): string | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
}

function skipBlanks(text: string, at: number): number {
  let next = at;
  while (next < text.length && /\s/.test(text[next] ?? "")) next += 1;
  return next;
}

// ───────────────────────────── writing ─────────────────────────────

function writeNodes(
  nodes: readonly Node[],
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
  nodes: readonly Node[],
  values: ReadonlyMap<string, DesignationValue>,
): string {
  const own = partNames(nodes);
  if (own.length === 0 || !own.some((name) => values.has(name))) return "";
  return writeNodes(nodes, values) ?? "";
}

function writeNode(
  node: Exclude<Node, { readonly type: "optional" }>,
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
  return writeNumber(fromSi(value.si, node.unit), node.fraction);
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
