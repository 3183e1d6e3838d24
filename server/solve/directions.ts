/**
 * Which way the figures of a drawing move with what it rests on softly: its wishes, assumed relations and
 * defaults that were asked for.
 *
 *     new Directions(drawn).of(gap)   →   [0, 1, 0]: as far as the second of them moves
 *
 * Must not know: what is made, what gives way.
 */
import { sweepBack } from "./adjoint";
import { admitted } from "./draw";
import { executionOf } from "./execution";
import { byRankAndName } from "./network";
import type { Solution } from "./system";

export class Directions {
  /** The equations of these, in order. */
  readonly columns: readonly number[];
  readonly columnOf = new Map<number, number>();
  /** How large what each of them is about naturally is. */
  private readonly sizes: readonly number[];
  private readonly known = new Map<number, readonly number[]>();

  constructor(private readonly drawn: Solution) {
    const { equations } = drawn.system;
    this.columns = [...admitted(drawn)]
      .filter((equation) => equations[equation]!.rank !== "default")
      .sort(byRankAndName(equations));
    for (const [at, equation] of this.columns.entries()) this.columnOf.set(equation, at);
    this.sizes = this.columns.map((equation) => this.sizeOf(equation));
  }

  /** 1 for what follows from some wish or assumption. */
  moving(): Uint8Array {
    const { variables, equations } = this.drawn.system;
    const moves = new Uint8Array(variables.length);
    for (const step of executionOf(this.drawn).steps) {
      const isMoved = step.equations.some(
        (each) =>
          this.columnOf.has(each) || equations[each]!.variables.some((own) => moves[own] === 1),
      );
      if (isMoved) for (const variable of step.variables) moves[variable] = 1;
    }
    return moves;
  }

  isMoved(variable: number): boolean {
    return this.of(variable).some((entry) => entry !== 0);
  }

  /** How a figure moves with each wish and assumption, in units of their natural sizes. */
  of(variable: number): readonly number[] {
    let direction = this.known.get(variable);
    if (direction === undefined) {
      const { scale } = this.drawn.system.variables[variable]!;
      direction = this.along([variable], [1 / scale]);
      this.known.set(variable, direction);
    }
    return direction;
  }

  along(variables: readonly number[], weights: readonly number[]): number[] {
    const { byEquation } = sweepBack(executionOf(this.drawn), variables, weights);
    return this.columns.map((equation, at) => (byEquation.get(equation) ?? 0) * this.sizes[at]!);
  }

  sizeOf(equation: number): number {
    const { variables, equations } = this.drawn.system;
    return variables[equations[equation]!.variables[0]!]!.scale;
  }
}
