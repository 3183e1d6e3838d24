/**
 * Figures as they are made: on their steps, and what is read straight off them.
 *
 *     asMade(outcomeOf(drawn), mark)   →   25 33/64 in, where the marks of both sides share the last 32nd
 *
 * Must not know: text, units, kinds, files; which figures answer which wishes.
 */
import { gradientAt } from "./adjoint";
import { executionOf } from "./execution";
import type { Making, Solution } from "./system";

const halvedIn = new WeakMap<Solution, ReadonlySet<number>>();

/** Notes which twins of an outcome share a step. */
export function shareSteps(outcome: Solution, halved: ReadonlySet<number>): void {
  halvedIn.set(outcome, halved);
}

/**
 * A figure as it comes out. What is made and answers no wish is on its step all the same, though what
 * it follows from is not moved by that; what is read straight off it is read off that. `isThere`: of
 * what is there already, which is on no step.
 */
export function asMade(
  outcome: Solution,
  variable: number,
  isThere: (variable: number) => boolean = () => false,
): number {
  const { system, values, determinations } = outcome;
  const value = values[variable]!;
  if (isMadeAside(outcome, variable) && isThere(variable)) return value;
  if (isMadeAside(outcome, variable)) return toStep(value, stepShown(outcome, variable));
  const how = determinations[variable]!;
  const equation = "equation" in how && how.block.length === 1 ? how.equation : -1;
  const { rank, variables = [] } = system.equations[equation] ?? {};
  if (rank !== "relation" || system.variables[variable]?.wish !== undefined) return value;
  const aside = variables.filter(
    (each) => each !== variable && isMadeAside(outcome, each) && !isThere(each),
  );
  if (aside.length === 0) return value;
  const slopes = gradientAt(executionOf(outcome), equation);
  const own = slopes[variables.indexOf(variable)]!;
  const moves = aside.map((each) => {
    const by = -slopes[variables.indexOf(each)]! / own;
    return { by, move: asMade(outcome, each) - values[each]! };
  });
  // A sum or a difference is read off; what bends goes on to others, which are not moved.
  if (moves.some(({ by }) => Math.abs(Math.abs(by) - 1) > 1e-6)) return value;
  return moves.reduce((sum, { by, move }) => sum + by * move, value);
}

export function isMadeAside({ system, determinations }: Solution, variable: number): boolean {
  const { role, making, given } = system.variables[variable]!;
  return (
    role === "made" &&
    making !== undefined &&
    given === undefined &&
    "equation" in determinations[variable]!
  );
}

/** The step on which a made figure is shown that answers no wish: its own, or half of it. */
function stepShown(outcome: Solution, variable: number): number | undefined {
  const step = outcome.system.variables[variable]?.making?.step;
  return step !== undefined && halvedIn.get(outcome)?.has(variable) === true ? step / 2 : step;
}

/** Whether a figure shares a step with its twin, or is read straight off one that does. */
export function sharesStep(outcome: Solution, variable: number): boolean {
  const halved = halvedIn.get(outcome);
  if (halved === undefined || halved.size === 0) return false;
  const how = outcome.determinations[variable];
  const from = how !== undefined && "equation" in how ? [how.equation] : [];
  const read = from.flatMap((equation) => outcome.system.equations[equation]?.variables ?? []);
  return [variable, ...read].some((each) => halved.has(each));
}

/** The nearest step to a value, halves away from zero; on the other side where `turned`. */
export function toStep(value: number, step: number | undefined, turned = false): number {
  if (step === undefined) return value;
  const count = Math.abs(value) / step;
  const whole = Math.round(count);
  const onStep = Math.abs(count - whole) < 1e-6;
  // A value on its step needs no rounding, and has no other side.
  const near = onStep ? whole : Math.floor(count + 0.5 + 1e-9);
  const far = near > count ? near - 1 : near + 1;
  const steps = turned && !onStep ? far : near;
  // Dividing by a whole number of steps to the unit keeps 58 1/8 exact.
  return Math.sign(value) * steps * step || 0;
}

/** What the making of a figure may leave it off by, one side. */
export function makingOff({ off, offShare }: Making, value: number): number {
  return off + offShare * Math.abs(value);
}
