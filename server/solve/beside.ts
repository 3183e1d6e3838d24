/**
 * A system solved beside one that was solved before and has much in common with it: the same build as
 * it comes out, or with another number in it. What rests on the same in both is taken over, never
 * worked out again; as all of it follows from what it rests on alone, the answer is that from nothing.
 *
 *     const beside = new Beside(executionOf(drawn), network, values, sizes);
 *     beside.takeOver(step, failures)      true where nothing is left to do
 *
 * Equations and variables count as the same where they are the very objects, at the same places.
 *
 * Must not know: how anything is solved.
 */
import type { Execution } from "./execution";
import type { SolveStep } from "./plan";
import type { Failure } from "./system";

/** One of the two: what is solved now, or was before. */
type Work = Pick<Execution, "network" | "values" | "sizes">;

/** Carries steps over, as long as what they rest on comes out the same. */
export class Beside {
  constructor(
    private readonly before: Execution,
    private readonly now: Work,
  ) {}

  /** False where the step is to be carried out, since it rests on something else. */
  takeOver(step: SolveStep, failures: Map<number, Failure>): boolean {
    const { before, now } = this;
    const { variables } = step;
    const there = before.steps[before.stepOf[variables[0]!] ?? -1];
    if (there === undefined || !isSameStep(there, step)) return false;
    for (const variable of variables) if (!this.isAnswered(variable, step)) return false;
    for (const equation of step.equations)
      if (!isSameEquation(before, now, equation, variables) || this.isOpen(equation, variables))
        return false;
    for (const variable of variables) {
      now.values[variable] = before.values[variable]!;
      now.sizes[variable] = before.sizes[variable]!;
      const failure = before.failures.get(variable);
      if (failure !== undefined) failures.set(variable, failure);
    }
    return true;
  }

  /** Whether anything it rests on has no value. */
  private isOpen(equation: number, yielded: readonly number[]): boolean {
    const { values, network } = this.now;
    return network.system.equations[equation]!.variables.some(
      (each) => Number.isNaN(values[each]) && !yielded.includes(each),
    );
  }

  /** It has a value, or none for a reason that lies in the step and goes on to be told. */
  private isAnswered(variable: number, step: SolveStep): boolean {
    const { values, failures, network } = this.before;
    if (network.system.variables[variable] !== this.now.network.system.variables[variable])
      return false;
    if (!Number.isNaN(values[variable])) return true;
    const own = failures.get(variable)?.variables[0] === step.variables[0];
    const firm = step.equations.every(
      (each) => network.system.equations[each]!.rank === "relation",
    );
    return own && firm;
  }
}

/**
 * Whether an equation says the same in both of figures that are known alike, but for those that it is
 * to yield.
 */
export function isSameEquation(
  before: Work,
  now: Work,
  equation: number,
  yielded: readonly number[] = [],
): boolean {
  const own = now.network.system.equations[equation]!;
  if (before.network.system.equations[equation] !== own) return false;
  for (const variable of own.variables) {
    if (before.network.system.variables[variable] !== now.network.system.variables[variable])
      return false;
    if (yielded.includes(variable)) continue;
    const [one, other] = [before.values[variable]!, now.values[variable]!];
    if (one !== other && !(Number.isNaN(one) && Number.isNaN(other))) return false;
    if (before.sizes[variable] !== now.sizes[variable] && !Number.isNaN(one)) return false;
  }
  return true;
}

export function isSameStep(one: SolveStep, other: SolveStep): boolean {
  return one === other || lists.every((list) => isSameList(one[list], other[list]));
}

const lists = ["equations", "variables", "pairs"] as const;

export function isSameList(some: readonly number[], others: readonly number[]): boolean {
  return some.length === others.length && some.every((each, at) => each === others[at]);
}
