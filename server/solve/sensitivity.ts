/**
 * The value of an asked quantity, and how much it moves with each given.
 *
 * Must not know: tolerances beyond whether there is one.
 */
import { type Sweep, sweepBack } from "./adjoint";
import { differentiate } from "./differentiate";
import { evaluate } from "./evaluate";
import { executionOf } from "./execution";
import type { Quantity, Solution } from "./system";
import { type Tape, tapeOf } from "./tape";

/** Undefined where a variable it needs is open or failed, or the expression has no value there. */
export function quantityValue(solution: Solution, quantity: Quantity): number | undefined {
  const value = evaluate(tapeOf(quantity.expression), solution.values, quantity.variables);
  return Number.isFinite(value) ? value : undefined;
}

/**
 * d quantity / d given for every given it moves with (`all`), or only for those with a tolerance.
 * Empty where the quantity has no value.
 */
export function sensitivities(
  solution: Solution,
  quantity: Quantity,
  which: "toleranced" | "all" = "all",
): Map<number, number> {
  const sweep = sweepOf(solution, quantity);
  const found = new Map<number, number>();
  if (sweep === undefined) return found;
  for (const [variable, sensitivity] of sweep.byGiven) {
    const given = solution.system.variables[variable]!.given;
    if (given === undefined || (which === "toleranced" && !(given.high > given.low))) continue;
    found.set(variable, sensitivity);
  }
  return found;
}

/** The sweep behind it, undefined where the quantity has no value. */
export function sweepOf(solution: Solution, quantity: Quantity): Sweep | undefined {
  const tape = tapeOf(quantity.expression);
  if (!Number.isFinite(evaluate(tape, solution.values, quantity.variables))) return undefined;
  differentiate(tape, [1]);
  return sweepSlots(solution, tape, quantity.variables);
}

/** Sweeps on from the derivatives by slot that stand on a tape. */
export function sweepSlots(solution: Solution, tape: Tape, slots: ArrayLike<number>): Sweep {
  const variables: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < tape.slotIndices.length; i++) {
    variables.push(slots[tape.slotIndices[i]!]!);
    weights.push(tape.adjoint[tape.slotPositions[i]!]!);
  }
  return sweepBack(executionOf(solution), variables, weights);
}
