/**
 * Which assumptions a value rests on: those it moves with at the solution, and those it would move
 * with elsewhere. A default of 5 in `(b - 5) ^ 2`, or one that `max(b, 10)` passes over just now, is
 * rested on although nothing moves with it here, and so is one whose ways cancel at this one number,
 * as in `b ^ 2 - 10 b`; what cancels out on every way is not.
 *
 *   restsOn(execution, 7, isAssumption)   // the assumptions behind variable 7
 *
 * Must not know: which equations are assumptions.
 */
import { coneOf, sweepBack } from "./adjoint";
import { CLOSE, evaluate } from "./evaluate";
import { type Execution, highOf, lowOf } from "./execution";
import { residualAndGradient } from "./form";
import { loadRanges, runRanges } from "./range-run";
import { slopeRanges } from "./range-slopes";
import { carryOut, prepare } from "./replay";
import { rangesOf } from "./tape";

export function restsOn(
  execution: Execution,
  variable: number,
  isAssumption: (equation: number) => boolean,
): ReadonlySet<number> {
  const found = new Set<number>();
  const asked = new Set([variable]);
  const add = (equation: number): void => {
    if (isAssumption(equation)) found.add(equation);
  };
  for (const each of asked) {
    const sweep = sweepBack(execution, [each], [1]);
    if (!sweep.exact) {
      // Where a slope does not exist, all that leads here counts.
      for (const at of sweep.cone) execution.steps[at]!.equations.forEach(add);
      continue;
    }
    for (const equation of sweep.byEquation.keys()) {
      add(equation);
      for (const hidden of levelInputs(execution, equation)) asked.add(hidden);
    }
  }
  for (const equation of cancelled(execution, variable, isAssumption, found)) found.add(equation);
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
  const ends = variables.map((variable) => widest(execution, variable));
  evaluate(tape, values, variables, sizes);
  loadRanges(
    tape,
    Float64Array.from(ends, ([low]) => low),
    Float64Array.from(ends, ([, high]) => high),
    [...variables.keys()],
  );
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

type Ends = readonly [low: number, high: number];

const widths = new WeakMap<Execution, Map<number, Ends>>();

/**
 * What a figure could be with all that leads to it anywhere in its range: where one formula yields it,
 * what that comes to, else all of its own range. What is given stays as it is.
 */
function widest(execution: Execution, variable: number): Ends {
  const { network, values, stepOf, steps } = execution;
  const known = widths.get(execution) ?? new Map<number, Ends>();
  widths.set(execution, known);
  const cone = stepOf[variable]! < 0 || known.has(variable) ? [] : coneOf(execution, [variable]);
  // In the order of the plan: chains of thousands call nothing within themselves.
  for (const at of cone) {
    const step = steps[at]!;
    for (const own of step.variables) {
      if (known.has(own)) continue;
      const value = values[own]!;
      const about = network.system.variables[own]!;
      let low = Math.max(lowOf(about), -LARGE);
      let high = Math.min(highOf(about), LARGE);
      const equation = step.equations[0]!;
      const { variables, rank } = network.system.equations[equation]!;
      const { branches } = network.facts[equation]!.slots[variables.indexOf(own)] ?? {};
      const only = branches?.tapes.length === 1 ? branches.tapes[0] : undefined;
      if (rank === "relation" && step.variables.length === 1 && only !== undefined) {
        evaluate(only, values, variables, execution.sizes);
        const ends = variables.map(
          (each): Ends => known.get(each) ?? [values[each]!, values[each]!],
        );
        loadRanges(
          only,
          Float64Array.from(ends, ([from]) => from),
          Float64Array.from(ends, ([, to]) => to),
          [...variables.keys()],
        );
        runRanges(only);
        const ranges = rangesOf(only);
        low = Math.max(low, ranges.low[only.results[0]!]!);
        high = Math.min(high, ranges.high[only.results[0]!]!);
      }
      known.set(own, [Math.min(low, value), Math.max(high, value)]);
    }
  }
  return known.get(variable) ?? [values[variable]!, values[variable]!];
}

/** So many places of an assumed figure are tried; two ways that cross this often are one. */
const PLACES = 5;
/** So many steps are carried out again, no more. */
const MOST_STEPS = 100_000;

/**
 * Assumptions that lead here and of which nothing was found: the figure each yields is put elsewhere,
 * and what follows from it worked out again.
 */
function cancelled(
  execution: Execution,
  variable: number,
  isAssumption: (equation: number) => boolean,
  found: ReadonlySet<number>,
): readonly number[] {
  const { steps, network, values } = execution;
  const cone = coneOf(execution, [variable]);
  const { scale } = network.system.variables[variable]!;
  const room = CLOSE * (Math.abs(values[variable]!) + scale);
  let left = MOST_STEPS;
  return cone.flatMap((at) => {
    const { equations, variables } = steps[at]!;
    const [equation = -1] = equations;
    const [own = -1] = variables;
    if (equations.length > 1 || !isAssumption(equation) || found.has(equation)) return [];
    const after = stepsBehind(execution, own, cone).map((each) => prepare(execution, each));
    left -= cone.length + PLACES * after.length;
    if (left < 0) return [];
    const moves = placesOf(execution, own).some((place) => {
      const moved = values.slice();
      moved[own] = place;
      for (const step of after) carryOut(step, moved, values);
      return Math.abs(moved[variable]! - values[variable]!) > room;
    });
    return moves ? [equation] : [];
  });
}

/** The steps of a cone that a figure leads to, in their order. */
function stepsBehind({ steps, network }: Execution, variable: number, cone: readonly number[]) {
  const moved = new Set([variable]);
  return cone.flatMap((at) => {
    const step = steps[at]!;
    if (step.variables.includes(variable)) return [];
    const moves = step.equations.some((equation) =>
      network.system.equations[equation]!.variables.some((each) => moved.has(each)),
    );
    if (!moves) return [];
    for (const each of step.variables) moved.add(each);
    return [step];
  });
}

/** Elsewhere in a figure's range, on both sides of where it is. */
function placesOf({ network, values }: Execution, variable: number): number[] {
  const about = network.system.variables[variable]!;
  const value = values[variable]!;
  const far = Math.abs(value) + about.scale;
  const low = Math.max(lowOf(about), value - far);
  const high = Math.min(highOf(about), value + far);
  return Array.from({ length: PLACES }, (_, at) => low + ((at + 0.382) / PLACES) * (high - low));
}
