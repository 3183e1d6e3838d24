/**
 * What moves while givens keep within their limits: each by itself, or several as one where the
 * build says that they move together.
 *
 * Givens that move together do so in the worst case, too: one number from −1 to 1 places all of them
 * between their limits, so that what one adds another may take away. That says the same of each only
 * where they lie alike between their limits; those that do not are taken by themselves, which allows
 * more than they can do and never less.
 *
 *     moversOf(variables, [3, 7], toleranceOf)   // one of both, where they are `together "the tape"`
 *
 * Must not know: what is asked of the ranges.
 */
import { add, multiply } from "./interval";
import type { GivenNumber, Variable } from "./system";

export interface Mover {
  /** Variables, ascending; more than one where they move together. */
  readonly givens: readonly number[];
  /** Of one given its own limits and place; of several from −1 to 1. */
  readonly low: number;
  readonly high: number;
  readonly middle: number;
  /** Lies normally between its limits. */
  readonly normal: boolean;
  /** Of several: where each lies at 0, how far it goes either way, and what rounding leaves it beside. */
  readonly parts?: readonly { readonly at: number; readonly by: number; readonly room: number }[];
}

/** Limits a given keeps within; undefined where it does not vary. */
export type LimitsOf = (given: GivenNumber) => readonly [low: number, high: number] | undefined;

export function hasTolerance(given: GivenNumber | undefined): given is GivenNumber {
  return given !== undefined && given.high > given.low;
}

export function toleranceOf(given: GivenNumber): readonly [number, number] | undefined {
  return hasTolerance(given) ? [given.low, given.high] : undefined;
}

/** A given stands for what rounds to it, and for what its tolerance takes in. */
export function standingFor(given: GivenNumber): readonly [number, number] | undefined {
  const { low: from, high: to, rounding } = given;
  return to > from || rounding > 0 ? [from - rounding, to + rounding] : undefined;
}

/** The same; what moves together does so but for its rounding, which is each one's own. */
export function standingForAsOne(given: GivenNumber): readonly [number, number] | undefined {
  return standingFor(given);
}

/** `varying`: those that have limits, in the order in which they are to be counted. */
export function moversOf(
  variables: readonly Variable[],
  varying: readonly number[],
  limitsOf: LimitsOf,
): Mover[] {
  const movers: (Mover | undefined)[] = [];
  const asOnes = limitsOf === toleranceOf || limitsOf === standingForAsOne;
  const groups = new Map<string, { readonly place: number; readonly givens: number[] }>();
  for (const variable of varying) {
    const given = variables[variable]!.given!;
    const key = asOnes ? groupOf(given) : undefined;
    const group = key === undefined ? undefined : groups.get(key);
    if (group !== undefined) {
      group.givens.push(variable);
      continue;
    }
    if (key !== undefined) groups.set(key, { place: movers.length, givens: [variable] });
    movers.push(alone(variable, given, limitsOf(given)!));
  }
  for (const { place, givens } of groups.values()) {
    if (givens.length > 1) movers[place] = asOne(variables, givens, limitsOf);
  }
  return movers as Mover[];
}

export function isNormal({ distribution = "normal" }: GivenNumber): boolean {
  return distribution === "normal";
}

/** The givens' values at the movers' places, in the order of `givensOf`. */
export function valuesAt(
  movers: readonly Mover[],
  places: ArrayLike<number>,
  into: Float64Array,
): Float64Array {
  let at = 0;
  movers.forEach((mover, input) => {
    const place = places[input]!;
    for (let k = 0; k < mover.givens.length; k++) into[at++] = valueAt(mover, k, place);
  });
  return into;
}

export function givensOf(movers: readonly Mover[]): number[] {
  return movers.flatMap(({ givens }) => givens);
}

/** The `k`-th given of a mover at a place of it. */
export function valueAt({ parts }: Mover, k: number, place: number): number {
  if (parts === undefined) return place;
  const { at, by } = parts[k]!;
  return at + by * place;
}

/** Where the `k`-th given lies while its mover lies from one place to another; rounded outward. */
export function rangeAt(
  { parts }: Mover,
  k: number,
  from: number,
  to: number,
): readonly [low: number, high: number] {
  if (parts === undefined) return [from, to];
  const { at, by, room } = parts[k]!;
  multiply(low, high, 0, from, to, by, by);
  add(low, high, 0, low[0]!, high[0]!, at - room, at + room);
  return [low[0]!, high[0]!];
}

// ───────────────────────────── helpers ─────────────────────────────

const low = new Float64Array(1);
const high = new Float64Array(1);

/** The same for givens that one number places between their limits. */
function groupOf({
  together,
  value,
  low: from,
  high: to,
  ...given
}: GivenNumber): string | undefined {
  if (together === undefined || !(to > from)) return undefined;
  const place = ((value - from) / (to - from)).toFixed(6);
  return JSON.stringify([together, given.distribution ?? "normal", place]);
}

/** Limits need not lie about the value. */
function alone(variable: number, given: GivenNumber, [from, to]: readonly [number, number]): Mover {
  const middle = Math.min(to, Math.max(from, given.value));
  return { givens: [variable], low: from, high: to, middle, normal: isNormal(given) };
}

function asOne(
  variables: readonly Variable[],
  givens: readonly number[],
  limitsOf: LimitsOf,
): Mover {
  const parts = givens.map((variable) => {
    const { low: from, high: to, rounding } = variables[variable]!.given!;
    const room = limitsOf === standingForAsOne ? rounding : 0;
    return { at: (from + to) / 2, by: (to - from) / 2, room };
  });
  const given = variables[givens[0]!]!.given!;
  const middle = (given.value - parts[0]!.at) / parts[0]!.by;
  return { givens, low: -1, high: 1, middle, normal: isNormal(given), parts };
}
