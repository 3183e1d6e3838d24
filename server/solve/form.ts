/**
 * What is worth knowing once about an equation form: its tape, which of its slots it can be solved
 * for, and how. Kept for as long as the form lives, and shared by every equation of that form.
 *
 * Must not know: variables, systems.
 */

import { differentiate } from "./differentiate";
import { compile, load, run, type Tape } from "./evaluate";
import { type Branches, branchesFor, degree, determines, occurrences } from "./isolate";
import type { EquationForm } from "./system";

export interface SlotFacts {
  /** False where the equation is flat in this slot, so that it can never be solved for it. */
  readonly determines: boolean;
  /** 0: one answer by turning the equation round; 1: several, or by searching. */
  readonly grade: 0 | 1;
  /** The equation is a straight line in this slot. */
  readonly straight: boolean;
  readonly branches: Branches | undefined;
}

export interface FormFacts {
  readonly form: EquationForm;
  /** Results: left side, right side. */
  readonly tape: Tape;
  readonly slots: readonly SlotFacts[];
}

const known = new WeakMap<EquationForm, FormFacts>();

export function factsOf(form: EquationForm): FormFacts {
  let facts = known.get(form);
  if (facts === undefined) {
    const slots: SlotFacts[] = [];
    for (let slot = 0; slot < form.slots; slot++) slots.push(new LazySlotFacts(form, slot));
    facts = { form, tape: compile([form.left, form.right]), slots };
    known.set(form, facts);
  }
  return facts;
}

/** Isolation is worked out only for the slots that are in fact solved for. */
class LazySlotFacts implements SlotFacts {
  readonly determines: boolean;
  readonly straight: boolean;
  private found: Branches | undefined;
  private sought = false;

  constructor(
    private readonly form: EquationForm,
    private readonly slot: number,
  ) {
    this.determines = determines(form.left, slot) || determines(form.right, slot);
    this.straight = this.determines && degree(form.left, slot) < 2 && degree(form.right, slot) < 2;
  }

  get branches(): Branches | undefined {
    if (!this.sought) {
      this.sought = true;
      this.found = branchesFor(this.form, this.slot);
    }
    return this.found;
  }

  get grade(): 0 | 1 {
    if (this.straight) return 0;
    return this.branches !== undefined && this.branches.tapes.length === 1 ? 0 : 1;
  }
}

/** Left minus right. */
export function residual(
  facts: FormFacts,
  values: Float64Array,
  variables: ArrayLike<number>,
): number {
  const { tape } = facts;
  load(tape, values, variables);
  run(tape);
  return tape.work[tape.results[0]!]! - tape.work[tape.results[1]!]!;
}

/** |left| + |right| of the last `residual`. */
export function magnitude(facts: FormFacts): number {
  const { tape } = facts;
  return Math.abs(tape.work[tape.results[0]!]!) + Math.abs(tape.work[tape.results[1]!]!);
}

const SEEDS = [1, -1];

/**
 * Left minus right, and its derivative by each slot into `gradient` from `offset` on. Where a slot
 * does not occur its derivative is 0.
 */
export function residualAndGradient(
  facts: FormFacts,
  values: Float64Array,
  variables: ArrayLike<number>,
  gradient: Float64Array,
  offset: number,
): number {
  const { tape } = facts;
  const value = residual(facts, values, variables);
  differentiate(tape, SEEDS);
  for (let slot = 0; slot < facts.form.slots; slot++) gradient[offset + slot] = 0;
  for (let i = 0; i < tape.slotIndices.length; i++) {
    gradient[offset + tape.slotIndices[i]!] = tape.adjoint[tape.slotPositions[i]!]!;
  }
  return value;
}

/** Whether the slot occurs at all. */
export function occursIn(form: EquationForm, slot: number): boolean {
  return occurrences(form.left, slot) + occurrences(form.right, slot) > 0;
}
