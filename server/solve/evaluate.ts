/**
 * Values of expressions. An expression is flattened once into a tape (a row of operations whose
 * inputs stand earlier in the row), and the tape is run as often as needed without allocating.
 *
 * Comparisons, `round`, `floor`, `ceil` and table keys forgive a relative difference of 1e-9, so
 * that a gap of exactly 5/8 in which was reached through a dozen additions still is `>= 5/8 in`.
 * Where an operation has no value (0/0, the root of a negative number, outside a table) the result
 * is NaN, and NaN spreads to everything that uses it; nothing here throws.
 *
 * Must not know: equations, variables, systems.
 *
 *   evaluate(tapeOf({ op: "slot", index: 0 }), Float64Array.of(7), [0])   // 7
 */
import {
  type Condition,
  choice,
  type Expression,
  type FunctionName,
  type LookupCurve,
} from "./expression";

export const CONSTANT = 0;
export const SLOT = 1;
export const ADD = 2;
export const SUBTRACT = 3;
export const MULTIPLY = 4;
export const DIVIDE = 5;
export const POWER = 6;
export const NEGATE = 7;
export const ABS = 8;
export const SQRT = 9;
export const MIN = 10;
export const MAX = 11;
export const EXP = 12;
export const LOG = 13;
export const SIN = 14;
export const COS = 15;
export const TAN = 16;
export const ASIN = 17;
export const ACOS = 18;
export const ATAN = 19;
export const ATAN2 = 20;
export const ROUND = 21;
export const FLOOR = 22;
export const CEIL = 23;
export const LOOKUP = 24;
/** `first` is the condition (1, 0 or NaN), `second` and `third` the branches. */
export const IF = 25;
export const AT_LEAST = 26;
export const AT_MOST = 27;
export const MORE = 28;
export const LESS = 29;
export const EQUAL = 30;
export const UNEQUAL = 31;
export const AND = 32;
export const OR = 33;
export const NOT = 34;

/** Two numbers closer than this, relative to the larger, count as equal. */
export const CLOSE = 1e-9;

export interface Tape {
  readonly codes: Uint8Array;
  /** Positions on the tape of the inputs; for `SLOT`, `first` is the slot's index. */
  readonly first: Int32Array;
  readonly second: Int32Array;
  readonly third: Int32Array;
  /** For `LOOKUP` only. */
  readonly curves: readonly (LookupCurve | undefined)[];
  /** Position of the tape's first operation that is neither a constant nor a slot. */
  readonly start: number;
  /** Position of each distinct slot that occurs, and the slot it stands for. */
  readonly slotPositions: Int32Array;
  readonly slotIndices: Int32Array;
  /** Where the asked expressions' values stand, in the order in which they were given. */
  readonly results: Int32Array;
  /** Scratch: the values of the last run; constants stand here for good. */
  readonly work: Float64Array;
  /** Scratch of the reverse sweep. */
  readonly adjoint: Float64Array;
  /** Whether some operation has a kink or a jump: min, max, abs, round, if, look-ups. */
  readonly kinked: boolean;
}

const tapes = new WeakMap<object, Tape>();

/** The tape of one expression, kept for as long as the expression lives. */
export function tapeOf(expression: Expression): Tape {
  let tape = tapes.get(expression);
  if (tape === undefined) {
    tape = compile([expression]);
    tapes.set(expression, tape);
  }
  return tape;
}

/** The tape of a condition: its value is 1, 0, or NaN where it cannot be told. */
export function conditionTapeOf(condition: Condition): Tape {
  let tape = tapes.get(condition);
  if (tape === undefined) {
    tape = compile([choice(condition, { op: "number", value: 1 }, { op: "number", value: 0 })]);
    tapes.set(condition, tape);
  }
  return tape;
}

/** Value of a tape's (first) result; `variables[i]` says where in `values` slot i is found. */
export function evaluate(tape: Tape, values: Float64Array, variables: ArrayLike<number>): number {
  load(tape, values, variables);
  run(tape);
  return tape.work[tape.results[0]!]!;
}

/** Puts the slots' values on the tape. */
export function load(tape: Tape, values: Float64Array, variables: ArrayLike<number>): void {
  const { work, slotPositions, slotIndices } = tape;
  for (let i = 0; i < slotPositions.length; i++) {
    work[slotPositions[i]!] = values[variables[slotIndices[i]!]!]!;
  }
}

/** Runs the operations over whatever the slots hold. */
export function run(tape: Tape): void {
  const { codes, first, second, third, work } = tape;
  for (let i = tape.start; i < codes.length; i++) {
    const a = work[first[i]!]!;
    const b = work[second[i]!]!;
    switch (codes[i]) {
      case ADD:
        work[i] = a + b;
        break;
      case SUBTRACT:
        work[i] = a - b;
        break;
      case MULTIPLY:
        work[i] = a * b;
        break;
      case DIVIDE:
        work[i] = b === 0 ? Number.NaN : a / b;
        break;
      case NEGATE:
        work[i] = -a;
        break;
      case IF:
        work[i] = Number.isNaN(a) ? Number.NaN : a === 1 ? b : work[third[i]!]!;
        break;
      case LOOKUP:
        work[i] = lookUp(tape.curves[i]!, a);
        break;
      default:
        work[i] = apply(codes[i]!, a, b);
    }
  }
}

function apply(code: number, a: number, b: number): number {
  switch (code) {
    case POWER:
      return finite(a ** b);
    case ABS:
      return Math.abs(a);
    case SQRT:
      return Math.sqrt(a);
    case MIN:
      return Math.min(a, b);
    case MAX:
      return Math.max(a, b);
    case EXP:
      return finite(Math.exp(a));
    case LOG:
      return finite(Math.log(a));
    case SIN:
      return Math.sin(a);
    case COS:
      return Math.cos(a);
    case TAN:
      return Math.tan(a);
    case ASIN:
      return Math.asin(a);
    case ACOS:
      return Math.acos(a);
    case ATAN:
      return Math.atan(a);
    case ATAN2:
      return Math.atan2(a, b);
    case ROUND:
      return toStep(a, b, roundHalfAway);
    case FLOOR:
      return toStep(a, b, Math.floor);
    case CEIL:
      return toStep(a, b, Math.ceil);
    case AT_LEAST:
      return Number.isNaN(a - b) ? Number.NaN : a >= b || close(a, b) ? 1 : 0;
    case AT_MOST:
      return Number.isNaN(a - b) ? Number.NaN : a <= b || close(a, b) ? 1 : 0;
    case MORE:
      return Number.isNaN(a - b) ? Number.NaN : a > b && !close(a, b) ? 1 : 0;
    case LESS:
      return Number.isNaN(a - b) ? Number.NaN : a < b && !close(a, b) ? 1 : 0;
    case EQUAL:
      return Number.isNaN(a - b) ? Number.NaN : close(a, b) ? 1 : 0;
    case UNEQUAL:
      return Number.isNaN(a - b) ? Number.NaN : close(a, b) ? 0 : 1;
    // A false side settles an "and", a true side an "or", whatever the other side may be.
    case AND:
      return a === 0 || b === 0 ? 0 : a * b;
    case OR:
      return a === 1 || b === 1 ? 1 : a + b;
    case NOT:
      return 1 - a;
    default:
      return Number.NaN;
  }
}

export function close(a: number, b: number): boolean {
  return Math.abs(a - b) <= CLOSE * Math.max(Math.abs(a), Math.abs(b));
}

function finite(value: number): number {
  return Number.isFinite(value) ? value : Number.NaN;
}

function roundHalfAway(value: number): number {
  return Math.sign(value) * Math.floor(Math.abs(value) + 0.5 + CLOSE);
}

function toStep(value: number, step: number, way: (value: number) => number): number {
  const size = Math.abs(step);
  const count = value / size;
  if (size === 0 || !Number.isFinite(count)) return Number.NaN;
  const nearest = Math.round(count);
  return (close(nearest, count) ? nearest : way(count)) * size;
}

/** Value of a curve at a key, or NaN where it has none. */
export function lookUp(curve: LookupCurve, key: number): number {
  const { keys, values } = curve;
  const at = segmentOf(curve, key);
  if (at < 0) return Number.NaN;
  const left = keys[at]!;
  if (curve.method !== "linear") {
    if (curve.method === "step" || close(left, key)) return values[at]!;
    return at + 1 < keys.length && close(keys[at + 1]!, key) ? values[at + 1]! : Number.NaN;
  }
  if (at + 1 >= keys.length) return values[at]!;
  const right = keys[at + 1]!;
  if (key <= left) return values[at]!;
  if (key >= right) return values[at + 1]!;
  const share = (key - left) / (right - left);
  return values[at]! + share * (values[at + 1]! - values[at]!);
}

/**
 * Number of the last key not above the asked one, -1 outside the keys. For `linear` the last
 * segment also holds the last key; for the others a key that is just missed by rounding counts.
 */
export function segmentOf(curve: LookupCurve, key: number): number {
  const { keys } = curve;
  const count = Math.min(keys.length, curve.values.length);
  if (count === 0 || Number.isNaN(key)) return -1;
  const lowest = keys[0]!;
  const highest = keys[count - 1]!;
  if (key < lowest) return close(key, lowest) ? 0 : -1;
  if (key > highest && !close(key, highest)) return -1;
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    const bound = keys[middle]!;
    if (bound <= key || (curve.method !== "linear" && close(bound, key))) low = middle;
    else high = middle - 1;
  }
  return curve.method === "linear" ? Math.min(low, Math.max(0, count - 2)) : low;
}

interface Draft {
  readonly codes: number[];
  readonly first: number[];
  readonly second: number[];
  readonly third: number[];
  readonly curves: (LookupCurve | undefined)[];
  readonly constants: number[];
}

/** Flattens expressions that share slots onto one tape. */
export function compile(expressions: readonly Expression[]): Tape {
  const draft: Draft = { codes: [], first: [], second: [], third: [], curves: [], constants: [] };
  const slots = new Map<number, number>();
  const numbers = new Map<number, number>();
  const collect = (expression: Expression): void => {
    if (expression.op === "slot") slots.set(expression.index, 0);
    else if (expression.op === "number") numbers.set(expression.value, 0);
  };
  for (const expression of expressions) visit(expression, collect);
  numbers.set(1, 0);
  numbers.set(0, 0);
  for (const value of numbers.keys()) {
    numbers.set(value, push(draft, CONSTANT, 0, 0, 0));
    draft.constants.push(value);
  }
  const slotPositions: number[] = [];
  const slotIndices: number[] = [];
  for (const index of slots.keys()) {
    const position = push(draft, SLOT, index, 0, 0);
    slots.set(index, position);
    slotPositions.push(position);
    slotIndices.push(index);
  }
  const start = draft.codes.length;
  const results = expressions.map((expression) => lay(expression, draft, slots, numbers));
  const work = new Float64Array(draft.codes.length);
  work.set(draft.constants);
  return {
    codes: Uint8Array.from(draft.codes),
    first: Int32Array.from(draft.first),
    second: Int32Array.from(draft.second),
    third: Int32Array.from(draft.third),
    curves: draft.curves,
    start,
    slotPositions: Int32Array.from(slotPositions),
    slotIndices: Int32Array.from(slotIndices),
    results: Int32Array.from(results),
    work,
    adjoint: new Float64Array(draft.codes.length),
    kinked: draft.codes.some(isKink),
  };
}

function isKink(code: number): boolean {
  return code === ABS || code === MIN || code === MAX || (code >= ROUND && code <= IF);
}

/**
 * Calls `see` for an expression and for every expression within it, conditions included. Goes down
 * the left side in a loop, so that a sum of thousands of terms does not exhaust the stack.
 */
export function visit(whole: Expression, see: (expression: Expression) => void): void {
  let expression = whole;
  while (isBinary(expression)) {
    see(expression);
    visit(expression.right, see);
    expression = expression.left;
  }
  see(expression);
  switch (expression.op) {
    case "number":
    case "slot":
      return;
    case "negate":
    case "lookup":
      visit(expression.of, see);
      return;
    case "call":
      for (const part of expression.of) visit(part, see);
      return;
    case "if":
      visitCondition(expression.condition, see);
      visit(expression.then, see);
      visit(expression.else, see);
      return;
  }
}

export type BinaryExpression = Extract<Expression, { left: Expression }>;

export function isBinary(expression: Expression): expression is BinaryExpression {
  return "right" in expression;
}

export function visitCondition(condition: Condition, see: (expression: Expression) => void): void {
  switch (condition.op) {
    case "always":
      return;
    case "not":
      visitCondition(condition.of, see);
      return;
    case "compare":
      visit(condition.left, see);
      visit(condition.right, see);
      return;
    default:
      visitCondition(condition.left, see);
      visitCondition(condition.right, see);
  }
}

function push(draft: Draft, code: number, first: number, second: number, third: number): number {
  draft.codes.push(code);
  draft.first.push(first);
  draft.second.push(second);
  draft.third.push(third);
  draft.curves.push(undefined);
  return draft.codes.length - 1;
}

const BINARY = { add: ADD, subtract: SUBTRACT, multiply: MULTIPLY, divide: DIVIDE, power: POWER };

const CALLS: Readonly<Record<FunctionName, number>> = {
  abs: ABS,
  sqrt: SQRT,
  min: MIN,
  max: MAX,
  exp: EXP,
  log: LOG,
  sin: SIN,
  cos: COS,
  tan: TAN,
  asin: ASIN,
  acos: ACOS,
  atan: ATAN,
  atan2: ATAN2,
  round: ROUND,
  floor: FLOOR,
  ceil: CEIL,
};

const RELATIONS = {
  ">=": AT_LEAST,
  "<=": AT_MOST,
  ">": MORE,
  "<": LESS,
  "==": EQUAL,
  "!=": UNEQUAL,
};

type Positions = ReadonlyMap<number, number>;

function lay(expression: Expression, draft: Draft, slots: Positions, numbers: Positions): number {
  switch (expression.op) {
    case "number":
      return numbers.get(expression.value)!;
    case "slot":
      return slots.get(expression.index)!;
    case "negate":
      return push(draft, NEGATE, lay(expression.of, draft, slots, numbers), 0, 0);
    case "lookup": {
      const key = lay(expression.of, draft, slots, numbers);
      const position = push(draft, LOOKUP, key, 0, 0);
      draft.curves[position] = expression.curve;
      return position;
    }
    case "if": {
      const condition = layCondition(expression.condition, draft, slots, numbers);
      const yes = lay(expression.then, draft, slots, numbers);
      const no = lay(expression.else, draft, slots, numbers);
      return push(draft, IF, condition, yes, no);
    }
    case "call":
      return layCall(expression.name, expression.of, draft, slots, numbers);
    default: {
      const spine: BinaryExpression[] = [];
      let lowest: Expression = expression;
      while (isBinary(lowest)) {
        spine.push(lowest);
        lowest = lowest.left;
      }
      let left = lay(lowest, draft, slots, numbers);
      for (let i = spine.length - 1; i >= 0; i--) {
        const binary = spine[i]!;
        const right = lay(binary.right, draft, slots, numbers);
        left = push(draft, BINARY[binary.op], left, right, 0);
      }
      return left;
    }
  }
}

function layCall(
  name: FunctionName,
  parts: readonly Expression[],
  draft: Draft,
  slots: Positions,
  numbers: Positions,
): number {
  const code = CALLS[name];
  const inputs = parts.map((part) => lay(part, draft, slots, numbers));
  // A call without anything in it has no value: 0/0.
  if (inputs.length === 0) return push(draft, DIVIDE, numbers.get(0)!, numbers.get(0)!, 0);
  if (name === "min" || name === "max") {
    return inputs.reduce((left, right) => push(draft, code, left, right, 0));
  }
  const second = inputs[1] ?? numbers.get(code >= ROUND ? 1 : 0)!;
  return push(draft, code, inputs[0]!, second, 0);
}

function layCondition(
  condition: Condition,
  draft: Draft,
  slots: Positions,
  numbers: Positions,
): number {
  switch (condition.op) {
    case "always":
      return numbers.get(condition.value ? 1 : 0)!;
    case "not":
      return push(draft, NOT, layCondition(condition.of, draft, slots, numbers), 0, 0);
    case "compare": {
      const left = lay(condition.left, draft, slots, numbers);
      const right = lay(condition.right, draft, slots, numbers);
      return push(draft, RELATIONS[condition.relation], left, right, 0);
    }
    default: {
      const left = layCondition(condition.left, draft, slots, numbers);
      const right = layCondition(condition.right, draft, slots, numbers);
      return push(draft, condition.op === "and" ? AND : OR, left, right, 0);
    }
  }
}
