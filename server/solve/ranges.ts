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
import { hasTolerance, type LimitsOf, type Mover, moversOf, toleranceOf } from "./movers";
import { isPutIn } from "./put-in";
import { LARGEST_SEARCHED } from "./range-block";
import { type FormulaReach, RangePass } from "./range-pass";
import type { InputBox, Slopes } from "./slope-row";
import type { Quantity, Solution } from "./system";
import { tapeOf } from "./tape";

/** A pass over some steps, and the box it is run over. */
export interface OwnPass {
  readonly pass: RangePass;
  readonly box: InputBox;
  /** Givens that vary, as they move. */
  readonly inputs: readonly Mover[];
}

export interface Ranges extends OwnPass {
  /** 1 for each variable that moves with one of them, by structure. */
  readonly moves: Uint8Array;
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
function keepsMode(solution: Solution): boolean {
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
export function choiceOf(condition: Condition): Expression {
  let expression = choices.get(condition);
  if (expression === undefined) {
    expression = choice(condition, { op: "number", value: 1 }, { op: "number", value: 0 });
    choices.set(condition, expression);
  }
  return expression;
}

/**
 * Whether what is followed along a solution proves anything: not where a mode may end within the
 * tolerances, nor of what rests on a figure that curved equations were only found to fix.
 */
export function isProof(solution: Solution, variables: readonly number[]): boolean {
  if (!keepsMode(solution)) return false;
  // Only of a solution with copies in it: others have nothing that was found in this way.
  if (!isPutIn(solution)) return true;
  const execution = executionOf(solution);
  return !coneOf(execution, variables).some((at) =>
    execution.steps[at]!.variables.some((variable) => {
      const told = solution.determinations[variable];
      return told?.how === "solved" && told.whatever === "found";
    }),
  );
}

/** What a quantity can come to; undefined where it rests on nothing that has a tolerance. */
export function reachOf(solution: Solution, quantity: Quantity): FormulaReach | undefined {
  const reach = reachAlong(solution, quantity);
  if (reach === undefined || reach.loose || isProof(solution, quantity.variables)) return reach;
  return { ...reach, loose: true };
}

/** Along the mode that stands at the nominal. */
function reachAlong(solution: Solution, quantity: Quantity): FormulaReach | undefined {
  if (!known.has(solution) && !solution.system.variables.some(({ given }) => hasTolerance(given))) {
    return undefined;
  }
  const ranges = rangesOver(solution);
  const { expression, variables } = quantity;
  if (!variables.some((variable) => ranges.moves[variable] === 1)) return undefined;
  const { pass } = ranges;
  if (expression.op === "slot") return pass.reachOfVariable(variables[expression.index]!);
  const tape = tapeOf(expression);
  if (!lacksSlopes(ranges, variables)) return pass.reach(tape, variables);
  const own = passFor(solution, variables);
  own.pass.run(own.box);
  return own.pass.reach(tape, variables);
}

function lacksSlopes({ pass }: Ranges, variables: readonly number[]): boolean {
  return variables.some((variable) => pass.rows[variable]?.wasLetGo === true);
}

/** Slopes of a quantity by input, those that were let go worked out again. */
export function slopesOf(
  solution: Solution,
  quantity: Quantity,
  { row }: FormulaReach,
): { readonly slopes: Slopes; readonly inputs: readonly Mover[]; readonly box: InputBox } {
  const ranges = rangesOver(solution);
  const { slopes } = row;
  if (slopes !== undefined && !lacksSlopes(ranges, quantity.variables)) {
    return { slopes, inputs: ranges.inputs, box: ranges.box };
  }
  const own = passFor(solution, quantity.variables);
  own.pass.run(own.box);
  const again = own.pass.reach(tapeOf(quantity.expression), quantity.variables);
  return { slopes: again.row.slopes!, inputs: own.inputs, box: own.box };
}

/** How many figures at most are solved together on the way to some variables. */
export function largestBlock(execution: Execution, variables: readonly number[]): number {
  return coneOf(execution, variables).reduce(
    (most, at) => Math.max(most, execution.steps[at]!.variables.length),
    0,
  );
}

/** A part of a block this large is not worth a pass of its own. */
export function restsOnLargeBlock(execution: Execution, variables: readonly number[]): boolean {
  return largestBlock(execution, variables) > LARGEST_SEARCHED;
}

/** A pass of its own over what some variables rest on. */
export function passFor(solution: Solution, variables: readonly number[]): OwnPass {
  return passOver(executionOf(solution), variables, toleranceOf);
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
  const inputs = moversOf(system.variables, inOrder(execution, moving, limits), limitsOf);
  return { pass: new RangePass(execution, moving, inputs), box: boxOf(inputs), inputs };
}

// ───────────────────────────── helpers ─────────────────────────────

function workedOut(solution: Solution): Ranges {
  const execution = executionOf(solution);
  const { variables } = solution.system;
  const varying = new Set<number>();
  const moves = new Uint8Array(variables.length);
  for (let v = 0; v < variables.length; v++) {
    if (!hasTolerance(variables[v]!.given)) continue;
    varying.add(v);
    moves[v] = 1;
  }
  const steps: number[] = [];
  if (varying.size > 0) {
    execution.steps.forEach((step, at) => {
      if (!movesWith(execution, at, moves)) return;
      if (step.variables.some((variable) => Number.isNaN(solution.values[variable]))) return;
      steps.push(at);
      for (const variable of step.variables) moves[variable] = 1;
    });
  }
  const inputs = moversOf(variables, inOrder(execution, steps, varying), toleranceOf);
  const pass = new RangePass(execution, steps, inputs);
  const box = boxOf(inputs);
  pass.run(box, true);
  return { pass, box, inputs, moves };
}

/**
 * Givens in the order in which steps take them in, so that what a figure rests on mostly lies side by
 * side, apart from what another does; those that no step takes in follow.
 */
function inOrder(
  { network, steps }: Execution,
  along: readonly number[],
  varying: ReadonlySet<number> | ReadonlyMap<number, unknown>,
): number[] {
  const order = new Set<number>();
  for (const at of along) {
    for (const equation of steps[at]!.equations) {
      for (const variable of network.system.equations[equation]!.variables) {
        if (varying.has(variable)) order.add(variable);
      }
    }
  }
  for (const variable of [...varying.keys()].sort((a, b) => a - b)) order.add(variable);
  return [...order];
}

function boxOf(inputs: readonly Mover[]): InputBox {
  return {
    low: Float64Array.from(inputs, ({ low }) => low),
    high: Float64Array.from(inputs, ({ high }) => high),
    middle: Float64Array.from(inputs, ({ middle }) => middle),
  };
}

function movesWith(execution: Execution, at: number, moves: Uint8Array): boolean {
  const { equations } = execution.network.system;
  return execution.steps[at]!.equations.some((equation) =>
    equations[equation]!.variables.some((variable) => moves[variable] === 1),
  );
}
