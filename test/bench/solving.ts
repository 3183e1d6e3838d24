/**
 * A large system of linear equations, planned and solved here and by a general-purpose library.
 *
 * It is made of housings cut to width, the way the library's relations make them: each side a chain
 * of sums, both sides joined by the width that is given, and rows of rigs whose widths lean on
 * their neighbors', so that what is solved together is larger than any one chain.
 */
import { lusolve, sparse } from "mathjs";
import { type EquationForm, type Expression, type System, solve } from "../../server/solve";

export interface LinearSystem {
  readonly system: System;
  /** The same, as rows of factors of the unknown variables, and what they come to. */
  readonly unknowns: readonly number[];
  readonly rows: readonly (readonly (readonly [column: number, factor: number])[])[];
  readonly right: readonly number[];
}

/** `rigs` times 8 unknowns; lengths in meters. */
export function chainsOf(rigs: number): LinearSystem {
  const names: string[] = [];
  const givens = new Map<number, number>();
  const terms: { readonly of: readonly (readonly [number, number])[] }[] = [];
  const variable = (name: string, given?: number): number => {
    const index = names.push(name) - 1;
    if (given !== undefined) givens.set(index, given);
    return index;
  };
  let neighbor: number | undefined;
  for (let rig = 0; rig < rigs; rig++) {
    const of = (name: string): string => `rig${rig}.${name}`;
    const standoff = variable(of("standoff"), 0.0635 + (rig % 7) * 1e-4);
    const hat = variable(of("hat"), 0.00635 + (rig % 5) * 1e-5);
    const width = variable(of("mount_width"), 1.512 + (rig % 11) * 1e-3);
    const shift = variable(of("shift"), (1 + (rig % 3)) * 2e-3);
    const half = { left: variable(of("left.half")), right: variable(of("right.half")) };
    const face = { left: variable(of("left.face")), right: variable(of("right.face")) };
    const housing = variable(of("face_to_face"));
    const middle = variable(of("middle"));
    const lean = variable(of("lean"));
    const sum = variable(of("sum"));
    for (const side of ["left", "right"] as const) {
      terms.push({
        of: [
          [face[side], 1],
          [half[side], -1],
          [standoff, -1],
          [hat, -1],
        ],
      });
    }
    terms.push({
      of: [
        [width, 1],
        [face.left, -1],
        [face.right, -1],
      ],
    });
    terms.push({
      of: [
        [housing, 1],
        [half.left, -1],
        [half.right, -1],
      ],
    });
    terms.push({
      of: [
        [middle, 2],
        [face.left, -1],
        [face.right, 1],
        [lean, -0.25],
      ],
    });
    terms.push({
      of: [
        [sum, 1],
        [housing, -1],
        [middle, -3],
      ],
    });
    // What leans on the rig before makes the whole row one block with what leans back.
    terms.push({
      of: [
        [lean, 1],
        [shift, -1],
        [middle, -0.3],
        [neighbor ?? shift, -0.2],
      ],
    });
    terms.push({
      of: [
        [face.left, 1],
        [face.right, -1],
        [middle, -0.5],
        [lean, -0.75],
        [shift, -1],
      ],
    });
    neighbor = middle;
  }
  const unknowns = names.flatMap((_, index) => (givens.has(index) ? [] : [index]));
  const columnOf = new Map(unknowns.map((index, column) => [index, column]));
  const rows: (readonly [number, number])[][] = [];
  const right: number[] = [];
  for (const { of } of terms) {
    const row = new Map<number, number>();
    let known = 0;
    for (const [index, factor] of of) {
      const column = columnOf.get(index);
      if (column === undefined) known += factor * (givens.get(index) ?? 0);
      else row.set(column, (row.get(column) ?? 0) + factor);
    }
    rows.push([...row]);
    right.push(-known);
  }
  const system: System = {
    variables: names.map((name, index) => {
      const value = givens.get(index);
      const given =
        value === undefined ? undefined : { value, low: value, high: value, rounding: 0 };
      return { name, scale: 1e-3, askedFirst: false, ...(given === undefined ? {} : { given }) };
    }),
    equations: terms.map(({ of }, number) => {
      const merged = new Map<number, number>();
      for (const [index, factor] of of) merged.set(index, (merged.get(index) ?? 0) + factor);
      return {
        name: `sum ${number}`,
        form: formOf([...merged.values()]),
        variables: [...merged.keys()],
        rank: "relation",
      };
    }),
  };
  return { system, unknowns, rows, right };
}

export function solveHere({ system, unknowns }: LinearSystem): number[] {
  const { values } = solve(system);
  return unknowns.map((index) => values[index] ?? Number.NaN);
}

/** By the library's sparse matrices, the faster of its two ways for such a system. */
export function solveByLibrary({ rows, right }: LinearSystem): number[] {
  const matrix = sparse();
  matrix.resize([rows.length, rows.length]);
  for (const [row, entries] of rows.entries()) {
    for (const [column, factor] of entries) matrix.set([row, column], factor);
  }
  const answer = lusolve(
    matrix,
    right.map((value) => [value]),
  );
  return (answer.valueOf() as number[][]).map(([value = Number.NaN]) => value);
}

/** The largest difference of two rows, each relative to its value. */
export function disagreement(one: readonly number[], other: readonly number[]): number {
  let largest = 0;
  for (const [index, value] of one.entries()) {
    const size = Math.max(Math.abs(value), Math.abs(other[index] ?? Number.NaN), 1e-12);
    const off = Math.abs(value - (other[index] ?? Number.NaN)) / size;
    if (!(off <= largest)) largest = off;
  }
  return largest;
}

// ───────────────────────────── helpers ─────────────────────────────

const forms = new Map<string, EquationForm>();

/** Factor times slot, summed up, is nothing. */
function formOf(factors: readonly number[]): EquationForm {
  const key = factors.join(" ");
  const before = forms.get(key);
  if (before !== undefined) return before;
  const [first, ...rest] = factors.map((factor, index): Expression => {
    const slot: Expression = { op: "slot", index };
    return factor === 1
      ? slot
      : { op: "multiply", left: { op: "number", value: factor }, right: slot };
  });
  const left = rest.reduce<Expression>(
    (sum, term) => ({ op: "add", left: sum, right: term }),
    first!,
  );
  const form: EquationForm = { left, right: { op: "number", value: 0 }, slots: factors.length };
  forms.set(key, form);
  return form;
}
