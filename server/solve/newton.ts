/**
 * Solves a block: as many equations as unknowns, together, by damped Newton steps with exact
 * derivatives, scaled by each unknown's natural size and held inside its range.
 *
 * A block may look square and yet say the same thing twice. Then its Jacobian is singular wherever
 * one looks, and the equations that add nothing are named instead of an arbitrary answer being
 * given. A block with several answers in range has none.
 *
 * Must not know: names, plans, tolerances.
 */
import { type Answers, ascending, Searching } from "./all-answers";
import { type Block, Work } from "./block";
import { keptAnswer, type SearchedBlock } from "./block-answers";
import { factorLarge, isSparse, solveLarge } from "./large-block";
import {
  type DependentRow,
  factor,
  type LinearSolver,
  nullSpace,
  solverOf,
  solveWith,
} from "./linear";
import { newton } from "./newton-steps";
import { starts } from "./starts";

export type BlockAnswer =
  | { readonly kind: "solved" }
  /** Rows of the block that depend on the others, as combinations of the residuals' gradients. */
  | { readonly kind: "dependent"; readonly rows: readonly DependentRow[] }
  | {
      readonly kind: "failed";
      readonly why: "no-root" | "several-roots" | "no-convergence" | "not-defined";
      /** For `several-roots`: the answers found, by unknown. */
      readonly answers?: readonly Float64Array[];
      /** Whether `answers` are proved to be all there are in the ranges. */
      readonly complete?: boolean;
    };

/** The Jacobian of a block at its answer, ready for sensitivities. */
export interface Linearized {
  readonly solver: LinearSolver;
  /** Natural size of each equation's residual. */
  readonly rowSizes: Float64Array;
  readonly scales: readonly number[];
}

/** Blocks of no more unknowns are searched through, so that the list of answers is complete. */
export const SEARCHED = 16;
/** So many boxes are looked at before any steps are taken. */
const FEW_BOXES = 24;
/** Blocks beyond this are not worked on as full matrices: that would take too long. */
const LARGEST = 700;
/** A Jacobian this near to having no inverse is that of curves that touch; so near is the same answer. */
const TOUCHING = 1e-3;
const TOUCHED = 1e-4;

/**
 * Solves in place: where the answer is "solved", `values` holds it at the unknowns' positions;
 * otherwise NaN. A `start` tries only that one starting point, as after a small change.
 */
export function solveBlock(
  block: Block,
  values: Float64Array,
  start?: readonly number[],
): BlockAnswer {
  const large = isSparse(block) ? solveLarge(block, values, start) : undefined;
  if (large === "solved") return { kind: "solved" };
  // Which equations add nothing is looked for in the full matrix, where that is not too large.
  if (block.unknowns.length > LARGEST) {
    for (const unknown of block.unknowns) values[unknown] = Number.NaN;
    const why = large === undefined || large === "singular" ? "no-convergence" : large;
    return { kind: "failed", why };
  }
  const work = new Work(block, values);
  const answer = start === undefined ? solve(work) : solveFrom(work, start);
  if (answer.kind !== "solved") for (const unknown of block.unknowns) values[unknown] = Number.NaN;
  return answer;
}

/** The block's Jacobian at the numbers that stand in `values`. */
export function linearize(block: Block, values: Float64Array): Linearized {
  if (isSparse(block)) return { ...factorLarge(block, values), scales: block.scales };
  const work = new Work(block, values);
  work.jacobianAndSizes();
  return {
    solver: solverOf(factor(work.jacobian, work.size)),
    rowSizes: work.rowSizes.slice(),
    scales: block.scales,
  };
}

function solveFrom(work: Work, start: readonly number[]): BlockAnswer {
  const outcome = newton(work, Float64Array.from(start));
  return outcome === "converged" ? { kind: "solved" } : { kind: "failed", why: outcome };
}

function solve(work: Work): BlockAnswer {
  const generic = starts(work.block, 2);
  const first = dependenceAt(work, generic[0]!);
  if (first.rows.length > 0) {
    const second = dependenceAt(work, generic[1]!);
    if (second.rows.length > 0 && !isBentElsewhere(work)) {
      return { kind: "dependent", rows: second.rows };
    }
  } else if (first.jacobian !== undefined && !work.kinked) {
    const second = dependenceAt(work, generic[1]!);
    if (second.jacobian !== undefined && sameMatrix(first.jacobian, second.jacobian)) {
      return solveLinear(work, generic[0]!);
    }
  }
  const { answer, at } = keptAnswer(work.block, work.current(), () => searched(work));
  if (at !== undefined) work.place(at);
  return answer;
}

/**
 * What is bent: most of it is proved by few boxes, without a step of Newton's. What is left may be one
 * of a stretch, or takes many boxes, or steps from several places where these settle nothing.
 */
function searched(work: Work): SearchedBlock {
  const { size } = work;
  const search = size <= SEARCHED ? new Searching(work.block, work.current().slice()) : undefined;
  const soon = search?.run(FEW_BOXES);
  if (soon?.complete === true && soon.answers.every((each) => isRegularAt(work, each)))
    return proved(soon);
  const all = starts(work.block, placesFor(size));
  const stretch = search === undefined ? undefined : stretchMet(work, all);
  if (stretch !== undefined) return { answer: { kind: "dependent", rows: stretch } };
  const inBoxes = search?.run();
  if (inBoxes?.complete === true) return proved(inBoxes);
  const found: Float64Array[] = [...(inBoxes?.answers ?? [])];
  // That steps from a few places lead nowhere shows nothing.
  let why: "no-convergence" | "not-defined" = "not-defined";
  for (const start of all) {
    const outcome = newton(work, start);
    if (outcome !== "converged") {
      if (outcome !== "not-defined") why = "no-convergence";
      continue;
    }
    if (found.some((other) => work.sameAs(other))) continue;
    const rows = continuumRows(work);
    if (rows !== undefined) return { answer: { kind: "dependent", rows } };
    found.push(work.x.slice());
  }
  if (found.length === 0) return { answer: { kind: "failed", why } };
  const answers = withoutTwins(work, found);
  if (answers.length > 1)
    return { answer: { kind: "failed", why: "several-roots", answers, complete: false } };
  return { answer: { kind: "solved" }, at: answers[0] };
}

function placesFor(size: number): number {
  return size <= 12 ? 14 : size <= 60 ? 7 : 3;
}

/**
 * What has kinks may run alongside another equation on one side of them and cross it on the other:
 * `abs(x) + abs(y) = 4` and `y = x + 2` do. Smooth equations that depend at two places do everywhere.
 */
function isBentElsewhere(work: Work): boolean {
  if (!work.kinked) return false;
  return starts(work.block, placesFor(work.size)).some((place) => {
    const { rows, jacobian } = dependenceAt(work, place);
    return jacobian !== undefined && rows.length === 0;
  });
}

/**
 * The superfluous rows where the first answer that Newton comes to is one of a whole stretch of them:
 * a search through the ranges would follow the stretch box by box and settle nothing.
 */
function stretchMet(work: Work, all: readonly Float64Array[]): readonly DependentRow[] | undefined {
  for (const start of all) {
    if (newton(work, start) === "converged") return continuumRows(work);
  }
  return undefined;
}

/**
 * Where curves touch, the steps end anywhere near the answer: what lies that near is the same one, and
 * the place at which the equations hold best stands for it.
 */
function withoutTwins(work: Work, found: readonly Float64Array[]): Float64Array[] {
  const placed = found.map((point) => {
    work.place(point);
    const gap = work.residuals();
    const touches =
      work.jacobianAndSizes() && factor(work.jacobian, work.size).smallestPivot < TOUCHING;
    return { point, gap, touches };
  });
  const apart: Float64Array[] = [];
  for (const { point, touches } of placed.sort((one, other) => one.gap - other.gap)) {
    work.place(point);
    if (!touches || !apart.some((other) => work.sameAs(other, TOUCHED))) apart.push(point);
  }
  return apart.sort(ascending);
}

/** What it comes to that these are all answers there are. */
function proved({ answers }: Answers): SearchedBlock {
  const [only, ...others] = answers;
  if (only === undefined) return { answer: { kind: "failed", why: "no-root" }, complete: true };
  if (others.length > 0) {
    const answer = { kind: "failed", why: "several-roots", answers, complete: true } as const;
    return { answer, complete: true };
  }
  return { answer: { kind: "solved" }, at: only, complete: true };
}

function isRegularAt(work: Work, answer: Float64Array): boolean {
  work.place(answer);
  return work.jacobianAndSizes() && factor(work.jacobian, work.size).smallestPivot > 1e-7;
}

/** A linear block has one answer: where it lies outside a range, there is none. */
function solveLinear(work: Work, start: Float64Array): BlockAnswer {
  work.place(start);
  // The second step removes what rounding left of the first.
  for (let i = 0; i < 3; i++) {
    work.residuals();
    work.jacobianAndSizes();
    const step = solveWith(factor(work.jacobian, work.size), work.scaledResiduals());
    work.place(work.x.map((x, j) => x - step[j]! * work.block.scales[j]!));
  }
  const { lows, highs, scales } = work.block;
  for (let j = 0; j < work.size; j++) {
    const slack = 1e-9 * (Math.abs(work.x[j]!) + scales[j]! * 1e-3);
    if (!Number.isFinite(work.x[j]!)) return { kind: "failed", why: "not-defined" };
    if (work.x[j]! < lows[j]! - slack || work.x[j]! > highs[j]! + slack) {
      return { kind: "failed", why: "no-root" };
    }
  }
  return { kind: "solved" };
}

function dependenceAt(
  work: Work,
  point: Float64Array,
): { rows: readonly DependentRow[]; jacobian: Float64Array | undefined } {
  work.place(point);
  if (!Number.isFinite(work.residuals())) return { rows: [], jacobian: undefined };
  if (!work.jacobianAndSizes()) return { rows: [], jacobian: undefined };
  const raw = work.rawJacobian();
  if (factor(work.jacobian, work.size).smallestPivot > 1e-7) return { rows: [], jacobian: raw };
  return { rows: work.dependent(), jacobian: raw };
}

function sameMatrix(one: Float64Array, other: Float64Array): boolean {
  for (let i = 0; i < one.length; i++) {
    const a = one[i]!;
    const b = other[i]!;
    if (Math.abs(a - b) > 1e-13 * Math.max(Math.abs(a), Math.abs(b))) return false;
  }
  return true;
}

/**
 * At an answer with a singular Jacobian: the superfluous rows where the answer is one of a whole
 * line of answers, undefined where it stands alone (a touching root).
 */
function continuumRows(work: Work): readonly DependentRow[] | undefined {
  if (!work.jacobianAndSizes()) return undefined;
  if (factor(work.jacobian, work.size).smallestPivot > 1e-7) return undefined;
  const rows = work.dependent();
  const { basis, count } = nullSpace(work.jacobian, work.size, work.size);
  if (rows.length === 0 || count === 0) return undefined;
  const answer = work.x.slice();
  const { scales } = work.block;
  const direction = basis.subarray(0, work.size);
  const length = Math.hypot(...direction);
  const reach = 1e-3;
  for (const sign of [1, -1]) {
    const moved = answer.map((x, j) => x + (sign * reach * scales[j]! * direction[j]!) / length);
    const outcome = newton(work, moved);
    const gone = Math.hypot(...answer.map((x, j) => (work.x[j]! - x) / scales[j]!));
    work.place(answer);
    if (outcome === "converged" && gone > reach / 2) return rows;
  }
  return undefined;
}
