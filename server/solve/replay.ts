/**
 * What some variables would be with other givens: only the steps that lead to them are carried out
 * again, along the plan that stands. Far quicker than solving anew, but blind to changes of
 * structure: a last word comes from a fresh solution.
 *
 * Must not know: why the givens vary.
 */
import { coneOf } from "./adjoint";
import type { Block } from "./block";
import { blockOf, type Execution, executionOf, questionOf } from "./execution";
import { solveBlock } from "./newton";
import type { SolveStep } from "./plan";
import { quickAnswer, type SingleQuestion, solveSingle } from "./single";
import type { Solution } from "./system";

export interface ReplayStep {
  readonly step: SolveStep;
  readonly question: SingleQuestion | undefined;
  readonly block: Block | undefined;
}

export class Replay {
  /** Numbers of the steps that are carried out, ascending. */
  readonly cone: readonly number[];
  readonly steps: readonly ReplayStep[];
  readonly values: Float64Array;
  private readonly base: Float64Array;

  constructor(solution: Solution, variables: readonly number[]) {
    const execution = executionOf(solution);
    this.cone = coneOf(execution, variables);
    this.steps = this.cone.map((at) => prepare(execution, execution.steps[at]!));
    this.base = solution.values;
    this.values = solution.values.slice();
  }

  /** Values with these givens instead; the array is reused by the next call. NaN where none. */
  at(givens: Iterable<readonly [number, number]>): Float64Array {
    this.values.set(this.base);
    for (const [variable, value] of givens) this.values[variable] = value;
    for (const step of this.steps) this.carryOut(step);
    return this.values;
  }

  carryOut(step: ReplayStep): void {
    carryOut(step, this.values, this.base);
  }
}

export function prepare(execution: Execution, step: SolveStep): ReplayStep {
  const single = step.variables.length === 1;
  return {
    step,
    question: single ? questionOf(execution.network, step) : undefined,
    block: single ? undefined : blockOf(execution.network, step, execution.values),
  };
}

/** Among several answers the one nearest to the base's is meant. */
export function carryOut(
  { question, block, step }: ReplayStep,
  values: Float64Array,
  base: Float64Array,
): void {
  if (question !== undefined) {
    const quick = quickAnswer(question, values);
    if (!Number.isNaN(quick)) {
      values[question.variable] = quick;
      return;
    }
    const answer = solveSingle(question, values);
    values[question.variable] =
      answer.kind === "several-roots"
        ? nearestOf(answer.roots, base[question.variable]!)
        : answer.value;
    return;
  }
  if (block === undefined) return;
  const start = step.variables.map((variable) => base[variable]!);
  if (solveBlock(block, values, start).kind !== "solved") solveBlock(block, values);
}

/** NaN where none is told, such as where all of a stretch would do. */
function nearestOf(roots: readonly number[], place: number): number {
  let nearest = Number.NaN;
  for (const root of roots) {
    if (!(Math.abs(root - place) >= Math.abs(nearest - place))) nearest = root;
  }
  return nearest;
}
