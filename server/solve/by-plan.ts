/**
 * What hangs on nothing but the plan that was begun with and the equations that were set aside since,
 * kept with the plan: systems of one structure share it, whatever their numbers.
 *
 *     const further = new ByPlan<Further>(); further.get(layout, [7, 3], () => layOut(…))
 *
 * Must not know: what is kept.
 */
import { Kept } from "../keep/kept";
import type { PlanLayout } from "./plan";

/** Systems of one structure mostly have the same equations that turn out to add nothing. */
const mostKept = 32;

export class ByPlan<T> {
  private readonly known = new WeakMap<PlanLayout, Kept<T>>();

  /** `aside`: lists of equations, in an order that says the same each time. */
  get(plan: PlanLayout, aside: readonly Iterable<number>[], make: () => T): T {
    let known = this.known.get(plan);
    if (known === undefined) {
      known = new Kept(mostKept);
      this.known.set(plan, known);
    }
    return known.get(aside.map((equations) => [...equations].join(",")).join("|"), make);
  }
}
