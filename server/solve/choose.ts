/**
 * The best combinations of candidates: one for each slot, so that all claims hold and an objective
 * is least. Branch and bound: a claim is tried as soon as the slots it rests on are filled, and a
 * branch is left when even the best it could still reach is not among the best found.
 *
 * Must not know: what is being chosen.
 */
import { coneOf } from "./adjoint";
import { CLOSE, evaluate } from "./evaluate";
import { type Execution, executionOf } from "./execution";
import type { Condition } from "./expression";
import { magnitude, residual } from "./form";
import { carryOut, prepare, type ReplayStep } from "./replay";
import { leftMinusRight, roomToNothing } from "./room";
import { quantityValue } from "./sensitivity";
import { solve, solveOverlay, withGivens } from "./solve";
import type { Claim, GivenNumber, Quantity, Solution, System } from "./system";
import { conditionTapeOf, type Tape, tapeOf } from "./tape";
import { verdictOf } from "./verdict";

export interface Candidate {
  readonly givens: readonly { readonly variable: number; readonly given: GivenNumber }[];
}

export interface ChoiceSlot {
  readonly candidates: readonly Candidate[];
}

export interface ChoiceProblem {
  readonly system: System;
  readonly slots: readonly ChoiceSlot[];
  /** None may fail; what some candidate says too little for is not judged, and ranks behind. */
  readonly claims: readonly Claim[];
  /** At which level they are judged: as drawn unless said. */
  readonly level?: "nominal" | "rss" | "worst";
  /** To be as small as possible; without one, combinations come in the order of the candidates. */
  readonly objective?: Quantity;
  /** How many combinations are wanted, best first; 5 unless said. */
  readonly keep?: number;
}

export interface ChoiceControl {
  readonly cancelled?: () => boolean;
  /** Share of the combinations dealt with, 0 to 1. */
  readonly progress?: (share: number) => void;
}

export interface Choice {
  /** For each slot the number of its candidate. */
  readonly picks: readonly number[];
  readonly objective: number | undefined;
  /** Numbers of the claims that could not be judged with it. */
  readonly unjudged: readonly number[];
}

export interface ChoiceAnswer {
  readonly choices: readonly Choice[];
  /** For each claim the combinations it ruled out, those counted that were never looked at singly. */
  readonly ruledOut: readonly number[];
  /** Where nothing fits: the claim that rules out most. */
  readonly blocking: number | undefined;
  /** False where the search was cancelled. */
  readonly complete: boolean;
}

/** How long the search keeps the thread before it lets others work, in milliseconds. */
const TURN = 8;

export async function choose(
  problem: ChoiceProblem,
  control: ChoiceControl = {},
): Promise<ChoiceAnswer> {
  const keep = Math.max(1, Math.floor(problem.keep ?? 5));
  const found: Choice[] = [];
  const ruledOut = problem.claims.map(() => 0);
  let complete = true;
  const groups = shapeGroups(problem.slots);
  for (const [number, candidates] of groups.entries()) {
    const search = new Search(problem, candidates, keep, found, ruledOut);
    let since = Date.now();
    while (complete && !search.done) {
      search.advance(256);
      if (Date.now() - since < TURN) continue;
      control.progress?.((number + search.share) / groups.length);
      await new Promise<void>((resume) => setTimeout(resume, 0));
      if (control.cancelled?.() === true) complete = false;
      since = Date.now();
    }
  }
  const choices = found.slice(0, keep);
  const most = Math.max(0, ...ruledOut);
  return {
    choices,
    ruledOut,
    blocking: choices.length === 0 && most > 0 ? ruledOut.indexOf(most) : undefined,
    complete,
  };
}

/**
 * Candidates of a slot that set the same variables leave the same plan; combinations of such groups
 * are searched one after another.
 */
function shapeGroups(slots: readonly ChoiceSlot[]): (readonly number[])[][] {
  let groups: (readonly number[])[][] = [[]];
  for (const slot of slots) {
    const shapes = new Map<string, number[]>();
    slot.candidates.forEach((candidate, at) => {
      const shape = candidate.givens
        .map(({ variable }) => variable)
        .sort((a, b) => a - b)
        .join();
      const members = shapes.get(shape);
      if (members === undefined) shapes.set(shape, [at]);
      else members.push(at);
    });
    groups = groups.flatMap((group) => [...shapes.values()].map((members) => [...group, members]));
  }
  return groups;
}

interface Trial {
  /** Number of the claim, -1 for a relation that must not come to contradict. */
  readonly claim: number;
  readonly slots: readonly number[];
  readonly holds: () => boolean;
  readonly memory: Int8Array | undefined;
}

/** A summand of the objective. */
interface Term {
  readonly sign: number;
  readonly tape: Tape;
  readonly variables: readonly number[];
  readonly slots: readonly number[];
  /** Least value it can have, whatever is picked. */
  least: number;
}

const MEMORY = 1 << 20;

class Search {
  done = false;
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
  private readonly termsAt: Term[][] = [];
  /** Least the terms can add that are not settled at a place yet. */
  private readonly leastAfter: number[] = [];
  private readonly sums: number[] = [];
  private readonly slotsOfVariable: Map<number, readonly number[]>;
  private readonly next: number[];
  private readonly picks: number[];
  private readonly below: number[] = [];
  private place = 0;

  constructor(
    private readonly problem: ChoiceProblem,
    private readonly candidates: readonly (readonly number[])[],
    private readonly keep: number,
    private readonly found: Choice[],
    private readonly ruledOut: number[],
  ) {
    const { slots } = problem;
    this.next = slots.map(() => 0);
    this.picks = slots.map((_, slot) => candidates[slot]?.[0] ?? -1);
    const givens = new Map<number, GivenNumber>();
    for (const slot of slots.keys()) {
      for (const { variable, given } of this.candidate(slot, this.picks[slot]!)) {
        givens.set(variable, given);
      }
    }
    this.base = solve(withGivens(problem.system, givens));
    this.execution = executionOf(this.base);
    this.values = this.base.values.slice();
    this.slotsOfVariable = this.influences();
    const trials = this.trials();
    this.order = this.fillingOrder(trials);
    this.placeOf = slots.map((_, slot) => this.order.indexOf(slot));
    if (slots.length === 0 || candidates.some((members) => members.length === 0)) this.done = true;
    let below = 1;
    for (let place = slots.length - 1; place >= 0; place--) {
      this.below[place] = below;
      below *= candidates[this.order[place]!]!.length;
      this.stepsAt[place] = [];
      this.trialsAt[place] = [];
      this.termsAt[place] = [];
    }
    if (this.done) return;
    this.distribute(trials);
  }

  /** Deals with up to so many nodes of the tree. */
  advance(nodes: number): void {
    for (let i = 0; i < nodes && !this.done; i++) this.step();
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
    if (!this.passes(place, slot, pick)) return;
    if (place === this.order.length - 1) this.record();
    else {
      this.place++;
      this.next[this.place] = 0;
    }
  }

  private passes(place: number, slot: number, pick: number): boolean {
    let sound = true;
    const known: (Trial | undefined)[] = [];
    for (const trial of this.trialsAt[place]!) {
      const remembered = trial.memory?.[this.keyOf(trial.slots)] ?? 0;
      if (remembered < 0) {
        this.ruleOut(trial, place);
        sound = false;
      } else if (remembered === 0) known.push(trial);
    }
    if (!sound) return false;
    for (const { variable, given } of this.candidate(slot, pick)) {
      this.values[variable] = given.value;
    }
    for (const step of this.stepsAt[place]!) carryOut(step, this.values, this.base.values);
    for (const trial of known) {
      if (trial === undefined) continue;
      const holds = trial.holds();
      if (trial.memory !== undefined) trial.memory[this.keyOf(trial.slots)] = holds ? 1 : -1;
      if (holds) continue;
      this.ruleOut(trial, place);
      sound = false;
    }
    if (!sound) return false;
    let sum = place === 0 ? 0 : this.sums[place - 1]!;
    for (const term of this.termsAt[place]!) sum += this.valueOfTerm(term);
    this.sums[place] = sum;
    // What was judged only in part gives way to what is judged whole, whatever it comes to.
    const last = this.found[this.keep - 1];
    const worst = last === undefined || last.unjudged.length > 0 ? undefined : last.objective;
    if (this.problem.objective === undefined) return last === undefined || last.unjudged.length > 0;
    if (worst === undefined) return !Number.isNaN(sum);
    const slack = CLOSE * Math.abs(worst);
    return sum + this.leastAfter[place]! <= worst + slack;
  }

  private ruleOut(trial: Trial, place: number): void {
    if (trial.claim >= 0) this.ruledOut[trial.claim]! += this.below[place]!;
  }

  private record(): void {
    const { objective } = this.problem;
    const quick =
      objective === undefined
        ? 0
        : evaluate(tapeOf(objective.expression), this.values, objective.variables);
    if (!Number.isFinite(quick)) return;
    const last = this.found[this.keep - 1];
    const picks = this.picks.slice();
    if (last !== undefined && last.unjudged.length === 0) {
      const beyond = quick - (last.objective ?? 0);
      const slack = CLOSE * Math.abs(quick);
      // Of equals those whose candidates stand earlier are kept.
      if (beyond > slack) return;
      if (beyond >= -slack && comparePicks({ picks }, last) > 0) return;
    }
    const verified = this.verified(picks);
    if (verified?.value === undefined) return;
    const { value, unjudged } = verified;
    this.found.push({ picks, objective: objective === undefined ? undefined : value, unjudged });
    this.found.sort(
      (one, other) =>
        one.unjudged.length - other.unjudged.length ||
        (one.objective ?? 0) - (other.objective ?? 0) ||
        comparePicks(one, other),
    );
    if (this.found.length > this.keep) this.found.length = this.keep;
  }

  /** The objective by a fresh solution, undefined where that does not agree that all is well. */
  private verified(
    picks: readonly number[],
  ): { readonly value: number | undefined; readonly unjudged: readonly number[] } | undefined {
    const { problem } = this;
    const givens = new Map<number, GivenNumber>();
    picks.forEach((pick, slot) => {
      for (const { variable, given } of this.candidate(slot, pick)) givens.set(variable, given);
    });
    const solution = solveOverlay(this.base, { givens });
    const parties = solution.conflicts.flatMap((conflict) => conflict.givens);
    if (parties.some(({ variable }) => givens.has(variable))) return undefined;
    const unjudged: number[] = [];
    for (const [number, claim] of problem.claims.entries()) {
      const verdict = verdictOf(solution, claim);
      if (verdict.nominal === "fails" || verdict[problem.level ?? "nominal"] === "fails") {
        return undefined;
      }
      if (verdict.nominal === "unknown") unjudged.push(number);
    }
    const { objective } = problem;
    return { value: objective === undefined ? 0 : quantityValue(solution, objective), unjudged };
  }

  private candidate(slot: number, pick: number): Candidate["givens"] {
    return this.problem.slots[slot]!.candidates[pick]?.givens ?? [];
  }

  private keyOf(slots: readonly number[]): number {
    let key = 0;
    for (const slot of slots) {
      key = key * this.problem.slots[slot]!.candidates.length + this.picks[slot]!;
    }
    return key;
  }

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
      const slots = this.unionOf(variables, this.slotsOfVariable);
      let size = 1;
      for (const slot of slots) size *= this.problem.slots[slot]!.candidates.length;
      return { claim, slots, holds, memory: size <= MEMORY ? new Int8Array(size) : undefined };
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

  /** Sorts steps, trials and terms to the place at which all they rest on is picked. */
  private distribute(trials: readonly Trial[]): void {
    const last = (slots: readonly number[]): number =>
      slots.reduce((place, slot) => Math.max(place, this.placeOf[slot]!), 0);
    // Only what claims, objective and left-over relations rest on is worked out.
    const { objective, claims } = this.problem;
    const asked = claims.flatMap((claim) => claim.variables).concat(objective?.variables ?? []);
    for (const equation of this.execution.checks) {
      asked.push(...this.base.system.equations[equation]!.variables);
    }
    for (const at of coneOf(this.execution, asked)) {
      const step = this.execution.steps[at]!;
      const slots = this.slotsOfVariable.get(step.variables[0]!);
      if (slots === undefined) continue;
      this.stepsAt[last(slots)]!.push(prepare(this.execution, step));
    }
    for (const trial of trials) this.trialsAt[last(trial.slots)]!.push(trial);
    const terms = this.terms();
    for (const term of terms) {
      this.termsAt[last(term.slots)]!.push(term);
      if (term.slots.length === 1) term.least = this.leastOf(term, term.slots[0]!);
    }
    for (let place = 0; place < this.order.length; place++) {
      let least = 0;
      for (let later = place + 1; later < this.order.length; later++) {
        for (const term of this.termsAt[later]!) least += term.least;
      }
      this.leastAfter[place] = least;
    }
  }

  private valueOfTerm(term: Term): number {
    return term.sign * evaluate(term.tape, this.values, term.variables);
  }

  /** Least value of a summand that rests on one slot alone. */
  private leastOf(term: Term, slot: number): number {
    const steps = this.stepsAt
      .flat()
      .filter(({ step }) => this.slotsOfVariable.get(step.variables[0]!)?.join() === String(slot));
    let least = Number.POSITIVE_INFINITY;
    for (const pick of this.candidates[slot]!) {
      for (const { variable, given } of this.candidate(slot, pick)) {
        this.values[variable] = given.value;
      }
      for (const step of steps) carryOut(step, this.values, this.base.values);
      const value = this.valueOfTerm(term);
      if (Number.isFinite(value)) least = Math.min(least, value);
    }
    return Number.isFinite(least) ? least : Number.NEGATIVE_INFINITY;
  }

  /** The objective as a sum, followed through the equations that yield its variables. */
  private terms(): Term[] {
    const { objective } = this.problem;
    const terms: Term[] = [];
    if (objective === undefined) return terms;
    const { stepOf, steps, network } = this.execution;
    // A list of what is still to be taken apart, so that a long sum does not exhaust the stack.
    const rest = [
      { expression: objective.expression, variables: objective.variables, sign: 1, depth: 40 },
    ];
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
        const variable = variables[expression.index]!;
        const step = steps[stepOf[variable]!];
        if (step !== undefined && step.variables.length === 1) {
          const equation = network.system.equations[step.equations[0]!]!;
          const slot = equation.variables.indexOf(variable);
          const branches = network.facts[step.equations[0]!]!.slots[slot]!.branches;
          if (branches !== undefined && !branches.check) {
            const inner = branches.expressions[0]!;
            rest.push({ expression: inner, variables: equation.variables, sign, depth: depth - 1 });
            continue;
          }
        }
      }
      const tape = tapeOf(expression);
      const slots = this.unionOf(
        [...tape.slotIndices].map((slot) => variables[slot]!),
        this.slotsOfVariable,
      );
      terms.push({ sign, tape, variables, slots, least: Number.NEGATIVE_INFINITY });
    }
    return terms;
  }
}

/** A claim that speaks of a case only holds wherever the case does not. */
function wholeCondition({ condition, when }: Claim): Condition {
  return when === undefined
    ? condition
    : { op: "or", left: { op: "not", of: when }, right: condition };
}

type Picks = Pick<Choice, "picks">;

function comparePicks(one: Picks, other: Picks): number {
  const at = one.picks.findIndex((pick, slot) => pick !== other.picks[slot]);
  return at < 0 ? 0 : one.picks[at]! - other.picks[at]!;
}
