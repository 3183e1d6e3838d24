/**
 * Whether figures as a person reads them satisfy the relations of their kinds, to within the last
 * step they are shown in. The formulas are worked out here from their trees, apart from the solver.
 *
 *     flawsShown(analysis, "comes out")   // [] where all agree
 */
import type { Expression } from "../../grammar/syntax";
import type { Analysis, Value } from "../../server/analysis/analysis";
import type { Thing } from "../../server/model/thing";
import { comesOut } from "../../server/report/comes-out";
import { figureOf } from "../../server/report/figure";
import { displayOf, readQuantity, readUnit } from "../../server/units";

export type Shown = "drawn" | "comes out";

/** A figure as shown, and half of its last step; no step where the text says it whole. */
interface Read {
  readonly si: number;
  readonly half: number;
  /** Half of the last step in which a builder wrote it. */
  readonly written: number;
}

type Result = number | string | boolean;

/** What no relation could be held against: of all, so few that the test means something. */
export interface Tally {
  held: number;
  passedOver: number;
}

export function flawsShown(
  analysis: Analysis,
  shown: Shown,
  tally: Tally = { held: 0, passedOver: 0 },
): string[] {
  const flaws: string[] = [];
  const reads = new Map<string, Read | undefined>();
  const read = (value: Value): Read | undefined => {
    if (!reads.has(value.path)) reads.set(value.path, readShown(value, analysis, shown, flaws));
    return reads.get(value.path);
  };
  for (const thing of analysis.things) {
    const own = thing.relations.map(({ node }) => ({ node, title: node.title?.value ?? "" }));
    for (const { node, title } of [...thing.kind.relations, ...own]) {
      if (node.word !== "relation" || node.tolerance !== undefined) continue;
      const inputs = new Map<string, { at: number; half: number; written: number }>();
      const lookUp = (names: readonly string[]): Result | undefined => {
        const value = valueFrom(thing, names, analysis);
        if (value?.measure === undefined) return value?.word;
        const figure = read(value);
        if (figure === undefined) return undefined;
        const known = inputs.get(value.path) ?? { ...figure, at: figure.si };
        inputs.set(value.path, known);
        return known.at;
      };
      const isGiven = (names: readonly string[]): boolean => isWritten(thing, names, analysis);
      const evaluate = (): number | undefined => {
        const left = worth(node.left, lookUp, isGiven);
        const right = worth(node.right, lookUp, isGiven);
        return typeof left === "number" && typeof right === "number" ? left - right : undefined;
      };
      if (node.when !== undefined && worth(node.when, lookUp, isGiven) !== true) continue;
      inputs.clear();
      const off = evaluate();
      if (off === undefined) {
        tally.passedOver++;
        continue;
      }
      let allowed = 0;
      let size = 0;
      // Where all is written nothing is worked out: each figure then says no more than its digits do.
      const onlyWritten = [...inputs.values()].every(({ written }) => written > 0);
      for (const input of inputs.values()) {
        const { at } = input;
        const half = onlyWritten ? Math.max(input.half, input.written) : input.half;
        size = Math.max(size, Math.abs(at));
        const moved = [at + half, at - half].map((si) => {
          input.at = si;
          return Math.abs((evaluate() ?? off) - off);
        });
        input.at = at;
        allowed += Math.max(...moved);
      }
      tally.held++;
      const noise = 1e-9 * Math.max(1, size);
      if (Math.abs(off) > allowed * (1 + 1e-6) + noise)
        flaws.push(`${thing.path} “${title}” (${shown}): off by ${off}, ${allowed} is explained`);
    }
  }
  return flaws;
}

// ───────────────────────────── helpers ─────────────────────────────

function valueFrom(thing: Thing, names: readonly string[], analysis: Analysis): Value | undefined {
  const path = names[0] === "owner" ? names.slice(1) : names;
  const from = names[0] === "owner" ? thing.owner : thing;
  for (let at: Thing | undefined = from; at !== undefined; at = at.owner) {
    if (at.field(path[0] ?? "") === undefined) continue;
    return analysis.valueAt([at.path, ...path].join("."));
  }
  return undefined;
}

/** The thing in which the last of some names stands. */
function holderOf(thing: Thing, names: readonly string[], analysis: Analysis): Thing | undefined {
  for (let at: Thing | undefined = thing; at !== undefined; at = at.owner)
    if (at.field(names[0] ?? "") !== undefined)
      return analysis.thingAt([at.path, ...names.slice(0, -1)].join("."));
  return undefined;
}

/** What `given(…)` asks: whether a field, or a part of a designation, was written down. */
function isWritten(thing: Thing, names: readonly string[], analysis: Analysis): boolean {
  const [first = ""] = names;
  for (let at: Thing | undefined = thing; names.length === 1 && at !== undefined; at = at.owner)
    if (at.field(first) !== undefined)
      return at.entries.has(first) || at.parts.get(first)?.spoken === true;
  const holder = names.length > 1 ? holderOf(thing, names, analysis) : undefined;
  const last = names.at(-1) ?? "";
  if (holder?.parts.has(last) === true || holder?.entries.get(last)?.value.type === "path")
    return holder.entries.has(last) || holder.parts.get(last)?.spoken === true;
  const value = valueFrom(thing, names, analysis);
  if (value?.si === undefined) return false;
  return value.standing === "given" || value.standing === "measured";
}

function readShown(
  value: Value,
  analysis: Analysis,
  shown: Shown,
  flaws: string[],
): Read | undefined {
  const { measure } = value;
  const si = shown === "drawn" ? value.si : (value.outcome()?.si ?? value.si);
  if (si === undefined || measure === undefined || value.currency !== undefined) return undefined;
  const text =
    shown === "drawn"
      ? figureOf(value, analysis).text
      : (comesOut(value, analysis)?.text ?? figureOf(value, analysis).text);
  const found = readQuantity(text.replaceAll(/(?<=\d)[ ,](?=\d{3}\b)/g, ""), measure);
  if ("problem" in found) return undefined;
  const apart = Math.abs(found.si - si);
  const made = madeAside(value, shown);
  if (made > 0) {
    // On its step, and that shown in the steps of the build.
    const step = apart <= 1e-9 ? 0 : (halfStep(text, value, analysis) ?? 0);
    return { si: found.si, half: made + step, written: 0 };
  }
  const written = value.written === undefined ? 0 : (halfStep(text, value, analysis) ?? 0);
  if (apart <= 1e-12 * Math.max(1, Math.abs(si))) return { si: found.si, half: 0, written };
  const half = halfStep(text, value, analysis);
  if (half === undefined) return undefined;
  if (apart > half * (1 + 1e-6))
    flaws.push(`${value.path} is ${si} and is shown as ${text}, more than half a step away`);
  return { si: found.si, half, written };
}

/** A made figure that answers no wish is shown on its step, and what follows from it is as drawn. */
function madeAside(value: Value, shown: Shown): number {
  const outcome = shown === "drawn" ? undefined : value.outcome();
  if (outcome === undefined || value.role !== "made" || (outcome.answers ?? []).length > 0)
    return 0;
  return Math.abs(outcome.si - (value.si ?? outcome.si));
}

/** Half of the last step that a text shows, in SI. */
function halfStep(text: string, { measure }: Value, { style }: Analysis): number | undefined {
  if (measure === undefined) return undefined;
  const match = /^-?([\d .,/-]*\d)\s*(\D.*)?$/.exec(text);
  const [, number = "", symbol = ""] = match ?? [];
  const factor = symbol === "" ? 1 : readUnit(symbol.trim(), measure)?.factor;
  if (match === null || factor === undefined) return undefined;
  const increment = displayOf(measure, style).increment;
  const inSteps = number.includes(".")
    ? increment !== undefined && increment.denominator === undefined && isOn(number, increment.step)
    : increment !== undefined;
  if (number.includes("/") || inSteps) {
    if (increment === undefined) return undefined;
    const own = readUnit(displayOf(measure, style).unit, measure)?.factor ?? factor;
    return (increment.step * own) / 2;
  }
  const decimals = /\.(\d+)/.exec(number)?.[1]?.length ?? 0;
  return (10 ** -decimals * factor) / 2;
}

/** `28.5` in steps of 0.5. */
function isOn(number: string, step: number): boolean {
  const count = Number(number.replaceAll(/[ ,]/g, "")) / step;
  return Math.abs(count - Math.round(count)) < 1e-6;
}

type LookUp = (names: readonly string[]) => Result | undefined;

/** Undefined where a formula holds what is not worked out here, such as lists and tables. */
function worth(
  node: Expression,
  lookUp: LookUp,
  isGiven: (names: readonly string[]) => boolean,
): Result | undefined {
  const of = (inner: Expression): Result | undefined => worth(inner, lookUp, isGiven);
  const number = (inner: Expression): number => {
    const found = of(inner);
    return typeof found === "number" ? found : Number.NaN;
  };
  const known = (result: number): number | undefined => (Number.isNaN(result) ? undefined : result);
  switch (node.type) {
    case "number":
      return node.value;
    case "quantity": {
      const text = node.parts
        .map(({ number: each, unit }) => `${each.text} ${unit.text}`)
        .join(" ");
      const found = readQuantity(text);
      return "problem" in found ? undefined : found.si;
    }
    case "yes_no":
      return node.value;
    case "group":
      return of(node.inner);
    case "unary": {
      if (node.operator === "-") return known(-number(node.operand));
      const operand = of(node.operand);
      return typeof operand === "boolean" ? !operand : undefined;
    }
    case "path": {
      const names = node.names.map((name) => name.text);
      if (names.length === 1 && names[0] === "pi") return Math.PI;
      return lookUp(names);
    }
    case "if": {
      const condition = of(node.condition);
      return typeof condition === "boolean" ? of(condition ? node.then : node.else) : undefined;
    }
    case "binary":
      return ofTwo(node.operator, node.left, node.right, of, number, known);
    case "call": {
      const name = node.callee.names.map((each) => each.text).join(".");
      const [first] = node.arguments;
      if (name === "given" && first?.type === "path")
        return isGiven(first.names.map((each) => each.text));
      const call = calls[name];
      if (call === undefined || node.rest !== undefined) return undefined;
      return known(call(...node.arguments.map(number)));
    }
    default:
      return undefined;
  }
}

const calls: Readonly<Record<string, (...values: number[]) => number>> = {
  abs: Math.abs,
  sqrt: Math.sqrt,
  exp: Math.exp,
  log: Math.log,
  sin: Math.sin,
  cos: Math.cos,
  tan: Math.tan,
  asin: Math.asin,
  acos: Math.acos,
  atan: Math.atan,
  atan2: Math.atan2,
  min: Math.min,
  max: Math.max,
};

function ofTwo(
  operator: string,
  left: Expression,
  right: Expression,
  of: (node: Expression) => Result | undefined,
  number: (node: Expression) => number,
  known: (result: number) => number | undefined,
): Result | undefined {
  switch (operator) {
    case "+":
      return known(number(left) + number(right));
    case "-":
      return known(number(left) - number(right));
    case "*":
      return known(number(left) * number(right));
    case "/":
      return known(number(left) / number(right));
    case "^":
      return known(number(left) ** number(right));
    case "and":
    case "or": {
      const [one, other] = [of(left), of(right)];
      if (typeof one !== "boolean" || typeof other !== "boolean") return undefined;
      return operator === "and" ? one && other : one || other;
    }
    case "==":
    case "!=": {
      // A choice stands beside the field it belongs to, as a bare name.
      const word =
        right.type === "path" && right.names.length === 1 ? right.names[0]?.text : undefined;
      const one = of(left);
      const other = of(right) ?? word;
      if (one === undefined || other === undefined) return undefined;
      return operator === "==" ? one === other : one !== other;
    }
    default: {
      const [one, other] = [number(left), number(right)];
      if (Number.isNaN(one) || Number.isNaN(other)) return undefined;
      const compare: Record<string, boolean> = {
        ">=": one >= other,
        "<=": one <= other,
        ">": one > other,
        "<": one < other,
      };
      return compare[operator];
    }
  }
}
