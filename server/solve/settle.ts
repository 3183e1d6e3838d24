/**
 * Plans and carries out until numbers and structure agree: an equation that turns out to add
 * nothing is set aside and the rest is planned again, which may let a default or assumed relation
 * in. A default or assumed relation always gives way before a relation does.
 *
 * Must not know: how conflicts are told.
 */

import { goOn } from "../keep/patience";
import { gradientAt, sweepBack } from "./adjoint";
import { Beside, isSameStep } from "./beside";
import { ByPlan } from "./by-plan";
import { CLOSE } from "./evaluate";
import { type Execution, newMemory, runSteps, type Stumble } from "./execution";
import { magnitude, residual } from "./form";
import { byRankAndName, connectedEquations, type Network } from "./network";
import { layOut, NO_STEP, type PlanLayout, type SolveStep } from "./plan";
import { leftMinusRight, roomToNothing } from "./room";
import type { Failure } from "./system";

export interface Start {
  readonly network: Network;
  /** The equations to solve with; their unknowns occur in no others. */
  readonly equations: Iterable<number>;
  /** Plan of these equations, where it is known already. */
  readonly layout: PlanLayout | undefined;
  /** Givens and what else is known; the rest NaN. Written to. */
  readonly values: Float64Array;
  /** Work done elsewhere that is part of the same record. */
  readonly kept: {
    /** With `NO_STEP` where a step is to be done again; `stepOf` counts in it. */
    readonly steps: readonly SolveStep[];
    readonly stepOf: Int32Array | undefined;
    /** As in `Execution`. */
    readonly sizes?: Float64Array;
    readonly checks: readonly number[];
    readonly failures: ReadonlyMap<number, Failure>;
    readonly excluded: ReadonlySet<number>;
  };
  /** What was solved before and has much in common with it. */
  readonly beside?: Execution | undefined;
}

/** Where nothing was worked out elsewhere. */
export const NOTHING_KEPT: Start["kept"] = {
  steps: [],
  stepOf: undefined,
  checks: [],
  failures: new Map(),
  excluded: new Set(),
};

export function settle(start: Start): Execution {
  const { network, values, kept } = start;
  const excluded = new Set(kept.excluded);
  const failures = new Map(kept.failures);
  const first = start.layout ?? layOut(network, start.equations, new Set());
  const sizes = values.map((value, v) =>
    network.known[v] === 1 ? Math.abs(value) : (kept.sizes?.[v] ?? 0),
  );
  const steps = kept.steps.slice();
  const stepOf = kept.stepOf?.slice() ?? new Int32Array(network.system.variables.length).fill(-1);
  let checks = kept.checks.concat(first.checks);
  let pending = first.steps;
  const beside = start.beside && new Beside(start.beside, { network, values, sizes });
  let carriedOut = 0;
  // A round leaves out one equation more at least; it takes relations in again only where what is
  // supposed is let go of, for good.
  for (;;) {
    goOn(values.length);
    for (const step of pending) {
      for (const variable of step.variables) stepOf[variable] = steps.length;
      steps.push(step);
    }
    const run = runSteps(network, pending, values, sizes, failures, beside);
    const { stumbles } = run;
    carriedOut += run.carriedOut;
    const execution: Execution = {
      network,
      layout: start.layout ?? (kept.steps.length === 0 ? first : undefined),
      steps,
      stepOf,
      values,
      sizes,
      failures,
      checks,
      excluded,
      memory: newMemory(),
      carriedOut,
    };
    const instead = softUnderChecks(execution);
    if (stumbles.length === 0 && instead.size === 0) return execution;
    const out = new Set(instead.values());
    for (const stumble of stumbles) {
      for (const equation of leftOut(execution, stumble)) out.add(equation);
    }
    for (const equation of out) excluded.add(equation);
    for (const relation of instead.keys()) excluded.delete(relation);
    const again = furtherKnown.get(first, [excluded, out], () => further(execution, out));
    removeSteps(again.variables, steps, stepOf);
    checks = checks.filter((equation) => !again.again.has(equation)).concat(again.checks);
    for (const variable of again.variables) {
      values[variable] = Number.NaN;
      failures.delete(variable);
    }
    pending = again.steps;
  }
}

/** What is planned again once some equations were set aside or taken in again. */
interface Further {
  /** What hangs together with these. */
  readonly again: ReadonlySet<number>;
  /** The figures among it that are worked out again. */
  readonly variables: readonly number[];
  readonly steps: readonly SolveStep[];
  readonly checks: readonly number[];
}

const furtherKnown = new ByPlan<Further>();

/** Steps that are planned as before, and rest on nothing but such steps, stay as they were carried out. */
function further(execution: Execution, out: ReadonlySet<number>): Further {
  const { network, excluded, steps, stepOf } = execution;
  const { equations } = network.system;
  const again = connectedEquations(network, out);
  const layout = layOut(network, again, excluded);
  const stands = network.known.slice();
  const isAsBefore = (step: SolveStep): boolean => {
    const before = steps[stepOf[step.variables[0]!]!];
    if (before === undefined || !isSameStep(before, step)) return false;
    const own = step.variables;
    return step.equations.every((equation) =>
      equations[equation]!.variables.every((each) => stands[each] === 1 || own.includes(each)),
    );
  };
  const toRun = layout.steps.filter((step) => {
    if (!isAsBefore(step)) return true;
    for (const variable of step.variables) stands[variable] = 1;
    return false;
  });
  const touched = new Set(again.flatMap((equation) => equations[equation]!.variables));
  return {
    again: new Set(again),
    variables: [...touched].filter((variable) => stands[variable] === 0),
    steps: toRun,
    checks: layout.checks,
  };
}

/** Takes out the steps that yield some figures, leaving the others at their places. */
export function removeSteps(
  variables: Iterable<number>,
  steps: SolveStep[],
  stepOf: Int32Array,
): void {
  for (const variable of variables) {
    const step = stepOf[variable]!;
    if (step < 0) continue;
    for (const solved of steps[step]!.variables) stepOf[solved] = -1;
    steps[step] = NO_STEP;
  }
}

/** Which equations to set aside so that a step that stumbled can be done without. */
function leftOut(execution: Execution, stumble: Stumble): readonly number[] {
  const { equations } = execution.network.system;
  const { step, answer } = stumble;
  if (stumble.kind === "vacuous") return step.equations;
  if (answer?.kind === "dependent") {
    const aside: number[] = [];
    for (const { row, weights } of answer.rows) {
      const equation = step.equations[row]!;
      const soft =
        equations[equation]!.rank === "relation"
          ? lastSoft(execution, softBehind(execution, step, weights))
          : undefined;
      aside.push(soft ?? equation);
    }
    return aside;
  }
  const soft = step.equations.filter((equation) => equations[equation]!.rank !== "relation");
  // Only a step that holds something supposed stumbles otherwise.
  return [lastSoft(execution, soft)!];
}

/** Defaults and assumed relations that a combination of a block's equations rests on. */
function softBehind(execution: Execution, step: SolveStep, weights: Float64Array): number[] {
  const { network } = execution;
  const sums = new Map<number, number>();
  step.equations.forEach((equation, row) => {
    const weight = weights[row]!;
    if (weight === 0) return;
    const gradient = gradientWithout(execution, equation, step);
    network.system.equations[equation]!.variables.forEach((variable, slot) => {
      if (step.variables.includes(variable)) return;
      sums.set(variable, (sums.get(variable) ?? 0) + weight * gradient[slot]!);
    });
  });
  const sweep = sweepBack(execution, [...sums.keys()], [...sums.values()]);
  return [...sweep.byEquation.keys()].filter(
    (equation) => network.system.equations[equation]!.rank !== "relation",
  );
}

/** The gradient at a place where the block's own variables have some number, for lack of an answer. */
function gradientWithout(execution: Execution, equation: number, step: SolveStep): Float64Array {
  const { network, values } = execution;
  const { variables } = network.system;
  const place = values.slice();
  for (const variable of step.variables) {
    if (!Number.isNaN(place[variable])) continue;
    const { range, scale } = variables[variable]!;
    const bounded = range !== undefined && Number.isFinite(range[0]) && Number.isFinite(range[1]);
    place[variable] = bounded ? range[0] + 0.6180339887 * (range[1] - range[0]) : scale;
  }
  return gradientAt({ ...execution, values: place }, equation);
}

function lastSoft(execution: Execution, soft: readonly number[]): number | undefined {
  return [...soft].sort(byRankAndName(execution.network.system.equations)).pop();
}

/**
 * Relations that were set aside and do not hold, each with the default or assumed relation that it
 * rests on, which gives way instead.
 */
function softUnderChecks(execution: Execution): Map<number, number> {
  const { network, checks, values, excluded } = execution;
  const { equations } = network.system;
  const instead = new Map<number, number>();
  for (const equation of checks) {
    if (!excluded.has(equation)) continue;
    const { variables } = equations[equation]!;
    if (variables.some((variable) => Number.isNaN(values[variable]))) continue;
    const facts = network.facts[equation]!;
    const gap = residual(facts, values, variables);
    const size = CLOSE * magnitude(facts);
    if (!(Math.abs(gap) > size)) continue;
    const room = roomToNothing(execution, leftMinusRight(execution, equation), gap);
    if (room.nearest <= size) continue;
    const sweep = sweepBack(execution, variables, [...gradientAt(execution, equation)]);
    const soft = [...sweep.byEquation.keys()].filter(
      (other) => equations[other]!.rank !== "relation",
    );
    const last = lastSoft(execution, soft);
    if (last !== undefined) instead.set(equation, last);
  }
  return instead;
}
