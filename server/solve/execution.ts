/**
 * Carrying out a plan: the values step by step, and what came in between. The finished record is
 * what every later question (sensitivities, conflicts, derivations) is answered from.
 *
 * Must not know: what the questions are.
 */

import { goOn } from "../keep/patience";
import type { Beside } from "./beside";
import type { Block } from "./block";
import { evaluate, resultSize } from "./evaluate";
import { type FormFacts, residualAndGradient, residualSize } from "./form";
import { byRankAndName, type Network } from "./network";
import { type BlockAnswer, type Linearized, linearize, solveBlock } from "./newton";
import type { PlanLayout, SolveStep } from "./plan";
import type { FixedPart } from "./row-space";
import { isInRange, type SingleQuestion, solveSingle } from "./single";
import type { Failure, Solution, SolvePlan, System, Variable } from "./system";

export interface Execution extends SolvePlan {
  readonly network: Network;
  /** The plan from structure alone, before numbers spoke; undefined where only a part was planned. */
  readonly layout: PlanLayout | undefined;
  readonly steps: readonly SolveStep[];
  /** Number of the step that yields a variable, -1 where none does. */
  readonly stepOf: Int32Array;
  readonly values: Float64Array;
  /** How large the numbers are that each value came from, see `rounding-noise.ts`. */
  readonly sizes: Float64Array;
  readonly failures: ReadonlyMap<number, Failure>;
  readonly checks: readonly number[];
  /** Equations that were set aside because, with these numbers, they add nothing. */
  readonly excluded: ReadonlySet<number>;
  readonly memory: Memory;
}

/** Derivatives worked out so far. */
export interface Memory {
  gradients: Float64Array | undefined;
  hasGradient: Uint8Array | undefined;
  readonly linearized: Map<SolveStep, Linearized>;
  /** Steps whose answers are known to be all there are, and those of which that is not known. */
  readonly searched: Map<SolveStep, boolean>;
  /** What relations that hang together by what is open were found to fix. */
  fixed: readonly FixedIn[];
  /** Relations with something open in them that were combined, and nothing came of it. */
  combined: readonly number[] | undefined;
}

/** What was looked through, by its equations and what is open in them. */
export interface FixedIn {
  readonly part: { readonly equations: readonly number[]; readonly variables: readonly number[] };
  readonly found: FixedPart | undefined;
}

export function newMemory(): Memory {
  return {
    gradients: undefined,
    hasGradient: undefined,
    linearized: new Map(),
    searched: new Map(),
    fixed: [],
    combined: undefined,
  };
}

/** The record behind a solution; solutions come from nowhere else. */
export function executionOf(solution: Solution): Execution {
  return solution.plan as Execution;
}

/** What a run of steps stumbled over: equations to leave out before planning again. */
export interface Stumble {
  readonly step: SolveStep;
  readonly kind: "dependent" | "vacuous" | "failed";
  readonly answer: BlockAnswer | undefined;
}

export interface StepsRun {
  readonly stumbles: readonly Stumble[];
  readonly carriedOut: number;
}

/**
 * Carries out steps in their order. `values` must hold the givens and all other inputs; the steps'
 * variables are written, NaN where they have no answer.
 * `sizes` is carried along with `values`, and so are `failures`, why there is no answer.
 * `beside` knows what need not be carried out.
 */
export function runSteps(
  network: Network,
  steps: readonly SolveStep[],
  values: Float64Array,
  sizes: Float64Array,
  failures: Map<number, Failure>,
  beside: Beside | undefined,
): StepsRun {
  let carriedOut = 0;
  const stumbles: Stumble[] = [];
  const waiting = new Set<number>();
  const settle = (step: SolveStep): void => {
    if (step.variables.length === 1) {
      const variable = step.variables[0]!;
      const quick = plainAnswer(network, step.equations[0]!, variable, values, sizes);
      if (!Number.isNaN(quick)) {
        // Adding 0 turns −0 into 0.
        values[variable] = quick + 0;
        return;
      }
      const question = questionOf(network, step);
      values[variable] = Number.NaN;
      const answer = solveSingle(question, values);
      if (answer.kind === "solved") {
        values[variable] = answer.value;
        sizes[variable] = solvedSize(network, step, variable, values, sizes);
        return;
      }
      if (inherit(network, step, values, failures, waiting)) return;
      if (answer.kind === "vacuous") {
        waiting.add(variable);
        stumbles.push({ step, kind: "vacuous", answer: undefined });
        return;
      }
      if (answer.kind === "several-roots") {
        const chosen = nearest(answer.roots, network.system.variables[variable]!.near);
        if (chosen !== undefined) {
          values[variable] = chosen;
          sizes[variable] = solvedSize(network, step, variable, values, sizes);
          return;
        }
      }
      if (isSoft(network, step)) stumbles.push({ step, kind: "failed", answer: undefined });
      failures.set(variable, {
        why: answer.kind,
        equations: step.equations,
        variables: step.variables,
        ...(answer.kind === "several-roots"
          ? { roots: answer.roots, complete: answer.complete }
          : {}),
        ...(answer.outside === undefined ? {} : { outside: answer.outside }),
        ...(answer.nearest === undefined ? {} : { nearest: answer.nearest }),
      });
      return;
    }
    if (inherit(network, step, values, failures, waiting)) {
      for (const variable of step.variables) values[variable] = Number.NaN;
      return;
    }
    const answer = solveBlock(blockOf(network, step, values), values);
    if (answer.kind === "solved" || pickNear(network, step, answer, values)) {
      for (const variable of step.variables) {
        values[variable]! += 0;
        sizes[variable] = solvedSize(network, step, variable, values, sizes);
      }
      return;
    }
    if (answer.kind === "dependent") {
      for (const variable of step.variables) waiting.add(variable);
      stumbles.push({ step, kind: "dependent", answer });
      return;
    }
    if (isSoft(network, step)) stumbles.push({ step, kind: "failed", answer });
    const { equations, variables } = step;
    const { answers, complete } = answer;
    const failure: Failure = {
      why: answer.why,
      equations,
      variables,
      ...(answers === undefined ? {} : { answers: answers.map((each) => [...each]), complete }),
    };
    for (const variable of variables) failures.set(variable, failure);
  };
  for (const step of steps) {
    goOn();
    if (beside?.takeOver(step, failures) === true) continue;
    carriedOut++;
    settle(step);
  }
  return { stumbles, carriedOut };
}

/** The one of several that lies nearest to what is meant, if that is said. */
function nearest(roots: readonly number[], near: number | undefined): number | undefined {
  if (near === undefined || roots.length === 0) return undefined;
  return roots.reduce((best, root) =>
    Math.abs(root - near) < Math.abs(best - near) ? root : best,
  );
}

/** Takes the answer of a block whose figures lie nearest to what is meant; false where nothing is said. */
function pickNear(
  network: Network,
  step: SolveStep,
  answer: BlockAnswer,
  values: Float64Array,
): boolean {
  if (answer.kind !== "failed" || answer.answers === undefined) return false;
  const best = nearestOf(network.system, step.variables, answer.answers);
  if (best === undefined) return false;
  step.variables.forEach((variable, at) => {
    values[variable] = best[at]!;
  });
  return true;
}

/** Of answers of several figures the one that lies nearest to what is meant; undefined where nothing is said. */
export function nearestOf<T extends ArrayLike<number>>(
  { variables: all }: System,
  variables: readonly number[],
  answers: readonly T[],
): T | undefined {
  const meant = variables.flatMap((variable, at) => {
    const { near, scale } = all[variable]!;
    return near === undefined ? [] : [{ at, near, scale }];
  });
  const [first] = answers;
  if (meant.length === 0 || first === undefined) return undefined;
  const away = (each: T): number =>
    meant.reduce((sum, { at, near, scale }) => sum + Math.abs(each[at]! - near) / scale, 0);
  return answers.reduce((one, other) => (away(other) < away(one) ? other : one), first);
}

/** `quickAnswer` without asking for anything to be made: the commonest step by far. */
function plainAnswer(
  network: Network,
  equation: number,
  variable: number,
  values: Float64Array,
  sizes: Float64Array,
): number {
  const { variables } = network.system.equations[equation]!;
  const { branches } = network.facts[equation]!.slots[variables.indexOf(variable)]!;
  if (branches === undefined || branches.check) return Number.NaN;
  const { range, scale } = network.system.variables[variable]!;
  const tape = branches.tapes[0]!;
  const value = evaluate(tape, values, variables, sizes);
  sizes[variable] = resultSize(tape, variables, sizes);
  if (range === undefined) return Number.isFinite(value) ? value : Number.NaN;
  return isInRange(range[0], range[1], scale, value) ? value : Number.NaN;
}

/** What an answer that was searched for came from: its equation's sides, by how steep that is in it. */
function solvedSize(
  network: Network,
  step: SolveStep,
  variable: number,
  values: Float64Array,
  sizes: Float64Array,
): number {
  const own = Math.abs(values[variable]!);
  const equation = step.pairs[step.variables.indexOf(variable)]!;
  const { variables } = network.system.equations[equation]!;
  const facts = network.facts[equation]!;
  sizes[variable] = own;
  const gradient = new Float64Array(variables.length);
  residualAndGradient(facts, values, variables, gradient, 0);
  const slope = Math.abs(gradient[variables.indexOf(variable)]!);
  const flowed = (residualSize(facts, variables, sizes) || 0) / slope;
  return Number.isFinite(flowed) && flowed > own ? flowed : own;
}

function isSoft(network: Network, step: SolveStep): boolean {
  return step.equations.some((e) => network.system.equations[e]!.rank !== "relation");
}

/** Whether some input is missing; if so the step's variables fail for the same reason. */
function inherit(
  network: Network,
  step: SolveStep,
  values: Float64Array,
  failures: Map<number, Failure>,
  waiting: Set<number>,
): boolean {
  const own = new Set(step.variables);
  for (const equation of step.equations) {
    for (const variable of network.system.equations[equation]!.variables) {
      if (!Number.isNaN(values[variable]) || own.has(variable)) continue;
      const failure = failures.get(variable);
      for (const each of step.variables) {
        if (failure === undefined || waiting.has(variable)) waiting.add(each);
        else failures.set(each, failure);
      }
      return true;
    }
  }
  return false;
}

export function lowOf(variable: Variable): number {
  return variable.range?.[0] ?? Number.NEGATIVE_INFINITY;
}

export function highOf(variable: Variable): number {
  return variable.range?.[1] ?? Number.POSITIVE_INFINITY;
}

/** Where answers are searched for: an angle without a range, within a half turn. */
function searchedLow(variable: Variable): number {
  if (variable.angle !== true || variable.range !== undefined) return lowOf(variable);
  return (variable.near ?? 0) - Math.PI;
}

function searchedHigh(variable: Variable): number {
  if (variable.angle !== true || variable.range !== undefined) return highOf(variable);
  return (variable.near ?? 0) + Math.PI;
}

export function questionOf(network: Network, step: SolveStep): SingleQuestion {
  const variable = step.variables[0]!;
  const equation = step.equations[0]!;
  const slots = network.system.equations[equation]!.variables;
  const facts = network.system.variables[variable]!;
  const slot = slots.indexOf(variable);
  const form = network.facts[equation]!;
  // What only one answer can be is not held to a half turn.
  const { branches, straight } = form.slots[slot]!;
  const bounded = !straight && (branches === undefined || branches.check);
  return {
    facts: form,
    slots,
    slot,
    variable,
    scale: facts.scale,
    low: bounded ? searchedLow(facts) : lowOf(facts),
    high: bounded ? searchedHigh(facts) : highOf(facts),
  };
}

export function blockOf(network: Network, step: SolveStep, values: Float64Array): Block {
  const { system } = network;
  const variables = step.variables.map((variable) => system.variables[variable]!);
  const order = byRankAndName(system.equations);
  const preference = step.equations
    .map((equation, at) => ({ equation, at }))
    .sort((one, other) => order(one.equation, other.equation))
    .map(({ at }) => at);
  return {
    facts: step.equations.map((equation): FormFacts => network.facts[equation]!),
    slots: step.equations.map((equation) => system.equations[equation]!.variables),
    preference,
    unknowns: step.variables,
    scales: variables.map((variable) => variable.scale),
    lows: variables.map(searchedLow),
    highs: variables.map(searchedHigh),
    guesses: guesses(system, step, values),
  };
}

/** For each unknown what is meant, else the middle one of the known numbers of its scale that stand in the block. */
function guesses(system: System, step: SolveStep, values: Float64Array): number[] {
  const seen = new Set<number>();
  for (const equation of step.equations) {
    for (const variable of system.equations[equation]!.variables) seen.add(variable);
  }
  for (const unknown of step.variables) seen.delete(unknown);
  const sizes = new Map<number, number[]>();
  for (const variable of seen) {
    const value = values[variable]!;
    if (!Number.isFinite(value) || value === 0) continue;
    const { scale } = system.variables[variable]!;
    const alike = sizes.get(scale);
    if (alike === undefined) sizes.set(scale, [value]);
    else alike.push(value);
  }
  for (const alike of sizes.values()) alike.sort((a, b) => a - b);
  return step.variables.map((unknown) => {
    const { scale, near } = system.variables[unknown]!;
    if (near !== undefined) return near;
    const alike = sizes.get(scale);
    return alike?.[alike.length >> 1] ?? Number.NaN;
  });
}

export function linearizedAt(execution: Execution, step: SolveStep): Linearized {
  let found = execution.memory.linearized.get(step);
  if (found === undefined) {
    const { network, values } = execution;
    found = linearize(blockOf(network, step, values), values);
    execution.memory.linearized.set(step, found);
  }
  return found;
}
