/**
 * Kinds, designations, tables and orders, bound from their declarations.
 *
 *     const vocabulary = buildVocabulary(libraryFiles, emptyVocabulary, report)
 *
 * Must not know: things, values, the solver.
 */
import type * as syntax from "../../grammar/syntax";
import {
  compilePattern,
  describeDimension,
  type Measure,
  measureInWords,
  measureNamed,
  measures,
  readUnit,
  suggestUnits,
  unitFits,
  unitsInWords,
} from "../units";
import { type Anchor, type ModelFile, textAt } from "./anchor";
import type {
  Cell,
  CheckDefinition,
  CurveDefinition,
  DesignationDefinition,
  FieldDefinition,
  FieldType,
  KindDefinition,
  OrderDefinition,
  RelationDefinition,
  Remarks,
  TableColumnDefinition,
  TableDefinition,
  Vocabulary,
} from "./definition";
import type { Finding } from "./finding";
import { nameHint, nearest } from "./spelling";

export const emptyVocabulary: Vocabulary = {
  kinds: new Map(),
  designations: new Map(),
  tables: new Map(),
  orders: [],
};

type Report = (finding: Finding) => void;

/** The vocabulary of `base` and of all declarations in `files`; `base` itself stays as it is. */
export function buildVocabulary(
  files: readonly ModelFile[],
  base: Vocabulary,
  report: Report,
): Vocabulary {
  return new Builder(files, base, report).build();
}

/** Whether a file declares words of its own, so that a vocabulary has to be made for it. */
export function declaresWords(file: ModelFile): boolean {
  return file.source.items.some((item) =>
    ["kind", "designation_declaration", "table", "order"].includes(item.node.type),
  );
}

/** What the clauses after a declaration say, by word. */
export function remarksOf(clauses: readonly syntax.Clause[]): Remarks {
  const remarks: Record<string, string> = {};
  for (const clause of clauses) {
    const { value } = clause;
    if (value.type === "text") remarks[clause.word.text] ??= value.value;
    else if (value.type === "path")
      remarks[clause.word.text] ??= value.names.map((name) => name.text).join(".");
  }
  return remarks;
}

const wordsOfFields = ["shown", "fixed", "optional", "natural", "settled"];
const plainTypes = ["text", "yes_no", "date"];

class Builder {
  private readonly kinds: Map<string, KindDefinition>;
  private readonly designations: Map<string, DesignationDefinition>;
  private readonly tables: Map<string, TableDefinition>;
  private readonly orders: OrderDefinition[];
  private readonly kindNodes = new Map<
    string,
    { node: syntax.Kind; file: ModelFile; item: syntax.Item }
  >();

  constructor(
    private readonly files: readonly ModelFile[],
    base: Vocabulary,
    private readonly report: Report,
  ) {
    this.kinds = new Map(base.kinds);
    this.designations = new Map(base.designations);
    this.tables = new Map(base.tables);
    this.orders = [...base.orders];
  }

  build(): Vocabulary {
    const items = this.files.flatMap((file) => file.source.items.map((item) => ({ file, item })));
    for (const { file, item } of items) {
      if (item.node.type === "kind") this.collectKind(item.node, file, item);
    }
    for (const { file, item } of items) {
      if (item.node.type === "designation_declaration") this.addDesignation(item.node, file, item);
    }
    for (const { file, item } of items)
      if (item.node.type === "table") this.addTable(item.node, file, item);
    for (const name of this.kindNodes.keys()) this.kind(name, []);
    for (const { file, item } of items) {
      if (item.node.type !== "order") continue;
      const { node } = item;
      this.orders.push({
        title: node.title?.value ?? "order of work",
        node,
        remarks: remarksOf(node.clauses),
        anchor: { uri: file.uri, item, span: node.span },
      });
    }
    return {
      kinds: this.kinds,
      designations: this.designations,
      tables: this.tables,
      orders: this.orders,
    };
  }

  // ── kinds ──

  private collectKind(node: syntax.Kind, file: ModelFile, item: syntax.Item): void {
    const name = node.name.text;
    if (name === "") return;
    if (this.kinds.has(name) || this.kindNodes.has(name)) {
      this.say(
        "name/duplicate",
        `there is a kind \`${name}\` already`,
        { uri: file.uri, item, span: node.name.span },
        "give this one another name",
      );
      return;
    }
    this.kindNodes.set(name, { node, file, item });
  }

  private kind(name: string, below: readonly string[]): KindDefinition | undefined {
    const done = this.kinds.get(name);
    if (done !== undefined) return done;
    const entry = this.kindNodes.get(name);
    if (entry === undefined) return undefined;
    const { node, file, item } = entry;
    const at = (span: syntax.Span): Anchor => ({ uri: file.uri, item, span });
    let base: KindDefinition | undefined;
    if (node.base !== undefined) {
      if (below.includes(node.base.text) || node.base.text === name) {
        this.say(
          "name/circular",
          node.base.text === name
            ? `the kind \`${name}\` takes over from itself`
            : `the kind \`${name}\` takes over from itself, by way of ${below.join(" and ")}`,
          at(node.base.span),
          "take over from another kind",
        );
      } else {
        base = this.kind(node.base.text, [...below, name]);
        if (base === undefined) this.unknownKind(node.base, at(node.base.span));
      }
    }
    if (
      node.owner !== undefined &&
      !this.kindNodes.has(node.owner.text) &&
      !this.kinds.has(node.owner.text)
    ) {
      this.unknownKind(node.owner, at(node.owner.span));
    }
    const fields = new Map(base?.fields ?? []);
    const relations: RelationDefinition[] = [...(base?.relations ?? [])];
    const checks: CheckDefinition[] = [...(base?.checks ?? [])];
    const curves: CurveDefinition[] = [...(base?.curves ?? [])];
    const own = new Set<string>();
    for (const member of node.members) {
      const anchor = at(member.span);
      switch (member.type) {
        case "field": {
          const fieldName = member.name.text;
          if (own.has(fieldName)) {
            this.say(
              "name/duplicate",
              `the kind \`${name}\` has a field \`${fieldName}\` already`,
              at(member.name.span),
              "give this one another name",
            );
            break;
          }
          own.add(fieldName);
          fields.set(fieldName, this.field(member, name, at));
          break;
        }
        case "relation":
          relations.push({
            title:
              member.title?.value ??
              textAt(at({ start: member.left.span.start, end: member.right.span.end })),
            assumed: member.assumed,
            node: member,
            remarks: remarksOf(member.clauses),
            anchor,
          });
          break;
        case "check":
          checks.push({
            title: member.title?.value ?? textAt(at(member.condition.span)),
            node: member,
            remarks: remarksOf(member.clauses),
            anchor,
          });
          break;
        case "curve":
          curves.push({
            name: member.name.text,
            title: member.title?.value ?? member.name.text,
            node: member,
            remarks: remarksOf(member.clauses),
            anchor,
          });
          break;
        default:
          break;
      }
    }
    const clauses = node.members.filter(
      (member): member is syntax.Clause => member.type === "clause",
    );
    const definition: KindDefinition = {
      name,
      title: node.title?.value ?? name,
      lineage: [name, ...(base?.lineage ?? [])],
      owner: node.owner?.text ?? base?.owner,
      fields,
      relations,
      checks,
      curves,
      remarks: remarksOf(clauses),
      anchor: at(node.name.span),
      library: file.library,
    };
    this.kinds.set(name, definition);
    return definition;
  }

  private unknownKind(name: syntax.Name, anchor: Anchor): void {
    this.sayUnknown("name/unknown-kind", `there is no kind \`${name.text}\``, name.text, anchor, [
      ...this.kindNodes.keys(),
      ...this.kinds.keys(),
    ]);
  }

  private field(
    node: syntax.Field,
    owner: string,
    at: (span: syntax.Span) => Anchor,
  ): FieldDefinition {
    const words = new Set(node.words.map((word) => word.text));
    for (const word of node.words) {
      if (wordsOfFields.includes(word.text)) continue;
      this.sayUnknown(
        "name/unknown-word",
        `a field cannot be \`${word.text}\``,
        word.text,
        at(word.span),
        wordsOfFields,
      );
    }
    const remarks = remarksOf(node.clauses) as Remarks & { needs?: string };
    return {
      name: node.name.text,
      type: this.shownIn(shownAsWritten(this.type(node.fieldType, at), node), node, at),
      default: node.default,
      range: node.range,
      shown: words.has("shown"),
      fixed: words.has("fixed"),
      optional: words.has("optional"),
      natural: words.has("natural"),
      settled: words.has("settled"),
      description: node.description?.value,
      needs: remarks.needs,
      source: remarks.source,
      owner,
      anchor: at(node.name.span),
    };
  }

  /** `length in mm`, or `length in ft or m`: units of its own, for inch and for metric builds. */
  private shownIn(
    type: FieldType,
    { units }: syntax.Field,
    at: (span: syntax.Span) => Anchor,
  ): FieldType {
    if (units === undefined || units.length === 0 || type.form === "unknown") return type;
    if (type.form !== "measure") {
      const [first] = units;
      if (first !== undefined) {
        this.say("unit/wrong", "only a figure has units to be shown in", at(first.span));
      }
      return type;
    }
    const { measure } = type;
    for (const unit of units) {
      const read = readUnit(unit.text, measure);
      if (read !== undefined && unitFits(read, measure)) continue;
      this.say("unit/wrong", `\`${unit.text}\` is not a unit of ${measure.title}`, at(unit.span));
      return type;
    }
    const [inch = "", metric = inch] = units.map((unit) => unit.text);
    return {
      form: "measure",
      measure: { ...measure, own: true, inch: { unit: inch }, metric: { unit: metric } },
    };
  }

  private type(node: syntax.TypeReference, at: (span: syntax.Span) => Anchor): FieldType {
    const name = node.name?.text ?? "";
    switch (node.form) {
      case "choice":
        return { form: "choice", choices: (node.choices ?? []).map((choice) => choice.text) };
      case "part":
        if (this.hasKind(name)) return { form: "part", kind: name };
        break;
      case "list":
        return { form: "list", of: this.named(node, name, at) };
      case "named":
        return this.named(node, name, at);
    }
    this.unknownType(node, name, at);
    return { form: "unknown" };
  }

  private named(
    node: syntax.TypeReference,
    name: string,
    at: (span: syntax.Span) => Anchor,
  ): FieldType {
    if (name === "text" || name === "yes_no" || name === "date") return { form: name };
    // A kind may share its name with a measure (`mass`): then the measure is meant.
    const measure = measureNamed(name);
    if (measure !== undefined) return { form: "measure", measure };
    const designation = this.designations.get(name);
    if (designation !== undefined) return { form: "designation", designation };
    if (this.hasKind(name)) return { form: "reference", kind: name };
    this.unknownType(node, name, at);
    return { form: "unknown" };
  }

  private unknownType(
    node: syntax.TypeReference,
    name: string,
    at: (span: syntax.Span) => Anchor,
  ): void {
    const known = [
      ...measures.map((measure) => measure.name),
      ...plainTypes,
      ...this.designations.keys(),
      ...this.kindNodes.keys(),
      ...this.kinds.keys(),
    ];
    if (name === "") return;
    const near = nearest(name, known);
    this.sayUnknown(
      "name/unknown-type",
      `there is no measure, designation or kind \`${name}\``,
      name,
      at(node.name?.span ?? node.span),
      near === undefined ? [] : [near],
    );
  }

  private hasKind(name: string): boolean {
    return this.kindNodes.has(name) || this.kinds.has(name);
  }

  // ── designations ──

  private addDesignation(node: syntax.Designation, file: ModelFile, item: syntax.Item): void {
    const name = node.name.text;
    const at = (span: syntax.Span): Anchor => ({ uri: file.uri, item, span });
    if (this.designations.has(name)) {
      this.say(
        "name/duplicate",
        `there is a designation \`${name}\` already`,
        at(node.name.span),
        "give this one another name",
      );
      return;
    }
    const parts = new Map<string, FieldDefinition>();
    for (const field of node.fields) parts.set(field.name.text, this.field(field, name, at));
    const patternParts = [...parts.values()].map((part) => ({
      name: part.name,
      measure: part.type.form === "measure" ? part.type.measure : ("text" as const),
    }));
    const patterns = node.forms.map((form) => {
      const pattern = compilePattern(form.pattern.value, patternParts);
      for (const problem of pattern.problems) {
        this.say("designation/form", `this form cannot be read: ${problem}`, at(form.pattern.span));
      }
      return pattern;
    });
    this.designations.set(name, {
      name,
      title: node.title?.value ?? name,
      parts,
      patterns,
      forms: node.forms.map((form) => form.pattern.value),
      remarks: remarksOf(node.clauses),
      anchor: at(node.name.span),
    });
  }

  // ── tables ──

  private addTable(node: syntax.Table, file: ModelFile, item: syntax.Item): void {
    const name = node.name.text;
    const at = (span: syntax.Span): Anchor => ({ uri: file.uri, item, span });
    if (this.tables.has(name)) {
      this.say(
        "name/duplicate",
        `there is a table \`${name}\` already`,
        at(node.name.span),
        "give this one another name",
      );
      return;
    }
    const columns: TableColumnDefinition[] = node.columns.map((column) => ({
      name: column.name.text,
      key: column.key,
      type: this.type(column.fieldType, at),
      description: column.description?.value,
    }));
    const units = columns.map((column, index) =>
      this.columnUnit(column, node.columns[index]?.unit, at),
    );
    const rows = node.rows.map((row) => {
      const { length } = row.cells;
      if (length !== columns.length) {
        this.say(
          "table/row",
          `this row has ${length} ${length === 1 ? "value" : "values"}, the table has ${columns.length} columns`,
          at(row.span),
          "write one value for each column, with commas between them",
        );
      }
      return columns.map((column, index) => this.cell(row.cells[index], column, units[index], at));
    });
    const remarks = remarksOf(node.clauses) as Remarks & { lookup?: string };
    const lookup = remarks.lookup;
    if (lookup !== undefined && !waysToLookUp.includes(lookup)) {
      const clause = node.clauses.find((each) => each.word.text === "lookup");
      this.sayUnknown(
        "name/unknown-word",
        `a table cannot be looked up \`${lookup}\``,
        lookup,
        at(clause?.value.span ?? node.name.span),
        waysToLookUp,
      );
    }
    this.tables.set(name, {
      name,
      title: node.title?.value ?? name,
      columns,
      rows,
      lookup: lookup === "linear" || lookup === "step" ? lookup : "exact",
      remarks,
      anchor: at(node.name.span),
    });
  }

  /** What a bare number of a column counts: in which unit, or in none. */
  private columnUnit(
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
      this.sayUnknown(
        "unit/unknown",
        `unknown unit \`${unit.text}\``,
        unit.text,
        at(unit.span),
        suggestUnits(unit.text, measure),
      );
      return { is: "wrong" };
    }
    if (!unitFits(read, measure)) {
      this.say(
        "unit/wrong",
        `\`${column.name}\` holds ${measureInWords(measure)}, \`${unit.text}\` is a unit of ${describeDimension(read.dimension).replace(/^(a|an) /, "")}`,
        at(unit.span),
        unitsHint(measure),
      );
      return { is: "wrong" };
    }
    return { is: "unit", factor: read.factor, offset: read.offset };
  }

  private cell(
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
        this.say(
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
          this.say(
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
    this.say(
      "table/row",
      `\`${column.name}\` takes ${measureInWords(measure)} in each row`,
      at(node.span),
    );
    return undefined;
  }

  private say(code: string, message: string, anchor: Anchor, hint?: string): void {
    this.report({ code, severity: "error", message, hint, anchor });
  }

  /** A word that is not among those there are: says which one is near, and offers it. */
  private sayUnknown(
    code: string,
    message: string,
    word: string,
    anchor: Anchor,
    known: readonly string[],
  ): void {
    const near = nearest(word, known);
    this.report({
      code,
      severity: "error",
      message,
      hint: nameHint(word, known),
      anchor,
      fixes:
        near === undefined
          ? []
          : [{ title: `write \`${near}\``, edits: [{ anchor, text: near }], preferred: true }],
    });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const waysToLookUp = ["exact", "linear", "step"];

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

const ratio = measureNamed("ratio");
const percentage: Measure | undefined = ratio && {
  ...ratio,
  inch: { unit: "%" },
  metric: { unit: "%" },
};

/** A share whose default or range is written in % is shown in %. */
function shownAsWritten(type: FieldType, node: syntax.Field): FieldType {
  if (type.form !== "measure" || type.measure.name !== "ratio") return type;
  const written = [node.default, node.range?.low, node.range?.high];
  const inPercent = written.some(
    (value) => value?.type === "quantity" && value.parts.at(-1)?.unit.text === "%",
  );
  return inPercent && percentage !== undefined ? { form: "measure", measure: percentage } : type;
}
