/**
 * Solves a system: every variable that follows from the givens, what is assumed on the way, what
 * contradicts, what fails and what stays open. Same system, same answer, whatever the order of its
 * variables and equations; nothing throws, and no NaN stands for anything but open or failed.
 *
 * Must not know: text, units, kinds, files.
 *
 *   solve({ variables: [a, b], equations: [{ form: { left: slot(0), right: slot(1), … } … }] })
 */

import { withBranchesTaken } from "./branch-taken";
import { checkLeftovers } from "./conflict";
import { determinations, GIVEN, OPEN, type Redone } from "./determinations";
import { type Execution, executionOf, newMemory } from "./execution";
import { withFixed } from "./fixed";
import { factsOf } from "./form";
import { withListed } from "./listed-answers";
import { absent, asOf, hasModes, solveModes } from "./modes";
import { byName, connectedEquations, isGiven, type Network, networkOf } from "./network";
import { isPutIn, markPutIn, writtenSystem } from "./put-in";
import { withoutRuledOut } from "./rule-out";
import { NOTHING_KEPT, removeSteps, settle } from "./settle";
import type { Determination, GivenNumber, Solution, SolvePlan, System, Variable } from "./system";
import { withWholeNumbers } from "./whole-numbers";
import { withWholeWithin } from "./whole-within";
import { withGivens } from "./with-givens";

/**
 * Solves from nothing. What was solved before and has much in common saves what is the same in it (see
 * `beside.ts`).
 */
export function solve(system: System, beside?: Solution): Solution {
  return hasModes(system) ? solveModes(system, solvePlainly, beside) : solvePlainly(system, beside);
}

function solvePlainly(system: System, beside?: Solution): Solution {
  return finished(answered(system, beside), beside);
}

/** What only becomes known once a first solution is there. */
function finished(solution: Solution, beside?: Solution): Solution {
  const { system, plan } = solution;
  const taken = withBranchesTaken(solution, (less) => answered(less, beside));
  if (taken === undefined) return completed(solution, beside);
  const last = asOf(system, completed(taken, beside));
  markPutIn(last, system);
  plannedFirst.set(last, plan);
  return last;
}

/** Answers ruled out further on, figures fixed whatever others are, rows of a list, whole numbers. */
function completed(solution: Solution, beside?: Solution): Solution {
  const again = (system: System): Solution => withoutRuledOut(answered(system), answered);
  const fixed = withFixed(withoutRuledOut(solution, answered), again, beside);
  const left = withListed(fixed, again);
  const whole = isPutIn(left) ? left : withWholeWithin(left, again);
  const last = isPutIn(whole) ? whole : withWholeNumbers(whole, again);
  plannedFirst.set(last, solution.plan);
  return last;
}

/** The plan of what was written, whatever was ruled out, copied or put in after that. */
export function planOf(solution: Solution): SolvePlan {
  return plannedFirst.get(solution) ?? solution.plan;
}

const plannedFirst = new WeakMap<Solution, SolvePlan>();

/** Answers that something further on rules out are still among the others. */
function answered(system: System, beside?: Solution): Solution {
  const network = networkOf(system);
  const execution = settle({
    network,
    equations: system.equations.keys(),
    layout: undefined,
    values: givenValues(network),
    kept: NOTHING_KEPT,
    beside: beside && executionOf(beside),
  });
  return solutionOf(execution, undefined, beside);
}

/**
 * The same with the plan of a system that has, place by place, the same forms between the same
 * variables, of the same ranks, with the same ones given, and names in the same order. What a sum of
 * figures comes to may be another number.
 */
export function solveLike(system: System, like: SolvePlan, beside?: Solution): Solution {
  const earlier = like as Execution;
  const network: Network = {
    ...earlier.network,
    system,
    facts: factsLike(earlier.network, system),
  };
  const execution = settle({
    network,
    equations: system.equations.keys(),
    layout: earlier.layout,
    values: givenValues(network),
    kept: NOTHING_KEPT,
    beside: beside && executionOf(beside),
  });
  return finished(solutionOf(execution, undefined, beside), beside);
}

function factsLike({ system: like, facts }: Network, { equations }: System): Network["facts"] {
  return equations.every(({ form }, at) => form === like.equations[at]!.form)
    ? facts
    : equations.map(({ form }) => factsOf(form));
}

/** What is laid over a system; places of variables and equations stay what they are. */
export interface SystemOverlay {
  /** Givens changed, added or (undefined) taken away, by variable. */
  readonly givens?: ReadonlyMap<number, GivenNumber | undefined>;
  /** Equations that do not count: as if nobody had written them. */
  readonly without?: ReadonlySet<number>;
}

/**
 * Solves a base solution's system with something laid over it. Only what hangs together with a
 * changed variable is planned and solved again; all else is taken over. Overlays are meant to be
 * taken from one base: each keeps its base in memory, so that a long chain keeps them all.
 */
export function solveOverlay(base: Solution, overlay: SystemOverlay): Solution {
  const changes = overlay.givens ?? new Map<number, GivenNumber | undefined>();
  const { without } = overlay;
  const whole = hasModes(base.system) || isPutIn(base);
  if ((without !== undefined && without.size > 0) || whole) {
    const { variables, equations } = withGivens(writtenSystem(base), changes);
    return solve({
      variables,
      equations: equations.map((equation, at) =>
        without?.has(at) === true ? absent(equation) : equation,
      ),
    });
  }
  const before = executionOf(base);
  const network = networkWith(before.network, withGivens(base.system, changes), changes.keys());
  const touched = new Set<number>();
  for (const variable of changes.keys()) {
    const from = before.network.touchStart[variable] ?? 0;
    const to = before.network.touchStart[variable + 1] ?? 0;
    for (let i = from; i < to; i++) touched.add(before.network.touching[i]!);
  }
  // What hung together before, and what hangs together now.
  const again = connectedEquations(network, connectedEquations(before.network, touched));
  const redone = new Set(again);
  const values = base.values.slice();
  const failures = new Map(before.failures);
  const clear = (variable: number): void => {
    values[variable] = givenValue(network.system.variables[variable]!);
    failures.delete(variable);
  };
  const cleared = new Set(again.flatMap((each) => network.system.equations[each]!.variables));
  cleared.forEach(clear);
  for (const variable of changes.keys()) if (variable < values.length) clear(variable);
  const steps = before.steps.slice();
  const stepOf = before.stepOf.slice();
  removeSteps(cleared, steps, stepOf);
  const execution = settle({
    network,
    equations: again,
    layout: undefined,
    values,
    kept: {
      steps,
      stepOf,
      sizes: before.sizes,
      checks: before.checks.filter((equation) => !redone.has(equation)),
      failures,
      excluded: new Set([...before.excluded].filter((equation) => !redone.has(equation))),
    },
  });
  const solution = solutionOf(execution, { base, redone, changed: [...changes.keys()] });
  return finished(solution);
}

function networkWith(network: Network, system: System, changed: Iterable<number>): Network {
  const known = network.known.slice();
  for (const variable of changed) {
    if (variable < known.length) {
      known[variable] = isGiven(system.variables[variable]!) ? 1 : 0;
    }
  }
  return { ...network, system, known };
}

function givenValue(variable: Variable): number {
  return isGiven(variable) ? variable.given!.value : Number.NaN;
}

function givenValues(network: Network): Float64Array {
  const { variables } = network.system;
  const values = new Float64Array(variables.length).fill(Number.NaN);
  for (let v = 0; v < variables.length; v++) {
    values[v] = givenValue(variables[v]!);
  }
  return values;
}

/** Of a system there was no time for: all that is not given is open. */
export function unsolved(system: System): Solution {
  const network = networkOf(system);
  const values = givenValues(network);
  const plan: Execution = {
    network,
    layout: undefined,
    steps: [],
    stepOf: new Int32Array(values.length).fill(-1),
    values,
    sizes: values.map(Math.abs),
    failures: new Map(),
    checks: [],
    excluded: new Set(),
    memory: newMemory(),
    carriedOut: 0,
  };
  const determinations = Array.from(network.known, (known) => (known === 1 ? GIVEN : OPEN));
  return { system, values, determinations, conflicts: [], failures: [], redundant: [], plan };
}

/** The solution that a record of carrying out a plan amounts to. */
export function solutionOf(
  execution: Execution,
  overlay: Redone | undefined,
  beside?: Solution,
): Solution {
  const { system } = execution.network;
  const stale = (equation: number): boolean => overlay?.redone.has(equation) ?? true;
  const found = checkLeftovers(
    execution,
    execution.checks.filter(stale),
    overlay?.redone ?? system.equations.keys(),
    beside && executionOf(beside),
  );
  const keptConflicts = overlay?.base.conflicts.filter((c) => !stale(c.equation)) ?? [];
  const keptRedundant = overlay?.base.redundant.filter((equation) => !stale(equation)) ?? [];
  const order = byName(system.equations);
  const failures = [...new Set([...execution.failures.values(), ...found.failures])].sort(
    (one, other) => order(one.equations[0]!, other.equations[0]!),
  );
  let known: readonly Determination[] | undefined;
  return {
    system,
    values: execution.values,
    // Of what stands beside others under a check, and of most outcomes, nobody asks for them.
    get determinations() {
      known ??= determinations(execution, failures, overlay);
      return known;
    },
    conflicts: [...keptConflicts, ...found.conflicts].sort((one, other) =>
      order(one.equation, other.equation),
    ),
    failures,
    redundant: [...keptRedundant, ...found.redundant].sort(order),
    plan: execution,
  };
}
