/**
 * A system made ready for work: which equations touch a variable, what is known, and the facts of
 * every equation's form.
 *
 * Must not know: numbers that were solved.
 */
import { type FormFacts, factsOf } from "./form";
import type { Equation, System, Variable } from "./system";

export interface Network {
  readonly system: System;
  /** Facts of each equation's form. */
  readonly facts: readonly FormFacts[];
  /** Equations that touch variable v: `touching[touchStart[v]]` up to `touchStart[v + 1]`. */
  readonly touchStart: Int32Array;
  readonly touching: Int32Array;
  /** Start of each equation's slots in arrays with one entry per slot of each equation. */
  readonly slotStart: Int32Array;
  /** 1 where a variable has a given with a number. */
  readonly known: Uint8Array;
}

export function networkOf(system: System): Network {
  const { variables, equations } = system;
  const known = new Uint8Array(variables.length);
  for (let v = 0; v < variables.length; v++) {
    if (isGiven(variables[v]!)) known[v] = 1;
  }
  const facts = new Array<FormFacts>(equations.length);
  const slotStart = new Int32Array(equations.length + 1);
  const touchStart = new Int32Array(variables.length + 2);
  let form: Equation["form"] | undefined;
  let formFacts: FormFacts | undefined;
  for (let e = 0; e < equations.length; e++) {
    const equation = equations[e]!;
    if (equation.form !== form || formFacts === undefined) {
      form = equation.form;
      formFacts = factsOf(form);
    }
    facts[e] = formFacts;
    slotStart[e + 1] = slotStart[e]! + equation.variables.length;
    for (const variable of equation.variables) touchStart[variable + 2]!++;
  }
  for (let v = 2; v < touchStart.length; v++) touchStart[v]! += touchStart[v - 1]!;
  const touching = new Int32Array(slotStart[equations.length]!);
  for (let e = 0; e < equations.length; e++) {
    for (const variable of equations[e]!.variables) {
      touching[touchStart[variable + 1]!++] = e;
    }
  }
  return { system, facts, touchStart, touching, slotStart, known };
}

/** A given without a proper number is none. */
export function isGiven({ given }: Variable): boolean {
  return given !== undefined && Number.isFinite(given.value);
}

/** Sorts by name, so that positions in the system decide nothing. */
export function byName(named: readonly { readonly name: string }[]) {
  return (one: number, other: number): number => {
    const left = named[one]!.name;
    const right = named[other]!.name;
    return left < right ? -1 : left > right ? 1 : 0;
  };
}

/** Equations first that should be kept longest: by rank, then by name. */
export function byRankAndName(equations: readonly Equation[]) {
  const names = byName(equations);
  return (one: number, other: number): number =>
    RANKS[equations[one]!.rank] - RANKS[equations[other]!.rank] || names(one, other);
}

const RANKS = { relation: 0, default: 1, wanted: 2, assumed: 3, asked: 4 };

/**
 * All equations that hang together with some equations through variables that are not known.
 * Equations without unknowns stand alone.
 */
export function connectedEquations(network: Network, from: Iterable<number>): number[] {
  const { system, touchStart, touching, known } = network;
  const seen = new Uint8Array(system.equations.length);
  const found: number[] = [];
  for (const equation of from) {
    if (seen[equation] === 0) {
      seen[equation] = 1;
      found.push(equation);
    }
  }
  const walked = new Uint8Array(system.variables.length);
  for (let at = 0; at < found.length; at++) {
    for (const variable of system.equations[found[at]!]!.variables) {
      if (known[variable] === 1 || walked[variable] === 1) continue;
      walked[variable] = 1;
      for (let i = touchStart[variable]!; i < touchStart[variable + 1]!; i++) {
        const equation = touching[i]!;
        if (seen[equation] === 0) {
          seen[equation] = 1;
          found.push(equation);
        }
      }
    }
  }
  return found;
}
