/**
 * Cuts the ranges of figures down by the equations between them: each equation is turned round for each
 * of its figures and worked out over the ranges of the others, again and again while that helps (hull
 * consistency: Benhamou, Goualard, Granvilliers and Puget, Revising hull and box consistency, 1999).
 * What is cut off holds no answer; what is left may hold none either.
 *
 *     const ranges = new Contraction(network, equations)
 *     ranges.contract()   →   false: no place in the ranges satisfies all of the equations
 *
 * Must not know: plans, values, which answer is meant.
 */
import { goOn } from "../keep/patience";
import { subtract } from "./interval";
import type { Network } from "./network";
import { loadRanges, runRanges } from "./range-run";
import { NOISE } from "./rounding-noise";
import { rangesOf } from "./tape";

/** Revisions of one equation for one figure, for each of them there is. */
const ROUNDS = 12;
/** A range is cut again for others where at least this share of it goes. */
const WORTH = 0.02;

export class Contraction {
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Equations worked through so far: what it has cost. */
  spent = 0;
  private readonly own: ReadonlySet<number>;
  private readonly whole: Uint8Array;

  constructor(
    private readonly network: Network,
    readonly equations: readonly number[],
    limits: (variable: number) => readonly [low: number, high: number],
  ) {
    const { variables } = network.system;
    this.low = new Float64Array(variables.length);
    this.high = new Float64Array(variables.length);
    this.whole = Uint8Array.from(variables, ({ whole }) => (whole === undefined ? 0 : 1));
    this.own = new Set(equations);
    for (const equation of equations) {
      for (const variable of network.system.equations[equation]!.variables) {
        [this.low[variable], this.high[variable]] = limits(variable) as [number, number];
      }
    }
  }

  /** What the ranges are now, to come back to. */
  saved(): { readonly low: Float64Array; readonly high: Float64Array } {
    return { low: this.low.slice(), high: this.high.slice() };
  }

  restore({ low, high }: { readonly low: Float64Array; readonly high: Float64Array }): void {
    this.low.set(low);
    this.high.set(high);
  }

  /** Goes on from the equations of some figures, else from all; false where nothing is left. */
  contract(from?: readonly number[]): boolean {
    const queue = new Set(from === undefined ? this.equations : from.flatMap((v) => this.of(v)));
    let left = ROUNDS * this.equations.length;
    for (const equation of queue) {
      goOn();
      queue.delete(equation);
      if (left-- <= 0) break;
      this.spent++;
      const changed = this.revise(equation);
      if (changed === undefined) return false;
      for (const variable of changed) {
        for (const other of this.of(variable)) if (other !== equation) queue.add(other);
      }
    }
    return true;
  }

  private of(variable: number): number[] {
    const { touchStart, touching } = this.network;
    return [...touching.subarray(touchStart[variable]!, touchStart[variable + 1]!)].filter((each) =>
      this.own.has(each),
    );
  }

  /** Figures of which an equation cut off something worth going on from; undefined where none is left. */
  private revise(equation: number): readonly number[] | undefined {
    const { network } = this;
    const { variables } = network.system.equations[equation]!;
    const facts = network.facts[equation]!;
    if (!this.canHold(equation)) return undefined;
    const changed: number[] = [];
    for (const [slot, variable] of variables.entries()) {
      const { determines, branches } = facts.slots[slot]!;
      const before = [this.low[variable]!, this.high[variable]!] as const;
      if (!determines || branches === undefined || branches.repeats || before[0] === before[1]) {
        continue;
      }
      let low = Number.POSITIVE_INFINITY;
      let high = Number.NEGATIVE_INFINITY;
      for (const tape of branches.tapes) {
        loadRanges(tape, this.low, this.high, variables);
        runRanges(tape);
        const ranges = rangesOf(tape);
        const result = tape.results[0]!;
        const [from, to] = [ranges.low[result]!, ranges.high[result]!];
        if (Number.isNaN(from)) continue;
        low = Math.min(low, from);
        high = Math.max(high, to);
      }
      if (!this.cut(variable, low, high)) return undefined;
      const width = before[1] - before[0];
      const kept = this.high[variable]! - this.low[variable]!;
      if (kept < width * (1 - WORTH)) changed.push(variable);
    }
    return changed;
  }

  /** Keeps a figure within limits; whole numbers alone of what is counted. False where nothing is left. */
  cut(variable: number, low: number, high: number): boolean {
    const { scale } = this.network.system.variables[variable]!;
    const room = (x: number): number => 1e-9 * (Math.abs(x) + scale * 1e-3);
    let from = Math.max(this.low[variable]!, low - (Number.isFinite(low) ? room(low) : 0));
    let to = Math.min(this.high[variable]!, high + (Number.isFinite(high) ? room(high) : 0));
    if (this.whole[variable] === 1) {
      // Adding 0 turns −0 into 0.
      from = Math.ceil(from - 1e-6) + 0;
      to = Math.floor(to + 1e-6) + 0;
    }
    this.low[variable] = from;
    this.high[variable] = to;
    return from <= to;
  }

  /** Whether left can be right somewhere in the ranges, but for what rounding explains. */
  private canHold(equation: number): boolean {
    const { variables } = this.network.system.equations[equation]!;
    const { tape } = this.network.facts[equation]!;
    loadRanges(tape, this.low, this.high, variables);
    runRanges(tape);
    const { low, high } = rangesOf(tape);
    const [left, right] = [tape.results[0]!, tape.results[1]!];
    subtract(gap, gapHigh, 0, low[left]!, high[left]!, low[right]!, high[right]!);
    if (Number.isNaN(gap[0]!)) return false;
    const size = Math.max(smallest(low[left]!, high[left]!), smallest(low[right]!, high[right]!));
    const room = 1e3 * NOISE * (Number.isFinite(size) ? size : 0);
    return gap[0]! <= room && gapHigh[0]! >= -room;
  }
}

const gap = new Float64Array(1);
const gapHigh = new Float64Array(1);

function smallest(low: number, high: number): number {
  return Math.min(Math.abs(low), Math.abs(high));
}
