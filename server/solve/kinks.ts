/**
 * Whether a kink or jump (min, max, abs, if, steps, table points) lies within the givens'
 * tolerances, so that straight-line reasoning about a quantity would be wrong there.
 *
 * Must not know: what is concluded from it.
 */
import { differentiateAt } from "./differentiate";
import { evaluate } from "./evaluate";
import { executionOf } from "./execution";
import { residual } from "./form";
import { sweepSlots } from "./sensitivity";
import type { GivenNumber, Quantity, Solution } from "./system";
import {
  ABS,
  AT_LEAST,
  CEIL,
  FLOOR,
  LOOKUP,
  MAX,
  MIN,
  ROUND,
  type Tape,
  tapeOf,
  UNEQUAL,
} from "./tape";

/** The toleranced givens that may carry some operation over a kink; empty where none is in reach. */
export function givensAcrossKinks(
  solution: Solution,
  quantity: Quantity,
  cone: readonly number[],
): Set<number> {
  const execution = executionOf(solution);
  const { network, steps } = execution;
  const found = new Set<number>();
  const tape = tapeOf(quantity.expression);
  if (tape.kinked) {
    evaluate(tape, solution.values, quantity.variables);
    collect(solution, tape, quantity.variables, found);
  }
  for (const at of cone) {
    for (const equation of steps[at]!.equations) {
      const facts = network.facts[equation]!;
      if (!facts.tape.kinked) continue;
      const slots = network.system.equations[equation]!.variables;
      residual(facts, solution.values, slots);
      collect(solution, facts.tape, slots, found);
    }
  }
  return found;
}

/** Looks at every kink of a tape that has just been run. */
function collect(
  solution: Solution,
  tape: Tape,
  slots: ArrayLike<number>,
  found: Set<number>,
): void {
  for (let i = tape.start; i < tape.codes.length; i++) {
    const distance = distanceToKink(tape, i);
    if (distance === undefined || Number.isNaN(distance)) continue;
    const code = tape.codes[i]!;
    const twoSided = code === MIN || code === MAX || (code >= AT_LEAST && code <= UNEQUAL);
    if (twoSided) differentiateAt(tape, [tape.first[i]!, tape.second[i]!], [1, -1]);
    else differentiateAt(tape, [tape.first[i]!], [1]);
    const { byGiven } = sweepSlots(solution, tape, slots);
    let reach = 0;
    const movers: number[] = [];
    for (const [variable, sensitivity] of byGiven) {
      const given = solution.system.variables[variable]!.given;
      if (given === undefined || !(given.high > given.low)) continue;
      reach += Math.abs(sensitivity) * widest(given);
      movers.push(variable);
    }
    if (movers.length > 0 && Math.abs(distance) <= reach * (1 + 1e-6)) {
      for (const variable of movers) found.add(variable);
    }
  }
}

function widest(given: GivenNumber): number {
  return Math.max(given.high - given.value, given.value - given.low);
}

/** How far the operation's input is from its kink; undefined for operations without one. */
function distanceToKink(tape: Tape, at: number): number | undefined {
  const a = tape.work[tape.first[at]!]!;
  const b = tape.work[tape.second[at]!]!;
  const code = tape.codes[at]!;
  if (code === MIN || code === MAX || (code >= AT_LEAST && code <= UNEQUAL)) return a - b;
  if (code === ABS) return a;
  if (code === ROUND) return (0.5 - Math.abs(a / b - Math.round(a / b))) * b;
  if (code === FLOOR || code === CEIL) return (a / b - Math.round(a / b)) * b;
  if (code !== LOOKUP) return undefined;
  const { keys } = tape.curves[at]!;
  return keys.reduce((least, key) => Math.min(least, Math.abs(a - key)), Number.POSITIVE_INFINITY);
}
