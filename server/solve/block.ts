/**
 * A block at work: its residuals and its Jacobian, with columns in natural units and rows brought
 * to size 1.
 *
 * Must not know: how it is solved.
 */
import { type FormFacts, magnitude, residual, residualAndGradient } from "./form";
import { type DependentRow, dependentRows } from "./linear";

export interface Block {
  readonly facts: readonly FormFacts[];
  /** For each equation the variable of each slot. */
  readonly slots: readonly (readonly number[])[];
  /** Order in which equations are kept when some of them turn out to say the same thing. */
  readonly preference: readonly number[];
  readonly unknowns: readonly number[];
  readonly scales: readonly number[];
  readonly lows: readonly number[];
  readonly highs: readonly number[];
  /** A guess for each unknown, drawn from known neighbors; NaN where there is none. */
  readonly guesses: readonly number[];
}

export class Work {
  readonly size: number;
  readonly x: Float64Array;
  readonly jacobian: Float64Array;
  readonly rowSizes: Float64Array;
  readonly kinked: boolean;
  private readonly values_: Float64Array;
  private readonly f: Float64Array;
  private readonly sizes: Float64Array;
  private readonly gradient: Float64Array;
  /** For each equation and slot, the unknown's place in the block, -1 for the others. */
  private readonly places: readonly Int32Array[];

  constructor(
    readonly block: Block,
    values: Float64Array,
  ) {
    this.values_ = values;
    this.size = block.unknowns.length;
    this.x = new Float64Array(this.size);
    this.f = new Float64Array(this.size);
    this.sizes = new Float64Array(this.size);
    this.rowSizes = new Float64Array(this.size);
    this.jacobian = new Float64Array(this.size * this.size);
    const placeOf = new Map(block.unknowns.map((unknown, place) => [unknown, place]));
    this.places = block.slots.map((slots) =>
      Int32Array.from(slots, (variable) => placeOf.get(variable) ?? -1),
    );
    this.gradient = new Float64Array(Math.max(1, ...block.slots.map((slots) => slots.length)));
    this.kinked = block.facts.some((facts) => facts.tape.kinked);
  }

  /** The values it writes to, with what it does not solve for. */
  current(): Float64Array {
    return this.values_;
  }

  place(point: ArrayLike<number>): void {
    this.block.unknowns.forEach((unknown, j) => {
      this.x[j] = point[j]!;
      this.values_[unknown] = point[j]!;
    });
  }

  clip(point: Float64Array): void {
    for (let j = 0; j < this.size; j++) {
      point[j] = Math.min(this.block.highs[j]!, Math.max(this.block.lows[j]!, point[j]!));
    }
  }

  move(origin: Float64Array, step: Float64Array, share: number): void {
    const point = origin.map((x, j) => x - share * step[j]! * this.block.scales[j]!);
    this.clip(point);
    this.place(point);
  }

  /** Evaluates all residuals; NaN or infinite where one has no value. */
  residuals(): number {
    let sum = 0;
    for (let i = 0; i < this.size; i++) {
      const facts = this.block.facts[i]!;
      this.f[i] = residual(facts, this.values_, this.block.slots[i]!);
      this.sizes[i] = magnitude(facts);
      sum += Math.abs(this.f[i]!);
    }
    return sum;
  }

  /** Jacobian with columns in natural units and rows brought to size 1; false where it has holes. */
  jacobianAndSizes(): boolean {
    const { size, jacobian, gradient, block } = this;
    jacobian.fill(0);
    for (let i = 0; i < size; i++) {
      residualAndGradient(block.facts[i]!, this.values_, block.slots[i]!, gradient, 0);
      let largest = 0;
      const places = this.places[i]!;
      for (let slot = 0; slot < places.length; slot++) {
        const place = places[slot]!;
        if (place < 0) continue;
        const entry = gradient[slot]! * block.scales[place]!;
        if (!Number.isFinite(entry)) return false;
        jacobian[i * size + place] = entry;
        largest = Math.max(largest, Math.abs(entry));
      }
      this.rowSizes[i] = largest > 0 ? largest : 1;
      if (largest > 0) for (let j = 0; j < size; j++) jacobian[i * size + j]! /= largest;
    }
    return true;
  }

  rawJacobian(): Float64Array {
    return this.jacobian.map((entry, at) => entry * this.rowSizes[Math.floor(at / this.size)]!);
  }

  scaledResiduals(): Float64Array {
    return this.f.map((f, i) => f / this.rowSizes[i]!);
  }

  merit(): number {
    let sum = 0;
    for (let i = 0; i < this.size; i++) sum += (this.f[i]! / this.rowSizes[i]!) ** 2;
    return sum;
  }

  /** Whether every residual is as good as nothing beside the sides it is the difference of. */
  settled(share: number): boolean {
    this.residuals();
    for (let i = 0; i < this.size; i++) {
      const room = this.sizes[i]! + 1e-3 * this.rowSizes[i]!;
      if (!(Math.abs(this.f[i]!) <= share * room)) return false;
    }
    return true;
  }

  /** Whether a point is the same within `room`, a share of its size. */
  sameAs(point: Float64Array, room = 1e-6): boolean {
    return this.x.every(
      (x, j) => Math.abs(x - point[j]!) <= room * (Math.abs(x) + this.block.scales[j]! * 1e-3),
    );
  }

  /** Superfluous rows by the block's preference; rows and weights count in the block's own order. */
  dependent(): DependentRow[] {
    const { size } = this;
    const { preference } = this.block;
    const ordered = new Float64Array(size * size);
    preference.forEach((row, at) => {
      ordered.set(this.jacobian.subarray(row * size, (row + 1) * size), at * size);
    });
    return dependentRows(ordered, size, size).map(({ row, weights }) => {
      const own = new Float64Array(size);
      // Back to residuals of natural size: the rows had been divided by theirs.
      preference.forEach((original, at) => {
        own[original] = weights[at]! / this.rowSizes[original]!;
      });
      return { row: preference[row]!, weights: own };
    });
  }
}
