/**
 * The best combinations of candidates: one for each slot, so that all claims hold and what is aimed at
 * is least. Branch and bound: a claim is tried as soon as the slots it rests on are filled, and a
 * branch is left when even the best it could still reach is not among the best found. Where nothing
 * fits, the combinations that fail the fewest claims.
 *
 * Must not know: what is being chosen.
 */
import { inTime } from "../keep/patience";
import { ChoiceSearch } from "./choice-search";
import { byRank, type Choice, comparePicks, Ranking } from "./ranking";
import type { Claim, FitLevel, GivenNumber, Quantity, System } from "./system";

export type { Choice } from "./ranking";

export interface Candidate {
  readonly givens: readonly { readonly variable: number; readonly given: GivenNumber }[];
  /** There are so many of what it is, and a pick takes so many of them, 1 unless said. */
  readonly stock?: { readonly of: string; readonly count: number; readonly takes?: number };
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
  readonly level?: FitLevel;
  /**
   * Each to be as small as possible; with several, all combinations are found that no other one beats
   * in every aim. Without one, combinations come in the order of the candidates.
   */
  readonly aims?: readonly Quantity[];
  /** How many combinations are wanted, best first; 5 unless said. */
  readonly keep?: number;
  /** A last word on a combination that fits. */
  readonly accepts?: (picks: readonly number[]) => boolean;
}

export interface ChoiceControl {
  readonly cancelled?: () => boolean;
  /** Share of the combinations dealt with, 0 to 1. */
  readonly progress?: (share: number) => void;
}

/** A combination that does not fit. */
export interface NearMiss {
  readonly picks: readonly number[];
  /** Numbers of the claims that fail with it. */
  readonly failing: readonly number[];
  /** How much they miss by, each beside its size, summed up. */
  readonly shortfall: number;
}

export interface ChoiceAnswer {
  readonly choices: readonly Choice[];
  /** For each claim the combinations it ruled out, those counted that were never looked at singly. */
  readonly ruledOut: readonly number[];
  /** Where nothing fits: the claim that rules out most. */
  readonly blocking: number | undefined;
  /** Where nothing fits: the combinations that fail the fewest claims, of these those that miss least. */
  readonly nearest: readonly NearMiss[];
  /** Of which there were too few for some combination. */
  readonly short: readonly string[];
  /** False where the search was cancelled, or ended before all was looked at. */
  readonly complete: boolean;
}

/** How long the search keeps the thread before it lets others work, in milliseconds. */
const TURN = 8;
/** So many near misses are told. */
const NEAREST = 3;

export async function choose(
  problem: ChoiceProblem,
  control: ChoiceControl = {},
): Promise<ChoiceAnswer> {
  const ranking = new Ranking(problem.aims?.length ?? 0, keepOf(problem));
  const ruledOut = problem.claims.map(() => 0);
  const short = new Set<string>();
  const groups = shapeGroups(problem.slots);
  const run = async (searchOf: (group: readonly (readonly number[])[]) => ChoiceSearch) => {
    let complete = true;
    let since = Date.now();
    for (const [number, candidates] of groups.entries()) {
      const search = inTime(() => searchOf(candidates), undefined);
      if (search === undefined) return false;
      while (complete && !search.done) {
        if (!inTime(() => search.advance(256), false)) return false;
        if (Date.now() - since < TURN) continue;
        control.progress?.((number + search.share) / groups.length);
        await new Promise<void>((resume) => setTimeout(resume, 0));
        if (control.cancelled?.() === true) complete = false;
        since = Date.now();
      }
      complete &&= !search.endedEarly;
    }
    return complete;
  };
  let complete = await run(
    (group) => new ChoiceSearch(problem, group, { ranking, ruledOut, short }),
  );
  complete &&= !ranking.cut;
  const nearest = new Nearest(NEAREST);
  if (ranking.found.length === 0 && complete && problem.claims.length > 0) {
    complete = await run((group) => new ChoiceSearch(problem, group, { nearest }));
  }
  const choices = ranking.found;
  const most = Math.max(0, ...ruledOut);
  return {
    choices,
    ruledOut,
    blocking: choices.length === 0 && most > 0 ? ruledOut.indexOf(most) : undefined,
    nearest: nearest.found,
    short: [...short].sort(),
    complete,
  };
}

/** Answers of searches among the same slots put together. */
export function bestOf(
  choices: readonly Choice[],
  { aims, keep }: Pick<ChoiceProblem, "aims" | "keep">,
): readonly Choice[] {
  const ranking = new Ranking(aims?.length ?? 0, keepOf({ keep }));
  for (const choice of [...choices].sort(byRank)) ranking.add(choice);
  return ranking.found;
}

/** The near misses found so far, the nearest first. */
export class Nearest {
  readonly found: NearMiss[] = [];

  constructor(private readonly keep: number) {}

  /** Whether one that fails so many claims at least may be among them. */
  admits(failing: number): boolean {
    const last = this.found[this.keep - 1];
    return last === undefined || failing <= last.failing.length;
  }

  /** Whether it is nearer than the last of those that are kept. */
  keeps(miss: NearMiss): boolean {
    const last = this.found[this.keep - 1];
    return last === undefined || byNearness(miss, last) < 0;
  }

  add(miss: NearMiss): void {
    this.found.push(miss);
    this.found.sort(byNearness);
    if (this.found.length > this.keep) this.found.length = this.keep;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function byNearness(one: NearMiss, other: NearMiss): number {
  return (
    one.failing.length - other.failing.length ||
    one.shortfall - other.shortfall ||
    comparePicks(one, other)
  );
}

function keepOf({ keep }: Pick<ChoiceProblem, "keep">): number {
  return Math.max(1, Math.floor(keep ?? 5));
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
