/**
 * Expressions flattened into tapes: a row of operations whose inputs stand earlier in the row, laid
 * once and then run as often as needed without allocating.
 *
 * Must not know: what the operations mean, equations, systems.
 *
 *   tapeOf({ op: "add", left: slot(0), right: slot(1) })   // slot 0, slot 1, add
 */
import {
  type Condition,
  choice,
  type Expression,
  type FunctionName,
  type LookupCurve,
} from "./expression";
import { isBinary, type TwoSided, visit } from "./walk";

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
  /** Scratch: how large the numbers are that each position's value came from. */
  readonly sizes: Float64Array;
  /** Whether some operation has a kink or a jump: min, max, abs, round, if, look-ups. */
  readonly kinked: boolean;
  /** Scratch of runs over intervals, made when first needed. */
  ranges: TapeRanges | undefined;
}

/** Least and greatest value, and least and greatest derivative of the result, at each position. */
export interface TapeRanges {
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly slopeLow: Float64Array;
  readonly slopeHigh: Float64Array;
  /** Set where, somewhere in the last box, an operation that counts had no value. */
  partial: boolean;
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
interface Draft {
  readonly codes: number[];
  readonly first: number[];
  readonly second: number[];
  readonly third: number[];
  readonly curves: (LookupCurve | undefined)[];
  readonly constants: number[];
  /** Operations laid already, so that the same one on the same inputs is laid once. */
  readonly known: Map<number, number>;
}

/** Flattens expressions that share slots onto one tape. */
export function compile(expressions: readonly Expression[]): Tape {
  const draft: Draft = {
    codes: [],
    first: [],
    second: [],
    third: [],
    curves: [],
    constants: [],
    known: new Map(),
  };
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
    sizes: work.map(Math.abs),
    kinked: draft.codes.some(isKink),
    ranges: undefined,
  };
}

/** The scratch a tape is run over intervals with. */
export function rangesOf(tape: Tape): TapeRanges {
  if (tape.ranges === undefined) {
    const length = tape.codes.length;
    tape.ranges = {
      low: new Float64Array(length),
      high: new Float64Array(length),
      slopeLow: new Float64Array(length),
      slopeHigh: new Float64Array(length),
      partial: false,
    };
    for (let i = 0; i < length; i++) {
      if (tape.codes[i] !== CONSTANT) continue;
      tape.ranges.low[i] = tape.work[i]!;
      tape.ranges.high[i] = tape.work[i]!;
    }
  }
  return tape.ranges;
}

function isKink(code: number): boolean {
  return code === ABS || code === MIN || code === MAX || (code >= ROUND && code <= IF);
}

/** Positions beyond this are not looked up, so that a key stays a whole number. */
const MOST_KNOWN = 1 << 16;

/** Lays an operation once: the same one on the same inputs is found again, so that x · x is a square. */
function pushOnce(draft: Draft, code: number, first: number, second: number): number {
  if (draft.codes.length >= MOST_KNOWN) return push(draft, code, first, second, 0);
  const key = (code * MOST_KNOWN + first) * MOST_KNOWN + second;
  let position = draft.known.get(key);
  if (position === undefined) {
    position = push(draft, code, first, second, 0);
    draft.known.set(key, position);
  }
  return position;
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
      return pushOnce(draft, NEGATE, lay(expression.of, draft, slots, numbers), 0);
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
      const spine: TwoSided[] = [];
      let lowest: Expression = expression;
      while (isBinary(lowest)) {
        spine.push(lowest);
        lowest = lowest.left;
      }
      let left = lay(lowest, draft, slots, numbers);
      for (let i = spine.length - 1; i >= 0; i--) {
        const binary = spine[i]!;
        const right = lay(binary.right, draft, slots, numbers);
        left = pushOnce(draft, BINARY[binary.op], left, right);
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
    return inputs.reduce((left, right) => pushOnce(draft, code, left, right));
  }
  const second = inputs[1] ?? numbers.get(code >= ROUND ? 1 : 0)!;
  return pushOnce(draft, code, inputs[0]!, second);
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
