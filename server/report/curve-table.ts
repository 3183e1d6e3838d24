/**
 * A drawn function of a build as a table: the parameter in one column, the value in the other, each
 * in the unit the build shows its measure in.
 *
 *     curveTable(curve, analysis)
 *     // { parameter: { name: "n", unit: "rpm" }, value: { name: "speed", unit: "mph" }, rows: [["500", "4.83"], …] }
 *
 * Must not know: where it is written to.
 */
import type { Analysis, CurveResult } from "../analysis/analysis";
import { displayOf, fromSi, type Measure, plainUnit, readUnit } from "../units";

const digitsOfLargest = 5;
const mostDecimals = 9;

export interface CurveTable {
  readonly parameter: CurveColumn;
  readonly value: CurveColumn;
  readonly rows: readonly (readonly [string, string])[];
  /** How many points there are, where the rows are fewer. */
  readonly points: number;
}

export interface CurveColumn {
  readonly name: string;
  /** Empty for plain numbers. */
  readonly unit: string;
}

/** `most`: rows to pick at even steps, the first and the last among them; all unless given. */
export function curveTable(
  curve: CurveResult,
  { style }: Pick<Analysis, "style">,
  most = Number.POSITIVE_INFINITY,
): CurveTable {
  const points = curve.points();
  const picked = evenly(points, most);
  const unitOf = (measure: Measure | undefined): string =>
    measure === undefined ? "" : displayOf(measure, style).unit;
  const parameter = { name: curve.parameter, unit: unitOf(curve.parameterMeasure) };
  const value = { name: curve.name, unit: unitOf(curve.measure) };
  const left = written(
    picked.map(({ x }) => x),
    curve.parameterMeasure,
    parameter.unit,
  );
  const right = written(
    picked.map(({ y }) => y),
    curve.measure,
    value.unit,
  );
  const rows = left.map((cell, index) => [cell, right[index] ?? ""] as const);
  return { parameter, value, rows, points: points.length };
}

/** `n (rpm)` */
export function columnTitle({ name, unit }: CurveColumn): string {
  return unit === "" ? name : `${name} (${unit})`;
}

/** Where a curve belongs: `rear_gears.speed`, or its name alone where no thing has it. */
export function curvePath({ thing, name }: CurveResult): string {
  return thing === undefined || thing.path === "" ? name : `${thing.path}.${name}`;
}

// ───────────────────────────── helpers ─────────────────────────────

function evenly<Each>(all: readonly Each[], most: number): readonly Each[] {
  if (all.length <= most) return all;
  const last = all.length - 1;
  return Array.from({ length: most }, (_, index) => {
    return all[Math.round((index * last) / (most - 1))] as Each;
  });
}

/**
 * Decimals even where lengths are shown in fractions, as many throughout as give the largest figure
 * five digits: a table is there to be read down and drawn from.
 */
function written(si: readonly number[], measure: Measure | undefined, unit: string): string[] {
  const read = measure === undefined || unit === "" ? plainUnit : readUnit(unit, measure);
  const figures = si.map((each) => fromSi(each, read ?? plainUnit));
  const largest = Math.max(0, ...figures.map(Math.abs));
  const whole = largest === 0 ? 1 : Math.floor(Math.log10(largest)) + 1;
  const digits = Math.min(mostDecimals, Math.max(0, digitsOfLargest - whole));
  const cells = figures.map((figure) => {
    const text = figure.toFixed(digits);
    return Number(text) === 0 ? text.replace("-", "") : text;
  });
  const idle = Math.min(...cells.map((cell) => /\.?0*$/.exec(cell)?.[0].length ?? 0));
  return digits === 0 ? cells : cells.map((cell) => withoutEnd(cell, Math.min(idle, digits + 1)));
}

/** A decimal point goes with the last decimal. */
function withoutEnd(cell: string, count: number): string {
  return cell.slice(0, cell.length - count).replace(/\.$/, "");
}
