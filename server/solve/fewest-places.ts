/**
 * Of the places at which a claim fails, those that it takes: givens that may as well keep their nominal
 * value are left out, one after the other, those that matter least first.
 *
 *     fewestPlaces(solution, claim, new Map([[3, 1.01], [7, 2.02]]))   →   the first alone, where it does
 *
 * Must not know: wording, how the places were found.
 */
import { executionOf } from "./execution";
import type { Claim, Solution } from "./system";
import { Trial } from "./trial";
import { failsBelow, marginOf } from "./verdict";

/** More places than this are nothing that someone looks through. */
const MOST = 24;

export function fewestPlaces(
  solution: Solution,
  claim: Claim,
  witness: ReadonlyMap<number, number>,
): ReadonlyMap<number, number> {
  const { variables } = solution.system;
  const margin = marginOf(claim);
  const moved = [...witness.keys()];
  // What moves together is not to be seen apart.
  const apart = moved.every((variable) => variables[variable]!.given?.together === undefined);
  if (margin === undefined || claim.when !== undefined || !apart) return witness;
  if (moved.length < 2 || moved.length > MOST) return witness;
  const trial = new Trial(executionOf(solution), margin, moved);
  const fails = failsBelow(solution, claim, margin);
  const at = (left: ReadonlySet<number>): number =>
    trial.at(
      moved.map((variable) =>
        left.has(variable) ? witness.get(variable)! : variables[variable]!.given!.value,
      ),
    );
  const left = new Set(moved);
  const without = (variable: number): number => {
    const others = new Set(left);
    others.delete(variable);
    return at(others);
  };
  const effects = new Map(moved.map((variable) => [variable, without(variable)]));
  const inOrder = moved.sort((one, other) => effects.get(one)! - effects.get(other)!);
  for (const variable of inOrder)
    if (left.size > 1 && fails(without(variable))) left.delete(variable);
  return new Map([...witness].filter(([variable]) => left.has(variable)));
}
