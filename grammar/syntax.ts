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

import type { NumberForm } from "../server/units";
import type { SyntaxProblem } from "./problems";

/** Half-open range of UTF-16 offsets, counted from the start of the enclosing item. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

export interface Name {
  readonly type: "name";
  readonly text: string;
  readonly span: Span;
}

/** Dotted names: `rear.left.inner_gap`. An unfinished path (`rear.`) has an empty last name. */
export interface Path {
  readonly type: "path";
  readonly names: readonly Name[];
  readonly span: Span;
}

/** Quoted text; `value` is without quotes and escapes. */
export interface Text {
  readonly type: "text";
  readonly value: string;
  readonly span: Span;
}

// ───────────────────────────── expressions ─────────────────────────────

export interface NumberLiteral {
  readonly type: "number";
  readonly value: number;
  /** How it was written; it decides how far the true value may lie from it. */
  readonly form: NumberForm;
  /** As typed, several blanks as one: `61-5/16`, `0.188`. */
  readonly text: string;
  readonly span: Span;
}

export interface UnitReference {
  readonly type: "unit";
  /** As typed: `lb-ft`, `kJ/in`, `%`. */
  readonly text: string;
  readonly span: Span;
}

/** `23 1/2 in`, or several parts for a compound: `5 ft 1 5/16 in`. */
export interface QuantityLiteral {
  readonly type: "quantity";
  readonly parts: readonly { readonly number: NumberLiteral; readonly unit: UnitReference }[];
  readonly span: Span;
}

/** `nominal ± by` (also typed `+-`). */
export interface ToleranceExpression {
  readonly type: "tolerance";
  readonly nominal: Expression;
  readonly by: Expression;
  readonly span: Span;
}

/**
 * `low..high`; where only `high` carries a unit (`0.008..0.012 in`), the parser has put the same
 * unit on `low`, with an empty span at the end of the number. With a nominal: `2.500 in within 2.495..2.510 in`.
 */
export interface LimitsExpression {
  readonly type: "limits";
  readonly nominal?: Expression;
  readonly low: Expression;
  readonly high: Expression;
  readonly span: Span;
}

/** What the trade writes as one word: `275/50R17 101W`, `17x9`, `5x5 in`, `M12x1.5`, `39:11`. */
export interface DesignationLiteral {
  readonly type: "designation";
  /** As typed, several blanks as one. */
  readonly text: string;
  readonly span: Span;
}

export interface YesNoLiteral {
  readonly type: "yes_no";
  readonly value: boolean;
  readonly span: Span;
}

/** ISO 8601 calendar date, `2026-03-14`. */
export interface DateLiteral {
  readonly type: "date";
  readonly text: string;
  readonly span: Span;
}

export interface ListLiteral {
  readonly type: "list";
  readonly items: readonly Expression[];
  readonly span: Span;
}

/** `name(arguments)`: a built-in function, or a table looked up by its keys (`table.column(key)`). */
export interface CallExpression {
  readonly type: "call";
  readonly callee: Path;
  readonly arguments: readonly Expression[];
  /** What follows the parentheses: `each(part).price` has the rest `price`. */
  readonly rest?: Path;
  readonly span: Span;
}

export interface UnaryExpression {
  readonly type: "unary";
  readonly operator: "-" | "not";
  readonly operand: Expression;
  readonly span: Span;
}

export type BinaryOperator =
  | "+"
  | "-"
  | "*"
  | "/"
  | "^"
  | ">="
  | "<="
  | ">"
  | "<"
  | "=="
  | "!="
  | "and"
  | "or";

export interface BinaryExpression {
  readonly type: "binary";
  readonly operator: BinaryOperator;
  readonly left: Expression;
  readonly right: Expression;
  readonly span: Span;
}

/** `if condition then a else b`. */
export interface IfExpression {
  readonly type: "if";
  readonly condition: Expression;
  readonly then: Expression;
  readonly else: Expression;
  readonly span: Span;
}

/** Parentheses, kept so that layout survives. */
export interface GroupExpression {
  readonly type: "group";
  readonly inner: Expression;
  readonly span: Span;
}

/** `?`: the solved value is wanted here. */
export interface Ask {
  readonly type: "ask";
  readonly span: Span;
}

/** Where a value should stand and none does (after a syntax error, or unfinished typing). */
export interface MissingExpression {
  readonly type: "missing";
  readonly span: Span;
}

export type Expression =
  | NumberLiteral
  | QuantityLiteral
  | ToleranceExpression
  | LimitsExpression
  | DesignationLiteral
  | Text
  | YesNoLiteral
  | DateLiteral
  | ListLiteral
  | Path
  | CallExpression
  | UnaryExpression
  | BinaryExpression
  | IfExpression
  | GroupExpression
  | Ask
  | MissingExpression;

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
  /** Absolute offset of the item's first character. */
  offsetOf(item: Item): number;
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
