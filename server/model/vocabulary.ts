/**
 * Kinds, designations, tables and orders, bound from their declarations.
 *
 *     const vocabulary = buildVocabulary(libraryFiles, emptyVocabulary, report)
 *
 * Must not know: things, values, the solver.
 */

import { type Anchor, type SourceOfFile, textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import { deferred } from "../keep/deferred";
import { compilePattern } from "../units";
import type {
  CheckDefinition,
  CurveDefinition,
  DesignationDefinition,
  DesignationExample,
  FieldDefinition,
  KindDefinition,
  OrderDefinition,
  RelationDefinition,
  Remarks,
  TableDefinition,
  Vocabulary,
} from "./definition";
import { cutEndlessKinds } from "./endless-kinds";
import { FieldReader, type KnownWords } from "./field-types";
import { readRange } from "./kind-environment";
import { remarksOf } from "./remarks";
import { misnamed } from "./spelling";
import { readTable } from "./tables";

export const emptyVocabulary: Vocabulary = {
  kinds: new Map(),
  designations: new Map(),
  tables: new Map(),
  orders: [],
};

/**
 * The vocabulary of `base` and of all declarations in `files`; `base` itself stays as it is. Of files
 * that were looked over already, what kinds and tables hold can be read `when needed`: nothing of
 * that is reported then.
 */
export function buildVocabulary(
  files: readonly SourceOfFile[],
  base: Vocabulary,
  report: (found: Found) => void,
  read: "at once" | "when needed" = "at once",
): Vocabulary {
  return new Builder(files, base, report, read === "when needed").build();
}

/** Whether a file declares words of its own, so that a vocabulary has to be made for it. */
export function declaresWords(file: SourceOfFile): boolean {
  return file.source.items.some((item) =>
    ["kind", "designation_declaration", "table", "order"].includes(item.node.type),
  );
}

/** Far more than the words of any shop; what is beyond only fills the memory. */
const mostTakenOver = 500_000;
const mostLevels = 100;

const kindBody = ["fields", "relations", "checks", "curves", "remarks"] as const;
const tableBody = ["columns", "rows", "lookup", "remarks", "anchor"] as const;
const designationBody = ["parts", "patterns", "forms", "examples", "remarks", "anchor"] as const;

type DesignationBody = Pick<DesignationDefinition, (typeof designationBody)[number]>;

type KindBody = Pick<KindDefinition, (typeof kindBody)[number]>;

class Builder implements KnownWords {
  private readonly kinds: Map<string, KindDefinition>;
  readonly designations: Map<string, DesignationDefinition>;
  private readonly tables: Map<string, TableDefinition>;
  private readonly orders: OrderDefinition[];
  private readonly fields: FieldReader;
  private readonly kindNodes = new Map<
    string,
    { node: syntax.Kind; file: SourceOfFile; item: syntax.Item }
  >();

  constructor(
    private readonly files: readonly SourceOfFile[],
    base: Vocabulary,
    private readonly report: (found: Found) => void,
    private readonly defers: boolean,
  ) {
    this.kinds = new Map(base.kinds);
    this.designations = new Map(base.designations);
    this.tables = new Map(base.tables);
    this.orders = [...base.orders];
    this.fields = new FieldReader(this, report);
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
    cutEndlessKinds(this.kinds, (kind) => this.ownerAnchor(kind), this.report);
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

  private collectKind(node: syntax.Kind, file: SourceOfFile, item: syntax.Item): void {
    const name = node.name.text;
    if (name === "") return;
    if (this.kinds.has(name) || this.kindNodes.has(name)) {
      const anchor = { uri: file.uri, item, span: node.name.span };
      this.report({ is: "name/duplicate declaration", what: "kind", name, anchor });
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
        const by = node.base.text === name ? [] : below;
        this.report({ is: "name/circular base", name, by, anchor: at(node.base.span) });
      } else {
        base = this.kind(node.base.text, [...below, name]);
        if (base === undefined) this.unknownKind(node.base, at(node.base.span));
        else if (!this.defers && !this.mayTakeOver(base)) {
          this.report({
            is: "build/too-much base",
            name,
            most: mostTakenOver,
            levels: mostLevels,
            anchor: at(node.base.span),
          });
          base = undefined;
        }
      }
    }
    if (node.owner !== undefined && !this.hasKind(node.owner.text)) {
      this.unknownKind(node.owner, at(node.owner.span));
    }
    const head = {
      name,
      title: node.title?.value ?? name,
      lineage: [name, ...(base?.lineage ?? [])],
      owner: node.owner?.text ?? base?.owner,
      anchor: at(node.name.span),
      library: file.library,
    };
    const read = (): KindBody => this.membersOf(node, base, at);
    const definition: KindDefinition = this.defers
      ? deferred(head, kindBody, read)
      : { ...head, ...read() };
    this.kinds.set(name, definition);
    return definition;
  }

  private membersOf(
    node: syntax.Kind,
    base: KindDefinition | undefined,
    at: (span: syntax.Span) => Anchor,
  ): KindBody {
    const name = node.name.text;
    const fields = new Map(base?.fields ?? []);
    const relations: RelationDefinition[] = [...(base?.relations ?? [])];
    const checks: CheckDefinition[] = [...(base?.checks ?? [])];
    const curves: CurveDefinition[] = [...(base?.curves ?? [])];
    const own = new Set<string>();
    const overall = remarksOf(
      node.members.filter((member): member is syntax.Clause => member.type === "clause"),
    );
    // What the kind says of where it is from holds for all that says nothing else of itself.
    const remarked = ({ clauses }: { readonly clauses: readonly syntax.Clause[] }): Remarks => {
      const said = remarksOf(clauses);
      return said.source === undefined && overall.source !== undefined
        ? { ...said, source: overall.source }
        : said;
    };
    for (const member of node.members) {
      const anchor = at(member.span);
      switch (member.type) {
        case "field": {
          const fieldName = member.name.text;
          if (own.has(fieldName)) {
            const told = { name: fieldName, kind: name, anchor: at(member.name.span) };
            this.report({ is: "name/duplicate kind-field", ...told });
            break;
          }
          own.add(fieldName);
          const field = this.fields.field(member, name, fields.size, at);
          const sourced = field.default === undefined ? field.source : remarked(member).source;
          fields.set(fieldName, { ...field, source: sourced });
          break;
        }
        case "relation":
          relations.push({
            title:
              member.title?.value ??
              textAt(at({ start: member.left.span.start, end: member.right.span.end })),
            word: member.word,
            node: member,
            remarks: remarked(member),
            anchor,
          });
          break;
        case "check":
          checks.push({
            title: member.title?.value ?? textAt(at(member.condition.span)),
            node: member,
            remarks: remarked(member),
            anchor,
          });
          break;
        case "curve":
          curves.push({
            name: member.name.text,
            title: member.title?.value ?? member.name.text,
            node: member,
            remarks: remarked(member),
            anchor,
          });
          break;
        default:
          break;
      }
    }
    return { fields, relations, checks, curves, remarks: overall };
  }

  /** Where a kind says whose part it is, itself or the kind it takes over from. */
  private ownerAnchor({ lineage, anchor }: KindDefinition): Anchor {
    for (const name of lineage) {
      const entry = this.kindNodes.get(name);
      if (entry?.node.owner === undefined) continue;
      return { uri: entry.file.uri, item: entry.item, span: entry.node.owner.span };
    }
    return anchor;
  }

  private mayTakeOver({ fields, relations, checks, lineage }: KindDefinition): boolean {
    this.takenOver += fields.size + relations.length + checks.length;
    return this.takenOver <= mostTakenOver && lineage.length <= mostLevels;
  }

  private takenOver = 0;

  private unknownKind(name: syntax.Name, anchor: Anchor): void {
    const meant = misnamed(name.text, this.kindNames());
    this.report({ is: "name/unknown-kind declared", name: name.text, ...meant, anchor });
  }

  hasKind(name: string): boolean {
    return this.kindNodes.has(name) || this.kinds.has(name);
  }

  kindNames(): string[] {
    return [...this.kindNodes.keys(), ...this.kinds.keys()];
  }

  // ── designations ──

  private addDesignation(node: syntax.Designation, file: SourceOfFile, item: syntax.Item): void {
    const name = node.name.text;
    const at = (span: syntax.Span): Anchor => ({ uri: file.uri, item, span });
    if (this.designations.has(name)) {
      const told = { name, anchor: at(node.name.span) };
      this.report({ is: "name/duplicate declaration", what: "designation", ...told });
      return;
    }
    const head = { name, title: node.title?.value ?? name };
    const read = (): DesignationBody => this.designationBody(node, name, at);
    this.designations.set(
      name,
      this.defers ? deferred(head, designationBody, read) : { ...head, ...read() },
    );
  }

  private designationBody(
    node: syntax.Designation,
    name: string,
    at: (span: syntax.Span) => Anchor,
  ): DesignationBody {
    const parts = new Map<string, FieldDefinition>();
    for (const field of node.fields)
      parts.set(field.name.text, this.fields.field(field, name, parts.size, at));
    const patternParts = [...parts.values()].map((part) => ({
      name: part.name,
      measure: part.type.form === "measure" ? part.type.measure : ("text" as const),
      range: readRange(part),
    }));
    const patterns = node.forms.map((form) => {
      const pattern = compilePattern(form.pattern.value, patternParts);
      for (const problem of pattern.problems) {
        this.report({ is: "designation/form", problem, anchor: at(form.pattern.span) });
      }
      return pattern;
    });
    return {
      parts,
      patterns,
      forms: node.forms.map((form) => form.pattern.value),
      examples: examplesIn([...node.forms.flatMap(({ clauses }) => clauses), ...node.clauses]),
      remarks: remarksOf(node.clauses),
      anchor: at(node.name.span),
    };
  }

  // ── tables ──

  private addTable(node: syntax.Table, file: SourceOfFile, item: syntax.Item): void {
    const name = node.name.text;
    const at = (span: syntax.Span): Anchor => ({ uri: file.uri, item, span });
    if (this.tables.has(name)) {
      const told = { name, anchor: at(node.name.span) };
      this.report({ is: "name/duplicate declaration", what: "table", ...told });
      return;
    }
    const read = (): TableDefinition => readTable(node, this.fields, at, this.report);
    const table = this.defers
      ? deferred({ name, title: node.title?.value ?? name }, tableBody, read)
      : read();
    this.tables.set(name, table);
  }
}

/** `"255/60R17 106T, metric"`: the text up to the comma, and what it is. */
function examplesIn(clauses: readonly syntax.Clause[]): DesignationExample[] {
  return clauses.flatMap(({ word, value }) => {
    if (word.text !== "example" || value.type !== "text") return [];
    const [text = "", ...says] = value.value.split(", ");
    return [{ text, says: says.length === 0 ? undefined : says.join(", ") }];
  });
}
