/**
 * The smallest set of givens behind a contradiction: each of them is needed for it, leaving any one
 * out mends it.
 *
 * The contradiction's surroundings (all relations that hang together with it) are taken out into a
 * system of their own. Starting from every given that leads to it by structure, flat or not, each is
 * let go in turn; where the rest still contradicts itself it was no party and stays out (deletion;
 * J. Marques-Silva, "Minimal unsatisfiability", 2010).
 *
 * Must not know: how a contradiction was found, wording.
 */
import { goOn } from "../keep/patience";
import { type Execution, newMemory } from "./execution";
import { byName, connectedEquations, type Network, networkOf } from "./network";
import { NOTHING_KEPT, settle } from "./settle";
import type { Equation, GivenNumber, Variable } from "./system";

/** Surroundings of more equations are not looked at beyond what leads to the contradiction. */
const MOST_EQUATIONS = 400;
/** More parties than this are not told apart one by one. */
export const MOST_PARTIES = 60;

/** Whether what was settled of a small system still contradicts itself. */
export type Contradicts = (execution: Execution) => boolean;

/**
 * `leading`: the equations that lead to the contradiction, itself included; `parties`: the givens they
 * start from. Those of them that are needed, by name.
 */
export function minimalSet(
  execution: Execution,
  leading: readonly number[],
  parties: readonly number[],
  contradicts: Contradicts,
): readonly number[] {
  const { network } = execution;
  const ordered = [...parties].sort(byName(network.system.variables));
  if (ordered.length <= 1 || ordered.length > MOST_PARTIES) return ordered;
  const soft = leading.filter((e) => network.system.equations[e]!.rank !== "relation");
  const isHard = (e: number): boolean => network.system.equations[e]!.rank === "relation";
  const hard = leading.filter(isHard);
  const equations = aroundOf(network, leading, ordered)
    .map((around) => around.filter(isHard))
    .concat([hard])
    .find((around) => around.length <= MOST_EQUATIONS || around === hard)!;
  const holds = (held: ReadonlySet<number>, with_: readonly number[]): boolean =>
    contradicts(smallSystem(execution, with_, held));
  // What was only assumed is a party where the contradiction needs it.
  const all = new Set(ordered);
  let used: readonly number[] = equations;
  if (!holds(all, used)) used = [...equations, ...soft];
  if (!holds(all, used)) return ordered;
  const held = new Set(ordered);
  for (const party of ordered) {
    goOn();
    held.delete(party);
    if (!holds(held, used)) held.add(party);
  }
  return ordered.filter((party) => held.has(party));
}

/**
 * What hangs together with a contradiction, ever less of it: through all figures, through what is not
 * known and the parties, through what is not known.
 */
function aroundOf(
  network: Network,
  leading: readonly number[],
  parties: readonly number[],
): readonly (readonly number[])[] {
  const { known } = network;
  const without = known.slice();
  for (const party of parties) without[party] = 0;
  return [new Uint8Array(known.length), without, known].map((cut) =>
    connectedEquations({ ...network, known: cut }, leading),
  );
}

/** Some equations by themselves: the held givens known, all else open. */
function smallSystem(
  execution: Execution,
  equations: readonly number[],
  held: ReadonlySet<number>,
): Execution {
  const { system } = execution.network;
  const placeOf = new Map<number, number>();
  const variables: Variable[] = [];
  const place = (variable: number): number => {
    let at = placeOf.get(variable);
    if (at === undefined) {
      at = variables.length;
      placeOf.set(variable, at);
      const { given, ...rest } = system.variables[variable]!;
      variables.push(held.has(variable) && given !== undefined ? { ...rest, given } : rest);
    }
    return at;
  };
  const own = equations.map((e): Equation => {
    const { assumption: _, ...equation } = system.equations[e]!;
    return { ...equation, rank: "relation", variables: equation.variables.map(place) };
  });
  const network = networkOf({ variables, equations: own });
  const known = (given: GivenNumber | undefined): number => given?.value ?? Number.NaN;
  return {
    ...settle({
      network,
      equations: own.keys(),
      layout: undefined,
      values: Float64Array.from(variables, ({ given }) => known(given)),
      kept: NOTHING_KEPT,
    }),
    memory: newMemory(),
    carriedOut: 0,
  };
}
