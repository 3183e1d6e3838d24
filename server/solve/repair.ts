/**
 * The fewest givens to change so that several contradictions are gone at once: a smallest set that has
 * a part in each of them (R. Reiter, "A theory of diagnosis from first principles", 1987), verified by
 * solving without them and again with what they come to.
 *
 *     repairsFor(solution)   →   [{ changes: [{ variable: 3, value: 0.1524 }] }]
 *
 * Must not know: wording.
 */
import { byName } from "./network";
import { solve } from "./solve";
import { type GivenNumber, mayChange, type Solution, type System } from "./system";
import { withGivens } from "./with-givens";

export interface Repair {
  readonly changes: readonly {
    readonly variable: number;
    /** What it would have to be; undefined where leaving it out leaves it open. */
    readonly value?: number;
  }[];
}

/** More givens than this are not changed together. */
const MOST_TOGETHER = 3;
/** So many sets are tried, those that were not seen at first among them. */
const MOST_TRIED = 120;
const MOST_TOLD = 3;

/** The smallest repairs that were found, by name; none where no few changes do. */
export function repairsFor(solution: Solution): readonly Repair[] {
  const { system } = solution;
  const sets = solution.conflicts.map(({ givens }) => givens.map(({ variable }) => variable));
  const before = solution.failures.length;
  let tried = 0;
  for (let size = 1; size <= MOST_TOGETHER; size++) {
    const found: Repair[] = [];
    const seen = new Set<string>();
    // A contradiction that only shows without the first ones is a further one to be hit.
    for (let more = true; more; ) {
      more = false;
      for (const freed of hitting(sets, size, system)) {
        if (seen.has(freed.join()) || found.length >= MOST_TOLD || tried >= MOST_TRIED) continue;
        seen.add(freed.join());
        tried++;
        const without = solve(withGivens(system, new Map(freed.map((each) => [each, undefined]))));
        if (without.conflicts.length > 0) {
          sets.push(...without.conflicts.map(({ givens }) => givens.map((each) => each.variable)));
          more = true;
          break;
        }
        if (without.failures.length > before) continue;
        const repair = settled(system, freed, without, before);
        if (repair !== undefined) found.push(repair);
      }
    }
    if (found.length > 0) return found;
  }
  return [];
}

/** Sets of so many givens that have a part in each of some sets; what may not be changed in none. */
function hitting(
  sets: readonly (readonly number[])[],
  size: number,
  { variables }: System,
): readonly (readonly number[])[] {
  const members = [...new Set(sets.flat())].filter((each) => mayChange(variables[each]!.role));
  members.sort(byName(variables));
  const found: number[][] = [];
  const walk = (chosen: number[], from: number): void => {
    if (chosen.length === size) {
      if (sets.every((set) => set.some((each) => chosen.includes(each)))) found.push(chosen);
      return;
    }
    for (let at = from; at < members.length; at++) walk([...chosen, members[at]!], at + 1);
  };
  walk([], 0);
  return found;
}

/** What was freed as it came out, put back in; undefined where that contradicts itself again. */
function settled(
  system: System,
  freed: readonly number[],
  without: Solution,
  failures: number,
): Repair | undefined {
  const values = freed.map((variable) => without.values[variable]!);
  const changes = new Map<number, GivenNumber | undefined>();
  for (const [at, variable] of freed.entries()) {
    const { given } = system.variables[variable]!;
    const value = values[at]!;
    const about = given === undefined || !Number.isFinite(value) ? undefined : given;
    changes.set(
      variable,
      about && {
        ...about,
        value,
        low: value - (about.value - about.low),
        high: value + (about.high - about.value),
      },
    );
  }
  const again = solve(withGivens(system, changes));
  if (again.conflicts.length > 0 || again.failures.length > failures) return undefined;
  return {
    changes: freed.map((variable, at) => {
      const value = values[at]!;
      return Number.isFinite(value) ? { variable, value } : { variable };
    }),
  };
}
