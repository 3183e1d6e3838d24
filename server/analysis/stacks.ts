/**
 * What to take out of a kit for each figure that is put together from its pieces, all of them from
 * the one kit with the pieces it holds.
 *
 *     wanted 0.026 in of 0.004, 0.007, 0.012, 0.018   →   0.018 and 0.007, 0.001 is left
 *
 * Must not know: what the pieces are.
 */
import type { Finding } from "../model/finding";
import type { ModelStack } from "../model/model";
import { anchorOfThing } from "../model/thing";
import { quantityValue } from "../solve";
import { allotStacks, mostPiecesInStack, type Stack } from "../solve/stack";
import type { Solved } from "./reasons";
import { andList, type Writer } from "./wording";

export interface Allotment {
  readonly stack: ModelStack;
  /** What it gets when the kit serves all. */
  readonly pieces: Stack;
}

/** By the index of the variable that holds the sum. */
export function allotmentsOf({ model, solution }: Solved): ReadonlyMap<number, Allotment> {
  const byKit = new Map<string, { readonly stack: ModelStack; readonly wanted: number }[]>();
  for (const stack of model.stacks) {
    const wanted = quantityValue(solution, stack.wanted);
    if (wanted === undefined || !Number.isFinite(wanted)) continue;
    const { kit, sizes, quantities } = stack.use;
    const key = JSON.stringify([kit, sizes, quantities]);
    byKit.set(key, [...(byKit.get(key) ?? []), { stack, wanted }]);
  }
  const allotments = new Map<number, Allotment>();
  for (const together of byKit.values()) {
    const { sizes, quantities } = together[0]?.stack.use ?? { sizes: [] };
    // The tightest of what is allowed holds for all, so that no one gets less than was asked.
    const allowed = Math.min(...together.map(({ stack }) => stack.use.allowed));
    const wanteds = together.map(({ wanted }) => wanted);
    const stacks = allotStacks({ sizes, quantities }, wanteds, allowed, mostPiecesInStack);
    for (const [index, { stack }] of together.entries()) {
      const pieces = stacks[index];
      if (pieces !== undefined) allotments.set(stack.variable, { stack, pieces });
    }
  }
  return allotments;
}

/** `0.018 in + 0.007 in`; `none` where nothing is to be stacked. */
export function piecesInWords({ stack, pieces }: Allotment, writer: Writer): string {
  if (pieces.pieces.length === 0) return "none";
  return pieces.pieces.map((piece) => writer.fine(piece, stack.use.measure)).join(" + ");
}

/** Where one kit has to serve several and gives some of them another stack than they would get alone. */
export function stackFindings(solved: Solved, writer: Writer): Finding[] {
  const findings: Finding[] = [];
  for (const allotment of allotmentsOf(solved).values()) {
    const { stack, pieces } = allotment;
    const alone = solved.solution.values[stack.variable];
    const anchor = anchorOfThing(stack.thing);
    if (alone === undefined || !Number.isFinite(alone) || anchor === undefined) continue;
    const same = Math.abs(alone - pieces.sum) <= 1e-9 * Math.max(Math.abs(alone), 1e-3);
    if (same) continue;
    const name = solved.model.variables[stack.variable]?.name ?? "";
    const measure = stack.use.measure;
    const others = solved.model.stacks
      .filter((other) => other.use.kit === stack.use.kit && other !== stack)
      .map((other) => solved.model.variables[other.variable]?.name ?? "");
    findings.push({
      code: pieces.met ? "kit/shared" : "kit/short",
      severity: pieces.met ? "note" : "warning",
      message: pieces.met
        ? `${name}: take ${piecesInWords(allotment, writer)} instead, so that ${stack.use.kit} serves ${andList(others.slice(0, 4))} too`
        : `${name}: ${stack.use.kit} does not hold enough pieces for all: ${piecesInWords(allotment, writer)} is the nearest left, ${writer.fine(Math.abs(pieces.residual), measure)} ${pieces.residual > 0 ? "short" : "over"}`,
      hint: pieces.met
        ? "the sum differs from the stack this one would get alone"
        : "add the missing sizes to the kit, or allow more to be left over",
      anchor,
    });
  }
  return findings;
}
