/**
 * Whether a gap is explained: whether what the givens stand for (all that rounds to a written number,
 * all that its tolerance takes in) can bring it to nothing.
 *
 * Must not know: what the gap means.
 */
import { comesToNothing } from "./bounds";
import type { Execution } from "./execution";
import type { Expression } from "./expression";
import type { Budget, EquationForm, GivenNumber, Quantity } from "./system";

/** `gap`: what the rest comes to as it was solved; `nearest`: how near to 0 it can come. */
export function roomToNothing(
  execution: Execution,
  rest: Quantity,
  gap: number,
  budget?: Budget,
): ReturnType<typeof comesToNothing> {
  return comesToNothing(execution, rest, gap, limitsOf, budget);
}

/** A given stands for what rounds to it, and for what its tolerance takes in. */
function limitsOf({ low, high, rounding }: GivenNumber): readonly [number, number] | undefined {
  return high > low || rounding > 0 ? [low - rounding, high + rounding] : undefined;
}

const differences = new WeakMap<EquationForm, Expression>();

/** Left minus right of an equation; the same expression for all of one form, so that its tape is kept. */
export function leftMinusRight({ network }: Execution, equation: number): Quantity {
  const { form, variables } = network.system.equations[equation]!;
  let expression = differences.get(form);
  if (expression === undefined) {
    expression = { op: "subtract", left: form.left, right: form.right };
    differences.set(form, expression);
  }
  return { expression, variables };
}
