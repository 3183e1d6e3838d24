/**
 * What systems of one structure have in common: all they are but for their numbers and names. What was
 * planned for one of them need not be planned for another.
 *
 *     structures.of(system).plan         what was planned for one like it, if any was
 *
 * Must not know: how anything is planned.
 */
import { Kept } from "../keep/kept";
import type { Condition, Expression } from "./expression";
import { isGiven } from "./network";
import type { Equation, EquationForm, SolvePlan, System, Variable } from "./system";

export interface Structure {
  /** Of this process alone; for keys of what is kept. */
  readonly number: number;
  readonly weight: number;
  /** Once one of them was solved. */
  plan: SolvePlan | undefined;
}

/** A system that stands in the order of its names, and its structure. */
interface Known {
  readonly system: System;
  readonly structure: Structure;
}

export class Structures {
  private readonly all: Kept<Structure>;
  private last = 0;
  private readonly forms = new WeakMap<EquationForm, number | string>();
  private lastForm = 0;

  constructor(
    /** That all of them weigh together. */
    most: number,
    private readonly weightOf: (system: System) => number,
  ) {
    this.all = new Kept(most, ({ weight }) => weight);
  }

  /** Of a system that stands in the order of its names. */
  inOrder(system: System): Structure {
    return this.kept(system, this.keyOf(system));
  }

  /** Of one that stands in any order: names decide between equals. */
  of(system: System): Structure {
    const { variables, equations } = system;
    const key = this.keyOf(system);
    return this.kept(system, `${key}|${orderOf(variables)}|${orderOf(equations)}`);
  }

  /** Of one that was made from another, by what differs; what is new in it stands behind all else. */
  beside(known: Known, system: System): Structure {
    const { variables, equations } = known.system;
    const key = [`~${known.structure.number}`];
    for (let at = 0; at < system.equations.length; at++) {
      const [before, equation] = [equations[at], system.equations[at] as Equation];
      if (before === equation) continue;
      if (before !== undefined && before.name !== equation.name) return this.of(system);
      key.push(`${before === undefined ? "" : at}${this.equationKey(equation)}`);
    }
    key.push("|");
    for (let at = 0; at < system.variables.length; at++) {
      const [before, variable] = [variables[at], system.variables[at] as Variable];
      if (before === variable) continue;
      if (before !== undefined && before.name !== variable.name) return this.of(system);
      if (before !== undefined && isGiven(before) === isGiven(variable)) continue;
      key.push(`${before === undefined ? "" : at}${isGiven(variable) ? "g" : "o"};`);
    }
    const order = (all: readonly Named[], old: readonly Named[]): string => {
      const more = all.slice(old.length);
      const among = more.map(
        ({ name }) => `${placeIn(old, name, false)}.${placeIn(old, name, true)}`,
      );
      return `|${among.join(",")}/${orderOf(more)}`;
    };
    key.push(order(system.equations, equations), order(system.variables, variables));
    return this.kept(system, key.join(""));
  }

  /** Figures added up that come to a number are of one form, whatever the number. */
  formOf(form: EquationForm): number | string {
    let known = this.forms.get(form);
    if (known === undefined) {
      const sum = form.right.op === "number" ? sumIn(form.left) : undefined;
      known = sum ?? this.lastForm++;
      this.forms.set(form, known);
    }
    return known;
  }

  /** The number that its form leaves out. */
  numberIn(form: EquationForm): number | undefined {
    const { right } = form;
    return right.op === "number" && typeof this.formOf(form) === "string" ? right.value : undefined;
  }

  private keyOf({ variables, equations }: System): string {
    const key = equations.map((equation) => this.equationKey(equation));
    key.push("|");
    for (const variable of variables) key.push(isGiven(variable) ? "1" : "0");
    return key.join("");
  }

  private equationKey({ form, rank, variables, when }: Equation): string {
    return `${this.formOf(form)}${rank}:${variables.join(",")}${conditionKey(when)};`;
  }

  private kept(system: System, key: string): Structure {
    return this.all.get(key, () => ({
      number: this.last++,
      weight: this.weightOf(system),
      plan: undefined,
    }));
  }
}

const conditions = new WeakMap<Condition, string>();

/** Equal for conditions that say the same; "" where there is none. */
export function conditionKey(condition: Condition | undefined): string {
  if (condition === undefined) return "";
  let key = conditions.get(condition);
  if (key === undefined) {
    key = JSON.stringify(condition);
    conditions.set(condition, key);
  }
  return key;
}

interface Named {
  readonly name: string;
}

export function byName(one: Named, other: Named): number {
  return one.name < other.name ? -1 : one.name > other.name ? 1 : 0;
}

// ───────────────────────────── helpers ─────────────────────────────

/** How many of some names, in order, come before another one; `with`: those like it, too. */
function placeIn(named: readonly Named[], name: string, withEqual: boolean): number {
  let from = 0;
  let to = named.length;
  while (from < to) {
    const middle = (from + to) >> 1;
    const other = (named[middle] as Named).name;
    if (other < name || (withEqual && other === name)) from = middle + 1;
    else to = middle;
  }
  return from;
}

/** Figures added and subtracted, each once: nothing of how it is solved hangs on what it comes to. */
function sumIn(expression: Expression): string | undefined {
  switch (expression.op) {
    case "slot":
      return `s${expression.index}`;
    case "add":
    case "subtract": {
      const left = sumIn(expression.left);
      const right = expression.right.op === "slot" ? sumIn(expression.right) : undefined;
      if (left === undefined || right === undefined || left.includes(right)) return undefined;
      return `${left}${expression.op === "add" ? "+" : "-"}${right}`;
    }
    default:
      return undefined;
  }
}

/** The places in the order of their names; "" where they stand so. */
function orderOf(named: readonly Named[]): string {
  let sorted = true;
  for (let at = 1; at < named.length && sorted; at++)
    sorted = (named[at - 1] as Named).name < (named[at] as Named).name;
  if (sorted) return "";
  const order = Array.from(named, (_, at) => at);
  order.sort((one, other) => byName(named[one] as Named, named[other] as Named));
  return order.join(",");
}
