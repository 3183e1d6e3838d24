/**
 * The order of work, from the structure alone: which equation yields which variable, which
 * equations must be solved together, which are left over as checks, and what stays open.
 *
 * Relations go first: those with one unknown are followed from the givens outward; what remains is
 * paired off (maximum matching). Defaults and then assumed relations are admitted one at a time, in
 * the order of their names, each only where it pairs off one unknown more: so never against a given.
 * What depends on an unpaired unknown is open (the underdetermined part of Dulmage and Mendelsohn's
 * split); the rest falls into blocks that are solved one after another.
 *
 * Must not know: values.
 */
import { goOn } from "../keep/patience";
import { stronglyConnected } from "./components";
import { Matching } from "./matching";
import { byName, byRankAndName, type Network } from "./network";

/** Steps in an order in which each finds its inputs ready. */
export interface PlanLayout {
  readonly steps: readonly SolveStep[];
  /** Relations that no step uses and whose variables are all settled. */
  readonly checks: readonly number[];
}

/** One equation for one variable, or a block of as many equations as variables, each by name. */
export interface SolveStep {
  readonly equations: readonly number[];
  readonly variables: readonly number[];
  /** The equation paired with each of `variables`. */
  readonly pairs: readonly number[];
}

/** Stands where a step was taken out of a plan that is otherwise kept. */
export const NO_STEP: SolveStep = { equations: [], variables: [], pairs: [] };

/**
 * Lays out the work on some equations; their unknowns must not occur in any other equation. The
 * excluded ones are not solved with: excluded relations become checks, others are left out.
 */
export function layOut(
  network: Network,
  equations: Iterable<number>,
  excluded: ReadonlySet<number>,
): PlanLayout {
  const drafting = new Drafting(network);
  const soft: number[] = [];
  const relations: number[] = [];
  const setAside: number[] = [];
  for (const equation of equations) {
    const { rank } = network.system.equations[equation]!;
    if (excluded.has(equation)) {
      if (rank === "relation") setAside.push(equation);
    } else if (rank === "relation") relations.push(equation);
    else soft.push(equation);
  }
  drafting.propagate(relations);
  drafting.pairOff(relations, soft);
  const checks = [...relations, ...setAside].filter((equation) => drafting.isCheck(equation));
  return { steps: drafting.steps, checks };
}

class Drafting {
  readonly steps: SolveStep[] = [];
  private readonly settled: Uint8Array;
  private readonly used: Uint8Array;
  private readonly unknowns: Int32Array;

  constructor(private readonly network: Network) {
    this.settled = network.known.slice();
    this.used = new Uint8Array(network.system.equations.length);
    this.unknowns = new Int32Array(network.system.equations.length);
  }

  isCheck(equation: number): boolean {
    return (
      this.used[equation] === 0 &&
      this.network.system.equations[equation]!.variables.every((v) => this.settled[v] === 1)
    );
  }

  /** Follows equations with exactly one unknown, in waves, so that no order of them matters. */
  propagate(followed: readonly number[]): void {
    const { system, touchStart, touching } = this.network;
    const active = new Uint8Array(system.equations.length);
    const best = new Int32Array(system.variables.length).fill(-1);
    let wave: number[] = [];
    for (const equation of followed) {
      active[equation] = 1;
      let count = 0;
      for (const variable of system.equations[equation]!.variables) {
        if (this.settled[variable] === 0) count++;
      }
      this.unknowns[equation] = count;
      if (count === 1) wave.push(equation);
    }
    while (wave.length > 0) {
      const reached: number[] = [];
      for (const equation of wave) {
        goOn();
        const variable = this.soleUnknown(equation);
        if (variable < 0) continue;
        const rival = best[variable]!;
        if (rival < 0) reached.push(variable);
        if (rival < 0 || this.isBetter(equation, rival, variable)) best[variable] = equation;
      }
      const next: number[] = [];
      for (const variable of reached) {
        const equation = best[variable]!;
        this.settled[variable] = 1;
        this.used[equation] = 1;
        const pair = [equation];
        this.steps.push({ equations: pair, variables: [variable], pairs: pair });
        for (let i = touchStart[variable]!; i < touchStart[variable + 1]!; i++) {
          const touched = touching[i]!;
          if (active[touched] === 1 && --this.unknowns[touched]! === 1) next.push(touched);
        }
      }
      wave = next;
    }
  }

  /** The one unknown of an equation, -1 where the equation is flat in it. */
  private soleUnknown(equation: number): number {
    const { variables } = this.network.system.equations[equation]!;
    for (let slot = 0; slot < variables.length; slot++) {
      const variable = variables[slot]!;
      if (this.settled[variable] === 1) continue;
      return this.network.facts[equation]!.slots[slot]!.determines ? variable : -1;
    }
    return -1;
  }

  private isBetter(equation: number, rival: number, variable: number): boolean {
    const { system, facts } = this.network;
    const grade = (e: number): number =>
      facts[e]!.slots[system.equations[e]!.variables.indexOf(variable)]!.grade;
    return (
      grade(equation) - grade(rival) < 0 ||
      (grade(equation) === grade(rival) &&
        system.equations[equation]!.name < system.equations[rival]!.name)
    );
  }

  /** Matches what remains, admits defaults and assumed relations, and orders the blocks. */
  pairOff(relations: readonly number[], soft: readonly number[]): void {
    const { equations } = this.network.system;
    const remaining = relations
      .filter((e) => this.used[e] === 0 && this.unknowns[e]! > 0)
      .sort(byName(equations));
    const others = soft
      .filter((e) => equations[e]!.variables.some((v) => this.settled[v] === 0))
      .sort(byRankAndName(equations));
    const candidates = remaining.concat(others);
    if (candidates.length === 0) return;

    const unknowns: number[] = [];
    const localOf = new Int32Array(this.settled.length).fill(-1);
    for (const equation of candidates) {
      for (const variable of equations[equation]!.variables) {
        if (this.settled[variable] === 1 || localOf[variable] !== -1) continue;
        localOf[variable] = unknowns.length;
        unknowns.push(variable);
      }
    }
    const matching = new Matching(candidates.length, unknowns.length);
    candidates.forEach((equation, at) => {
      goOn();
      const { slots } = this.network.facts[equation]!;
      const edges: number[] = [];
      equations[equation]!.variables.forEach((variable, slot) => {
        if (localOf[variable] !== -1 && slots[slot]!.determines) edges.push(localOf[variable]!);
      });
      matching.admit(at, edges);
    });
    this.orderBlocks(candidates, unknowns, localOf, matching);
  }

  private orderBlocks(
    candidates: readonly number[],
    unknowns: readonly number[],
    localOf: Int32Array,
    matching: Matching,
  ): void {
    const { equations, variables } = this.network.system;
    const open = this.openUnknowns(candidates, unknowns, matching);
    const paired: number[] = [];
    for (let at = 0; at < candidates.length; at++) {
      const unknown = matching.unknownOf[at]!;
      if (unknown !== -1 && open[unknown] === 0) paired.push(candidates[at]!);
    }
    // What follows one by one needs no search for blocks.
    this.propagate(paired);
    const nodes: number[] = [];
    for (let at = 0; at < candidates.length; at++) {
      const unknown = matching.unknownOf[at]!;
      if (unknown === -1 || open[unknown] === 1) continue;
      if (this.settled[unknowns[unknown]!] === 0) nodes.push(at);
    }
    if (nodes.length === 0) return;
    const blocks = stronglyConnected(nodes, candidates.length, (at) => {
      const next: number[] = [];
      for (const variable of equations[candidates[at]!]!.variables) {
        if (this.settled[variable] === 1) continue;
        const other = matching.equationOf[localOf[variable]!]!;
        if (other !== at) next.push(other);
      }
      return next;
    });
    const equationNames = byName(equations);
    const variableNames = byName(variables);
    for (const block of blocks) {
      const members = block.map((at) => candidates[at]!).sort(equationNames);
      const pairOf = new Map(
        block.map((at) => [unknowns[matching.unknownOf[at]!]!, candidates[at]!]),
      );
      const solved = [...pairOf.keys()].sort(variableNames);
      for (const equation of members) this.used[equation] = 1;
      for (const variable of solved) this.settled[variable] = 1;
      const pairs = solved.map((variable) => pairOf.get(variable)!);
      this.steps.push({ equations: members, variables: solved, pairs });
    }
  }

  /** Marks the unknowns that nothing pairs off, and all that depend on them. */
  private openUnknowns(
    candidates: readonly number[],
    unknowns: readonly number[],
    matching: Matching,
  ): Uint8Array {
    const { system, touchStart, touching } = this.network;
    const open = new Uint8Array(unknowns.length);
    const queue: number[] = [];
    for (let unknown = 0; unknown < unknowns.length; unknown++) {
      if (matching.equationOf[unknown] !== -1) continue;
      open[unknown] = 1;
      queue.push(unknown);
    }
    if (queue.length === 0) return open;
    const placeOf = new Int32Array(system.equations.length).fill(-1);
    for (let at = 0; at < candidates.length; at++) placeOf[candidates[at]!] = at;
    for (let at = 0; at < queue.length; at++) {
      const variable = unknowns[queue[at]!]!;
      for (let i = touchStart[variable]!; i < touchStart[variable + 1]!; i++) {
        const place = placeOf[touching[i]!]!;
        const dependent = place < 0 ? -1 : matching.unknownOf[place]!;
        if (dependent < 0 || open[dependent] === 1) continue;
        open[dependent] = 1;
        queue.push(dependent);
      }
    }
    return open;
  }
}
