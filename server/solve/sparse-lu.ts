/**
 * LU of a large sparse matrix: at each step the pivot that makes the fewest new entries (Markowitz
 * 1957), among the shortest rows, if it is at least a tenth of the largest in its row.
 *
 * Callers scale rows and columns first, so that an entry's natural size is 1.
 *
 *   const factors = factorSparse([{ columns: [0], entries: [2] }]); factors.solve([6])   // [3]
 *
 * Must not know: equations, variables, systems.
 */
import { goOn } from "../keep/patience";
import type { LinearSolver } from "./linear";

export interface SparseRow {
  readonly columns: readonly number[];
  readonly entries: readonly number[];
}

/** Rows looked at for a pivot. */
const LOOKED_AT = 6;
/** A pivot may be this much smaller than the largest entry of its row. */
const THRESHOLD = 0.1;

/** Rows are left as they are; every row has each column at most once. */
export function factorSparse(matrix: readonly SparseRow[]): LinearSolver {
  return new Elimination(matrix).factored();
}

class Elimination {
  private readonly columns: number[][];
  private readonly entries: number[][];
  /** For each column the rows that may have it; some may have lost it since. */
  private readonly rowsOf: number[][];
  private readonly columnCounts: Int32Array;
  /** Rows by length, as a stack for each; a row may stand in several, only its own length counts. */
  private readonly byLength: number[][] = [];
  private readonly done: Uint8Array;
  private readonly placeOf: Int32Array;

  constructor(matrix: readonly SparseRow[]) {
    const size = matrix.length;
    this.columns = matrix.map((row) => row.columns.slice());
    this.entries = matrix.map((row) => row.entries.slice());
    this.rowsOf = Array.from({ length: size }, () => []);
    this.columnCounts = new Int32Array(size);
    this.done = new Uint8Array(size);
    this.placeOf = new Int32Array(size).fill(-1);
    for (let i = 0; i < size; i++) {
      for (const column of this.columns[i]!) {
        this.rowsOf[column]!.push(i);
        this.columnCounts[column]!++;
      }
      this.file(i);
    }
  }

  factored(): LinearSolver {
    const size = this.columns.length;
    const pivotRows = new Int32Array(size);
    const pivotColumns = new Int32Array(size);
    const pivots = new Float64Array(size);
    const steps: Steps = { from: [], into: [], factors: [] };
    let smallest = size === 0 ? 1 : Number.POSITIVE_INFINITY;
    for (let step = 0; step < size; step++) {
      const found = this.pivot();
      if (found === undefined) return new SparseFactors(0, this, [], [], [], steps);
      const { row, column, entry } = found;
      pivotRows[step] = row;
      pivotColumns[step] = column;
      pivots[step] = entry;
      smallest = Math.min(smallest, Math.abs(entry));
      this.done[row] = 1;
      for (const each of this.columns[row]!) this.columnCounts[each]!--;
      for (const other of this.rowsOf[column]!) {
        if (this.done[other] === 0) this.eliminate(row, other, column, entry, steps);
      }
    }
    return new SparseFactors(smallest, this, pivotRows, pivotColumns, pivots, steps);
  }

  row(i: number): { readonly columns: readonly number[]; readonly entries: readonly number[] } {
    return { columns: this.columns[i]!, entries: this.entries[i]! };
  }

  private file(row: number): void {
    const length = this.columns[row]!.length;
    while (this.byLength.length <= length) this.byLength.push([]);
    this.byLength[length]!.push(row);
  }

  /** The entry that is cheapest to eliminate with, among the shortest rows. */
  private pivot(): { row: number; column: number; entry: number } | undefined {
    let best: { row: number; column: number; entry: number } | undefined;
    let least = Number.POSITIVE_INFINITY;
    let looked = 0;
    for (let length = 0; length < this.byLength.length && looked < LOOKED_AT; length++) {
      const rows = this.byLength[length]!;
      if (best !== undefined && (length - 1) ** 2 >= least) break;
      for (let at = rows.length - 1; at >= 0 && looked < LOOKED_AT; at--) {
        const row = rows[at]!;
        if (this.done[row] === 1 || this.columns[row]!.length !== length) {
          rows[at] = rows[rows.length - 1]!;
          rows.pop();
          continue;
        }
        if (length === 0) return undefined;
        looked++;
        const entries = this.entries[row]!;
        let largest = 0;
        for (const entry of entries) largest = Math.max(largest, Math.abs(entry));
        for (let k = 0; k < length; k++) {
          const entry = entries[k]!;
          if (!(Math.abs(entry) >= THRESHOLD * largest) || entry === 0) continue;
          const column = this.columns[row]![k]!;
          const cost = (length - 1) * (this.columnCounts[column]! - 1);
          const better =
            cost < least || (cost === least && Math.abs(entry) > Math.abs(best?.entry ?? 0));
          if (!better) continue;
          least = cost;
          best = { row, column, entry };
        }
      }
    }
    return best;
  }

  private eliminate(
    row: number,
    other: number,
    column: number,
    pivot: number,
    { from, into, factors }: Steps,
  ): void {
    const columns = this.columns[other]!;
    const entries = this.entries[other]!;
    const { placeOf } = this;
    goOn(5 * (columns.length + this.columns[row]!.length));
    for (let k = 0; k < columns.length; k++) placeOf[columns[k]!] = k;
    const at = placeOf[column]!;
    if (at >= 0) {
      const factor = entries[at]! / pivot;
      from.push(row);
      into.push(other);
      factors.push(factor);
      const source = this.columns[row]!;
      const amounts = this.entries[row]!;
      for (let k = 0; k < source.length; k++) {
        const each = source[k]!;
        if (each === column) continue;
        const place = placeOf[each]!;
        if (place >= 0) entries[place]! -= factor * amounts[k]!;
        else {
          placeOf[each] = columns.length;
          columns.push(each);
          entries.push(-factor * amounts[k]!);
          this.rowsOf[each]!.push(other);
          this.columnCounts[each]!++;
        }
      }
    }
    for (const each of columns) placeOf[each] = -1;
    if (at < 0) return;
    const last = columns.length - 1;
    columns[at] = columns[last]!;
    entries[at] = entries[last]!;
    columns.pop();
    entries.pop();
    this.columnCounts[column]!--;
    this.file(other);
  }
}

/** Row `into[k]` loses `factors[k]` times row `from[k]`, one after another. */
interface Steps {
  readonly from: number[];
  readonly into: number[];
  readonly factors: number[];
}

class SparseFactors implements LinearSolver {
  constructor(
    readonly smallestPivot: number,
    private readonly upper: Pick<Elimination, "row">,
    private readonly pivotRows: ArrayLike<number>,
    private readonly pivotColumns: ArrayLike<number>,
    private readonly pivots: ArrayLike<number>,
    private readonly steps: Steps,
  ) {}

  solve(right: ArrayLike<number>): Float64Array {
    const b = Float64Array.from(right);
    const { from, into, factors } = this.steps;
    goOn(from.length);
    for (let k = 0; k < from.length; k++) b[into[k]!]! -= factors[k]! * b[from[k]!]!;
    const x = new Float64Array(b.length);
    for (let step = this.pivots.length - 1; step >= 0; step--) {
      const column = this.pivotColumns[step]!;
      const { columns, entries } = this.upper.row(this.pivotRows[step]!);
      let sum = b[this.pivotRows[step]!]!;
      for (let k = 0; k < columns.length; k++) {
        if (columns[k] !== column) sum -= entries[k]! * x[columns[k]!]!;
      }
      x[column] = sum / this.pivots[step]!;
    }
    return x;
  }

  solveTransposed(right: ArrayLike<number>): Float64Array {
    const c = Float64Array.from(right);
    goOn(this.steps.from.length);
    const z = new Float64Array(c.length);
    for (let step = 0; step < this.pivots.length; step++) {
      const column = this.pivotColumns[step]!;
      const row = this.pivotRows[step]!;
      const share = c[column]! / this.pivots[step]!;
      z[row] = share;
      if (share === 0) continue;
      const { columns, entries } = this.upper.row(row);
      goOn(columns.length);
      for (let k = 0; k < columns.length; k++) {
        if (columns[k] !== column) c[columns[k]!]! -= entries[k]! * share;
      }
    }
    const { from, into, factors } = this.steps;
    for (let k = from.length - 1; k >= 0; k--) z[from[k]!]! -= factors[k]! * z[into[k]!]!;
    return z;
  }
}
