/**
 * The ± of a quantity from the givens' tolerances.
 *
 * Worst case: every given at whichever of its limits is worse, by the sensitivities at the nominal
 * (first order, the usual stack-up). Root sum square: half the width between a given's limits times
 * its sensitivity, squared, summed and rooted; it is centred on the middle of the limits, so that
 * lopsided tolerances move its centre by `shift` and do not widen it (the usual treatment: make the
 * limits bilateral first).
 *
 * Where a kink lies within the tolerances, sensitivities at the nominal tell too little: then
 * the quantity is worked out again at the corners of the tolerances, and along the line between the
 * two worst corners. RSS then takes each given's larger one-at-a-time deviation, which errs on the
 * safe side.
 *
 * Must not know: claims.
 */
import { evaluate } from "./evaluate";
import { executionOf } from "./execution";
import { givensAcrossKinks } from "./kinks";
import { Replay } from "./replay";
import { quantityValue, sweepOf } from "./sensitivity";
import type { GivenNumber, Quantity, Solution, Spread } from "./system";
import { tapeOf } from "./tape";

/** Undefined where the quantity has no value. */
export function spreadOf(solution: Solution, quantity: Quantity): Spread | undefined {
  if (!restsOnTolerances(solution, quantity)) {
    const none = { worstBelow: 0, worstAbove: 0, rss: 0, shift: 0, contributors: [] };
    return quantityValue(solution, quantity) === undefined ? undefined : none;
  }
  const sweep = sweepOf(solution, quantity);
  if (sweep === undefined) return undefined;
  const movers: Mover[] = [];
  for (const [variable, sensitivity] of sweep.byGiven) {
    const given = solution.system.variables[variable]!.given;
    if (given !== undefined && given.high > given.low)
      movers.push(straight(variable, given, sensitivity));
  }
  const across = givensAcrossKinks(solution, quantity, sweep.cone);
  if (across.size === 0 && sweep.exact) {
    let worstBelow = 0;
    let worstAbove = 0;
    let shift = 0;
    for (const mover of movers) {
      worstBelow += mover.below;
      worstAbove += mover.above;
      shift += (mover.above - mover.below) / 2;
    }
    return summed(solution, movers, worstBelow, worstAbove, shift);
  }
  if (!sweep.exact)
    for (const variable of tolerancedInputs(solution, quantity)) across.add(variable);
  for (const mover of movers) across.delete(mover.variable);
  for (const variable of across) {
    movers.push(straight(variable, solution.system.variables[variable]!.given!, 0));
  }
  return byCorners(solution, quantity, movers);
}

const reached = new WeakMap<Solution, Uint8Array>();

/** Whether any given with a tolerance can move it, by structure: most quantities need no sweep. */
function restsOnTolerances(solution: Solution, { variables }: Quantity): boolean {
  let marks = reached.get(solution);
  if (marks === undefined) {
    marks = reachOfTolerances(solution);
    reached.set(solution, marks);
  }
  for (const variable of variables) if (marks[variable] === 1) return true;
  return false;
}

/** 1 for each variable that follows from a given with a tolerance, or is one. */
function reachOfTolerances(solution: Solution): Uint8Array {
  const { variables, equations } = solution.system;
  const marks = Uint8Array.from(variables, ({ given }) =>
    given !== undefined && given.high > given.low ? 1 : 0,
  );
  for (const step of executionOf(solution).steps) {
    const moved = step.equations.some((equation) =>
      equations[equation]!.variables.some((variable) => marks[variable] === 1),
    );
    if (moved) for (const variable of step.variables) marks[variable] = 1;
  }
  return marks;
}

/** What one given does to the quantity: downwards and upwards (both at least 0), half of both. */
interface Mover {
  readonly variable: number;
  readonly given: GivenNumber;
  readonly sensitivity: number;
  readonly below: number;
  readonly above: number;
  readonly half: number;
}

function straight(variable: number, given: GivenNumber, sensitivity: number): Mover {
  const up = Math.max(0, given.high - given.value);
  const down = Math.max(0, given.value - given.low);
  const size = Math.abs(sensitivity);
  return {
    variable,
    given,
    sensitivity,
    below: size * (sensitivity > 0 ? down : up),
    above: size * (sensitivity > 0 ? up : down),
    half: (size * (up + down)) / 2,
  };
}

function summed(
  solution: Solution,
  movers: readonly Mover[],
  worstBelow: number,
  worstAbove: number,
  shift: number,
): Spread {
  const variance = movers.reduce((sum, mover) => sum + mover.half ** 2, 0);
  const { variables } = solution.system;
  const contributors = movers
    .filter((mover) => mover.below > 0 || mover.above > 0)
    .map(({ variable, sensitivity, below, above, half }) => ({
      variable,
      sensitivity,
      below,
      above,
      share: variance > 0 ? half ** 2 / variance : 0,
    }))
    .sort(
      (one, other) =>
        other.share - one.share ||
        (variables[one.variable]!.name < variables[other.variable]!.name ? -1 : 1),
    );
  return { worstBelow, worstAbove, rss: Math.sqrt(variance), shift, contributors };
}

/** All toleranced givens that the quantity rests on by structure. */
function tolerancedInputs(solution: Solution, quantity: Quantity): Set<number> {
  const found = new Set<number>();
  const see = (variable: number): void => {
    const given = solution.system.variables[variable]!.given;
    if (given !== undefined && given.high > given.low) found.add(variable);
  };
  quantity.variables.forEach(see);
  for (const { step } of new Replay(solution, quantity.variables).steps) {
    for (const equation of step.equations)
      solution.system.equations[equation]!.variables.forEach(see);
  }
  return found;
}

/** So many givens are tried in all combinations; more than these by turns. */
const CORNERS = 6;

function byCorners(solution: Solution, quantity: Quantity, unsorted: readonly Mover[]): Spread {
  const { variables } = solution.system;
  const replay = new Replay(solution, quantity.variables);
  const tape = tapeOf(quantity.expression);
  const nominal = evaluate(tape, solution.values, quantity.variables);
  const valueAt = (movers: readonly Mover[], places: ArrayLike<number>): number => {
    const values = replay.at(movers.map((mover, i) => [mover.variable, placed(mover, places[i]!)]));
    return evaluate(tape, values, quantity.variables);
  };
  const alone = unsorted.map((mover): Mover => {
    const low = valueAt([mover], [-1]) - nominal;
    const high = valueAt([mover], [1]) - nominal;
    const below = Math.max(0, -low, -high) || 0;
    const above = Math.max(0, low, high) || 0;
    return { ...mover, below, above, half: Math.max(below, above) };
  });
  const movers = alone.sort(
    (one, other) =>
      other.half - one.half ||
      (variables[one.variable]!.name < variables[other.variable]!.name ? -1 : 1),
  );
  const extremes = {
    low: nominal,
    high: nominal,
    lowAt: new Float64Array(movers.length),
    highAt: new Float64Array(movers.length),
  };
  const look = (places: Float64Array): number => {
    const value = valueAt(movers, places);
    if (value < extremes.low) {
      extremes.low = value;
      extremes.lowAt = places.slice();
    }
    if (value > extremes.high) {
      extremes.high = value;
      extremes.highAt = places.slice();
    }
    return value;
  };
  const leading = Math.min(CORNERS, movers.length);
  // The others stand where the sensitivities at the nominal say they are worst, first low, then high.
  for (const way of [-1, 1]) {
    const places = Float64Array.from(movers, (mover) => way * (mover.sensitivity < 0 ? -1 : 1));
    for (let corner = 0; corner < 1 << leading; corner++) {
      for (let i = 0; i < leading; i++) places[i] = (corner >> i) & 1 ? 1 : -1;
      look(places);
    }
  }
  improve(movers.length, () => extremes.lowAt, look);
  improve(movers.length, () => extremes.highAt, look);
  const opposite = (places: Float64Array): Float64Array => places.map((place) => -place);
  const ends = [extremes.lowAt.slice(), extremes.highAt.slice()] as const;
  alongLine(ends[0], ends[1], look);
  for (const end of ends) alongLine(end, opposite(end), look);
  return summed(solution, movers, nominal - extremes.low, extremes.high - nominal, 0);
}

/** Moves one given at a time from the worst corner found, three times round. */
function improve(
  count: number,
  from: () => Float64Array,
  look: (places: Float64Array) => number,
): void {
  for (let round = 0; round < 3; round++) {
    for (let i = 0; i < count; i++) {
      for (const place of [-1, 0, 1]) {
        const places = from().slice();
        places[i] = place;
        look(places);
      }
    }
  }
}

/** A magnitude is least between corners: looks there, and closes in on the least and greatest. */
function alongLine(
  from: Float64Array,
  to: Float64Array,
  look: (places: Float64Array) => number,
): void {
  const at = (share: number): number =>
    look(from.map((place, j) => place + (to[j]! - place) * share));
  const samples = 16;
  for (const sign of [1, -1]) {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i <= samples; i++) {
      const height = sign * at(i / samples);
      if (height < least) {
        least = height;
        best = i;
      }
    }
    if (best === 0 || best === samples) continue;
    let low = Math.max(0, best - 1) / samples;
    let high = Math.min(samples, best + 1) / samples;
    for (let i = 0; i < 45; i++) {
      const third = (high - low) / 3;
      if (sign * at(low + third) <= sign * at(high - third)) high -= third;
      else low += third;
    }
  }
}

/** −1 is the low limit, 0 the nominal, 1 the high limit. */
function placed({ given }: Mover, place: number): number {
  const width = place < 0 ? given.value - given.low : given.high - given.value;
  return given.value + place * Math.max(0, width);
}
