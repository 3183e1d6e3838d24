/**
 * What elaboration yields: the things, and the system of equations they stand for.
 */
import type { Found } from "../findings/worded";
import type { FigureId, ThingId } from "../names/ids";
import type { Condition, Expression } from "../solve/expression";
import type { EquationForm, Rank, Variable } from "../solve/system";
import type { Measure } from "../units";
import type { Binder } from "./binder";
import type { CompiledComparison, StackUse } from "./compiled";
import type {
  CheckDefinition,
  CurveDefinition,
  FieldDefinition,
  RelationDefinition,
} from "./definition";
import type { LiteralFigure } from "./literal";
import type { Questions } from "./questions";
import type { Entry, Thing } from "./thing";

/** One figure: a field of a thing, or a part of its designation. */
export interface Location {
  readonly thing: Thing;
  readonly field: FieldDefinition;
  readonly part?: FieldDefinition;
}

/** `rear_housing.face_to_face`: under the thing that owns it. */
export function pathOf({ thing, field, part }: Location): string {
  const path = `${thing.path}.${field.name}`;
  return part === undefined ? path : `${path}.${part.name}`;
}

/** What is known of a figure from its thing alone. */
export interface ModelVariable extends Location {
  readonly id: FigureId;
  /** As the root file calls it. */
  readonly name: string;
  /** As the solver knows it. */
  readonly variable: Variable;
  readonly measure: Measure;
  /** Where it, or the designation it is part of, is written. */
  readonly entry?: Entry;
  /** The figure written, where it is a literal. */
  readonly figure?: LiteralFigure;
  /** The figure that says in which steps and how surely it is made, where another one does. */
  readonly madeBy?: string;
}

/** Why an equation is there. */
export type Origin =
  | { readonly is: "relation"; readonly relation: RelationDefinition; readonly thing?: ThingId }
  | { readonly is: "formula"; readonly entry: Entry; readonly thing: ThingId }
  | { readonly is: "default"; readonly field: FieldDefinition; readonly thing: ThingId }
  /** A figure that is written and wanted, and no more. */
  | { readonly is: "wish"; readonly entry: Entry; readonly thing: ThingId };

/** An equation over figures; two that say the same of the same figures are one. */
export interface FigureEquation {
  /** Decides between equals. */
  readonly name: string;
  readonly form: EquationForm;
  /** The figure for each slot. */
  readonly figures: readonly FigureId[];
  readonly rank: Rank;
  /** An assumption although it ranks with the relations. */
  readonly assumption?: boolean;
  /** How far its two sides may be apart, one side. */
  readonly slack?: number;
  /** It holds only where this does, over the same figures. */
  readonly when?: Condition;
}

export interface ModelEquation {
  readonly equation: FigureEquation;
  readonly origin: Origin;
  readonly measure?: Measure;
}

/** A quantity of figures. */
export interface FigureQuantity {
  readonly expression: Expression;
  readonly figures: readonly FigureId[];
}

export interface ModelClaim {
  readonly condition: Condition;
  /** It speaks only of where this holds, over the same figures. */
  readonly when?: Condition;
  readonly figures: readonly FigureId[];
  readonly check: CheckDefinition;
  readonly thing?: Thing;
  /** Written by the builder rather than by the library. */
  readonly own: boolean;
  /** Its two sides, where it is one comparison of figures. */
  readonly compared?: CompiledComparison;
  /** False where something it names is not there. */
  readonly applies: boolean;
}

/** A drawn function of one parameter, with the thing's other fields as they are solved. */
export interface ModelCurve {
  readonly curve: CurveDefinition;
  readonly thing?: Thing;
  /** The parameter's own slot holds no figure. */
  readonly value: {
    readonly expression: Expression;
    readonly figures: readonly (FigureId | undefined)[];
  };
  /** The slot of `value` that is the parameter; `undefined` where the value does not depend on it. */
  readonly parameterSlot?: number;
  readonly measure?: Measure;
  readonly parameterMeasure?: Measure;
  readonly from: FigureQuantity;
  readonly to: FigureQuantity;
  readonly step?: FigureQuantity;
}

/** A figure that is put together from the pieces of a kit. */
export interface ModelStack {
  readonly use: StackUse;
  /** Holds the sum. */
  readonly figure: FigureId;
  readonly wanted: FigureQuantity;
  readonly thing?: Thing;
}

/** `field: ?` */
export interface Ask {
  readonly thing: Thing;
  readonly field: FieldDefinition;
  readonly entry: Entry;
  readonly figure: FigureId;
}

/**
 * What one thing at the top of a file, or one check, relation or curve there, adds to a build: made
 * of its own text and of what it asked of others, and kept as long as these are the same.
 */
export interface Row {
  /** The thing at the top; nothing for a check, relation or curve of its own. */
  readonly thing: Thing | undefined;
  /** Every figure it speaks of, its own and others'. */
  readonly figures: ReadonlySet<FigureId>;
  readonly equations: readonly ModelEquation[];
  readonly claims: readonly ModelClaim[];
  readonly curves: readonly ModelCurve[];
  readonly asks: readonly Ask[];
  readonly stacks: readonly ModelStack[];
  /** Fields of words that it reads and that hold one, by their things. */
  readonly words: ReadonlyMap<ThingId, ReadonlySet<string>>;
  readonly findings: readonly Found[];
  readonly questions: Questions<Binder>;
  /** What its formulas took of the budget; see `Terms`. */
  readonly terms: { readonly limit: number; readonly spent: number };
}
