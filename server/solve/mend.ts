/**
 * What to change so that a failing claim holds as it comes out: things that are made or bought
 * first, another wish last. Each change is drawn and made anew before it is offered, so that a
 * housing drawn again to an old wish does not undo it.
 *
 *     mendsFor(drawn, outcome, claim, increments)   →   [{ variable, value, effort }, …]
 *
 * Must not know: wording, units.
 */
import { draw, withWishesGiven } from "./draw";
import { fitFor } from "./fit";
import { outcomeOf } from "./outcome";
import type { Claim, Fit, Solution, System } from "./system";
import { verdictOf } from "./verdict";

/** A change with which it holds only just is taken so many steps further, until it holds at worst too. */
const FURTHER = [0, 1, 2, 4, 8];
/** So many changes are tried out, the gentlest first. */
const MOST = 5;

export function mendsFor(
  drawn: Solution,
  outcome: Solution,
  claim: Claim,
  increments: (variable: number) => number | undefined,
): Fit[] {
  const { variables } = drawn.system;
  const now = verdictOf(outcome, claim);
  // At the level that failed: what holds as it comes out is to hold by its tolerances too.
  const level = now.nominal === "fails" ? "nominal" : now.rss === "fails" ? "rss" : "worst";
  /** 0 fails, 1 holds as it is, 2 is likely to hold, 3 holds in the worst case too. */
  const sureness = (changes: readonly Change[]): number => {
    const { worst, rss, nominal } = verdictOf(tried(drawn.system, changes, claim), claim);
    const failing = [nominal, rss, worst].findIndex((each) => each !== "holds");
    return failing < 0 ? 3 : failing;
  };
  const further = (fit: Fit): Fit[] => {
    const about = variables[fit.variable]!;
    const old = about.given ?? about.wish;
    const step = increments(fit.variable);
    if (old === undefined || step === undefined) return [];
    if (fit.also !== undefined) return sureness([fit, fit.also]) > 0 ? [fit] : [];
    const away = fit.value < old.value ? -1 : 1;
    let found: Fit | undefined;
    let best = 0;
    for (const more of FURTHER) {
      const value = more === 0 ? fit.value : (Math.round(fit.value / step) + more * away) * step;
      const sure = sureness([{ variable: fit.variable, value }]);
      if (sure <= best) continue;
      best = sure;
      found = { ...fit, value };
      if (sure === 3) break;
    }
    return found === undefined ? [] : [found];
  };
  // What the shop makes or sets is changed before what it would have to buy.
  const made = ({ variable }: Fit) => (variables[variable]?.role === "made" ? 0 : 1);
  const things = fitFor(outcome, claim, increments, level)
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

/** The build with other values for some givens or wishes, as it comes out. */
function tried(system: System, changes: readonly Change[], claim: Claim): Solution {
  const variables = system.variables.slice();
  const wishes = new Map<number, number>();
  for (const { variable, value } of changes) {
    const about = variables[variable]!;
    const old = about.given ?? about.wish;
    if (old === undefined) continue;
    const given = {
      value,
      low: value - (old.value - old.low),
      high: value + (old.high - old.value),
      rounding: 0,
    };
    if (about.given === undefined) wishes.set(variable, value);
    variables[variable] =
      about.given === undefined ? { ...about, wish: given } : { ...about, given };
  }
  const equations = system.equations.map((equation) => {
    const [only = -1] = equation.variables;
    const value = wishes.get(only);
    if (value === undefined || equation.rank !== "wanted" || equation.variables.length !== 1)
      return equation;
    return { ...equation, form: { ...equation.form, right: { op: "number", value } as const } };
  });
  return outcomeOf(draw({ variables, equations }), [claim]);
}
