/**
 * Calls in formulas: functions, what puts several values together, kits, and tables.
 *
 *     max(3 in, width)    item(ratios, 3)    stack(kit.sizes, gap, 0.1 mm)    load_index(94)
 *
 * Must not know: operators and conditions, what holds the formula.
 */
import type * as syntax from "../../grammar/syntax";
import type { Expression, FunctionName } from "../solve/expression";
import { mostPiecesInStack, stackCountCurve, stackCurve } from "../solve/stack";
import { dimensionless, power } from "../units";
import type { TableDefinition } from "./definition";
import type { Formula } from "./formula";
import {
  combined,
  constant,
  type FormulaValue,
  flattened,
  folded,
  knownNumbers,
  type NumberValue,
  nothing,
} from "./formula-value";
import { type KeyValue, lookUp } from "./look-up";
import { nearest } from "./spelling";

const angleFunctions = new Set(["sin", "cos", "tan"]);
const plainFunctions = new Set(["exp", "log", "asin", "acos", "atan"]);
const keepingFunctions = new Set(["abs", "min", "max", "round", "floor", "ceil"]);
const steppedFunctions = new Set(["round", "floor", "ceil"]);
const aggregateFunctions = new Set(["sum", "mean", "count", "min", "max"]);
/** Every function there is, for messages, completion and colors. */
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

/** The value of a call of a function or a table. */
export function callValue<R>(formula: Formula<R>, node: syntax.CallExpression): FormulaValue {
  const name = node.callee.names[0].text;
  const table = formula.environment.vocabulary.tables.get(name);
  if (table !== undefined) return tableCall(formula, node, table);
  if (node.callee.names.length === 1) {
    if (name === "given") return givenCall(formula, node);
    if (name === "each") return eachCall(formula, node);
    const values = node.arguments.map((argument) => formula.value(argument));
    if (values.some((value) => value.is === "nothing")) return nothing;
    const several = values.some((value) => value.is === "list");
    if (aggregateFunctions.has(name) && (several || !keepingFunctions.has(name)))
      return aggregateCall(formula, node, name, values);
    if (name === "item") return itemCall(formula, node, values);
    if (name === "stack" || name === "stack_count") return stackCall(formula, node, name, values);
    return functionCall(formula, node, name, values);
  }
  unknownFunction(formula, node);
  return nothing;
}

function functionCall<R>(
  formula: Formula<R>,
  node: syntax.CallExpression,
  name: string,
  values: readonly FormulaValue[],
): FormulaValue {
  const numbers = values.filter((value): value is NumberValue => value.is === "number");
  if (numbers.length !== values.length) {
    formula.problem({ is: "value/not-a-number function", name }, node.span);
    return nothing;
  }
  const range = argumentCounts[name];
  if (range === undefined) {
    unknownFunction(formula, node);
    return nothing;
  }
  const [least, most] = range;
  const count = numbers.length;
  if (count < least || count > most) {
    formula.problem({ is: "value/arguments", name, least, most, count }, node.span);
    return nothing;
  }
  const [first, second] = numbers as [NumberValue, NumberValue | undefined];
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
    if (second !== undefined) formula.agree(first, second, node.span, "atan2");
    return { is: "number", expression, dimension: dimensionless };
  }
  if (angleFunctions.has(name) || plainFunctions.has(name)) {
    if (first.dimension.key !== "") {
      const { dimension } = first;
      const angle = angleFunctions.has(name);
      formula.problem({ is: "unit/clash argument", name, angle, dimension }, node.span);
    }
    return { is: "number", expression, dimension: dimensionless };
  }
  for (const other of numbers.slice(1)) formula.agree(first, other, node.span, name);
  if (steppedFunctions.has(name) && second === undefined && first.dimension.key !== "") {
    formula.problem({ is: "value/arguments step", name }, node.span);
  }
  const base = numbers.find((number) => !number.zero) ?? first;
  return { is: "number", expression, dimension: base.dimension, measure: base.measure };
}

function aggregateCall<R>(
  formula: Formula<R>,
  node: syntax.CallExpression,
  name: string,
  values: readonly FormulaValue[],
): FormulaValue {
  const items = values.flatMap(flattened);
  if (name === "count") return constant(items.length, dimensionless);
  const numbers = items.filter((item): item is NumberValue => item.is === "number");
  if (numbers.length !== items.length) {
    if (!formula.later && formula.applies)
      formula.problem({ is: "value/not-a-number function", name }, node.span);
    return nothing;
  }
  const [first, ...others] = numbers;
  if (first === undefined) {
    if (name === "sum") return constant(0, dimensionless, undefined, true);
    formula.applies = false;
    return nothing;
  }
  for (const other of others) formula.agree(first, other, node.span, name);
  if (name === "min" || name === "max") {
    return {
      ...first,
      known: undefined,
      expression: folded({ op: "call", name, of: numbers.map((number) => number.expression) }),
    };
  }
  const total = totalOf(numbers, first);
  if (name === "sum") return total;
  return combined(
    "divide",
    total,
    constant(numbers.length, dimensionless),
    first.dimension,
    first.measure,
  );
}

/** Halves are added to halves: whoever walks through the sum goes a few levels deep, not thousands. */
function totalOf(numbers: readonly NumberValue[], first: NumberValue): NumberValue {
  if (numbers.length === 1) return numbers[0]!;
  const middle = numbers.length >> 1;
  return combined(
    "add",
    totalOf(numbers.slice(0, middle), first),
    totalOf(numbers.slice(middle), first),
    first.dimension,
    first.measure,
  );
}

/** `item(ratios, 3)`: one of a list, counted from 1. */
function itemCall<R>(
  formula: Formula<R>,
  node: syntax.CallExpression,
  values: readonly FormulaValue[],
): FormulaValue {
  const [list, place] = values;
  if (list?.is !== "list" || place?.is !== "number" || values.length !== 2) {
    formula.problem({ is: "value/arguments item" }, node.span);
    return nothing;
  }
  const known = place.known?.();
  if (known === undefined) {
    formula.later = true;
    return nothing;
  }
  const found = list.items[known - 1];
  if (found === undefined) {
    formula.applies = false;
    return nothing;
  }
  return found;
}

/**
 * `stack(sizes, wanted, allowed)`: what the fewest pieces of a kit add up to, as near to the
 * wanted size as is allowed; `stack_count` is how many pieces that takes.
 */
function stackCall<R>(
  formula: Formula<R>,
  node: syntax.CallExpression,
  name: string,
  values: readonly FormulaValue[],
): FormulaValue {
  const [list, wanted, allowed, counts] = values;
  if (
    values.length > 4 ||
    list?.is !== "list" ||
    wanted?.is !== "number" ||
    allowed?.is !== "number" ||
    (counts !== undefined && counts.is !== "list")
  ) {
    formula.problem({ is: "value/arguments stack", name }, node.span);
    return nothing;
  }
  const numbers = list.items
    .flatMap(flattened)
    .filter((size): size is NumberValue => size.is === "number");
  const known = knownNumbers(list);
  const quantities = counts === undefined ? undefined : knownNumbers(counts);
  const leftOver = allowed.known?.();
  if (known === undefined || known.length === 0 || leftOver === undefined) {
    formula.later = true;
    return nothing;
  }
  for (const size of numbers) formula.agree(size, wanted, node.span, name);
  formula.agree(wanted, allowed, node.span, name);
  const count = name === "stack_count";
  const curve = (count ? stackCountCurve : stackCurve)(
    known,
    mostPiecesInStack,
    leftOver,
    quantities,
  );
  if (!count) {
    formula.stacks.push({
      kit: listKey(formula, node.arguments[0]),
      sizes: known,
      quantities,
      allowed: leftOver,
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
function listKey<R>(formula: Formula<R>, node: syntax.Expression | undefined): string {
  const denotation = node?.type === "path" ? formula.environment.denote(node) : undefined;
  const first = denotation?.is === "list" ? denotation.items[0] : undefined;
  if (first?.is !== "quantity") return "";
  return formula.environment.keyOf(first.reference).replace(/\[\d+\]$/, "");
}

function givenCall<R>(formula: Formula<R>, node: syntax.CallExpression): FormulaValue {
  const [argument] = node.arguments;
  if (argument?.type !== "path" || node.arguments.length !== 1) {
    formula.problem({ is: "value/arguments given" }, node.span);
    return nothing;
  }
  const given = formula.environment.isGiven(argument);
  if (given === undefined) {
    formula.later = true;
    return nothing;
  }
  if (typeof given === "object")
    return formula.denoted({ is: "unknown", problem: given }, node.span);
  return { is: "word", value: given };
}

function eachCall<R>(formula: Formula<R>, node: syntax.CallExpression): FormulaValue {
  const [argument] = node.arguments;
  const kind =
    argument?.type === "path" && argument.names.length === 1 ? argument.names[0] : undefined;
  if (kind === undefined || node.arguments.length !== 1) {
    formula.problem({ is: "value/arguments each" }, node.span);
    return nothing;
  }
  if (!formula.environment.vocabulary.kinds.has(kind.text)) {
    const { text: name } = kind;
    const near = nearest(name, formula.environment.vocabulary.kinds.keys());
    formula.problem({ is: "name/unknown-kind called", name, near }, kind.span);
    return nothing;
  }
  return formula.denoted(formula.environment.each(kind.text, node.rest, node.span), node.span);
}

function tableCall<R>(
  formula: Formula<R>,
  node: syntax.CallExpression,
  table: TableDefinition,
): FormulaValue {
  const columnName = node.callee.names[1]?.text;
  const keys: KeyValue[] = [];
  for (const argument of node.arguments) {
    const value = formula.value(argument);
    if (value.is === "nothing") return nothing;
    if (value.is === "list") {
      formula.problem({ is: "value/list key" }, argument.span);
      return nothing;
    }
    if (value.is === "number" && value.settled && value.known?.() === undefined) {
      formula.later = true;
      return nothing;
    }
    keys.push(value.is === "number" ? { ...value, known: value.known?.() } : value);
  }
  const found = lookUp(table, columnName, keys);
  if (found.misuse !== undefined) {
    formula.problem(found.misuse, node.span);
    return nothing;
  }
  if (found.missed !== undefined) {
    // Keys that only this thing has: the table is silent, so what uses it does not apply.
    formula.environment.notInTable?.({ table: table.title, missed: found.missed }, node.span);
    formula.applies = false;
    return nothing;
  }
  if (found.later) {
    formula.later = true;
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

function unknownFunction<R>(formula: Formula<R>, node: syntax.CallExpression): void {
  const text = node.callee.names.map((each) => each.text).join(".");
  const near = nearest(text, [...functionNames, ...formula.environment.vocabulary.tables.keys()]);
  const known = { name: text, near, functions: functionNames };
  formula.problem({ is: "name/unknown-function", ...known }, node.callee.span);
}

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
