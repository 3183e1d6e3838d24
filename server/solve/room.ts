/**
 * Whether a gap is explained: whether what the givens stand for (all that rounds to a written number,
 * all that its tolerance takes in) can bring it to nothing.
 *
 * Must not know: what the gap means.
 */
import { comesToNothing } from "./bounds";
import type { Execution } from "./execution";
import type { Expression } from "./expression";
import { standingFor, standingForAsOne } from "./movers";
import type { Budget, EquationForm, Quantity } from "./system";

/** `gap`: what the rest comes to as it was solved; `nearest`: how near to 0 it can come. */
export function roomToNothing(
  execution: Execution,
  rest: Quantity,
  gap: number,
  budget?: Budget,
): ReturnType<typeof comesToNothing> {
  const { variables } = execution.network.system;
  if (variables.some(({ given }) => given?.together !== undefined)) {
    // Roundings that are each one's own widen what is proved; where that proves nothing, each by itself.
    const asOne = comesToNothing(execution, rest, gap, standingForAsOne, budget);
    if (asOne.answer === "surely not") return asOne;
  }
  return comesToNothing(execution, rest, gap, standingFor, budget);
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
