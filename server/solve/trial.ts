/**
 * A quantity at other places of some givens, along the plan that stands, many times over.
 *
 * What was solved by turning one equation round is worked out again; what was searched for or solved
 * together is followed from where it is at the solution, by the inverse of the slopes there, and from
 * the start again only where that does not settle.
 *
 *   new Trial(execution, quantity, [7]).at([0.0254])   // the quantity with given 7 at an inch
 *
 * Must not know: why the givens vary.
 */
import { coneOf } from "./adjoint";
import { evaluate } from "./evaluate";
import { type Execution, linearizedAt } from "./execution";
import { type FormFacts, magnitude, residual } from "./form";
import { type LinearSolver, SINGULAR } from "./linear";
import type { SolveStep } from "./plan";
import { carryOut, prepare, type ReplayStep } from "./replay";
import { quickAnswer } from "./single";
import type { Quantity } from "./system";
import { type Tape, tapeOf } from "./tape";

export class Trial {
  private readonly steps: readonly ReplayStep[];
  private readonly chords: readonly (Chord | undefined)[];
  /** Of all figures, as the last trial left them. */
  readonly values: Float64Array;
  private readonly tape: Tape;

  constructor(
    private readonly execution: Execution,
    private readonly quantity: Quantity,
    private readonly inputs: readonly number[],
  ) {
    this.steps = coneOf(execution, quantity.variables).map((at) =>
      prepare(execution, execution.steps[at]!),
    );
    this.values = execution.values.slice();
    this.chords = this.steps.map((step) => this.chordFor(step));
    this.tape = tapeOf(quantity.expression);
  }

  /** NaN where it has no value there. */
  at(places: ArrayLike<number>): number {
    const { values, inputs, execution, steps, chords } = this;
    for (let i = 0; i < inputs.length; i++) values[inputs[i]!] = places[i]!;
    for (let i = 0; i < steps.length; i++) {
      if (chords[i]?.follow(values, execution.values) === true) continue;
      carryOut(steps[i]!, values, execution.values);
    }
    return evaluate(this.tape, values, this.quantity.variables);
  }

  private chordFor({ step, question }: ReplayStep): Chord | undefined {
    const { execution } = this;
    const plain = question !== undefined && !Number.isNaN(quickAnswer(question, execution.values));
    if (plain || step.variables.some((variable) => Number.isNaN(execution.values[variable]))) {
      return undefined;
    }
    const { solver, rowSizes, scales } = linearizedAt(execution, step);
    if (!(solver.smallestPivot > SINGULAR)) return undefined;
    return new Chord(execution, step, solver, rowSizes, scales);
  }
}

const ROUNDS = 25;
/** A step this small beside the figure's place and size settles it. */
const SETTLED = 1e-13;

/** Follows a step's answer with the slopes at the solution (the chord method). */
class Chord {
  private readonly facts: readonly FormFacts[];
  private readonly slots: readonly (readonly number[])[];
  private readonly heights: Float64Array;
  private readonly lows: readonly number[];
  private readonly highs: readonly number[];

  constructor(
    execution: Execution,
    private readonly step: SolveStep,
    private readonly solver: LinearSolver,
    private readonly rowSizes: Float64Array,
    private readonly scales: readonly number[],
  ) {
    const { network } = execution;
    this.facts = step.equations.map((equation) => network.facts[equation]!);
    this.slots = step.equations.map((equation) => network.system.equations[equation]!.variables);
    this.heights = new Float64Array(step.equations.length);
    const ranges = step.variables.map((variable) => network.system.variables[variable]!.range);
    this.lows = ranges.map((range) => range?.[0] ?? Number.NEGATIVE_INFINITY);
    this.highs = ranges.map((range) => range?.[1] ?? Number.POSITIVE_INFINITY);
  }

  /** False where it does not settle, or leaves a range. */
  follow(values: Float64Array, base: Float64Array): boolean {
    const { step, heights, scales } = this;
    const { variables } = step;
    for (let j = 0; j < variables.length; j++) values[variables[j]!] = base[variables[j]!]!;
    for (let round = 0; round < ROUNDS; round++) {
      for (let i = 0; i < heights.length; i++) {
        heights[i] = residual(this.facts[i]!, values, this.slots[i]!) / this.rowSizes[i]!;
      }
      const move = this.solver.solve(heights);
      let longest = 0;
      for (let j = 0; j < variables.length; j++) {
        const by = move[j]! * scales[j]!;
        const at = values[variables[j]!]! - by;
        values[variables[j]!] = at;
        longest = Math.max(longest, Math.abs(by) / (Math.abs(at) + scales[j]! * 1e-3));
      }
      if (!Number.isFinite(longest)) return false;
      if (longest < SETTLED) return this.isInRange(values);
    }
    return false;
  }

  private isInRange(values: Float64Array): boolean {
    for (let i = 0; i < this.facts.length; i++) {
      const height = residual(this.facts[i]!, values, this.slots[i]!);
      if (!(Math.abs(height) <= 1e-9 * magnitude(this.facts[i]!))) return false;
    }
    return this.step.variables.every((variable, j) => {
      const room = 1e-9 * (Math.abs(values[variable]!) + this.scales[j]! * 1e-3);
      return (
        values[variable]! >= this.lows[j]! - room && values[variable]! <= this.highs[j]! + room
      );
    });
  }
}
