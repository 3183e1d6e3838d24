/**
 * Which equations a value rests on: those it moves with at the solution, and those it would move
 * with elsewhere. A default of 5 in `(b - 5) ^ 2`, or one that `max(b, 10)` passes over just now, is
 * rested on although nothing moves with it here; what cancels out on every way is not.
 *
 *   restsOn(execution, 7)   // the equations behind variable 7
 *
 * Must not know: which equations are assumptions.
 */
import { sweepBack } from "./adjoint";
import { evaluate } from "./evaluate";
import type { Execution } from "./execution";
import { residualAndGradient } from "./form";
import { loadRanges, runRanges } from "./range-run";
import { slopeRanges } from "./range-slopes";
import { rangesOf } from "./tape";

export function restsOn(execution: Execution, variable: number): ReadonlySet<number> {
  const found = new Set<number>();
  const asked = new Set([variable]);
  for (const each of asked) {
    const sweep = sweepBack(execution, [each], [1]);
    if (!sweep.exact) {
      // Where a slope does not exist, all that leads here counts.
      for (const at of sweep.cone) {
        for (const equation of execution.steps[at]!.equations) found.add(equation);
      }
      continue;
    }
    for (const equation of sweep.byEquation.keys()) {
      found.add(equation);
      for (const hidden of levelInputs(execution, equation)) asked.add(hidden);
    }
  }
  return found;
}

/** Solved variables that an equation is level in here, but not wherever they could be. */
function levelInputs(execution: Execution, equation: number): readonly number[] {
  const { network, values, sizes, stepOf } = execution;
  const { system, facts } = network;
  const { variables } = system.equations[equation]!;
  const gradient = new Float64Array(variables.length);
  residualAndGradient(facts[equation]!, values, variables, gradient, 0);
  const level = variables.filter(
    (variable, slot) => gradient[slot] === 0 && stepOf[variable]! >= 0,
  );
  if (level.length === 0) return level;
  const { tape } = facts[equation]!;
  const low = Float64Array.from(variables, (variable) => values[variable]!);
  const high = low.slice();
  variables.forEach((variable, slot) => {
    if (stepOf[variable]! < 0) return;
    const [from, to] = system.variables[variable]!.range ?? [-LARGE, LARGE];
    low[slot] = Math.min(from, low[slot]!);
    high[slot] = Math.max(to, high[slot]!);
  });
  evaluate(tape, values, variables, sizes);
  const slots = [...variables.keys()];
  loadRanges(tape, low, high, slots);
  runRanges(tape);
  slopeRanges(tape, [1, -1]);
  const { slopeLow, slopeHigh } = rangesOf(tape);
  return level.filter((variable) => {
    const position = tape.slotPositions[tape.slotIndices.indexOf(variables.indexOf(variable))];
    return position !== undefined && (slopeLow[position] !== 0 || slopeHigh[position] !== 0);
  });
}

/** Stands for a figure that may be anything. */
const LARGE = 1e30;
