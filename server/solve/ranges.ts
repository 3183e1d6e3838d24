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
import { type FormulaReach, type GivenBox, RangePass } from "./range-pass";
import type { SlopeRow } from "./row-sums";
import type { GivenNumber, Quantity, Solution } from "./system";
import { tapeOf } from "./tape";

export interface Ranges {
  readonly pass: RangePass;
  readonly box: GivenBox;
  /** Givens with a tolerance. */
  readonly inputs: readonly number[];
  /** 1 for each variable that moves with one of them, by structure. */
  readonly moves: Uint8Array;
  /** What the slopes of each variable come to. */
  readonly summaries: Summaries;
}

/** What a row of slopes comes to, summed up over the tolerances. */
export interface RangeSummary {
  /** By straight lines at the solution, each given a normal one: variance (of three deviations) and shift. */
  readonly variance: number;
  readonly shift: number;
  /** How far slopes vary, as a part of the spread. */
  readonly bend: number;
  /** Ends that are sure to be reached, by the mean value theorem at the worse corner of each. */
  readonly innerLow: number;
  readonly innerHigh: number;
  /** All givens in it lie normally. */
  readonly normal: boolean;
  /** Slopes are single numbers: it was followed along straight lines. */
  readonly lines: boolean;
}

/** What can come of a quantity while every given keeps within its tolerance. */
export interface ToleranceReach extends FormulaReach {
  readonly summary: RangeSummary;
}

interface Summaries {
  readonly variance: Float64Array;
  readonly shift: Float64Array;
  readonly bend: Float64Array;
  readonly innerLow: Float64Array;
  readonly innerHigh: Float64Array;
  /** 1: normal, 2: lines. */
  readonly flags: Uint8Array;
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
export function reachOf(solution: Solution, quantity: Quantity): ToleranceReach | undefined {
  const reach = reachAlong(solution, quantity);
  if (reach === undefined || reach.loose || keepsMode(solution)) return reach;
  return { ...reach, loose: true };
}

/** Along the mode that stands at the nominal. */
function reachAlong(solution: Solution, quantity: Quantity): ToleranceReach | undefined {
  if (!known.has(solution) && !solution.system.variables.some(({ given }) => hasTolerance(given))) {
    return undefined;
  }
  const ranges = rangesOver(solution);
  const { expression, variables } = quantity;
  if (!variables.some((variable) => ranges.moves[variable] === 1)) return undefined;
  const { pass, box, inputs, summaries } = ranges;
  if (expression.op === "slot") {
    const variable = variables[expression.index]!;
    return { ...pass.reachOfVariable(variable), summary: summaryAt(summaries, variable) };
  }
  const tape = tapeOf(expression);
  if (!variables.some((variable) => pass.dropped.has(variable))) {
    const reach = pass.reach(tape, variables);
    return { ...reach, summary: summaryOf(solution, inputs, box, reach) };
  }
  const own = passFor(solution, variables);
  own.pass.run(own.box);
  const reach = own.pass.reach(tape, variables);
  return { ...reach, summary: summaryOf(solution, own.inputs, own.box, reach) };
}

/** Slopes of a quantity by given, those that were let go worked out again. */
export function slopesOf(
  solution: Solution,
  quantity: Quantity,
  { row }: FormulaReach,
): { readonly row: SlopeRow; readonly inputs: readonly number[]; readonly box: GivenBox } {
  const { inputs, box, pass } = rangesOver(solution);
  if (!quantity.variables.some((variable) => pass.dropped.has(variable))) {
    return { row, inputs, box };
  }
  const own = passFor(solution, quantity.variables);
  own.pass.run(own.box);
  const again = own.pass.reach(tapeOf(quantity.expression), quantity.variables);
  return { row: again.row, inputs: own.inputs, box: own.box };
}

export interface OwnPass {
  readonly pass: RangePass;
  readonly box: GivenBox;
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

function boxOf(execution: Execution, inputs: readonly number[], limitsOf: LimitsOf): GivenBox {
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

function summaryAt(summaries: Summaries, variable: number): RangeSummary {
  const { variance, shift, bend, innerLow, innerHigh, flags } = summaries;
  return {
    variance: variance[variable]!,
    shift: shift[variable]!,
    bend: bend[variable]!,
    innerLow: innerLow[variable]!,
    innerHigh: innerHigh[variable]!,
    normal: (flags[variable]! & 1) !== 0,
    lines: (flags[variable]! & 2) !== 0,
  };
}

function summaryOf(
  solution: Solution,
  inputs: readonly number[],
  box: GivenBox,
  { row, middleLow, middleHigh }: Pick<FormulaReach, "row" | "middleLow" | "middleHigh">,
): RangeSummary {
  let variance = 0;
  let shift = 0;
  let bend = 0;
  let innerLow = middleHigh;
  let innerHigh = middleLow;
  let normal = true;
  let lines = true;
  let groups: Map<string, number> | undefined;
  const { at, low, high, nominal } = row;
  const { variables } = solution.system;
  for (let k = 0; k < at.length; k++) {
    const input = at[k]!;
    const given = variables[inputs[input]!]!.given!;
    const { distribution, together } = given;
    const half = (given.high - given.low) / 2;
    const slope = nominal[k]!;
    const [from, to] = [low[k]!, high[k]!];
    shift += slope * ((given.low + given.high) / 2 - given.value);
    if (to !== from) {
      bend += ((to - from) / 2) * half;
      lines = false;
    }
    if (distribution !== undefined && distribution !== "normal") normal = false;
    if (together === undefined) variance += slope * slope * half * half;
    else {
      groups ??= new Map();
      groups.set(together, (groups.get(together) ?? 0) + slope * half);
    }
    // Along the worse corner's way the least slope is certain.
    const up = box.high[input]! - box.middle[input]!;
    const down = box.middle[input]! - box.low[input]!;
    const least = slope >= 0 ? from : -to;
    if (slope >= 0) {
      if (up !== 0) innerHigh += least * up;
      if (down !== 0) innerLow -= least * down;
    } else {
      if (down !== 0) innerHigh += least * down;
      if (up !== 0) innerLow -= least * up;
    }
  }
  if (groups !== undefined) for (const sum of groups.values()) variance += sum ** 2;
  return { variance, shift, bend, innerLow, innerHigh, normal, lines };
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
  const array = (): Float64Array => new Float64Array(variables.length);
  const summaries: Summaries = {
    variance: array(),
    shift: array(),
    bend: array(),
    innerLow: array(),
    innerHigh: array(),
    flags: new Uint8Array(variables.length),
  };
  pass.run(box, (variable, row) => {
    const middle = {
      row,
      middleLow: pass.middleLow[variable]!,
      middleHigh: pass.middleHigh[variable]!,
    };
    const found = summaryOf(solution, inputs, box, middle);
    summaries.variance[variable] = found.variance;
    summaries.shift[variable] = found.shift;
    summaries.bend[variable] = found.bend;
    summaries.innerLow[variable] = found.innerLow;
    summaries.innerHigh[variable] = found.innerHigh;
    summaries.flags[variable] = (found.normal ? 1 : 0) + (found.lines ? 2 : 0);
  });
  return { pass, box, inputs, moves, summaries };
}

function movesWith(execution: Execution, at: number, moves: Uint8Array): boolean {
  const { equations } = execution.network.system;
  return execution.steps[at]!.equations.some((equation) =>
    equations[equation]!.variables.some((variable) => moves[variable] === 1),
  );
}
