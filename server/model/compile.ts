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
import type { Condition, Expression, FunctionName } from "../solve/expression";
import { mostPiecesInStack, stackCountCurve, stackCurve } from "../solve/stack";
import {
  type Dimension,
  describeDimension,
  dimensionless,
  divide,
  type Measure,
  measuresOf,
  multiply,
  power,
  readUnit,
  sameDimension,
  suggestUnits,
} from "../units";
import type { Vocabulary } from "./definition";
import { type KeyValue, lookUp } from "./look-up";
import { didYouMean, nearest } from "./spelling";

/** What a path stands for. */
export type Denotation<R> =
  | {
      readonly is: "quantity";
      readonly reference: R;
      readonly measure: Measure;
      readonly known?: number;
      readonly settled?: boolean;
    }
  /** A text, choice, yes/no or date that was given. */
  | { readonly is: "word"; readonly value: string | boolean }
  | { readonly is: "list"; readonly items: readonly Denotation<R>[] }
  | { readonly is: "thing"; readonly title: string }
  /** Only a particular thing can tell. */
  | { readonly is: "later" }
  /** Nothing stands there: what uses it does not apply. */
  | { readonly is: "unset" }
  | { readonly is: "unknown"; readonly problem: Problem };

export interface Environment<R> {
  readonly vocabulary: Vocabulary;
  denote(path: syntax.Path): Denotation<R>;
  /** Equal keys mean the same quantity. */
  keyOf(reference: R): string;
  /** Whether the builder wrote it; `undefined` where only a particular thing can tell. */
  isGiven(path: syntax.Path): boolean | undefined;
  /** All things of a kind, each followed along `rest`. */
  each(kind: string, rest: syntax.Path | undefined): Denotation<R>;
  /** Told of tables that have no row for the keys. */
  readonly notInTable?: (message: string, span: syntax.Span) => void;
}

export interface Problem {
  readonly code: string;
  readonly message: string;
  readonly hint?: string;
  readonly span: syntax.Span;
  readonly fixes?: readonly {
    readonly title: string;
    readonly span: syntax.Span;
    readonly text: string;
  }[];
}

interface Result<R> {
  readonly references: readonly R[];
  readonly problems: readonly Problem[];
  /** False where something it uses is unset: the formula says nothing then. */
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

export interface CompiledEquation<R> extends Result<R> {
  readonly left: Expression;
  readonly right: Expression;
  readonly measure?: Measure;
}

export interface CompiledCondition<R> extends Result<R> {
  readonly condition: Condition;
  /** The two sides, where the whole condition is one comparison of figures. */
  readonly compared?: Compared;
}

/** One comparison, kept apart so that both sides can be written out in messages. */
export interface Compared {
  readonly relation: ">=" | "<=" | ">" | "<" | "==" | "!=";
  readonly left: Expression;
  readonly right: Expression;
  readonly dimension: Dimension;
  readonly measure?: Measure;
  readonly leftNode: syntax.Expression;
  readonly rightNode: syntax.Expression;
}

export interface CompiledExpression<R> extends Result<R> {
  readonly expression: Expression;
  readonly dimension: Dimension;
  readonly measure?: Measure;
  /** Set where the value is a word rather than a number. */
  readonly word?: string | boolean;
}

export function compileEquation<R>(
  left: syntax.Expression,
  right: syntax.Expression,
  environment: Environment<R>,
): CompiledEquation<R> {
  const compiler = new Compiler(environment);
  const one = compiler.number(left);
  const other = compiler.number(right, one.dimension);
  compiler.agree(one, other, right.span, "=");
  return {
    left: one.expression,
    right: other.expression,
    measure: one.measure ?? other.measure,
    ...compiler.result(),
  };
}

export function compileCondition<R>(
  node: syntax.Expression,
  environment: Environment<R>,
): CompiledCondition<R> {
  const compiler = new Compiler(environment);
  const condition = compiler.condition(node);
  const compared = condition.op === "compare" ? compiler.compared : undefined;
  return { condition, compared, ...compiler.result() };
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

// ───────────────────────────── values while compiling ─────────────────────────────

interface NumberValue {
  readonly is: "number";
  readonly expression: Expression;
  readonly dimension: Dimension;
  readonly measure?: Measure;
  /** A written 0 fits every dimension. */
  readonly zero?: boolean;
  /** Value where no unknown takes part in it. */
  readonly known?: number;
  /** Each particular thing will know it (a part of its designation), so a table can wait for it. */
  readonly settled?: boolean;
}

type Value =
  | NumberValue
  | { readonly is: "word"; readonly value: string | boolean }
  | { readonly is: "list"; readonly items: readonly Value[] }
  | { readonly is: "nothing" };

const nothing: Value = { is: "nothing" };
const placeholder: NumberValue = {
  is: "number",
  expression: { op: "number", value: 0 },
  dimension: dimensionless,
  zero: true,
};

const angleFunctions = new Set(["sin", "cos", "tan"]);
const plainFunctions = new Set(["exp", "log", "asin", "acos", "atan"]);
const keepingFunctions = new Set(["abs", "min", "max", "round", "floor", "ceil"]);
const steppedFunctions = new Set(["round", "floor", "ceil"]);
const aggregateFunctions = new Set(["sum", "mean", "count", "min", "max"]);
export const functionNames: readonly string[] = [
  ...new Set([
    ...angleFunctions,
    ...plainFunctions,
    ...keepingFunctions,
    ...aggregateFunctions,
    "sqrt",
    "atan2",
    "each",
    "given",
    "item",
    "stack",
    "stack_count",
  ]),
].sort();

class Compiler<R> {
  private readonly references: R[] = [];
  private readonly slots = new Map<string, number>();
  private readonly problems: Problem[] = [];
  private applies = true;
  private later = false;
  private readonly stacks: StackUse[] = [];
  /** The comparison met last. */
  compared: Compared | undefined;

  constructor(private readonly environment: Environment<R>) {}

  result(): Result<R> {
    return {
      references: this.references,
      problems: this.problems,
      applies: this.applies,
      later: this.later,
      stacks: this.stacks,
    };
  }

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

  value(node: syntax.Expression, wanted?: Dimension): Value {
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
        return { is: "word", value: node.value };
      case "designation":
        return { is: "word", value: node.text };
      case "date":
        return { is: "word", value: node.text };
      case "yes_no":
        return { is: "word", value: node.value };
      case "list":
        return { is: "list", items: node.items.map((item) => this.value(item, wanted)) };
      case "unary":
        return this.unary(node, wanted);
      case "binary":
        return this.binary(node, wanted);
      case "if":
        return this.choice(node, wanted);
      case "call":
        return this.call(node);
      case "tolerance":
      case "limits":
        this.problem(
          "value/tolerance-in-formula",
          "a tolerance belongs to a given value, it cannot stand in a formula",
          node.span,
          "write the figure with its tolerance into a field of its own, and name that field here",
        );
        return nothing;
      case "ask":
        this.problem(
          "value/ask-in-formula",
          "`?` asks for a whole value, it cannot stand in a formula",
          node.span,
          "write `?` after the name of the field that is wanted",
        );
        return nothing;
      case "missing":
        this.applies = false;
        return nothing;
    }
  }

  condition(node: syntax.Expression): Condition {
    switch (node.type) {
      case "group":
        return this.condition(node.inner);
      case "unary":
        if (node.operator === "not") return negated(this.condition(node.operand));
        break;
      case "binary": {
        const { operator } = node;
        if (operator === "and" || operator === "or") {
          return joined(operator, this.condition(node.left), this.condition(node.right));
        }
        if (isComparison(operator)) return this.comparison(node, operator);
        break;
      }
      default:
        break;
    }
    const value = this.value(node);
    if (value.is === "word" && typeof value.value === "boolean") {
      return { op: "always", value: value.value };
    }
    if (value.is !== "nothing") {
      this.problem(
        "value/not-a-condition",
        "a condition is expected here: a comparison such as `… >= 1/2 in`",
        node.span,
      );
    }
    this.applies = false;
    return { op: "always", value: true };
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

  // ── literals and paths ──

  private quantity(node: syntax.QuantityLiteral, wanted?: Dimension): Value {
    let total = 0;
    let dimension: Dimension | undefined;
    for (const part of node.parts) {
      const unit = readUnit(part.unit.text, wanted);
      if (unit === undefined) {
        this.unknownUnit(part.unit, wanted);
        return nothing;
      }
      if (dimension !== undefined && !sameDimension(dimension, unit.dimension)) {
        this.problem("unit/clash", "the parts of this quantity do not measure the same", node.span);
        return nothing;
      }
      dimension = unit.dimension;
      total += part.number.value * unit.factor + (unit.offset ?? 0);
    }
    return constant(total, dimension ?? dimensionless);
  }

  private unknownUnit(unit: syntax.UnitReference, wanted: Dimension | undefined): void {
    const measure = wanted === undefined ? undefined : measuresOf(wanted)[0];
    const near = suggestUnits(unit.text, measure);
    this.problems.push({
      code: "unit/unknown",
      message: `unknown unit \`${unit.text}\``,
      hint:
        near.length === 0
          ? undefined
          : `did you mean ${near.map((symbol) => `\`${symbol}\``).join(" or ")}?`,
      span: unit.span,
      fixes: near.map((symbol) => ({ title: `write ${symbol}`, span: unit.span, text: symbol })),
    });
    this.applies = false;
  }

  private path(node: syntax.Path): Value {
    const denotation = this.environment.denote(node);
    // A field of that name goes before the number.
    if (denotation.is === "unknown" && node.names.length === 1 && node.names[0]?.text === "pi") {
      return constant(Math.PI, dimensionless);
    }
    return this.denoted(denotation, node.span);
  }

  private denoted(denotation: Denotation<R>, span: syntax.Span): Value {
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

  // ── operators ──

  private unary(node: syntax.UnaryExpression, wanted?: Dimension): Value {
    if (node.operator === "not") {
      this.problem("value/condition-in-formula", "`not` belongs in a condition", node.span);
      return nothing;
    }
    const of = this.number(node.operand, wanted);
    return {
      ...of,
      expression: folded({ op: "negate", of: of.expression }),
      known: of.known === undefined ? undefined : -of.known,
    };
  }

  private binary(node: syntax.BinaryExpression, wanted?: Dimension): Value {
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
        this.problem(
          "value/condition-in-formula",
          `\`${operator}\` belongs in a condition: after \`if\` or \`when\`, or in a check`,
          node.span,
        );
        return nothing;
    }
  }

  private power(node: syntax.BinaryExpression): Value {
    const base = this.number(node.left);
    const exponent = this.number(node.right);
    if (exponent.dimension.key !== "") {
      this.problem(
        "unit/clash",
        `an exponent is a plain number, not ${describeDimension(exponent.dimension)}`,
        node.right.span,
      );
      return nothing;
    }
    if (base.dimension.key === "") return combined("power", base, exponent, dimensionless);
    const dimension =
      exponent.expression.op === "number"
        ? power(base.dimension, exponent.expression.value)
        : undefined;
    if (dimension === undefined) {
      this.problem(
        "unit/clash",
        `${describeDimension(base.dimension)} can only be raised to a power that is written as a number`,
        node.right.span,
      );
      return nothing;
    }
    return combined("power", base, exponent, dimension);
  }

  private choice(node: syntax.IfExpression, wanted?: Dimension): Value {
    const condition = this.condition(node.condition);
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

  // ── conditions ──

  private comparison(node: syntax.BinaryExpression, relation: Comparison): Condition {
    const bounds = comparedBounds(node);
    if (bounds !== undefined) return this.condition(bounds);
    const [left, right] = this.sides(node);
    if (left.is === "nothing" || right.is === "nothing") {
      if (!this.later) this.applies = false;
      return { op: "always", value: true };
    }
    if (left.is === "word" || right.is === "word") {
      if (left.is === "list" || right.is === "list") {
        this.oneOfSeveral(left.is === "list" ? node.left.span : node.right.span);
        return { op: "always", value: true };
      }
      if (left.is !== right.is) {
        this.problem(
          "value/clash",
          `a word and a figure cannot be compared: ${inWords(left)} on the left, ${inWords(right)} on the right`,
          node.span,
        );
        return { op: "always", value: true };
      }
      if (left.is === "word" && right.is === "word")
        return { op: "always", value: compareWords(relation, left.value, right.value) };
    }
    if (left.is !== "number" || right.is !== "number") {
      this.oneOfSeveral(left.is === "list" ? node.left.span : node.right.span);
      return { op: "always", value: true };
    }
    this.agree(left, right, node.span, relation);
    const base = left.zero ? right : left;
    this.compared = {
      relation,
      left: left.expression,
      right: right.expression,
      dimension: base.dimension,
      measure: left.measure ?? right.measure,
      leftNode: node.left,
      rightNode: node.right,
    };
    return { op: "compare", relation, left: left.expression, right: right.expression };
  }

  /** A bare word beside a choice or text is that word: `grade == five`. */
  private sides(node: syntax.BinaryExpression): [Value, Value] {
    const asWord = (side: syntax.Expression, other: syntax.Expression): Value | undefined => {
      if (side.type !== "path" || side.names.length !== 1) return undefined;
      // A thing that happens to be called like a choice does not change what a kind says.
      if (!["unknown", "thing"].includes(this.environment.denote(side).is)) return undefined;
      const known = other.type === "path" ? this.environment.denote(other) : undefined;
      if (known === undefined || !["word", "later", "unset"].includes(known.is)) return undefined;
      return { is: "word", value: side.names[0]?.text ?? "" };
    };
    const leftWord = asWord(node.left, node.right);
    const rightWord = asWord(node.right, node.left);
    const left = leftWord ?? this.value(node.left);
    const right =
      rightWord ?? this.value(node.right, left.is === "number" ? left.dimension : undefined);
    return [left, right];
  }

  // ── functions and tables ──

  private call(node: syntax.CallExpression): Value {
    const name = node.callee.names[0]?.text ?? "";
    const table = this.environment.vocabulary.tables.get(name);
    if (table !== undefined) return this.tableCall(node, name);
    if (node.callee.names.length === 1) {
      if (name === "given") return this.givenCall(node);
      if (name === "each") return this.eachCall(node);
      const values = node.arguments.map((argument) => this.value(argument));
      if (values.some((value) => value.is === "nothing")) return nothing;
      if (aggregateFunctions.has(name) && values.some((value) => value.is === "list")) {
        return this.aggregate(node, name, values);
      }
      if (name === "sum" || name === "mean" || name === "count")
        return this.aggregate(node, name, values);
      if (name === "item") return this.item(node, values);
      if (name === "stack" || name === "stack_count") return this.stack(node, name, values);
      return this.functionCall(node, name, values);
    }
    this.unknownFunction(node);
    return nothing;
  }

  private functionCall(node: syntax.CallExpression, name: string, values: readonly Value[]): Value {
    const numbers = values.filter((value): value is NumberValue => value.is === "number");
    if (numbers.length !== values.length) {
      this.problem("value/not-a-number", `\`${name}\` takes figures`, node.span);
      return nothing;
    }
    const [first, second] = numbers;
    const range = argumentCounts[name];
    if (range === undefined) {
      this.unknownFunction(node);
      return nothing;
    }
    if (first === undefined || numbers.length < range[0] || numbers.length > range[1]) {
      const count =
        range[0] === range[1]
          ? `${range[0]}`
          : range[1] > 9
            ? `${range[0]} or more`
            : `${range[0]} or ${range[1]}`;
      this.problem(
        "value/arguments",
        `\`${name}\` takes ${count === "1 or more" ? "one value or more" : `${count} ${count === "1" ? "value" : "values"}`}, not ${numbers.length === 0 ? "none" : numbers.length}`,
        node.span,
      );
      return nothing;
    }
    const expression: Expression = folded({
      op: "call",
      name: name as FunctionName,
      of: numbers.map((number) => number.expression),
    });
    if (name === "sqrt") {
      const dimension = power(first.dimension, 1 / 2) ?? dimensionless;
      return { is: "number", expression, dimension };
    }
    if (name === "atan2") {
      if (second !== undefined) this.agree(first, second, node.span, "atan2");
      return { is: "number", expression, dimension: dimensionless };
    }
    if (angleFunctions.has(name) || plainFunctions.has(name)) {
      if (first.dimension.key !== "") {
        const wanted = angleFunctions.has(name) ? "an angle" : "a plain number";
        this.problem(
          "unit/clash",
          `\`${name}\` takes ${wanted}, not ${describeDimension(first.dimension)}`,
          node.span,
        );
      }
      return { is: "number", expression, dimension: dimensionless };
    }
    for (const other of numbers.slice(1)) this.agree(first, other, node.span, name);
    if (steppedFunctions.has(name) && second === undefined && first.dimension.key !== "") {
      this.problem(
        "value/arguments",
        `\`${name}\` needs the step to round to`,
        node.span,
        `write for example \`${name}(x, 1 mm)\``,
      );
    }
    const base = numbers.find((number) => !number.zero) ?? first;
    return { is: "number", expression, dimension: base.dimension, measure: base.measure };
  }

  private aggregate(node: syntax.CallExpression, name: string, values: readonly Value[]): Value {
    const items = values.flatMap(flattened);
    if (name === "count") return constant(items.length, dimensionless);
    const numbers = items.filter((item): item is NumberValue => item.is === "number");
    if (numbers.length !== items.length) {
      if (!this.later && this.applies)
        this.problem("value/not-a-number", `\`${name}\` takes figures`, node.span);
      return nothing;
    }
    const [first, ...others] = numbers;
    if (first === undefined) {
      if (name === "sum") return constant(0, dimensionless, undefined, true);
      this.applies = false;
      return nothing;
    }
    for (const other of others) this.agree(first, other, node.span, name);
    if (name === "min" || name === "max") {
      return {
        ...first,
        known: undefined,
        expression: folded({ op: "call", name, of: numbers.map((number) => number.expression) }),
      };
    }
    const total = others.reduce(
      (sum, other) => combined("add", sum, other, first.dimension, first.measure),
      first,
    );
    if (name === "sum") return total;
    return combined(
      "divide",
      total,
      constant(numbers.length, dimensionless),
      first.dimension,
      first.measure,
    );
  }

  /** `item(ratios, 3)`: one of a list, counted from 1. */
  private item(node: syntax.CallExpression, values: readonly Value[]): Value {
    const [list, place] = values;
    if (list?.is !== "list" || place?.is !== "number" || values.length !== 2) {
      this.problem(
        "value/arguments",
        "`item` takes a list and a place in it, counted from 1",
        node.span,
      );
      return nothing;
    }
    if (place.known === undefined) {
      this.later = true;
      return nothing;
    }
    const found = list.items[place.known - 1];
    if (found === undefined) {
      this.applies = false;
      return nothing;
    }
    return found;
  }

  /**
   * `stack(sizes, wanted, allowed)`: what the fewest pieces of a kit add up to, as near to the
   * wanted size as is allowed; `stack_count` is how many pieces that takes.
   */
  private stack(node: syntax.CallExpression, name: string, values: readonly Value[]): Value {
    const [list, wanted, allowed, counts] = values;
    if (
      values.length < 3 ||
      values.length > 4 ||
      list?.is !== "list" ||
      wanted?.is !== "number" ||
      allowed?.is !== "number" ||
      (counts !== undefined && counts.is !== "list")
    ) {
      this.problem(
        "value/arguments",
        `\`${name}\` takes a list of sizes, the wanted size, what may be left over and, if you like, how many there are of each size`,
        node.span,
      );
      return nothing;
    }
    const numbers = list.items
      .flatMap(flattened)
      .filter((size): size is NumberValue => size.is === "number");
    const known = knownNumbers(list);
    const quantities = counts === undefined ? undefined : knownNumbers(counts);
    if (known === undefined || known.length === 0 || allowed.known === undefined) {
      this.later = true;
      return nothing;
    }
    for (const size of numbers) this.agree(size, wanted, node.span, name);
    this.agree(wanted, allowed, node.span, name);
    const count = name === "stack_count";
    const curve = (count ? stackCountCurve : stackCurve)(
      known,
      mostPiecesInStack,
      allowed.known,
      quantities,
    );
    if (!count) {
      this.stacks.push({
        kit: this.listKey(node.arguments[0]),
        sizes: known,
        quantities,
        allowed: allowed.known,
        wanted: wanted.expression,
        measure: wanted.measure,
      });
    }
    return {
      is: "number",
      expression: { op: "lookup", curve, of: wanted.expression },
      dimension: count ? dimensionless : wanted.dimension,
      measure: count ? undefined : wanted.measure,
    };
  }

  /** Which thing's list it is: `kit.sizes` of its first item `kit.sizes[1]`. */
  private listKey(node: syntax.Expression | undefined): string {
    const denotation = node?.type === "path" ? this.environment.denote(node) : undefined;
    const first = denotation?.is === "list" ? denotation.items[0] : undefined;
    if (first?.is !== "quantity") return "";
    return this.environment.keyOf(first.reference).replace(/\[\d+\]$/, "");
  }

  private givenCall(node: syntax.CallExpression): Value {
    const [argument] = node.arguments;
    if (argument?.type !== "path" || node.arguments.length !== 1) {
      this.problem("value/arguments", "`given` takes the name of one field", node.span);
      return nothing;
    }
    const given = this.environment.isGiven(argument);
    if (given === undefined) {
      this.later = true;
      return nothing;
    }
    return { is: "word", value: given };
  }

  private eachCall(node: syntax.CallExpression): Value {
    const [argument] = node.arguments;
    const kind =
      argument?.type === "path" && argument.names.length === 1 ? argument.names[0] : undefined;
    if (kind === undefined || node.arguments.length !== 1) {
      this.problem("value/arguments", "`each` takes the name of one kind", node.span);
      return nothing;
    }
    if (!this.environment.vocabulary.kinds.has(kind.text)) {
      this.unknownName(
        "name/unknown-kind",
        `there is no kind \`${kind.text}\``,
        kind,
        [...this.environment.vocabulary.kinds.keys()],
        undefined,
      );
      return nothing;
    }
    return this.denoted(this.environment.each(kind.text, node.rest), node.span);
  }

  private tableCall(node: syntax.CallExpression, name: string): Value {
    const table = this.environment.vocabulary.tables.get(name);
    if (table === undefined) return nothing;
    const columnName = node.callee.names[1]?.text;
    const keys: KeyValue[] = [];
    for (const argument of node.arguments) {
      const value = this.value(argument);
      if (value.is === "nothing") return nothing;
      if (value.is === "list") {
        this.problem("value/list", "a table takes one value for each of its keys", argument.span);
        return nothing;
      }
      if (value.is === "number" && value.settled && value.known === undefined) {
        this.later = true;
        return nothing;
      }
      keys.push(value);
    }
    const found = lookUp(table, columnName, keys);
    if (found.problem !== undefined) {
      if (found.kind === "no-row") {
        // Keys that only this thing has: the table is silent, so what uses it does not apply.
        this.environment.notInTable?.(found.problem, node.span);
        this.applies = false;
      } else {
        this.problem("table/use", found.problem, node.span);
      }
      return nothing;
    }
    if (found.later) {
      this.later = true;
      return nothing;
    }
    if (found.word !== undefined) return { is: "word", value: found.word };
    if (found.expression === undefined) return nothing;
    return {
      is: "number",
      expression: found.expression,
      dimension: found.measure?.dimension ?? dimensionless,
      measure: found.measure,
    };
  }

  private unknownFunction(node: syntax.CallExpression): void {
    const text = node.callee.names.map((each) => each.text).join(".");
    this.unknownName(
      "name/unknown-function",
      `there is no function or table \`${text}\``,
      { text, span: node.callee.span },
      [...functionNames, ...this.environment.vocabulary.tables.keys()],
      `functions are ${functionNames.join(", ")}`,
    );
  }

  private unknownName(
    code: string,
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

  private problem(code: string, message: string, span: syntax.Span, hint?: string): void {
    this.problems.push({ code, message, span, hint });
    this.applies = false;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

type Comparison = ">=" | "<=" | ">" | "<" | "==" | "!=";

const argumentCounts: Readonly<Record<string, readonly [least: number, most: number]>> = {
  abs: [1, 1],
  sqrt: [1, 1],
  exp: [1, 1],
  log: [1, 1],
  sin: [1, 1],
  cos: [1, 1],
  tan: [1, 1],
  asin: [1, 1],
  acos: [1, 1],
  atan: [1, 1],
  atan2: [2, 2],
  min: [1, 99],
  max: [1, 99],
  round: [1, 2],
  floor: [1, 2],
  ceil: [1, 2],
};

function isComparison(operator: syntax.BinaryOperator): operator is Comparison {
  return [">=", "<=", ">", "<", "==", "!="].includes(operator);
}

function constant(
  value: number,
  dimension: Dimension,
  measure?: Measure,
  zero = false,
): NumberValue {
  return {
    is: "number",
    expression: { op: "number", value },
    dimension,
    measure,
    zero,
    known: value,
  };
}

function combined(
  op: "add" | "subtract" | "multiply" | "divide" | "power",
  left: NumberValue,
  right: NumberValue,
  dimension: Dimension,
  measure?: Measure,
): NumberValue {
  const expression = folded({ op, left: left.expression, right: right.expression });
  return {
    is: "number",
    expression,
    dimension,
    measure,
    known:
      left.known === undefined || right.known === undefined
        ? undefined
        : calculate(op, left.known, right.known),
    zero: false,
  };
}

function calculate(op: string, left: number, right: number): number {
  switch (op) {
    case "add":
      return left + right;
    case "subtract":
      return left - right;
    case "multiply":
      return left * right;
    case "divide":
      return left / right;
    default:
      return left ** right;
  }
}

/** Written numbers are put together at once, so that the solver sees fewer steps. */
function folded(expression: Expression): Expression {
  let value: number | undefined;
  if (expression.op === "negate" && expression.of.op === "number") value = -expression.of.value;
  if ("left" in expression && expression.left.op === "number" && expression.right.op === "number") {
    value = calculate(expression.op, expression.left.value, expression.right.value);
  }
  return value !== undefined && Number.isFinite(value) ? { op: "number", value } : expression;
}

/** A length times a plain number still is that kind of length. */
function keptMeasure(
  dimension: Dimension,
  left: NumberValue,
  right: NumberValue,
): Measure | undefined {
  if (
    left.measure !== undefined &&
    sameDimension(left.measure.dimension, dimension) &&
    dimension.key !== ""
  )
    return left.measure;
  if (
    right.measure !== undefined &&
    sameDimension(right.measure.dimension, dimension) &&
    dimension.key !== ""
  )
    return right.measure;
  return undefined;
}

/** "the word fixed", "a length". */
function inWords(
  value: NumberValue | { readonly is: "word"; readonly value: string | boolean },
): string {
  if (value.is === "number") return describeDimension(value.dimension);
  if (typeof value.value === "boolean") return value.value ? "yes" : "no";
  return `the word “${value.value}”`;
}

/** The numbers of a list, where no unknown takes part in any of them. */
function knownNumbers(list: Value): number[] | undefined {
  const numbers: number[] = [];
  for (const item of flattened(list)) {
    if (item.is !== "number" || item.known === undefined) return undefined;
    numbers.push(item.known);
  }
  return numbers;
}

function flattened(value: Value): readonly Value[] {
  return value.is === "list" ? value.items.flatMap(flattened) : [value];
}

function negated(condition: Condition): Condition {
  return condition.op === "always"
    ? { op: "always", value: !condition.value }
    : { op: "not", of: condition };
}

function joined(op: "and" | "or", left: Condition, right: Condition): Condition {
  const decisive = op === "or";
  if (left.op === "always") return left.value === decisive ? left : right;
  if (right.op === "always") return right.value === decisive ? right : left;
  return { op, left, right };
}

function compareWords(
  relation: Comparison,
  left: string | boolean,
  right: string | boolean,
): boolean {
  const one = String(left);
  const other = String(right);
  switch (relation) {
    case "==":
      return one === other;
    case "!=":
      return one !== other;
    case ">=":
      return one >= other;
    case "<=":
      return one <= other;
    case ">":
      return one > other;
    case "<":
      return one < other;
  }
}

/** `x == 3 in ± 0.1 in` and `x == 2..4 in` ask whether x lies between two bounds. */
function comparedBounds(node: syntax.BinaryExpression): syntax.Expression | undefined {
  if (node.operator !== "==" && node.operator !== "!=") return undefined;
  const { left, right, span } = node;
  const binary = (
    operator: syntax.BinaryOperator,
    one: syntax.Expression,
    other: syntax.Expression,
  ): syntax.Expression => ({ type: "binary", operator, left: one, right: other, span });
  let between: syntax.Expression | undefined;
  if (right.type === "limits") {
    between = binary("and", binary(">=", left, right.low), binary("<=", left, right.high));
  } else if (right.type === "tolerance") {
    between = binary(
      "and",
      binary(">=", left, binary("-", right.nominal, right.by)),
      binary("<=", left, binary("+", right.nominal, right.by)),
    );
  }
  if (between === undefined || node.operator === "==") return between;
  return { type: "unary", operator: "not", operand: between, span };
}
