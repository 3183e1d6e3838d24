/**
 * Systems that are large in one way each, to see what bounds, checks, advice and large blocks cost.
 *
 * Invented: names and figures mean nothing.
 */
import { lusolve, sparse } from "mathjs";
import {
  type Claim,
  type EquationForm,
  type Expression,
  type GivenNumber,
  missingFor,
  type Solution,
  type System,
  solve,
  solveOverlay,
  spreadOf,
  type Variable,
  verdictOf,
} from "../../server/solve";
import { factorSparse, type SparseRow } from "../../server/solve/sparse-lu";

const slot = (index: number): Expression => ({ op: "slot", index });
const number = (value: number): Expression => ({ op: "number", value });
const within = (value: number, by: number): GivenNumber => ({
  value,
  low: value - by,
  high: value + by,
  rounding: 0,
});

function variable(name: string, given?: GivenNumber): Variable {
  return { name, scale: 1e-3, askedFirst: false, ...(given === undefined ? {} : { given }) };
}

const sum: EquationForm = {
  left: slot(0),
  right: { op: "add", left: slot(1), right: slot(2) },
  slots: 3,
};

/** Each figure the one before and a piece of its own, which has a tolerance. */
export function chainOf(length: number, by = 1e-5): System {
  const variables = [variable("x0", within(1, by))];
  const equations = [];
  for (let i = 1; i <= length; i++) {
    variables.push(variable(`p${i}`, within(0.01, by)), variable(`x${i}`));
    const [before, piece, own] = [i === 1 ? 0 : 2 * i - 2, 2 * i - 1, 2 * i];
    const rank = "relation" as const;
    equations.push({ name: `e${i}`, form: sum, variables: [own, before, piece], rank });
  }
  return { variables, equations };
}

/** The ± of every figure of a chain. */
export function spreadsOf(system: System): number {
  const solution = solve(system);
  let total = 0;
  for (const at of system.variables.keys()) {
    total += spreadOf(solution, { expression: slot(0), variables: [at] })?.worstAbove ?? 0;
  }
  return total;
}

/** Checks that each bend where two sums meet, over as many tolerances. */
export function kinkedChecks(count: number): { readonly solution: Solution; claims: Claim[] } {
  const variables = Array.from({ length: count }, (_, i) =>
    variable(`g${i}`, within(1 + (i % 7) * 0.1, 0.02)),
  );
  const terms = (slots: readonly number[]): Expression =>
    slots.map(slot).reduce((left, right) => ({ op: "add", left, right }));
  const apart: Expression = {
    op: "call",
    name: "abs",
    of: [{ op: "subtract", left: terms([0, 1, 2, 3]), right: terms([4, 5, 6, 7]) }],
  };
  const condition = { op: "compare", relation: "<=", left: apart, right: number(3) } as const;
  const claims = Array.from({ length: count }, (_, i) => ({
    condition,
    variables: Array.from({ length: 8 }, (__, k) => (i * 13 + k * 37) % count),
  }));
  return { solution: solve({ variables, equations: [] }), claims };
}

export function judged({ solution, claims }: ReturnType<typeof kinkedChecks>): number {
  return claims.filter((claim) => verdictOf(solution, claim).worst === "holds").length;
}

/** Figures that hang together by twos and threes, all but a few of them open. */
export function openSystem(unknowns: number): Solution {
  const variables = Array.from({ length: unknowns }, (_, i) => variable(`o${i}`));
  const equations = [];
  for (let i = 0; i + 2 < unknowns; i += 2) {
    const rank = "relation" as const;
    equations.push({ name: `e${i}`, form: sum, variables: [i, i + 1, i + 2], rank });
  }
  return solve({ variables, equations });
}

export function advice(solution: Solution, asks: number): number {
  let sets = 0;
  for (let i = 0; i < asks; i++) sets += missingFor(solution, i * 2).length;
  return sets;
}

/** As many overlays of one chain, each with another first figure. */
export function optionsOf(solution: Solution, count: number): number {
  let total = 0;
  for (let i = 0; i < count; i++) {
    const given = within(1 + i * 1e-3, 1e-5);
    const { values } = solveOverlay(solution, { givens: new Map([[0, given]]) });
    total += values[values.length - 1] ?? 0;
  }
  return total;
}

/** The five-point scheme of a square grid. */
export function gridRows(side: number): SparseRow[] {
  const rows: SparseRow[] = [];
  for (let i = 0; i < side; i++) {
    for (let j = 0; j < side; j++) {
      const columns = [i * side + j];
      const entries = [4];
      for (const [x, y] of [
        [i - 1, j],
        [i + 1, j],
        [i, j - 1],
        [i, j + 1],
      ] as const) {
        if (x < 0 || y < 0 || x >= side || y >= side) continue;
        columns.push(x * side + y);
        entries.push(-1);
      }
      rows.push({ columns, entries: entries.map((entry) => entry / 4) });
    }
  }
  return rows;
}

/** The same by a general-purpose library. */
export function factoredByLibrary(rows: readonly SparseRow[]): unknown {
  const matrix = sparse();
  matrix.resize([rows.length, rows.length]);
  rows.forEach(({ columns, entries }, row) => {
    columns.forEach((column, k) => {
      matrix.set([row, column], entries[k]!);
    });
  });
  return lusolve(
    matrix,
    rows.map((_, i) => [i % 3]),
  );
}

export function factoredHere(rows: readonly SparseRow[]): Float64Array {
  return factorSparse(rows).solve(rows.map((_, i) => i % 3));
}
