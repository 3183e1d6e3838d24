/**
 * Reading a table by its keys: a plain number, a word, or a formula where the last key is unknown.
 *
 *     load_by_index(91)   →   615 kg
 *
 * Must not know: where tables come from, what they are about.
 */
import type { NoRow } from "../findings/formulas";
import type { Fact } from "../findings/worded";
import { lookUp as lookUpOn } from "../solve/evaluate";
import type { Expression, LookupCurve } from "../solve/expression";
import type { Dimension, Measure } from "../units";
import { sameDimension } from "../units";
import type { TableCell, TableColumnDefinition, TableDefinition } from "./definition";

/** A key while compiling; `known` where its value does not wait for the solver. */
export type KeyValue =
  | {
      readonly is: "number";
      readonly expression: Expression;
      readonly dimension: Dimension;
      readonly known?: number;
      readonly zero?: boolean;
    }
  | { readonly is: "word"; readonly value: string | boolean };

export interface LookedUp {
  readonly expression?: Expression;
  readonly measure?: Measure;
  readonly word?: string;
  readonly later?: boolean;
  /** The table is asked for what it cannot be asked for. */
  readonly misuse?: Misuse;
  /** It has no such row. */
  readonly missed?: NoRow["missed"];
}

type Misuse = Fact<
  | "table/use columns"
  | "table/use keys"
  | "table/use no-key"
  | "table/use measure"
  | "table/use word"
>;

/** `column` may be left out where the table has one result. */
export function lookUp(
  table: TableDefinition,
  column: string | undefined,
  keys: readonly KeyValue[],
): LookedUp {
  const keyColumns = table.columns.filter((each) => each.key);
  const results = table.columns.filter((each) => !each.key);
  const result =
    column === undefined
      ? results.length === 1
        ? results[0]
        : undefined
      : results.find((each) => each.name === column);
  if (result === undefined) {
    const columns = results.map((each) => each.name);
    return { misuse: { is: "table/use columns", table: table.name, column, columns } };
  }
  if (keys.length !== keyColumns.length) {
    const columns = keyColumns.map((each) => each.name);
    const count = keys.length;
    return { misuse: { is: "table/use keys", table: table.name, keys: columns, count } };
  }
  for (const [index, key] of keys.entries()) {
    const misuse = clashOf(table, keyColumns[index]!, key);
    if (misuse !== undefined) return { misuse };
  }
  if (keys.length === 0) return { misuse: { is: "table/use no-key", table: table.name } };
  const others = keys.slice(0, -1);
  const lastKey = keys.at(-1)!;
  const lastColumn = keyColumns.at(-1)!;
  if (others.some((key) => key.is === "number" && key.known === undefined)) return { later: true };
  const rows = table.rows.filter((row) =>
    others.every((key, index) => sameCell(cellOf(table, row, keyColumns[index]!), key)),
  );
  if (lastKey.is === "number" && resultMeasure(result) !== undefined)
    return numeric(table, rows, lastColumn, lastKey, result);
  return exactRow(table, rows, lastColumn, lastKey, result);
}

function numeric(
  table: TableDefinition,
  rows: readonly (readonly TableCell[])[],
  keyColumn: TableColumnDefinition,
  key: Extract<KeyValue, { is: "number" }>,
  result: TableColumnDefinition,
): LookedUp {
  const points = rows
    .map((row) => [cellOf(table, row, keyColumn), cellOf(table, row, result)] as const)
    .filter(
      (pair): pair is readonly [number, number] =>
        typeof pair[0] === "number" && typeof pair[1] === "number",
    )
    .sort((one, other) => one[0] - other[0]);
  if (points.length === 0) return { missed: { is: "values" } };
  const curve: LookupCurve = {
    name: table.name,
    method: table.lookup,
    keys: points.map(([at]) => at),
    values: points.map(([, value]) => value),
  };
  const measure = resultMeasure(result);
  if (key.known === undefined)
    return { expression: { op: "lookup", curve, of: key.expression }, measure };
  // The solver reads tables the same way where it meets the key later.
  const value = lookUpOn(curve, key.known);
  if (Number.isNaN(value)) {
    const first = curve.keys[0]!;
    const end = curve.keys.at(-1)!;
    if (key.dimension.key !== "") return { missed: { is: "value" } };
    const inside = key.known >= first && key.known <= end;
    const range = inside ? {} : { from: first, to: end };
    return { missed: { is: "number", number: key.known, ...range } };
  }
  return { expression: { op: "number", value }, measure };
}

function exactRow(
  table: TableDefinition,
  rows: readonly (readonly TableCell[])[],
  keyColumn: TableColumnDefinition,
  key: KeyValue,
  result: TableColumnDefinition,
): LookedUp {
  if (key.is === "number" && key.known === undefined) return { later: true };
  const row = rows.find((each) => sameCell(cellOf(table, each, keyColumn), key));
  if (row === undefined)
    return { missed: key.is === "word" ? { is: "word", word: key.value } : { is: "value" } };
  const cell = cellOf(table, row, result);
  if (cell === undefined) return { missed: { is: "empty", column: result.name } };
  if (typeof cell === "string") return { word: cell };
  return { expression: { op: "number", value: cell }, measure: resultMeasure(result) };
}

function cellOf(
  table: TableDefinition,
  row: readonly TableCell[],
  column: TableColumnDefinition,
): TableCell {
  return row[table.columns.indexOf(column)];
}

function sameCell(cell: TableCell, key: KeyValue): boolean {
  if (key.is === "word") return String(cell) === String(key.value);
  if (typeof cell !== "number" || key.known === undefined) return false;
  return Math.abs(cell - key.known) <= 1e-9 * Math.max(Math.abs(cell), Number.MIN_VALUE);
}

function clashOf(
  table: TableDefinition,
  column: TableColumnDefinition,
  key: KeyValue,
): Misuse | undefined {
  const place = { table: table.name, column: column.name };
  if (column.type.form !== "measure")
    return key.is === "number" ? { is: "table/use word", ...place } : undefined;
  const { measure } = column.type;
  if (key.is === "word") return { is: "table/use measure", ...place, measure };
  if (key.zero || sameDimension(measure.dimension, key.dimension)) return undefined;
  return { is: "table/use measure", ...place, measure, found: key.dimension };
}

function resultMeasure(column: TableColumnDefinition): Measure | undefined {
  return column.type.form === "measure" ? column.type.measure : undefined;
}
