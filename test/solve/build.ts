/** Small helpers to write systems down in tests: names instead of indices, sums without brackets. */
import type { Condition, Expression, FunctionName } from "../../server/solve/expression";
import type {
  Claim,
  Equation,
  GivenNumber,
  Quantity,
  Rank,
  Role,
  Solution,
  System,
  Variable,
} from "../../server/solve/system";

export type Term = Expression | number | string;

/** An expression with named leaves, made into one with slots by `SystemBuilder`. */
export interface Named {
  readonly expression: Expression;
  readonly names: readonly string[];
}

const nameOf = (index: number): string => names[index]!;
const names: string[] = [];
const indices = new Map<string, number>();

/** A leaf that stands for a variable by name; its index is turned into a slot later. */
function leaf(name: string): Expression {
  let index = indices.get(name);
  if (index === undefined) {
    index = names.length;
    names.push(name);
    indices.set(name, index);
  }
  return { op: "slot", index };
}

export function of(term: Term): Expression {
  if (typeof term === "number") return { op: "number", value: term };
  return typeof term === "string" ? leaf(term) : term;
}

const joined =
  (op: "add" | "subtract" | "multiply" | "divide" | "power") =>
  (...terms: Term[]): Expression =>
    terms.map(of).reduce((left, right) => ({ op, left, right }));

export const add = joined("add");
export const sub = joined("subtract");
export const mul = joined("multiply");
export const div = joined("divide");
export const pow = joined("power");
export const neg = (term: Term): Expression => ({ op: "negate", of: of(term) });
export const call = (name: FunctionName, ...terms: Term[]): Expression => ({
  op: "call",
  name,
  of: terms.map(of),
});
export const compare = (
  left: Term,
  relation: Extract<Condition, { op: "compare" }>["relation"],
  right: Term,
): Condition => ({ op: "compare", relation, left: of(left), right: of(right) });

export function exactly(value: number): GivenNumber {
  return { value, low: value, high: value, rounding: 0 };
}

export function within(value: number, below: number, above = below): GivenNumber {
  return { value, low: value - below, high: value + above, rounding: 0 };
}

/** Given figures by name. */
export type Givens = Readonly<Record<string, GivenNumber>>;

interface VariableOptions {
  readonly given?: number | GivenNumber;
  readonly scale?: number;
  readonly range?: readonly [number, number];
  readonly askedFirst?: boolean;
  readonly role?: Role;
  readonly whole?: Variable["whole"];
  readonly near?: number;
}

export class SystemBuilder {
  private readonly variables: Variable[] = [];
  private readonly equations: Equation[] = [];
  private readonly at = new Map<string, number>();

  variable(name: string, options: VariableOptions = {}): this {
    const given = typeof options.given === "number" ? exactly(options.given) : options.given;
    const old = this.at.get(name);
    const variable: Variable = {
      name,
      scale: options.scale ?? 1,
      askedFirst: options.askedFirst ?? false,
      ...(options.role === undefined ? {} : { role: options.role }),
      ...(options.whole === undefined ? {} : { whole: options.whole }),
      ...(options.near === undefined ? {} : { near: options.near }),
      ...(given === undefined ? {} : { given }),
      ...(options.range === undefined ? {} : { range: options.range }),
    };
    if (old === undefined) {
      this.at.set(name, this.variables.length);
      this.variables.push(variable);
    } else this.variables[old] = variable;
    return this;
  }

  given(values: Readonly<Record<string, number | GivenNumber>>): this {
    for (const [name, given] of Object.entries(values)) this.variable(name, { given });
    return this;
  }

  equation(name: string, left: Term, right: Term, rank: Rank = "relation", when?: Condition): this {
    const used: number[] = [];
    const form = {
      left: this.slotted(of(left), used),
      right: this.slotted(of(right), used),
    };
    const condition = when === undefined ? {} : { when: this.slottedCondition(when, used) };
    const whole = { ...form, slots: used.length };
    this.equations.push({ name, form: whole, variables: used, rank, ...condition });
    return this;
  }

  system(): System {
    return { variables: this.variables.slice(), equations: this.equations.slice() };
  }

  index(name: string): number {
    let index = this.at.get(name);
    if (index === undefined) {
      this.variable(name);
      index = this.at.get(name)!;
    }
    return index;
  }

  quantity(term: Term): Quantity {
    const variables: number[] = [];
    return { expression: this.slotted(of(term), variables), variables };
  }

  claim(condition: Condition, when?: Condition): Claim {
    const variables: number[] = [];
    const slotted = this.slottedCondition(condition, variables);
    const under = when === undefined ? {} : { when: this.slottedCondition(when, variables) };
    return { condition: slotted, ...under, variables };
  }

  private slotted(expression: Expression, used: number[]): Expression {
    switch (expression.op) {
      case "number":
        return expression;
      case "slot": {
        const variable = this.index(nameOf(expression.index));
        let slot = used.indexOf(variable);
        if (slot < 0) slot = used.push(variable) - 1;
        return { op: "slot", index: slot };
      }
      case "negate":
      case "lookup":
        return { ...expression, of: this.slotted(expression.of, used) };
      case "call":
        return { ...expression, of: expression.of.map((part) => this.slotted(part, used)) };
      case "if":
        return {
          ...expression,
          condition: this.slottedCondition(expression.condition, used),
          then: this.slotted(expression.then, used),
          else: this.slotted(expression.else, used),
        };
      default:
        return {
          ...expression,
          left: this.slotted(expression.left, used),
          right: this.slotted(expression.right, used),
        };
    }
  }

  private slottedCondition(condition: Condition, used: number[]): Condition {
    switch (condition.op) {
      case "always":
        return condition;
      case "not":
        return { op: "not", of: this.slottedCondition(condition.of, used) };
      case "compare":
        return {
          ...condition,
          left: this.slotted(condition.left, used),
          right: this.slotted(condition.right, used),
        };
      default:
        return {
          ...condition,
          left: this.slottedCondition(condition.left, used),
          right: this.slottedCondition(condition.right, used),
        };
    }
  }
}

export function valueNamed(solution: Solution, name: string): number {
  return solution.values[solution.system.variables.findIndex((v) => v.name === name)]!;
}

export function determinationNamed(solution: Solution, name: string) {
  return solution.determinations[solution.system.variables.findIndex((v) => v.name === name)]!;
}

/** Names of the equations a value rests on. */
export function restsOnNames(solution: Solution, name: string): string[] {
  const determination = determinationNamed(solution, name);
  if (determination.how !== "solved" && determination.how !== "assumed") return [];
  return determination.restsOn.map((e) => solution.system.equations[e]!.name);
}

/** The same system with its variables and equations in another order. */
export function shuffled(
  system: System,
  variableOrder: readonly number[],
  equationOrder: readonly number[],
): System {
  const place = new Map(variableOrder.map((old, at) => [old, at]));
  return {
    variables: variableOrder.map((old) => system.variables[old]!),
    equations: equationOrder.map((old) => {
      const equation = system.equations[old]!;
      return { ...equation, variables: equation.variables.map((v) => place.get(v)!) };
    }),
  };
}
