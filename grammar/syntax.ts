/**
 * The syntax tree: what was written, with its places, and nothing of what it means.
 *
 * A file is a row of items (one top-level declaration each). Every span inside an item counts
 * from the first character of that item, so an unchanged item keeps its tree, and whatever was
 * worked out from it, when lines before it are added or removed. `SourceFile.offsetOf(item)`
 * turns a span back into a place in the file.
 *
 * Must not know: units' meaning, kinds, fields, anything of the trade.
 */

import type { SyntaxProblem } from "./problems";

import type {
  DateLiteral,
  Expression,
  LimitsExpression,
  Name,
  NumberLiteral,
  Path,
  Span,
  Text,
  UnitReference,
} from "./syntax-values";

export type * from "./syntax-values";

// ───────────────────────────── members and items ─────────────────────────────

/** A word and its text or expression that follows a declaration: `source "…"`, `because "…"`. */
export interface Clause {
  readonly type: "clause";
  readonly word: Name;
  readonly value: Expression;
  readonly span: Span;
}

/** `use "parts/wheels.trammel" as wheels`. */
export interface Use {
  readonly type: "use";
  readonly path: Text;
  readonly alias?: Name;
  readonly span: Span;
}

/** `display { length: in 1/32 torque: lb-ft }`: how values of a measure are written back. */
export interface Display {
  readonly type: "display";
  readonly entries: readonly DisplayEntry[];
  readonly span: Span;
}

export interface DisplayEntry {
  readonly measure: Name;
  readonly unit: UnitReference;
  /** `1/32` or `0.001`: the step values are written in. */
  readonly increment?: NumberLiteral;
  readonly span: Span;
}

/** `kind name "title" like other { members }`. */
export interface Thing {
  readonly type: "thing";
  readonly kind: Name;
  readonly name: Name;
  readonly title?: Text;
  /** `like rear_wheel`: what is not written here is as there. */
  readonly like?: Path;
  readonly members: readonly Member[];
  /** From `{` to `}` inclusive. */
  readonly body: Span;
  readonly span: Span;
}

/** `field: value`; in options and records the path may have several names. */
export interface Given {
  readonly type: "given";
  readonly path: Path;
  readonly value: Expression;
  /** `58 in made`: what the figure is, where it is something else than its field. */
  readonly role?: Name;
  /** `? ± 1/32 in`: how far what is made of it may miss; with a value it is part of the value. */
  readonly tolerance?: Expression;
  /** `? to 1/16 in`: the step it is made to. */
  readonly step?: Expression;
  /** `? near 30 deg`: of several answers the nearest; `? near 0..90 deg`: the one within. */
  readonly near?: Expression;
  /** `± 1/32 in uniform`: how values lie within their limits. */
  readonly distribution?: Name;
  /** `± 1/32 in together "the jig"`: what moves together. */
  readonly together?: Text;
  readonly clauses: readonly Clause[];
  readonly span: Span;
}

/** A part of a thing opened by its field name: `left { inner_limit: 23 1/2 in }`. */
export interface Part {
  readonly type: "part";
  readonly path: Path;
  readonly title?: Text;
  readonly like?: Path;
  readonly members: readonly Member[];
  readonly body: Span;
  readonly span: Span;
}

/** `check "title" [when condition]: condition`, clauses on the same or the following lines. */
export interface Check {
  readonly type: "check";
  readonly title?: Text;
  readonly when?: Expression;
  readonly condition: Expression;
  readonly clauses: readonly Clause[];
  readonly span: Span;
}

/** `option name "title" { … }`: givens laid over the spec. */
export interface Option {
  readonly type: "option";
  readonly name: Name;
  readonly title?: Text;
  readonly members: readonly Member[];
  readonly body: Span;
  readonly span: Span;
}

/** `record "title" 2026-03-14 { … }`: dated measurements, tightenings, finished steps. */
export interface Record {
  readonly type: "record";
  readonly title?: Text;
  readonly date?: DateLiteral;
  readonly clauses: readonly Clause[];
  readonly members: readonly Member[];
  readonly body: Span;
  readonly span: Span;
}

/** Whether an equation always holds, gives way to what is written, or is how things are to come out. */
export type RelationWord = "relation" | "assume" | "wanted";

/** `relation "title": left = right`, and the same with `assume` or `wanted`. */
export interface Relation {
  readonly type: "relation";
  readonly word: RelationWord;
  readonly title?: Text;
  /** `relation "title" when condition: …` */
  readonly when?: Expression;
  readonly left: Expression;
  readonly right: Expression;
  /** `a = b ± 1/32 in`: how far the two may be apart. */
  readonly tolerance?: Expression;
  readonly clauses: readonly Clause[];
  readonly span: Span;
}

/** `curve "title": y = expression over x from a to b step c`, a drawn function of one parameter. */
export interface Curve {
  readonly type: "curve";
  readonly name: Name;
  readonly title?: Text;
  readonly value: Expression;
  readonly parameter: Name;
  readonly from: Expression;
  readonly to: Expression;
  readonly step?: Expression;
  readonly clauses: readonly Clause[];
  readonly span: Span;
}

/** `kind name is base of owner "title" { … }`. */
export interface Kind {
  readonly type: "kind";
  readonly name: Name;
  /** `is part`: takes over the fields, relations and checks of another kind. */
  readonly base?: Name;
  /** `of axle`: always a part of such a thing, whose names it sees. */
  readonly owner?: Name;
  readonly title?: Text;
  readonly members: readonly (Field | Relation | Check | Curve | Clause)[];
  readonly body: Span;
  readonly span: Span;
}

/**
 * What a field holds: a measure, designation or kind by name; `part corner` (owned, opened by
 * braces); `list of step`; `one_of(red, green)`.
 */
export interface TypeReference {
  readonly type: "type";
  readonly form: "named" | "part" | "list" | "choice";
  readonly name?: Name;
  readonly choices?: readonly Name[];
  readonly span: Span;
}

/** `name: type made to 1/32 in ± 1/32 in default v range a..b shown "description" source "…"`. */
export interface Field {
  readonly type: "field";
  readonly name: Name;
  readonly fieldType: TypeReference;
  /** `length in mm`, `length in ft or m`: the units it is shown in, for inch and for metric builds. */
  readonly units?: readonly UnitReference[];
  readonly default?: Expression;
  readonly range?: LimitsExpression;
  /** `± 1/32 in` behind the role: what making, the maker or the reading may miss by. */
  readonly tolerance?: Expression;
  /** `to 1/32 in` behind the role: the step it is made to. */
  readonly step?: Expression;
  /** The bare words: `shown`, `made`, `optional`, `found out`, … as typed. */
  readonly words: readonly Name[];
  readonly description?: Text;
  readonly clauses: readonly Clause[];
  readonly span: Span;
}

/** `designation tire_size "…" { form "{width mm}/{aspect %}R{rim in}" … }`. */
export interface Designation {
  readonly type: "designation_declaration";
  readonly name: Name;
  readonly title?: Text;
  /** The parts its forms name: `width: length "Nominal section width"`. */
  readonly fields: readonly Field[];
  readonly forms: readonly { readonly pattern: Text; readonly clauses: readonly Clause[] }[];
  readonly clauses: readonly Clause[];
  readonly body: Span;
  readonly span: Span;
}

/** `table name "title" { key column …  row 60, 250 }`. */
export interface Table {
  readonly type: "table";
  readonly name: Name;
  readonly title?: Text;
  readonly columns: readonly TableColumn[];
  readonly rows: readonly { readonly cells: readonly Expression[]; readonly span: Span }[];
  readonly clauses: readonly Clause[];
  readonly body: Span;
  readonly span: Span;
}

/** `key index: number "…"` or `load: mass in kg "…"`. */
export interface TableColumn {
  readonly name: Name;
  readonly key: boolean;
  readonly fieldType: TypeReference;
  /** Bare numbers in this column carry this unit. */
  readonly unit?: UnitReference;
  readonly description?: Text;
  readonly span: Span;
}

/** `order "title": last shim before tighten because "…" source "…"`: what comes before what. */
export interface Order {
  readonly type: "order";
  readonly title?: Text;
  /**
   * Which doing of the first it is about. `first`, or nothing: done once it is done for good.
   * `last`: done again it makes what comes after it open again. `every`: each doing of what comes
   * after wants one of its own.
   */
  readonly repetition?: "first" | "last" | "every";
  readonly before: Expression;
  readonly after: Expression;
  readonly clauses: readonly Clause[];
  readonly span: Span;
}

/** Text no rule could make sense of; what stood there is not lost. */
export interface Unreadable {
  readonly type: "unreadable";
  readonly span: Span;
}

/** What may stand inside a thing, part, option or record. */
export type Member = Given | Part | Thing | Check | Relation | Curve | Unreadable;

/** What may stand at the top of a file. */
export type ItemNode =
  | Use
  | Display
  | Thing
  | Check
  | Option
  | Record
  | Given
  | Kind
  | Relation
  | Designation
  | Table
  | Order
  | Curve
  | Unreadable;

/** A top-level declaration with its own text and problems; immutable, reused between edits. */
export interface Item {
  readonly node: ItemNode;
  readonly text: string;
  readonly problems: readonly SyntaxProblem[];
  /** `#` comments inside the item. */
  readonly comments: readonly Span[];
}

/** One file as read; made by `parseFile(text, previous?)`, which reuses unchanged items. */
export interface SourceFile {
  readonly text: string;
  readonly items: readonly Item[];
  /**
   * Absolute offset of the item's first character or, as the file stands now, of a place within the
   * item, which spans of its nodes count from the text it was read from.
   */
  offsetOf(item: Item, inside?: number): number;
  /** The place within the item for an offset of the file; that of the code before it, for a remark. */
  insideOf(item: Item, offset: number): number;
  /** Its text and remarks as they stand now; the item itself where it is not laid out otherwise. */
  standing(item: Item): Pick<Item, "text" | "comments">;
  /** The item whose text holds this offset, or the one before it. */
  itemAt(offset: number): Item | undefined;
  /** Zero-based line and UTF-16 column. */
  positionAt(offset: number): { line: number; character: number };
  offsetAt(position: { line: number; character: number }): number;
}

/** Everything that is a node of the tree. */
export type AnyNode =
  | ItemNode
  | Member
  | Expression
  | Name
  | UnitReference
  | Clause
  | Field
  | TypeReference;
