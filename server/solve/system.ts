/**
 * What the solver is asked and what it answers. Everything is in coherent SI.
 *
 * A system is a row of variables and a row of equations; a variable with a `given` is known.
 * Equations of rank `relation` always hold; softer ones enter only where the firmer ones leave
 * something open, rank by rank and by name within a rank, and never against a given.
 *
 * Must not know: text, units, kinds, files.
 */
import type { Condition, Expression } from "./expression";

export interface GivenNumber {
  readonly value: number;
  /** Least and greatest value the builder allows; both equal `value` where no tolerance is stated. */
  readonly low: number;
  readonly high: number;
  /** Half of the last written step: the number stands for `value ± rounding`. 0 for exact numbers. */
  readonly rounding: number;
  /** How values lie between the limits; `normal` (limits at three standard deviations) unless said. */
  readonly distribution?: Distribution;
  /** Givens of one name here move together: measured with one tape, made in one jig. */
  readonly together?: string;
}

export type Distribution = "normal" | "triangular" | "uniform";

/** What a search may spend; it says where that ended it. */
export interface Budget {
  /** Boxes looked at for one bound. */
  readonly boxes?: number;
}

/**
 * What a figure is. `measured` is read off and only measured again, `bought` is stated by a maker,
 * `made` is up to the shop, `wanted` is how things are to come out. The others hold whatever gives
 * way: a `case` that is looked at, a `setting` of the process, a `limit` that something is held
 * against, a `constant` of nature or of a material.
 */
export type Role =
  | "measured"
  | "bought"
  | "made"
  | "wanted"
  | "case"
  | "setting"
  | "limit"
  | "constant";

/** A figure of this role may be offered as a thing to change; what follows from others may be too. */
export function mayChange(role: Role | undefined): boolean {
  return role !== "measured" && role !== "case" && role !== "setting" && role !== "constant";
}

/** How a figure that a shop makes, or a part that it buys, comes: in which steps and how surely. */
export interface Making {
  /** The step it is made to, above 0; none where any value will do. */
  readonly step?: number;
  /** What it may come out off by, one side: an amount, and a share of its own size. */
  readonly off: number;
  readonly offShare: number;
  /** The build itself says that it is made. */
  readonly said: boolean;
  /** What is made earlier has the lower number. */
  readonly order: number;
  /** It goes to the farther of its two steps: on the nearer one a check would fail by rounding alone. */
  readonly turned?: true;
}

export interface Variable {
  /** Stable name; ties between equal choices are broken by it, never by position. */
  readonly name: string;
  readonly given?: GivenNumber;
  /** Natural size, above 0: 1e-3 for a length in machine parts. Scales residuals and steps. */
  readonly scale: number;
  /** Where solutions are looked for, inclusive. */
  readonly range?: readonly [low: number, high: number];
  /** An angle without a range of its own: of answers that repeat, that within a half turn is meant. */
  readonly angle?: boolean;
  /** It comes in whole numbers; `sought`: they are searched for where equations leave it open. */
  readonly whole?: "counted" | "sought";
  /** Of several answers the one nearest to this is meant. */
  readonly near?: number;
  readonly role?: Role;
  /** What is wanted of it, and what is accepted, where it is written and no more than wanted. */
  readonly wish?: GivenNumber;
  /** Where it is made or bought. */
  readonly making?: Making;
  /** The same for all that mirror each other, such as the left and the right of one figure. */
  readonly twin?: string;
  /** Builders know how to come by it: such fields are proposed first when something is missing. */
  readonly askedFirst: boolean;
}

/** A formula that is zero when the equation holds; shared by every equation of the same shape. */
export interface EquationForm {
  readonly left: Expression;
  readonly right: Expression;
  /** Number of slots; `Equation.variables` has as many entries, all different. */
  readonly slots: number;
}

/**
 * How firmly an equation holds, firmest first: `relation` always; `default` where the relations leave
 * something open; `wanted` where those do; `assumed` where those do; `asked`, the default of a figure
 * that is to be found out, where all others do.
 */
export type Rank = "relation" | "default" | "wanted" | "assumed" | "asked";

export interface Equation {
  /** Stable name for tie-breaking and for reports: owner path and relation title. */
  readonly name: string;
  readonly form: EquationForm;
  /** Variable index for each slot. */
  readonly variables: readonly number[];
  readonly rank: Rank;
  /** It holds only where this does, over the same variables; always where there is none. */
  readonly when?: Condition;
  /** An assumption although it ranks with the relations: what rests on it says so. */
  readonly assumption?: boolean;
  /** How far the two sides may be apart, one side: a tolerance of the equation's own. */
  readonly slack?: number;
}

export interface System {
  readonly variables: readonly Variable[];
  readonly equations: readonly Equation[];
}

/** How one variable came to its value. */
export type Determination =
  | { readonly how: "given" }
  | {
      readonly how: "solved" | "assumed";
      /** The equation that yields it (matched to it), an index into the system. `assumed` only when that equation is a default. */
      readonly equation: number;
      /** The equations solved together with it, in order; one entry where it stood alone. */
      readonly block: readonly number[];
      /** Indices of the default and assumed equations the value rests on, ascending. */
      readonly restsOn: readonly number[];
      /**
       * Other figures of `block` stay open, and it is the same whatever they are: in straight equations
       * proved, in curved ones found at the places that were tried.
       */
      readonly whatever?: "proved" | "found";
    }
  | { readonly how: "open" }
  /** It should have been determined but was not; `failures` tells why. */
  | { readonly how: "failed"; readonly failure: number };

/** A contradiction among what was given. */
export interface Conflict {
  /** The equation that cannot hold as well. */
  readonly equation: number;
  /** Further equations of the contradiction (the ways by which the givens meet), `equation` included. */
  readonly equations: readonly number[];
  /** The smallest set of givens that cannot all hold: removing any one of them mends it. */
  readonly givens: readonly {
    readonly variable: number;
    /** The value it would need, all others kept; undefined where none in range does. */
    readonly needed?: number;
  }[];
  /** Whether it is proved that nothing the givens stand for makes them agree, or none was found. */
  readonly known: "proved" | "found";
  /** Left minus right of `equation`, in the unit of that equation. */
  readonly gap: number;
  /** How much of the gap roundings and tolerances could explain. */
  readonly allowed: number;
}

/** A block that has no usable answer. */
export interface Failure {
  /**
   * `several-modes`, `no-mode`: conditions and equations decide each other, and more than one
   * combination of them stands, or none; the variables are those about which they disagree.
   */
  readonly why:
    | "no-root"
    | "several-roots"
    | "no-convergence"
    | "not-defined"
    | "several-modes"
    | "no-mode";
  readonly equations: readonly number[];
  readonly variables: readonly number[];
  /** For `several-roots`: the candidates of the (single) variable, ascending. */
  readonly roots?: readonly number[];
  /** For `several-roots` of several variables together: the answers, each by variable. */
  readonly answers?: readonly (readonly number[])[];
  /** Whether the answers listed are proved to be all in the ranges. */
  readonly complete?: boolean;
  /** In whole numbers alone. */
  readonly inWholes?: boolean;
  /** For `no-root` of a single variable by which a list is read: its keys, those next to what is asked first. */
  readonly nearest?: readonly number[];
  /** For `no-root` of a single variable: an answer that would do but lies outside the range. */
  readonly outside?: number;
}

export interface Solution {
  readonly system: System;
  /** NaN where `determinations` says open or failed; never NaN elsewhere. */
  readonly values: Float64Array;
  readonly determinations: readonly Determination[];
  readonly conflicts: readonly Conflict[];
  readonly failures: readonly Failure[];
  /** Equations found redundant but consistent: they were checked, not used. */
  readonly redundant: readonly number[];
  readonly plan: SolvePlan;
}

/** Opaque to callers: reusable for another system of the same shape (see `solveLike`). */
export interface SolvePlan {
  /** How many steps were carried out; all others were taken over. */
  readonly carriedOut: number;
}

/** A quantity that is asked of a solution: an expression over variables. */
export interface Quantity {
  readonly expression: Expression;
  readonly variables: readonly number[];
}

/** ± of a value that follows from the givens' tolerances, split below and above the nominal. */
export interface Spread {
  /** How far it can come while every given keeps within its limits; infinite where nothing limits it. */
  readonly worstBelow: number;
  readonly worstAbove: number;
  /** How each of these is known. */
  readonly below: SpreadEnd;
  readonly above: SpreadEnd;
  /** A place within the tolerances was found at which it has no value. */
  readonly partial: boolean;
  /** Half of the width of what is likely, symmetric about nominal + `shift`; within the worst case. */
  readonly rss: number;
  /** How far the middle of what is likely lies from the nominal: not 0 where tolerances are lopsided. */
  readonly shift: number;
  /** Draws that the likely spread was read off; 0 where it is a root sum square. */
  readonly draws: number;
  /** Largest first; `share` of the likely variance, summing to 1. */
  readonly contributors: readonly {
    readonly variable: number;
    readonly sensitivity: number;
    readonly below: number;
    readonly above: number;
    readonly share: number;
  }[];
}

/** How one end of a worst case is known. */
export interface SpreadEnd {
  /**
   * `proved`: nothing lies beyond. `found`: the furthest that was found, and no more is known.
   * `unlimited`: no limit could be proved, such as where a divisor can come to 0.
   */
  readonly known: "proved" | "found" | "unlimited";
  /** How far the furthest that was found lies from the nominal. */
  readonly found: number;
  /** The givens' values at which the furthest was found, those at their nominal left out. */
  readonly at: ReadonlyMap<number, number>;
}

export interface Claim {
  readonly condition: Condition;
  /** It speaks only of where this holds, over the same variables. */
  readonly when?: Condition;
  readonly variables: readonly number[];
}

/** Whether a claim holds, and how surely. */
export interface Verdict {
  /** `unknown` where a variable it needs is open or failed. */
  readonly nominal: "holds" | "fails" | "unknown";
  readonly rss: "holds" | "fails" | "unknown";
  /**
   * `holds`: proved for all that the tolerances allow. `fails`: a place within them was found at which
   * it does not, see `witness`. `unknown` with a margin: not settled within what the search may spend.
   */
  readonly worst: "holds" | "fails" | "unknown";
  /** The givens' values at which it fails, where it holds at their nominal ones. */
  readonly witness?: ReadonlyMap<number, number>;
  /** True where the claim's `when` does not hold: it has nothing to say, and counts as held. */
  readonly idle?: boolean;
  /** How much is left (positive) or missing (negative) in the unit of the compared quantities; undefined for non-comparisons. */
  readonly margin?: number;
  readonly spread?: Spread;
  /** Variables that are open. */
  readonly open: readonly number[];
}

/** Which verdict of a claim is spoken of: as drawn, by likely tolerances, in the worst case. */
export type FitLevel = "nominal" | "rss" | "worst";

/** A change of one figure, or of two together, that makes a failing claim hold. */
export interface Fit {
  readonly variable: number;
  readonly value: number;
  /** The second figure, where one alone does not do. */
  readonly also?: { readonly variable: number; readonly value: number };
  /** |change| over the variable's scale, summed up: smaller is gentler. */
  readonly effort: number;
}
