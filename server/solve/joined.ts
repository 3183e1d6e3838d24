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
  const keys: (K | undefined)[] = [];
  /** Of what was added to a system to let something go, which has no key, by the variable itself. */
  const places = new Map<K | Variable, number>();
  const variables: Variable[] = [];
  const values: number[] = [];
  const sizes: number[] = [];
  const place = (key: K | undefined, variable: Variable, value: number, size: number): number => {
    places.set(key ?? variable, keys.length);
    variables.push(variable);
    values.push(value);
    sizes.push(size);
    return keys.push(key) - 1;
  };
  const equations: Equation[] = [];
  const keyed: (KeyedEquation<K> | undefined)[] = [];
  const steps: SolveStep[] = [];
  const stepOf: number[] = [];
  for (const cell of cells) {
    const { solution } = cell.read(as);
    const { system } = solution;
    const execution = executionOf(solution);
    const at = (local: number): number => {
      const key = cell.keys[local];
      const variable = system.variables[local]!;
      const { values: solved, sizes: theirs } = execution;
      return places.get(key ?? variable) ?? place(key, variable, solved[local]!, theirs[local]!);
    };
    const locals = wanted.flatMap((key) => cell.placeOf(key) ?? []);
    for (const number of coneOf(execution, locals)) {
      const step = execution.steps[number]!;
      const placed = step.equations.map((local) => {
        const equation = system.equations[local]!;
        keyed.push(cell.equations[local]);
        return equations.push({ ...equation, variables: equation.variables.map(at) }) - 1;
      });
      const own = step.variables.map(at);
      for (const variable of own) stepOf[variable] = steps.length;
      const pairs = step.pairs.map((local) => placed[step.equations.indexOf(local)]!);
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
    keys: keys as K[],
    placeOf: (key) => places.get(key),
    equationAt: (at) => keyed[at],
  };
}
