/**
 * Reading a table by its keys: a plain number, a word, or a formula where the last key is unknown.
 *
 *     load_by_index(91)   →   615 kg
 *
 * Must not know: where tables come from, what they are about.
 */
import { lookUp as lookUpOn } from "../solve/evaluate";
import type { Expression, LookupCurve } from "../solve/expression";
import type { Dimension, Measure } from "../units";
import { describeDimension, measureInWords, sameDimension } from "../units";
import type { Cell, TableColumnDefinition, TableDefinition } from "./definition";

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

export interface Found {
  readonly expression?: Expression;
  readonly measure?: Measure;
  readonly word?: string;
  readonly later?: boolean;
  readonly problem?: string;
  readonly kind?: "no-row" | "misuse";
}

/** `column` may be left out where the table has one result. */
export function lookUp(
  table: TableDefinition,
  column: string | undefined,
  keys: readonly KeyValue[],
): Found {
  const keyColumns = table.columns.filter((each) => each.key);
  const results = table.columns.filter((each) => !each.key);
  const result =
    column === undefined
      ? results.length === 1
        ? results[0]
        : undefined
      : results.find((each) => each.name === column);
  if (result === undefined) {
    const columns = results.map((each) => `${table.name}.${each.name}`).join(" or ");
    return misuse(
      column === undefined
        ? `\`${table.name}\` has several columns, say which one is wanted: ${columns}`
        : `\`${table.name}\` has no column \`${column}\`: write ${columns}`,
    );
  }
  if (keys.length !== keyColumns.length) {
    return misuse(
      `\`${table.name}\` is looked up by ${keyColumns.map((each) => each.name).join(" and ")}, ${keys.length === 0 ? "no value is" : keys.length === 1 ? "one value is" : `${keys.length} values are`} given`,
    );
  }
  for (const [index, key] of keys.entries()) {
    const clash = clashOf(table, keyColumns[index], key);
    if (clash !== undefined) return misuse(clash);
  }
  const last = keys.length - 1;
  const rows = table.rows.filter((row) =>
    keys.every(
      (key, index) => index === last || sameCell(cellOf(table, row, keyColumns[index]), key),
    ),
  );
  const lastKey = keys[last];
  const lastColumn = keyColumns[last];
  if (lastKey === undefined || lastColumn === undefined)
    return misuse(`\`${table.name}\` has no key`);
  if (keys.some((key, index) => index !== last && key.is === "number" && key.known === undefined))
    return { later: true };
  if (lastKey.is === "number" && resultMeasure(result) !== undefined)
    return numeric(table, rows, lastColumn, lastKey, result);
  return exactRow(table, rows, keyColumns, keys, result);
}

function numeric(
  table: TableDefinition,
  rows: readonly (readonly Cell[])[],
  keyColumn: TableColumnDefinition,
  key: Extract<KeyValue, { is: "number" }>,
  result: TableColumnDefinition,
): Found {
  const points = rows
    .map((row) => [cellOf(table, row, keyColumn), cellOf(table, row, result)] as const)
    .filter(
      (pair): pair is readonly [number, number] =>
        typeof pair[0] === "number" && typeof pair[1] === "number",
    )
    .sort((one, other) => one[0] - other[0]);
  if (points.length === 0) return noRow(table, " for these values");
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
    const first = curve.keys[0] ?? Number.NaN;
    const end = curve.keys[curve.keys.length - 1] ?? Number.NaN;
    const inside = key.known >= first && key.known <= end;
    const what =
      key.dimension.key === "" ? ` for ${Number(key.known.toPrecision(6))}` : " for this value";
    return noRow(
      table,
      inside || key.dimension.key !== "" ? what : `${what}: it goes from ${first} to ${end}`,
    );
  }
  return { expression: { op: "number", value }, measure };
}

function exactRow(
  table: TableDefinition,
  rows: readonly (readonly Cell[])[],
  keyColumns: readonly TableColumnDefinition[],
  keys: readonly KeyValue[],
  result: TableColumnDefinition,
): Found {
  const last = keys.length - 1;
  const key = keys[last];
  if (key === undefined) return misuse(`\`${table.name}\` has no key`);
  if (key.is === "number" && key.known === undefined) return { later: true };
  const row = rows.find((each) => sameCell(cellOf(table, each, keyColumns[last]), key));
  if (row === undefined)
    return noRow(table, key.is === "word" ? ` for “${key.value}”` : " for this value");
  const cell = cellOf(table, row, result);
  if (cell === undefined)
    return noRow(table, ` for this: its place in \`${result.name}\` is empty`);
  if (typeof cell === "string") return { word: cell };
  return { expression: { op: "number", value: cell }, measure: resultMeasure(result) };
}

function cellOf(
  table: TableDefinition,
  row: readonly Cell[],
  column: TableColumnDefinition | undefined,
): Cell {
  return column === undefined ? undefined : row[table.columns.indexOf(column)];
}

function sameCell(cell: Cell, key: KeyValue): boolean {
  if (key.is === "word") return String(cell) === String(key.value);
  if (typeof cell !== "number" || key.known === undefined) return false;
  return Math.abs(cell - key.known) <= 1e-9 * Math.max(Math.abs(cell), Number.MIN_VALUE);
}

function clashOf(
  table: TableDefinition,
  column: TableColumnDefinition | undefined,
  key: KeyValue,
): string | undefined {
  if (column === undefined) return undefined;
  if (column.type.form === "measure") {
    if (key.is === "word")
      return `\`${table.name}\` takes ${measureInWords(column.type.measure)} for \`${column.name}\`, not a word`;
    if (!key.zero && !sameDimension(column.type.measure.dimension, key.dimension)) {
      return `\`${table.name}\` takes ${measureInWords(column.type.measure)} for \`${column.name}\`, not ${describeDimension(key.dimension)}`;
    }
    return undefined;
  }
  return key.is === "number" ? `\`${table.name}\` takes a word for \`${column.name}\`` : undefined;
}

function resultMeasure(column: TableColumnDefinition): Measure | undefined {
  return column.type.form === "measure" ? column.type.measure : undefined;
}

function misuse(problem: string): Found {
  return { problem, kind: "misuse" };
}

function noRow(table: TableDefinition, why: string): Found {
  return { problem: `the table “${table.title}” has no row${why}`, kind: "no-row" };
}
