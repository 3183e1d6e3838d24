/**
 * Formulas as written become formulas the solver knows: slots, coherent SI, checked dimensions.
 *
 *     backspace = overall_width / 2 + offset   →   slot 0 = slot 1 / 2 + slot 2
 *
 * The same code serves a relation of a kind (paths become routes from any thing of the kind) and
 * a formula in a build (paths become that build's own quantities): an `Environment` says what a
 * path denotes. Must not know: files, how things are made, the trade.
 */
import type * as syntax from "../../grammar/syntax";
import type { Expression } from "../solve/expression";
import {
  type Dimension,
  dimensionless,
  divide,
  measuresOf,
  multiply,
  power,
  readUnit,
  sameDimension,
  suggestUnits,
} from "../units";
import { callValue } from "./calls";
import type { CompiledCondition, CompiledEquation, CompiledExpression } from "./compiled";
import { conditionOf } from "./conditions";
import type { Environment } from "./denotation";
import { Formula } from "./formula";
import {
  combined,
  constant,
  type FormulaValue,
  folded,
  keptMeasure,
  nothing,
} from "./formula-value";

/** `when`: a condition over figures under which alone it holds. */
export function compileEquation<R>(
  left: syntax.Expression,
  right: syntax.Expression,
  environment: Environment<R>,
  when?: syntax.Expression,
): CompiledEquation<R> {
  const compiler = new Compiler(environment);
  const one = compiler.number(left);
  const other = compiler.number(right, one.dimension);
  compiler.agree(one, other, right.span, "=");
  return {
    left: one.expression,
    right: other.expression,
    measure: one.measure ?? other.measure,
    ...(when === undefined ? {} : { when: conditionOf(compiler, when) }),
    ...compiler.result(),
  };
}

export function compileCondition<R>(
  node: syntax.Expression,
  environment: Environment<R>,
  when?: syntax.Expression,
): CompiledCondition<R> {
  const compiler = new Compiler(environment);
  const condition = conditionOf(compiler, node);
  const compared = condition.op === "compare" ? compiler.compared : undefined;
  return {
    condition,
    compared,
    ...(when === undefined ? {} : { when: conditionOf(compiler, when) }),
    ...compiler.result(),
  };
}

/** `wanted`: the measure the place asks for, which decides how `lb` reads. */
export function compileExpression<R>(
  node: syntax.Expression,
  environment: Environment<R>,
  wanted?: Dimension,
): CompiledExpression<R> {
  const compiler = new Compiler(environment);
  const value = compiler.value(node, wanted);
  if (value.is === "number") {
    return {
      expression: value.expression,
      dimension: value.dimension,
      measure: value.measure,
      ...compiler.result(),
    };
  }
  if (value.is === "list") compiler.oneOfSeveral(node.span);
  const nothing: Expression = { op: "number", value: Number.NaN };
  const word = value.is === "word" ? value.value : undefined;
  return { expression: nothing, dimension: dimensionless, word, ...compiler.result() };
}

class Compiler<R> extends Formula<R> {
  value(node: syntax.Expression, wanted?: Dimension): FormulaValue {
    switch (node.type) {
      case "number":
        return constant(node.value, dimensionless, undefined, node.value === 0);
      case "quantity":
        return this.quantity(node, wanted);
      case "group":
        return this.value(node.inner, wanted);
      case "path":
        return this.path(node);
      case "text":
      case "yes_no":
        return { is: "word", value: node.value };
      case "designation":
      case "date":
        return { is: "word", value: node.text };
      case "list":
        return { is: "list", items: node.items.map((item) => this.value(item, wanted)) };
      case "unary":
        return this.unary(node, wanted);
      case "binary":
        return this.binary(node, wanted);
      case "if":
        return this.choice(node, wanted);
      case "call":
        return callValue(this, node);
      case "tolerance":
      case "limits":
        this.problem({ is: "value/tolerance-in-formula" }, node.span);
        return nothing;
      case "ask":
        this.problem({ is: "value/ask-in-formula" }, node.span);
        return nothing;
      case "missing":
        this.applies = false;
        return nothing;
    }
  }

  // ── literals and paths ──

  /** The sign is the number's: −10 degC is 263.15 K. */
  private quantity(
    node: syntax.QuantityLiteral,
    wanted?: Dimension,
    sign: 1 | -1 = 1,
  ): FormulaValue {
    let total = 0;
    let dimension: Dimension | undefined;
    for (const part of node.parts) {
      const unit = readUnit(part.unit.text, wanted);
      if (unit === undefined) {
        this.unknownUnit(part.unit, wanted);
        return nothing;
      }
      if (dimension !== undefined && !sameDimension(dimension, unit.dimension)) {
        this.problem({ is: "unit/clash parts" }, node.span);
        return nothing;
      }
      dimension = unit.dimension;
      total += sign * part.number.value * unit.factor + unit.offset;
    }
    return constant(total, dimension ?? dimensionless);
  }

  private unknownUnit(unit: syntax.UnitReference, wanted: Dimension | undefined): void {
    const measure = wanted === undefined ? undefined : measuresOf(wanted)[0];
    const near = suggestUnits(unit.text, measure);
    this.problem({ is: "unit/unknown in-formula", unit: unit.text, near }, unit.span);
  }

  private path(node: syntax.Path): FormulaValue {
    const denotation = this.environment.denote(node);
    // A field of that name goes before the number.
    if (denotation.is === "unknown" && node.names.length === 1 && node.names[0].text === "pi") {
      return constant(Math.PI, dimensionless);
    }
    return this.denoted(denotation, node.span);
  }

  // ── operators ──

  private unary(node: syntax.UnaryExpression, wanted?: Dimension): FormulaValue {
    if (node.operator === "not") {
      this.problem({ is: "value/condition-in-formula", operator: "not" }, node.span);
      return nothing;
    }
    if (node.operand.type === "quantity") return this.quantity(node.operand, wanted, -1);
    const of = this.number(node.operand, wanted);
    const { known } = of;
    const negated = (): number | undefined => {
      const number = known?.();
      return number === undefined ? undefined : -number;
    };
    return {
      ...of,
      expression: folded({ op: "negate", of: of.expression }),
      known: known === undefined ? undefined : negated,
    };
  }

  private binary(node: syntax.BinaryExpression, wanted?: Dimension): FormulaValue {
    const { operator } = node;
    switch (operator) {
      case "+":
      case "-": {
        const left = this.number(node.left, wanted);
        const right = this.number(node.right, wanted ?? left.dimension);
        this.agree(left, right, node.span, operator);
        const base = left.zero ? right : left;
        return combined(
          operator === "+" ? "add" : "subtract",
          left,
          right,
          base.dimension,
          left.measure ?? right.measure,
        );
      }
      case "*": {
        const left = this.number(node.left);
        const right = this.number(node.right);
        const dimension = multiply(left.dimension, right.dimension);
        return combined("multiply", left, right, dimension, keptMeasure(dimension, left, right));
      }
      case "/": {
        const left = this.number(node.left);
        const right = this.number(node.right);
        const dimension = divide(left.dimension, right.dimension);
        return combined("divide", left, right, dimension, keptMeasure(dimension, left, right));
      }
      case "^":
        return this.power(node);
      default:
        this.problem({ is: "value/condition-in-formula", operator }, node.span);
        return nothing;
    }
  }

  private power(node: syntax.BinaryExpression): FormulaValue {
    const base = this.number(node.left);
    const exponent = this.number(node.right);
    if (exponent.dimension.key !== "") {
      const { dimension } = exponent;
      this.problem({ is: "unit/clash exponent", dimension }, node.right.span);
      return nothing;
    }
    if (base.dimension.key === "") return combined("power", base, exponent, dimensionless);
    const dimension =
      exponent.expression.op === "number"
        ? power(base.dimension, exponent.expression.value)
        : undefined;
    if (dimension === undefined) {
      this.problem({ is: "unit/clash power", dimension: base.dimension }, node.right.span);
      return nothing;
    }
    return combined("power", base, exponent, dimension);
  }

  private choice(node: syntax.IfExpression, wanted?: Dimension): FormulaValue {
    const condition = conditionOf(this, node.condition);
    if (condition.op === "always") {
      return this.value(condition.value ? node.then : node.else, wanted);
    }
    const then = this.number(node.then, wanted);
    const otherwise = this.number(node.else, wanted ?? then.dimension);
    this.agree(then, otherwise, node.span, "if … else");
    const base = then.zero ? otherwise : then;
    return {
      is: "number",
      expression: { op: "if", condition, then: then.expression, else: otherwise.expression },
      dimension: base.dimension,
      measure: base.measure,
    };
  }
}
