/**
 * Two changes that together make a claim hold that no single one does.
 *
 *     pairs(solution, claim, wanted, leads, "worst")   →   width + 1/8 in, offset + 1/8 in
 *
 * Must not know: which figures may be changed.
 */
import { pause } from "../keep/patience";
import { executionOf, highOf, lowOf } from "./execution";
import {
  fitOf,
  isAllowed,
  type Lead,
  noWorse,
  type Sought,
  trialOf,
  withFigures,
} from "./fit-tries";
import { quantityValue } from "./sensitivity";
import type { Claim, Fit, FitLevel, Solution } from "./system";
import { verdictOf } from "./verdict";

/** So many of the figures that move the margin are tried in pairs. */
const PAIRED = 7;
/** How many steps, further and further out. */
const FURTHER = [1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128];
/** The same from 0, which says nothing of how large a figure may be: 1, 2, 5, 10, … */
const FROM_NOTHING = [0, 1, 2, 3, 4, 5].flatMap((power) =>
  [1, 2, 5].map((digit) => digit * 10 ** power),
);
/** So many steps of a plan are carried out for it, no more. */
const MOST_WORK = 400_000;
/** Of the places of two figures that the margin speaks for, so many are solved anew, the gentlest first. */
const SOLVED = 6;

/**
 * Two figures moved together: those that help by their first step alone by the same number of steps,
 * else any two, each anywhere in its range.
 */
export function pairs(
  solution: Solution,
  claim: Claim,
  wanted: Sought,
  leads: readonly Lead[],
  level: FitLevel,
): Fit[] {
  const margin = quantityValue(solution, wanted.quantity)! - wanted.reserve;
  const search = { solution, claim, wanted, level, margin };
  const together = inStep(search, leads);
  return together.length > 0 ? together : allOver(search, leads);
}

interface Search {
  readonly solution: Solution;
  readonly claim: Claim;
  readonly wanted: Sought;
  readonly level: FitLevel;
  readonly margin: number;
}

/** By the margin it may do: what else it does has to be seen. */
function isEnough({ solution, claim, level }: Search, both: readonly Change[]): boolean {
  const solved = withFigures(solution, both);
  return verdictOf(solved, claim)[level] === "holds" && noWorse(solution, solved);
}

type Change = readonly [Lead, number];

function inStep(search: Search, leads: readonly Lead[]): Fit[] {
  const { solution, wanted, margin } = search;
  const helping = leads
    .map((lead) => {
      const trial = trialOf(solution, wanted.quantity, [lead]);
      const gains = [-1, 1].map((way) => {
        const to = lead.value + way * lead.increment;
        const gain = (trial.at([to]) - wanted.reserve - margin) * (margin < 0 ? 1 : -1);
        return Number.isFinite(gain) && isAllowed(solution, lead.variable, to) ? gain : 0;
      });
      const way: 1 | -1 = gains[1]! > gains[0]! ? 1 : -1;
      return { lead, way, gain: Math.max(...gains) };
    })
    .filter(({ gain }) => gain > 0)
    .sort((one, other) => other.gain - one.gain)
    .slice(0, PAIRED);
  const fits: Fit[] = [];
  helping.forEach((one, i) => {
    for (const other of helping.slice(i + 1)) {
      // In whole steps, further and further, neither beyond what it can be.
      for (const steps of FURTHER) {
        const both = [one, other].map(({ lead, way }): Change => {
          const variable = solution.system.variables[lead.variable]!;
          const limit = way > 0 ? highOf(variable) : lowOf(variable);
          const to = (Math.round(lead.value / lead.increment) + way * steps) * lead.increment;
          const inward = way > 0 ? Math.floor : Math.ceil;
          const last = inward(limit / lead.increment) * lead.increment;
          return [lead, (way > 0 ? to > limit : to < limit) ? last : to];
        });
        const trial = trialOf(
          solution,
          wanted.quantity,
          both.map(([lead]) => lead),
        );
        const there = trial.at(both.map(([, value]) => value)) - wanted.reserve;
        if (!(there * margin <= 0)) continue;
        if (!isEnough(search, both)) continue;
        fits.push(fitOf(solution, both));
        break;
      }
    }
  });
  return fits;
}

/**
 * Where neither helps by itself where it stands: each of two at places ever further out on both sides,
 * the ends of their ranges among them.
 */
function allOver(search: Search, leads: readonly Lead[]): Fit[] {
  const { solution, wanted, margin } = search;
  const fits: Fit[] = [];
  const tried = leads.slice(0, PAIRED);
  const { steps } = executionOf(solution);
  let work = 0;
  for (const [i, one] of tried.entries()) {
    for (const other of tried.slice(i + 1)) {
      const trial = trialOf(solution, wanted.quantity, [one, other]);
      const found: { readonly both: readonly Change[]; readonly fit: Fit }[] = [];
      for (const first of placesOf(solution, one)) {
        for (const second of placesOf(solution, other)) {
          work += 1 + Math.min(steps.length, 1000);
          if (work > MOST_WORK) break;
          pause();
          const there = trial.at([first, second]) - wanted.reserve;
          if (!(there * margin <= 0)) continue;
          const both: readonly Change[] = [
            [one, first],
            [other, second],
          ];
          found.push({ both, fit: fitOf(solution, both) });
        }
      }
      found.sort((left, right) => left.fit.effort - right.fit.effort);
      const does = found.slice(0, SOLVED).find(({ both }) => isEnough(search, both));
      if (does !== undefined) fits.push(does.fit);
    }
  }
  return fits;
}

function placesOf(solution: Solution, { variable, value, increment }: Lead): number[] {
  const about = solution.system.variables[variable]!;
  const at = Math.round(value / increment);
  const ends = [
    Math.ceil(lowOf(about) / increment - 1e-9),
    Math.floor(highOf(about) / increment + 1e-9),
  ].filter(Number.isFinite);
  const out = (value === 0 ? FROM_NOTHING : FURTHER).flatMap((steps) => [at + steps, at - steps]);
  return [...new Set([...out, ...ends])]
    .map((count) => count * increment)
    .filter((place) => place !== value && isAllowed(solution, variable, place));
}
