/**
 * Readings that are joined by relations and do not agree, adjusted by weighted least squares: each
 * condition w + B v = 0 among the readings, v'Q⁻¹v least, so v = -Q B' (B Q B')⁻¹ w. A reading is
 * under suspicion by its standardized residual |v| / σ(v), which tells them apart only where two or
 * more conditions hold among them (with one they are all equal).
 *
 *     adjusted(solution, [17])   →   readings with what each would have to be, and how far off that is
 *
 * Source: adjustment by conditions and the test of the largest standardized residual, as in any text
 * on surveying adjustment (from memory); GUM (JCGM 100:2008) for standard uncertainties.
 *
 * Must not know: text, units, kinds, files.
 */
import { goOn } from "../keep/patience";
import { quantityValue, sensitivities } from "./sensitivity";
import { LinearSpan, solveSquares } from "./span";
import type { GivenNumber, Solution } from "./system";

export interface Adjustment {
  /** The readings that take part, the most suspicious first. */
  readonly readings: readonly AdjustedReading[];
  /** How many conditions there are among them that do not follow from one another. */
  readonly redundancy: number;
}

export interface AdjustedReading {
  readonly variable: number;
  readonly read: number;
  /** What all together make of it. */
  readonly adjusted: number;
  /** What the others alone make of it. */
  readonly byOthers: number;
  /** |adjusted - read| over its standard uncertainty. */
  readonly standardized: number;
}

/**
 * `equations`: conditions that the solution was not made with, so that they may be missed;
 * `mayMove`: which givens are adjusted, all others stay as they are.
 */
export function adjusted(
  solution: Solution,
  equations: readonly number[],
  mayMove: (variable: number) => boolean = () => true,
): Adjustment | undefined {
  const { system } = solution;
  const standard = (variable: number): number =>
    mayMove(variable) ? standardOf(system.variables[variable]?.given) : 0;
  const span = new LinearSpan();
  const rows: { slopes: ReadonlyMap<number, number>; miss: number; scaled: Float64Array }[] = [];
  const variables = new Set<number>();
  const conditions = equations.flatMap((equation) => {
    const { form, variables: own } = system.equations[equation]!;
    const quantity = {
      expression: { op: "subtract", left: form.left, right: form.right },
      variables: own,
    } as const;
    const miss = quantityValue(solution, quantity);
    if (miss === undefined || !Number.isFinite(miss)) return [];
    const slopes = new Map(
      [...sensitivities(solution, quantity)].filter(
        ([variable, slope]) => slope !== 0 && standard(variable) > 0,
      ),
    );
    for (const variable of slopes.keys()) variables.add(variable);
    return [{ slopes, miss }];
  });
  const all = [...variables];
  for (const each of conditions) {
    const scaled = Float64Array.from(
      all,
      (variable) => (each.slopes.get(variable) ?? 0) * standard(variable),
    );
    if (span.add(scaled)) rows.push({ ...each, scaled });
  }
  if (rows.length === 0) return undefined;
  const variance = all.map((variable) => standard(variable) ** 2);
  const slope = (row: number, at: number): number => rows[row]!.slopes.get(all[at]!) ?? 0;
  const normal = rows.map(() => new Array<number>(rows.length).fill(0));
  for (const [i, { scaled: one }] of rows.entries()) {
    for (let j = 0; j <= i; j++) {
      goOn(one.length);
      const other = rows[j]!.scaled;
      let sum = 0;
      for (let at = 0; at < one.length; at++) sum += one[at]! * other[at]!;
      normal[i]![j] = sum;
      normal[j]![i] = sum;
    }
  }
  const owns = all.map((_, at) => rows.map((__, row) => slope(row, at)));
  const answers = solveSquares(normal, [rows.map(({ miss }) => miss), ...owns]);
  if (answers === undefined) return undefined;
  const [factors = [], ...spreads] = answers;
  const readings = all.flatMap((variable, at): AdjustedReading[] => {
    const [own, spread] = [owns[at]!, spreads[at]!];
    const given = system.variables[variable]?.given;
    if (given === undefined) return [];
    const weighted = (parts: readonly number[]): number =>
      own.reduce((sum, each, row) => sum + each * parts[row]!, 0);
    const residual = -variance[at]! * weighted(factors);
    const deviation = variance[at]! * Math.sqrt(Math.max(0, weighted(spread)));
    return [
      {
        variable,
        read: given.value,
        adjusted: given.value + residual,
        byOthers: given.value + (deviation === 0 ? 0 : (residual * variance[at]!) / deviation ** 2),
        standardized: deviation === 0 ? 0 : Math.abs(residual) / deviation,
      },
    ];
  });
  readings.sort((one, other) => other.standardized - one.standardized);
  return { readings, redundancy: rows.length };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Standard uncertainty: limits are three of them for a normal spread; rounding is uniform. */
function standardOf(given: GivenNumber | undefined): number {
  if (given === undefined) return 0;
  const half = (given.high - given.low) / 2;
  if (half <= 0) return given.rounding / Math.sqrt(3);
  if (given.distribution === "uniform") return half / Math.sqrt(3);
  return given.distribution === "triangular" ? half / Math.sqrt(6) : half / 3;
}
