/**
 * Formulas with branches of which the one that counts is settled: what stands in the other one is not
 * wanted. Where it is open, the equation is solved without it.
 *
 *     a = if k > 1 then b else c, k is 2, b is 5 mm, c is open   →   a is 5 mm
 *
 * In the place of the other branch stands what has no value, and the condition stays: what follows goes
 * on resting on it, and tolerances within which it may turn out otherwise are seen to prove nothing.
 *
 * A condition is settled by what is known without the equation. What becomes known may settle others.
 *
 * Must not know: how a system is solved; names, wording.
 */
import { madeOnce } from "../keep/once";
import { coneOf } from "./adjoint";
import { evaluate } from "./evaluate";
import { type Execution, executionOf } from "./execution";
import { type Condition, choice, type Expression } from "./expression";
import type { Equation, EquationForm, Solution, System } from "./system";
import { conditionTapeOf } from "./tape";
import { conditionWith, rewritten, visit } from "./walk";

/** What one settles may settle more. */
const ROUNDS = 12;

/** The solution of the system without what is not wanted; undefined where all is. */
export function withBranchesTaken(
  first: Solution,
  again: (system: System) => Solution,
): Solution | undefined {
  const { system } = first;
  const own = new Map<number, Taken>();
  /** Conditions that turn out otherwise once they are counted on. */
  const refused = new Set<number>();
  let current = first;
  for (let round = 0; round < ROUNDS; round++) {
    const execution = executionOf(current);
    const turned = [...own].filter(([, taken]) => !stands(execution, taken));
    for (const [equation] of turned) {
      own.delete(equation);
      refused.add(equation);
    }
    const more = takenIn(execution, system.equations.length, refused);
    for (const [equation, taken] of more) {
      const before = own.get(equation)?.decided ?? [];
      own.set(equation, { ...taken, decided: [...before, ...taken.decided] });
    }
    if (more.size === 0 && turned.length === 0) break;
    const equations = system.equations.map((written, at) => own.get(at)?.equation ?? written);
    current = again({ variables: system.variables, equations });
  }
  return own.size === 0 ? undefined : current;
}

/** Whether an equation as it is solved speaks of a figure: not where only branches do that are not taken. */
export function speaksOf(solution: Solution, equation: number, variable: number): boolean {
  const { system } = executionOf(solution).network;
  return system.equations[equation]?.variables.includes(variable) === true;
}

/** Figures that a condition lacks: not those of branches that are not taken. */
export function lackingIn(
  solution: Solution,
  condition: Condition,
  variables: readonly number[],
): readonly number[] {
  const execution = executionOf(solution);
  const { values } = execution;
  const lacking = [...new Set(variables)].filter((each) => Number.isNaN(values[each]));
  if (lacking.length < 2) return lacking;
  const whole = choice(condition, nothing, nothing);
  const truthOf = (inner: Condition): number => truthIn(execution, inner, variables);
  const settle = (inner: Condition): number => (inner === condition ? Number.NaN : truthOf(inner));
  const wanted = new Set<number>();
  visit(branchesOf({ left: whole, right: nothing }, settle, truthOf).left, (part) => {
    if (part.op === "slot") wanted.add(variables[part.index]!);
  });
  return lacking.filter((each) => wanted.has(each));
}

// ───────────────────────────── helpers ─────────────────────────────

interface Decided {
  readonly condition: Condition;
  readonly variables: readonly number[];
  readonly truth: number;
}

/** An equation in which some conditions are settled. */
interface Taken {
  readonly equation: Equation;
  readonly decided: readonly Decided[];
}

function truthIn(
  { values, sizes }: Execution,
  condition: Condition,
  variables: readonly number[],
): number {
  return evaluate(conditionTapeOf(condition), values, variables, sizes);
}

function stands(execution: Execution, { decided }: Taken): boolean {
  return decided.every(
    ({ condition, variables, truth }) => truthIn(execution, condition, variables) === truth,
  );
}

/** Equations that lack something they do not want, or are solved for it. */
function takenIn(
  execution: Execution,
  written: number,
  refused: ReadonlySet<number>,
): ReadonlyMap<number, Taken> {
  const found = new Map<number, Taken>();
  const { facts, system } = execution.network;
  for (let at = 0; at < written; at++) {
    if (!facts[at]!.branching || refused.has(at)) continue;
    const lacks = system.equations[at]!.variables.some((each) => isLacking(execution, at, each));
    const taken = lacks ? takenOf(execution, at) : undefined;
    if (taken !== undefined) found.set(at, taken);
  }
  return found;
}

/** It has no value, or has it of this equation. */
function isLacking(
  { values, steps, stepOf }: Execution,
  equation: number,
  variable: number,
): boolean {
  if (Number.isNaN(values[variable])) return true;
  const step = steps[stepOf[variable]!];
  return step?.pairs[step.variables.indexOf(variable)] === equation;
}

function takenOf(execution: Execution, at: number): Taken | undefined {
  const equation = execution.network.system.equations[at]!;
  const { form, variables } = equation;
  const decided: Decided[] = [];
  const truthOf = (condition: Condition): number => truthIn(execution, condition, variables);
  const settle = (condition: Condition): number => {
    const truth = truthOf(condition);
    if (Number.isNaN(truth) || restsOn(execution, condition, equation, at)) return Number.NaN;
    decided.push({ condition, variables, truth });
    return truth;
  };
  const sides = branchesOf(form, settle, truthOf);
  if (decided.length === 0) return undefined;
  const less = madeOnce(
    madeOnce(made, equation, () => new Map<string, Equation>()),
    sides.key,
    (): Equation => {
      const { form: own, slots } = madeOnce(
        madeOnce(forms, form, () => new Map<string, Fewer>()),
        sides.key,
        () => withFewer(sides),
      );
      return { ...equation, form: own, variables: slots.map((slot) => variables[slot]!) };
    },
  );
  const spare = variables.filter((each) => !less.variables.includes(each));
  return spare.some((each) => isLacking(execution, at, each))
    ? { equation: less, decided }
    : undefined;
}

/** The very same equation each time, and one form for all that were of one form. */
const made = new WeakMap<Equation, Map<string, Equation>>();
const forms = new WeakMap<EquationForm, Map<string, Fewer>>();

interface Fewer {
  readonly form: EquationForm;
  /** Which slots of the form before each of its own stands for. */
  readonly slots: readonly number[];
}

/** Whether the equation takes part in what its condition speaks of. */
function restsOn(
  execution: Execution,
  condition: Condition,
  { variables }: Equation,
  at: number,
): boolean {
  const { steps, stepOf } = execution;
  // Most lack something, and nothing is solved with them.
  if (!variables.some((each) => steps[stepOf[each]!]?.equations.includes(at))) return false;
  const { slotIndices } = conditionTapeOf(condition);
  const spoken = Array.from(slotIndices, (slot) => variables[slot]!);
  return coneOf(execution, spoken).some((step) => steps[step]!.equations.includes(at));
}

const nothing: Expression = { op: "number", value: Number.NaN };

/** Both sides with nothing in the place of branches that are not taken; `key`: which these are. */
function branchesOf(
  { left, right }: Pick<EquationForm, "left" | "right">,
  settle: (condition: Condition) => number,
  truthOf: (condition: Condition) => number,
): { readonly left: Expression; readonly right: Expression; readonly key: string } {
  let key = "";
  /** A condition that can be told, without the sides that cannot: the others settle it. */
  const decidingIn = (condition: Condition): Condition => {
    if (condition.op === "not") return { op: "not", of: decidingIn(condition.of) };
    if (condition.op !== "and" && condition.op !== "or") return condition;
    const { op, left, right } = condition;
    const [noLeft, noRight] = [left, right].map((side) => Number.isNaN(truthOf(side)));
    key += noLeft === true ? "r" : noRight === true ? "l" : "b";
    if (noLeft === true) return decidingIn(right);
    if (noRight === true) return decidingIn(left);
    return { op, left: decidingIn(left), right: decidingIn(right) };
  };
  const take = (part: Expression): Expression | undefined => {
    if (part.op !== "if") return undefined;
    const truth = settle(part.condition);
    key += Number.isNaN(truth) ? "?" : truth;
    const deciding = Number.isNaN(truth) ? part.condition : decidingIn(part.condition);
    const condition = conditionWith(deciding, (inner) => rewritten(inner, take));
    if (Number.isNaN(truth)) {
      return choice(condition, rewritten(part.then, take), rewritten(part.else, take));
    }
    return truth === 1
      ? choice(condition, rewritten(part.then, take), nothing)
      : choice(condition, nothing, rewritten(part.else, take));
  };
  return { left: rewritten(left, take), right: rewritten(right, take), key };
}

/** Over the slots alone that still stand in it. */
function withFewer({ left, right }: Pick<EquationForm, "left" | "right">): Fewer {
  const used = new Set<number>();
  for (const side of [left, right]) {
    visit(side, (part) => {
      if (part.op === "slot") used.add(part.index);
    });
  }
  const slots = [...used].sort((one, other) => one - other);
  const placeOf = new Map(slots.map((slot, place) => [slot, place]));
  const moved = (side: Expression): Expression =>
    rewritten(side, (part) =>
      part.op === "slot" ? { op: "slot", index: placeOf.get(part.index)! } : undefined,
    );
  return { form: { left: moved(left), right: moved(right), slots: slots.length }, slots };
}
