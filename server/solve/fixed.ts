/**
 * Figures that equations fix whatever the figures are that they leave open: worked out from copies of
 * these equations in which all that stays open is pinned.
 *
 *     x + y + z = 6, x + y - z = 0   →   z follows; x and y stay open
 *
 * Where curved equations fix a figure in several ways, the ways are its answers, as of any figure.
 *
 * Copies, and what else follows from them, stand behind all others; in answers nothing is said of them
 * but of what they are copies of.
 *
 * Must not know: how a system is solved; wording.
 */
import { executionOf } from "./execution";
import type { Expression } from "./expression";
import { withSlots } from "./open-part";
import { markPutIn } from "./put-in";
import { type FixedPart, fixedParts, fixedPartsBeside } from "./row-space";
import { spoiledBy } from "./rule-out";
import type { Determination, Equation, Failure, Solution, System, Variable } from "./system";

/** What is fixed may fix more. */
const ROUNDS = 4;

/** `beside`: what was solved before and has much in common with it. */
export function withFixed(
  solution: Solution,
  again: (system: System) => Solution,
  beside?: Solution,
): Solution {
  let current = solution;
  let copies: Copies | undefined;
  const told = new Map<number, FixedPart>();
  for (let round = 0; round < ROUNDS; round++) {
    const parts = fixedPartsBeside(executionOf(current), beside && executionOf(beside));
    const before = current;
    for (const part of parts) {
      const own = (copies ?? new Copies(solution.system)).with(part);
      const solved = again(own.system);
      if (!tellsMore(current, solved, part)) continue;
      if (!part.straight && !isCertain(current, solved, part, own, again)) continue;
      copies = own;
      current = solved;
      for (const variable of part.fixed) told.set(variable, part);
    }
    if (current === before) break;
  }
  if (copies === undefined) return solution;
  const answer = copies.told(current, told);
  markPutIn(answer, solution.system);
  return answer;
}

/** What a default had settled just as well is left to it. */
function tellsMore({ values, system }: Solution, solved: Solution, { fixed }: FixedPart): boolean {
  return fixed.some((each) => {
    const off = Math.abs(solved.values[each]! - values[each]!);
    return !(off <= 1e-9 * (Math.abs(values[each]!) + system.variables[each]!.scale));
  });
}

/** Curved equations have it fixed at one place: it has to come out the same from another. */
function isCertain(
  before: Solution,
  solved: Solution,
  part: FixedPart,
  copies: Copies,
  again: (system: System) => Solution,
): boolean {
  if (spoiledBy(solved, before)) return false;
  const answers = part.fixed.map((each) => answersFor(solved, each));
  if (answers.some(({ length }) => length === 0)) return false;
  const elsewhere = fixedParts(executionOf(before), 2).find(({ fixed }) =>
    part.fixed.every((each) => fixed.includes(each)),
  );
  if (elsewhere === undefined) return false;
  const other = again(copies.before.with(elsewhere).system);
  return part.fixed.every((each, at) => {
    const { scale } = before.system.variables[each]!;
    const [one, two] = [answers[at]!, answersFor(other, each)];
    return one.length === two.length && one.every((answer, k) => isSame(answer, two[k]!, scale));
  });
}

/** The value of a figure, or the several that it may have, ascending; none where it stays open. */
function answersFor({ values, system, failures }: Solution, variable: number): readonly number[] {
  const value = values[variable]!;
  if (!Number.isNaN(value)) return [value];
  const failure = failures.find(({ variables }) => variables.includes(variable));
  if (failure?.why !== "several-roots") return [];
  const at = failure.variables.indexOf(variable);
  const roots = failure.answers?.map((answer) => answer[at]!) ?? failure.roots ?? [];
  const { scale } = system.variables[variable]!;
  return [...roots]
    .sort((one, other) => one - other)
    .filter((root, k, all) => k === 0 || !isSame(root, all[k - 1]!, scale));
}

/**
 * What was pinned in a failure falls out of its answers. Curved equations were tried at two places:
 * that they have no others elsewhere nobody has proved.
 */
function answersAsTold(
  { system }: Solution,
  { variables, roots, answers }: Failure,
  isWritten: (variable: number) => boolean,
): Partial<Failure> & Pick<Failure, "variables"> {
  const places = [...variables.keys()].filter((at) => isWritten(variables[at]!));
  const own = places.map((at) => variables[at]!);
  if (answers === undefined) {
    return { variables: own, ...(roots === undefined ? {} : { complete: false }) };
  }
  const told: number[][] = [];
  for (const answer of answers) {
    const here = places.map((at) => answer[at]!);
    const known = told.some((other) =>
      other.every((each, k) => isSame(each, here[k]!, system.variables[own[k]!]!.scale)),
    );
    if (!known) told.push(here);
  }
  return { variables: own, answers: told, complete: false };
}

function isSame(one: number, other: number, scale: number): boolean {
  return Math.abs(one - other) <= 1e-8 * (Math.abs(one) + scale);
}

/** A system with copies of some of its equations behind it. */
class Copies {
  constructor(
    private readonly written: System,
    readonly system: System = written,
    /** What each further equation is a copy of. */
    private readonly origins: readonly number[] = [],
    private readonly earlier?: Copies,
  ) {}

  get before(): Copies {
    return this.earlier ?? this;
  }

  with({ fixed, equations, solved, pins }: FixedPart): Copies {
    const variables = this.system.variables.slice();
    const placeOf = new Map<number, number>();
    for (const variable of solved) {
      if (fixed.includes(variable)) continue;
      const { name, scale } = variables[variable]!;
      const further: Variable = { name: `${name}, others pinned`, scale, askedFirst: false };
      placeOf.set(variable, variables.push(further) - 1);
    }
    const copies = equations.map((number): Equation => {
      const { form, variables: own, ...rest } = this.system.equations[number]!;
      const used: number[] = [];
      const slots = own.map((variable): Expression => {
        const pin = pins.get(variable);
        if (pin !== undefined) return { op: "number", value: pin };
        return { op: "slot", index: used.push(placeOf.get(variable) ?? variable) - 1 };
      });
      return {
        ...rest,
        // First of all by name: with these it is found out, and the originals add nothing.
        name: ` ${rest.name}, others pinned`,
        form: {
          left: withSlots(form.left, slots),
          right: withSlots(form.right, slots),
          slots: used.length,
        },
        variables: used,
      };
    });
    const system = { variables, equations: [...this.system.equations, ...copies] };
    return new Copies(this.written, system, [...this.origins, ...equations], this);
  }

  /** The answer as it is told: of what was written. */
  told(solved: Solution, fixed: ReadonlyMap<number, FixedPart>): Solution {
    const { written } = this;
    const equation = (number: number): number => this.originOf(number);
    const equations = (numbers: readonly number[]): number[] => [...new Set(numbers.map(equation))];
    const isWritten = (variable: number): boolean => variable < written.variables.length;
    const failures = solved.failures.map((failure): Failure => {
      const told = { ...failure, equations: equations(failure.equations) };
      if (failure.variables.every((each) => isWritten(each) && !fixed.has(each))) return told;
      return { ...told, ...answersAsTold(solved, failure, isWritten) };
    });
    return {
      ...solved,
      failures,
      conflicts: solved.conflicts.map((conflict) => ({
        ...conflict,
        equation: equation(conflict.equation),
        equations: equations(conflict.equations),
      })),
      redundant: [...new Set(solved.redundant.map(equation))],
      determinations: solved.determinations.map((determination, variable): Determination => {
        if (determination.how !== "solved" && determination.how !== "assumed") return determination;
        const part = fixed.get(variable);
        const restsOn = (): number[] => equations(determination.restsOn);
        return {
          how: determination.how,
          equation: equation(determination.equation),
          block: part === undefined ? equations(determination.block) : part.equations,
          get restsOn() {
            return restsOn();
          },
          ...(part === undefined ? {} : { whatever: part.straight ? "proved" : "found" }),
        };
      }),
    };
  }

  private originOf(number: number): number {
    const { length } = this.written.equations;
    return number < length ? number : this.originOf(this.origins[number - length]!);
  }
}
