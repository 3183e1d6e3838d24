/**
 * Contradictions among equations whose figures are still open: two halves may be unknown and yet
 * their sum be given twice. Equations that are straight lines in the open figures are combined until
 * no open figure is left in them; what then remains must be nothing.
 *
 *   housing = left + right, mount = left + right + 4   // housing and mount are 4 apart, whatever left is
 *
 * Must not know: names beyond ordering, wording.
 */
import { goOn } from "../keep/patience";
import { isSameEquation, isSameList } from "./beside";
import type { Execution } from "./execution";
import type { Expression } from "./expression";
import { residual, residualAndGradient, residualSize } from "./form";
import { byRankAndName } from "./network";
import type { Quantity } from "./system";
import { rewritten } from "./walk";

/** A combination of equations in which no open figure is left. */
export interface Combination {
  /** The equation that was combined last. */
  readonly equation: number;
  readonly equations: readonly number[];
  /** What is left, as a quantity of the known figures; it should be 0. */
  readonly rest: Quantity;
  readonly value: number;
  /** How large the parts are that it is the difference of. */
  readonly size: number;
}

/** Rows beyond these are not combined: open parts of thousands of equations are left open. */
const MOST_ROWS = 3000;
const MOST_ENTRIES = 200_000;
const NOTHING = 1e-9;

/**
 * Among equations of the rank of relations. `before`: what was solved before and has much in common.
 */
export function combinationsOf(
  execution: Execution,
  equations: Iterable<number>,
  before?: Execution,
): readonly Combination[] {
  const { network, values } = execution;
  const { system } = network;
  if (!values.some((value) => Number.isNaN(value))) return [];
  const candidates: number[] = [];
  for (const equation of equations) {
    const { rank, variables } = system.equations[equation]!;
    if (rank !== "relation") continue;
    if (variables.some((variable) => isOpen(execution, variable))) candidates.push(equation);
  }
  if (candidates.length < 2 || candidates.length > MOST_ROWS) return [];
  candidates.sort(byRankAndName(system.equations));
  if (before !== undefined && nothingCameOf(candidates, before, execution)) {
    execution.memory.combined = candidates;
    return [];
  }
  const place = values.slice();
  const pivots = new Map<number, Row>();
  const found: Combination[] = [];
  let entries = 0;
  for (const equation of candidates) {
    const row = straightRow(execution, equation, place);
    if (row === undefined) continue;
    reduce(row, pivots);
    entries += row.entries.size;
    if (entries > MOST_ENTRIES) break;
    const pivot = largest(row);
    if (pivot !== undefined) pivots.set(pivot, row);
    else if (row.weights.size > 1) found.push(combined(execution, equation, row));
  }
  if (found.length === 0) execution.memory.combined = candidates;
  return found;
}

/** The same relations were combined before, about the same figures. */
function nothingCameOf(
  candidates: readonly number[],
  before: Execution,
  execution: Execution,
): boolean {
  const { combined } = before.memory;
  return (
    combined !== undefined &&
    isSameList(combined, candidates) &&
    candidates.every((each) => isSameEquation(before, execution, each))
  );
}

/** A left minus right as factors of open figures. */
interface Row {
  readonly entries: Map<number, number>;
  /** The equations it is made of, and how often each was taken. */
  readonly weights: Map<number, number>;
}

function isOpen({ network, values, failures }: Execution, variable: number): boolean {
  return network.known[variable] === 0 && Number.isNaN(values[variable]) && !failures.has(variable);
}

/** Undefined where it is no straight line in its open figures, or another of its figures has no value. */
function straightRow(execution: Execution, equation: number, place: Float64Array): Row | undefined {
  const { network } = execution;
  const { variables } = network.system.equations[equation]!;
  const facts = network.facts[equation]!;
  if (facts.tape.kinked) return undefined;
  const open = variables.map((variable) => isOpen(execution, variable));
  if (variables.some((variable, slot) => !open[slot] && Number.isNaN(place[variable]))) {
    return undefined;
  }
  const slopes = [0, 1].map((round) => {
    variables.forEach((variable, slot) => {
      const { scale } = network.system.variables[variable]!;
      if (open[slot]) place[variable] = scale * (0.7 + 0.618 * slot + round * 1.37);
    });
    const gradient = new Float64Array(variables.length);
    residualAndGradient(facts, place, variables, gradient, 0);
    return gradient;
  });
  const entries = new Map<number, number>();
  let straight = true;
  variables.forEach((variable, slot) => {
    if (!open[slot]) return;
    place[variable] = Number.NaN;
    const [one, other] = [slopes[0]![slot]!, slopes[1]![slot]!];
    if (!(Math.abs(one - other) <= 1e-12 * Math.abs(one))) straight = false;
    if (one !== 0) entries.set(variable, one);
  });
  return straight ? { entries, weights: new Map([[equation, 1]]) } : undefined;
}

/** Takes earlier rows off until none of their leading figures is left. */
function reduce(row: Row, pivots: ReadonlyMap<number, Row>): void {
  for (;;) {
    let variable: number | undefined;
    for (const each of row.entries.keys()) {
      if (pivots.has(each)) {
        variable = each;
        break;
      }
    }
    if (variable === undefined) return;
    const pivot = pivots.get(variable)!;
    goOn(10 * (pivot.entries.size + pivot.weights.size));
    const share = row.entries.get(variable)! / pivot.entries.get(variable)!;
    for (const [each, entry] of pivot.entries) {
      const before = row.entries.get(each) ?? 0;
      const after = before - share * entry;
      const flowed = Math.abs(before) + Math.abs(share * entry);
      if (each === variable || Math.abs(after) <= NOTHING * flowed) row.entries.delete(each);
      else row.entries.set(each, after);
    }
    for (const [each, weight] of pivot.weights) {
      row.weights.set(each, (row.weights.get(each) ?? 0) - share * weight);
    }
  }
}

function largest({ entries }: Row): number | undefined {
  let best: number | undefined;
  let most = 0;
  for (const [variable, entry] of entries) {
    if (Math.abs(entry) <= most) continue;
    most = Math.abs(entry);
    best = variable;
  }
  return best;
}

/** The row's equations with 0 for what is open, weighted and summed up. */
function combined(execution: Execution, equation: number, { weights }: Row): Combination {
  const { network, values } = execution;
  const variables: number[] = [];
  const parts: Expression[] = [];
  const equations: number[] = [];
  const place = values.slice();
  let value = 0;
  let size = 0;
  for (const [each, weight] of weights) {
    if (weight === 0) continue;
    equations.push(each);
    const { form, variables: own } = network.system.equations[each]!;
    const slots = own.map((variable): Expression => {
      if (isOpen(execution, variable)) {
        place[variable] = 0;
        return { op: "number", value: 0 };
      }
      const known = variables.indexOf(variable);
      return { op: "slot", index: known < 0 ? variables.push(variable) - 1 : known };
    });
    const gap = residual(network.facts[each]!, place, own);
    value += weight * gap;
    // What known figures come to may cancel within one equation already.
    size += Math.abs(weight) * residualSize(network.facts[each]!, own, execution.sizes);
    const left = withSlots(form.left, slots);
    const right = withSlots(form.right, slots);
    const difference: Expression = { op: "subtract", left, right };
    const factor: Expression = { op: "number", value: weight };
    parts.push({ op: "multiply", left: factor, right: difference });
  }
  const expression = parts.reduce((left, right): Expression => ({ op: "add", left, right }));
  return { equation, equations, rest: { expression, variables }, value, size };
}

/** The same over other things. */
export function withSlots(expression: Expression, slots: readonly Expression[]): Expression {
  return rewritten(expression, (part) => (part.op === "slot" ? slots[part.index] : undefined));
}
