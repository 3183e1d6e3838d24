/**
 * How much a weighted sum of variables moves with every given and with every equation's residual:
 * one sweep back over the steps that lead to it, exact through blocks (implicit differentiation).
 *
 * Influences that cancel to within 1e-9 of what flowed in count as none, so that "does it depend on
 * this at all" has a plain answer.
 *
 * Must not know: tolerances, conflicts.
 */
import { goOn } from "../keep/patience";
import { CLOSE } from "./evaluate";
import { type Execution, linearizedAt } from "./execution";
import { residualAndGradient } from "./form";
import { SINGULAR } from "./linear";
import type { SolveStep } from "./plan";

export interface Sweep {
  /** d sum / d given, for every variable that no step yields; 0 entries are left out. */
  readonly byGiven: ReadonlyMap<number, number>;
  /** d sum / d residual, where the equation's left minus right may drift from 0. */
  readonly byEquation: ReadonlyMap<number, number>;
  /** Numbers of the steps it rests on by structure, ascending. */
  readonly cone: readonly number[];
  /** False where some derivative does not exist (a touching root, the root of 0). */
  readonly exact: boolean;
}

/** Sums up `weights[i]` × variable `variables[i]`. */
export function sweepBack(
  execution: Execution,
  variables: readonly number[],
  weights: readonly number[],
): Sweep {
  const cone = coneOf(execution, variables);
  const sweep = new Sweeping(execution);
  variables.forEach((variable, at) => {
    sweep.add(variable, weights[at]!);
  });
  for (let i = cone.length - 1; i >= 0; i--) {
    goOn();
    sweep.pass(execution.steps[cone[i]!]!);
  }
  return { byGiven: sweep.givens(), byEquation: sweep.byEquation, cone, exact: sweep.exact };
}

/** Numbers of all steps that some variables rest on, ascending: in the order of solving. */
export function coneOf(execution: Execution, variables: readonly number[]): number[] {
  const { steps, stepOf, network } = execution;
  const seen = new Set<number>();
  const cone: number[] = [];
  const reach = (variable: number): void => {
    const step = stepOf[variable]!;
    if (step < 0 || seen.has(step)) return;
    seen.add(step);
    cone.push(step);
  };
  variables.forEach(reach);
  for (let at = 0; at < cone.length; at++) {
    for (const equation of steps[cone[at]!]!.equations) {
      goOn();
      network.system.equations[equation]!.variables.forEach(reach);
    }
  }
  return cone.sort((a, b) => a - b);
}

class Sweeping {
  readonly byEquation = new Map<number, number>();
  exact = true;
  private readonly sums = new Map<number, number>();
  private readonly flows = new Map<number, number>();

  constructor(private readonly execution: Execution) {}

  add(variable: number, weight: number): void {
    if (!Number.isFinite(weight)) {
      this.exact = false;
      return;
    }
    if (weight === 0) return;
    this.sums.set(variable, (this.sums.get(variable) ?? 0) + weight);
    this.flows.set(variable, (this.flows.get(variable) ?? 0) + Math.abs(weight));
  }

  private weightOf(variable: number): number {
    const sum = this.sums.get(variable) ?? 0;
    return Math.abs(sum) <= CLOSE * (this.flows.get(variable) ?? 0) ? 0 : sum;
  }

  pass(step: SolveStep): void {
    if (step.variables.length === 1) {
      const variable = step.variables[0]!;
      const weight = this.weightOf(variable);
      this.sums.delete(variable);
      if (weight === 0) return;
      const equation = step.equations[0]!;
      const { variables } = this.execution.network.system.equations[equation]!;
      const { gradients, start } = this.gradientOf(equation);
      const own = gradients[start + variables.indexOf(variable)]!;
      this.spread(equation, weight / own, step);
      return;
    }
    const right = step.variables.map((variable) => {
      const weight = this.weightOf(variable);
      this.sums.delete(variable);
      return weight;
    });
    if (right.every((weight) => weight === 0)) return;
    const { solver, rowSizes, scales } = linearizedAt(this.execution, step);
    if (!(solver.smallestPivot > SINGULAR)) {
      this.exact = false;
      return;
    }
    const lambda = solver.solveTransposed(right.map((weight, j) => weight * scales[j]!));
    const largest = lambda.reduce((most, entry) => Math.max(most, Math.abs(entry)), 0);
    step.equations.forEach((equation, row) => {
      const entry = lambda[row]!;
      if (Math.abs(entry) > CLOSE * largest) this.spread(equation, entry / rowSizes[row]!, step);
    });
  }

  /** An equation whose residual counts `lambda`: its inputs move the sum by −λ · gradient. */
  private spread(equation: number, lambda: number, step: SolveStep): void {
    if (!Number.isFinite(lambda)) {
      this.exact = false;
      return;
    }
    this.byEquation.set(equation, lambda);
    goOn();
    const { stepOf, steps, network } = this.execution;
    const { variables } = network.system.equations[equation]!;
    const { gradients, start } = this.gradientOf(equation);
    for (let slot = 0; slot < variables.length; slot++) {
      const variable = variables[slot]!;
      if (steps[stepOf[variable]!] === step) continue;
      this.add(variable, -lambda * gradients[start + slot]!);
    }
  }

  private gradientOf(equation: number): { gradients: Float64Array; start: number } {
    const { network, memory, values } = this.execution;
    const start = network.slotStart[equation]!;
    memory.gradients ??= new Float64Array(network.touching.length);
    memory.hasGradient ??= new Uint8Array(network.facts.length);
    if (memory.hasGradient[equation] === 0) {
      const { variables } = network.system.equations[equation]!;
      residualAndGradient(network.facts[equation]!, values, variables, memory.gradients, start);
      memory.hasGradient[equation] = 1;
    }
    return { gradients: memory.gradients, start };
  }

  /** What is left on variables that no step yields. */
  givens(): ReadonlyMap<number, number> {
    const left = new Map<number, number>();
    for (const variable of this.sums.keys()) {
      const weight = this.weightOf(variable);
      if (weight !== 0) left.set(variable, weight);
    }
    return left;
  }
}

/** Derivative of an equation's left minus right by each of its variables, at the solved values. */
export function gradientAt(execution: Execution, equation: number): Float64Array {
  const { network, values } = execution;
  const { variables } = network.system.equations[equation]!;
  const gradient = new Float64Array(variables.length);
  residualAndGradient(network.facts[equation]!, values, variables, gradient, 0);
  return gradient;
}
