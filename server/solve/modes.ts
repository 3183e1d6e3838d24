/**
 * Equations that hold only under a condition: which of them do is decided together with the values
 * their conditions speak of.
 *
 * A condition over givens, and over what follows without any undecided equation, is decided by its
 * value. Where conditions and equations decide each other, every combination of them is a mode: the
 * system is solved in each, and a mode stands where the conditions of its equations hold there and no
 * others do. One mode that stands is the answer. None, or several with different values, is told, and
 * what they disagree about has no value.
 *
 * Must not know: how a system without conditions is solved.
 */
import { coneOf } from "./adjoint";
import { evaluate } from "./evaluate";
import { executionOf } from "./execution";
import type { Equation, Failure, Solution, System } from "./system";
import { conditionTapeOf } from "./tape";

/** So many conditions that decide each other are tried in all combinations. */
const MOST_TOGETHER = 7;

export function hasModes(system: System): boolean {
  return system.equations.some(({ when }) => when !== undefined);
}

/** `plainly` solves a system whose equations all hold. */
export function solveModes(system: System, plainly: (system: System) => Solution): Solution {
  const conditional = [...system.equations.keys()].filter(
    (equation) => system.equations[equation]!.when !== undefined,
  );
  const solveWith = (active: ReadonlySet<number>): Solution =>
    plainly({
      variables: system.variables,
      equations: system.equations.map((equation, at) =>
        equation.when === undefined || active.has(at) ? equation : absent(equation),
      ),
    });
  const active = new Set<number>();
  const undecided = decide(system, conditional, active, solveWith);
  if (undecided.length === 0) return { ...solveWith(active), system };
  const modes = standing(system, undecided, active, solveWith);
  const [only] = modes.stand;
  if (only !== undefined && modes.stand.every((other) => agree(only, other, system))) {
    return { ...only, system };
  }
  return disagreeing(system, undecided, modes.stand, modes.tried);
}

/** Variables by which a solution's equations were chosen, for what asks whether they still would be. */
export function conditionsOf(system: System): readonly Equation[] {
  return system.equations.filter(({ when }) => when !== undefined);
}

/** An equation that says nothing, in the place of one that does not hold. */
export function absent({ name }: Equation): Equation {
  return { name, form: NOTHING, variables: [], rank: "default" };
}

const zero = { op: "number", value: 0 } as const;
const NOTHING: Equation["form"] = { left: zero, right: zero, slots: 0 };

// ───────────────────────────── helpers ─────────────────────────────

/** 1, 0, or NaN where it cannot be told. */
function truthOf(solution: Solution, { when, variables }: Equation): number {
  if (when === undefined) return 1;
  const { sizes } = executionOf(solution);
  return evaluate(conditionTapeOf(when), solution.values, variables, sizes);
}

/** Decides what rests on nothing undecided, in waves; adds what holds to `active`, lists the rest. */
function decide(
  system: System,
  conditional: readonly number[],
  active: Set<number>,
  solveWith: (active: ReadonlySet<number>) => Solution,
): readonly number[] {
  let undecided = conditional;
  while (undecided.length > 0) {
    const without = solveWith(active);
    const withAll = solveWith(new Set([...active, ...undecided]));
    const open = new Set(undecided);
    const left: number[] = [];
    for (const at of undecided) {
      const equation = system.equations[at]!;
      const truth = truthOf(without, equation);
      const free = !Number.isNaN(truth) && restsOnNone(withAll, without, equation, open);
      if (!free) left.push(at);
      else if (truth === 1) active.add(at);
    }
    if (left.length === undecided.length) return left;
    undecided = left;
  }
  return undecided;
}

/** The figures of an equation's condition come out the same, and without any of the open equations. */
function restsOnNone(
  withAll: Solution,
  without: Solution,
  { when, variables }: Equation,
  open: ReadonlySet<number>,
): boolean {
  if (when === undefined) return true;
  const spoken = [...conditionTapeOf(when).slotIndices].map((slot) => variables[slot]!);
  const execution = executionOf(withAll);
  const touched = coneOf(execution, spoken).some((step) =>
    execution.steps[step]!.equations.some((equation) => open.has(equation)),
  );
  return (
    !touched &&
    spoken.every((variable) => isSame(withAll.values[variable]!, without.values[variable]!))
  );
}

interface Modes {
  /** Modes whose conditions hold in them, and no others. */
  readonly stand: readonly Solution[];
  readonly tried: readonly Solution[];
}

function standing(
  system: System,
  undecided: readonly number[],
  active: ReadonlySet<number>,
  solveWith: (active: ReadonlySet<number>) => Solution,
): Modes {
  const stand: Solution[] = [];
  const tried: Solution[] = [];
  // Modes in which some condition cannot be told stand only where none was told otherwise.
  const untold: Solution[] = [];
  let told = false;
  const look = (chosen: ReadonlySet<number>): ReadonlySet<number> => {
    const solution = solveWith(new Set([...active, ...chosen]));
    tried.push(solution);
    const truths = undecided.map((at) => truthOf(solution, system.equations[at]!));
    const holding = new Set(undecided.filter((_, at) => truths[at] === 1));
    const stands = undecided.every((at) => holding.has(at) === chosen.has(at));
    // A mode in which the figures contradict each other or have no answer is none.
    const sound = chosen.size === 0 || isSound(solution, chosen);
    const open = truths.some(Number.isNaN);
    if (!open) told = true;
    if (stands && sound) (open ? untold : stand).push(solution);
    return holding;
  };
  if (undecided.length <= MOST_TOGETHER) {
    for (let number = 0; number < 1 << undecided.length; number++) {
      look(new Set(undecided.filter((_, bit) => (number >> bit) & 1)));
    }
    return { stand: stand.length === 0 && !told ? untold : stand, tried };
  }
  // Too many to try them all: from none and from all of them, each time with those that then hold.
  for (const start of [new Set<number>(), new Set(undecided)]) {
    let chosen: ReadonlySet<number> = start;
    for (let round = 0; round < 20 && stand.length === 0; round++) chosen = look(chosen);
  }
  return { stand: stand.length === 0 && !told ? untold : stand, tried };
}

function isSound(solution: Solution, chosen: ReadonlySet<number>): boolean {
  const spoiled = (equations: readonly number[]): boolean =>
    equations.some((equation) => chosen.has(equation));
  return (
    !solution.conflicts.some(({ equations }) => spoiled(equations)) &&
    !solution.failures.some(({ equations }) => spoiled(equations))
  );
}

function agree(one: Solution, other: Solution, system: System): boolean {
  return system.variables.every((_, at) => isSame(one.values[at]!, other.values[at]!));
}

function isSame(one: number, other: number): boolean {
  if (Number.isNaN(one) || Number.isNaN(other)) return Number.isNaN(one) && Number.isNaN(other);
  return Math.abs(one - other) <= 1e-9 * Math.max(Math.abs(one), Math.abs(other));
}

/** The first mode tried, without the values about which the modes disagree. */
function disagreeing(
  system: System,
  undecided: readonly number[],
  stand: readonly Solution[],
  tried: readonly Solution[],
): Solution {
  const base = tried[0]!;
  const compared = stand.length > 1 ? stand : tried;
  const differing = [...system.variables.keys()].filter((variable) =>
    compared.some((other) => !isSame(other.values[variable]!, compared[0]!.values[variable]!)),
  );
  const values = base.values.slice();
  const determinations = base.determinations.slice();
  const failure: Failure = {
    why: stand.length > 1 ? "several-modes" : "no-mode",
    equations: [...undecided].sort((one, other) =>
      system.equations[one]!.name < system.equations[other]!.name ? -1 : 1,
    ),
    variables: differing,
  };
  for (const variable of differing) {
    values[variable] = Number.NaN;
    determinations[variable] = { how: "failed", failure: base.failures.length };
  }
  const plan = { ...executionOf(base), values };
  const failures = [...base.failures, failure];
  return { ...base, system, values, determinations, failures, plan };
}
