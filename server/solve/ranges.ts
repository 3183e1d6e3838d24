/**
 * The ranges of all figures of a solution while every given keeps within its tolerance: worked out
 * once for a solution, in one pass, and shared by all that asks of them.
 *
 *   rangesOver(solution).pass.high[7]   // no value of figure 7 lies above
 *
 * Must not know: what is asked of the ranges.
 */
import { coneOf } from "./adjoint";
import { type Execution, executionOf } from "./execution";
import { type Condition, choice, type Expression } from "./expression";
import { conditionsOf } from "./modes";
import { type Box, RangePass, type Reach, type Row } from "./range-pass";
import type { GivenNumber, Quantity, Solution } from "./system";
import { tapeOf } from "./tape";

export interface Ranges {
  readonly pass: RangePass;
  readonly box: Box;
  /** Givens with a tolerance. */
  readonly inputs: readonly number[];
  /** 1 for each variable that moves with one of them, by structure. */
  readonly moves: Uint8Array;
  /** By variable: variance of the likely spread, its shift, and how far slopes vary, summed up. */
  readonly variance: Float64Array;
  readonly shift: Float64Array;
  readonly bend: Float64Array;
}

export function hasTolerance(given: GivenNumber | undefined): given is GivenNumber {
  return given !== undefined && given.high > given.low;
}

const known = new WeakMap<Solution, Ranges>();

export function rangesOver(solution: Solution): Ranges {
  let ranges = known.get(solution);
  if (ranges === undefined) {
    ranges = workedOut(solution);
    known.set(solution, ranges);
  }
  return ranges;
}

/**
 * Whether equations that hold under a condition do so, or do not, all over the tolerances; where not,
 * what was followed along the mode that stands proves nothing about the others.
 */
export function keepsMode(solution: Solution): boolean {
  let keeps = modes.get(solution);
  if (keeps === undefined) {
    keeps = conditionsOf(solution.system).every(({ when, variables }) => {
      const expression = choiceOf(when!);
      const reach = reachAlong(solution, { expression, variables });
      return reach === undefined || (!reach.partial && reach.low === reach.high);
    });
    modes.set(solution, keeps);
  }
  return keeps;
}

const modes = new WeakMap<Solution, boolean>();
const choices = new WeakMap<Condition, Expression>();

/** 1 where a condition holds, else 0. */
function choiceOf(condition: Condition): Expression {
  let expression = choices.get(condition);
  if (expression === undefined) {
    expression = choice(condition, { op: "number", value: 1 }, { op: "number", value: 0 });
    choices.set(condition, expression);
  }
  return expression;
}

/** What a quantity can come to; undefined where it rests on nothing that has a tolerance. */
export function reachOf(solution: Solution, quantity: Quantity): Reach | undefined {
  const reach = reachAlong(solution, quantity);
  if (reach === undefined || reach.loose || keepsMode(solution)) return reach;
  return { ...reach, loose: true };
}

/** Along the mode that stands at the nominal. */
function reachAlong(solution: Solution, quantity: Quantity): Reach | undefined {
  if (!known.has(solution) && !solution.system.variables.some(({ given }) => hasTolerance(given))) {
    return undefined;
  }
  const ranges = rangesOver(solution);
  if (!quantity.variables.some((variable) => ranges.moves[variable] === 1)) return undefined;
  const tape = tapeOf(quantity.expression);
  if (!quantity.variables.some((variable) => ranges.pass.dropped.has(variable))) {
    return ranges.pass.reach(tape, quantity.variables);
  }
  const own = passFor(solution, quantity.variables);
  own.pass.run(own.box);
  return own.pass.reach(tape, quantity.variables);
}

export interface OwnPass {
  readonly pass: RangePass;
  readonly box: Box;
  readonly inputs: readonly number[];
}

/** A pass of its own over what some variables rest on. */
export function passFor(solution: Solution, variables: readonly number[]): OwnPass {
  return passOver(executionOf(solution), variables, toleranceOf);
}

/** Limits a given keeps within; undefined where it does not vary. */
export type LimitsOf = (given: GivenNumber) => readonly [low: number, high: number] | undefined;

export function toleranceOf(given: GivenNumber): readonly [number, number] | undefined {
  return given.high > given.low ? [given.low, given.high] : undefined;
}

/** The same while givens vary as one says. */
export function passOver(
  execution: Execution,
  variables: readonly number[],
  limitsOf: LimitsOf,
): OwnPass {
  const { system } = execution.network;
  const moves = new Uint8Array(system.variables.length);
  const limits = new Map<number, readonly [number, number]>();
  const see = (variable: number): void => {
    const { given } = system.variables[variable]!;
    const own = given === undefined ? undefined : limitsOf(given);
    if (own === undefined) return;
    limits.set(variable, own);
    moves[variable] = 1;
  };
  variables.forEach(see);
  const cone = coneOf(execution, variables);
  for (const at of cone) {
    for (const equation of execution.steps[at]!.equations) {
      system.equations[equation]!.variables.forEach(see);
    }
  }
  const moving = cone.filter((at) => {
    if (!movesWith(execution, at, moves)) return false;
    for (const variable of execution.steps[at]!.variables) moves[variable] = 1;
    return true;
  });
  const inputs = [...limits.keys()].sort((a, b) => a - b);
  const pass = new RangePass(execution, moving, inputs, true);
  return { pass, box: boxOf(execution, inputs, limitsOf), inputs };
}

function boxOf(execution: Execution, inputs: readonly number[], limitsOf: LimitsOf): Box {
  const givens = inputs.map((variable) => execution.network.system.variables[variable]!.given!);
  const limits = givens.map((given) => limitsOf(given)!);
  return {
    low: Float64Array.from(limits, ([low]) => low),
    high: Float64Array.from(limits, ([, high]) => high),
    // Limits need not lie about the value.
    middle: Float64Array.from(givens, ({ value }, at) =>
      Math.min(limits[at]![1], Math.max(limits[at]![0], value)),
    ),
  };
}

/** Spread by straight lines of one row of slopes: variance, shift, and how far slopes vary. */
export function straightSpread(
  solution: Solution,
  inputs: readonly number[],
  row: Row,
): { readonly variance: number; readonly shift: number; readonly bend: number } {
  let variance = 0;
  let shift = 0;
  let bend = 0;
  let groups: Map<string, number> | undefined;
  for (let k = 0; k < row.at.length; k++) {
    const { value, low, high, together } = solution.system.variables[inputs[row.at[k]!]!]!.given!;
    const half = (high - low) / 2;
    const slope = row.nominal[k]!;
    shift += slope * ((low + high) / 2 - value);
    const width = (row.high[k]! - row.low[k]!) / 2;
    bend += width === 0 ? 0 : width * half;
    if (together === undefined) variance += (slope * half) ** 2;
    else {
      groups ??= new Map();
      groups.set(together, (groups.get(together) ?? 0) + slope * half);
    }
  }
  if (groups !== undefined) for (const sum of groups.values()) variance += sum ** 2;
  return { variance, shift, bend };
}

// ───────────────────────────── helpers ─────────────────────────────

function workedOut(solution: Solution): Ranges {
  const execution = executionOf(solution);
  const { variables } = solution.system;
  const inputs: number[] = [];
  const moves = new Uint8Array(variables.length);
  for (let v = 0; v < variables.length; v++) {
    if (!hasTolerance(variables[v]!.given)) continue;
    inputs.push(v);
    moves[v] = 1;
  }
  const steps: number[] = [];
  if (inputs.length > 0) {
    execution.steps.forEach((step, at) => {
      if (!movesWith(execution, at, moves)) return;
      if (step.variables.some((variable) => Number.isNaN(solution.values[variable]))) return;
      steps.push(at);
      for (const variable of step.variables) moves[variable] = 1;
    });
  }
  const pass = new RangePass(execution, steps, inputs, true);
  const box = boxOf(execution, inputs, toleranceOf);
  const variance = new Float64Array(variables.length);
  const shift = new Float64Array(variables.length);
  const bend = new Float64Array(variables.length);
  pass.run(box, (variable, row) => {
    const spread = straightSpread(solution, inputs, row);
    variance[variable] = spread.variance;
    shift[variable] = spread.shift;
    bend[variable] = spread.bend;
  });
  return { pass, box, inputs, moves, variance, shift, bend };
}

function movesWith(execution: Execution, at: number, moves: Uint8Array): boolean {
  const { equations } = execution.network.system;
  return execution.steps[at]!.equations.some((equation) =>
    equations[equation]!.variables.some((variable) => moves[variable] === 1),
  );
}
