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
import { speaksOf } from "./branch-taken";
import { limitsIn, type WantedCase } from "./case-limits";
import { evaluate } from "./evaluate";
import { executionOf, newMemory } from "./execution";
import { factsOf } from "./form";
import { byName } from "./network";
import { isPutIn, markedLike, markPutIn } from "./put-in";
import type { Conflict, Equation, Failure, Solution, System } from "./system";
import { conditionTapeOf } from "./tape";
import { withGivens } from "./with-givens";

/** So many conditions that decide each other are tried in all combinations. */
const MOST_TOGETHER = 7;

export function hasModes(system: System): boolean {
  return system.equations.some(({ when }) => when !== undefined);
}

/** Solves a system whose equations all hold, beside another one like it. */
type Plainly = (system: System, beside: Solution | undefined) => Solution;

/** `beside`: what was solved before and has much in common with it. */
export function solveModes(system: System, solved: Plainly, beside?: Solution): Solution {
  let last = beside;
  // Two modes differ by few equations.
  const plainly = (mode: System): Solution => {
    last = solved(mode, last);
    return last;
  };
  const solution = inItsModes(system, plainly);
  if (solution.conflicts.length === 0) return solution;
  const conflicts = solution.conflicts.map((each) => withDeciding(system, solution, each, plainly));
  const told = asOf(system, solution, { conflicts });
  opens.set(told, casesLeft(solution));
  return told;
}

function inItsModes(system: System, plainly: (system: System) => Solution): Solution {
  const conditional = [...system.equations.keys()].filter(
    (equation) => system.equations[equation]!.when !== undefined,
  );
  const solveWith = (active: ReadonlySet<number>): Solution =>
    plainly({
      variables: system.variables,
      equations: system.equations.map((equation, at) =>
        equation.when === undefined || active.has(at) ? holding(equation) : absent(equation),
      ),
    });
  const active = new Set<number>();
  const undecided = decide(system, conditional, active, solveWith);
  if (undecided.length === 0) return asOf(system, solveWith(active));
  const modes = standing(system, undecided, active, solveWith, plainly);
  const [only] = modes.stand;
  if (modes.open && modes.stand.length > 1) return leftOpen(system, modes.stand);
  if (only !== undefined && modes.stand.every((other) => agree(only, other, system))) {
    return asOf(system, only);
  }
  return disagreeing(system, undecided, modes.stand, modes.tried);
}

/** A mode's solution as one of the whole system; what was put into the mode stands behind it, too. */
export function asOf(system: System, mode: Solution, told: Partial<Solution> = {}): Solution {
  const { variables, equations } = mode.system;
  const whole: System = {
    variables: [...system.variables, ...variables.slice(system.variables.length)],
    equations: [...system.equations, ...equations.slice(system.equations.length)],
  };
  const isMore = equations.length > system.equations.length;
  const solution = { ...mode, ...told, system: isMore ? whole : system };
  if (isPutIn(mode)) markPutIn(solution, system);
  return solution;
}

/** So many givens behind conditions are looked at for one contradiction. */
const MOST_DECIDING = 8;

/**
 * A contradiction between equations that hold only in a case has what decides the case among its
 * givens as well, where leaving that out mends it.
 */
function withDeciding(
  system: System,
  solution: Solution,
  conflict: Conflict,
  plainly: (system: System) => Solution,
): Conflict {
  const { equations, variables } = system;
  const execution = executionOf(solution);
  const deciding = new Set<number>();
  const see = (variable: number): void => {
    if (variables[variable]!.given !== undefined) deciding.add(variable);
  };
  for (const at of conflict.equations) {
    const { when, variables: own } = equations[at]!;
    if (when === undefined) continue;
    const spoken = [...conditionTapeOf(when).slotIndices].map((slot) => own[slot]!);
    spoken.forEach(see);
    for (const step of coneOf(execution, spoken)) {
      for (const each of execution.steps[step]!.equations) equations[each]?.variables.forEach(see);
    }
  }
  for (const { variable } of conflict.givens) deciding.delete(variable);
  const mends = (variable: number): boolean => {
    const without = variables.slice();
    const { given: _, ...rest } = variables[variable]!;
    without[variable] = rest;
    const solved = inItsModes({ ...system, variables: without }, plainly);
    return !solved.conflicts.some((other) => other.equation === conflict.equation);
  };
  const further = [...deciding].slice(0, MOST_DECIDING).filter(mends);
  if (further.length === 0) return conflict;
  return {
    ...conflict,
    givens: [...conflict.givens, ...further.map((variable) => ({ variable }))],
  };
}

/** Variables by which a solution's equations were chosen, for what asks whether they still would be. */
export function conditionsOf(system: System): readonly Equation[] {
  return system.equations.filter(({ when }) => when !== undefined);
}

/**
 * The equations that speak of a figure where all of them do only in cases that are not so, or in branches
 * that are not taken; else none.
 */
export function passedOver(solution: Solution, variable: number): readonly number[] {
  const { equations } = solution.system;
  const speaking = [...equations.keys()].filter((at) =>
    holding(equations[at]!).variables.includes(variable),
  );
  const isPassed = (at: number): boolean => {
    const truth = truthOf(solution, equations[at]!);
    return truth === 0 || (truth === 1 && !speaksOf(solution, at, variable));
  };
  return speaking.every(isPassed) ? speaking : [];
}

/** An equation that says nothing, in the place of one that does not hold. */
export function absent({ name }: Equation): Equation {
  return { name, form: NOTHING, variables: [], rank: "default" };
}

/** The equation by itself: figures that its condition alone speaks of have no part in it. */
function holding(equation: Equation): Equation {
  if (equation.when === undefined) return equation;
  let alone = holdingAlone.get(equation);
  if (alone === undefined) {
    alone = withoutCondition(equation);
    holdingAlone.set(equation, alone);
  }
  return alone;
}

/** The very same object each time. */
const holdingAlone = new WeakMap<Equation, Equation>();

function withoutCondition({ when: _, ...equation }: Equation): Equation {
  const { form, variables } = equation;
  let own = ownForms.get(form);
  if (own === undefined) {
    const slots = Math.max(-1, ...factsOf(form).tape.slotIndices) + 1;
    own = slots < form.slots ? { ...form, slots } : form;
    ownForms.set(form, own);
  }
  return { ...equation, form: own, variables: variables.slice(0, own.slots) };
}

const ownForms = new WeakMap<Equation["form"], Equation["form"]>();

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
  const spoken = [...conditionTapeOf(when!).slotIndices].map((slot) => variables[slot]!);
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
  /** Those that stand are those in which what is open can be: it may be in another. */
  readonly open: boolean;
}

function standing(
  system: System,
  undecided: readonly number[],
  active: ReadonlySet<number>,
  solveWith: (active: ReadonlySet<number>) => Solution,
  plainly: (system: System) => Solution,
): Modes {
  const stand: Solution[] = [];
  const tried: Solution[] = [];
  // Modes that a figure which is open can be in. Where none of the equations holds only what is written
  // nowhere speaks for the mode: it stands where no other does.
  const possible: Solution[] = [];
  const idle: Solution[] = [];
  // Modes in which some condition cannot be told stand only where none was told otherwise.
  const untold: Solution[] = [];
  let told = false;
  const look = (chosen: ReadonlySet<number>): ReadonlySet<number> => {
    const both = new Set([...active, ...chosen]);
    let solution = solveWith(both);
    let truths = undecided.map((at) => truthOf(solution, system.equations[at]!));
    const limits = limitsIn(
      solution,
      undecided.flatMap((at, place): WantedCase[] => {
        const { when, variables } = system.equations[at]!;
        if (!Number.isNaN(truths[place])) return [];
        return [{ condition: when!, variables, holds: chosen.has(at) }];
      }),
    );
    if (!limits.empty && limits.pinned.size > 0) {
      solution = pinnedIn(solution, limits.pinned, [...chosen, ...undecided][0]!, plainly);
      truths = undecided.map((at) => truthOf(solution, system.equations[at]!));
    }
    tried.push(solution);
    const holding = new Set(undecided.filter((_, at) => truths[at] === 1));
    const stands = undecided.every((at) => holding.has(at) === chosen.has(at));
    // A mode in which the figures contradict each other or have no answer is none.
    const sound = isSound(solution, chosen);
    const open = truths.some(Number.isNaN);
    if (!open) told = true;
    if (limits.empty || !sound) return holding;
    const fits = open && limits.understood && agreesWhereTold(truths, undecided, chosen);
    const opens = fits || limits.pinned.size > 0;
    if (chosen.size === 0 && opens && (fits || stands)) idle.push(solution);
    else if (!open && stands) stand.push(solution);
    else if (fits) possible.push(solution);
    else if (stands) untold.push(solution);
    return holding;
  };
  const found = (): Modes => {
    const real = [...stand, ...possible];
    if (real.length > 0) return { stand: real, tried, open: possible.length > 0 };
    return { stand: idle.length > 0 || told ? idle : untold, tried, open: true };
  };
  if (undecided.length <= MOST_TOGETHER) {
    for (let number = 0; number < 1 << undecided.length; number++) {
      look(new Set(undecided.filter((_, bit) => (number >> bit) & 1)));
    }
    return found();
  }
  // Too many to try them all: from none and from all of them, each time with those that then hold.
  for (const start of [new Set<number>(), new Set(undecided)]) {
    let chosen: ReadonlySet<number> = start;
    for (let round = 0; round < 20 && stand.length === 0; round++) chosen = look(chosen);
  }
  return found();
}

/** What can be told of a mode's conditions is as the mode has it. */
function agreesWhereTold(
  truths: readonly number[],
  undecided: readonly number[],
  chosen: ReadonlySet<number>,
): boolean {
  return undecided.every((at, place) => {
    const truth = truths[place]!;
    return Number.isNaN(truth) || (truth === 1) === chosen.has(at);
  });
}

/** Solved again with what the conditions of a case leave one value of; that value follows from the case. */
function pinnedIn(
  solution: Solution,
  pinned: ReadonlyMap<number, number>,
  equation: number,
  plainly: (system: System) => Solution,
): Solution {
  const givens = new Map(
    [...pinned].map(([variable, value]) => [
      variable,
      { value, low: value, high: value, rounding: 0 },
    ]),
  );
  const solved = plainly(withGivens(solution.system, givens));
  const determinations = solved.determinations.slice();
  for (const variable of pinned.keys()) {
    determinations[variable] = { how: "solved", equation, block: [equation], restsOn: [] };
  }
  return markedLike({ ...solved, determinations }, solved);
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

function differingIn(system: System, solutions: readonly Solution[]): number[] {
  return [...system.variables.keys()].filter((variable) =>
    solutions.some((other) => !isSame(other.values[variable]!, solutions[0]!.values[variable]!)),
  );
}

/** What comes out alike in all of the modes; the rest is open. */
function leftOpen(system: System, modes: readonly Solution[]): Solution {
  const base = modes[0]!;
  const values = base.values.slice();
  const determinations = base.determinations.slice();
  for (const variable of differingIn(system, modes)) {
    values[variable] = Number.NaN;
    determinations[variable] = { how: "open" };
  }
  const plan = { ...executionOf(base), values, memory: newMemory() };
  const solution = asOf(system, base, { values, determinations, plan });
  opens.set(solution, modes);
  return solution;
}

const opens = new WeakMap<Solution, readonly Solution[]>();

/** The cases, two or more, that figures which are open leave a solution in; none where they are decided. */
export function casesLeft(solution: Solution): readonly Solution[] {
  return opens.get(solution) ?? [];
}

/** The first mode tried, without the values about which the modes disagree. */
function disagreeing(
  system: System,
  undecided: readonly number[],
  stand: readonly Solution[],
  tried: readonly Solution[],
): Solution {
  const base = tried[0]!;
  const differing = differingIn(system, stand.length > 1 ? stand : tried);
  const values = base.values.slice();
  const determinations = base.determinations.slice();
  const failure: Failure = {
    why: stand.length > 1 ? "several-modes" : "no-mode",
    equations: [...undecided].sort(byName(system.equations)),
    variables: differing,
  };
  for (const variable of differing) {
    values[variable] = Number.NaN;
    determinations[variable] = { how: "failed", failure: base.failures.length };
  }
  const plan = { ...executionOf(base), values, memory: newMemory() };
  const failures = [...base.failures, failure];
  return asOf(system, base, { values, determinations, failures, plan });
}
