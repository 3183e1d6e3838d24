/**
 * One formula while it is compiled: the quantities it uses, what is wrong with it, whether it
 * applies, and what the names in it stand for as values.
 *
 *     formula.denoted(denotation, span)   →   slot 1, a length
 *
 * Must not know: how its parts are put together; operators, calls and conditions do that.
 */

import type * as syntax from "../../grammar/syntax";
import type { OwnCode } from "../findings/codes";
import { type Dimension, describeDimension, sameDimension } from "../units";
import type { Compared, CompileResult, StackUse } from "./compiled";
import type { Denotation, Environment, Problem } from "./denotation";
import { type NumberValue, nothing, placeholder, type Value } from "./formula-value";
import { didYouMean, nearest } from "./spelling";

/** `R` is what the environment calls a quantity: each becomes a slot. */
export abstract class Formula<R> {
  private readonly references: R[] = [];
  private readonly slots = new Map<string, number>();
  readonly problems: Problem[] = [];
  applies = true;
  later = false;
  readonly stacks: StackUse[] = [];
  /** The comparison met last. */
  compared: Compared | undefined;

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
  abstract value(node: syntax.Expression, wanted?: Dimension): Value;

  number(node: syntax.Expression, wanted?: Dimension): NumberValue {
    const value = this.value(node, wanted);
    if (value.is === "number") return value;
    if (value.is === "word") {
      this.problem("value/not-a-number", "a number is expected here, not a word", node.span);
    } else if (value.is === "list") {
      this.oneOfSeveral(node.span);
    }
    return placeholder;
  }

  oneOfSeveral(span: syntax.Span): void {
    this.problem(
      "value/list",
      "several values stand here where one is expected",
      span,
      "put them together with sum, mean, min, max or count, or pick one with item",
    );
  }

  /** Both sides must measure the same; raises the finding where they do not. */
  agree(left: NumberValue, right: NumberValue, span: syntax.Span, sign: string): void {
    if (left.zero || right.zero || sameDimension(left.dimension, right.dimension)) return;
    const one = describeDimension(left.dimension);
    const other = describeDimension(right.dimension);
    const plain = left.dimension.key === "" || right.dimension.key === "";
    this.problem(
      "unit/clash",
      /^\w/.test(sign)
        ? `the values of \`${sign}\` do not measure the same: ${one} and ${other}`
        : `the two sides of \`${sign}\` do not measure the same: ${one} on the left, ${other} on the right`,
      span,
      plain ? "if a figure stands there without its unit, write the unit" : undefined,
    );
  }

  /** A denotation as a value; what cannot be one is told, and the formula does not apply. */
  denoted(denotation: Denotation<R>, span: syntax.Span): Value {
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
        this.problem(
          "value/thing-in-formula",
          `\`${denotation.title}\` is a thing, not a figure: name one of its fields`,
          span,
        );
        return nothing;
      case "unknown":
        this.problems.push(denotation.problem);
        this.applies = false;
        return nothing;
    }
  }

  private slotFor(reference: R): number {
    const key = this.environment.keyOf(reference);
    const before = this.slots.get(key);
    if (before !== undefined) return before;
    const index = this.references.length;
    this.references.push(reference);
    this.slots.set(key, index);
    return index;
  }

  /** A name that leads nowhere: says which one is near, and offers it. */
  unknownName(
    code: OwnCode,
    message: string,
    name: Pick<syntax.Name, "text" | "span">,
    known: readonly string[],
    otherwise: string | undefined,
  ): void {
    const near = nearest(name.text, known);
    this.problems.push({
      code,
      message,
      hint: didYouMean(name.text, known) ?? otherwise,
      span: name.span,
      fixes:
        near === undefined ? [] : [{ title: `write \`${near}\``, span: name.span, text: near }],
    });
    this.applies = false;
  }

  /** Tells what is wrong; the formula does not apply then. */
  problem(code: OwnCode, message: string, span: syntax.Span, hint?: string): void {
    this.problems.push({ code, message, span, hint });
    this.applies = false;
  }
}
