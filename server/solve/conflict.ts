/**
 * Relations left over once everything is solved: either they hold, as far as roundings and
 * tolerances can tell, or the givens contradict each other.
 *
 * Must not know: names beyond ordering, wording.
 */
import { gradientAt, type Sweep, sweepBack } from "./adjoint";
import { CLOSE } from "./evaluate";
import type { Execution } from "./execution";
import { magnitude, residual } from "./form";
import { byName, networkOf } from "./network";
import { roomFor } from "./room";
import { settle } from "./settle";
import {
  type Conflict,
  type Equation,
  type Failure,
  type GivenNumber,
  mayChange,
  type Variable,
} from "./system";

export interface Leftovers {
  readonly conflicts: readonly Conflict[];
  readonly failures: readonly Failure[];
  readonly redundant: readonly number[];
}

export function checkLeftovers(execution: Execution, checks: readonly number[]): Leftovers {
  const { network, values } = execution;
  const { equations } = network.system;
  const conflicts: Conflict[] = [];
  const failures: Failure[] = [];
  const redundant: number[] = [];
  for (const equation of [...checks].sort(byName(equations))) {
    const { variables } = equations[equation]!;
    if (variables.some((variable) => Number.isNaN(values[variable]))) continue;
    const facts = network.facts[equation]!;
    const gap = residual(facts, values, variables);
    const size = magnitude(facts);
    if (!Number.isFinite(gap)) {
      failures.push({ why: "not-defined", equations: [equation], variables: [] });
    } else if (Math.abs(gap) <= CLOSE * size) redundant.push(equation);
    else {
      const sweep = sweepBack(execution, variables, [...gradientAt(execution, equation)]);
      const allowed = roomFor(network, sweep) + CLOSE * size;
      if (Math.abs(gap) <= allowed) redundant.push(equation);
      else conflicts.push(conflictOf(execution, equation, gap, allowed, sweep));
    }
  }
  return { conflicts, failures, redundant };
}

/** Sensitivities are gradients of the leftover residual, so what does not move it is no party. */
function conflictOf(
  execution: Execution,
  equation: number,
  gap: number,
  allowed: number,
  sweep: Sweep,
): Conflict {
  const { system } = execution.network;
  const members = [...sweep.byEquation.keys(), equation].sort(byName(system.equations));
  // Equations without influence on the gap may still be what their neighbours are solved with.
  const solvedWith = sweep.cone.flatMap((step) => execution.steps[step]!.equations);
  solvedWith.push(equation);
  const givens: { variable: number; needed?: number }[] = [];
  for (const variable of [...sweep.byGiven.keys()].sort(byName(system.variables))) {
    const { given, role } = system.variables[variable]!;
    if (given === undefined) continue;
    // What a measured figure would have to be tells which reading to take again.
    const known = role === "measured" || mayChange(role);
    const needed = known ? neededValue(execution, solvedWith, variable) : undefined;
    givens.push(needed === undefined ? { variable } : { variable, needed });
  }
  return { equation, equations: members, givens, gap, allowed };
}

/**
 * The value one given would have if the contradiction's equations were to decide it: they are taken
 * out into a small system of their own, in which everything else that they use stands as it is.
 */
function neededValue(
  execution: Execution,
  equations: readonly number[],
  freed: number,
): number | undefined {
  const { network, stepOf, steps, values } = execution;
  const { system } = network;
  const members = new Set(equations);
  const placeOf = new Map<number, number>();
  const variables: Variable[] = [];
  const place = (variable: number): number => {
    let at = placeOf.get(variable);
    if (at === undefined) {
      at = variables.length;
      placeOf.set(variable, at);
      const { given: _, ...rest } = system.variables[variable]!;
      const step = steps[stepOf[variable]!];
      const solvedHere = step?.equations.some((e) => members.has(e)) ?? false;
      const given = exactly(values[variable]!);
      variables.push(variable === freed || solvedHere ? rest : { ...rest, given });
    }
    return at;
  };
  const own = equations.map((e): Equation => {
    const equation = system.equations[e]!;
    return { ...equation, variables: equation.variables.map(place) };
  });
  const small = networkOf({ variables, equations: own });
  const answer = settle({
    network: small,
    equations: own.keys(),
    layout: undefined,
    values: Float64Array.from(variables, ({ given }) => given?.value ?? Number.NaN),
    kept: { steps: [], stepOf: undefined, checks: [], failures: new Map(), excluded: new Set() },
    shape: "",
  });
  const needed = answer.values[placeOf.get(freed)!]!;
  return Number.isFinite(needed) ? needed : undefined;
}

function exactly(value: number): GivenNumber {
  return { value, low: value, high: value, rounding: 0 };
}
