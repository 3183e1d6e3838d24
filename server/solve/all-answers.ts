/**
 * All answers of a few equations in as many unknowns, inside the unknowns' ranges: boxes that can hold
 * none are dropped, boxes that hold exactly one are proved to (Krawczyk's test), the rest are narrowed
 * and halved (Moore, Kearfott and Cloud, Introduction to Interval Analysis, 2009, chapter 8). Where
 * every box was settled, the list is complete.
 *
 * Must not know: plans, names, which answer is meant.
 */
import { goOn } from "../keep/patience";
import type { Block } from "./block";
import { evaluate } from "./evaluate";
import { magnitude, residual, residualAndGradient, residualSize } from "./form";
import { add, divide, down, multiply, subtract, up } from "./interval";
import { factor, solveWith } from "./linear";
import { loadRanges, runRanges } from "./range-run";
import { slopeRanges } from "./range-slopes";
import { NOISE } from "./rounding-noise";
import { halvesOf, NARROW, type Part, slackOf, widened, widest } from "./search-boxes";
import { rangesOf } from "./tape";

export interface Answers {
  /** By unknown, in the block's order; ascending. */
  readonly answers: readonly Float64Array[];
  /** Whether these are proved to be all in the ranges searched. */
  readonly complete: boolean;
  /** Whole stretches of answers were met: the equations leave something open. */
  readonly continuum: boolean;
  /** Where an unknown without limits was searched: up to this many times its natural size. */
  readonly searchedTo: number;
}

/** Unknowns without a limit are searched up to so many times their natural size. */
export const SEARCHED_TO = 1e9;
const BOXES = [6000, 3000, 1500, 1500, 1500, 1500, 1500, 1500, 300] as const;

export function allAnswers(block: Block, values: Float64Array, boxes?: number): Answers {
  return new Searching(block, values.slice()).run(boxes);
}

/** By the first unknown in which two answers differ. */
export function ascending(one: Float64Array, other: Float64Array): number {
  const at = one.findIndex((x, j) => x !== other[j]);
  return one[at]! - other[at]!;
}

/** May be broken off after some boxes and gone on with. */
export class Searching {
  /** Boxes that are still to be looked at. */
  private readonly parts: Part[];
  private spent = 0;
  private readonly size: number;
  private readonly low: Float64Array;
  private readonly high: Float64Array;
  private readonly slopeLow: Float64Array;
  private readonly slopeHigh: Float64Array;
  private readonly noise: Float64Array;
  private readonly places: readonly Int32Array[];
  private readonly found: Float64Array[] = [];
  private continuum = false;
  private unsettled = false;

  constructor(
    private readonly block: Block,
    /** Written to: the unknowns' places are scratch. */
    private readonly values: Float64Array,
  ) {
    this.size = block.unknowns.length;
    this.low = values.slice();
    this.high = values.slice();
    this.slopeLow = new Float64Array(this.size ** 2);
    this.slopeHigh = new Float64Array(this.size ** 2);
    this.noise = new Float64Array(this.size);
    const placeOf = new Map(block.unknowns.map((unknown, j) => [unknown, j]));
    this.places = block.slots.map((slots) =>
      Int32Array.from(slots, (variable) => placeOf.get(variable) ?? -1),
    );
    const { lows, highs, scales } = block;
    const low = Float64Array.from(lows, (from, j) =>
      Math.max(from - slackOf(from, scales[j]!), -SEARCHED_TO * scales[j]!),
    );
    const high = Float64Array.from(highs, (to, j) =>
      Math.min(to + slackOf(to, scales[j]!), SEARCHED_TO * scales[j]!),
    );
    this.parts = [{ low, high }];
  }

  /** `boxes`: how many of them may be looked at, those of before counted. */
  run(boxes?: number): Answers {
    const { parts, size, block } = this;
    const { scales } = block;
    const most = boxes ?? BOXES[Math.min(size, BOXES.length) - 1]!;
    while (parts.length > 0 && this.spent < most && !this.continuum) {
      goOn();
      this.spent++;
      const part = parts.shift()!;
      if (!this.narrowed(part)) continue;
      const settled = this.settled(part);
      if (settled) continue;
      const at = widest(part, scales);
      // A box cut down to its answer's last digits is proved by a wider one about it.
      if (at < 0) {
        if (!this.settled(widened(part, scales))) this.park(part);
      } else parts.push(...halvesOf(part, at, scales[at]!));
    }
    return {
      answers: this.found.slice().sort(ascending),
      complete: parts.length === 0 && !this.unsettled && !this.continuum,
      continuum: this.continuum,
      searchedTo: SEARCHED_TO,
    };
  }

  /** Cuts a box down by each equation for each unknown; false where it can hold no answer. */
  private narrowed(part: Part): boolean {
    const { size } = this;
    for (let round = 0; round < 4; round++) {
      let before = 0;
      let after = 0;
      for (let i = 0; i < size; i++) {
        if (!this.evaluate(part, i, true)) return false;
        for (let j = 0; j < size; j++) {
          const gl = this.slopeLow[i * size + j]!;
          const gh = this.slopeHigh[i * size + j]!;
          if ((gl === 0 && gh === 0) || !(part.high[j]! > part.low[j]!)) continue;
          before += 1;
          const share = this.cutBy(part, i, j, gl, gh);
          if (Number.isNaN(share)) return false;
          after += share;
        }
      }
      if (before === 0 || after > 0.9 * before) break;
    }
    return true;
  }

  /** Newton for one unknown of one equation; the share of its width that is left, NaN for none. */
  private cutBy(part: Part, i: number, j: number, gl: number, gh: number): number {
    const from = part.low[j]!;
    const to = part.high[j]!;
    const middle = from + (to - from) / 2;
    part.low[j] = middle;
    part.high[j] = middle;
    const defined = this.evaluate(part, i, false, true);
    part.low[j] = from;
    part.high[j] = to;
    if (!defined) return 1;
    const hl = height[0]!;
    const hh = heightHigh[0]!;
    let [least, most] = [from, to];
    if (gl > 0 || gh < 0) {
      divide(height, heightHigh, 0, hl, hh, gl, gh);
      subtract(height, heightHigh, 0, middle, middle, height[0]!, heightHigh[0]!);
      least = Math.max(least, height[0]!);
      most = Math.min(most, heightHigh[0]!);
    } else if (hl > 0 || hh < 0) {
      // The slope may be nothing: what is cut out lies about the middle.
      const away = hl > 0 ? hl : -hh;
      const up_ = hl > 0 ? -gl : gh;
      const down_ = hl > 0 ? gh : -gl;
      const right = up_ > 0 ? down(middle + down(away / up_)) : Number.POSITIVE_INFINITY;
      const left = down_ > 0 ? up(middle - down(away / down_)) : Number.NEGATIVE_INFINITY;
      if (right > to && left < from) return Number.NaN;
      if (left < from) least = Math.max(least, right);
      else if (right > to) most = Math.min(most, left);
    }
    if (least > most) return Number.NaN;
    part.low[j] = least;
    part.high[j] = most;
    const width = to - from;
    return width > 0 && Number.isFinite(width) ? (most - least) / width : 1;
  }

  /**
   * Left minus right of an equation over a box, widened by what rounding explains; false where it
   * cannot be 0. `anyway`: only whether it has a value.
   */
  private evaluate(part: Part, i: number, slopes: boolean, anyway = false): boolean {
    const { block, size } = this;
    const { tape } = block.facts[i]!;
    const slots = block.slots[i]!;
    for (let j = 0; j < size; j++) {
      const unknown = block.unknowns[j]!;
      this.low[unknown] = part.low[j]!;
      this.high[unknown] = part.high[j]!;
    }
    if (tape.kinked) {
      block.unknowns.forEach((unknown, j) => {
        this.values[unknown] = (part.low[j]! + part.high[j]!) / 2;
      });
      evaluate(tape, this.values, slots);
    }
    loadRanges(tape, this.low, this.high, slots);
    runRanges(tape);
    const { low, high, slopeLow, slopeHigh } = rangesOf(tape);
    const [left, right] = [tape.results[0]!, tape.results[1]!];
    subtract(height, heightHigh, 0, low[left]!, high[left]!, low[right]!, high[right]!);
    if (Number.isNaN(height[0]!)) return false;
    const sizes = Math.max(
      Math.min(Math.abs(low[left]!), Math.abs(high[left]!)),
      Math.min(Math.abs(low[right]!), Math.abs(high[right]!)),
    );
    const room = NOISE * (Number.isFinite(sizes) ? sizes : 0);
    height[0] = height[0]! - room;
    heightHigh[0] = heightHigh[0]! + room;
    this.noise[i] = room;
    if (slopes) {
      slopeRanges(tape, SEEDS);
      const places = this.places[i]!;
      for (let j = 0; j < size; j++) {
        this.slopeLow[i * size + j] = 0;
        this.slopeHigh[i * size + j] = 0;
      }
      for (let k = 0; k < tape.slotIndices.length; k++) {
        const j = places[tape.slotIndices[k]!]!;
        if (j < 0) continue;
        this.slopeLow[i * size + j] = slopeLow[tape.slotPositions[k]!]!;
        this.slopeHigh[i * size + j] = slopeHigh[tape.slotPositions[k]!]!;
      }
    }
    return anyway || (height[0]! <= 0 && heightHigh[0]! >= 0);
  }

  /** Whether the box is proved to hold exactly one answer, or none; narrows it otherwise. */
  private settled(part: Part): boolean {
    const { size } = this;
    const middle = part.low.map((from, j) => from + (part.high[j]! - from) / 2);
    for (let i = 0; i < size; i++) if (!this.evaluate(part, i, true)) return true;
    if (!this.slopeLow.every((from, at) => Number.isFinite(from + this.slopeHigh[at]!))) {
      return false;
    }
    if (this.isFlat(part)) {
      this.continuum = true;
      return true;
    }
    const inverse = this.inverse();
    if (inverse === undefined) return false;
    const heights = { low: new Float64Array(size), high: new Float64Array(size) };
    const slopes = { low: this.slopeLow.slice(), high: this.slopeHigh.slice() };
    for (let i = 0; i < size; i++) {
      if (!this.evaluate({ low: middle, high: middle }, i, false, true)) return false;
      heights.low[i] = height[0]!;
      heights.high[i] = heightHigh[0]!;
    }
    let inside = true;
    const low = new Float64Array(size);
    const high = new Float64Array(size);
    for (let j = 0; j < size; j++) {
      low[j] = middle[j]!;
      high[j] = middle[j]!;
      for (let i = 0; i < size; i++) {
        const entry = inverse[j * size + i]!;
        multiply(height, heightHigh, 0, heights.low[i]!, heights.high[i]!, entry, entry);
        subtract(low, high, j, low[j]!, high[j]!, height[0]!, heightHigh[0]!);
      }
      for (let k = 0; k < size; k++) {
        let sl = j === k ? 1 : 0;
        let sh = sl;
        for (let i = 0; i < size; i++) {
          const entry = inverse[j * size + i]!;
          const at = i * size + k;
          multiply(height, heightHigh, 0, slopes.low[at]!, slopes.high[at]!, entry, entry);
          subtract(height, heightHigh, 0, sl, sh, height[0]!, heightHigh[0]!);
          sl = height[0]!;
          sh = heightHigh[0]!;
        }
        multiply(
          height,
          heightHigh,
          0,
          sl,
          sh,
          down(part.low[k]! - middle[k]!),
          up(part.high[k]! - middle[k]!),
        );
        add(low, high, j, low[j]!, high[j]!, height[0]!, heightHigh[0]!);
      }
      if (!(low[j]! > part.low[j]! && high[j]! < part.high[j]!)) inside = false;
    }
    for (let j = 0; j < size; j++) {
      if (low[j]! > part.high[j]! || high[j]! < part.low[j]!) return true;
      part.low[j] = Math.max(part.low[j]!, low[j]!);
      part.high[j] = Math.min(part.high[j]!, high[j]!);
    }
    if (!inside) return false;
    const answer = this.polished(part);
    if (answer === undefined) return false;
    this.keep(answer);
    return true;
  }

  /** Every equation is nothing all over the box, which has some width. */
  private isFlat(part: Part): boolean {
    if (this.size > 1) return false;
    const wide = part.high[0]! - part.low[0]! > NARROW * this.block.scales[0]!;
    return wide && this.slopeLow[0] === 0 && this.slopeHigh[0] === 0;
  }

  private inverse(): Float64Array | undefined {
    const { size } = this;
    const middle = this.slopeLow.map((from, at) => (from + this.slopeHigh[at]!) / 2);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) middle[i * size + j]! *= this.block.scales[j]!;
    }
    const sizes = Float64Array.from({ length: size }, (_, i) =>
      middle
        .subarray(i * size, (i + 1) * size)
        .reduce((most, entry) => Math.max(most, Math.abs(entry)), 0),
    );
    if (sizes.some((each) => each === 0)) return undefined;
    for (let at = 0; at < middle.length; at++) middle[at]! /= sizes[Math.floor(at / size)]!;
    const factors = factor(middle, size);
    if (!(factors.smallestPivot > 1e-12)) return undefined;
    const inverse = new Float64Array(size * size);
    for (let i = 0; i < size; i++) {
      const unit = new Float64Array(size);
      unit[i] = 1 / sizes[i]!;
      const column = solveWith(factors, unit);
      for (let j = 0; j < size; j++) inverse[j * size + i] = column[j]! * this.block.scales[j]!;
    }
    return inverse;
  }

  /** A box too narrow to halve: its middle, where that is as good as an answer. */
  private park(part: Part): void {
    const answer = this.polished(part) ?? part.low.map((from, j) => (from + part.high[j]!) / 2);
    this.place(answer);
    const holds = this.block.facts.every((facts, i) => {
      const slots = this.block.slots[i]!;
      const gap = Math.abs(residual(facts, this.values, slots));
      const size = Math.max(magnitude(facts), residualSize(facts, slots, undefined));
      return gap <= 1e-10 * size;
    });
    if (holds) this.keep(answer);
    this.unsettled = true;
  }

  /** Newton from the middle; undefined where it leaves the neighborhood. */
  private polished(part: Part): Float64Array | undefined {
    const { size, block } = this;
    const x = part.low.map((from, j) => from + (part.high[j]! - from) / 2);
    for (let round = 0; round < 30; round++) {
      this.place(x);
      const jacobian = new Float64Array(size * size);
      const right = new Float64Array(size);
      for (let i = 0; i < size; i++) {
        const slots = block.slots[i]!;
        const gradient = new Float64Array(slots.length);
        right[i] = residualAndGradient(block.facts[i]!, this.values, slots, gradient, 0);
        gradient.forEach((entry, slot) => {
          const j = this.places[i]![slot]!;
          if (j >= 0) jacobian[i * size + j] = entry * block.scales[j]!;
        });
        const most = jacobian
          .subarray(i * size, (i + 1) * size)
          .reduce((largest, entry) => Math.max(largest, Math.abs(entry)), 0);
        if (!(most > 0)) return undefined;
        for (let j = 0; j < size; j++) jacobian[i * size + j]! /= most;
        right[i]! /= most;
      }
      const factors = factor(jacobian, size);
      if (!(factors.smallestPivot > 0)) return undefined;
      const step = solveWith(factors, right);
      let largest = 0;
      for (let j = 0; j < size; j++) {
        const move = step[j]! * block.scales[j]!;
        x[j]! -= move;
        largest = Math.max(largest, Math.abs(move) / (Math.abs(x[j]!) + block.scales[j]! * 1e-6));
      }
      if (!x.every(Number.isFinite)) return undefined;
      if (largest < 1e-15) break;
    }
    const near = x.every((at, j) => {
      const room = 1e-6 * (Math.abs(at) + block.scales[j]! * 1e-3);
      return at >= part.low[j]! - room && at <= part.high[j]! + room;
    });
    return near ? x : undefined;
  }

  private place(x: ArrayLike<number>): void {
    this.block.unknowns.forEach((unknown, j) => {
      this.values[unknown] = x[j]!;
    });
  }

  private keep(answer: Float64Array): void {
    const { lows, highs, scales } = this.block;
    const inRange = answer.every(
      (x, j) =>
        x >= lows[j]! - slackOf(lows[j]!, scales[j]!) &&
        x <= highs[j]! + slackOf(highs[j]!, scales[j]!),
    );
    const known = this.found.some((other) =>
      other.every((x, j) => Math.abs(x - answer[j]!) <= 1e-6 * (Math.abs(x) + scales[j]! * 1e-3)),
    );
    if (inRange && !known) this.found.push(answer);
  }
}

const SEEDS = [1, -1];
const height = new Float64Array(1);
const heightHigh = new Float64Array(1);
