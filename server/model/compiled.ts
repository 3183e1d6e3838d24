/**
 * What comes out of compiling a formula: expressions over slots, and what they refer to.
 *
 * Slot 0 is `references[0]` and so on; everything is in coherent SI. Must not know: how formulas
 * are compiled, what a reference is.
 */
import type * as syntax from "../../grammar/syntax";
import type { Problem } from "../findings/worded";
import type { Condition, Expression } from "../solve/expression";
import type { Dimension, Measure } from "../units";

/** What every compiled formula has. */
export interface CompileResult<R> {
  readonly references: readonly R[];
  readonly problems: readonly Problem[];
  /** False where something it uses is unset, or anything is wrong: the formula says nothing then. */
  readonly applies: boolean;
  /** True where only a particular thing can complete it. */
  readonly later: boolean;
  /** What it puts together from the pieces of kits. */
  readonly stacks: readonly StackUse[];
}

/** One call of `stack`: what is wanted of which kit. */
export interface StackUse {
  /** The list of sizes as a thing owns it: `kit.sizes`. */
  readonly kit: string;
  readonly sizes: readonly number[];
  readonly quantities?: readonly number[];
  readonly allowed: number;
  readonly wanted: Expression;
  readonly measure?: Measure;
}

export interface CompiledEquation<R> extends CompileResult<R> {
  /** It holds only where this does; none where it always holds. */
  readonly when?: Condition;
  readonly left: Expression;
  readonly right: Expression;
  readonly measure?: Measure;
}

export interface CompiledCondition<R> extends CompileResult<R> {
  /** It speaks only of where this holds; none where it always speaks. */
  readonly when?: Condition;
  readonly condition: Condition;
  /** The two sides, where the whole condition is one comparison of figures. */
  readonly compared?: CompiledComparison;
}

/** One comparison, kept apart so that both sides can be written out in messages. */
export interface CompiledComparison {
  readonly relation: ">=" | "<=" | ">" | "<" | "==" | "!=";
  readonly left: Expression;
  readonly right: Expression;
  readonly dimension: Dimension;
  readonly measure?: Measure;
  readonly leftNode: syntax.Expression;
  readonly rightNode: syntax.Expression;
}

export interface CompiledExpression<R> extends CompileResult<R> {
  readonly expression: Expression;
  readonly dimension: Dimension;
  readonly measure?: Measure;
  /** Set where the value is a word rather than a number. */
  readonly word?: string | boolean;
}
