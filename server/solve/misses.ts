/**
 * Equations that need not hold to the last: each gets a further variable for what it misses by, so
 * that it can be let go, be held as nearly as another, or have a tolerance of its own.
 *
 *     const system = new Misses(drawn.system);
 *     system.letGo(7)                    equation 7 holds but for what it misses by
 *     system.alike([7, 8])               both miss by the same amount
 *
 * Equations and variables that were there keep their places; what is new stands behind them.
 *
 * Must not know: why anything is let go.
 */
import type { Expression } from "./expression";
import type { Equation, EquationForm, System, Variable } from "./system";

/** Nothing is missed by more than this many of its natural sizes. */
const FARTHEST = 1e6;

const withMiss = new WeakMap<EquationForm, EquationForm>();

/** `left = right + miss`: one form for each form, so that what is known of it is kept. */
function missing(form: EquationForm): EquationForm {
  let made = withMiss.get(form);
  if (made === undefined) {
    const miss: Expression = { op: "slot", index: form.slots };
    const right: Expression = { op: "add", left: form.right, right: miss };
    made = { left: form.left, right, slots: form.slots + 1 };
    withMiss.set(form, made);
  }
  return made;
}

const slot = (index: number): Expression => ({ op: "slot", index });
const difference: Expression = { op: "subtract", left: slot(0), right: slot(1) };
const alike: EquationForm = { left: slot(0), right: slot(1), slots: 2 };
const sums = new Map<number, EquationForm>();

/** The sum of some variables is 0. */
function sumOf(count: number): EquationForm {
  let form = sums.get(count);
  if (form === undefined) {
    let left = slot(0);
    for (let index = 1; index < count; index++) {
      left = { op: "add", left, right: slot(index) };
    }
    form = { left, right: { op: "number", value: 0 }, slots: count };
    sums.set(count, form);
  }
  return form;
}

export class Misses {
  private readonly variables: Variable[];
  private readonly equations: Equation[];
  private readonly missOf = new Map<number, number>();
  private readonly wishes: readonly Equation[];

  constructor(system: System) {
    this.wishes = system.equations;
    this.variables = system.variables.slice();
    this.equations = system.equations.slice();
  }

  get system(): System {
    return { variables: this.variables, equations: this.equations };
  }

  set(variable: number, changed: Variable): void {
    this.variables[variable] = changed;
  }

  /** The equation says no more than what it misses by; the variable of that. */
  letGo(equation: number): number {
    const before = this.missOf.get(equation);
    if (before !== undefined) return before;
    const { slack: _, assumption: __, ...old } = this.equations[equation]!;
    const miss = this.variables.length;
    const { scale } = this.variables[old.variables[0]!]!;
    const range = [-FARTHEST * scale, FARTHEST * scale] as const;
    this.variables.push({ name: `${old.name} missed by`, scale, range, askedFirst: false });
    this.missOf.set(equation, miss);
    this.equations[equation] = {
      ...old,
      form: missing(old.form),
      variables: [...old.variables, miss],
      rank: "relation",
    };
    return miss;
  }

  /** All miss by the same amount. */
  alike(equations: readonly number[]): void {
    const plain = this.plain(equations);
    if (plain !== undefined) {
      // Between the figures themselves, so that nothing further is solved together with them.
      const [first, ...others] = plain;
      for (const other of others) {
        const apart = first!.value - other.value;
        this.equations.push({
          name: `${this.equations[other.equation]!.name} as ${this.equations[first!.equation]!.name}`,
          form: { left: difference, right: { op: "number", value: apart }, slots: 2 },
          variables: [first!.variable, other.variable],
          rank: "wanted",
        });
      }
      for (const equation of equations) this.letGo(equation);
      return;
    }
    const [first = -1, ...others] = equations.map((equation) => this.letGo(equation));
    for (const other of others) {
      const name = `${this.variables[other]!.name} as ${this.variables[first]!.name}`;
      this.equations.push({ name, form: alike, variables: [first, other], rank: "wanted" });
    }
  }

  /** What they miss by adds up to nothing: by name behind those that are alike. */
  balanced(equations: readonly number[]): void {
    const plain = this.plain(equations);
    if (plain !== undefined) {
      const value = plain.reduce((sum, each) => sum + each.value, 0);
      this.equations.push({
        name: `${this.equations[plain.at(-1)!.equation]!.name} in balance`,
        form: { ...sumOf(plain.length), right: { op: "number", value } },
        variables: plain.map(({ variable }) => variable),
        rank: "wanted",
      });
      for (const equation of equations) this.letGo(equation);
      return;
    }
    const misses = equations.map((equation) => this.letGo(equation));
    const name = `${this.variables[misses[0]!]!.name} in balance`;
    this.equations.push({ name, form: sumOf(misses.length), variables: misses, rank: "wanted" });
  }

  /** Wishes of one figure each, as what they are about and how much they want. */
  private plain(
    equations: readonly number[],
  ): readonly { equation: number; variable: number; value: number }[] | undefined {
    const found: { equation: number; variable: number; value: number }[] = [];
    for (const equation of equations) {
      const { form, variables } = this.wishes[equation]!;
      const [variable = -1] = variables;
      if (form.left.op !== "slot" || form.right.op !== "number" || form.slots !== 1) return;
      found.push({ equation, variable, value: form.right.value });
    }
    return found;
  }

  /** The equation holds to within its own tolerance. */
  tolerate(equation: number, slack: number): void {
    const { slack: _, ...old } = this.equations[equation]!;
    const { scale } = this.variables[old.variables[0]!]!;
    this.variables.push({
      name: old.name,
      scale,
      askedFirst: false,
      given: { value: 0, low: -slack, high: slack, rounding: 0 },
    });
    this.equations[equation] = {
      ...old,
      form: missing(old.form),
      variables: [...old.variables, this.variables.length - 1],
    };
  }
}
