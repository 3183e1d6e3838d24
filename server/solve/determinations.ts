/**
 * How each variable of a solution came to its value: given, solved or assumed, with the equations behind
 * it and what it rests on; or why it has none.
 *
 *     determinations(execution, failures, undefined)[3]   →   { how: "solved", equation: 7, … }
 *
 * Must not know: how anything is solved.
 */
import { type Execution, executionOf } from "./execution";
import { restsOn } from "./rests-on";
import type { Determination, Equation, Failure, Solution } from "./system";

/** What was solved again where something was laid over a base. */
export interface Redone {
  readonly base: Solution;
  readonly redone: ReadonlySet<number>;
  readonly changed: readonly number[];
}

export const GIVEN: Determination = { how: "given" };
export const OPEN: Determination = { how: "open" };

export function determinations(
  execution: Execution,
  failures: readonly Failure[],
  overlay: Redone | undefined,
): Determination[] {
  const { system } = execution.network;
  const kept = overlay === undefined ? undefined : overlay.base.determinations.slice();
  const result = kept ?? new Array<Determination>(system.variables.length).fill(OPEN);
  const reset = (v: number): void => {
    result[v] = execution.network.known[v] === 1 ? GIVEN : OPEN;
  };
  if (overlay === undefined) for (let v = 0; v < result.length; v++) reset(v);
  else {
    for (const e of overlay.redone) system.equations[e]!.variables.forEach(reset);
    for (const v of overlay.changed) if (v < result.length) reset(v);
  }
  const first = overlay === undefined ? 0 : executionOf(overlay.base).steps.length;
  const soft = new Uint8Array(result.length);
  for (let at = first; at < execution.steps.length; at++) {
    const step = execution.steps[at]!;
    let rests = false;
    for (const e of step.equations) {
      const equation = system.equations[e]!;
      rests ||= isAssumption(equation) || equation.variables.some((v) => soft[v] === 1);
    }
    for (let i = 0; i < step.variables.length; i++) {
      const variable = step.variables[i]!;
      if (rests) soft[variable] = 1;
      if (Number.isNaN(execution.values[variable])) continue;
      result[variable] = new Solved(execution, variable, step.pairs[i]!, step.equations, rests);
    }
  }
  if (execution.failures.size > 0) {
    const numberOf = new Map(failures.map((failure, at) => [failure, at]));
    for (const [variable, failure] of execution.failures) {
      result[variable] = { how: "failed", failure: numberOf.get(failure)! };
    }
  }
  return result;
}

/** What a value rests on is worked out when it is first asked for. */
class Solved {
  readonly how: "solved" | "assumed";
  private rests: readonly number[] | undefined;

  constructor(
    private readonly execution: Execution,
    private readonly variable: number,
    readonly equation: number,
    readonly block: readonly number[],
    private readonly mayRest: boolean,
  ) {
    this.how = this.isSoft(equation) && block.length === 1 ? "assumed" : "solved";
  }

  get restsOn(): readonly number[] {
    if (this.rests === undefined) {
      this.rests = this.mayRest
        ? [...restsOn(this.execution, this.variable, (each) => this.isSoft(each))].sort(
            (a, b) => a - b,
          )
        : [];
    }
    return this.rests;
  }

  private isSoft(equation: number): boolean {
    return isAssumption(this.execution.network.system.equations[equation]!);
  }
}

function isAssumption({ rank, assumption }: Equation): boolean {
  return (rank !== "relation" && rank !== "wanted") || assumption === true;
}
