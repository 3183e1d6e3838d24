import type { GivenNumber, System } from "./system";

/** The system with some givens changed, added, or (undefined) taken away. */
export function withGivens(
  system: System,
  changes: ReadonlyMap<number, GivenNumber | undefined>,
): System {
  const variables = system.variables.slice();
  for (const [variable, given] of changes) {
    const old = variables[variable];
    if (old === undefined) continue;
    const { given: _, ...rest } = old;
    variables[variable] = given === undefined ? rest : { ...rest, given };
  }
  return { variables, equations: system.equations };
}
