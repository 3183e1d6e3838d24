/**
 * The search for an end of what a quantity can come to over a box of givens: those by which it only
 * rises or falls are pinned to their worse end, and the rest is halved again and again, the most
 * promising part first, until what is proved and what was found meet or the budget is spent.
 *
 * Must not know: claims, wording; which box is asked about.
 */
import { goOn } from "../keep/patience";
import type { Execution } from "./execution";
import { givensOf, type Mover, valueAt, valuesAt } from "./movers";
import type { FormulaReach, RangePass } from "./range-pass";
import type { OwnPass } from "./ranges";
import { type InputBox, NO_SLOPES, type Slopes } from "./slope-row";
import type { Budget, Quantity } from "./system";
import { type Tape, tapeOf } from "./tape";
import { Trial } from "./trial";

/** One end of what a quantity can come to. */
export interface Bound {
  /** Nothing lies beyond: proved, unless `loose`. May be infinite. */
  readonly outer: number;
  /** The furthest that was found. */
  readonly found: number;
  /** The givens' values at which it was found, where they are not the nominal ones. */
  readonly at: ReadonlyMap<number, number>;
  /** Some part could not be enclosed: `outer` is not proved. */
  readonly loose: boolean;
}

/** What a search may spend where nobody says: boxes looked at for one bound. */
export const BOXES = 200;

/** The two meet where the gap is this share of the way from the nominal value. */
const ENOUGH = 1e-3;
/** Beside a value nothing. */
export const TINY = 1e-12;

interface Part {
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** No value in it lies beyond. */
  upper: number;
  /** Somewhere in it the quantity may have no value. */
  partial: boolean;
}

/** Not to come beyond `limit`, which is turned with the sign; `strict`: nor to it. */
interface Goal {
  readonly limit: number;
  readonly strict: boolean;
}

export class BoundSearch {
  /** A place was found at which the quantity has no value. */
  hole = false;
  private readonly tape: Tape;
  private readonly pass: RangePass;
  private readonly box: InputBox;
  private readonly inputs: readonly Mover[];
  private readonly trial: Trial;
  private readonly values: Float64Array;
  private readonly boxes: number;

  constructor(
    execution: Execution,
    private readonly quantity: Quantity,
    private readonly value: number,
    private readonly first: FormulaReach,
    own: OwnPass,
    budget: Budget | undefined,
    private readonly keepsMode = true,
  ) {
    this.tape = tapeOf(quantity.expression);
    this.pass = own.pass;
    this.box = own.box;
    this.inputs = own.inputs;
    const givens = givensOf(own.inputs);
    this.trial = new Trial(execution, quantity, givens);
    this.values = new Float64Array(givens.length);
    this.boxes = budget?.boxes ?? BOXES;
  }

  /** `sign` 1: the greatest; −1: the least, turned; or whether that keeps to a goal. */
  furthest(
    sign: 1 | -1,
    goal: Goal | undefined,
  ): { readonly answer: "surely" | "fails" | "open"; readonly bound: Bound } {
    let found = sign * this.value;
    let foundAt = this.box.middle;
    let holeAt: Float64Array | undefined;
    const look = (places: Float64Array): void => {
      const value = sign * this.trial.at(valuesAt(this.inputs, places, this.values));
      if (Number.isNaN(value)) {
        this.hole = true;
        holeAt ??= places.slice();
      }
      if (value > found) {
        found = value;
        foundAt = places.slice();
      }
    };
    const reached = (value: number): boolean =>
      goal !== undefined && (goal.strict ? value >= goal.limit : value > goal.limit);
    const first: Part = {
      low: this.box.low.slice(),
      high: this.box.high.slice(),
      // What was followed along straight lines is no limit.
      upper: this.first.alongLines
        ? Number.POSITIVE_INFINITY
        : sign === 1
          ? this.first.high
          : -this.first.low,
      partial: this.first.partial,
    };
    const parts: Part[] = [first];
    if (this.boxes === 0) this.candidates(first, this.first.row.slopes ?? NO_SLOPES, sign, look);
    let closed = Number.NEGATIVE_INFINITY;
    let loose = false;
    let unclear = false;
    for (let spent = 0; parts.length > 0 && spent < this.boxes; ) {
      const part = takeNext(parts);
      const near = part.upper <= found + this.tolerance(found, sign);
      if (goal === undefined ? near : isClear(part, goal)) {
        closed = Math.max(closed, part.upper);
        continue;
      }
      goOn();
      // What only makes it rise or fall is pinned, until nothing more is.
      let reach: FormulaReach;
      let slopes: Slopes;
      let pinned: boolean;
      let doubtful: number[];
      do {
        spent++;
        this.pass.run(boxAbout(part, this.box.middle));
        reach = this.pass.reach(this.tape, this.quantity.variables);
        const upper = sign === 1 ? reach.high : -reach.low;
        if (Number.isNaN(upper)) part.upper = Number.NEGATIVE_INFINITY;
        else if (!reach.loose) part.upper = Math.min(part.upper, upper);
        slopes = reach.row.slopes ?? NO_SLOPES;
        [pinned, doubtful] = this.pin(part, slopes, reach.partial, sign);
      } while (pinned && spent < this.boxes);
      part.partial = reach.partial;
      this.candidates(part, slopes, sign, look);
      if (reached(found)) {
        return { answer: "fails", bound: this.bound(sign, part.upper, found, foundAt, loose) };
      }
      const widest = this.splitAt(part, slopes, doubtful);
      if (widest < 0) {
        loose ||= reach.loose;
        unclear ||= part.partial;
        closed = Math.max(closed, part.upper);
        continue;
      }
      parts.push(...halves(part, widest));
    }
    let outer = Math.max(closed, found);
    for (const part of parts) outer = Math.max(outer, part.upper);
    if (!this.keepsMode) loose = true;
    if (this.first.loose && outer > found + this.tolerance(found, sign)) loose = true;
    const rest = { upper: outer, partial: unclear || parts.some((part) => part.partial) };
    const clear = goal !== undefined && isClear(rest, goal) && !loose && !this.hole;
    // Where it comes to no value at all it does not hold, however far it is from failing elsewhere.
    const witness = goal !== undefined && !reached(found) ? (holeAt ?? foundAt) : foundAt;
    return {
      answer: reached(found) || this.hole ? "fails" : clear ? "surely" : "open",
      bound: this.bound(sign, outer, found, witness, loose),
    };
  }

  private tolerance(found: number, sign: 1 | -1): number {
    return ENOUGH * Math.abs(found - sign * this.value) + TINY * Math.abs(this.value);
  }

  private bound(
    sign: 1 | -1,
    outer: number,
    found: number,
    places: Float64Array,
    loose: boolean,
  ): Bound {
    const same = isSame(outer, found, sign * this.value);
    return {
      outer: sign * (same ? found : Math.max(outer, found)) + 0,
      found: sign * found + 0,
      at: new Map(
        this.inputs.flatMap((mover, at) =>
          places[at] === this.box.middle[at]
            ? []
            : mover.givens.map((given, k) => [given, valueAt(mover, k, places[at]!)] as const),
        ),
      ),
      loose,
    };
  }

  /** Pins inputs by which the quantity only rises or falls; lists those that are left. */
  private pin(part: Part, row: Slopes, partial: boolean, sign: 1 | -1): [boolean, number[]] {
    let pinned = false;
    const doubtful: number[] = [];
    row.at.forEach((at, k) => {
      if (part.high[at] === part.low[at]) return;
      const rises = sign === 1 ? row.low[k]! >= 0 : row.high[k]! <= 0;
      const falls = sign === 1 ? row.high[k]! <= 0 : row.low[k]! >= 0;
      // Where some part has no value, the worse end may be one that has none.
      if (partial || (!rises && !falls)) {
        doubtful.push(at);
        return;
      }
      const end = rises ? part.high[at]! : part.low[at]!;
      part.low[at] = end;
      part.high[at] = end;
      pinned = true;
    });
    return [pinned, doubtful];
  }

  /** Middles and corners of a part, and each doubtful input moved by itself. */
  private candidates(
    part: Part,
    row: Slopes,
    sign: 1 | -1,
    look: (places: Float64Array) => void,
  ): void {
    const corner = part.low.map((from, at) => (from + part.high[at]!) / 2);
    look(corner);
    row.at.forEach((at, k) => {
      const slope = row.low[k]! + row.high[k]!;
      const way = sign * (Number.isFinite(slope) ? slope : row.nominal[k]!);
      corner[at] = way < 0 ? part.low[at]! : part.high[at]!;
    });
    look(corner);
    if (row.at.length > 40) return;
    for (const at of row.at) {
      if (part.low[at] === part.high[at]) continue;
      for (const end of [part.low[at]!, part.high[at]!]) {
        const places = corner.slice();
        places[at] = end;
        look(places);
      }
    }
  }

  /** The input whose width matters most, -1 where none can be halved. */
  private splitAt(part: Part, row: Slopes, doubtful: readonly number[]): number {
    const placeOf = new Map([...row.at].map((at, k) => [at, k]));
    let best = -1;
    let most = -1;
    for (const at of doubtful) {
      const width = part.high[at]! - part.low[at]!;
      const middle = (part.high[at]! + part.low[at]!) / 2;
      const k = placeOf.get(at)!;
      const slope = row.high[k]! - row.low[k]!;
      const whole = this.box.high[at]! - this.box.low[at]!;
      // Infinite slopes tell nothing apart: then the one halved least.
      const matter = Number.isFinite(slope) ? slope * width : 1e300 * (width / whole);
      if (width > 1e-12 * (whole + Math.abs(middle)) && matter > most) {
        most = matter;
        best = at;
      }
    }
    return best;
  }
}

/** Nothing in the part fails the goal. */
export function isClear({ upper, partial }: Pick<Part, "upper" | "partial">, goal: Goal): boolean {
  return !partial && (goal.strict ? upper < goal.limit : upper <= goal.limit);
}

/** The part that may reach furthest. */
function takeNext(parts: Part[]): Part {
  let best = 0;
  for (let i = 1; i < parts.length; i++) if (parts[i]!.upper > parts[best]!.upper) best = i;
  const part = parts[best]!;
  parts[best] = parts[parts.length - 1]!;
  parts.pop();
  return part;
}

function halves(part: Part, at: number): Part[] {
  const middle = (part.low[at]! + part.high[at]!) / 2;
  const below = { ...part, high: part.high.slice() };
  const above = { ...part, low: part.low.slice() };
  below.high[at] = middle;
  above.low[at] = middle;
  return [below, above];
}

/** The nominal place where it lies in the part, else the part's own middle. */
function boxAbout({ low, high }: Part, nominal: Float64Array): InputBox {
  const middle = low.map((from, at) => {
    const to = high[at]!;
    return nominal[at]! >= from && nominal[at]! <= to ? nominal[at]! : (from + to) / 2;
  });
  return { low, high, middle };
}

/** What is proved and what was found differ by rounding alone. */
export function isSame(outer: number, found: number, value: number): boolean {
  if (!Number.isFinite(outer)) return false;
  return Math.abs(outer - found) <= 1e-9 * Math.abs(outer - value) + 1e-15 * Math.abs(outer);
}
