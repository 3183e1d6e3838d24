/**
 * Solves one equation for one variable: by turning it round, by its straight line, or by searching
 * the variable's range.
 *
 * Must not know: plans, tolerances.
 */
import { allAnswers } from "./all-answers";
import { CLOSE, evaluate } from "./evaluate";
import { type FormFacts, magnitude, residual, residualAndGradient } from "./form";
import type { Branches } from "./isolate";
import { listedFor } from "./listed";

/** So many rows of a list are told of one that has none that does. */
export const MOST_LISTED = 24;

export interface SingleAnswer {
  /** `vacuous`: the equation holds whatever the variable is. */
  readonly kind:
    | "solved"
    | "vacuous"
    | "no-root"
    | "several-roots"
    | "not-defined"
    | "no-convergence";
  readonly value: number;
  readonly roots: readonly number[];
  /** Whether the roots are proved to be all in the range. */
  readonly complete: boolean;
  /** For `no-root`: an answer that would do, but lies outside the range. */
  readonly outside: number | undefined;
  /** For `no-root` of what a list is read by: its keys, those next to what is asked of it first. */
  readonly nearest?: readonly number[];
}

export interface SingleQuestion {
  readonly facts: FormFacts;
  readonly slots: readonly number[];
  /** The slot that is solved for, and its variable. */
  readonly slot: number;
  readonly variable: number;
  readonly scale: number;
  readonly low: number;
  readonly high: number;
}

/** The commonest case, without making anything: NaN unless there is exactly one plain answer. */
export function quickAnswer(question: SingleQuestion, values: Float64Array): number {
  const { branches } = question.facts.slots[question.slot]!;
  if (branches === undefined || branches.check) return Number.NaN;
  const value = evaluate(branches.tapes[0]!, values, question.slots);
  return inRange(question, value) ? value : Number.NaN;
}

/** Leaves `values` at the variable's position as it was. */
export function solveSingle(question: SingleQuestion, values: Float64Array): SingleAnswer {
  const kept = values[question.variable]!;
  const slotFacts = question.facts.slots[question.slot]!;
  const answer =
    slotFacts.branches !== undefined && takenIn(question, slotFacts.branches)
      ? byBranches(question, values)
      : slotFacts.straight
        ? byLine(question, values)
        : bySearch(question, values);
  const nearest = answer.kind === "no-root" ? nearestListed(question, values) : [];
  values[question.variable] = kept;
  return nearest.length === 0 ? answer : { ...answer, nearest };
}

/** Whether the branches take in the whole range: of what repeats with each turn, one turn either way. */
export function takenIn(
  { low, high }: Pick<SingleQuestion, "low" | "high">,
  { repeats }: Branches,
): boolean {
  if (!repeats || !Number.isFinite(low) || !Number.isFinite(high)) return true;
  return low >= -2 * Math.PI && high <= 2 * Math.PI;
}

function inRange({ low, high, scale }: SingleQuestion, value: number): boolean {
  return isInRange(low, high, scale, value);
}

/** Inside the range, or outside by no more than rounding. */
export function isInRange(low: number, high: number, scale: number, value: number): boolean {
  if (!Number.isFinite(value)) return false;
  const slack = CLOSE * (Math.abs(value) + scale * 1e-3);
  return value >= low - slack && value <= high + slack;
}

function byBranches(question: SingleQuestion, values: Float64Array): SingleAnswer {
  const { tapes, check } = question.facts.slots[question.slot]!.branches!;
  const roots: number[] = [];
  let outside: number | undefined;
  for (const tape of tapes) {
    const value = evaluate(tape, values, question.slots);
    if (!Number.isFinite(value) || (check && !holds(question, values, value))) continue;
    if (inRange(question, value)) roots.push(value);
    else outside ??= value;
  }
  return choose(question, values, roots, outside, true);
}

/** Newton from 0 is exact on a straight line; the second step removes rounding. */
function byLine(question: SingleQuestion, values: Float64Array): SingleAnswer {
  let value = 0;
  for (let i = 0; i < 2; i++) {
    const [height, slope] = heightAndSlope(question, values, value);
    if (slope === 0 || !Number.isFinite(slope) || !Number.isFinite(height)) {
      return choose(question, values, [], undefined, true);
    }
    value -= height / slope;
  }
  const fits = inRange(question, value);
  const outside = Number.isFinite(value) ? value : undefined;
  return choose(question, values, fits ? [value] : [], outside, true);
}

/** All answers in the range, by intervals; what no search settles is said to be that. */
function bySearch(question: SingleQuestion, values: Float64Array): SingleAnswer {
  const { facts, slots, variable, scale, low, high } = question;
  const found = allAnswers(
    {
      facts: [facts],
      slots: [slots],
      preference: [0],
      unknowns: [variable],
      scales: [scale],
      lows: [low],
      highs: [high],
      guesses: [Number.NaN],
    },
    values,
  );
  const roots = found.answers.map((answer) => answer[0]!);
  if (found.continuum) {
    const kind = whyNone(question, values) === "vacuous" ? "vacuous" : "several-roots";
    return { kind, value: Number.NaN, roots, complete: false, outside: undefined };
  }
  if (roots.length === 0 && !found.complete && whyNone(question, values) !== "not-defined") {
    const kind = "no-convergence";
    return { kind, value: Number.NaN, roots, complete: false, outside: undefined };
  }
  return choose(question, values, roots, undefined, found.complete);
}

function choose(
  question: SingleQuestion,
  values: Float64Array,
  found: readonly number[],
  outside: number | undefined,
  complete: boolean,
): SingleAnswer {
  const roots: number[] = [];
  for (const root of [...found].sort((a, b) => a - b)) {
    const before = roots[roots.length - 1];
    const apart = CLOSE * (Math.abs(root) + question.scale);
    if (before === undefined || root - before > apart) roots.push(root);
  }
  const only = roots[0];
  if (roots.length === 1 && only !== undefined && isOneOfMany(question, values, only)) {
    const kind = whyNone(question, values) === "vacuous" ? "vacuous" : "several-roots";
    return { kind, value: Number.NaN, roots, complete: false, outside };
  }
  if (roots.length === 1 && only !== undefined) {
    return { kind: "solved", value: only + 0, roots, complete, outside: undefined };
  }
  const kind = roots.length > 1 ? "several-roots" : whyNone(question, values);
  const missed = kind === "no-root" ? outside : undefined;
  return { kind, value: Number.NaN, roots, complete, outside: missed };
}

/**
 * Whether the equation holds beside the root as well: in a branch that says nothing of the variable,
 * or where a least or greatest of several is another one.
 */
function isOneOfMany(question: SingleQuestion, values: Float64Array, root: number): boolean {
  if (!question.facts.tape.kinked) return false;
  const apart = 1e-3 * (Math.abs(root) + question.scale);
  return [root - apart, root + apart].some(
    (place) => inRange(question, place) && holds(question, values, place),
  );
}

/** Keys of a list in range, those first with which the sides miss each other least. */
function nearestListed(question: SingleQuestion, values: Float64Array): number[] {
  return (listedFor(question.facts.tape, question.slot) ?? [])
    .filter((key) => inRange(question, key))
    .map((key) => ({ key, gap: Math.abs(heightAt(question, values, key)) }))
    .filter(({ gap }) => Number.isFinite(gap))
    .sort((one, other) => one.gap - other.gap || one.key - other.key)
    .slice(0, MOST_LISTED)
    .map(({ key }) => key);
}

/** Looks at a few places to tell an equation without a root from one without a value. */
function whyNone(question: SingleQuestion, values: Float64Array): SingleAnswer["kind"] {
  const { low, high, scale } = question;
  let defined = false;
  let flat = true;
  const listed = listedFor(question.facts.tape, question.slot);
  for (const share of [0.137, 0.541, 0.871]) {
    const bounded = Number.isFinite(low) && Number.isFinite(high);
    const place =
      listed !== undefined
        ? (listed[Math.floor(share * listed.length)] ?? 0)
        : bounded
          ? low + share * (high - low)
          : Number.isFinite(low)
            ? low + share * scale
            : Number.isFinite(high)
              ? high - share * scale
              : (share - 0.4) * scale;
    const [height, slope] = heightAndSlope(question, values, place);
    if (!Number.isFinite(height)) continue;
    defined = true;
    if (slope !== 0 || !holds(question, values, place)) flat = false;
  }
  return defined ? (flat ? "vacuous" : "no-root") : "not-defined";
}

function heightAt(question: SingleQuestion, values: Float64Array, x: number): number {
  values[question.variable] = x;
  return residual(question.facts, values, question.slots);
}

function heightAndSlope(
  question: SingleQuestion,
  values: Float64Array,
  x: number,
): readonly [number, number] {
  values[question.variable] = x;
  const gradient = new Float64Array(question.slots.length);
  const height = residualAndGradient(question.facts, values, question.slots, gradient, 0);
  return [height, gradient[question.slot]!];
}

/** Whether x satisfies the equation, as far as numbers of this size can tell. */
function holds(question: SingleQuestion, values: Float64Array, x: number): boolean {
  const height = heightAt(question, values, x);
  if (!Number.isFinite(height)) return false;
  if (Math.abs(height) <= CLOSE * magnitude(question.facts)) return true;
  const [, slope] = heightAndSlope(question, values, x);
  return Math.abs(height / slope) <= CLOSE * (Math.abs(x) + question.scale * 1e-3);
}
