/**
 * The words a build is written with: kinds and their fields, designations, tables, orders.
 *
 * They come from `kind`, `designation`, `table` and `order` declarations, those of the library
 * and those of the builder's own files alike.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Role } from "../solve/system";
import type { DesignationPattern, Measure } from "../units";

export type FieldType =
  | { readonly form: "measure"; readonly measure: Measure }
  | { readonly form: "text" }
  | { readonly form: "yes_no" }
  | { readonly form: "date" }
  | { readonly form: "choice"; readonly choices: readonly string[] }
  | { readonly form: "designation"; readonly designation: DesignationDefinition }
  /** Another thing, by name or opened inline. */
  | { readonly form: "reference"; readonly kind: string }
  /** Owned: exists with its thing. */
  | { readonly form: "part"; readonly kind: string }
  | { readonly form: "list"; readonly of: FieldType }
  /** The type could not be made out; whatever is written is let be. */
  | { readonly form: "unknown" };

export interface FieldDefinition {
  readonly name: string;
  readonly type: FieldType;
  readonly default?: syntax.Expression;
  readonly range?: syntax.LimitsExpression;
  /** A headline figure of its kind. */
  readonly shown: boolean;
  /** What the figure is, unless a build says otherwise; nothing where it follows from others. */
  readonly role?: Role;
  /** The step it is made to, and what making, the maker or the reading may miss by. */
  readonly step?: syntax.Expression;
  readonly tolerance?: syntax.Expression;
  /** Kind and field of what else says in which steps and how surely it is made: `shop.saw`. */
  readonly with?: string;
  /** A reference that may stay unset: what would need it does not apply then. */
  readonly optional: boolean;
  /** How many fields its kind or designation declares before it. */
  readonly place: number;
  /** Its default holds until somebody asks what it would have to be. */
  readonly foundOut: boolean;
  readonly description?: string;
  /** Why it may be open and what to measure, in the trade's words. */
  readonly needs?: string;
  readonly source?: string;
  /** Name of the kind or designation that declares it. */
  readonly owner: string;
  readonly anchor: Anchor;
}

/** What every relation, check, default and table says of itself. */
export interface Remarks {
  readonly source?: string;
  readonly because?: string;
  readonly advise?: string;
  readonly caution?: string;
  readonly code?: string;
  readonly message?: string;
  readonly severity?: string;
  /** Of a check: it is not passed over where it cannot be judged; this is what it takes. */
  readonly needs?: string;
  /** Of a field: kind and field of what says how it is made; of a record: the instrument. */
  readonly with?: string;
}

export interface RelationDefinition {
  readonly title: string;
  readonly word: syntax.RelationWord;
  readonly node: syntax.Relation;
  readonly remarks: Remarks;
  readonly anchor: Anchor;
}

export interface CheckDefinition {
  readonly title: string;
  readonly node: syntax.Check;
  readonly remarks: Remarks;
  readonly anchor: Anchor;
}

export interface CurveDefinition {
  readonly name: string;
  readonly title: string;
  readonly node: syntax.Curve;
  readonly remarks: Remarks;
  readonly anchor: Anchor;
}

export interface KindDefinition {
  readonly name: string;
  readonly title: string;
  /** Kinds it takes fields over from, itself first. */
  readonly lineage: readonly string[];
  /** The kind whose part it always is. */
  readonly owner?: string;
  readonly fields: ReadonlyMap<string, FieldDefinition>;
  readonly relations: readonly RelationDefinition[];
  readonly checks: readonly CheckDefinition[];
  readonly curves: readonly CurveDefinition[];
  readonly remarks: Remarks;
  readonly anchor: Anchor;
  readonly library: boolean;
}

export interface DesignationDefinition {
  readonly name: string;
  readonly title: string;
  readonly parts: ReadonlyMap<string, FieldDefinition>;
  readonly patterns: readonly DesignationPattern[];
  /** The forms as written, for messages and completion. */
  readonly forms: readonly string[];
  /** As the trade writes it, the likeliest first. */
  readonly examples: readonly DesignationExample[];
  readonly remarks: Remarks;
  readonly anchor: Anchor;
}

export interface DesignationExample {
  /** `255/60R17 106T` */
  readonly text: string;
  /** `metric` */
  readonly says?: string;
}

export interface TableColumnDefinition {
  readonly name: string;
  readonly key: boolean;
  readonly type: FieldType;
  readonly description?: string;
}

/** A cell in coherent SI, or a word. */
export type TableCell = number | string | undefined;

export interface TableDefinition {
  readonly name: string;
  readonly title: string;
  readonly columns: readonly TableColumnDefinition[];
  readonly rows: readonly (readonly TableCell[])[];
  readonly lookup: "exact" | "linear" | "step";
  readonly remarks: Remarks;
  readonly anchor: Anchor;
}

export interface OrderDefinition {
  readonly title: string;
  readonly node: syntax.Order;
  readonly remarks: Remarks;
  readonly anchor: Anchor;
}

/** All definitions that can be used in a file. */
export interface Vocabulary {
  readonly kinds: ReadonlyMap<string, KindDefinition>;
  readonly designations: ReadonlyMap<string, DesignationDefinition>;
  readonly tables: ReadonlyMap<string, TableDefinition>;
  readonly orders: readonly OrderDefinition[];
}
