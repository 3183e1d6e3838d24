/**
 * What would be made to answer a wish that nothing answers yet.
 *
 *     answerOnceKnown(drawn, gap)   →   { made: mark, open: [end] }
 *
 * Must not know: text, units, kinds, files, the trade.
 */
import { sweepBack } from "./adjoint";
import { executionOf } from "./execution";
import { byName } from "./network";
import type { Solution } from "./system";

/** The equation by which a figure is no more than wanted, where nothing has made it give way. */
export function wishOf({ system: { equations } }: Solution, variable: number): number | undefined {
  const found = equations.findIndex(
    ({ rank, variables }) =>
      rank === "wanted" && variables.length === 1 && variables[0] === variable,
  );
  return found < 0 ? undefined : found;
}

/**
 * The figure that would be made to answer a wish, but for what is still open beside it in the same
 * equation: the fewest of these, then the first in the order of making. `wished`: the figure wanted.
 */
export function answerOnceKnown(
  drawn: Solution,
  wished: number,
): { readonly made: number; readonly open: readonly number[] } | undefined {
  const { variables, equations } = drawn.system;
  const wish = wishOf(drawn, wished);
  if (wish === undefined) return undefined;
  const isOpen = (variable: number): boolean => drawn.determinations[variable]?.how === "open";
  const hangsOnWish = (variable: number): boolean =>
    sweepBack(executionOf(drawn), [variable], [1]).byEquation.has(wish);
  const found = equations.flatMap(({ variables: own, rank, when }) => {
    if (rank !== "relation" || when !== undefined) return [];
    const open = own.filter(isOpen);
    const [made, ...others] = open.filter((each) => variables[each]!.role === "made");
    if (made === undefined || others.length > 0 || open.length < 2) return [];
    if (!own.some((each) => !isOpen(each) && hangsOnWish(each))) return [];
    return [{ made, open: open.filter((each) => each !== made) }];
  });
  const order = byName(variables);
  const making = ({ made }: (typeof found)[number]): number => variables[made]!.making?.order ?? 0;
  const [first] = found.sort(
    (one, other) =>
      one.open.length - other.open.length ||
      making(one) - making(other) ||
      order(one.made, other.made),
  );
  return first;
}
