/**
 * Turns an equation round: from `left = right` to `slot = …`, where the slot occurs once. Operations
 * that more than one number satisfies (squares, sines, magnitudes) give several branches; the caller
 * keeps those inside the field's range that satisfy the equation.
 *
 * Must not know: variables, ranges, systems.
 *
 *   branchesFor({ left: slot(0), right: slot(1) * slot(1) }, 1)   // √slot(0) and −√slot(0)
 */

import { goOn } from "../keep/patience";
import { choice, type Expression, type LookupCurve } from "./expression";
import type { EquationForm } from "./system";
import { compile, type Tape } from "./tape";
import { isBinary, visit } from "./walk";

export interface Branches {
  readonly tapes: readonly Tape[];
  readonly expressions: readonly Expression[];
  /** Whether a branch's value must be put back into the equation to see whether it is an answer. */
  readonly check: boolean;
  /** Answers repeat with each turn: the branches take in those within a turn of 0. */
  readonly repeats: boolean;
}

/** The branches, or undefined where the slot occurs more than once or cannot be reached. */
export function branchesFor(form: EquationForm, slot: number): Branches | undefined {
  const inLeft = occurrences(form.left, slot);
  const inRight = occurrences(form.right, slot);
  if (inLeft + inRight !== 1) return undefined;
  const side = inLeft === 1 ? form.left : form.right;
  const path = new Set<Expression>();
  if (!findPath(side, slot, path)) return undefined;
  const state: State = { path, check: false, repeats: false, results: [] };
  const reached = invert(side, inLeft === 1 ? form.right : form.left, state);
  if (!reached || state.results.length === 0) return undefined;
  return {
    tapes: state.results.map((result) => compile([result])),
    expressions: state.results,
    check: state.check || state.results.length > 1,
    repeats: state.repeats,
  };
}

/** How often a slot occurs, conditions included. */
export function occurrences(expression: Expression, slot: number): number {
  let count = 0;
  visit(expression, (part) => {
    goOn(10);
    if (part.op === "slot" && part.index === slot) count++;
  });
  return count;
}

/**
 * Collects the expressions from a side down to the one place where the slot stands; false where it
 * stands only in a condition. Sums are followed in a loop, so that long ones do not exhaust the stack.
 */
function findPath(whole: Expression, slot: number, path: Set<Expression>): boolean {
  goOn();
  const spine: Expression[] = [];
  let part = whole;
  let found = false;
  while (isBinary(part)) {
    spine.push(part);
    found = findPath(part.right, slot, path);
    if (found) break;
    part = part.left;
  }
  if (!found) {
    found = isOnPath(part, slot, path);
    if (found) path.add(part);
  }
  if (found) for (const above of spine) path.add(above);
  return found;
}

function isOnPath(part: Expression, slot: number, path: Set<Expression>): boolean {
  switch (part.op) {
    case "slot":
      return part.index === slot;
    case "negate":
    case "lookup":
      return findPath(part.of, slot, path);
    case "call":
      return part.of.some((inner) => findPath(inner, slot, path));
    case "if":
      return findPath(part.then, slot, path) || findPath(part.else, slot, path);
    default:
      return false;
  }
}

interface State {
  /** The expressions that contain the slot. */
  readonly path: ReadonlySet<Expression>;
  check: boolean;
  repeats: boolean;
  readonly results: Expression[];
}

const PI = Math.PI;
const number = (value: number): Expression => ({ op: "number", value });
const add = (left: Expression, right: Expression): Expression => ({ op: "add", left, right });
const subtract = (left: Expression, right: Expression): Expression => ({
  op: "subtract",
  left,
  right,
});
const multiply = (left: Expression, right: Expression): Expression => ({
  op: "multiply",
  left,
  right,
});
const divide = (left: Expression, right: Expression): Expression => ({ op: "divide", left, right });
const power = (left: Expression, right: Expression): Expression => ({ op: "power", left, right });
const negate = (of: Expression): Expression => ({ op: "negate", of });
const call = (
  name: Extract<Expression, { op: "call" }>["name"],
  ...of: Expression[]
): Expression => ({ op: "call", name, of });

/** Solves `whole = wanted` for the slot; false where some operation on the way has no inverse. */
function invert(whole: Expression, wanted: Expression, state: State): boolean {
  let part = whole;
  let target = wanted;
  for (;;) {
    switch (part.op) {
      case "slot":
        state.results.push(target);
        return true;
      case "number":
        return false;
      case "negate":
        target = negate(target);
        part = part.of;
        break;
      case "add":
        if (inside(part.left, state)) {
          target = subtract(target, part.right);
          part = part.left;
        } else {
          target = subtract(target, part.left);
          part = part.right;
        }
        break;
      case "subtract":
        if (inside(part.left, state)) {
          target = add(target, part.right);
          part = part.left;
        } else {
          target = subtract(part.left, target);
          part = part.right;
        }
        break;
      case "multiply":
        if (inside(part.left, state)) {
          target = divide(target, part.right);
          part = part.left;
        } else {
          target = divide(target, part.left);
          part = part.right;
        }
        break;
      case "divide":
        if (inside(part.left, state)) {
          target = multiply(target, part.right);
          // Multiplying by a divisor that turns out to be 0 would hide that nothing is defined.
          if (part.right.op !== "number") state.check = true;
          part = part.left;
        } else {
          target = divide(part.left, target);
          // 0 / x = 0 has every x, and 0 / x = 1 none: the check tells.
          state.check = true;
          part = part.right;
        }
        break;
      case "power":
        return invertPower(part.left, part.right, target, state);
      case "lookup": {
        const inverses = inversesOf(part.curve);
        if (inverses === undefined) return false;
        const keys = inverses.map((curve): Expression => ({ op: "lookup", curve, of: target }));
        if (keys.length > 1) return several(part.of, keys, state);
        target = keys[0] ?? target;
        part = part.of;
        break;
      }
      case "if": {
        state.check = true;
        part = inside(part.then, state) ? part.then : part.else;
        break;
      }
      case "call":
        return invertCall(part, target, state);
    }
  }
}

function inside(expression: Expression, state: State): boolean {
  return state.path.has(expression);
}

function several(part: Expression, targets: readonly Expression[], state: State): boolean {
  state.check = true;
  return targets.map((target) => invert(part, target, state)).every(Boolean);
}

function invertPower(
  base: Expression,
  exponent: Expression,
  target: Expression,
  state: State,
): boolean {
  if (!inside(base, state)) {
    return several(exponent, [divide(call("log", target), call("log", base))], state);
  }
  if (exponent.op === "number" && Number.isInteger(exponent.value)) {
    const value = exponent.value;
    if (value === 0) return false;
    if (value === 1) return invert(base, target, state);
    const root =
      value === 2
        ? call("sqrt", target)
        : power(value % 2 === 0 ? target : call("abs", target), number(1 / value));
    if (value % 2 === 0) return several(base, [root, negate(root)], state);
    const signed = choice(
      { op: "compare", relation: "<", left: target, right: number(0) },
      negate(root),
      root,
    );
    return several(base, [signed], state);
  }
  const root = power(target, divide(number(1), exponent));
  if (exponent.op === "number") return several(base, [root], state);
  // The exponent may turn out to be an even or odd whole number; the check tells which sign fits.
  const odd = power(call("abs", target), divide(number(1), exponent));
  return several(base, [odd, negate(odd)], state);
}

function invertCall(
  part: Extract<Expression, { op: "call" }>,
  target: Expression,
  state: State,
): boolean {
  const of = part.of[0];
  if (of === undefined) return false;
  const turns = [-1, 0, 1];
  switch (part.name) {
    case "abs":
      return several(of, [target, negate(target)], state);
    case "sqrt":
      return several(of, [multiply(target, target)], state);
    case "exp":
      return several(of, [call("log", target)], state);
    case "log":
      return several(of, [call("exp", target)], state);
    case "sin": {
      state.repeats = true;
      const angle = call("asin", target);
      const targets = turns.flatMap((turn) => [
        add(angle, number(2 * PI * turn)),
        subtract(number(PI + 2 * PI * turn), angle),
      ]);
      return several(of, targets, state);
    }
    case "cos": {
      state.repeats = true;
      const angle = call("acos", target);
      const targets = turns.flatMap((turn) => [
        add(number(2 * PI * turn), angle),
        subtract(number(2 * PI * turn), angle),
      ]);
      return several(of, targets, state);
    }
    case "tan": {
      state.repeats = true;
      const angle = call("atan", target);
      const halfTurns = [-2, -1, 0, 1, 2];
      return several(
        of,
        halfTurns.map((turn) => add(angle, number(PI * turn))),
        state,
      );
    }
    case "asin":
      return several(of, [call("sin", target)], state);
    case "acos":
      return several(of, [call("cos", target)], state);
    case "atan":
      return several(of, [call("tan", target)], state);
    case "atan2": {
      const across = part.of[1];
      if (across === undefined) return false;
      if (inside(of, state)) {
        return several(of, [multiply(across, call("tan", target))], state);
      }
      return several(across, [divide(of, call("tan", target))], state);
    }
    case "min":
    case "max": {
      const within = part.of.find((inner) => inside(inner, state));
      return within !== undefined && several(within, [target], state);
    }
    default:
      return false;
  }
}

/** More keys with one and the same value than this are not told apart. */
const MOST_PIECES = 24;

/**
 * The curve read backwards, in as many pieces as some value has keys: each stretch of a `linear` table
 * that rises or falls all the way, or of an `exact` one the first, second … row with each value.
 * Undefined where whole stretches have one value.
 */
function inversesOf(curve: LookupCurve): readonly LookupCurve[] | undefined {
  const count = Math.min(curve.keys.length, curve.values.length);
  const points = Array.from({ length: count }, (_, i): Point => [curve.values[i]!, curve.keys[i]!]);
  const pieces =
    curve.method === "exact"
      ? rowsApart(points)
      : curve.method === "linear" && count >= 2
        ? stretches(points)
        : undefined;
  if (pieces === undefined || pieces.length > MOST_PIECES) return undefined;
  return pieces.map((piece) => {
    const sorted = [...piece].sort(([one], [other]) => one - other);
    return {
      name: curve.name,
      method: curve.method,
      keys: sorted.map(([key]) => key),
      values: sorted.map(([, value]) => value),
    };
  });
}

type Point = readonly [key: number, value: number];

/** Rows such that no two of a piece have the same key. */
function rowsApart(points: readonly Point[]): Point[][] {
  const pieces: Point[][] = [];
  const seen = new Map<number, number>();
  for (const point of points) {
    const [key] = point;
    const before = seen.get(key) ?? 0;
    seen.set(key, before + 1);
    const piece = pieces[before];
    if (piece === undefined) pieces.push([point]);
    else piece.push(point);
  }
  return pieces;
}

/** Stretches whose keys rise or fall all the way; none where some stay the same. */
function stretches(points: readonly Point[]): Point[][] | undefined {
  const pieces: Point[][] = [];
  let way = 0;
  for (let i = 1; i < points.length; i++) {
    const next = Math.sign(points[i]![0] - points[i - 1]![0]);
    if (next === 0 || Number.isNaN(next)) return undefined;
    if (next !== way) pieces.push([points[i - 1]!]);
    pieces.at(-1)!.push(points[i]!);
    way = next;
  }
  return pieces;
}
