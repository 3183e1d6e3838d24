/**
 * One formula while it is compiled: the quantities it uses, what is wrong with it, whether it
 * applies, and what the names in it stand for as values.
 *
 *     formula.denoted(denotation, span)   →   slot 1, a length
 *
 * Must not know: how its parts are put together; operators, calls and conditions do that.
 */

import type * as syntax from "../../grammar/syntax";
import type { Fact, Problem } from "../findings/worded";
import { madeOnce } from "../keep/once";
import { type Dimension, sameDimension } from "../units";
import type { CompiledComparison, CompileResult, StackUse } from "./compiled";
import type { Denotation, Environment } from "./denotation";
import { type FormulaValue, type NumberValue, nothing, placeholder } from "./formula-value";

/** `R` is what the environment calls a quantity: each becomes a slot. */
export abstract class Formula<R> {
  private readonly references: R[] = [];
  private readonly slots = new Map<string, number>();
  readonly problems: Problem[] = [];
  applies = true;
  later = false;
  readonly stacks: StackUse[] = [];
  /** The comparison met last. */
  compared: CompiledComparison | undefined;

  constructor(readonly environment: Environment<R>) {}

  result(): CompileResult<R> {
    return {
      references: this.references,
      problems: this.problems,
      applies: this.applies,
      later: this.later,
      stacks: this.stacks,
    };
  }

  /** `wanted`: what the place asks for, which decides how `lb` reads. */
  abstract value(node: syntax.Expression, wanted?: Dimension): FormulaValue;

  number(node: syntax.Expression, wanted?: Dimension): NumberValue {
    const value = this.value(node, wanted);
    if (value.is === "number") return value;
    if (value.is === "word") {
      this.problem({ is: "value/not-a-number word" }, node.span);
    } else if (value.is === "list") {
      this.oneOfSeveral(node.span);
    }
    return placeholder;
  }

  oneOfSeveral(span: syntax.Span): void {
    this.problem({ is: "value/list several" }, span);
  }

  /** Both sides must measure the same; raises the finding where they do not. */
  agree(left: NumberValue, right: NumberValue, span: syntax.Span, sign: string): void {
    if (left.zero || right.zero || sameDimension(left.dimension, right.dimension)) return;
    const { dimension } = left;
    this.problem({ is: "unit/clash sides", sign, left: dimension, right: right.dimension }, span);
  }

  /** A denotation as a value; what cannot be one is told, and the formula does not apply. */
  denoted(denotation: Denotation<R>, span: syntax.Span): FormulaValue {
    switch (denotation.is) {
      case "quantity": {
        const index = this.slotFor(denotation.reference);
        return {
          is: "number",
          expression: { op: "slot", index },
          dimension: denotation.measure.dimension,
          measure: denotation.measure,
          known: denotation.known,
          settled: denotation.settled,
        };
      }
      case "word":
        return { is: "word", value: denotation.value };
      case "list":
        return { is: "list", items: denotation.items.map((item) => this.denoted(item, span)) };
      case "later":
        this.later = true;
        return nothing;
      case "unset":
        this.applies = false;
        return nothing;
      case "thing":
        this.problem({ is: "value/thing-in-formula", title: denotation.title }, span);
        return nothing;
      case "unknown":
        this.problems.push(denotation.problem);
        this.applies = false;
        return nothing;
    }
  }

  private slotFor(reference: R): number {
    return madeOnce(
      this.slots,
      this.environment.keyOf(reference),
      () => this.references.push(reference) - 1,
    );
  }

  /** Tells what is wrong; the formula does not apply then. */
  problem(fact: Fact, span: syntax.Span): void {
    this.problems.push({ ...fact, span });
    this.applies = false;
  }
}
