/**
 * Damped Newton steps of a block from one place to where its equations hold, or to where they lead no
 * further.
 *
 *     newton(work, start)   →   "converged", with the answer in `work.x`
 *
 * Must not know: where to start, which of several answers is meant.
 */
import { goOn } from "../keep/patience";
import type { Work } from "./block";
import { factor, SINGULAR, solveWith } from "./linear";

/** Multiplications that may be spent on factoring from one starting point. */
const EFFORT = 1e9;

type Outcome = "converged" | "no-root" | "no-convergence" | "not-defined";

/** Damped Newton from one start; leaves its last point in `work.x` and the values. */
export function newton(work: Work, start: Float64Array): Outcome {
  const { size, block } = work;
  const { scales } = block;
  work.clip(start);
  work.place(start);
  if (!Number.isFinite(work.residuals())) return "not-defined";
  let stuck = 0;
  const most = Math.max(8, Math.min(120, Math.floor(EFFORT / size ** 3)));
  for (let iteration = 0; iteration < most; iteration++) {
    goOn(20 * size);
    if (!work.jacobianAndSizes()) return "not-defined";
    const merit = work.merit();
    if (merit === 0) return "converged";
    const factors = factor(work.jacobian, size);
    const right = work.scaledResiduals();
    const regular = factors.smallestPivot > SINGULAR;
    const step = regular ? solveWith(factors, right) : dampedStep(work, right);
    let longest = 0;
    for (let j = 0; j < size; j++) {
      longest = Math.max(longest, Math.abs(step[j]!) / (1 + Math.abs(work.x[j]!) / scales[j]!));
    }
    if (!Number.isFinite(longest)) return "not-defined";
    const origin = work.x.slice();
    // Close to the answer the residuals are rounding, and only the step tells.
    if (regular && longest < 1e-10) {
      work.move(origin, step, 1);
      return work.settled(1e-6) ? "converged" : "no-root";
    }
    let share = 1;
    let accepted = false;
    for (let halving = 0; halving < 45; halving++) {
      work.move(origin, step, share);
      const sum = work.residuals();
      if (Number.isFinite(sum) && work.merit() <= merit * (1 - 1e-4 * share)) {
        accepted = true;
        break;
      }
      share /= 2;
    }
    if (!accepted) {
      work.place(origin);
      work.residuals();
      return work.settled(1e-11) || Math.sqrt(merit) < 1e-11 ? "converged" : "no-root";
    }
    stuck = work.merit() > 0.99 * merit ? stuck + 1 : 0;
    if (stuck > 12) return work.settled(1e-11) ? "converged" : "no-root";
  }
  return work.settled(1e-11) ? "converged" : "no-convergence";
}

/** Levenberg and Marquardt's step, for where the Jacobian has no inverse. */
function dampedStep(work: Work, right: Float64Array): Float64Array {
  const { size, jacobian } = work;
  const normal = new Float64Array(size * size);
  const pull = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    goOn(size * size);
    for (let j = 0; j < size; j++) {
      const left = jacobian[i * size + j]!;
      pull[j]! += left * right[i]!;
      for (let k = 0; k < size; k++) normal[j * size + k]! += left * jacobian[i * size + k]!;
    }
  }
  for (let j = 0; j < size; j++) normal[j * size + j]! += 1e-8;
  return solveWith(factor(normal, size), pull);
}
