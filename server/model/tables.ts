/**
 * Tables, read from their declarations: columns with their units, cells in coherent SI.
 *
 *     readTable(node, fields, at, findings)   →   columns, rows such as [94, 6570.0], how to look up
 *
 * Must not know: how a table is looked up, where it is used.
 */
import type * as syntax from "../../grammar/syntax";
import { waysToLookUp } from "../../grammar/words";
import {
  describeDimension,
  type Measure,
  measureInWords,
  readUnit,
  suggestUnits,
  unitFits,
  unitsInWords,
} from "../units";
import type { Anchor } from "./anchor";
import type { DeclarationFindings } from "./declaration-findings";
import type { Cell, Remarks, TableColumnDefinition, TableDefinition } from "./definition";
import type { FieldReader } from "./field-types";
import { remarksOf } from "./remarks";

/** What a table declaration says; a cell that cannot be read stays empty and is told. */
export function readTable(
  node: syntax.Table,
  fields: FieldReader,
  at: (span: syntax.Span) => Anchor,
  findings: DeclarationFindings,
): TableDefinition {
  const name = node.name.text;
  const columns: TableColumnDefinition[] = node.columns.map((column) => ({
    name: column.name.text,
    key: column.key,
    type: fields.type(column.fieldType, at),
    description: column.description?.value,
  }));
  const units = columns.map((column, index) =>
    columnUnit(findings, column, node.columns[index]?.unit, at),
  );
  const rows = node.rows.map((row) => {
    const { length } = row.cells;
    if (length !== columns.length) {
      findings.say(
        "table/row",
        `this row has ${length} ${length === 1 ? "value" : "values"}, the table has ${columns.length} columns`,
        at(row.span),
        "write one value for each column, with commas between them",
      );
    }
    return columns.map((column, index) =>
      cell(findings, row.cells[index], column, units[index], at),
    );
  });
  const remarks = remarksOf(node.clauses) as Remarks & { lookup?: string };
  const lookup = remarks.lookup;
  if (lookup !== undefined && !waysToLookUp.includes(lookup)) {
    const clause = node.clauses.find((each) => each.word.text === "lookup");
    findings.sayUnknown(
      "name/unknown-word",
      `a table cannot be looked up \`${lookup}\``,
      lookup,
      at(clause?.value.span ?? node.name.span),
      waysToLookUp,
    );
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
  findings: DeclarationFindings,
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
    findings.sayUnknown(
      "unit/unknown",
      `unknown unit \`${unit.text}\``,
      unit.text,
      at(unit.span),
      suggestUnits(unit.text, measure),
    );
    return { is: "wrong" };
  }
  if (!unitFits(read, measure)) {
    findings.say(
      "unit/wrong",
      `\`${column.name}\` holds ${measureInWords(measure)}, \`${unit.text}\` is a unit of ${describeDimension(read.dimension).replace(/^(a|an) /, "")}`,
      at(unit.span),
      unitsHint(measure),
    );
    return { is: "wrong" };
  }
  return { is: "unit", factor: read.factor, offset: read.offset };
}

function cell(
  findings: DeclarationFindings,
  node: syntax.Expression | undefined,
  column: TableColumnDefinition,
  unit: ColumnUnit | undefined,
  at: (span: syntax.Span) => Anchor,
): Cell {
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
      const example = measure.units[0] ?? "";
      findings.say(
        "unit/missing",
        `${inner.text} needs a unit of ${measure.title}, such as ${unitsInWords(measure)}`,
        at(inner.span),
        `write the unit once, after the column: \`${column.name}: ${measure.name} in ${example}\``,
      );
    }
    return undefined;
  }
  if (inner.type === "quantity") {
    let total = 0;
    for (const part of inner.parts) {
      const read = readUnit(part.unit.text, measure);
      if (read === undefined || !unitFits(read, measure)) {
        findings.say(
          "unit/wrong",
          `\`${part.unit.text}\` is not a unit of ${measure.title}`,
          at(part.unit.span),
          unitsHint(measure),
        );
        return undefined;
      }
      total += part.number.value * read.factor + read.offset;
    }
    return sign * total;
  }
  findings.say(
    "table/row",
    `\`${column.name}\` takes ${measureInWords(measure)} in each row`,
    at(node.span),
  );
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

function unitsHint(measure: Measure): string | undefined {
  return measure.units.length === 0
    ? undefined
    : `units of ${measure.title} are ${unitsInWords(measure)}`;
}
