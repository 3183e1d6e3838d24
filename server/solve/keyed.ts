/**
 * Systems whose variables stand for something outside of them.
 *
 * Must not know: for what.
 */
import type { Condition } from "./expression";
import type { EquationForm, Rank, Solution } from "./system";

/** What a variable stands for, the same in every cell. */
export interface Key {
  readonly serial: number;
  readonly name: string;
  /** Decides between those of one name. */
  readonly file: string;
}

export interface KeyedEquation<K extends Key> {
  readonly name: string;
  readonly form: EquationForm;
  /** One for each slot. */
  readonly figures: readonly K[];
  readonly rank: Rank;
  readonly assumption?: boolean;
  readonly slack?: number;
  readonly when?: Condition;
}

/** A solution whose variables stand for keys. */
export interface Solved<K extends Key> {
  readonly solution: Solution;
  readonly keys: readonly K[];
  /** The variable of a key; undefined where it does not take part. */
  placeOf(key: K): number | undefined;
  /** The equation at a place, as it was given. */
  equationAt(place: number): KeyedEquation<K> | undefined;
}

/**
 * Which reading of a cell: as drawn, the same with the wishes that hold as givens, or as it comes
 * out.
 */
export type ReadAs = "solution" | "wished" | "outcome";
