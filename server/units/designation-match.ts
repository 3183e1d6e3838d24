/**
 * Fitting a text to the steps of a designation's pattern.
 *
 *     run(flatten(nodes), "M12x1.5")  // diameter 0.012, pitch 0.0015
 *
 * Must not know: which designations there are, anything of the trade.
 */
import type { PatternNode } from "./designation-pattern";
import { readNumber } from "./number";
import { plainUnit, readUnit, toSi, type Unit, unitFits } from "./unit";

/** A part as read: coherent SI with the unit it was counted in, or a word. */
export type DesignationValue =
  | { readonly si: number; readonly unit?: string }
  | { readonly text: string };

/** One step of the matcher; a fork tries the next step first and `otherwise` after it. */
export type MatchStep =
  | Exclude<PatternNode, { readonly type: "optional" }>
  | { readonly type: "fork"; readonly otherwise: number };

/** The steps of a pattern in a row, brackets turned into forks. */
export function flatten(nodes: readonly PatternNode[]): readonly MatchStep[] {
  const steps: MatchStep[] = [];
  const add = (each: readonly PatternNode[]): void => {
    for (const node of each) {
      if (node.type !== "optional") {
        steps.push(node);
        continue;
      }
      const fork = { type: "fork" as const, otherwise: 0 };
      steps.push(fork);
      add(node.nodes);
      fork.otherwise = steps.length;
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

/**
 * The parts of a text that fits from end to end. No step is tried twice at one place, so the work
 * is bounded by the length of the text times the number of steps.
 */
export function run(
  steps: readonly MatchStep[],
  text: string,
): ReadonlyMap<string, DesignationValue> | undefined {
  const seen = new Set<string>();
  // Last in, first out: alternatives are pushed in reverse, so the first one is tried first.
  const waiting: Place[] = [{ step: 0, at: 0, captured: undefined }];
  for (let place = waiting.pop(); place !== undefined; place = waiting.pop()) {
    const mark = `${place.step} ${place.at}`;
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
        "part" in step
          ? { name: step.part, value: way.value!, before: place.captured }
          : place.captured;
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

function waysOf(
  step: Exclude<MatchStep, { readonly type: "fork" }>,
  text: string,
  at: number,
): Way[] {
  switch (step.type) {
    case "blank":
      return [{ end: at }];
    case "literal":
      return stands(step.text, text, at) ? [{ end: at + step.text.length }] : [];
    case "text": {
      const word = matchAt(wordPattern, text, at);
      return word === undefined ? [] : [{ end: at + word.length, value: { text: word } }];
    }
    case "number":
      return numbersFor(step.unit, text, at)
        .filter(({ end }) => !step.decimal || text.slice(at, end).includes("."))
        .map(({ value, end }) => ({
          end,
          value: { si: toSi(value, step.unit), unit: step.unit.symbol },
        }));
    case "quantity":
      return numbersAt(text, at).flatMap(({ value, end }) => {
        const from = skipBlanks(text, end);
        const symbol = matchAt(symbolPattern, text, from) ?? "";
        if (symbol === "") {
          const only = onlyUnit(value, step);
          return only === undefined ? [] : [{ end, value: only }];
        }
        const unit = readUnit(symbol, step.measure);
        if (unit === undefined || !unitFits(unit, step.measure)) return [];
        return [{ end: from + symbol.length, value: { si: toSi(value, unit), unit: symbol } }];
      });
  }
}

/** What is written `x` also stands as `X` on many parts. */
function stands(mark: string, text: string, at: number): boolean {
  const written = text.slice(at, at + mark.length);
  return written.replaceAll("X", "x") === mark.replaceAll("X", "x");
}

/** A bare number that is possible in one of the two natural units alone: 4.5 in, 114.3 mm. */
function onlyUnit(
  value: number,
  { measure, range }: Extract<PatternNode, { readonly type: "quantity" }>,
): DesignationValue | undefined {
  if (range === undefined) return undefined;
  const [first, ...others] = [measure.inch.unit, measure.metric.unit].flatMap((symbol) => {
    const unit = readUnit(symbol, measure);
    const si = unit === undefined ? Number.NaN : toSi(value, unit);
    return si >= range[0] && si <= range[1] ? [{ si, unit: symbol }] : [];
  });
  return others.length === 0 ? first : undefined;
}

/** Capitals, with up to two digits after them. */
export const wordPattern = /[A-Z]{1,12}\d{0,2}/y;
const symbolPattern = /[A-Za-z_%°µμΩ][A-Za-z_%°µμΩ*/^²³⁴-]*(?:\^\d)?/y;
/** Longest reading first: `3/8-24` may be 3/8 or 3, `1-1/8-12` may be 1-1/8 or 1. */
const numberPatterns = [
  /\d{1,9}(?:[ \t]+|-)\d{1,9}\/\d{1,9}/y,
  /\d{1,9}\/\d{1,9}/y,
  /(?:\d{1,15}(?:\.\d{0,15})?|\.\d{1,15})/y,
];

/** Nobody writes 17 1/32 as `16 33/32`: what looks so is a number and two more, `16 116/112`. */
function isTopHeavy(written: string): boolean {
  const [, above, below] = /[ \t-](\d+)\/(\d+)/.exec(written) ?? [];
  return Number(above) >= Number(below);
}

function numbersAt(text: string, at: number): { value: number; end: number }[] {
  return numberPatterns.flatMap((pattern) => {
    const written = matchAt(pattern, text, at);
    const number = written === undefined ? undefined : readNumber(written);
    if (written === undefined || number === undefined || isTopHeavy(written)) return [];
    return [{ value: number.value, end: at + written.length }];
  });
}

/** A counted number is rarely a fraction: `116/112` are two of them. Lengths and the like often are. */
function numbersFor(unit: Unit, text: string, at: number): { value: number; end: number }[] {
  const found = numbersAt(text, at);
  return unit === plainUnit ? found.reverse() : found;
}

/** What a sticky pattern finds at a place. */
export function matchAt(pattern: RegExp, text: string, at: number): string | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
}

function skipBlanks(text: string, at: number): number {
  let next = at;
  while (next < text.length && /\s/.test(text[next] ?? "")) next += 1;
  return next;
}
