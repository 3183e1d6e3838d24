/**
 * What to take out of a kit for each figure that is put together from its pieces, all of them from
 * the one kit with the pieces it holds.
 *
 *     wanted 0.026 in of 0.004, 0.007, 0.012, 0.018   →   0.018 and 0.007, 0.001 is left
 *
 * Must not know: what the pieces are.
 */
import type { Pieces } from "../findings/outcomes";
import type { Found } from "../findings/worded";
import type { ModelStack } from "../model/model";
import { anchorOfThing } from "../model/thing";
import type { FigureId } from "../names/ids";
import { quantityValue } from "../solve";
import { allotStacks, mostPiecesInStack, type Stack } from "../solve/stack";
import type { Value } from "./analysis";
import type { Reading } from "./reading";

export interface Allotment {
  readonly stack: ModelStack;
  /** What it gets when the kit serves all. */
  readonly pieces: Stack;
}

/** By the figure that holds the sum. */
export function allotmentsOf(
  stacks: readonly ModelStack[],
  { cells }: Reading,
): ReadonlyMap<FigureId, Allotment> {
  const byKit = new Map<string, { readonly stack: ModelStack; readonly wanted: number }[]>();
  for (const stack of stacks) {
    const { expression, figures } = stack.wanted;
    const solved = cells.solvedFor(figures);
    const variables = figures.map((figure) => solved.placeOf(figure) ?? -1);
    const wanted = quantityValue(solved.solution, { expression, variables });
    if (wanted === undefined || !Number.isFinite(wanted)) continue;
    const { kit, sizes, quantities } = stack.use;
    const key = JSON.stringify([kit, sizes, quantities]);
    byKit.set(key, [...(byKit.get(key) ?? []), { stack, wanted }]);
  }
  const allotments = new Map<FigureId, Allotment>();
  for (const together of byKit.values()) {
    const { sizes, quantities } = together[0]?.stack.use ?? { sizes: [] };
    // The tightest of what is allowed holds for all, so that no one gets less than was asked.
    const allowed = Math.min(...together.map(({ stack }) => stack.use.allowed));
    const wanteds = together.map(({ wanted }) => wanted);
    const stacks = allotStacks({ sizes, quantities }, wanteds, allowed, mostPiecesInStack);
    for (const [index, { stack }] of together.entries()) {
      const pieces = stacks[index];
      if (pieces !== undefined) allotments.set(stack.figure, { stack, pieces });
    }
  }
  return allotments;
}

export function piecesOf({ stack, pieces }: Allotment): Pieces {
  return { pieces: pieces.pieces, measure: stack.use.measure };
}

/** Where one kit has to serve several and gives some of them another stack than they would get alone. */
export function stackFindings(
  allotments: ReadonlyMap<FigureId, Allotment>,
  valueOf: (figure: FigureId) => Value | undefined,
): Found[] {
  const findings: Found[] = [];
  for (const allotment of allotments.values()) {
    const { stack, pieces } = allotment;
    const value = valueOf(stack.figure);
    const alone = value?.si;
    const anchor = anchorOfThing(value?.thing);
    if (value === undefined || alone === undefined || anchor === undefined) continue;
    const same = Math.abs(alone - pieces.sum) <= 1e-9 * Math.max(Math.abs(alone), 1e-3);
    if (same) continue;
    const others = [...allotments.values()]
      .filter((other) => other.stack.use.kit === stack.use.kit && other.stack !== stack)
      .map((other) => valueOf(other.stack.figure)?.path ?? "");
    const { path } = value;
    const told = { path, kit: stack.use.kit, ...piecesOf(allotment), anchor };
    findings.push(
      pieces.met
        ? { is: "kit/shared", ...told, others }
        : { is: "kit/short", ...told, residual: pieces.residual },
    );
  }
  return findings;
}
