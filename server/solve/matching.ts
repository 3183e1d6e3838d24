/**
 * Pairs equations with unknowns, as many as can be, one equation at a time: an equation that is
 * paired stays paired, so that those tried first are kept before those tried later.
 *
 * The order of trying and the order of each equation's own unknowns decide between equal choices;
 * positions never do. A search that fails leaves a closed region behind, which no later search can
 * use either, so that all failing searches together cost no more than one pass over the edges.
 *
 * Must not know: expressions, values.
 *
 *   const matching = new Matching(2, 2);
 *   matching.admit(0, [0, 1]);   // true: equation 0 takes unknown 0
 *   matching.admit(1, [0]);      // true: equation 0 gives way and takes unknown 1
 */
import { goOn } from "../keep/patience";
export class Matching {
  /** The unknown of each equation, -1 where it has none. */
  readonly unknownOf: Int32Array;
  /** The equation of each unknown, -1 where it has none. */
  readonly equationOf: Int32Array;
  private readonly edges: (readonly number[])[];
  private readonly seenBy: Int32Array;
  private readonly cameFrom: Int32Array;
  private readonly dead: Uint8Array;
  private search = 0;

  constructor(equations: number, unknowns: number) {
    this.unknownOf = new Int32Array(equations).fill(-1);
    this.equationOf = new Int32Array(unknowns).fill(-1);
    this.edges = new Array<readonly number[]>(equations).fill([]);
    this.seenBy = new Int32Array(unknowns).fill(-1);
    this.cameFrom = new Int32Array(unknowns).fill(-1);
    this.dead = new Uint8Array(unknowns);
  }

  /** Adds an equation with its unknowns; true where it could be paired as well. */
  admit(equation: number, unknowns: readonly number[]): boolean {
    this.edges[equation] = unknowns;
    for (const unknown of unknowns) {
      if (this.equationOf[unknown] === -1) {
        this.pair(equation, unknown);
        return true;
      }
    }
    return this.augment(equation);
  }

  private pair(equation: number, unknown: number): void {
    this.unknownOf[equation] = unknown;
    this.equationOf[unknown] = equation;
  }

  /** Breadth first, so that the shortest chain of changes is taken. */
  private augment(start: number): boolean {
    this.search++;
    const queue = [start];
    const reached: number[] = [];
    for (let at = 0; at < queue.length; at++) {
      goOn();
      const equation = queue[at]!;
      for (const unknown of this.edges[equation]!) {
        if (this.dead[unknown] === 1 || this.seenBy[unknown] === this.search) continue;
        this.seenBy[unknown] = this.search;
        this.cameFrom[unknown] = equation;
        reached.push(unknown);
        const holder = this.equationOf[unknown]!;
        if (holder === -1) {
          this.turnRound(unknown);
          return true;
        }
        queue.push(holder);
      }
    }
    for (const unknown of reached) this.dead[unknown] = 1;
    return false;
  }

  private turnRound(end: number): void {
    let unknown = end;
    while (unknown !== -1) {
      const equation = this.cameFrom[unknown]!;
      const given = this.unknownOf[equation]!;
      this.pair(equation, unknown);
      unknown = given;
    }
  }
}
