/**
 * One walk through the combinations of candidates that leave the same plan, slot by slot.
 *
 * Where equations hold only in some cases, the walk is along the case of its first combination; of a
 * combination with another case nothing is known before it is solved by itself.
 *
 * Must not know: what is being chosen.
 */
import { goOn } from "../keep/patience";
import { coneOf } from "./adjoint";
import { ChoiceAims } from "./choice-aims";
import type { Candidate, ChoiceProblem, Nearest } from "./choose";
import { CLOSE, evaluate } from "./evaluate";
import { type Execution, executionOf } from "./execution";
import type { Condition } from "./expression";
import { magnitude, residual } from "./form";
import { conditionsOf } from "./modes";
import type { Ranking } from "./ranking";
import { carryOut, prepare, type ReplayStep } from "./replay";
import { leftMinusRight, roomToNothing } from "./room";
import { quantityValue } from "./sensitivity";
import { solve, solveOverlay } from "./solve";
import type { Claim, FitLevel, GivenNumber, Quantity, Solution, Verdict } from "./system";
import { conditionTapeOf, tapeOf } from "./tape";
import { marginOf, verdictOf } from "./verdict";
import { withGivens } from "./with-givens";

/** What a walk looks for: what fits, or what comes nearest to it. */
export type Goal =
  | {
      readonly ranking: Ranking;
      readonly ruledOut: number[];
      /** Gets the names of what there were too few of. */
      readonly short: Set<string>;
    }
  | { readonly nearest: Nearest };

interface Trial {
  /** Number of the claim, -1 for a relation that must not come to contradict. */
  readonly claim: number;
  readonly slots: readonly number[];
  readonly holds: () => boolean;
}

/** So many combinations are solved by themselves. */
const MOST_SOLVED = 20_000;

export class ChoiceSearch {
  done = false;
  /** It ended before all was looked at. */
  endedEarly = false;
  /** Share of the combinations dealt with. */
  share = 0;
  private readonly base: Solution;
  private readonly execution: Execution;
  private readonly values: Float64Array;
  /** Slots in the order in which they are filled. */
  private readonly order: readonly number[];
  private readonly placeOf: readonly number[];
  private readonly stepsAt: ReplayStep[][] = [];
  private readonly trialsAt: Trial[][] = [];
  /** Whether the cases of the walk still hold, by place. */
  private readonly casesAt: (() => boolean)[][] = [];
  private readonly aims: ChoiceAims | undefined;
  private readonly bound: Float64Array;
  private readonly slotsOfVariable: ReadonlyMap<number, readonly number[]>;
  private readonly next: number[];
  private readonly picks: number[];
  private readonly below: number[] = [];
  /** Claims that fail, and whether the cases are others, with the slots filled up to a place. */
  private readonly failingAt: number[] = [];
  private readonly otherCaseAt: boolean[] = [];
  private readonly margins: readonly (Quantity | undefined)[];
  private readonly level: FitLevel;
  /** From this place on it is settled whether a combination is in the walk's own case. */
  private caseSettled = 0;
  private place = 0;
  private solved = 0;

  constructor(
    private readonly problem: ChoiceProblem,
    private readonly candidates: readonly (readonly number[])[],
    private readonly goal: Goal,
  ) {
    const { slots } = problem;
    this.level = problem.level ?? "nominal";
    this.margins = "nearest" in goal ? problem.claims.map(marginOf) : [];
    this.next = slots.map(() => 0);
    this.picks = slots.map((_, slot) => candidates[slot]?.[0] ?? -1);
    this.base = solve(withGivens(problem.system, this.givensOf(this.picks)));
    this.execution = executionOf(this.base);
    this.values = this.base.values.slice();
    this.slotsOfVariable = this.influences();
    const trials = this.trials();
    this.order = this.fillingOrder(trials);
    this.placeOf = slots.map((_, slot) => this.order.indexOf(slot));
    this.bound = new Float64Array(problem.aims?.length ?? 0);
    if (slots.length === 0 || candidates.some((members) => members.length === 0)) {
      this.done = true;
      return;
    }
    let below = 1;
    for (let place = slots.length - 1; place >= 0; place--) {
      this.below[place] = below;
      below *= candidates[this.order[place]!]!.length;
      this.stepsAt[place] = [];
      this.trialsAt[place] = [];
      this.casesAt[place] = [];
    }
    this.distribute(trials);
    this.aims = new ChoiceAims(
      {
        execution: this.execution,
        values: this.values,
        slotsOf: (variables) => this.unionOf(variables, this.slotsOfVariable),
        placeOf: this.placeOf,
        eachOf: (slot, see) => this.eachOf(slot, see),
      },
      "ranking" in goal ? (problem.aims ?? []) : [],
    );
  }

  /** Deals with up to so many nodes of the tree; gives that it did. */
  advance(nodes: number): true {
    for (let i = 0; i < nodes && !this.done; i++) {
      goOn();
      this.step();
    }
    return true;
  }

  private step(): void {
    const { place } = this;
    const slot = this.order[place]!;
    const members = this.candidates[slot]!;
    if (this.next[place]! >= members.length) {
      this.place--;
      if (this.place < 0) {
        this.done = true;
        this.share = 1;
      }
      return;
    }
    const pick = members[this.next[place]!++]!;
    this.picks[slot] = pick;
    if (place === 0) this.share = (this.next[0]! - 1) / members.length;
    if (!this.isThere(place, slot) || !this.passes(place, slot, pick)) return;
    if (place < this.order.length - 1) {
      this.place++;
      this.next[this.place] = 0;
      return;
    }
    this.record();
    if (this.solved < MOST_SOLVED) return;
    this.done = true;
    this.endedEarly = true;
  }

  /** Whether there are enough of what was picked for the slots up to a place. */
  private isThere(place: number, slot: number): boolean {
    const stock = this.stockOf(slot);
    if (stock === undefined) return true;
    let taken = 0;
    for (let at = 0; at <= place; at++) {
      const other = this.stockOf(this.order[at]!);
      if (other?.of === stock.of) taken += other.takes ?? 1;
    }
    if (taken <= stock.count) return true;
    if ("short" in this.goal) this.goal.short.add(stock.of);
    return false;
  }

  private stockOf(slot: number): Candidate["stock"] {
    return this.problem.slots[slot]!.candidates[this.picks[slot]!]?.stock;
  }

  private passes(place: number, slot: number, pick: number): boolean {
    this.otherCaseAt[place] = place > 0 && this.otherCaseAt[place - 1]!;
    this.failingAt[place] = place === 0 ? 0 : this.failingAt[place - 1]!;
    for (const { variable, given } of this.problem.slots[slot]!.candidates[pick]?.givens ?? []) {
      this.values[variable] = given.value;
    }
    for (const step of this.stepsAt[place]!) carryOut(step, this.values, this.base.values);
    if (!this.casesAt[place]!.every((holds) => holds())) this.otherCaseAt[place] = true;
    if (this.otherCaseAt[place]) return true;
    this.aims?.at(place, this.bound);
    if (place < this.caseSettled) return true;
    let sound = true;
    for (const trial of this.trialsAt[place]!) {
      if (!trial.holds() && !this.tolerates(trial, place)) sound = false;
    }
    if (!sound) return false;
    if ("nearest" in this.goal) return this.goal.nearest.admits(this.failingAt[place]!);
    return this.goal.ranking.admits(this.bound, (slot) => this.leastPick(slot, place));
  }

  /** The pick of a slot, or the first that it can get where it is filled after a place. */
  private leastPick(slot: number, place: number): number {
    return this.placeOf[slot]! <= place ? this.picks[slot]! : this.candidates[slot]![0]!;
  }

  /** Notes a trial that does not hold; false where nothing below can be of use. */
  private tolerates({ claim }: Trial, place: number): boolean {
    if (claim < 0) return false;
    if ("nearest" in this.goal) {
      this.failingAt[place]!++;
      return true;
    }
    this.goal.ruledOut[claim]! += this.below[place]!;
    return false;
  }

  /** Takes a combination in: what fits as a fresh solution judges it, near misses along the plan. */
  private record(): void {
    if ("nearest" in this.goal && !this.otherCaseAt[this.order.length - 1]) {
      const { nearest } = this.goal;
      const misses = this.problem.claims.map((claim, number) => this.missOf(claim, number));
      const failing = [...misses.keys()].filter((number) => misses[number] !== undefined);
      const shortfall = misses.reduce<number>((sum, miss) => sum + (miss ?? 0), 0);
      const miss = { picks: this.picks.slice(), failing, shortfall };
      if (this.level === "nominal") {
        if (failing.length > 0) nearest.add(miss);
        return;
      }
      // With its tolerances it fails as many claims at least, and misses by as much.
      if (!nearest.keeps(miss)) return;
    }
    this.solved++;
    this.judge();
  }

  /** What a claim misses by beside the size of its figures; nothing where it does not fail. */
  private missOf(claim: Claim, number: number): number | undefined {
    const { values } = this;
    const tape = conditionTapeOf(wholeCondition(claim));
    if (evaluate(tape, values, claim.variables) !== 0) return undefined;
    const margin = this.margins[number];
    if (margin === undefined) return 1;
    const by = Math.abs(evaluate(tapeOf(margin.expression), values, margin.variables));
    return by / sizeOf(claim, values);
  }

  private judge(): void {
    const { problem, goal } = this;
    const picks = this.picks.slice();
    const givens = this.givensOf(picks);
    const solution = solveOverlay(this.base, { givens });
    const parties = solution.conflicts.flatMap((conflict) => conflict.givens);
    if (parties.some(({ variable }) => givens.has(variable))) return;
    const unjudged: number[] = [];
    const failing: number[] = [];
    let shortfall = 0;
    for (const [number, claim] of problem.claims.entries()) {
      const verdict = verdictOf(solution, claim);
      if (verdict.nominal === "fails" || verdict[this.level] === "fails") {
        failing.push(number);
        const size = sizeOf(claim, solution.values);
        shortfall += Math.max(0, missedBy(verdict, this.level) ?? size) / size;
      } else if (verdict.nominal === "unknown") unjudged.push(number);
    }
    if ("nearest" in goal) {
      if (failing.length > 0) goal.nearest.add({ picks, failing, shortfall });
      return;
    }
    if (failing.length > 0) {
      // Of other cases nothing was ruled out on the way.
      for (const claim of failing) goal.ruledOut[claim]!++;
      return;
    }
    if (problem.accepts?.(picks) === false) return;
    const aims = (problem.aims ?? []).map((aim) => quantityValue(solution, aim));
    goal.ranking.add({ picks, aims, unjudged });
  }

  private givensOf(picks: readonly number[]): Map<number, GivenNumber> {
    const givens = new Map<number, GivenNumber>();
    for (const [slot, pick] of picks.entries()) {
      for (const { variable, given } of this.candidate(slot, pick)) givens.set(variable, given);
    }
    return givens;
  }

  private candidate(slot: number, pick: number): Candidate["givens"] {
    return this.problem.slots[slot]!.candidates[pick]?.givens ?? [];
  }

  // ── what is tried where ──

  /** Which slots each variable of the plan rests on, by structure. */
  private influences(): Map<number, readonly number[]> {
    const { slots } = this.problem;
    const found = new Map<number, readonly number[]>();
    for (const slot of slots.keys()) {
      for (const { variable } of this.candidate(slot, this.picks[slot]!)) {
        found.set(variable, [...(found.get(variable) ?? []), slot]);
      }
    }
    for (const step of this.execution.steps) {
      const own = this.unionOf(
        step.equations.flatMap((equation) => this.base.system.equations[equation]!.variables),
        found,
      );
      if (own.length > 0) for (const variable of step.variables) found.set(variable, own);
    }
    return found;
  }

  private unionOf(
    variables: readonly number[],
    slotsOf: ReadonlyMap<number, readonly number[]>,
  ): readonly number[] {
    let union: Set<number> | undefined;
    for (const variable of variables) {
      const slots = slotsOf.get(variable);
      if (slots === undefined) continue;
      union ??= new Set();
      for (const slot of slots) union.add(slot);
    }
    return union === undefined ? [] : [...union].sort((a, b) => a - b);
  }

  /** The claims, and the relations left over that picks have a part in. */
  private trials(): Trial[] {
    const { execution, values } = this;
    const { network, checks } = execution;
    const make = (claim: number, variables: readonly number[], holds: () => boolean): Trial => {
      return { claim, slots: this.unionOf(variables, this.slotsOfVariable), holds };
    };
    const trials = this.problem.claims.map((claim, number) => {
      const tape = conditionTapeOf(wholeCondition(claim));
      // What cannot be told rules nothing out.
      return make(number, claim.variables, () => evaluate(tape, values, claim.variables) !== 0);
    });
    for (const equation of checks) {
      const { variables } = network.system.equations[equation]!;
      const facts = network.facts[equation]!;
      const rest = leftMinusRight(execution, equation);
      const trial = make(-1, variables, () => {
        const gap = residual(facts, values, variables);
        if (Math.abs(gap) <= CLOSE * magnitude(facts)) return true;
        return roomToNothing({ ...execution, values }, rest, gap).answer === "does";
      });
      if (trial.slots.length > 0) trials.push(trial);
    }
    return trials;
  }

  /** Fills first what settles most trials, and of equals the slot with the fewest candidates. */
  private fillingOrder(trials: readonly Trial[]): number[] {
    const left = new Set(this.problem.slots.keys());
    const order: number[] = [];
    while (left.size > 0) {
      let best = -1;
      let bestScore = Number.NEGATIVE_INFINITY;
      for (const slot of left) {
        const settled = trials.filter(
          (trial) =>
            trial.slots.includes(slot) && trial.slots.every((s) => s === slot || !left.has(s)),
        ).length;
        const size = this.candidates[slot]!.length;
        const score = settled - size / 1e6;
        if (score > bestScore) {
          best = slot;
          bestScore = score;
        }
      }
      order.push(best);
      left.delete(best);
    }
    return order;
  }

  /** Sorts steps, cases and trials to the place at which all they rest on is picked. */
  private distribute(trials: readonly Trial[]): void {
    const last = (slots: readonly number[]): number =>
      slots.reduce((place, slot) => Math.max(place, this.placeOf[slot]!), 0);
    const { aims = [], claims } = this.problem;
    const { equations } = this.base.system;
    const conditional = conditionsOf(this.problem.system);
    // Only what claims, aims, cases and left-over relations rest on is worked out.
    const asked = [...claims, ...aims, ...conditional].flatMap(({ variables }) => variables);
    for (const equation of this.execution.checks) asked.push(...equations[equation]!.variables);
    for (const at of coneOf(this.execution, asked)) {
      const step = this.execution.steps[at]!;
      const slots = this.slotsOfVariable.get(step.variables[0]!);
      if (slots === undefined) continue;
      this.stepsAt[last(slots)]!.push(prepare(this.execution, step));
    }
    for (const { when, variables } of conditional) {
      const tape = conditionTapeOf(when ?? { op: "always", value: true });
      const spoken = [...tape.slotIndices].map((slot) => variables[slot]!);
      const truth = evaluate(tape, this.base.values, variables);
      const place = last(this.unionOf(spoken, this.slotsOfVariable));
      this.casesAt[place]!.push(() => evaluate(tape, this.values, variables) === truth);
      this.caseSettled = Math.max(this.caseSettled, place);
    }
    // In another case other picks may decide them.
    for (const trial of trials) {
      this.trialsAt[Math.max(last(trial.slots), this.caseSettled)]!.push(trial);
    }
  }

  private eachOf(slot: number, see: () => void): void {
    const own = this.stepsAt
      .flat()
      .filter(({ step }) => this.slotsOfVariable.get(step.variables[0]!)?.join() === String(slot));
    for (const pick of this.candidates[slot]!) {
      for (const { variable, given } of this.candidate(slot, pick)) {
        this.values[variable] = given.value;
      }
      for (const step of own) carryOut(step, this.values, this.base.values);
      see();
    }
  }
}

/** How large the largest figure is that a claim speaks of. */
function sizeOf({ variables }: Claim, values: Float64Array): number {
  return Math.max(1e-9, ...variables.map((variable) => Math.abs(values[variable]!) || 0));
}

/** A claim that speaks of a case only holds wherever the case does not. */
function wholeCondition({ condition, when }: Claim): Condition {
  return when === undefined
    ? condition
    : { op: "or", left: { op: "not", of: when }, right: condition };
}

/** What is missing of a margin once tolerances have taken their part; undefined where nothing is compared. */
function missedBy({ margin, spread }: Verdict, level: FitLevel): number | undefined {
  if (margin === undefined) return undefined;
  if (level === "nominal" || spread === undefined) return -margin;
  return (level === "worst" ? spread.worstBelow : spread.rss - spread.shift) - margin;
}
