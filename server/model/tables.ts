/**
 * Tables, read from their declarations: columns with their units, cells in coherent SI.
 *
 *     readTable(node, fields, at, findings)   →   columns, rows such as [94, 6570.0], how to look up
 *
 * Must not know: how a table is looked up, where it is used.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import { waysToLookUp } from "../../grammar/words";
import type { Found } from "../findings/worded";
import { readUnit, suggestUnits, unitFits } from "../units";
import type { Remarks, TableCell, TableColumnDefinition, TableDefinition } from "./definition";
import type { FieldReader } from "./field-types";
import { remarksOf } from "./remarks";
import { misnamed } from "./spelling";

/** What a table declaration says; a cell that cannot be read stays empty and is told. */
export function readTable(
  node: syntax.Table,
  fields: FieldReader,
  at: (span: syntax.Span) => Anchor,
  report: (found: Found) => void,
): TableDefinition {
  const name = node.name.text;
  const columns: TableColumnDefinition[] = node.columns.map((column) => ({
    name: column.name.text,
    key: column.key,
    type: fields.type(column.fieldType, at),
    description: column.description?.value,
  }));
  const units = columns.map((column, index) =>
    columnUnit(report, column, node.columns[index]?.unit, at),
  );
  const rows = node.rows.map((row) => {
    const { length } = row.cells;
    if (length !== columns.length) {
      const counts = { values: length, columns: columns.length };
      report({ is: "table/row", ...counts, anchor: at(row.span) });
    }
    return columns.map((column, index) => cell(report, row.cells[index], column, units[index], at));
  });
  const remarks = remarksOf(node.clauses) as Remarks & { lookup?: string };
  const lookup = remarks.lookup;
  if (lookup !== undefined && !waysToLookUp.includes(lookup)) {
    const clause = node.clauses.find((each) => each.word.text === "lookup");
    report({
      is: "name/unknown-word lookup",
      name: lookup,
      ...misnamed(lookup, waysToLookUp),
      anchor: at(clause?.value.span ?? node.name.span),
    });
  }
  return {
    name,
    title: node.title?.value ?? name,
    columns,
    rows,
    lookup: lookup === "linear" || lookup === "step" ? lookup : "exact",
    remarks,
    anchor: at(node.name.span),
  };
}

/** What a bare number of a column counts: in which unit, or in none. */
function columnUnit(
  report: (found: Found) => void,
  column: TableColumnDefinition,
  unit: syntax.UnitReference | undefined,
  at: (span: syntax.Span) => Anchor,
): ColumnUnit {
  const { type } = column;
  if (type.form !== "measure") return { is: "plain" };
  const { measure } = type;
  if (unit === undefined)
    return measure.units.length === 0 || measure.name === "ratio"
      ? { is: "plain" }
      : { is: "none" };
  const read = readUnit(unit.text, measure);
  if (read === undefined) {
    const meant = misnamed(unit.text, suggestUnits(unit.text, measure));
    report({ is: "unit/unknown column", unit: unit.text, ...meant, anchor: at(unit.span) });
    return { is: "wrong" };
  }
  if (!unitFits(read, measure)) {
    report({
      is: "unit/wrong column",
      column: column.name,
      unit: unit.text,
      measure,
      dimension: read.dimension,
      anchor: at(unit.span),
    });
    return { is: "wrong" };
  }
  return { is: "unit", factor: read.factor, offset: read.offset };
}

function cell(
  report: (found: Found) => void,
  node: syntax.Expression | undefined,
  column: TableColumnDefinition,
  unit: ColumnUnit | undefined,
  at: (span: syntax.Span) => Anchor,
): TableCell {
  if (node === undefined || node.type === "missing") return undefined;
  if (column.type.form !== "measure") {
    if (node.type === "text") return node.value;
    if (node.type === "designation") return node.text;
    if (node.type === "number") return node.text;
    if (node.type === "path") return node.names.map((name) => name.text).join(".");
    return undefined;
  }
  const { measure } = column.type;
  const sign = node.type === "unary" && node.operator === "-" ? -1 : 1;
  const inner = node.type === "unary" ? node.operand : node;
  if (inner.type === "number") {
    if (unit?.is === "plain") return sign * inner.value;
    if (unit?.is === "unit") return sign * inner.value * unit.factor + unit.offset;
    if (unit?.is === "none") {
      const told = { text: inner.text, measure, column: column.name };
      report({ is: "unit/missing column", ...told, anchor: at(inner.span) });
    }
    return undefined;
  }
  if (inner.type === "quantity") {
    let total = 0;
    for (const part of inner.parts) {
      const read = readUnit(part.unit.text, measure);
      if (read === undefined || !unitFits(read, measure)) {
        const { text: unit, span } = part.unit;
        report({ is: "unit/wrong cell", unit, measure, anchor: at(span) });
        return undefined;
      }
      total += sign * part.number.value * read.factor + read.offset;
    }
    return total;
  }
  report({ is: "table/row cell", column: column.name, measure, anchor: at(node.span) });
  return undefined;
}

// ───────────────────────────── helpers ─────────────────────────────

type ColumnUnit =
  | { readonly is: "plain" }
  /** Each cell has to bring its own. */
  | { readonly is: "none" }
  /** Said once already. */
  | { readonly is: "wrong" }
  | { readonly is: "unit"; readonly factor: number; readonly offset: number };
