/**
 * What to change so that a failing claim holds as it comes out: things that are made or bought
 * first, another wish last. Each change is drawn and made anew before it is offered, so that a
 * housing drawn again to an old wish does not undo it, and holds at the level at which the claim
 * failed.
 *
 *     mendsFor(drawn, outcome, claim, increments)   →   [{ variable, value, effort, holds }, …]
 *
 * Must not know: wording, units.
 */
import { draw, withWishesGiven } from "./draw";
import { fitFor } from "./fit";
import { outcomeOf } from "./outcome";
import type { Claim, Fit, FitLevel, Solution, System, Verdict } from "./system";
import { verdictOf } from "./verdict";

/** A change with which it holds only just is taken so many steps further, until it holds at worst too. */
const FURTHER = [0, 1, 2, 4, 8];
/** So many changes are tried out, the gentlest first. */
const MOST = 5;

/** From the easiest to hold to the hardest. */
const LEVELS: readonly FitLevel[] = ["nominal", "rss", "worst"];

/** A change, and the hardest level at which the claim holds with it. */
export interface Mend extends Fit {
  readonly holds: FitLevel;
}

/** The first level at which a claim fails; undefined where it does at none. */
export function failingLevel(verdict: Verdict): FitLevel | undefined {
  return LEVELS.find((level) => verdict[level] === "fails");
}

export function mendsFor(
  drawn: Solution,
  outcome: Solution,
  claim: Claim,
  increments: (variable: number) => number | undefined,
): Mend[] {
  const { variables } = drawn.system;
  const level = failingLevel(verdictOf(outcome, claim));
  if (level === undefined) return [];
  const needed = LEVELS.indexOf(level) + 1;
  /** At how many levels it holds, from the easiest on. */
  const sureness = (changes: readonly Change[]): number => {
    const verdict = verdictOf(tried(drawn, changes, claim), claim);
    const failing = LEVELS.findIndex((each) => verdict[each] !== "holds");
    return failing < 0 ? LEVELS.length : failing;
  };
  const surely = (fit: Fit, sure: number): Mend[] =>
    sure < needed ? [] : [{ ...fit, holds: LEVELS[sure - 1] ?? level }];
  const further = (fit: Fit): Mend[] => {
    const { variable } = fit;
    const old = valueBefore(drawn, variable);
    const step = increments(variable);
    if (step === undefined) return [];
    if (fit.also !== undefined) return surely(fit, sureness([fit, fit.also]));
    const away = fit.value < old ? -1 : 1;
    let best = 0;
    let found: Fit = fit;
    for (const more of FURTHER) {
      const value = more === 0 ? fit.value : (Math.round(fit.value / step) + more * away) * step;
      const sure = sureness([{ variable, value }]);
      if (sure <= best) continue;
      best = sure;
      found = { ...fit, value };
      if (sure === LEVELS.length) break;
    }
    return surely(found, best);
  };
  // What the shop makes or sets is changed before what it would have to buy.
  const made = ({ variable }: Fit) => (variables[variable]?.role === "made" ? 0 : 1);
  const things = fitFor(outcome, claim, increments, level)
    .filter(({ variable }) => variable < variables.length)
    .sort((one, other) => made(one) - made(other))
    .slice(0, MOST)
    .flatMap(further);
  const wishes = fitFor(withWishesGiven(drawn), claim, increments)
    .filter(({ variable, also }) => variables[variable]?.wish !== undefined && also === undefined)
    .slice(0, MOST)
    .flatMap(further);
  return [...things, ...wishes];
}

interface Change {
  readonly variable: number;
  readonly value: number;
}

/** What is given or wanted of it, or else what it came to. */
function valueBefore({ system, values }: Solution, variable: number): number {
  const { given, wish } = system.variables[variable]!;
  return (given ?? wish)?.value ?? values[variable]!;
}

/** The build with other values for some givens, wishes or defaults, as it comes out. */
function tried(drawn: Solution, changes: readonly Change[], claim: Claim): Solution {
  const { system } = drawn;
  const variables = system.variables.slice();
  const wishes = new Map<number, number>();
  for (const { variable, value } of changes) {
    const about = variables[variable]!;
    const old = about.given ?? about.wish;
    const given = {
      value,
      low: value - (old === undefined ? 0 : old.value - old.low),
      high: value + (old === undefined ? 0 : old.high - old.value),
      rounding: 0,
    };
    const isWish = about.given === undefined && about.wish !== undefined;
    if (isWish) wishes.set(variable, value);
    variables[variable] = isWish ? { ...about, wish: given } : { ...about, given };
  }
  return outcomeOf(draw(wishing({ variables, equations: system.equations }, wishes)), [claim]);
}

/** The system with other values wanted of some figures. */
function wishing({ variables, equations }: System, wishes: ReadonlyMap<number, number>): System {
  if (wishes.size === 0) return { variables, equations };
  return {
    variables,
    equations: equations.map((equation) => {
      const [only = -1] = equation.variables;
      const value = wishes.get(only);
      if (value === undefined || equation.rank !== "wanted" || equation.variables.length !== 1)
        return equation;
      return { ...equation, form: { ...equation.form, right: { op: "number", value } as const } };
    }),
  };
}
