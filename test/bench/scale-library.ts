/**
 * The same scale by a general-purpose library (mathjs), as someone would do it who has no solver of
 * this kind: formulas compiled once and worked out at every corner, sparse factors, all pairs of counts.
 * It reads no text and knows no units; where it would take minutes, it does a part, and says which.
 */
import * as mathjs from "mathjs";
import { compile, lusolve, type Matrix, matrix, qr, slu } from "mathjs";

/** The greatest of a formula with kinks over eight tolerances: at all of their 256 corners. */
export function kinksByLibrary(checks: number): number {
  const names = ["a", "b", "c", "d", "e", "f", "g", "h"];
  const formula = compile("abs(a + b + c + d - (e + f + g + h))");
  let holding = 0;
  for (let i = 0; i < checks; i++) {
    let most = Number.NEGATIVE_INFINITY;
    for (let corner = 0; corner < 256; corner++) {
      const scope: Record<string, number> = {};
      names.forEach((name, k) => {
        const nominal = 1 + (((i * 13 + k * 37) % checks) % 7) * 0.1;
        scope[name] = nominal + ((corner >> k) & 1 ? 0.02 : -0.02);
      });
      most = Math.max(most, formula.evaluate(scope));
    }
    if (most <= 3) holding++;
  }
  return holding;
}

/** Each figure the one before and a piece of its own: 1 on the diagonal, −1 before it. */
function chainMatrix(length: number): Matrix {
  const values: number[] = [];
  const index: number[] = [];
  const ptr: number[] = [];
  for (let column = 0; column < length; column++) {
    ptr.push(values.length);
    values.push(1);
    index.push(column);
    if (column + 1 < length) {
      values.push(-1);
      index.push(column + 1);
    }
  }
  ptr.push(values.length);
  // Its types do not have the class that its module gives out.
  const { SparseMatrix } = mathjs as unknown as { SparseMatrix: new (data: object) => Matrix };
  return new SparseMatrix({ values, index, ptr, size: [length, length], datatype: "number" });
}

/** The worst case of some figures of a chain: what moves each, by a solve of its own. */
export function spreadsByLibrary(length: number, figures: number): number {
  const factors = slu(chainMatrix(length), 1, 0.1);
  let total = 0;
  for (let k = 0; k < figures; k++) {
    const piece = Math.floor((k * length) / figures);
    const right = Array.from({ length }, (_, i) => [i === piece ? 1e-5 : 0]);
    const moved = lusolve(factors as unknown as Matrix, right).valueOf() as number[][];
    for (const [by = 0] of moved) total += Math.abs(by);
  }
  return total;
}

/** A chain of figures solved. */
export function chainByLibrary(length: number): number {
  const right = Array.from({ length }, (_, i) => [i === 0 ? 1 : 0.01]);
  const answer = lusolve(chainMatrix(length), right).valueOf() as number[][];
  return answer[length - 1]?.[0] ?? Number.NaN;
}

/** What can still move in the rows of sums that the advice is about: their QR factors, once. */
export function freedomByLibrary(unknowns: number): unknown {
  const rows: number[][] = [];
  for (let i = 0; i + 2 < unknowns; i += 2) {
    const row = new Array<number>(unknowns).fill(0);
    row[i] = 1;
    row[i + 1] = -1;
    row[i + 2] = -1;
    rows.push(row);
  }
  return qr(matrix(rows));
}

/** Tooth counts for ratios: every pair tried. */
export function teethByLibrary(ratios: number): number {
  const formula = compile("driven / driving");
  let found = 0;
  for (let i = 0; i < ratios; i++) {
    const wanted = Number((2.5 + (i % 37) / 17).toFixed(3));
    for (let driven = 30; driven <= 60; driven++) {
      for (let driving = 7; driving <= 19; driving++) {
        if (Math.abs(formula.evaluate({ driven, driving }) - wanted) <= 5e-4) found++;
      }
    }
  }
  return found;
}
