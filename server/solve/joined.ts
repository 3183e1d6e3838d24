/**
 * Some variables of several systems side by side, each with the steps that lead to it, and variables
 * that no equation speaks of.
 *
 * Must not know: how any of them was solved, what its variables stand for.
 */
import { coneOf } from "./adjoint";
import { type Execution, executionOf, newMemory } from "./execution";
import type { Key, KeyedEquation, ReadAs, Solved } from "./keyed";
import { networkOf } from "./network";
import type { SolveStep } from "./plan";
import { solutionOf } from "./solve";
import type { Equation, Variable } from "./system";

/** A solved system, whichever way it is read. */
export interface Joinable<K extends Key> {
  readonly keys: readonly K[];
  readonly equations: readonly KeyedEquation<K>[];
  placeOf(key: K): number | undefined;
  read(as: ReadAs): Solved<K>;
}

export function joined<K extends Key>(
  cells: readonly Joinable<K>[],
  wanted: readonly K[],
  variableOf: (key: K) => Variable,
  as: ReadAs = "solution",
): Solved<K> {
  const keys: K[] = [];
  const places = new Map<K, number>();
  const variables: Variable[] = [];
  const values: number[] = [];
  const sizes: number[] = [];
  const place = (key: K, variable: Variable, value: number, size: number): number => {
    places.set(key, keys.length);
    variables.push(variable);
    values.push(value);
    sizes.push(size);
    return keys.push(key) - 1;
  };
  const equations: Equation[] = [];
  const keyed: KeyedEquation<K>[] = [];
  const steps: SolveStep[] = [];
  const stepOf: number[] = [];
  for (const cell of cells) {
    const { solution } = cell.read(as);
    const hidden = new Map<number, K>();
    const keyAt = (local: number): K => {
      // What was added to a system to let something go stands for nothing.
      const key = cell.keys[local] ?? hidden.get(local);
      if (key !== undefined) return key;
      const { name } = solution.system.variables[local] as Variable;
      const made = { serial: -1, name, file: "" } as K;
      hidden.set(local, made);
      return made;
    };
    const execution = executionOf(solution);
    const locals = wanted.flatMap((key) => cell.placeOf(key) ?? []);
    const at = (local: number): number => {
      const key = keyAt(local);
      const value = solution.values[local] ?? Number.NaN;
      const variable = solution.system.variables[local] as Variable;
      return places.get(key) ?? place(key, variable, value, execution.sizes[local] ?? 0);
    };
    const numbers = new Map<number, number>();
    const equationAt = (local: number): number => {
      let number = numbers.get(local);
      if (number === undefined) {
        number = equations.length;
        numbers.set(local, number);
        const equation = solution.system.equations[local] as Equation;
        equations.push({ ...equation, variables: equation.variables.map(at) });
        keyed.push(cell.equations[local] as KeyedEquation<K>);
      }
      return number;
    };
    for (const number of coneOf(execution, locals)) {
      const step = execution.steps[number] as SolveStep;
      const placed = step.equations.map(equationAt);
      const own = step.variables.map(at);
      for (const variable of own) stepOf[variable] = steps.length;
      // One equation for one variable is paired with it.
      const pairs = step.pairs === step.equations ? placed : step.pairs.map(equationAt);
      steps.push({ equations: placed, variables: own, pairs });
    }
    for (const local of locals) at(local);
  }
  for (const key of wanted) {
    if (places.has(key)) continue;
    const variable = variableOf(key);
    const value = variable.given?.value ?? Number.NaN;
    place(key, variable, value, Math.abs(value));
  }
  const execution: Execution = {
    network: networkOf({ variables, equations }),
    layout: undefined,
    steps,
    stepOf: Int32Array.from(keys, (_, at) => stepOf[at] ?? -1),
    values: Float64Array.from(values),
    sizes: Float64Array.from(sizes),
    failures: new Map(),
    checks: [],
    excluded: new Set(),
    memory: newMemory(),
    carriedOut: 0,
  };
  return {
    solution: solutionOf(execution, undefined),
    keys: keys.map((key) => (key.serial < 0 ? (undefined as unknown as K) : key)),
    placeOf: (key) => places.get(key),
    equationAt: (at) => keyed[at],
  };
}
