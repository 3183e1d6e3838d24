/**
 * Whether a figure's answer is known to be the one that is meant: turned round, of a straight line, or
 * searched for through all of its range. Of several figures solved together by Newton's steps alone,
 * other answers are not excluded.
 *
 * Must not know: wording.
 */
import { allAnswers } from "./all-answers";
import type { Block } from "./block";
import { answerBefore } from "./block-answers";
import { blockOf, type Execution, executionOf, questionOf } from "./execution";
import { residualAndGradient } from "./form";
import { SEARCHED } from "./newton";
import type { SolveStep } from "./plan";
import { takenIn } from "./single";
import type { Solution } from "./system";

/** True of what was not searched for at all, such as givens. */
export function isSearchedThrough(solution: Solution, variable: number): boolean {
  const execution = executionOf(solution);
  const step = execution.steps[execution.stepOf[variable]!];
  if (step === undefined || Number.isNaN(execution.values[variable])) return true;
  const { searched } = execution.memory;
  let known = searched.get(step);
  if (known === undefined) {
    known = settles(execution, step);
    searched.set(step, known);
  }
  return known;
}

function settles({ network, values }: Execution, step: SolveStep): boolean {
  if (step.variables.length === 1) {
    const question = questionOf(network, step);
    const { branches } = question.facts.slots[question.slot]!;
    if (branches !== undefined && takenIn(question, branches)) return true;
  }
  const block = blockOf(network, step, values);
  if (isStraight(block, values)) return true;
  const before = answerBefore(block, values);
  if (before !== undefined) return before.complete === true;
  return step.variables.length <= SEARCHED && allAnswers(block, values).complete;
}

/** Whether the equations are straight lines in the unknowns: their slopes are the same at two places. */
function isStraight(block: Block, values: Float64Array): boolean {
  const place = values.slice();
  const unknowns = new Set(block.unknowns);
  return block.facts.every((facts, i) => {
    if (facts.tape.kinked) return false;
    const slots = block.slots[i]!;
    const [one, other] = [0.37, 1.83].map((share) => {
      block.unknowns.forEach((unknown, j) => {
        place[unknown] = values[unknown]! + block.scales[j]! * (share + 0.618 * (j % 7));
      });
      const gradient = new Float64Array(slots.length);
      residualAndGradient(facts, place, slots, gradient, 0);
      return gradient;
    }) as [Float64Array, Float64Array];
    return slots.every((variable, slot) => !unknowns.has(variable) || one[slot] === other[slot]);
  });
}
