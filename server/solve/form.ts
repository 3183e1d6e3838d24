/**
 * What is worth knowing once about an equation form: its tape, which of its slots it can be solved
 * for, and how. Kept for as long as the form lives, and shared by every equation of that form.
 *
 * Must not know: variables, systems.
 */

import { differentiate } from "./differentiate";
import { load, run, workOutSizes } from "./evaluate";
import type { Expression } from "./expression";
import { type Branches, branchesFor } from "./isolate";
import type { EquationForm } from "./system";
import { compile, type Tape } from "./tape";
import { isBinary, visit, visitCondition } from "./walk";

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
  /** There is an `if` in it. */
  readonly branching: boolean;
}

const known = new WeakMap<EquationForm, FormFacts>();

export function factsOf(form: EquationForm): FormFacts {
  let facts = known.get(form);
  if (facts === undefined) {
    const places = new Places(form.slots);
    places.look(form.left, true, false);
    places.look(form.right, true, false);
    const slots: SlotFacts[] = [];
    for (let slot = 0; slot < form.slots; slot++) {
      const determines = places.determines[slot] === 1;
      slots.push(new LazySlotFacts(form, slot, determines, determines && places.bent[slot] === 0));
    }
    const { branching } = places;
    facts = { form, tape: compile([form.left, form.right]), slots, branching };
    known.set(form, facts);
  }
  return facts;
}

/** Where the slots of a form stand: one walk for all of them. */
class Places {
  /** 1 where the slot stands somewhere that is not flat. */
  readonly determines: Uint8Array;
  /** 1 where the form is not a straight line in the slot. */
  readonly bent: Uint8Array;
  branching = false;

  constructor(slots: number) {
    this.determines = new Uint8Array(slots);
    this.bent = new Uint8Array(slots);
  }

  /** `straight`: every operation above keeps straight lines straight; `flat`: some is flat. */
  look(whole: Expression, straight: boolean, flat: boolean): void {
    let part = whole;
    let still = straight;
    // Down the left side in a loop: sums may have thousands of terms.
    while (isBinary(part)) {
      if (part.op === "multiply" && still) this.bendShared(part.left, part.right);
      const keeps = part.op !== "power";
      this.look(part.right, still && keeps && part.op !== "divide", flat);
      still &&= keeps;
      part = part.left;
    }
    switch (part.op) {
      case "slot":
        if (!flat) this.determines[part.index] = 1;
        if (!still) this.bent[part.index] = 1;
        return;
      case "negate":
        this.look(part.of, still, flat);
        return;
      case "lookup":
        this.look(part.of, false, flat || part.curve.method === "step");
        return;
      case "call": {
        const steps = part.name === "round" || part.name === "floor" || part.name === "ceil";
        for (const inner of part.of) this.look(inner, false, flat || steps);
        return;
      }
      case "if":
        this.branching = true;
        visitCondition(part.condition, (inner) => {
          if (inner.op === "slot") this.bent[inner.index] = 1;
        });
        this.look(part.then, false, flat);
        this.look(part.else, false, flat);
        return;
      default:
        return;
    }
  }

  /** A slot on both sides of a product is squared. */
  private bendShared(left: Expression, right: Expression): void {
    const there = new Set<number>();
    visit(right, (part) => {
      if (part.op === "slot") there.add(part.index);
    });
    if (there.size === 0) return;
    visit(left, (part) => {
      if (part.op === "slot" && there.has(part.index)) this.bent[part.index] = 1;
    });
  }
}

/** Isolation is worked out only for the slots that are in fact solved for. */
class LazySlotFacts implements SlotFacts {
  private found: Branches | undefined;
  private sought = false;

  constructor(
    private readonly form: EquationForm,
    private readonly slot: number,
    readonly determines: boolean,
    readonly straight: boolean,
  ) {}

  get branches(): Branches | undefined {
    if (!this.sought) {
      this.found = branchesFor(this.form, this.slot);
      this.sought = true;
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

/** How large the numbers are that both sides of the last `residual` came from. */
export function residualSize(
  facts: FormFacts,
  variables: ArrayLike<number>,
  sizes: Float64Array | undefined,
): number {
  const { tape } = facts;
  workOutSizes(tape, variables, sizes);
  return tape.sizes[tape.results[0]!]! + tape.sizes[tape.results[1]!]!;
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
