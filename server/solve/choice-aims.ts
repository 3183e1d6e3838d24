/**
 * What combinations are to come to, as sums: what is settled with the picks made so far, and the least
 * that the rest can add. A summand of one slot adds the least of its candidates; a product of several
 * is bounded by intervals over what is not picked yet.
 *
 * Must not know: which combinations there are, what is being chosen.
 */
import { evaluate } from "./evaluate";
import type { Execution } from "./execution";
import type { Expression } from "./expression";
import { loadRanges, runRanges } from "./range-run";
import type { Quantity } from "./system";
import { rangesOf, type Tape, tapeOf } from "./tape";

/** What the aims are looked at in. */
export interface AimsField {
  readonly execution: Execution;
  /** Values with the picks at hand. */
  readonly values: Float64Array;
  /** Which slots a variable rests on. */
  readonly slotsOf: (variables: readonly number[]) => readonly number[];
  /** Place at which a slot is filled. */
  readonly placeOf: readonly number[];
  /** Calls back with each candidate of a slot put into `values`, and what follows from it alone. */
  readonly eachOf: (slot: number, see: () => void) => void;
}

interface Term {
  readonly aim: number;
  readonly sign: number;
  readonly tape: Tape;
  readonly variables: readonly number[];
  readonly slots: readonly number[];
}

export class ChoiceAims {
  private readonly settledAt: Term[][] = [];
  /** Least that summands of one slot add that is not filled yet, by place and aim. */
  private readonly leastAfter: Float64Array[] = [];
  /** Summands of several slots, some of them not filled yet, by place. */
  private readonly openAfter: Term[][] = [];
  private readonly sums: Float64Array[] = [];
  private readonly low: Float64Array;
  private readonly high: Float64Array;
  private readonly known = new Set<number>();

  constructor(
    private readonly field: AimsField,
    aims: readonly Quantity[],
  ) {
    const places = field.placeOf.length;
    this.low = field.values.slice();
    this.high = field.values.slice();
    const terms = aims.flatMap((aim, number) => this.termsOf(aim, number));
    const lastOf = ({ slots }: Term): number =>
      slots.reduce((place, slot) => Math.max(place, field.placeOf[slot]!), 0);
    const least = new Map<Term, number>();
    for (const term of terms) if (term.slots.length === 1) least.set(term, this.leastOf(term));
    for (const term of terms) {
      if (term.slots.length > 1)
        for (const slot of term.tape.slotIndices) this.widen(term.variables[slot]!);
    }
    for (let place = 0; place < places; place++) {
      this.settledAt.push(terms.filter((term) => lastOf(term) === place));
      this.openAfter.push(terms.filter((term) => term.slots.length > 1 && lastOf(term) > place));
      const after = new Float64Array(aims.length);
      for (const [term, value] of least) if (lastOf(term) > place) after[term.aim]! += value;
      this.leastAfter.push(after);
      this.sums.push(new Float64Array(aims.length));
    }
  }

  /** The least that each aim can come to with the slots filled up to a place; NaN where it has no value. */
  at(place: number, bound: Float64Array): void {
    const sums = this.sums[place]!;
    if (place === 0) sums.fill(0);
    else sums.set(this.sums[place - 1]!);
    const { values } = this.field;
    for (const term of this.settledAt[place]!) {
      sums[term.aim]! += term.sign * evaluate(term.tape, values, term.variables);
    }
    for (let aim = 0; aim < bound.length; aim++) {
      bound[aim] = sums[aim]! + this.leastAfter[place]![aim]!;
    }
    for (const term of this.openAfter[place]!) bound[term.aim]! += this.rangedLeast(term, place);
  }

  /** Least value of a summand of several slots, those filled up to a place as they are. */
  private rangedLeast(term: Term, place: number): number {
    const { values, slotsOf, placeOf } = this.field;
    const kept: [number, number, number][] = [];
    for (const slot of term.tape.slotIndices) {
      const variable = term.variables[slot]!;
      if (slotsOf([variable]).some((each) => placeOf[each]! > place)) continue;
      kept.push([variable, this.low[variable]!, this.high[variable]!]);
      this.low[variable] = values[variable]!;
      this.high[variable] = values[variable]!;
    }
    const [low, high] = this.run(term.tape, term.variables);
    for (const [variable, from, to] of kept) {
      this.low[variable] = from;
      this.high[variable] = to;
    }
    return term.sign > 0 ? low : -high;
  }

  private run(tape: Tape, variables: readonly number[]): readonly [number, number] {
    if (tape.kinked) evaluate(tape, this.field.values, variables);
    loadRanges(tape, this.low, this.high, variables);
    runRanges(tape);
    const { low, high } = rangesOf(tape);
    const at = tape.results[0]!;
    const [from, to] = [low[at]!, high[at]!];
    return Number.isNaN(from) || Number.isNaN(to)
      ? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
      : [from, to];
  }

  /** All that a variable can be, whatever is picked. */
  private widen(variable: number): void {
    if (this.known.has(variable)) return;
    this.known.add(variable);
    const { slotsOf, eachOf, values, execution } = this.field;
    const slots = slotsOf([variable]);
    if (slots.length === 0) return;
    let low = Number.NEGATIVE_INFINITY;
    let high = Number.POSITIVE_INFINITY;
    if (slots.length === 1) {
      [low, high] = [high, low];
      eachOf(slots[0]!, () => {
        low = Math.min(low, values[variable]!);
        high = Math.max(high, values[variable]!);
      });
    } else {
      const found = plainStep(execution, variable);
      if (found !== undefined) {
        for (const each of found.variables) this.widen(each);
        [low, high] = this.run(tapeOf(found.expression), found.variables);
      }
    }
    this.low[variable] = Number.isNaN(low) ? Number.NEGATIVE_INFINITY : low;
    this.high[variable] = Number.isNaN(high) ? Number.POSITIVE_INFINITY : high;
  }

  /** Least value of a summand that rests on one slot alone. */
  private leastOf(term: Term): number {
    let least = Number.POSITIVE_INFINITY;
    this.field.eachOf(term.slots[0]!, () => {
      const value = term.sign * evaluate(term.tape, this.field.values, term.variables);
      if (Number.isFinite(value)) least = Math.min(least, value);
    });
    return Number.isFinite(least) ? least : Number.NEGATIVE_INFINITY;
  }

  /** An aim as a sum, followed through the equations that yield its variables. */
  private termsOf(aim: Quantity, number: number): Term[] {
    const terms: Term[] = [];
    const { execution, slotsOf } = this.field;
    // A list of what is still to be taken apart, so that a long sum does not exhaust the stack.
    const rest = [{ expression: aim.expression, variables: aim.variables, sign: 1, depth: 40 }];
    for (let part = rest.pop(); part !== undefined; part = rest.pop()) {
      const { expression, variables, sign, depth } = part;
      if (expression.op === "negate") {
        rest.push({ expression: expression.of, variables, sign: -sign, depth });
        continue;
      }
      if (expression.op === "add" || expression.op === "subtract") {
        const right = expression.op === "add" ? sign : -sign;
        rest.push({ expression: expression.left, variables, sign, depth });
        rest.push({ expression: expression.right, variables, sign: right, depth });
        continue;
      }
      if (expression.op === "slot" && depth > 0) {
        const found = plainStep(execution, variables[expression.index]!);
        if (found !== undefined) {
          rest.push({ ...found, sign, depth: depth - 1 });
          continue;
        }
      }
      const tape = tapeOf(expression);
      const slots = slotsOf([...tape.slotIndices].map((slot) => variables[slot]!));
      terms.push({ aim: number, sign, tape, variables, slots });
    }
    return terms;
  }
}

/** The formula a variable follows by, where one equation turned round yields it. */
function plainStep(
  { stepOf, steps, network }: Execution,
  variable: number,
): { readonly expression: Expression; readonly variables: readonly number[] } | undefined {
  const step = steps[stepOf[variable]!];
  if (step === undefined || step.variables.length !== 1) return undefined;
  const { variables } = network.system.equations[step.equations[0]!]!;
  const { branches } = network.facts[step.equations[0]!]!.slots[variables.indexOf(variable)]!;
  if (branches === undefined || branches.check) return undefined;
  return { expression: branches.expressions[0]!, variables };
}
