/**
 * Which tolerance to tighten so that a claim that holds as drawn holds with its tolerances too: of each
 * by itself the widest with which it does, those that have to be tightened least first; where none does
 * alone, all of them by one share.
 *
 *     tightenFor(solution, claim)   →   [{ changes: [{ variable: 3, share: 0.4 }] }]
 *
 * Must not know: what a tolerance costs, wording.
 */

import { failingLevel } from "./mend";
import { givensOf } from "./movers";
import { passFor } from "./ranges";
import { solveOverlay } from "./solve";
import type { Claim, FitLevel, GivenNumber, Solution } from "./system";
import { marginOf, verdictOf } from "./verdict";

export interface Tightening {
  /** How much of its tolerance each keeps, 0 to 1. */
  readonly share: number;
  readonly variables: readonly number[];
  readonly level: FitLevel;
}

/** Shares are told apart this finely. */
const ROUNDS = 10;
/** More tolerances than this are not tried one by one. */
const MOST = 24;
/** A tolerance cut to less than this share is as good as none. */
const LEAST = 1 / 16;

export function tightenFor(
  solution: Solution,
  claim: Claim,
  mayTighten: (variable: number) => boolean,
  /** A share near to another that gives a rounder tolerance. */
  rounded: (variable: number, share: number) => number = (_, share) => share,
): readonly Tightening[] {
  const level = failingLevel(verdictOf(solution, claim));
  const margin = marginOf(claim);
  if (level === undefined || level === "nominal" || margin === undefined) return [];
  const own = givensOf(passFor(solution, margin.variables).inputs).filter(mayTighten);
  const widest = (variables: readonly number[]): Tightening[] => {
    const holds = (share: number): boolean =>
      verdictOf(tightened(solution, variables, share), claim)[level] === "holds";
    if (!holds(LEAST)) return [];
    let [low, high] = [LEAST, 1];
    for (let round = 0; round < ROUNDS; round++) {
      const middle = (low + high) / 2;
      if (holds(middle)) low = middle;
      else high = middle;
    }
    const [only] = variables;
    const round = only === undefined || variables.length > 1 ? low : rounded(only, low);
    const share = round > low && round < 1 && holds(round) ? round : low;
    return [{ share, variables, level }];
  };
  const alone = own.slice(0, MOST).flatMap((variable) => widest([variable]));
  const found = alone.length > 0 || own.length < 2 ? alone : widest(own);
  return found.sort((one, other) => other.share - one.share);
}

/** The same with some tolerances cut to a share of themselves. */
export function tightened(
  solution: Solution,
  variables: readonly number[],
  share: number,
): Solution {
  const givens = new Map(
    variables.map((variable): [number, GivenNumber] => {
      const given = solution.system.variables[variable]!.given!;
      const { value, low, high } = given;
      return [
        variable,
        { ...given, low: value - share * (value - low), high: value + share * (high - value) },
      ];
    }),
  );
  return solveOverlay(solution, { givens });
}
